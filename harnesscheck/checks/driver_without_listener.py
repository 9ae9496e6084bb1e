"""A line has a talker and nobody who listens, or listeners and nobody who talks.

What
    For each data, audio, video and pulse line that a new unit joins: a unit that drives needs another one that
    listens, and a listener needs a driver. The airframe file says how many there are (drivers:, receivers:), the new
    pins say their direction. On CAN, TIA-485 and Ethernet receivers: counts the units on the bus.

Why it matters
    Nothing breaks, but a wire was laid for nothing: most often transmit was led to transmit, or the tap sits on the
    line that runs the other way.

Source
    Common practice: a line has one end that talks and one that listens.

What to do
    Compare TX and RX of both units by their manuals (labels are seen from either side), or leave the wire out.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._signals import Bus, Missing, mixed, tapped
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status

SEVERITY = Severity.NOTE
SOURCE = Source("a line has a talker and a listener", Status.COMMON)
FOLLOWS = ("pin-map-mismatch", "broken-through-circuit", "two-drivers")

LOOKED_AT = frozenset(
    {"can", "rs232", "rs422", "rs485", "arinc429", "nmea0183", "ethernet", "audio", "video", "pulse"}
)  # fmt: skip
ALL_DO_BOTH = frozenset({"can", "rs485", "ethernet"})


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every such line that a new unit joins."""
    good = 0
    for bus in tapped(harness):
        if bus.signal not in LOOKED_AT:
            continue
        missing = Missing(bus)
        for unit in bus.units:
            if unit.talks is None:
                missing.unit(unit, "direction")
        found = _talkers(bus, missing) or _listeners(bus, missing)
        if found is not None:
            yield found
        elif missing:
            yield missing.answer(f"whether {bus.name} has a talker and a listener")
        else:
            good += 1
    yield from mixed(harness, LOOKED_AT)
    yield Passed(good, "lines with a talker and a listener")


def _talkers(bus: Bus, missing: Missing) -> Finding | None:
    talkers = [unit for unit in bus.units if unit.talks]
    lonely = [unit for unit in talkers if not any(other.listens for other in bus.units if other is not unit)]
    if not lonely or missing.count("receivers") != 0:
        return None
    return _finding(
        bus, f"{several(map(str, lonely))} talks on {bus.name} ({bus.signal}), and nobody listens", "no listener"
    )


def _listeners(bus: Bus, missing: Missing) -> Finding | None:
    if bus.signal in ALL_DO_BOTH or any(unit.talks or unit.talks is None for unit in bus.units):
        return None
    if missing.count("drivers") != 0:
        return None
    units = several(map(str, bus.units))
    return _finding(bus, f"{units} listens on {bus.name} ({bus.signal}), and nobody talks", "no talker")


def _finding(bus: Bus, headline: str, value: str) -> Finding:
    return Finding(
        headline=headline,
        place=bus.place,
        others=bus.places,
        value=value,
        limit="a talker and a listener",
        remedy="compare TX and RX of both units by their manuals, or leave the wire out",
    )
