"""Coverage as stated, on the demo, on every invented job and on random ones, against the independent model."""

from __future__ import annotations

from pathlib import Path

import pytest

import harnesscheck as hc
from tests.ringout.compare import VARIANTS, compare, random_job

HARNESSES = Path(__file__).parents[2] / "harnesses"
FIRST = (("first article", False), ("first article", True))


@pytest.mark.parametrize(("name", "variants"), [("ice-probe", VARIANTS), ("signal-logger", FIRST[:1])])
def test_every_fault_on_the_demo(name: str, variants: tuple[tuple[str, bool], ...]) -> None:
    total = compare(hc.load(HARNESSES / name / "jumper.yaml"), variants)
    assert sum(total.values()) > 1000


def test_every_fault_on_random_harnesses() -> None:
    """Fifteen here; ``python -m tests.ringout --whole 500`` does the rest."""
    for seed in range(15):
        compare(random_job(seed), FIRST)
