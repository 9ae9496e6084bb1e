"""The bus, with the jumper in it, is longer than its rate allows.

What
    For each CAN bus and each TIA-232 line that runs through the kit: the length in the aircraft (bus length:) and the
    way through the jumper together. CAN: by rate. TIA-232: 25 m, by capacitance. TIA-485 and TIA-422 with
    terminators: 0: the reflections must die within half a bit. Length of a terminated TIA-485, TIA-422 or ARINC 429
    line is not looked at: no table for it has been confirmed.

Why it matters
    On CAN every unit must answer within the bit it hears. A trunk that was at its limit before does not forgive the
    extra metre, and the errors come with load and temperature.

Source
    CAN: manuals of two motion controllers, 25 m at 1 Mbit/s, 100 m at 500 kbit/s (confirmed); ISO 11898-2 as quoted in
    a data sheet has 40 m at 1 Mbit/s, isolated nodes elsewhere 20 m: the difference is the delay of the transceivers,
    of which nothing is known here, so the table in the middle is used, and up to 40 m it is a caution. J1939: 40 m
    (engine manual, confirmed). TIA-232: 2500 pF (confirmed), about 25 m (second hand). Settling: applications handbook
    (confirmed).

What to do
    Lay the jumper along the shortest way, lower the rate of the whole bus, or part it with a bridge.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from harnesscheck.checks._signals import Bus, Missing, bits, buses, mixed, trunks
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.formulas import can_bus, rs232, rs422
from harnesscheck.harness import Harness
from harnesscheck.source import Source

SEVERITY = Severity.STOP
SOURCE = can_bus.LENGTHS_SOURCE
FOLLOWS = ("pin-map-mismatch", "broken-through-circuit")
VELOCITY = 0.66
"""Of a cable, as a share of the speed of light: the slower one of those the handbook works with."""


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every such bus that runs through the kit: untapped ones only where something is stated about them."""
    good = 0
    for bus in buses(harness):
        if not bus.circuits or not (bus.units or bus.said("bus_length") is not None):
            continue
        missing = Missing(bus)
        rate = bus.said("rate") if bus.signal == "can" and bus.said("kind") != "J1939" else None
        if rate is not None and can_bus.longest(rate) is None:
            yield NotChecked(
                place=bus.place,
                missing=f"whether {bus.name} is too long: no table of lengths reaches {bits(rate)}",
                remedy="ask the maker of the units; 25 m is for 1 Mbit/s",
            )
            continue
        limits = _limits(bus, missing)
        if not limits and not missing:
            continue
        old = missing.circuit("bus_length")
        added = 0.0
        for line in bus.lines:
            ways = trunks(harness, line)
            for wire in (wire for through in ways for wire in through.unknown):
                missing.note("length", wire)
            added = max(added, math.fsum(through.length for through in ways))
        total = (old or 0.0) + added
        if limits and total > limits[0] + 1e-9:
            yield _finding(bus, total, added, *limits)
        elif missing:
            yield missing.answer(f"whether {bus.name} is too long")
        else:
            good += 1
    yield from mixed(harness, {"can", "rs232"})
    yield Passed(good, "buses within their length")


def _limits(bus: Bus, missing: Missing) -> tuple[float, str, Source] | None:
    """Longest bus in metres, in words, with its source; None when there is no limit for it, or it is not known."""
    if bus.signal == "can":
        if bus.said("kind") == "J1939":
            return can_bus.J1939_LENGTH, "40 m (J1939)", can_bus.J1939_SOURCE
        rate = missing.circuit("rate")
        most = can_bus.longest(rate) if rate is not None else None
        if most is None:
            return None
        words = f"{most:g} m at {bits(rate)}"
        if most == min(can_bus.LENGTHS.values()):
            words += "; 40 m by ISO 11898-2, 20 m with isolated nodes: nothing is known of the delays, so 25 m is used"
        words += f"; an EFIS manual allows {can_bus.EFIS_LENGTH:g} m in all, whatever the rate"
        return most, words, can_bus.LENGTHS_SOURCE
    if bus.signal == "rs232":
        words = "25.4 m: 2500 pF at 30 pF/ft (from memory); low-capacitance cable goes further"
        return rs232.LENGTH, words, rs232.LENGTH_SOURCE
    if bus.signal in ("rs422", "rs485") and bus.said("terminators") == 0:
        rate = missing.circuit("rate")
        if rate is None:
            return None
        most = rs422.longest_without_terminator(rate, VELOCITY)
        words = f"{most:.3g} m without terminator at {bits(rate)} (three round trips in half a bit)"
        return most, words, rs422.SETTLE_SOURCE
    return None


def _finding(bus: Bus, total: float, added: float, most: float, words: str, source: Source) -> Finding:
    by_iso = most == min(can_bus.LENGTHS.values()) and total <= can_bus.ISO_LENGTH
    return Finding(
        headline=f"{bus.name} ({bus.signal}) is {total:.4g} m long with the jumper, over {most:.3g} m",
        place=bus.place,
        others=bus.places,
        value=f"{total:.4g} m, of which {added:.3g} m in the jumper",
        limit=words,
        source=source,
        severity=Severity.CAUTION if by_iso else None,
        remedy="shorten the way of the jumper, lower the rate of the whole bus, or part it with a bridge or repeater",
    )
