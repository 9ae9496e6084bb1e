"""What becomes of the terminators of a bus when a new unit joins it, in words. The checks judge; this only says."""

from __future__ import annotations

import math
from collections.abc import Sequence

from harnesscheck.checks.wrong_terminator_count import WANTED
from harnesscheck.harness import Harness
from harnesscheck.jumper.choice import Chosen


def terminators(airframe: Harness, boxes: Sequence[Harness], chosen: Chosen) -> tuple[str, ...]:
    """One sentence for each terminated bus and unit."""
    pins = {pin.point: pin for box in boxes for pin in box.pins()}
    said: dict[tuple[str, str], str] = {}
    for tap in chosen.taps:
        circuit, pin = airframe.circuits.get(tap.circuit), pins[tap.pin]
        if circuit is None or circuit.signal not in WANTED:
            continue
        lines = [c for c in airframe.circuits.values() if c is circuit or (c.pair and c.pair == circuit.pair)]
        mates = [p for p in pins.values() if p.point.ref == tap.pin.ref and p.signal == pin.signal]
        bus = circuit.pair or circuit.name
        there = next((line.terminators for line in lines if line.terminators is not None), None)
        state = next((p.terminator_state for p in mates if p.terminator_state), None)
        value = next((p.terminator for p in mates if p.terminator is not None), None)
        none = state == "none" or (state is None and value == math.inf)
        wanted = WANTED[circuit.signal][0]
        old = "how many the aircraft has is not known" if there is None else f"the aircraft has {there} of {wanted}"
        if none:
            new = f"{tap.pin.ref} has none inside"
        elif state == "off":
            new = f"the one inside {tap.pin.ref} stays off"
        elif state == "fitted":
            new = f"the one inside {tap.pin.ref} is fitted and counts"
        else:
            new = f"not known: whether {tap.pin.ref} has one inside"
        said.setdefault((bus, tap.pin.ref), f"terminators of {bus}: {old}; {new}")
    return tuple(said.values())
