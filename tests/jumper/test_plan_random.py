"""Random pairs planned to the end (see ``tests/jumper/plan.py``; ``--whole 2000`` there is the full run)."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.jumper import plan

SEEDS = (1, 3, 5, 7, 9, 11, 13, 15, 17, 21, 23, 25, 27, 29, 31, 33, 37, 39, 45, 47, 53, 57, 59, 67, 83)
"""Small pairs: a few hundredths of a second to half a second each."""


@pytest.mark.parametrize("seed", SEEDS)
def test_a_plan_passes_or_is_refused(seed: int, tmp_path: Path) -> None:
    assert plan.compare(seed, tmp_path, confirm=False) in ("plan", "refused: circuits", "refused: layout")


def test_a_refusal_of_the_circuits_is_confirmed(tmp_path: Path) -> None:
    assert plan.compare(5, tmp_path) == "refused: circuits, confirmed"


def test_a_refusal_of_the_layout_is_confirmed(tmp_path: Path) -> None:
    assert plan.compare(13, tmp_path) == "refused: layout, every layout confirmed"


def test_plans_and_refusals_all_occur(tmp_path: Path) -> None:
    assert {plan.compare(seed, tmp_path, confirm=False) for seed in (5, 13, 27)} == {
        "plan", "refused: circuits", "refused: layout",
    }  # fmt: skip


def test_another_wire_can_take_a_drop_away(tmp_path: Path) -> None:
    """Found by going through every layout: only a wire of another specification loses less than is allowed."""
    assert plan.compare(430, tmp_path, small=True) == "plan"
