"""A bus has too many terminators, too few, or of a wrong value.

What
    For each CAN, TIA-485 and TIA-422 bus that a new unit joins, the terminators are counted: those of the aircraft
    (terminators:) and those that a new unit has inside (terminator state: fitted). CAN and TIA-485 have two, TIA-422
    one. The value of each (terminator:) must fit the cable: 95 to 140 ohm on CAN, 80 to 144 ohm on the others.

Why it matters
    New units come with a terminator inside that is on by default. With a third the bus has 40 ohm and its drivers are
    outside their data sheet: it works on the bench and drops frames when it is cold. With one, or with a single one of
    60 ohm, edges ring.

Source
    CAN: transceiver data sheets, 2 x 120 ohm after ISO 11898-2, drivers specified into 45 to 65 (extended 70) ohm
    (confirmed); the band of 95 to 140 ohm is ISO 11898-2:2003 Table 9 as quoted (second hand). One 60 ohm is no
    substitute: engine manual on J1939 (confirmed). TIA-485: reader manual, two, at the ends (confirmed). TIA-422: user
    manual and data sheet, one at the far end, within 20 % of the cable (confirmed). Unpowered, between the conductors,
    manuals accept 56 to 64, 54 to 66 or 50 to 70 ohm on CAN: they disagree on how much cable they count in.

What to do
    Switch the terminator of the new unit off (a jumper or a strap in its plug, by its manual), or take the old one out
    where the new unit becomes the end of the trunk. Then measure: about 60 ohm between H and L, without power.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from harnesscheck.checks._signals import Bus, Missing, Unit, mixed, tapped
from harnesscheck.checks._words import many, several
from harnesscheck.finding import Answer, Finding, Passed, Severity
from harnesscheck.formulas import can_bus, rs422
from harnesscheck.formulas.loading import parallel
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = can_bus.TERMINATORS_SOURCE
FOLLOWS = ("pin-map-mismatch", "broken-through-circuit")

_BAND = Source("ISO 11898-2:2003", Status.SECOND_HAND, paragraph="Table 9, as quoted: 95 to 140 ohm")
WANTED: dict[str, tuple[int, tuple[float, float], Source, Source]] = {
    "can": (can_bus.TERMINATORS, can_bus.IMPEDANCE, can_bus.TERMINATORS_SOURCE, _BAND),
    "rs485": (rs422.TERMINATORS_485, rs422.WITHIN, rs422.TERMINATORS_485_SOURCE, rs422.TERMINATORS_485_SOURCE),
    "rs422": (rs422.TERMINATORS_422, rs422.WITHIN, rs422.TERMINATORS_422_SOURCE, rs422.TERMINATORS_422_SOURCE),
}
"""Signal class to how many, the band of each in ohms, and the sources of the two."""


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every terminated bus that a new unit joins."""
    good = 0
    for bus in tapped(harness):
        if bus.signal not in WANTED:
            continue
        missing = Missing(bus)
        old = missing.count("terminators")
        fitted = [unit for unit in bus.units if _fitted(unit, missing)]
        values = _values(bus, old or 0, fitted, missing)
        wanted = WANTED[bus.signal][0]
        unsure = any(unit.said("terminator_state") is None and not _none(unit) for unit in bus.units)
        if old is not None and (old + len(fitted) > wanted or (old + len(fitted) < wanted and not unsure)):
            yield _count(bus, old, fitted, values)
        elif odd := [value for value in values if not WANTED[bus.signal][1][0] <= value <= WANTED[bus.signal][1][1]]:
            yield _value(bus, odd, fitted)
        elif missing:
            yield missing.answer(f"the terminators of {bus.name}")
        else:
            good += 1
    yield from mixed(harness, WANTED)
    yield Passed(good, "buses with the right terminators")


def _none(unit: Unit) -> bool:
    return bool(unit.said("terminator") == math.inf and unit.said("terminator_state") != "fitted")


def _fitted(unit: Unit, missing: Missing) -> bool:
    return not _none(unit) and bool(missing.unit(unit, "terminator_state") == "fitted")


def _values(bus: Bus, old: int, fitted: list[Unit], missing: Missing) -> list[float]:
    values = [missing.circuit("terminator")] * old if old else []
    values += [missing.unit(unit, "terminator") for unit in fitted]
    return [value for value in values if value is not None]


def _count(bus: Bus, old: int, fitted: list[Unit], values: list[float]) -> Finding:
    wanted, _, source, _ = WANTED[bus.signal]
    count = old + len(fitted)
    inside = f", {many(len(fitted), 'of them', 'of them')} inside {several(u.ref for u in fitted)}" if fitted else ""
    together = f", {parallel(values):.0f} ohm together" if len(values) == count and count else ""
    more = count > wanted
    return Finding(
        headline=f"{bus.name} ({bus.signal}) has {many(count, 'terminator')}{inside}; it wants {wanted}",
        place=fitted[0].place if fitted and more else bus.place,
        others=bus.places,
        value=f"{many(count, 'terminator')}{together}{_single(bus, values)}",
        limit=f"{many(wanted, 'terminator')}" + (", 45 to 70 ohm together" if bus.signal == "can" else ""),
        source=source,
        remedy=(
            "switch the terminator inside the new unit off, or take out the old one if the trunk now ends at the unit"
            if more and fitted
            else "take out the terminators that are not at an end of the trunk"
            if more
            else "find the end of the trunk that has none and fit one there, or correct terminators:"
        ),
    )


def _single(bus: Bus, values: list[float]) -> str:
    alone = bus.signal == "can" and len(values) == 1 and can_bus.DRIVEN[0] <= values[0] <= can_bus.DRIVEN[1]
    return f" (one of {values[0]:g} ohm is no substitute for two of 120 ohm)" if alone else ""


def _value(bus: Bus, odd: list[float], fitted: list[Unit]) -> Finding:
    _, (low, high), _, source = WANTED[bus.signal]
    own = [unit for unit in fitted if unit.said("terminator") in odd]
    return Finding(
        headline=f"a terminator of {bus.name} ({bus.signal}) has {odd[0]:g} ohm, outside {low:g} to {high:g} ohm",
        place=own[0].place if own else bus.place,
        others=bus.places,
        value=f"{several(f'{value:g} ohm' for value in odd)}",
        limit=f"{low:g} to {high:g} ohm each",
        source=source,
        remedy="fit terminators of the impedance of the cable, 120 ohm as a rule",
    )
