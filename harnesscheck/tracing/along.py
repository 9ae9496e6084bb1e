"""The pieces of the copper in the order in which a person would trace them, with metres and ohms."""

from __future__ import annotations

from dataclasses import dataclass

from harnesscheck.connector import Origin, Use
from harnesscheck.electrics.copper import Copper, Reading, cold_ohms
from harnesscheck.electrics.elements import SPLICE, SPLICE_SOURCE, Gap, Ohms, contact_ohms
from harnesscheck.faces import NEAR, face
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.wire import Wire

MATE = "mate"
INSIDE = "inside"
MOST = 400_000
"""Pieces times legs up to which the reading to every point of a net with rings is worked out, some seconds."""


@dataclass(frozen=True, slots=True)
class Leg:
    """One piece of the way: a wire or a mated contact, from ``start`` to ``end``."""

    number: int
    start: Point
    through: str
    """A wire id, ``mate``, or ``inside`` for pins that a unit joins."""
    end: Point
    depth: int
    wire: Wire | None
    ohms: Ohms | Gap
    """Of the wire or the contact pair alone."""
    splices: float
    """Ohms of the halves of splices at its ends."""
    total: Reading
    """From the start point along the way walked."""
    reads: Reading | None
    """What a meter reads from the start point, all ways together; None: not worked out."""
    closes: bool = False
    """True for a piece that leads to a point that is on the list already: the ways form a ring."""


@dataclass(frozen=True, slots=True)
class Neighbour:
    """A cavity beside the start point, and what a meter reads to it."""

    point: Point
    pulled: Reading
    """Breakers pulled, terminators out."""
    connected: Reading
    """Breakers in, the terminators of the aircraft fitted."""
    kinds: tuple[str, ...]
    """``breaker``, ``terminator``: what makes the two differ; empty when they do not."""


def legs(harness: Harness, start: Point) -> list[Leg]:
    """Every piece that is one copper with ``start``, each once; those that close a ring come last."""
    steps = harness.trace(start)
    walked = {(s.through, frozenset((s.start, s.end))) for s in steps}
    closing: dict[tuple[str, frozenset[Point]], tuple[Point, str, Point]] = {}
    for here in (start, *(s.end for s in steps)):
        for through, there in harness.neighbours(here):
            key = (through, frozenset((here, there)))
            if key not in walked:
                closing.setdefault(key, (here, through, there))
    copper = Copper(harness, [start])
    ringed = len(copper.pieces) >= len(copper.index)
    count = len(steps) + len(closing)
    read = ringed and count * len(copper.pieces) <= MOST
    sums = {start: Reading(0.0, 0.0)}
    found: list[Leg] = []
    rows = [(s.start, s.through, s.end, s.depth, False) for s in steps]
    rows += [(*row, 0, True) for row in closing.values()]
    for number, (here, through, there, depth, closes) in enumerate(rows, 1):
        wire = harness.wires.get(through) if through not in (MATE, INSIDE) else None
        ohms = _inside(harness, here) if through == INSIDE else _alone(harness, here, there, wire)
        halves = SPLICE / 2 * sum(p.ref in harness.splices for p in (here, there)) if wire is not None else 0.0
        total = _added(sums[here], ohms, halves)
        if not closes:
            sums[there] = total
        reads = None if ringed and not read else copper.read(start, there) if ringed else total
        found.append(Leg(number, here, through, there, depth, wire, ohms, halves, total, reads, closes))
    return found


def _alone(harness: Harness, here: Point, there: Point, wire: Wire | None) -> Ohms | Gap:
    return contact_ohms(harness, here, there) if wire is None else cold_ohms(harness, wire)


def _inside(harness: Harness, here: Point) -> Gap:
    """What a unit joins inside is its maker's: no file gives its ohms, and a meter finds it open with the plug off."""
    place = harness.connectors[here.ref].place
    return Gap(place, f"the way through the unit at {here} has no ohms stated", "ask its maker")


def _added(so_far: Reading, ohms: Ohms | Gap, halves: float) -> Reading:
    """The sum one piece further on; a piece that is not known counts as nothing in the least, and leaves no most."""
    least = (so_far.least or 0.0) + halves
    if isinstance(ohms, Gap):
        return Reading(least, None, tuple(dict.fromkeys((*so_far.missing, ohms.missing))))
    most = None if so_far.most is None else so_far.most + halves + ohms.value
    return Reading(least + ohms.value, most, so_far.missing)


def splice_source() -> str:
    """Where the ohms of a splice come from."""
    return str(SPLICE_SOURCE)


def neighbours(harness: Harness, start: Point) -> tuple[list[Neighbour], bool]:
    """What ``start`` reads to the cavities beside it, and whether their places are known.

    Where the face is not known all cavities of the connector are given. A point that is no cavity has none.
    """
    connector = harness.connectors.get(start.ref)
    if connector is None or start.cavity not in connector.cavities:
        return [], True
    seen = face(harness, connector)
    known = seen is not None and start.cavity in seen.positions
    names = [name for name in connector.cavities if name != start.cavity]
    if seen is not None and known:
        names = [name for name in names if (seen.apart(start.cavity, name) or NEAR + 1) <= NEAR]
    pulled, connected = Copper(harness, [start]), Copper(harness, [start], connected=True)
    kinds = tuple(k for k in ("breaker", "terminator") if any(p.kind == k for p in connected.pieces))
    found = []
    for name in names:
        point = Point(start.ref, name)
        one, two = pulled.read(start, point), connected.read(start, point)
        found.append(Neighbour(point, one, two, kinds if one != two else ()))
    return found, known


def unlisted(harness: Harness, start: Point) -> list[Point]:
    """Cavities on this copper behind which the aircraft's wiring is not listed: more may hang there."""
    found = []
    for point in (start, *(s.end for s in harness.trace(start))):
        connector, cavity = harness.connectors.get(point.ref), harness.cavity(point)
        if connector is None or connector.origin is not Origin.AIRFRAME:
            continue
        stated = cavity is not None and cavity.use is Use.SPARE
        if not stated and not harness.wires_at(point):
            found.append(point)
    return found
