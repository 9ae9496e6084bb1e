"""The copper of the aircraft before and after: which nets the kit joins, which it parts, which pins it adds.

Before and after are compared over the aircraft's own points. A cavity of an opened half that only the kit's half
names counts as one of them, led straight across the pair before: nobody has said that nothing is there.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable
from dataclasses import dataclass, fields
from functools import cached_property

from harnesscheck.circuit import Nets, Tap
from harnesscheck.connector import Origin, Use
from harnesscheck.harness import Harness, known
from harnesscheck.place import Point


@dataclass(frozen=True, slots=True)
class Edge:
    """A wire, a mated pair of contacts, or two pins joined inside a unit: one piece of copper from ``a`` to ``b``."""

    id: str
    kind: str
    """``wire``, ``mate`` or ``inside``."""
    of: Origin
    a: Point
    b: Point
    before: bool
    after: bool

    def other(self, point: Point) -> Point:
        """The far end seen from ``point``."""
        return self.b if point == self.a else self.a


@dataclass(frozen=True)
class Copper:
    """Both states of the copper. Make it with ``copper(harness)``. Points of the aircraft come first."""

    harness: Harness
    airframe: Harness
    points: tuple[Point, ...]
    own: int
    """So many of ``points`` are the aircraft's, from the first on."""
    edges: tuple[Edge, ...]

    @cached_property
    def before(self) -> Nets:
        """Nets of the aircraft as found."""
        return Nets(self.points[: self.own], [(e.a, e.b) for e in self.edges if e.before])

    @cached_property
    def after(self) -> Nets:
        """Nets with the kit fitted."""
        return Nets(self.points, [(e.a, e.b) for e in self.edges if e.after])

    @cached_property
    def joined(self) -> list[list[int]]:
        """Numbers of nets of the aircraft that the kit makes one, by groups."""
        return sorted(news for news in _met(self.after.label[: self.own], self.before.label) if len(news) > 1)

    @cached_property
    def parted(self) -> list[int]:
        """Numbers of nets of the aircraft that are in several pieces with the kit, spares that end there left out."""
        return [net for net in self._pieces if self.use[net] is not Use.SPARE]

    @cached_property
    def given_up(self) -> list[int]:
        """Numbers of nets stated to be spare that end at the kit."""
        return [net for net in self._pieces if self.use[net] is Use.SPARE]

    @cached_property
    def _pieces(self) -> list[int]:
        news = _met(self.before.label, self.after.label[: self.own])
        return [net for net, several in enumerate(news) if len(several) > 1]

    @cached_property
    def use(self) -> list[Use]:
        """What is known of each net of the aircraft, by its number."""
        return [known(self.airframe, points) for points in self.members]

    @cached_property
    def members(self) -> list[list[Point]]:
        """Points of each net of the aircraft."""
        return self.before.members()

    @cached_property
    def pairs(self) -> list[Edge]:
        """The contacts of the opened pair that touch in the aircraft as found."""
        return [edge for edge in self.edges if edge.before and not edge.after]

    @cached_property
    def _beside(self) -> dict[Point, list[Edge]]:
        beside: dict[Point, list[Edge]] = {}
        for edge in self.edges:
            beside.setdefault(edge.a, []).append(edge)
            if edge.b != edge.a:
                beside.setdefault(edge.b, []).append(edge)
        return beside

    def owner(self, point: Point) -> Origin:
        """Whose a point is: the aircraft's, the kit's or the equipment's."""
        if self.after.place(point) < self.own:
            return Origin.AIRFRAME
        half = self.harness.connectors.get(point.ref)
        return half.origin if half is not None else Origin.JUMPER

    def way(self, start: Point, goal: Callable[[Point], bool], *, kit: bool) -> tuple[Edge, ...] | None:
        """The way with the fewest steps to a point that ``goal`` accepts; None when there is none.

        ``kit``: along the kit's own copper, touching the aircraft at the ends only. Otherwise along the copper of the
        aircraft as found, without crossing the opened pair.
        """
        came: dict[Point, tuple[Point, Edge] | None] = {start: None}
        waiting = deque([start])
        while waiting:
            point = waiting.popleft()
            if goal(point) and (point != start or not kit):
                steps: list[Edge] = []
                while (step := came[point]) is not None:
                    point = step[0]
                    steps.append(step[1])
                return tuple(reversed(steps))
            if kit and point != start and self.owner(point) is Origin.AIRFRAME:
                continue
            for edge in self._beside.get(point, ()):
                usable = edge.of is not Origin.AIRFRAME if kit else edge.before and edge.after
                if usable and (there := edge.other(point)) not in came:
                    came[there] = (point, edge)
                    waiting.append(there)
        return None

    # -- taps ----------------------------------------------------------------------------------------------------

    def made(self, tap: Tap) -> bool:
        """True when the pin of a declared tap is one piece of copper with its circuit."""
        net = self.after.of(tap.pin)
        return net is not None and tap.circuit in self._circuits.get(net, ())

    @cached_property
    def _circuits(self) -> dict[int, set[str]]:
        """Names of circuits of the aircraft by net with the kit fitted."""
        named: dict[int, set[str]] = {}
        for name, point in self.named:
            named.setdefault(self.after.at(point), set()).add(name)
        return named

    @cached_property
    def named(self) -> list[tuple[str, Point]]:
        """Every circuit name of the airframe file with the cavity at which it stands."""
        return [(c.circuit, c.point) for _, c in self.airframe.cavities() if c.circuit]

    @cached_property
    def direct(self) -> list[tuple[Point, tuple[Edge, ...]]]:
        """Pins that the kit's own copper leads to a stud, breaker or bus of the aircraft, which has no circuit name."""
        ways = [(p, self.way(p, self._is_terminal, kit=True)) for p in self._added if p not in self.harness.taps]
        return [(pin, steps) for pin, steps in ways if steps]

    def _is_terminal(self, point: Point) -> bool:
        before = self.airframe
        return any(point.ref in table for table in (before.grounds, before.breakers, before.buses))

    @cached_property
    def _added(self) -> list[Point]:
        """Points of the equipment that are one piece of copper with the aircraft."""
        reached = set(self.after.label[: self.own])
        return [
            point
            for point, net in zip(self.points[self.own :], self.after.label[self.own :], strict=True)
            if net in reached and self.owner(point) is Origin.EQUIPMENT
        ]

    @cached_property
    def undeclared(self) -> list[Point]:
        """Points of the equipment on the aircraft's copper that no tap declares."""
        said = {*self.harness.taps, *(pin for pin, _ in self.direct)}
        return [point for point in self._added if point not in said]

    # -- taking it out again ---------------------------------------------------------------------------------------

    @cached_property
    def changed(self) -> list[str]:
        """What would not be as it was with the kit taken out and the pair mated again; empty when all would."""
        after, before, found = self.harness, self.airframe, []
        opened = frozenset(after.opened)
        for field in fields(Harness):
            old, new = getattr(before, field.name), getattr(after, field.name)
            if not isinstance(old, dict) or field.name in ("taps", "allowances", "spare_contacts", "overrides"):
                continue
            found += [f"{field.name}: {name}" for name, thing in old.items() if new.get(name) != thing]
            found += [
                f"{field.name}: {name}"
                for name, thing in new.items()
                if name not in old and getattr(thing, "origin", None) is Origin.AIRFRAME
            ]
        found += [
            f"mate: {m.a}/{m.b}" for m in before.mates if m.refs != opened and all(m != other for other in after.mates)
        ]
        ends = {edge.id for edge in self.edges if edge.of is Origin.AIRFRAME and edge.after and not edge.before}
        return sorted({*found, *ends})


