"""A bus branches like a star or a Y instead of running as one line.

What
    For each CAN, TIA-485 and TIA-422 bus that a new unit joins: what the airframe file says (topology:), and what the
    jumper makes of it: a splice where more than one stub leaves the trunk, or a stub that forks on its way.

Why it matters
    Each point where three or more lines meet reflects, and a bus of branches has no two ends to terminate. It often
    works until one more unit is added.

Source
    EFIS installation manual: a single line with exactly two ends, no star, no Y, no hub, no two units at one point
    (confirmed); TIA-485 tutorials say the same of it.

What to do
    Give each unit its own splice on the trunk, a hand's breadth apart or more, or lead the trunk in and out at each
    unit. Re-lay an existing star as a line before a unit is added.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._signals import Bus, Line, Missing, mixed, tapped, trunks
from harnesscheck.checks._words import several
from harnesscheck.connector import Origin
from harnesscheck.finding import Answer, Finding, Passed, Severity
from harnesscheck.formulas import can_bus
from harnesscheck.harness import Harness
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status

SEVERITY = Severity.CAUTION
SOURCE = can_bus.LINE_SOURCE
FOLLOWS = ("pin-map-mismatch", "broken-through-circuit")
LINES_ONLY = frozenset({"can", "rs485", "rs422"})
_STATED = Source("topology stated for the circuit", Status.STATED)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every such bus that a new unit joins."""
    good = 0
    for bus in tapped(harness):
        if bus.signal not in LINES_ONLY:
            continue
        missing = Missing(bus)
        forks = _forks(harness, bus)
        if forks:
            yield _fork(harness, bus, forks)
        elif missing.circuit("topology") == "star":
            yield _finding(
                bus,
                f"{bus.name} ({bus.signal}) is a star in the aircraft, and gets one more unit",
                bus.place,
                "a star",
                "lay the bus as one line with two ends before a unit is added",
                _STATED,
            )
        elif missing:
            yield missing.answer(f"whether {bus.name} is one line")
        else:
            good += 1
    yield from mixed(harness, LINES_ONLY)
    yield Passed(good, "buses that run as one line")


def _forks(harness: Harness, bus: Bus) -> dict[Point, int]:
    """Splices of the kit where more wires meet than a trunk with one stub has, with their number."""
    found: dict[Point, int] = {}
    for line in bus.lines:
        for point, wires in _meeting(harness, line).items():
            if wires > 3 or (wires > 2 and point not in _trunk(harness, line)):
                found[point] = wires
    return found


def _meeting(harness: Harness, line: Line) -> dict[Point, int]:
    points = dict.fromkeys(p for wire in line.copper.new for p in (wire.a, wire.b) if p.ref in harness.splices)
    return {p: sum(not wire.is_shield for wire in harness.wires_at(p)) for p in points}


def _trunk(harness: Harness, line: Line) -> set[Point]:
    own = {p for w in line.copper.wires if w.origin is Origin.AIRFRAME for p in (w.a, w.b)}
    return own | {p for through in trunks(harness, line) for wire in through.wires for p in (wire.a, wire.b)}


def _fork(harness: Harness, bus: Bus, forks: dict[Point, int]) -> Finding:
    first = harness.splices.get(next(iter(forks)).ref)
    return _finding(
        bus,
        f"{bus.name} ({bus.signal}) forks at {several(map(str, forks))}, where more than one stub meets the line",
        first.place if first else bus.place,
        several(f"{count} wires in {point}" for point, count in forks.items()),
        "give each unit its own splice on the trunk, or lead the trunk in and out at each unit",
        None,
    )


def _finding(bus: Bus, headline: str, place: Place, value: str, remedy: str, source: Source | None) -> Finding:
    return Finding(
        headline=headline,
        place=place,
        others=bus.places,
        value=value,
        limit="one line with two ends, one unit at each point",
        source=source,
        remedy=remedy,
    )
