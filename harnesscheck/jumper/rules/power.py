"""Supply: power circuits."""

from __future__ import annotations

import math

from harnesscheck.circuit import Circuit
from harnesscheck.jumper.demand import Want
from harnesscheck.jumper.rules import Merit, Site

SIGNALS = ("power",)
CHECKS = (
    "breaker-overloaded", "source-overloaded", "supply-outside-range", "excess-voltage-drop", "no-return",
    "shared-sensor-return", "double-feed", "tap-upstream-of-protector", "two-drivers", "paralleled-sources",
)  # fmt: skip
OWN = "a home run: give it a breaker of its own and lead a supply wire from there"
INSTEAD = {
    "breaker-overloaded": "move a load to another breaker",
    "source-overloaded": "shed a load in that phase of flight, or take a unit that draws less",
    "supply-outside-range": "feed it from a bus that fits, or through a converter",
    "pin-map-mismatch": "feed it from a bus that fits, or through a converter",
    "excess-voltage-drop": "make the existing wires on the way thicker or shorter",
    "tap-upstream-of-protector": "tap behind a breaker",
    "no-return": "lead a return wire to a ground stud",
}


def merit(site: Site, want: Want, circuit: Circuit) -> Merit:
    """Share of the breaker that is used with the new load on it."""
    name = site.breaker(circuit)
    breaker = site.airframe.breakers.get(name or "")
    new = want.pin.current if want.pin.current is not None else want.pin.peak
    if breaker is None or breaker.rating is None:
        what = f"the rating of {breaker.ref}" if breaker else f"the breaker of {circuit.name}"
        return Merit(1.0, f"not known: {what}")
    steady = [line for line in site.lines if line.breaker == breaker.ref and line.steady]
    before = math.fsum(line.current or 0.0 for line in steady)
    unsaid = [line.name for line in steady if line.current is None]
    total = before + (new or 0.0 if want.pin.duty != "intermittent" else 0.0)
    words = (
        f"{breaker.ref} ({breaker.rating:g} A) carries {before:.3g} A, with {new or 0.0:.3g} A more {total:.3g} A, "
        f"{total / breaker.rating:.0%} of its rating"
    )
    words += f"; not known: what hangs on {', '.join(unsaid)}" if unsaid else ""
    words += f"; not known: the current of {want.point}" if new is None else ""
    return Merit(total / breaker.rating, words)
