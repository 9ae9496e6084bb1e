"""Which wires are drawn together: fields, the strands in them, and the row of paper each end of a strand is given.

A *field* is all wiring that hangs together through connector halves and splices, for example the whole of a jumper.
A *strand* is one piece of copper in a field: it starts at a cavity of the near half, runs through splices, and ends at
other cavities, studs, breakers or buses. Every end has a row of its own, so lines never lie on each other; only the
far end that a strand leads straight to shares the row of its start.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.wire import Wire


@dataclass(frozen=True, slots=True)
class Node:
    """One drawn point: a cavity (``number`` counts its wires), a splice, or a wire's end at a stud, breaker, bus."""

    kind: str
    """``port``, ``splice`` or ``end``."""
    point: Point
    number: int = 0
    wire: str = ""
    """Of an end: the key of the leg that leads to it."""

    @property
    def ref(self) -> str:
        """The reference of what it is at."""
        return self.point.ref


@dataclass(eq=False, slots=True)
class Row:
    """One horizontal line of the drawing."""

    block: str
    """``main``, ``end``, or the reference of the connector half whose block it is in."""
    near: Node | None = None
    far: Node | None = None
    idle_near: str = ""
    """A cavity of the near half without a wire in this field."""
    idle_far: str = ""
    """The same of the half on the far side."""
    gap: float = 0.0
    """Room above that parts it from another group of circuits, mm."""
    lead: float = 0.0
    """Room above for the text of a cable or a unit, mm."""
    y: float = 0.0

    @property
    def near_cavity(self) -> str:
        """The cavity shown on the near side; empty when there is none."""
        return self.near.point.cavity if self.near is not None and self.near.kind == "port" else self.idle_near

    @property
    def far_cavity(self) -> str:
        """The cavity shown on the far side; empty when there is none."""
        return self.far.point.cavity if self.far is not None and self.far.kind == "port" else self.idle_far


@dataclass(eq=False, slots=True)
class Leg:
    """One wire of a strand, from ``a`` to ``b``; where the rows differ the line drops at ``a`` if that is a splice."""

    wire: Wire
    a: Node
    b: Node

    @property
    def key(self) -> str:
        """The wire's id; of the second part of a wire that is drawn in two parts, something else."""
        return next((node.wire for node in (self.b, self.a) if node.kind == "end"), self.wire.id)


@dataclass(eq=False, slots=True)
class Strand:
    """One piece of copper with its rows; ``layer`` counts the splices from the near side."""

    legs: list[Leg] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)
    row: dict[Node, Row] = field(default_factory=dict)
    layer: dict[Node, int] = field(default_factory=dict)

    @property
    def depth(self) -> int:
        """Splices one behind the other."""
        return max(self.layer.values(), default=0)

    @property
    def ports(self) -> list[Node]:
        """Cavities at which the strand ends."""
        return [node for node in self.row if node.kind == "port"]

    def cables(self) -> set[str]:
        """Cables the strand has cores in."""
        return {leg.wire.cable for leg in self.legs if leg.wire.cable}

    @property
    def is_shield(self) -> bool:
        """True when all its wires are shields or drains."""
        return bool(self.legs) and all(leg.wire.is_shield for leg in self.legs)


@dataclass(eq=False)
class Field:
    """Wiring that hangs together, with the connector halves in it in file order."""

    halves: list[str]
    wires: list[Wire]


