"""The new unit loads a line more than its source, driver, switch or dimmer can take.

What
    For each signal that a new unit listens to. TIA-232: the receivers in parallel against 3 kohm. Analogue: the
    input (with its pull-up, if any) against the resistance of the sensor: the reading may change by 0.5 %. NMEA 0183:
    the currents of the listeners against that of the talker. Lighting and switched supply lines (kind: supply): what
    hangs on it (load:) and the new currents against the rating of the dimmer or switch (rating:).

Why it matters
    The old unit shows it first: an oil pressure that is a little low, a port that drops characters when it is cold, a
    dimmer that stops dimming, a switch contact that burns.

Source
    TIA-232-F: 5 V into 3 kohm or more, receivers 3 to 7 kohm, threshold 3 V (confirmed). Two receivers of 5 kohm
    break the rule and still have 4.8 V: a caution, for the trade does so; below 4 V (3 V and 1 V of margin) a stop.
    Analogue: half a per cent is common practice, the accuracy of the gauge decides. NMEA 0183 and lighting: manuals
    and a builder's log (confirmed): a lamp labelled 65 mA drew 125 mA, so measure.

What to do
    Take a unit with a higher input resistance, a buffer, another output, or state a limit for this job with the
    reason.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from harnesscheck.checks._limits import Limit, limit
from harnesscheck.checks._signals import Bus, Missing, Unit, mixed, ohms, tapped
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, Passed, Severity
from harnesscheck.formulas import current_sum, loading, nmea0183, rs232
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status
from harnesscheck.units import UnitError

SEVERITY = Severity.CAUTION
SOURCE = rs232.SOURCE
FOLLOWS = ("pin-map-mismatch", "broken-through-circuit")
MARGIN = 1.0
"""Volts above the threshold of a TIA-232 receiver below which its level is no longer let pass. Common practice."""


def _percent(text: str) -> float:
    number, mark, rest = text.partition(" %")
    if not mark or rest or not number.isascii() or not number.replace(".", "", 1).isdecimal():
        raise UnitError("write a share, like 0.5 %")
    return float(number) / 100


LIMIT = Limit(loading.LOADING, "0.5 %", loading.LOADING_SOURCE, _percent)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every such signal that a new unit listens to."""
    most = limit(harness, "signal-load-too-heavy", LIMIT)
    good = 0
    for bus in tapped(harness):
        judge = _judge(bus, most)
        listeners = [unit for unit in bus.units if unit.listens]
        if judge is None or not listeners or not bus.circuits:
            continue
        missing = Missing(bus)
        found = judge(bus, listeners, missing)
        if found is not None:
            yield found
        elif missing:
            yield missing.answer(f"whether {bus.name} is loaded too much")
        else:
            good += 1
    yield from mixed(harness, ("analogue", "nmea0183", "lighting", "discrete", "rs232"))
    yield Passed(good, "signals that the new units do not load too much")


def _judge(bus: Bus, most: Limit) -> Callable[[Bus, list[Unit], Missing], Finding | None] | None:
    if bus.signal == "analogue":
        return lambda bus, units, missing: _analogue(bus, units, missing, most)
    if bus.signal == "nmea0183" and (bus.said("driver_current") is not None or bus.said("most_receivers") is None):
        return _talker
    if bus.signal == "lighting" or (bus.signal == "discrete" and bus.said("kind") == "supply"):
        return _switched
    return _rs232 if bus.signal == "rs232" else None


def _rs232(bus: Bus, units: list[Unit], missing: Missing) -> Finding | None:
    old = missing.count("receivers")
    each = missing.circuit("input_resistance") if old else None
    new = [missing.unit(unit, "input_resistance") for unit in units]
    if missing or old is None:
        return None
    receivers = [*([each] * old if each else []), *new]
    load = loading.parallel(receivers)
    if load >= rs232.LEAST_LOAD:
        return None
    volts, source = bus.said("supply"), bus.said("source_resistance")
    level = rs232.level(volts, source, receivers) if volts is not None and source is not None else None
    weak = level is not None and level < rs232.THRESHOLD + MARGIN
    said = ohms(load) + (f", {level:.2f} V at the receivers" if level is not None else "")
    return _finding(
        bus, units, f"{bus.name} (rs232) is loaded with {said}, below 3 kohm", said,
        "3 kohm or more (TIA-232); 3 V is the threshold, and listeners are teed in the trade: a caution from 4 V up",
        SOURCE, Severity.STOP if weak else None,
    )  # fmt: skip


def _analogue(bus: Bus, units: list[Unit], missing: Missing, most: Limit) -> Finding | None:
    source = missing.circuit("source_resistance")
    inputs = [missing.unit(unit, "input_resistance") for unit in units]
    pulls = [pull for unit in units if (pull := unit.said("pull_up")) is not None]
    # With a pull-up of the aircraft beside the new one second-pull-up has said it all.
    both = any(not math.isinf(pull) for pull in pulls) and bus.said("pull_up") not in (None, math.inf)
    if missing or source is None or both:
        return None
    load = loading.parallel([*inputs, *pulls])
    error = loading.loading_error(source, load)
    if error <= most.value + 1e-12:
        return None
    least = loading.least_load(source, most.value)
    who = several(unit.ref for unit in units)
    return _finding(
        bus, units, f"the reading of {bus.name} (analogue) shifts by up to {error:.2%} with {who} on it",
        f"{ohms(source)} into {ohms(load)}: {error:.2%}",
        f"{most.text}: an input of {ohms(least)} or more", most.source, None,
    )  # fmt: skip


def _talker(bus: Bus, units: list[Unit], missing: Missing) -> Finding | None:
    most = missing.circuit("driver_current")
    old = missing.count("receivers")
    new = [missing.unit(unit, "current") for unit in units]
    if missing or most is None or old is None:
        return None
    each = bus.said("load")  # of all listeners of the aircraft together
    before = each if each is not None else old * nmea0183.LISTENER
    total = before + math.fsum(new)
    if total <= most + 1e-12:
        return None
    words = "" if each is not None else f" ({old} old at {nmea0183.LISTENER * 1000:g} mA, from memory)"
    return _finding(
        bus, units, f"the listeners of {bus.name} (nmea0183) take {total * 1000:.3g} mA, the talker gives "
        f"{most * 1000:.3g} mA", f"{total * 1000:.3g} mA{words}", f"{most * 1000:.3g} mA", nmea0183.SOURCE, None,
    )  # fmt: skip


def _switched(bus: Bus, units: list[Unit], missing: Missing) -> Finding | None:
    most, before = missing.circuit("rating"), missing.circuit("load")
    new = [missing.unit(unit, "current") for unit in units]
    if missing or most is None:
        return None
    over = current_sum.excess(most, [before, *new])
    if over <= 1e-12:
        return None
    total = over + most
    rated = Source("rating stated for the circuit", Status.STATED)
    return _finding(
        bus, units, f"{bus.name} ({bus.signal}) carries {total:.3g} A, its "
        f"{'dimmer' if bus.signal == 'lighting' else 'switch'} is rated {most:.3g} A",
        f"{total:.3g} A, {over * 1000:.0f} mA too much", f"{most:.3g} A; measure lamps, labels are often wrong",
        rated, Severity.STOP,
    )  # fmt: skip


def _finding(
    bus: Bus, units: list[Unit], headline: str, value: str, words: str, source: Source, severity: Severity | None
) -> Finding:
    return Finding(
        headline=headline,
        place=units[0].place,
        others=bus.places,
        value=value,
        limit=words,
        source=source,
        severity=severity,
        remedy="take a unit that loads the line less, a buffer, or another output of the source",
    )
