"""A new unit works at another rate than the line that it joins.

What
    On each TIA-232, TIA-422, TIA-485, CAN, ARINC 429 and NMEA 0183 line that a new unit joins, the rate that the
    airframe file states (rate: of the circuit) is compared with the rate to which the unit is set (rate: of its
    pin). Between two new units their rates are compared. ARINC 429 has two speeds: all that lies between 12 and
    14.5 kbit/s is the low one.

Why it matters
    A listener at the wrong rate reads garbage or nothing. A CAN unit at the wrong rate spoils every message of the
    others until it takes itself off the bus. Every wire is right, so nobody looks there.

Source
    Units on one serial line work at one rate (installation manual of an EFIS, confirmed); low and high speed cannot
    share an ARINC 429 pair (two manuals, confirmed; the band of the low speed is from memory).

What to do
    Set the unit to the rate of the line. Never change the rate of the line before every unit on it is known.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._signals import Bus, Missing, Unit, bits, mixed, tapped
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status

SEVERITY = Severity.CAUTION
SOURCE = Source("EFIS installation manual", Status.CONFIRMED, paragraph="units on one serial line work at one rate")
ARINC_SOURCE = Source("ARINC 429 tutorial and a traffic unit's manual", Status.CONFIRMED, paragraph="speeds not mixed")
FOLLOWS = ("pin-map-mismatch", "broken-through-circuit")

TIMED = frozenset({"rs232", "rs422", "rs485", "can", "arinc429", "nmea0183"})
"""Signal classes whose units have to agree on a rate beforehand."""
LOW_SPEED = (12e3, 14.5e3)
"""Bits a second of ARINC 429 at low speed. From memory."""


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every such line that a new unit joins; one finding for each line."""
    good = 0
    for bus in tapped(harness):
        if bus.signal not in TIMED or (not bus.circuits and len(bus.units) < 2):
            continue
        missing = Missing(bus)
        rates = [(unit, rate) for unit in bus.units if (rate := missing.unit(unit, "rate")) is not None]
        line = missing.circuit("rate") if bus.circuits else rates[0][1] if rates else None
        wrong = [(unit, rate) for unit, rate in rates if line is not None and not same(bus.signal, rate, line)]
        if wrong and line is not None:
            yield _finding(bus, wrong, line)
        elif missing:
            yield missing.answer(f"whether all units on {bus.name} work at one rate")
        else:
            good += 1
    yield from mixed(harness, TIMED)
    yield Passed(good, "lines whose new units work at their rate")


def same(signal: str, one: float, two: float) -> bool:
    """True when two rates are one; ARINC 429 has a band for its low speed."""
    if signal == "arinc429" and all(LOW_SPEED[0] <= rate <= LOW_SPEED[1] for rate in (one, two)):
        return True
    return abs(one - two) <= 1e-9 * two


def _finding(bus: Bus, wrong: list[tuple[Unit, float]], line: float) -> Finding:
    unit, rate = wrong[0]
    first = bus.name if bus.circuits else str(bus.units[0])
    return Finding(
        headline=f"{unit} works at {bits(rate)}, and {first} ({bus.signal}) at {bits(line)}",
        place=unit.place,
        others=bus.places,
        value=several(f"{bits(r)} at {u}" for u, r in wrong),
        limit=f"{bits(line)}, as stated for {first}",
        source=ARINC_SOURCE if bus.signal == "arinc429" else SOURCE,
        remedy="set the unit to the rate of the line, by its manual; never the line to the rate of the unit",
    )
