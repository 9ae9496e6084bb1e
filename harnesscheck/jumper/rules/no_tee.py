"""Lines that cannot be teed: network, radio frequency, video, ignition, thermocouples."""

from __future__ import annotations

from harnesscheck.circuit import Circuit
from harnesscheck.jumper.demand import Want
from harnesscheck.jumper.rules import Merit, Site

SIGNALS = ("ethernet", "rf", "video", "ignition", "thermocouple")
CHECKS = ("no-tee-class", "paralleled-sources", "driver-without-listener")
OWN = "a home run: lead a line to it from a port or sensor of its own"
INSTEAD: dict[str, str] = {}


def merit(site: Site, want: Want, circuit: Circuit) -> Merit:
    """Nothing is used up: it is not tapped."""
    return Merit()
