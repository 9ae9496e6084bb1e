"""What an ohmmeter reads between two points of the copper at 20 C, and between which limits where pieces are unknown.

Power is off and every unit is unplugged, so what reads is wires, mated contacts, splices, the bonds of ground studs and
shields to the structure. ``connected=True`` adds what may stay where it is: breakers that are in, buses, and the
terminators of the aircraft's data buses.

A piece of unknown resistance has one between nothing and open, and a reading can only rise with it. So the network is
solved with all unknown pieces shorted and once more with all of them open: where both agree the reading is known.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from harnesscheck.circuit import Circuit
from harnesscheck.connector import Origin
from harnesscheck.electrics.elements import SPLICE, SPLICE_SOURCE, Gap, Ohms, contact_ohms, per_metre, wire_ohms
from harnesscheck.electrics.network import Branch, Load, solve
from harnesscheck.electrics.wiring import STRUCTURE
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.source import Source, Status
from harnesscheck.wire import Wire

SAME = 1e-9
"""Two readings whose difference is a smaller share than this are one."""
STATED = Source("", Status.STATED)


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece between two points: a wire, a contact pair, half a splice, a bond, a breaker, a terminator."""

    kind: str
    name: str
    a: Point
    b: Point
    ohms: Ohms | Gap


@dataclass(frozen=True, slots=True)
class Reading:
    """Ohms between two points: at least ``least``, at most ``most``; None is open."""

    least: float | None
    most: float | None
    missing: tuple[str, ...] = ()
    """Why it is not known better, in words; empty when it is known."""

    @property
    def open(self) -> bool:
        """True when nothing that is listed joins the two."""
        return self.least is None

    @property
    def ohms(self) -> float | None:
        """The reading where it is known; None when it is open or not known."""
        known = self.least is not None and self.most is not None and not self.missing
        return self.least if known else None


def cold_ohms(harness: Harness, wire: Wire) -> Ohms | Gap:
    """Resistance of a wire at 20 C; or what is missing."""
    found = wire_ohms(harness, wire)
    if isinstance(found, Gap) or wire.gauge is None or wire.length is None:
        return found
    each, source = per_metre(harness, wire.type, wire.gauge)
    return Ohms(each * wire.length, source)


class Copper:
    """The copper that a set of points is part of, as a network of resistances."""

    def __init__(self, harness: Harness, points: Iterable[Point], connected: bool = False) -> None:
        """Collect the pieces of the nets of ``points`` and of all that is joined to them."""
        self.harness = harness
        links = list(_links(harness, connected))
        near: dict[object, set[object]] = {}
        for piece in links:
            one, two = self._net(piece.a), self._net(piece.b)
            near.setdefault(one, set()).add(two)
            near.setdefault(two, set()).add(one)
        stack = [self._net(point) for point in points]
        self.nets = set(stack)
        while stack:
            for other in near.get(stack.pop(), set()) - self.nets:
                self.nets.add(other)
                stack.append(other)
        self.pieces = [*self._own(), *(piece for piece in links if self._net(piece.a) in self.nets)]
        self.index: dict[Point, int] = {}
        for piece in self.pieces:
            for point in (piece.a, piece.b):
                self.index.setdefault(point, len(self.index))

    def _net(self, point: Point) -> object:
        number = self.harness.nets.of(point)
        return point if number is None else number

    def _own(self) -> Iterator[Piece]:
        harness = self.harness
        for wire in harness.wires.values():
            if self._net(wire.a) not in self.nets:
                continue
            ends = []
            for end in (wire.a, wire.b):
                ends.append(end)
                if end.ref in harness.splices:
                    ends[-1] = Point(end.ref, f"(end of {wire.id})")
                    yield Piece("splice", end.ref, end, ends[-1], Ohms(SPLICE / 2, SPLICE_SOURCE))
            yield Piece("wire", wire.id, ends[0], ends[1], cold_ohms(harness, wire))
        for a, b in harness.mated_points:
            if self._net(a) in self.nets:
                yield Piece("contact", f"{a}/{b}", a, b, contact_ohms(harness, a, b))

    @cached_property
    def missing(self) -> tuple[str, ...]:
        """What is unknown about any piece, each once."""
        return tuple(dict.fromkeys(p.ohms.missing for p in self.pieces if isinstance(p.ohms, Gap)))

    def read(self, a: Point, b: Point) -> Reading:
        """What stands between two points."""
        if a == b:
            return Reading(0.0, 0.0)
        least, most = self._solve(a, b, 0.0), self._solve(a, b, None)
        if least is None or (most is not None and most - least <= SAME * max(most, 1e-6)):
            return Reading(least, most)
        return Reading(least, most, self._blamed(a, b))

    def _solve(self, a: Point, b: Point, unknown: float | None) -> float | None:
        one, two = self.index.get(a), self.index.get(b)
        if one is None or two is None:
            return None
        branches = []
        for piece in self.pieces:
            value = unknown if isinstance(piece.ohms, Gap) else piece.ohms.value
            if value is not None:
                branches.append(Branch(self.index[piece.a], self.index[piece.b], value))
        found = solve(len(self.index), branches, [Load(one, two, "current", 1.0)], {two: 0.0})
        volts = found.volts[one]
        return None if volts is None else abs(volts)

    def _blamed(self, a: Point, b: Point) -> tuple[str, ...]:
        """The unknown pieces that lie on some way from one point to the other."""
        import networkx

        graph: networkx.Graph[Point] = networkx.Graph()
        for number, piece in enumerate(self.pieces):  # each piece a node of its own: two may lie side by side
            graph.add_edge(piece.a, Point("(piece)", str(number)))
            graph.add_edge(Point("(piece)", str(number)), piece.b)
        graph.add_edge(a, b)  # every way from a to b is then a ring through this edge
        rings: Any = networkx.biconnected_components(graph)
        ring = next(part for part in rings if a in part and b in part)
        unknown = ((number, p.ohms) for number, p in enumerate(self.pieces))
        found = (gap.missing for n, gap in unknown if isinstance(gap, Gap) and Point("(piece)", str(n)) in ring)
        return tuple(dict.fromkeys(found))


