"""Coverage as stated, on the demo, on every invented job and on random ones, against the independent model."""

from __future__ import annotations

from pathlib import Path

import pytest

import harnesscheck as hc
from tests.ringout.compare import VARIANTS, compare, random_job
from tests.ringout.staying import compare_staying

HARNESSES = Path(__file__).parents[2] / "harnesses"
FIRST = (("first article", False), ("first article", True))


@pytest.mark.parametrize(("name", "variants"), [("ice-probe", VARIANTS), ("signal-logger", FIRST[:1])])
def test_every_fault_on_the_demo(name: str, variants: tuple[tuple[str, bool], ...]) -> None:
    total = compare(hc.load(HARNESSES / name / "jumper.yaml"), variants)
    assert sum(total.values()) > 1000


def test_nothing_is_claimed_too_much_while_other_units_stay_plugged_in() -> None:
    """A bus with its two terminators, and five random harnesses."""
    total = compare_staying(hc.load(HARNESSES / "engine-display" / "jumper.yaml"))
    assert total["staying open claimed"] >= 20
    for seed in range(5):
        total.update(compare_staying(random_job(seed)))
    assert total["staying short claimed"] >= 10


def test_every_fault_on_random_harnesses() -> None:
    """Fifteen here; ``python -m tests.ringout --whole 500`` does the rest."""
    for seed in range(15):
        compare(random_job(seed), FIRST)
