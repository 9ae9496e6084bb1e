"""A wire runs through more than one splice between two connectors.

What
    The copper is followed from one connector cavity, stud or breaker to the next without crossing a connector. When
    two or more splices lie on the way, they are named. Splices with three or more wires, and splices that only change
    the wire size, are the exceptions the rule allows; when no more than one other splice is left, it is a note.

Why it matters
    Every splice is a joint that can age, and one that nobody sees inside a bundle. A second one in the same run is
    usually a leftover of a repair or of a change, and doubles the places to look when the circuit drops out.

Source
    AC 43.13-1B par. 11-167c: at most one splice in a wire segment between two connectors or disconnect points. Excepted
    are a spare pigtail of a potted connector, many wires into one, adjusting the wire size to a contact barrel, and an
    approved repair.

What to do
    Lead one wire through, or bring all taps of the circuit into one splice. When an exception applies, write it down
    as a waiver.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from itertools import pairwise

from harnesscheck.checks._ours import our_splices, ours
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.source import Source, Status
from harnesscheck.wire import Wire

SEVERITY = Severity.CAUTION
SOURCE = Source("AC 43.13-1B", Status.CONFIRMED, "Chg 1", "par. 11-167c")
FOLLOWS = ("broken-through-circuit",)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every run of wire through splices that the kit brings or leads a wire into."""
    good = 0
    seen: set[str] = set()
    for splice in our_splices(harness):
        if splice.ref in seen:
            continue
        reached = _reached(harness, splice.ref)
        together = {point.ref for point in reached if point.ref in harness.splices}
        seen |= together
        unlisted = sorted(ref for ref in together if _unlisted(harness, ref))
        for ref in unlisted:
            missing = "the wires of the aircraft at this splice are not listed, so what lies on the run is not known"
            yield NotChecked(place=harness.splices[ref].place, missing=missing, remedy="list them under wires:")
        ends = [point for point in reached if point.ref not in together] if len(together) > 1 else []
        way = _longest(harness, ends)
        refs = [point.ref for point in way if point.ref in harness.splices]
        if len(refs) < 2:
            good += not unlisted
        else:
            yield _finding(harness, way, refs)
    yield Passed(good, "runs of wire with one splice")


def _unlisted(harness: Harness, ref: str) -> bool:
    """True for a splice of the aircraft at which the files list no wire of the aircraft."""
    wires = harness.wires_at(Point(ref))
    return not ours(harness, harness.splices[ref]) and all(ours(harness, wire) for wire in wires)


def _reached(harness: Harness, ref: str) -> dict[Point, None]:
    """Every point joined to a splice by wires and splices alone."""
    found = {Point(ref): None}
    waiting = deque(found)
    while waiting:
        point = waiting.popleft()
        for wire in harness.wires_at(point):
            end = wire.other(point)
            if end not in found:
                found[end] = None
                if end.ref in harness.splices:
                    waiting.append(end)
    return found


def _longest(harness: Harness, ends: list[Point]) -> list[Point]:
    """Of the ways from end to end that the kit is part of, each as short as it can be, the one with most splices."""
    every = [way for start in ends for way in _ways(harness, start).values() if _touched(harness, way)]
    # Of ways that are equally long always the same one, in whatever order the wires are listed.
    return min(every, key=lambda way: (-len(way), [str(point) for point in way]), default=[])


def _ways(harness: Harness, start: Point) -> dict[Point, list[Point]]:
    """From one end to every other end it reaches through splices, as the points on the way."""
    ways = {start: [start]}
    waiting = deque([start])
    while waiting:
        point = waiting.popleft()
        for end in sorted({wire.other(point) for wire in harness.wires_at(point)}, key=str):
            if end not in ways and (end.ref in harness.splices or point.ref in harness.splices):
                ways[end] = [*ways[point], end]
                if end.ref in harness.splices:
                    waiting.append(end)
    return {end: way for end, way in ways.items() if end.ref not in harness.splices and end != start}


def _touched(harness: Harness, way: list[Point]) -> bool:
    """True when a wire or a splice of the kit lies on a way: a run of the aircraft alone is as its makers left it."""
    splices = [harness.splices[point.ref] for point in way if point.ref in harness.splices]
    return any(ours(harness, each) for each in splices) or any(ours(harness, w) for w in _between(harness, way))


def _between(harness: Harness, way: list[Point]) -> list[Wire]:
    """The wires along a way."""
    return [wire for a, b in pairwise(way) for wire in harness.wires_at(a) if wire.other(a) == b]


def _finding(harness: Harness, way: list[Point], refs: list[str]) -> Finding:
    excepted = {ref: why for ref in refs if (why := _exception(harness, ref))}
    plain = len(refs) - len(excepted)
    said = "; ".join(f"{ref} {why}" for ref, why in excepted.items())
    return Finding(
        headline=f"{len(refs)} splices lie on one run of wire between {way[0]} and {way[-1]}: {several(refs)}",
        place=harness.splices[refs[-1]].place,
        others=(*(harness.splices[r].place for r in refs[:-1]), *(w.place for w in _between(harness, way))),
        value=f"{len(refs)} splices" + (f" ({said})" if said else ""),
        limit="1 splice between two connectors; more only where an exception applies",
        severity=Severity.NOTE if plain < 2 else None,
        remedy="join everything in one splice, or put down in writing which exception applies"
        if excepted
        else "lead one wire through, or put down in writing which exception applies",
    )


def _exception(harness: Harness, ref: str) -> str:
    """Which exception of the rule a splice may claim, in words; empty when none shows."""
    wires = harness.wires_at(Point(ref))
    if len(wires) > 2:
        return f"joins {len(wires)} wires"
    gauges = {wire.gauge for wire in wires}
    return "changes the wire size" if len(gauges) > 1 and None not in gauges else ""
