"""Lines with one talker: TIA-232, TIA-422, ARINC 429, NMEA 0183."""

from __future__ import annotations

from harnesscheck.checks.too_many_receivers import LIMITS
from harnesscheck.circuit import Circuit
from harnesscheck.jumper.demand import Want
from harnesscheck.jumper.rules import Merit, Site

SIGNALS = ("rs232", "rs422", "arinc429", "nmea0183")
CHECKS = (
    "two-drivers", "too-many-receivers", "signal-load-too-heavy", "driver-without-listener", "long-bus",
    "wrong-terminator-count", "terminator-not-at-end", "star-topology",
)  # fmt: skip
OWN = "open a connector through which such a line runs, or lead a line to it from a port of its own (a home run)"
INSTEAD = {
    "two-drivers": "connect the receive pin only and leave the transmit pin open, or give it a port of its own",
    "too-many-receivers": "take a buffer or splitter, or another output of the talker",
    "signal-load-too-heavy": "take a buffer, a unit with a higher input resistance, or another output of the talker",
    "driver-without-listener": "take the line that runs the other way: compare TX and RX by both manuals",
    "wrong-terminator-count": "switch the terminator inside the unit off (by its manual)",
    "terminator-not-at-end": "switch the terminator inside the unit off (by its manual)",
    "long-bus": "part the line with a repeater, or open a connector nearer to the talker",
}


def merit(site: Site, want: Want, circuit: Circuit) -> Merit:
    """Share of the receivers that the driver feeds."""
    most = circuit.most_receivers or LIMITS[want.signal][0]
    if circuit.receivers is None:
        return Merit(0.5, "")
    count = circuit.receivers + (want.pin.direction != "out")
    return Merit(count / most, f"{circuit.receivers} listen to it, {most} may")
