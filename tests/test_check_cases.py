"""Cases beside the pages: boundaries, refusals and missing data of each check (the jobs are invented for the demo).

Counts and words are expected from the rule that the check states (its docstring names the source), not copied from it.
"""

from __future__ import annotations

from pathlib import Path

import check_cases
import pages
import pytest
from check_cases import Case


@pytest.mark.parametrize("case", check_cases.listed(), ids=lambda case: case.name)
def test_case(case: Case, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    report = check_cases.answered(case)
    assert pages.counted(report) == case.counts, check_cases.said(report)
    assert case.words in check_cases.said(report)
