"""Where splices sit along the wiring: how far from which connector, as stated or as the wire lengths say."""

from __future__ import annotations

from dataclasses import dataclass

from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.splice import Splice
from harnesscheck.wire import Wire

STATED, BY_WIRE, RECKONED = 2, 1, 0
"""How good a distance is."""


@dataclass(frozen=True, slots=True)
class Station:
    """Distance of a splice from the rear face of a connector, metres."""

    distance: float
    how: str
    """``stated``, the wire whose length it is, or both ends of the run it was reckoned from."""
    grade: int


def own_length(harness: Harness, wire: Wire) -> float | None:
    """The laid length of a wire; None for a core that has only the length of its cable, for cores are trimmed."""
    cable = harness.cables.get(wire.cable or "")
    if cable is not None and cable.length == wire.length:
        return None
    return wire.length


def stations(harness: Harness, splice: Splice) -> dict[str, Station]:
    """Distances of a splice from every connector for which they are known, by reference.

    In this order: as stated (``at:``); the length of a wire that leads straight from the splice to the connector; and
    for a connector that a core leads to, the known run between two connectors less the distance from the other one.
    """
    found: dict[str, Station] = {}
    if splice.at_ref is not None and splice.at is not None:
        found[splice.at_ref] = Station(splice.at, "stated", STATED)
    led: set[str] = set()
    for wire in harness.wires_at(Point(splice.ref)):
        ref = wire.other(Point(splice.ref)).ref
        if ref not in harness.connectors:
            continue
        led.add(ref)
        length = own_length(harness, wire)
        known = found.get(ref)
        if length is not None and (known is None or (known.grade != STATED and length < known.distance)):
            found[ref] = Station(length, wire.id, BY_WIRE)
    reckoned: dict[str, Station] = {}
    for ref in sorted(led - set(found)):
        for other, station in found.items():
            run = shortest_run(harness, ref, other)
            rest = run - station.distance if run is not None else 0.0
            if rest > 0 and (ref not in reckoned or rest < reckoned[ref].distance):
                reckoned[ref] = Station(rest, f"the run from {other} to {ref}", RECKONED)
    return {**found, **reckoned}


def shortest_run(harness: Harness, one: str, two: str) -> float | None:
    """The shortest known length of copper between two connectors, straight or through one splice, metres."""
    runs = [
        length
        for wire in harness.wires.values()
        if {wire.a.ref, wire.b.ref} == {one, two} and (length := own_length(harness, wire)) is not None
    ]
    for ref in harness.splices:
        point = Point(ref)
        ends: dict[str, list[float]] = {one: [], two: []}
        for wire in harness.wires_at(point):
            length, far = own_length(harness, wire), wire.other(point).ref
            if length is not None and far in ends:
                ends[far].append(length)
        if ends[one] and ends[two]:
            runs.append(min(ends[one]) + min(ends[two]))
    return min(runs, default=None)


def reached(harness: Harness, splice: Splice) -> list[str]:
    """The connectors to which a wire leads straight from a splice, and the one its place is stated from."""
    ends = [wire.other(Point(splice.ref)).ref for wire in harness.wires_at(Point(splice.ref))]
    return [ref for ref in dict.fromkeys([*ends, splice.at_ref or ""]) if ref in harness.connectors]


def millimetres(length: float) -> str:
    """``60 mm``; tenths only where there are any."""
    return f"{round(length * 1000, 1):g} mm"
