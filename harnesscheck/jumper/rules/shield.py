"""Shields of cables."""

from __future__ import annotations

from harnesscheck.circuit import Circuit
from harnesscheck.jumper.demand import Want
from harnesscheck.jumper.rules import Merit, Site

SIGNALS = ("shield",)
CHECKS = ("wrong-shield-ends",)
OWN = "end the shield of the branch at the jumper, as the maker of the unit says"
INSTEAD = {"wrong-shield-ends": "leave the shield open at the unit, if its manual allows it"}


def merit(site: Site, want: Want, circuit: Circuit) -> Merit:
    """Nothing is used up."""
    return Merit(0.0, f"covers {circuit.shields}" if circuit.shields else "")
