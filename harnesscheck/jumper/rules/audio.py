"""Audio lines."""

from __future__ import annotations

from harnesscheck.circuit import Circuit
from harnesscheck.jumper.demand import Want
from harnesscheck.jumper.rules import Merit, Site

SIGNALS = ("audio",)
CHECKS = ("no-tee-class", "paralleled-sources", "too-many-receivers", "driver-without-listener")
OWN = "connect it at an input of the audio panel"
INSTEAD = {
    "no-tee-class": "connect it at an input of the audio panel, or take a unit that is made to be paralleled",
    "paralleled-sources": "lead it to an input of the audio panel, or join the sources through equal resistors",
    "driver-without-listener": "take a line that is driven",
}


def merit(site: Site, want: Want, circuit: Circuit) -> Merit:
    """Listeners on it already."""
    count = circuit.receivers
    return Merit((count or 0) / 100, f"{count} listen to it already" if count is not None else "")
