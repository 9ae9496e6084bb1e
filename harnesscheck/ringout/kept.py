"""What stays connected while the new box is unplugged: terminators that a file places, and ends that nobody lists."""

from __future__ import annotations

import math
from collections.abc import Container, Iterator, Mapping

from harnesscheck.circuit import Circuit
from harnesscheck.connector import Origin, Use
from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.place import Point
from harnesscheck.ringout.link import Link
from harnesscheck.source import Source, Status

TERMINATOR_SHARE = 5 / 60
"""How far a terminator may be off, as a share: 55 to 65 ohm for the two of a CAN bus."""
TERMINATOR_SOURCE = Source("", Status.MEMORY, paragraph="55 to 65 ohm between H and L of a bus that should show 60; "
                           "manuals accept 56 to 64, 54 to 66 or 50 to 70")  # fmt: skip


def names(job: Job) -> dict[Point, str]:
    """What each cavity is for: its circuit, or that of the cavity it touches, with the kit or as found; else spare."""
    found: dict[Point, str] = {}
    spare: dict[Point, str] = {}
    for harness in (job.airframe, job.subject):
        if harness is None:
            continue
        for _, cavity in harness.cavities():
            if cavity.circuit:
                found[cavity.point] = cavity.circuit
            elif cavity.use is Use.SPARE:
                spare[cavity.point] = "spare"
        for pair in harness.mated_points:
            for table in (found, spare):
                for here, there in (pair, pair[::-1]):
                    if here in table and there not in found:
                        table.setdefault(there, table[here])
    return {**spare, **found}


def open_ended(harness: Harness, named: Mapping[Point, str]) -> dict[Point, str]:
    """Points of the aircraft beyond which the wiring is not listed, and the circuit there.

    A cavity of the aircraft leads on unless its wire is listed or it is stated to be spare; a breaker terminal without
    a listed wire does too.
    """
    found: dict[Point, str] = {}
    for half, cavity in harness.cavities():
        if half.origin is not Origin.AIRFRAME or harness.wires_at(cavity.point) or cavity.grounded:
            continue
        name = named.get(cavity.point) or ("not stated" if cavity.use is Use.UNKNOWN else "spare")
        if name != "spare":
            found[cavity.point] = name
    for breaker in harness.breakers.values():
        for end in ("line", "load"):
            if not harness.wires_at(Point(breaker.ref, end)):
                found[Point(breaker.ref, end)] = breaker.name or breaker.ref
    return found


def kept_in(harness: Harness, nodes: Container[Point], named: Mapping[Point, str]) -> Iterator[Link]:
    """Terminators of the aircraft, where a file says on which side of the opened pair they are."""
    pairs: dict[str, list[Circuit]] = {}
    for circuit in harness.circuits.values():
        if circuit.pair and circuit.signal in ("can", "rs485", "rs422"):
            pairs.setdefault(circuit.pair, []).append(circuit)
    for name, lines in pairs.items():
        value = next((c.terminator for c in lines if c.terminator), None)
        if len(lines) != 2 or value is None or math.isinf(value):
            continue
        wanted = {c.name for c in lines}
        sides: dict[str, dict[str, Point]] = {}
        ended: dict[str, bool | None] = {}
        for half, cavity in harness.cavities():
            said = named.get(cavity.point)
            if half.origin is Origin.AIRFRAME and said in wanted and not harness.wires_at(cavity.point):
                sides.setdefault(half.ref, {})[said] = cavity.point
                if cavity.terminated is not None:
                    ended[half.ref] = cavity.terminated
        for ref, points in sides.items():
            if ended.get(ref) and len(points) == 2:
                a, b = (_node(nodes, p) for p in points.values())
                low, high = value * (1 - TERMINATOR_SHARE), value * (1 + TERMINATOR_SHARE)
                yield Link("terminator", f"terminator of {name} beyond {ref}", a, b, value, low, high)


def _node(nodes: Container[Point], point: Point) -> Point:
    """The node behind the contact of a terminal, else the point itself."""
    behind = Point(point.ref, f"{point.cavity} (crimp)")
    return behind if behind in nodes else point
