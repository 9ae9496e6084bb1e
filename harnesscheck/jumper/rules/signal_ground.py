"""Returns of sensors and data lines."""

from __future__ import annotations

from harnesscheck.circuit import Circuit
from harnesscheck.jumper.demand import Want
from harnesscheck.jumper.rules import Merit, Site

SIGNALS = ("signal ground",)
CHECKS = ("mixed-ground-classes", "shared-sensor-return")
OWN = "open the connector through which the signal's own ground runs, or lead a wire to it"
INSTEAD = {"mixed-ground-classes": "keep it apart from supply returns: take the signal's own ground"}


def merit(site: Site, want: Want, circuit: Circuit) -> Merit:
    """Nothing is used up."""
    return Merit()