def _links(harness: Harness, connected: bool) -> Iterator[Piece]:
    """What joins nets: the structure always; breakers, buses and terminators when they are connected."""
    for stud in harness.grounds.values():
        gap = Gap(stud.place, f"the bond of {stud.ref} is not stated", "give bond:")
        yield Piece("bond", stud.ref, Point(stud.ref), STRUCTURE, _stated(stud.bond, gap))
    for _, cavity in harness.cavities():
        if cavity.grounded:
            gap = Gap(cavity.place, f"the ohms from {cavity.point} to ground are not stated", "measure it")
            yield Piece("bond", str(cavity.point), cavity.point, STRUCTURE, gap)
    if not connected:
        return
    for breaker in harness.breakers.values():
        line, load = Point(breaker.ref, "line"), Point(breaker.ref, "load")
        gap = Gap(breaker.place, f"the resistance of {breaker.ref} is not stated", "give resistance:")
        yield Piece("breaker", breaker.ref, line, load, _stated(breaker.resistance, gap))
        if breaker.bus in harness.buses:
            yield Piece("bus", breaker.bus or "", Point(breaker.bus or ""), line, Ohms(0.0, STATED))
    for circuit in harness.circuits.values():
        yield from terminators(harness, circuit)


def _stated(value: float | None, gap: Gap) -> Ohms | Gap:
    return gap if value is None else Ohms(value, STATED)


def terminators(harness: Harness, circuit: Circuit) -> Iterator[Piece]:
    """The terminators that the aircraft has between a line of a data bus and its partner, where their place is known.

    Their place is known when all copper of the circuit is one net, and that of its partner too.
    """
    if not circuit.terminators or circuit.pair is None:
        return
    partners = [c for c in harness.circuits.values() if c.pair == circuit.pair and c.name != circuit.name]
    ends = [_copper_of(harness, one.name) for one in (circuit, *partners)]
    if len(ends) != 2 or ends[0] is None or ends[1] is None:
        return
    gap = Gap(circuit.place, f"the value of the terminators of {circuit.name} is not stated", "give terminator:")
    for _ in range(circuit.terminators):
        yield Piece("terminator", circuit.name, ends[0], ends[1], _stated(circuit.terminator, gap))


def _copper_of(harness: Harness, name: str) -> Point | None:
    """A point of the aircraft that carries a circuit; None when there is none, or its copper is in several pieces."""
    points = [c.point for half, c in harness.cavities() if c.circuit == name and half.origin is Origin.AIRFRAME]
    nets = {harness.nets.of(point) for point in points}
    return points[0] if len(nets) == 1 else None
