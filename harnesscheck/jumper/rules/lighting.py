"""Dimmer buses."""

from __future__ import annotations

from harnesscheck.circuit import Circuit
from harnesscheck.jumper.demand import Want
from harnesscheck.jumper.rules import Merit, Site

SIGNALS = ("lighting",)
CHECKS = (
    "signal-load-too-heavy", "paralleled-sources", "breaker-overloaded", "source-overloaded", "supply-outside-range",
    "excess-voltage-drop", "no-return", "shared-sensor-return", "double-feed", "tap-upstream-of-protector",
)  # fmt: skip
OWN = "give it a dimmer of its own"
INSTEAD = {
    "signal-load-too-heavy": "give it a dimmer of its own, or one with a higher rating",
    "paralleled-sources": "lead its output to lamps of its own",
    "breaker-overloaded": "give it a dimmer on a breaker of its own",
}


def merit(site: Site, want: Want, circuit: Circuit) -> Merit:
    """Share of the dimmer's rating that is used."""
    new = want.pin.current if want.pin.current is not None else want.pin.peak
    if circuit.rating is None or circuit.load is None or new is None:
        return Merit(1.0, "")
    total = circuit.load + new
    words = f"its dimmer ({circuit.rating:g} A) carries {circuit.load:.3g} A, with {new:.3g} A more {total:.3g} A"
    return Merit(total / circuit.rating, words)
