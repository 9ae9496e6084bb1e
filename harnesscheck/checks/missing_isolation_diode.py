"""A new unit shares a switch line without a diode, and holds it when it is off.

What
    For each discrete line that a new unit joins: the pin must be isolated by a diode inside (isolated: yes). Where it
    is not, and pull-up and supply of the line (pull-up:, pull-up supply: or supply:) and what the pin offers to ground
    (input resistance:) are stated, the level of the open line with the new unit off is worked out: from 11 V up the
    line still counts as open, and the diode is not needed for that.

Why it matters
    A unit without supply often holds its inputs near ground. The old unit then sees a switch that is closed: a wrong
    altitude code, a gear that seems down. It is noticed on the day that somebody pulls the breaker of the new unit.

Source
    GPS navigator and transponder installation manuals: one diode for each unit that has none inside, anode at the
    unit, cathode at the line (confirmed); active below 1.9 V, inactive from 11 V: navigator maintenance manual
    (confirmed). Other units have other thresholds: theirs decide. Silicon takes 0.7 V of the low level (1.9 V allow
    it), Schottky less.

What to do
    Fit a diode in the line of the new unit (anode to the unit for open/ground lines, cathode to the unit for
    open/supply lines), or take a unit with isolated inputs; then state isolated: yes with the drawing.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._signals import Bus, Missing, Unit, mixed, tapped
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, Passed, Severity
from harnesscheck.formulas import discrete_line as line
from harnesscheck.formulas.loading import parallel
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status

SEVERITY = Severity.CAUTION
SOURCE = line.DIODE_SOURCE
FOLLOWS = ("pin-map-mismatch", "broken-through-circuit")
_LEVEL = Source(
    f"{line.THRESHOLDS_SOURCE.document}; {line.DIODE_SOURCE.document}",
    Status.CONFIRMED,
    paragraph="inactive from 11 V; one diode for each unit without an internal one",
)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every discrete line that a new unit joins."""
    good = 0
    for bus in tapped(harness):
        if bus.signal != "discrete" or not bus.circuits:
            continue
        missing = Missing(bus)
        bare = [unit for unit in bus.units if missing.unit(unit, "isolated") is False]
        volts = _open_level(bus, bare) if bare else None
        if bare and (volts is None or volts < line.INACTIVE_FROM):
            yield _finding(bus, bare, volts)
        elif missing:
            yield missing.answer(f"whether {bus.name} is held by a unit that is off")
        else:
            good += 1
    yield from mixed(harness, {"discrete"})
    yield Passed(good, "switch lines that no new unit holds")


def _open_level(bus: Bus, bare: list[Unit]) -> float | None:
    """Volts of the open line with every new unit without a diode off; None when something for it is not stated."""
    pull_up, volts = bus.said("pull_up"), bus.said("pull_up_supply") or bus.said("supply")
    clamps = [unit.said("input_resistance") for unit in bare]
    if bus.said("kind") == "supply" or pull_up is None or volts is None or None in clamps:
        return None
    return line.open_line(volts, pull_up, parallel(clamps)) if pull_up != float("inf") else None


def _finding(bus: Bus, bare: list[Unit], volts: float | None) -> Finding:
    names = several(unit.ref for unit in bare)
    toward = "cathode" if bus.said("kind") == "supply" else "anode"
    level = f"; open, the line stands at {volts:.2f} V while {names} is off" if volts is not None else ""
    return Finding(
        headline=f"{names} shares {bus.name} (discrete) without an isolation diode",
        place=bare[0].place,
        others=bus.places,
        value=f"isolated: no at {several(str(p.point) for unit in bare for p in unit.pins)}{level}",
        limit="a diode for each unit that can be off"
        + (f"; inactive from {line.INACTIVE_FROM:g} V (other units have other thresholds)" if level else ""),
        source=_LEVEL if level else None,
        remedy=f"fit a diode in the line of the new unit, {toward} to the unit, or take a unit with isolated inputs",
    )
