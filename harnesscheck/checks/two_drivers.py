"""Two units drive one line that allows one driver.

What
    On each TIA-232, TIA-422, ARINC 429 and NMEA 0183 line that a new unit joins, the drivers are counted: those that
    the airframe file states (drivers:) and the new pins with direction: out or both. More than one is a fault. CAN and
    TIA-485 let several units drive in turn and are not looked at here; analogue, audio, video, pulse, lighting and
    supply-switching lines are paralleled-sources.

Why it matters
    A TIA-232 driver is never quiet: idle it holds the line at -5 V to -15 V. Two of them, one high and one low, push
    some 40 mA through each other, the listener gets neither, and the function that worked before the retrofit is
    lost. An ARINC 429 or TIA-422 pair with two transmitters carries what neither sent.

Source
    TIA-232-F, TIA-422-B and ARINC 429 are lines with one driver (confirmed in application reports and manuals).

What to do
    Connect the receive side of the new unit only, and leave its transmit pin open or on a line of its own. Two talkers
    for one listener need a switch or a multiplexer.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._signals import Bus, Missing, mixed, tapped
from harnesscheck.checks._words import many, several
from harnesscheck.finding import Answer, Finding, Passed, Severity
from harnesscheck.formulas import rs232
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("TIA-232-F, TIA-422-B, ARINC 429", Status.CONFIRMED, paragraph="one driver on a line")
FOLLOWS = ("pin-map-mismatch", "broken-through-circuit")

ONE_TALKER = frozenset({"rs232", "rs422", "arinc429", "nmea0183"})
"""Signal classes that allow one talker on a line."""


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every line with one talker that a new unit joins."""
    good = 0
    for bus in tapped(harness):
        if bus.signal not in ONE_TALKER:
            continue
        missing = Missing(bus)
        silent = [unit for unit in bus.units if unit.talks is None]
        new = [unit for unit in bus.units if unit.talks]
        for unit in silent:
            missing.unit(unit, "direction")
        # A line that only gets listeners has as many drivers as before.
        old = missing.count("drivers") if new else bus.count("drivers") or 0
        if old is not None and old + len(new) > 1:
            yield _finding(bus, old, [str(unit) for unit in new])
        elif missing:
            yield missing.answer(f"whether {bus.name} has one driver")
        else:
            good += 1
    yield from mixed(harness, ONE_TALKER)
    yield Passed(good, "lines with one driver that a new unit joins")


def _finding(bus: Bus, old: int, new: list[str]) -> Finding:
    who = several([*new, *([f"{many(old, 'unit')} of the aircraft"] if old else [])])
    fight = rs232.fight(12, -12, 600) * 1000
    return Finding(
        headline=f"{who} {'both' if new and old + len(new) == 2 else 'all'} drive {bus.name} ({bus.signal})",
        place=bus.place,
        others=bus.places,
        value=f"{old + len(new)} drivers"
        + (
            f"; about {fight:.0f} mA between two of them (12 V against -12 V, 300 ohm each)"
            if bus.signal == "rs232"
            else ""
        ),
        limit="1 driver",
        severity=None if new else Severity.CAUTION,
        remedy="connect the receive pin of the new unit only; leave its transmit pin open or give it a line of its own"
        if new
        else "find out which unit talks before another one listens, or correct drivers:",
    )
