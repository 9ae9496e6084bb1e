"""The copper under test in pieces that can fail one by one: contacts, wires, splice legs, terminators."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from harnesscheck.electrics.elements import CONTACT, SPLICE, Gap, wire_ohms
from harnesscheck.harness import Harness
from harnesscheck.place import Point

UNKNOWN_WIRE = 0.05
"""Ohms counted for a wire of unknown length or gauge: 1 m of 22 AWG (AC 43.13-1B Table 11-9), common practice."""
STRUCTURE = Point("structure", "")
"""The metal of the aircraft, to which every ground stud is bonded."""
Node = Point | tuple[str, Point] | tuple[str, str, str]


@dataclass(frozen=True, slots=True)
class Piece:
    """One thing between two nodes that can be open, of high resistance, or at the wrong place."""

    kind: str
    """``contact`` (``a`` is the face that a probe reaches, ``b`` the rear), ``wire``, ``leg`` (of a splice), ``mate``,
    ``terminator``, ``bond``, ``breaker`` (closed only when the power is on), ``load`` (kept in on purpose)."""
    name: str
    a: int
    b: int
    ohms: float
    at: Point | None = None
    """The cavity, splice or stud."""
    wire: str = ""
    new: bool = True
    """Part of the kit; existing wiring of the aircraft fails seldom."""


@dataclass(slots=True)
class Network:
    """Nodes and pieces. ``fixed`` holds the volts of supply nodes when the power is on."""

    index: dict[Node, int] = field(default_factory=dict)
    pieces: list[Piece] = field(default_factory=list)
    fixed: dict[int, float] = field(default_factory=dict)

    def node(self, key: Node) -> int:
        """The number of a node, made on demand."""
        return self.index.setdefault(key, len(self.index))

    def add(self, kind: str, name: str, a: Node, b: Node, ohms: float, **more: object) -> None:
        """One more piece."""
        self.pieces.append(Piece(kind, name, self.node(a), self.node(b), ohms, **more))  # type: ignore[arg-type]


def network(
    harness: Harness,
    mates: Iterable[tuple[Point, Point]] = (),
    kept: Iterable[tuple[str, Point, Point, float]] = (),
    volts: Mapping[str, float] | None = None,
) -> Network:
    """The pieces of a harness.

    ``mates`` are the cavity pairs that touch during the test; ``kept`` what stays connected: (name, end, end, ohms),
    called a terminator when the name says so. ``volts`` gives the volts of buses when the power is on. Resistances
    come from ``electrics.elements``; a wire of unknown length counts ``UNKNOWN_WIRE``.
    """
    net = Network()
    joined = list(mates)
    faces = {point for pair in joined for point in pair}
    wired: dict[Point, list[str]] = {}
    for wire in harness.wires.values():
        for end in (wire.a, wire.b):
            wired.setdefault(end, []).append(wire.id)
    for point, ids in wired.items():
        connector = harness.connectors.get(point.ref)
        if connector is not None:
            new = connector.origin == "jumper"
            net.add("contact", str(point), point, ("rear", point), CONTACT / 2, at=point, wire=ids[0], new=new)
    for connector in harness.connectors.values():
        for cavity in connector.cavities.values():
            net.node(cavity.point)
    for wire in harness.wires.values():
        new = wire.origin == "jumper"
        ends: list[Node] = []
        for end in (wire.a, wire.b):
            if end.ref in harness.connectors:
                ends.append(("rear", end))
            elif end.ref in harness.splices:
                own = ("leg", end.ref, wire.id)
                net.add("leg", f"{wire.id} at {end.ref}", end, own, SPLICE / 2, at=end, wire=wire.id, new=new)
                ends.append(own)
            else:
                ends.append(end)
        found = wire_ohms(harness, wire)
        ohms = UNKNOWN_WIRE if isinstance(found, Gap) else found.value
        net.add("wire", wire.id, ends[0], ends[1], ohms, wire=wire.id, new=new)
    for a, b in joined:
        net.add("mate", f"{a}/{b}", a, b, 0.0, new=False)
    for stud in harness.grounds.values():
        net.add("bond", stud.ref, Point(stud.ref), STRUCTURE, stud.bond or 0.0, at=Point(stud.ref), new=False)
    for breaker in harness.breakers.values():
        line, load = Point(breaker.ref, "line"), Point(breaker.ref, "load")
        net.add("breaker", breaker.ref, line, load, breaker.resistance or 0.0, new=False)
        if breaker.bus in harness.buses:
            net.add("breaker", breaker.ref, Point(breaker.bus), line, 0.0, new=False)
    for name, a, b, ohms in kept:
        net.add("terminator" if "terminator" in name else "load", name, a, b, ohms, new=False)
    for bus, held in (volts or {}).items():
        net.fixed[net.node(Point(bus))] = held
    if net.fixed:
        net.fixed[net.node(STRUCTURE)] = 0.0
    del faces
    return net
