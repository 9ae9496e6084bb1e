"""More receivers hang on a line than its driver feeds.

What
    For each TIA-232, TIA-422, TIA-485, ARINC 429, NMEA 0183 and CAN signal that a new unit joins, and any other whose
    driver's data sheet is stated (most receivers:): the receivers of the aircraft (receivers:) and the new units that
    listen. The data sheet's own number counts first. TIA-485 is counted in unit loads; where none is stated one
    receiver is one unit load, the most that the standard allows it.

Why it matters
    Each receiver takes a share of the driver's current. Beyond the limit the level sinks, and the first to fail is the
    receiver that sits furthest away: often the old one.

Source
    TIA-422: 10 (confirmed). TIA-485: 32 unit loads (confirmed). ARINC 429: 20 by a training card (second hand), but
    manuals of units guarantee five (confirmed): without most receivers: the five are used. TIA-232: 1 by the standard;
    one navigator manual allows three (confirmed), which is what the trade does: three are used here, and
    signal-load-too-heavy looks at the level. CAN: 30 nodes (second hand). NMEA 0183: four by one maker (confirmed),
    used unless currents are stated.

What to do
    Take the line from another output, add a buffer or repeater, or state most receivers: from the driver's data sheet.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._signals import Bus, Missing, mixed, tapped
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, Passed, Severity
from harnesscheck.formulas import arinc429, can_bus, nmea0183, rs232, rs422
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = rs422.RECEIVERS_SOURCE
FOLLOWS = ("pin-map-mismatch", "broken-through-circuit")

_STATED = Source("data sheet of the driver, most receivers stated in the job", Status.STATED)
LIMITS: dict[str, tuple[int, str, Source, Severity | None]] = {
    "rs422": (rs422.RECEIVERS, "10 receivers (TIA-422)", rs422.RECEIVERS_SOURCE, None),
    "rs232": (
        rs232.GRANTED, "3 receivers, as one navigator manual allows; TIA-232 itself has 1, the trade tees listeners",
        rs232.GRANTED_SOURCE, Severity.CAUTION,
    ),
    "arinc429": (
        arinc429.GUARANTEED, "5 receivers, which units guarantee; 20 by ARINC 429, if the data sheet says so "
        "(give most receivers:)", arinc429.GUARANTEED_SOURCE, Severity.CAUTION,
    ),
    "can": (can_bus.NODES, "30 units on the bus", can_bus.NODES_SOURCE, Severity.CAUTION),
    "nmea0183": (
        nmea0183.LISTENERS, "4 listeners, as one maker grants; more by current (give driver current:)",
        nmea0183.SOURCE, Severity.CAUTION,
    ),
}  # fmt: skip


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every signal with such a limit that a new unit joins."""
    good = 0
    for bus in tapped(harness):
        stated = bus.said("most_receivers")
        by_current = bus.signal == "nmea0183" and bus.said("driver_current") is not None and stated is None
        if by_current or (stated is None and bus.signal not in LIMITS and bus.signal != "rs485"):
            continue
        missing = Missing(bus)
        new = sum(unit.listens for unit in bus.units)
        if stated is None and bus.signal == "rs485":
            answer = _unit_loads(bus, missing)
        elif stated is None:
            answer = _count(bus, missing, new, *LIMITS[bus.signal])
        else:
            answer = _count(bus, missing, new, stated, f"{stated} receivers, by the driver's data sheet", _STATED, None)
        if answer is not None:
            yield answer
        elif missing:
            yield missing.answer(f"how many receivers {bus.name} has")
        else:
            good += 1
    yield from mixed(harness, (*LIMITS, "rs485"))
    yield Passed(good, "lines with no more receivers than their driver feeds")


def _count(
    bus: Bus, missing: Missing, new: int, most: int, words: str, source: Source, severity: Severity | None
) -> Finding | None:
    old = missing.count("receivers") if new <= most else 0
    if (old or 0) + new <= most:
        return None
    total = (old or 0) + new
    what = "units" if bus.signal == "can" else "receivers"
    return _finding(bus, f"{total} {what}", f"{most}", f"{total} {what}, {new} of them new", words, source, severity)


def _unit_loads(bus: Bus, missing: Missing) -> Finding | None:
    new = [(1, unit.said("unit_load") or 1.0) for unit in bus.units]
    old = missing.count("receivers")
    if old is None:
        return None
    loads = rs422.unit_loads([(old, bus.said("unit_load") or 1.0), *new])
    if loads <= rs422.UNIT_LOADS:
        return None
    assumed = [str(unit.pins[0].point) for unit in bus.units if unit.said("unit_load") is None]
    assumed += [bus.name] if old and bus.said("unit_load") is None else []
    if assumed:
        least = rs422.unit_loads(
            [(old, bus.said("unit_load") or 0.0), *((1, unit.said("unit_load") or 0.0) for unit in bus.units)]
        )
        if least <= rs422.UNIT_LOADS:  # too many only if each takes as much as the standard allows
            for where in assumed:
                missing.note("unit load", where)
            return None
    return _finding(
        bus, f"{loads:g} unit loads", f"{rs422.UNIT_LOADS:g}", f"{loads:g} unit loads",
        "32 unit loads (TIA-485)", rs422.UNIT_LOADS_SOURCE, None,
    )  # fmt: skip


def _finding(
    bus: Bus, count: str, most: str, value: str, words: str, source: Source, severity: Severity | None
) -> Finding:
    return Finding(
        headline=f"{bus.name} ({bus.signal}) has {count} with {several(u.ref for u in bus.units)}, more than {most}",
        place=bus.place,
        others=bus.places,
        value=value,
        limit=words,
        source=source,
        severity=severity,
        remedy="take the line from another output, add a buffer, or state most receivers: from the driver's data sheet",
    )
