"""Sensor, pulse and switch lines."""

from __future__ import annotations

import math

from harnesscheck.circuit import Circuit
from harnesscheck.formulas import loading
from harnesscheck.jumper.demand import Want
from harnesscheck.jumper.rules import Merit, Site

SIGNALS = ("analogue", "pulse", "discrete")
CHECKS = (
    "second-pull-up", "signal-load-too-heavy", "too-many-receivers", "paralleled-sources", "missing-isolation-diode",
    "driver-without-listener",
)  # fmt: skip
OWN = "give it a sensor or switch of its own, or the reading over a data line"
INSTEAD = {
    "second-pull-up": "switch the pull-up of the unit off, or give it a sensor of its own",
    "signal-load-too-heavy": "take a buffer with a high input resistance, or give it a sensor of its own",
    "paralleled-sources": "lead the output to an input of its own",
    "missing-isolation-diode": "fit an isolation diode in its line, or take a unit with isolated inputs",
    "driver-without-listener": "take a line that is driven: compare the directions by both manuals",
    "too-many-receivers": "take a buffer, or another output of the sensor",
}


def merit(site: Site, want: Want, circuit: Circuit) -> Merit:
    """Share by which the reading of an analogue line shifts."""
    source, load = circuit.source_resistance, want.pin.input_resistance
    if want.signal != "analogue" or source is None or load is None or want.pin.direction == "out":
        return Merit()
    pull = want.pin.pull_up if want.pin.pull_up is not None else math.inf
    error = loading.loading_error(source, loading.parallel([load, pull]))
    return Merit(error, f"the reading shifts by {error:.3%} at most")
