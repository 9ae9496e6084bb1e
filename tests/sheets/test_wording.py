"""No sheet claims what only a licensed person can: that something is approved, airworthy, certified or safe to fly."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck import sheets

HARNESSES = Path(__file__).parents[2] / "harnesses"
CLAIM = re.compile(r"\b(?:approved|airworth\w*|certifi\w+|guarantee\w*|safe to fly)\b", re.IGNORECASE)
ALLOWED = (
    "technical help, not approved data",
    "instructions for continued airworthiness",
    "the instructions for continued airworthiness",
    "airworthiness sheet",
    "certificate no",
    "whether it is airworthy",
)
"""Phrases that leave the decision where it belongs, or are a trade's name of a paper or of a step."""


def claims(text: str) -> list[str]:
    """The lines that say one of the words outside the phrases."""
    lines = []
    for line in " ".join(text.split("\n")).replace(". ", ".\n").splitlines():
        rest = " ".join(line.split()).lower()
        for phrase in ALLOWED:
            rest = rest.replace(phrase, "")
        if CLAIM.search(rest):
            lines.append(line)
    return lines


def test_a_claim_is_seen() -> None:
    assert claims("The kit is approved.") and claims("Airworthy after this step.") and claims("It is safe to fly.")
    assert not claims("Technical help, not approved data: the builder decides.")


@pytest.mark.parametrize("job", ["ice-probe", "data-bus"])
def test_no_sheet_claims_approval(job: str) -> None:
    loaded = hc.load(HARNESSES / job / "jumper.yaml")
    for name in sheets.names():
        if "text" in sheets.forms(name):
            assert not claims(sheets.render(name, loaded, "text").decode()), name
