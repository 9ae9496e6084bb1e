"""A new unit brings a second pull-up to a sensor or pulse line that has one.

What
    For each analogue and pulse line that a new unit joins: the pull-up of the aircraft (pull-up:, or none) against the
    one inside the new unit (pull-up: at the pin, or none). Two are a fault. Where the values are stated the reading of
    a resistive sender (kind: resistive, source resistance:) is worked out.

Why it matters
    A gauge that feeds a resistive sender reads its voltage. A second feed changes that voltage, so both gauges are
    wrong from that day on: 20 % with a 1 kohm beside a 200 ohm. Two pull-ups to different supplies drive 12 V into an
    input made for 5 V, also while one unit is off: inputs have been lost that way.

Source
    A display maker's forum and a sensor training page (second hand): voltage sensors with three wires can often be
    shared, resistive ones with two usually not, because of the second pull-up. The figures are arithmetic.

What to do
    Switch the pull-up of the new unit off in its configuration, or give it a sensor of its own.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from harnesscheck.checks._signals import Bus, Missing, Unit, mixed, ohms, tapped
from harnesscheck.checks._words import several
from harnesscheck.circuit import Circuit
from harnesscheck.finding import Answer, Finding, Passed, Severity
from harnesscheck.formulas import loading
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("one pull-up feeds a sensor or an open collector", Status.COMMON)
FOLLOWS = ("pin-map-mismatch", "broken-through-circuit")
PULLED = frozenset({"analogue", "pulse"})


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every analogue and pulse line that a new unit joins."""
    good = 0
    for bus in tapped(harness):
        if bus.signal not in PULLED:
            continue
        missing = Missing(bus)
        pulling = [unit for unit in bus.units if missing.unit(unit, "pull_up") not in (None, math.inf)]
        # A line to which no new unit adds a pull-up has as many as before.
        old = missing.circuit("pull_up") if pulling or missing else bus.said("pull_up")
        has = bool(bus.circuits) and old is not None and not math.isinf(old)
        if has + len(pulling) > 1:
            yield _finding(bus, pulling, old if has else None)
        elif missing:
            yield missing.answer(f"whether {bus.name} gets a second pull-up")
        else:
            good += 1
    yield from mixed(harness, PULLED)
    yield Passed(good, "lines with one pull-up at the most")


def _finding(bus: Bus, pulling: list[Unit], old: float | None) -> Finding:
    said = [_words(unit.said("pull_up"), unit.said("pull_up_supply"), unit.ref) for unit in pulling]
    if old is not None:
        said.insert(0, _words(old, bus.said("pull_up_supply"), "the aircraft"))
    reads = _reads(bus.circuits[0], bus, pulling) if old is not None else ""
    return Finding(
        headline=f"{several(unit.ref for unit in pulling)} brings a second pull-up to {bus.name} ({bus.signal})"
        if old is not None
        else f"{several(unit.ref for unit in pulling)} bring two pull-ups to {bus.name} ({bus.signal})",
        place=pulling[0].place,
        others=bus.places,
        value=several(said) + reads,
        limit="one pull-up",
        remedy="switch the pull-up of the new unit off, or give the new unit a sensor of its own",
    )


def _words(value: float, volts: float | None, where: str) -> str:
    return f"{ohms(value)}{f' to {volts:g} V' if volts is not None else ''} in {where}"


def _reads(circuit: Circuit, bus: Bus, pulling: list[Unit]) -> str:
    """What the old gauge makes of the highest sender resistance, when everything for that is stated."""
    sender, old, supply = circuit.source_resistance, circuit.pull_up, circuit.pull_up_supply
    new = [(unit.said("pull_up"), unit.said("pull_up_supply")) for unit in pulling]
    if bus.signal != "analogue" or circuit.kind != "resistive" or sender is None or old is None or supply is None:
        return ""
    if any(volts is None for _, volts in new):
        return ""
    volts = loading.sender_voltage(sender, [(old, supply), *new])
    taken = loading.sender_decoded(volts, old, supply)
    if math.isinf(taken):
        return f"; the old gauge takes {ohms(sender)} for an open sender"
    return f"; the old gauge takes {ohms(sender)} for {ohms(taken)} ({(taken - sender) / sender:+.0%})"