def fields(harness: Harness) -> list[Field]:
    """All fields in the order of their first connector or wire; wires without any connector or splice come last."""
    parent: dict[str, str] = {}

    def find(ref: str) -> str:
        while parent[ref] != ref:
            parent[ref] = parent[parent[ref]]
            ref = parent[ref]
        return ref

    for ref in (*harness.connectors, *harness.splices):
        parent[ref] = ref
    loose: list[Wire] = []
    for wire in harness.wires.values():
        inside = [point.ref for point in (wire.a, wire.b) if point.ref in parent]
        if len(inside) == 2:
            parent[find(inside[1])] = find(inside[0])
        elif not inside:
            loose.append(wire)
    found: dict[str, Field] = {}
    for ref in parent:
        one = found.setdefault(find(ref), Field([], []))
        if ref in harness.connectors:
            one.halves.append(ref)
    for wire in harness.wires.values():
        known = next((point.ref for point in (wire.a, wire.b) if point.ref in parent), None)
        if known is not None:
            found[find(known)].wires.append(wire)
    result = [one for one in found.values() if one.halves or one.wires]
    return [*result, Field([], loose)] if loose else result


class Weaver:
    """Makes the strands of one field. ``near`` is the half on the near side, ``aligned`` the half straight across.

    ``open_far``: there is no connector on the far side, so studs, breakers and buses stand there. ``given`` are rows
    that the cavities of the near half have already: those of the wiring beyond a mated half.
    """

    def __init__(
        self,
        harness: Harness,
        wires: Sequence[Wire],
        near: str,
        aligned: str = "",
        given: Mapping[str, Row] | None = None,
        open_far: bool = False,
    ) -> None:
        self.harness = harness
        self.near = near
        self.aligned = aligned
        self.given = given or {}
        self.open_far = open_far
        self.ends: dict[Node, list[tuple[Wire, Node]]] = {}
        self.counts: dict[Point, int] = {}
        for wire in wires:
            a, b = self.node(wire.a, wire), self.node(wire.b, wire)
            if a == b and a.kind == "end":
                b = replace(b, number=1)  # a stud joined to itself still has two ends to draw
            self.ends.setdefault(a, []).append((wire, b))
            self.ends.setdefault(b, []).append((wire, a))

    def node(self, point: Point, wire: Wire) -> Node:
        """The drawn point of one end of a wire."""
        if point.ref in self.harness.splices:
            return Node("splice", Point(point.ref))
        here = point.ref in self.harness.connectors and (not self.open_far or point.ref == self.near)
        if not here:
            return Node("end", point, 0, wire.id)
        number = self.counts.get(point, 0)
        self.counts[point] = number + 1
        return Node("port", point, number)

    def strands(self) -> Iterator[Strand]:
        """Every strand, those that start at the near half first, in cavity order."""
        order = {ref: number for number, ref in enumerate(self.harness.connectors)}
        place: dict[str, dict[str, int]] = {}

        def rank(node: Node) -> tuple[int, ...]:
            if node.kind != "port":
                return (3 if node.kind == "end" else 4, 0, 0, 0, 0)
            # Given rows count in the order in which they stand, so that a strand starts at its uppermost row.
            given = self.given if node.ref == self.near else {}
            names = given or self.harness.connectors[node.ref].cavities
            if node.ref not in place:
                place[node.ref] = {name: number for number, name in enumerate(names)}
            index = place[node.ref]
            side = 0 if node.ref == self.near else 1 if node.ref == self.aligned else 2
            again = min(node.number, 1) if given else 0  # rows of second wires stand below the given ones
            return (side, order[node.ref], again, index.get(node.point.cavity, len(index)), node.number)

        done: set[Node] = set()
        for root in sorted(self.ends, key=rank):  # a stable sort: file order breaks ties
            if root not in done:
                yield self._strand(root, done)

    def _strand(self, root: Node, done: set[Node]) -> Strand:
        children: dict[Node, list[tuple[Wire, Node]]] = {}
        strand = Strand()
        used: set[str] = set()
        stack = [root]
        done.add(root)
        while stack:
            node = stack.pop()
            for wire, other in self.ends[node]:
                if wire.id in used:
                    continue
                used.add(wire.id)
                if other in done:
                    # The wire closes a loop: drawn in two parts, each with a flag that names the other splice.
                    children.setdefault(node, []).append((wire, Node("end", other.point, 0, wire.id)))
                    children.setdefault(other, []).append((wire, Node("end", node.point, 1, f"{wire.id}\t2")))
                    continue
                done.add(other)
                children.setdefault(node, []).append((wire, other))
                stack.append(other)
        leaves = list(_leaves(root, children))
        target = self._straight(root, leaves)
        row = self._root_row(strand, root)
        strand.row[root] = row
        if target is not None and row.far is None:
            row.far = target
        elif target is not None:
            row.near = target
        if root.kind == "splice":
            strand.layer[root] = 1
        self._place(strand, root, row, target, children)
        return strand

    def _straight(self, root: Node, leaves: Iterable[Node]) -> Node | None:
        """The far end that shares the row of the root."""
        if root.kind == "port" and root.ref == self.near:
            for leaf in leaves:
                if (leaf.kind == "port" and leaf.ref == self.aligned) or (self.open_far and leaf.kind == "end"):
                    return leaf
        direct = next(iter(self.ends[root]))[1] if len(self.ends[root]) == 1 else None
        return direct if direct is not None and direct.kind == "end" else None

    def _root_row(self, strand: Strand, root: Node) -> Row:
        if root.kind == "port" and root.ref == self.near and root.number == 0:
            known = self.given.get(root.point.cavity)
            if known is not None:
                known.near = root
                return known
        if root.kind == "port":
            near = root.ref == self.near
            row = Row("main" if near or root.ref == self.aligned else root.ref)
            if near:
                row.near = root
            else:
                row.far = root
        else:
            row = Row("end", near=root if root.kind == "end" else None)
        strand.rows.append(row)
        return row

    @staticmethod
    def _bare_row(strand: Strand) -> Row:
        strand.rows.append(Row("main"))
        return strand.rows[-1]

    def _new_row(self, strand: Strand, leaf: Node) -> Row:
        if leaf.kind == "port" and leaf.ref == self.near and not leaf.number:
            known = self.given.get(leaf.point.cavity)
            if known is not None:
                known.near = leaf
                return known
        if leaf.kind == "end":
            row = Row("end", far=leaf)
        elif leaf.ref == self.near:
            row = Row("main", near=leaf)
        else:
            row = Row("main" if leaf.ref == self.aligned else leaf.ref, far=leaf)
        strand.rows.append(row)
        return row

    def _place(
        self,
        strand: Strand,
        root: Node,
        row: Row,
        target: Node | None,
        children: Mapping[Node, list[tuple[Wire, Node]]],
    ) -> None:
        """Give every node a row and every splice a layer. Iterative: a chain of splices may be long."""
        stack: list[tuple[Node, Row, Node | None]] = [(root, row, target)]
        while stack:
            node, here, straight = stack.pop()
            later: list[tuple[Node, Row, Node | None]] = []
            for wire, child in children.get(node, ()):
                ends = list(_leaves(child, children)) if child.kind == "splice" else [child]
                if straight is not None and straight in ends:
                    along, goal = here, straight
                elif node is root and root.kind != "splice" and child.kind == "splice":
                    along, goal = here, None  # the first splice stands on the row of the root
                elif child.kind == "splice":
                    # A splice stands to the far side of this one, so an end on the near side is not straight ahead.
                    goal = next((end for end in ends if end.kind == "end" or end.ref != self.near), None)
                    along = self._new_row(strand, goal) if goal else self._bare_row(strand)
                else:
                    goal, along = child, self._new_row(strand, child)
                strand.row[child] = along
                if child.kind == "splice":
                    strand.layer[child] = strand.layer.get(node, 0) + 1
                    later.append((child, along, goal))
                strand.legs.append(Leg(wire, node, child))
            stack.extend(reversed(later))


def _leaves(node: Node, children: Mapping[Node, list[tuple[Wire, Node]]]) -> Iterator[Node]:
    """The ends below a node, in file order."""
    stack = [node]
    while stack:
        here = stack.pop()
        below = children.get(here, ())
        if not below and here is not node and here.kind != "splice":
            yield here
        stack.extend(child for _, child in reversed(below))
