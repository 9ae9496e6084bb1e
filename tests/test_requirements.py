"""Every check has its requirement and every requirement its check; the links lead somewhere; problems have effects."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

from harnesscheck import checks

ROOT = Path(__file__).parents[1]
DOCS = ROOT / "docs"
sys.path.insert(0, str(DOCS))

import make_requirements as made  # noqa: E402  (the maker of the pages lies with them)

PAGE = (DOCS / "requirements.md").read_text(encoding="utf-8")
SECTIONS = {
    name: text
    for part in re.split(r"^## R-", PAGE, flags=re.MULTILINE)[1:]
    for name, text in [(part.partition("\n")[0].split()[1], part)]
}


def test_checks_and_requirements_are_the_same_set() -> None:
    withdrawn = {name for name, text in SECTIONS.items() if "Withdrawn" in text}
    assert sorted(SECTIONS.keys() - withdrawn) == checks.names()
    assert not withdrawn & set(checks.names())
    numbers = re.findall(r"^## R-(\d{3}) ", PAGE, re.MULTILINE)
    assert len(numbers) == len(set(numbers)) == len(SECTIONS)
    assert numbers == sorted(numbers)


@pytest.mark.parametrize("name", checks.names())
def test_a_requirement_is_complete_and_its_links_lead_somewhere(name: str) -> None:
    text = SECTIONS[name]
    assert "The tool shall report" in text and "*not checked*" in text
    assert checks.title(name) in text and str(checks.module(name).SOURCE) in text
    links = re.findall(r"\]\(([^)]+)\)", text)
    assert len(links) >= 4, "module, page, faulty job and at least one seeded fault"
    for link in links:
        assert (DOCS / link).resolve().is_file(), link
    assert f"../harnesscheck/checks/{name.replace('-', '_')}.py" in links
    assert f"../tests/checks/{name}.md" in links and f"../harnesses/faulty/{name}/jumper.yaml" in links
    assert any("/corpus/fault_" in link for link in links)


def test_a_number_is_kept_for_good(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A new check gets the next number wherever its name sorts; one that is gone keeps its own."""
    monkeypatch.setattr(made, "NUMBERS", tmp_path / "requirements.yaml")
    monkeypatch.setattr(checks, "names", lambda: ["b-check", "d-check"])
    (tmp_path / "requirements.yaml").write_text(made.numbers_text())
    monkeypatch.setattr(checks, "names", lambda: ["a-check", "d-check"])
    assert made.numbers() == {"b-check": 1, "d-check": 2, "a-check": 3}
    (tmp_path / "requirements.yaml").write_text(made.numbers_text())
    assert made.numbers() == {"b-check": 1, "d-check": 2, "a-check": 3}
    assert "Withdrawn" in "".join(made._withdrawn("b-check", 1))


def test_known_problems_have_their_effects() -> None:
    page = (DOCS / "known-problems.md").read_text(encoding="utf-8")
    assert made.shortfalls()
    rows = [line for line in page.splitlines() if line.startswith("| ")][1:]
    assert len(rows) == len(made.shortfalls())
    for problem in made.shortfalls():
        assert any(words in problem for words, _ in made.EFFECTS), f"say in EFFECTS what this means: {problem}"
    assert made.UNSAID not in page
    for name in checks.names():
        limits = page.partition(f"### {name} (R-")[2].partition("\n### ")[0]
        assert len(limits.split()) > 25, name
