"""The insulation of a new wire is rated below the voltage of its circuit.

What
    The voltage rating of every new wire and cable core is compared with the highest voltage stated for its copper: the
    supply of the circuit, or of the bus behind its breaker.

Why it matters
    Nothing happens on the bench. In service the insulation breaks down where it is chafed, damp or at altitude.

Source
    The rating of the wire specification from the parts drawer, with the source given there, against the airframe file.

What to do
    Take a wire of a higher voltage rating, or correct the supply in the airframe file.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._supply import FED, Copper, Rated, Unrated, coppers, lowest, rating
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status
from harnesscheck.wire import Wire

SEVERITY = Severity.STOP
SOURCE = Source("voltage rating of the wire, against the voltage stated for the circuit", Status.STATED)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every new wire on a circuit with a voltage; one finding for each circuit."""
    good = soft = 0
    for here in coppers(harness):
        if not here.new:
            continue
        volts = _volts(here)
        if volts is None:
            if any(circuit.signal in FED for circuit in here.circuits.values()):
                first = next(c for c in here.circuits.values() if c.signal in FED)
                yield NotChecked(place=first.place, missing="its voltage is not stated", remedy="give supply:")
            continue
        low: list[tuple[Rated, Wire]] = []
        for wire in here.new:
            found = rating(harness, wire, "volts", "voltage rating")
            if isinstance(found, Unrated):
                yield NotChecked(place=wire.place, missing=found.missing, remedy=found.remedy)
            elif found.value < volts:
                low.append((found, wire))
            else:
                good += found.source.firm
                soft += not found.source.firm
        if low:
            words, value, source = lowest((found for found, _ in low), "V")
            yield Finding(
                headline=f"{several((w.id for _, w in low), 4)}: {words}, but {here.called()} has {volts:g} V",
                place=low[0][1].place,
                others=(*(w.place for _, w in low[1:]), *(c.place for c in here.circuits.values())),
                value=f"rated {value:g} V",
                limit=f"{volts:g} V or more",
                source=source,
                remedy="take a wire with a higher voltage rating",
            )
    yield Passed(good, "new wires on a circuit with a voltage")
    yield Passed(soft, "new wires on a circuit with a voltage, by values that nobody has confirmed")


def _volts(here: Copper) -> float | None:
    known = [abs(c.supply) for c in here.circuits.values() if c.supply is not None] + [abs(v) for v in here.volts]
    return max(known, default=None)
