"""The literate pages in tests/checks/: every answer is what the check prints for the job shown above it.

The printed texts are own output (regression; ``--rewrite`` makes them again). The counts after each ``text`` fence and
the rules below are not: the author of a page typed them from what a fabricator would expect.
"""

from __future__ import annotations

from pathlib import Path

import pages
import pytest

from harnesscheck import checks

FOLDER = Path(__file__).parent / "checks"
NAMES = checks.names()


@pytest.mark.parametrize("name", NAMES)
def test_page(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, rewrite: bool) -> None:
    page = FOLDER / f"{name}.md"
    new: dict[int, str] = {}
    kinds = set()
    for number, answer in enumerate(pages.answers(page)):
        folder = tmp_path / str(number)
        folder.mkdir()
        monkeypatch.chdir(folder)
        where = f"{page.name}:{answer.line} ({answer.heading})"
        result = pages.run(answer, name, folder)
        new[answer.line] = pages.printed(result)
        assert pages.counted(result) == answer.counts, f"{where}\n{pages.printed(result)}"
        if not rewrite:
            assert pages.printed(result) == answer.printed, where
        for finding in result.findings:
            for value in (finding.headline, finding.value, finding.limit, str(finding.source or ""), finding.remedy):
                assert value.strip(), f"{where}: an empty field in {finding}"
            assert finding.place.file and finding.place.line and finding.place.column, where
            assert not finding.headline.endswith("."), where
        kinds |= {"finding"} if result.findings else set()
        kinds |= {"not checked"} if result.not_checked else set()
        kinds |= {"good"} if result.items_passed and not (result.findings or result.not_checked) else set()
        for missing in result.not_checked:
            assert missing.missing.strip() and missing.remedy.strip() and missing.place.label, where
    assert kinds == {"finding", "not checked", "good"}, f"{page.name} shows only {sorted(kinds)}"
    if rewrite:
        page.write_text("\n".join(pages.rewritten(page, new)) + "\n", encoding="utf-8")


@pytest.mark.parametrize("name", NAMES)
def test_page_says_what_it_is_about(name: str) -> None:
    text = (FOLDER / f"{name}.md").read_text(encoding="utf-8")
    assert text.startswith(f"# {name}\n")
    assert "\n## Known limits\n" in text
    limits = text.rpartition("\n## Known limits\n")[2]
    assert len(limits.split()) > 25, "say in words what the check does not see"
    assert "invented for the demo" in text


def test_pages_and_checks_are_the_same_set() -> None:
    assert sorted(page.stem for page in FOLDER.glob("*.md")) == NAMES


def test_a_change_must_stand_once() -> None:
    text = "a: 1\nb: 2\na: 1\n"
    assert pages.changed(text, ["-b: 2", "+b: 3", "+c: 4"], "here") == "a: 1\nb: 3\nc: 4\na: 1\n"
    with pytest.raises(ValueError, match="2 times"):
        pages.changed(text, ["-a: 1", "+a: 2"], "here")
    with pytest.raises(ValueError, match="0 times"):
        pages.changed(text, ["-b: 2 ", "+b: 3"], "here")
    with pytest.raises(ValueError, match="neither kept"):
        pages.changed(text, ["b: 2"], "here")
