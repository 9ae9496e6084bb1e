"""The plant in the aircraft: the kit in with the new unit unplugged, or the aircraft alone with the pair open.

Made from the harness records alone, as ``plant.bench`` is. What a file leaves open is given a value that an aircraft
may well have: it is not the program's, and no judged reading may hang on it.
"""

from __future__ import annotations

from collections.abc import Mapping

from harnesscheck.circuit import Circuit
from harnesscheck.connector import Origin
from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.place import Point
from tests.trouble.plant import Plant, copper

BARE = Point("bare structure")
GROUND_LEAD = 0.02
"""Ohms of a lead to the structure that no file lists: invented."""
FEED = 0.15
"""Ohms of an unlisted feed, breaker included: invented."""
FEED_LIMIT = 20.0
"""Amperes at which the breaker of an unlisted feed opens: invented."""
OVERLOAD = 2.5
"""Times its rating at which a breaker is open when somebody reads volts: from memory, thermal breakers."""
BUS_HOLD = 200.0
"""Ohms through which the units of a CAN bus hold each line at 2.5 V: invented; ISO 11898-2 from memory."""


def in_place(job: Job, name: str) -> Plant:
    """The plant of the articles ``installed`` and ``aircraft``."""
    opened: set[frozenset[str]] = set()
    harness = job.subject
    if name == "aircraft":
        assert job.airframe is not None
        opened = {frozenset(pair) for pair in harness.opens} if job.jumper is not None else set()
        harness = job.airframe
    boxes = {ref for ref, half in harness.connectors.items() if half.origin is Origin.EQUIPMENT}
    plant = Plant()
    for mate in harness.mates:
        if mate.refs not in opened and not mate.refs & boxes:
            one, two = sorted(mate.refs)
            plant.mates |= {one: two, two: one}
    for ref, half in harness.connectors.items():
        if ref not in boxes:
            for cavity in dict.fromkeys([*half.cavities, *(half.names or ())]):
                point = Point(ref, cavity)
                plant.parts["contact", point] = (plant.face(point), ("rear", ref, cavity), 0.006)
    _wires(plant, harness)
    _ground(plant, harness)
    circuits = circuits_of(job)
    for ref, pair, high, low in terminators(harness, circuits):
        plant.parts["terminator", pair, ref] = (("rear", high.ref, high.cavity), ("rear", low.ref, low.cavity), 120.0)
    if name == "installed":
        _supplies(plant, harness, circuits)
    return plant


def _wires(plant: Plant, harness: Harness) -> None:
    for wire in harness.wires.values():
        ends: list[object] = []
        for end in (wire.a, wire.b):
            if end.ref in harness.connectors:
                ends.append(("rear", end.ref, end.cavity))
            elif end.ref in harness.splices:
                ends.append(("leg", end.ref, wire.id))
                plant.parts["leg", end.ref, wire.id] = (("splice", end.ref), ("leg", end.ref, wire.id), 0.001)
            else:
                ends.append(end)
        plant.parts["wire", wire.id] = (ends[0], ends[1], copper(wire))


def _ground(plant: Plant, harness: Harness) -> None:
    for ref, stud in harness.grounds.items():
        plant.parts["bond", ref] = (Point(ref), BARE, 0.001 if stud.bond is None else stud.bond)
    for _, cavity in harness.cavities():
        if cavity.grounded and not harness.wires_at(cavity.point):
            rear = ("rear", cavity.point.ref, cavity.point.cavity)
            plant.parts["ground lead", cavity.point] = (rear, BARE, GROUND_LEAD)


def circuits_of(job: Job) -> dict[Point, Circuit]:
    """What each cavity of the aircraft carries: as stated there, or at the cavity that it met before the kit."""
    harness = job.airframe or job.subject
    found = {cavity.point: cavity.circuit for _, cavity in harness.cavities() if cavity.circuit}
    for a, b in harness.mated_points:
        for one, two in ((a, b), (b, a)):
            if one in found:
                found.setdefault(two, found[one])
    return {point: harness.circuits[name] for point, name in found.items() if name in harness.circuits}


def terminators(harness: Harness, circuits: Mapping[Point, Circuit]) -> list[tuple[str, str, Point, Point]]:
    """Half, pair and the two cavities of every terminator that a file places beyond a half of the aircraft."""
    found = []
    for ref, half in harness.connectors.items():
        if half.origin is not Origin.AIRFRAME:
            continue
        pairs: dict[str, list[Point]] = {}
        for cavity in half.cavities.values():
            circuit = circuits.get(cavity.point)
            if circuit is not None and circuit.pair and not harness.wires_at(cavity.point):
                pairs.setdefault(circuit.pair, []).append(cavity.point)
        for pair, points in pairs.items():
            said = [half.cavities[p.cavity].terminated for p in points]
            if len(points) == 2 and True in said:
                found.append((ref, pair, points[0], points[1]))
    return found


def _supplies(plant: Plant, harness: Harness, circuits: Mapping[Point, Circuit]) -> None:
    """Power on: buses at the volts of their sources, breakers closed, and feeds whose wire is not listed."""
    hot: set[object] = set()
    plant.held[BARE] = 0.0
    for ref, bus in harness.buses.items():
        said = [source.supply for source in harness.sources.values() if source.bus == ref and source.supply]
        plant.held[Point(ref)] = max(said, default=bus.volts or 0.0)
    for ref, breaker in harness.breakers.items():
        plant.parts["breaker", ref] = (Point(ref, "line"), Point(ref, "load"), breaker.resistance or 0.02)
        plant.parts["bus", ref] = (Point(breaker.bus or ref), Point(ref, "line"), 0.001)
        hot |= {("breaker", ref), ("bus", ref)}
        if breaker.rating is not None:
            plant.limits["breaker", ref] = OVERLOAD * breaker.rating
    for point, circuit in circuits.items():
        half = harness.connectors.get(point.ref)
        if half is None or harness.wires_at(point) or half.origin is not Origin.AIRFRAME:
            continue
        volts = 2.5 if circuit.signal == "can" else circuit.supply if circuit.signal in ("power", "lighting") else None
        if volts and not _fed_elsewhere(harness, point):
            key = ("feed", point)
            ohms = BUS_HOLD if circuit.signal == "can" else FEED
            plant.parts[key] = (("rear", point.ref, point.cavity), key, ohms)
            plant.held[key] = volts
            plant.limits[key] = FEED_LIMIT
            hot.add(key)
    plant.hot = frozenset(hot)


def _fed_elsewhere(harness: Harness, point: Point) -> bool:
    """True when the same copper reaches a breaker that is listed."""
    return any(step.end.ref in harness.breakers for step in harness.trace(point))
