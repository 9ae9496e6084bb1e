"""The sums of a bundle are made once for all its wires: the same answer as adding up wire by wire for each."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping
from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck.checks._ampacity import Carries, _Air, _air, carries
from harnesscheck.connector import Origin
from harnesscheck.formulas import ampacity
from harnesscheck.harness import Harness
from harnesscheck.wire import Wire

HARNESSES = Path(__file__).parent.parent.parent / "harnesses"


def added_up(harness: Harness, wire: Wire, loads: Mapping[str, float], unsure: set[str]) -> tuple[float, float]:
    """``best`` and ``worst`` of one wire, each wire beside it looked at anew."""
    own = _air(harness, wire)
    assert isinstance(own, _Air)
    every = [other for other in harness.wires.values() if other is not wire and not other.is_shield]
    tied = [other for other in every if wire.bundle is not None and other.bundle == wire.bundle]
    perhaps = [
        other
        for other in every
        if other.origin is Origin.JUMPER and other not in tied and (wire.bundle is None or other.bundle is None)
    ]

    def factor(beside: list[Wire], doubtful: set[str]) -> float:
        airs = [own, *(_air(harness, other) for other in beside)]
        capacity = math.fsum(air.alone for air in airs if isinstance(air, _Air))
        amps = [loads.get(wire.id, 0.0)]
        amps += [math.inf if other.id in doubtful else loads.get(other.id, 0.0) for other in beside]
        count, total = len(airs), math.fsum(amps)
        share = next((s for s in ampacity.SHARES if total <= s * capacity * ampacity.bundle_factor(count, s)), 1.0)
        return ampacity.bundle_factor(count, share)

    best = factor(tied, set())
    worst = min(best, factor(tied, unsure), factor([*tied, *perhaps], unsure))
    return own.alone * best, own.alone * worst


@pytest.mark.parametrize("job", ["cabin-fan", "ice-probe"])
def test_the_sums_made_once_are_those_made_for_each_wire(job: str) -> None:
    dice = random.Random(job)
    harness = hc.load(HARNESSES / job / "jumper.yaml").subject
    wires = [wire for wire in harness.wires.values() if not wire.is_shield]
    compared = 0
    for _ in range(6):
        loads = {wire.id: dice.choice((0.0, 0.1, 8 * dice.random())) for wire in wires if dice.random() < 0.8}
        unsure = {wire.id for wire in wires if dice.random() < dice.choice((0.0, 0.05))}
        for wire in dice.sample(wires, min(20, len(wires))):
            most = dice.choice((None, 7.0))
            found = carries(harness, wire, loads, frozenset(unsure), most)
            if isinstance(found, Carries):
                mine = loads if most is None else {**loads, wire.id: most}
                assert (found.best, found.worst) == added_up(harness, wire, mine, unsure), wire.id
                compared += 1
    assert compared > 60
