"""Kept inputs run again, every reader fuzzed for a moment, and the fuzzer itself proven to see what it looks for."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from harnesscheck import checks
from tests.fuzz import case as cases
from tests.fuzz.case import CORPUS, Case, kept, run
from tests.fuzz.readers import ICE, READERS
from tests.fuzz.run import Fuzz

KEPT = sorted(CORPUS.rglob("*.json"))


@pytest.mark.parametrize("path", KEPT, ids=lambda path: path.stem)
def test_kept_input(path: Path, tmp_path: Path) -> None:
    case = kept(path)
    assert path.parent.name == case.reader
    answer = run(case, tmp_path / "job", twice=True)
    assert not answer.wrong, answer.wrong


@pytest.mark.parametrize("name", READERS)
def test_every_reader_for_a_moment(name: str, tmp_path: Path) -> None:
    """The same cases each time; ``python -m tests.fuzz --minutes N`` goes on from others."""
    fuzz = Fuzz([name], 7, tmp_path / "job", None)
    for _ in range(SHORT.get(name, 8)):
        fuzz.step()
    assert not fuzz.failures, fuzz.failures
    assert sum(fuzz.ran.values()) == SHORT.get(name, 8)


SHORT = {"tap": 2, "paths": 4, "evidence": 4, "exported": 5, "symptoms": 3, "format": 5, "diagnose": 6}


def test_every_reader_has_a_kept_input() -> None:
    assert {path.parent.name for path in KEPT} == set(READERS)


def test_a_case_comes_back_from_the_disk(tmp_path: Path) -> None:
    case = Case("job", ICE, ("check", "a.yaml"), {"a.yaml": b"a\r\n\xc3\xa9", "b.xlsx": b"\xff\x00"})
    (tmp_path / "c.json").write_text(case.as_json())
    assert kept(tmp_path / "c.json") == case


def test_the_same_seed_gives_the_same_cases() -> None:
    for name in ("job", "lists", "readings"):
        one, two = random.Random(3), random.Random(3)
        assert [READERS[name](one) for _ in range(3)] == [READERS[name](two) for _ in range(3)]


# -- what must be seen -------------------------------------------------------------------------------------------------

CLEAN = Case("job", ICE, ("check", "jumper.yaml"))


def test_what_is_clean_is_not_wrong(tmp_path: Path) -> None:
    assert run(CLEAN, tmp_path / "job", twice=True).wrong == ""


def test_a_crash_is_seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise KeyError("x")

    monkeypatch.setattr(checks, "run", broken)
    assert run(CLEAN, tmp_path / "job").wrong.startswith("broke down: ")


def test_a_hang_is_seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def hanging(*_: object) -> None:
        while True:
            sum(range(1000))

    monkeypatch.setattr(cases, "SECONDS", 0.2)
    monkeypatch.setattr(checks, "run", hanging)
    assert run(CLEAN, tmp_path / "job").wrong.startswith("slow: ")


def test_a_file_written_at_exit_2_is_seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from harnesscheck import cli

    def writing(*_: object) -> int:
        Path("left.txt").write_text("x")
        return 2

    monkeypatch.setattr(cli, "main", writing)
    assert run(CLEAN, tmp_path / "job").wrong == "wrote: ['left.txt'] at exit 2"


@pytest.mark.parametrize(
    ("said", "wrong"),
    [
        ("", "silent"),
        ("a.yaml:1:1: bad\n", "no remedy"),
        ("a.yaml:1:1: bad\n  do: mend it\nb.yaml:2:2: worse\n", "no remedy"),
        ("a.yaml:1:1: \x1b[31mbad\n  do: mend it\n", "unprintable"),
        (
            "a.yaml:1:1: bad\n    text\n    ^\n  do: mend\nharnesscheck: 1 fault in the input; nothing was written\n",
            "",
        ),
    ],
)
def test_a_refusal_without_its_parts_is_seen(
    said: str, wrong: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    import sys

    from harnesscheck import cli

    def refusing(*_: object) -> int:
        print(said, end="", file=sys.stderr)
        return 2

    monkeypatch.setattr(cli, "main", refusing)
    found = run(CLEAN, tmp_path / "job").wrong
    assert found.startswith(wrong) and bool(found) is bool(wrong)


def test_an_answer_that_changes_is_seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from harnesscheck import cli

    answers = iter("ab")

    def changing(*_: object) -> int:
        print(next(answers))
        return 0

    monkeypatch.setattr(cli, "main", changing)
    assert run(CLEAN, tmp_path / "job", twice=True).wrong.startswith("differs")
