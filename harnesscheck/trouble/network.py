"""The copper under test in pieces that can fail one by one: contacts, wires, splice legs, terminators."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from harnesscheck.connector import Origin
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.ringout.article import Article
from harnesscheck.ringout.link import STRUCTURE, Link
from harnesscheck.trouble.powered import TRIPS

UNKNOWN = 0.05
"""Ohms counted for a wire of unknown length or gauge, and for a lead to the structure: 1 m of 22 AWG (AC 43.13-1B
Table 11-9), common practice. Only the ranking rests on it; the expected value of such a reading stays not known."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One thing between two nodes that can be open, of high resistance, or at the wrong place."""

    kind: str
    """``contact``, ``wire``, ``leg`` (of a splice), ``terminator``, ``bond``, ``breaker`` (closed only when the power
    is on), ``other``."""
    name: str
    a: int
    b: int
    ohms: float
    at: tuple[Point, ...] = ()
    """The cavity, or both cavities that are mated there; the splice or stud."""
    wire: str = ""
    new: bool = True
    """Part of the kit; existing wiring of the aircraft fails seldom."""
    trips: float = math.inf
    """Amperes at which it opens: a breaker of known rating."""


@dataclass(slots=True)
class Network:
    """Nodes and pieces. ``fixed`` holds the volts of supply nodes when the power is on."""

    index: dict[Point, int] = field(default_factory=dict)
    pieces: list[Piece] = field(default_factory=list)
    fixed: dict[int, float] = field(default_factory=dict)
    contacts: dict[Point, tuple[int, int, int]] = field(default_factory=dict)
    """Cavity that holds a wire to (piece, node on the wire side, node that its face touches)."""
    faces: dict[Point, int] = field(default_factory=dict)
    """Cavity to the node that a contact sitting in it touches: itself when a probe reaches it, else its mate."""

    def node(self, point: Point) -> int:
        """The number of a node, made on demand."""
        return self.index.setdefault(point, len(self.index))

    def add(self, kind: str, name: str, a: Point, b: Point, ohms: float, **more: object) -> None:
        """One more piece."""
        self.pieces.append(Piece(kind, name, self.node(a), self.node(b), ohms, **more))  # type: ignore[arg-type]

    def face(self, point: Point) -> int:
        """The node that a contact sitting in a cavity touches."""
        found = self.faces.get(point)
        return self.node(point) if found is None else found


def network(article: Article, volts: Mapping[str, float] | None = None) -> Network:
    """The pieces of an article of the ring-out. ``volts`` gives the volts of buses when the power is on."""
    harness, net = article.harness, Network()
    for point in article.terminals:
        net.node(point)
    for link in article.links:
        _piece(net, harness, link)
    for breaker in harness.breakers.values() if volts else ():
        line, load = Point(breaker.ref, "line"), Point(breaker.ref, "load")
        trips = math.inf if breaker.rating is None else TRIPS * breaker.rating
        net.add("breaker", breaker.ref, line, load, breaker.resistance or 0.0, new=False, trips=trips)
        if breaker.bus is not None and breaker.bus in harness.buses:
            net.add("breaker", breaker.ref, Point(breaker.bus), line, 0.0, new=False)
    for bus, held in (volts or {}).items():
        net.fixed[net.node(Point(bus))] = held
    if net.fixed:
        net.fixed[net.node(STRUCTURE)] = 0.0
    return net


def _piece(net: Network, harness: Harness, link: Link) -> None:
    ohms = UNKNOWN if link.ohms is None else link.ohms
    if link.kind == "wire":
        new = harness.wires[link.name].origin is Origin.JUMPER
        net.add("wire", link.name, link.a, link.b, ohms, wire=link.name, new=new)
    elif link.kind == "splice":
        wire = link.name.rpartition(" ")[2]
        new = harness.wires[wire].origin is Origin.JUMPER
        net.add("leg", link.name, link.a, link.b, ohms, at=(link.a,), wire=wire, new=new)
    elif link.kind == "contact":
        _contact(net, harness, link, ohms)
    elif link.kind == "terminator":
        net.add("terminator", link.name, link.a, link.b, ohms, new=False)
    else:
        net.add("bond", link.name, link.a, link.b, ohms, at=(link.a,), new=False)


def _contact(net: Network, harness: Harness, link: Link, ohms: float) -> None:
    """A contact at a terminal, or the two of a mated pair, which no probe can tell apart."""
    mated = link.b.ref != link.a.ref
    at = (link.a, link.b) if mated else (link.a,)
    wired = [point for point in at if harness.wires_at(point)]
    new = any(harness.connectors[point.ref].origin is Origin.JUMPER for point in at)
    wire = next((harness.wires_at(p)[0].id for p in at if harness.connectors[p.ref].origin is Origin.JUMPER
                 and harness.wires_at(p)), harness.wires_at(wired[0])[0].id if wired else "")  # fmt: skip
    number = len(net.pieces)
    net.add("contact", link.name, link.a, link.b, ohms, at=at, wire=wire, new=new)
    if mated:
        one, two = net.node(link.a), net.node(link.b)
        net.faces[link.a], net.faces[link.b] = two, one
        if link.a in wired:
            net.contacts[link.a] = (number, one, two)
        if link.b in wired:
            net.contacts[link.b] = (number, two, one)
    else:
        net.faces[link.a] = net.node(link.a)
        if wired:
            net.contacts[link.a] = (number, net.node(link.b), net.node(link.a))
