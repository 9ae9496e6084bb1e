"""Messages read aloud: what every finding and every refusal of the examples has in common.

The rules are the project's own (DEVELOPERS, "Messages"): a headline that stands alone and can be said in one breath,
plain words, numbers with their units, what to do. Looked at are the findings of every faulty job and of every answer on
the pages of the checks, and the faults of the whole bad-input table.
"""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pages
import pytest
from test_bad_input import DEMO, ROWS, prepare

import harnesscheck as hc
from harnesscheck import checks
from harnesscheck.checks.broken_through_circuit import ONE_BREATH

TESTS = Path(__file__).parent
FAULTY = TESTS.parent / "harnesses" / "faulty"
BANNED = re.compile(
    r"\b(illegal|invalid|fatal|abort\w*|traceback|token|parser?|scalar|null|NoneType|dict|regex|"
    r"please|oops|sorry|simply|obviously)\b",
    re.IGNORECASE,
)
UNIT = (
    r"(?:n|µ|m|k|M|c)?(?:m|A|V|W|ohm|bit/s|s|F|Hz|Ah|J)\b|mm2|in\b|ft\b|AWG|C\b|%|"
    r"cmil|times|of\b|unit loads?|dB\b|x\b|h\b|min\b"
)
NUMBER = re.compile(rf"(?<![\w./-])(?<!VSWR )-?\d+\.\d+(?![\w./-])(?! ?(?:{UNIT}|to -?[\d.]+ ?(?:{UNIT})))")
"""A number with a decimal point that no unit follows: in this program that is a measured or computed quantity."""


def spoken(where: str, headline: str, remedy: str) -> Iterator[str]:
    """What is wrong with a headline and a remedy."""
    for name, text in (("headline", headline), ("remedy", remedy)):
        if not text.strip():
            yield f"{where}: no {name}: {headline}"
        if found := BANNED.search(text):
            yield f"{where}: {found[0]!r} in the {name}: {text}"
        if re.search(r"[.!,;]$|[^\w]:$", text) and not text.endswith("..."):  # 'give length:' ends in the name of a key
            yield f"{where}: the {name} ends in a mark: {text}"
        if "\n" in text:
            yield f"{where}: the {name} has several lines: {text}"
    if len(headline.partition("not one of: ")[0]) > ONE_BREATH:  # the words that may stand there are a list, not said
        yield f"{where}: {len(headline)} characters: {headline}"


def said(where: str, finding: hc.Finding) -> Iterator[str]:
    """What is wrong with a finding."""
    yield from spoken(where, finding.headline, finding.remedy)
    for name, text in (("value", finding.value), ("limit", finding.limit)):
        if not text:
            yield f"{where}: no {name}: {finding.headline}"
        if re.fullmatch(r"-?[\d.]+", text):
            yield f"{where}: the {name} {text} has no unit: {finding.headline}"
    for text in (finding.headline, finding.value, finding.limit, finding.remedy):
        if found := NUMBER.search(text):
            yield f"{where}: {found[0]} has no unit: {text}"


def test_the_rules_see_what_they_look_for() -> None:
    assert list(spoken("x", "This is an illegal value.", ""))
    assert len(list(spoken("x", "long " * 40, "do it"))) == 1
    assert not list(spoken("x", "the wire is 40 mm too short", "lengthen it to 320 mm"))
    for text in ("drop of 0.85 here", "0.5", "from 1.2 to 3.4"):
        assert NUMBER.search(text), text
    for text in (
        "0.85 V",
        "1.24 mm to 1.35 mm",
        "0.9 to 1.1 mm",
        "AC 43.13-1B",
        "0.35 mm2",
        "2.5 times",
        "M22759/16-22",
    ):
        assert not NUMBER.search(text), text


def test_findings_of_the_faulty_jobs() -> None:
    wrong: set[str] = set()
    count = 0
    for name in checks.names():
        for finding in hc.check(hc.load(FAULTY / name / "jumper.yaml")).findings:
            wrong.update(said(name, finding))
            count += 1
    assert count > 100
    assert not wrong, "\n".join(sorted(wrong))


@pytest.mark.parametrize("name", checks.names())
def test_findings_and_gaps_of_the_pages(name: str, tmp_path: Path) -> None:
    wrong: set[str] = set()
    count = 0
    for answer in pages.answers(TESTS / "checks" / f"{name}.md"):
        folder = tmp_path / str(answer.line)
        folder.mkdir()
        pages.write(answer, folder)
        report = hc.check(hc.load(folder / pages.main_file(answer)), [name])
        for finding in report.findings:
            wrong.update(said(f"{name}.md:{answer.line}", finding))
        for gap in report.not_checked:
            wrong.update(spoken(f"{name}.md:{answer.line}", gap.missing, gap.remedy))
        count += len(report.findings) + len(report.not_checked)
    assert count > 0
    assert not wrong, "\n".join(sorted(wrong))


def test_faults_of_the_bad_input_table(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    wrong: set[str] = set()
    seen = 0
    for number, row in enumerate(ROWS):
        folder = tmp_path / str(number) / "job"
        shutil.copytree(DEMO, folder)
        (folder / "d.yaml").mkdir()
        os.mkfifo(folder / "pipe.yaml")
        shutil.copy(DEMO / "airframe.yaml", folder.parent / "airframe.yaml")
        (folder / "link.yaml").symlink_to(folder.parent / "airframe.yaml")
        (folder / "job").write_text("kind: jumper\n")
        monkeypatch.chdir(folder)
        prepare(row, folder)
        with pytest.raises(hc.InputError) as caught:
            hc.load(row.argv)
        for fault in caught.value.faults:
            wrong.update(spoken(row.name, fault.message, fault.remedy))
            seen += 1
    assert seen > 200
    assert not wrong, "\n".join(sorted(wrong))