def _met(one: Iterable[int], other: Iterable[int]) -> list[list[int]]:
    """For each number of ``one`` in order: the numbers of ``other`` that stand at the same places."""
    met: dict[int, set[int]] = {}
    for a, b in zip(one, other, strict=True):
        met.setdefault(a, set()).add(b)
    return [sorted(met[a]) for a in sorted(met)]


def copper(harness: Harness) -> Copper:
    """Both states of an installed harness. Raises ``ValueError`` for any other."""
    before = harness.before
    if before is None:
        raise ValueError("only an installed harness has a before and an after")
    opened = harness.opened or ("", "")
    own = dict.fromkeys(before.points)
    unlisted = {p.cavity for p in harness.points if p not in own and p.ref in opened}
    unlisted -= {p.cavity for p in before.points if p.ref in opened}
    across = [(Point(opened[0], name), Point(opened[1], name)) for name in sorted(unlisted)]
    own.update(dict.fromkeys(p for pair in across for p in pair))
    own.update(dict.fromkeys(p for p in harness.points if p not in own and p.ref in before.connectors))
    edges = [
        Edge(wire.id, "wire", wire.origin, wire.a, wire.b, wire.id in before.wires, True)
        for wire in harness.wires.values()
    ]
    after = set(harness.mated_points)
    for a, b in [*before.mated_points, *across]:
        edges.append(Edge(f"{a}/{b}", "mate", Origin.AIRFRAME, a, b, True, (a, b) in after))
    was = {(edge.a, edge.b) for edge in edges if edge.kind == "mate"}
    for a, b in harness.mated_points:
        if (a, b) not in was:
            halves = [harness.connectors[p.ref].origin for p in (a, b)]
            of = next((o for o in (Origin.JUMPER, Origin.EQUIPMENT) if o in halves), Origin.AIRFRAME)
            edges.append(Edge(f"{a}/{b}", "mate", of, a, b, False, True))
    for a, b in harness.looped_points:
        edges.append(Edge(f"{a}/{b}", "inside", Origin.EQUIPMENT, a, b, False, True))
    rest = [point for point in harness.points if point not in own]
    return Copper(harness, before, (*own, *rest), len(own), tuple(edges))
