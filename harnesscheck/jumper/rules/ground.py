"""Supply returns."""

from __future__ import annotations

from harnesscheck.circuit import Circuit
from harnesscheck.jumper.demand import Want
from harnesscheck.jumper.rules import Merit, Site

SIGNALS = ("ground",)
CHECKS = ("mixed-ground-classes", "shared-sensor-return", "no-return", "excess-voltage-drop", "supply-outside-range")
OWN = "lead a return wire of its own to a ground stud (a home run)"
INSTEAD = {
    "mixed-ground-classes": "lead a return wire of its own to a stud for supply returns",
    "shared-sensor-return": "lead a return wire of its own to the stud, and leave the signal ground alone",
    "excess-voltage-drop": "lead a thicker return wire of its own to the stud",
}


def merit(site: Site, want: Want, circuit: Circuit) -> Merit:
    """Supply currents that come back on it already."""
    back = [c for c in site.airframe.circuits.values() if c.returns == circuit.name and c.load is not None]
    amps = sum(c.load or 0.0 for c in back)
    return Merit(amps / 1000, f"{amps:.3g} A come back on {circuit.name} already" if back else "")
