"""Verdicts of the worksheet, in Python; ``test_browser`` runs the same table through the page's script."""

from __future__ import annotations

import math

import pytest
from cases import CASES, READINGS

from harnesscheck.trouble.desk import verdict as at_the_desk
from harnesscheck.trouble.readings import Row, value_of
from harnesscheck.worksheet import judge


@pytest.mark.parametrize(("name", "typed", "unit", "expected"), CASES)
def test_a_verdict(name: str, typed: str, unit: str, expected: str) -> None:
    assert judge.verdict(READINGS[name], typed, unit) == expected


@pytest.mark.parametrize(("name", "typed", "unit", "expected"), CASES)
def test_what_the_worksheet_calls_good_or_wrong_the_support_desk_calls_so_too(
    name: str, typed: str, unit: str, expected: str
) -> None:
    said = value_of(typed, unit)
    if expected not in ("good", "wrong", "noted") or isinstance(said, str):
        return
    row = Row("X1", said[0], said[1], typed, None, beyond=said[2])
    found = at_the_desk(READINGS[name], row)[0]
    assert found == {"noted": "written down"}.get(expected, expected)


def test_every_word_a_verdict_can_have_is_in_the_table() -> None:
    words = {judge.UNREAD, judge.GOOD, judge.WRONG, judge.NOTED, judge.UNCLEAR, judge.UNREADABLE}
    assert {case[3] for case in CASES} == words
    assert all(r.low is None or math.isfinite(r.low) for r in READINGS.values())
