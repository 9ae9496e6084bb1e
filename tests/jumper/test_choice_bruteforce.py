"""Small random airframes: the planner's choice against every possible one (see ``tests/jumper/choice.py``)."""

from pathlib import Path

import pytest

from tests.jumper import choice


@pytest.mark.parametrize("seed", range(24))
def test_choice_and_refusal_agree_with_every_possible_choice(seed: int, tmp_path: Path) -> None:
    choice.compare(seed, tmp_path)


def test_both_answers_occur(tmp_path: Path) -> None:
    assert {choice.compare(seed, tmp_path) for seed in range(8)} == {"plan", "refused"}
