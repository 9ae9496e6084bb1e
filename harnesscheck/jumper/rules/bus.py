"""Buses on which all units talk and listen: CAN and TIA-485."""

from __future__ import annotations

from harnesscheck.circuit import Circuit
from harnesscheck.formulas import can_bus, rs422
from harnesscheck.jumper.demand import Want
from harnesscheck.jumper.rules import Merit, Site

SIGNALS = ("can", "rs485")
CHECKS = (
    "too-many-receivers", "long-bus", "wrong-terminator-count", "terminator-not-at-end", "star-topology",
    "driver-without-listener",
)  # fmt: skip
OWN = "open a connector through which the bus runs, or lead the trunk itself in and out at the unit"
INSTEAD = {
    "too-many-receivers": "part the bus with a bridge or repeater",
    "long-bus": "lower the rate of the whole bus, part it with a bridge, or open a connector nearer to the unit",
    "wrong-terminator-count": "have one terminator at each end of the trunk and those of new units off",
    "terminator-not-at-end": "switch the terminator inside the unit off (by its manual)",
    "star-topology": "lay the bus as one line before a unit is added",
    "driver-without-listener": "take the bus on which other units are",
}


def merit(site: Site, want: Want, circuit: Circuit) -> Merit:
    """Share of the units that the bus takes."""
    most = circuit.most_receivers or (can_bus.NODES if want.signal == "can" else int(rs422.UNIT_LOADS))
    if circuit.receivers is None:
        return Merit(0.5, "")
    return Merit((circuit.receivers + 1) / most, f"{circuit.receivers} units are on it, {most} may be")
