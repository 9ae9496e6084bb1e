"""Supply returns."""

from __future__ import annotations

import math

from harnesscheck.circuit import Circuit
from harnesscheck.jumper.demand import Want
from harnesscheck.jumper.rules import Merit, Site

SIGNALS = ("ground",)
CHECKS = (
    "mixed-ground-classes",
    "shared-sensor-return",
    "no-return",
    "excess-voltage-drop",
    "supply-outside-range",
    "long-ground-path",
)
OWN = "a home run: lead a return wire of its own to a ground stud"
INSTEAD = {
    "mixed-ground-classes": "keep it apart from signal grounds",
    "shared-sensor-return": "leave the signal ground alone",
    "long-ground-path": "remake the bond of the stud and measure it again",
    "excess-voltage-drop": "make the existing return thicker or shorter",
}


def merit(site: Site, want: Want, circuit: Circuit) -> Merit:
    """Supply currents that come back on it already."""
    back = [c for c in site.airframe.circuits.values() if c.returns == circuit.name and c.load is not None]
    amps = math.fsum(c.load or 0.0 for c in back)
    return Merit(amps / 1000, f"{amps:.3g} A come back on {circuit.name} already" if back else "")
