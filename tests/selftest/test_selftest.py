"""The self-test passes here, and fails when a check, the exit status, a writer, a font or an article is broken."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest

from harnesscheck import checks, cli, sheets
from harnesscheck.finding import Passed
from harnesscheck.selftest import articles, bench, record
from harnesscheck.selftest.bench import Line

ROOT = Path(__file__).parents[2]
SOME = ["crimp-cards", "cut-list"]


@pytest.fixture(scope="module")
def lines() -> list[Line]:
    """All of it, once; of the sheets only some, they cost time and have tests of their own."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sheets, "names", lambda: SOME)
        return list(bench.run(cli.main))


def wrong(part, room: Path) -> list[Line]:
    """The lines of one part that did not come out as expected."""
    return [line for line in part(cli.main, room) if not line.good]


def test_it_passes_here_and_covers_every_check(lines: list[Line]) -> None:
    assert [line for line in lines if not line.good] == []
    assert record.passed(lines)
    text = record.as_text(lines)
    assert record.verdict(lines).startswith("PASSED") and record.verdict(lines) in text
    for name in checks.names():
        assert any(line.kind == "bad" and line.what.startswith(f"{name} in ") for line in lines), name
        assert any(line.kind == "unknown" and line.what == name for line in lines), name
    assert {line.what for line in lines if line.kind == "sheet"} == set(SOME)
    assert str(ROOT) not in text and "/tmp" not in text
    assert all(len(row) <= 200 for row in text.splitlines())


@pytest.mark.parametrize("name", checks.names())
def test_a_check_that_says_nothing_is_found_out(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """In the part that holds its faulty job; the other articles are left out, they cost time."""
    monkeypatch.setattr(checks.module(name), "check", lambda harness: iter(()))
    fault = [a for a in articles.faults() if a.check == name]
    missing = [a for a in articles.missing() if a.check == name]
    monkeypatch.setattr(articles, "faults", lambda: fault)
    monkeypatch.setattr(articles, "missing", lambda: missing)
    monkeypatch.setattr(checks, "names", lambda: [name])
    assert [line.kind for line in wrong(bench._faults, tmp_path)] == ["bad"]
    assert [line.kind for line in wrong(bench._missing, tmp_path)] == ["unknown"]


def test_a_check_that_raises_or_always_passes_is_found_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(harness: object) -> Iterator[Passed]:
        raise ZeroDivisionError

    for name in ("faults", "missing"):
        some = [a for a in getattr(articles, name)() if a.check == "pin-collision"]
        monkeypatch.setattr(articles, name, lambda some=some: some)
    monkeypatch.setattr(checks, "names", lambda: ["pin-collision"])
    for number, broken in enumerate((fails, lambda harness: iter([Passed(1, "things")]))):
        monkeypatch.setattr(checks.module("pin-collision"), "check", broken)
        for part in (bench._faults, bench._missing):
            room = tmp_path / f"{number}{part.__name__}"
            room.mkdir()
            assert wrong(part, room), part.__name__


def test_an_exit_status_that_is_always_the_same_is_found_out(tmp_path: Path) -> None:
    one = [a for a in articles.faults() if a.check in ("pin-collision", "missing-slack")]
    for status in (0, 1, 2):
        room = tmp_path / str(status)
        room.mkdir()

        def stuck(words: Sequence[str], status: int = status) -> int:
            cli.main(words)
            return status

        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(articles, "faults", lambda: one)
            patch.setattr(checks, "names", lambda: [a.check for a in one])
            parts = (bench._clean, bench._faults, bench._unreadable)
            assert any(not line.good for part in parts for line in part(stuck, room)), status


def test_what_is_overwritten_is_found_out(tmp_path: Path) -> None:
    def careless(words: Sequence[str]) -> int:
        if words[0] == "sheet":
            Path(words[-1]).write_bytes(b"")
        return cli.main(words)

    bench._laid(tmp_path, f"clean-{articles.DEMOS[0]}", articles.clean(articles.DEMOS[0]))
    bench._laid(tmp_path, "unreadable-0", {articles.JUMPER: "kind: *x\n"})
    first = next(bench._left_alone(careless, tmp_path))
    assert not first.good and first.got == "exit 2: changed: cut.csv"


def test_another_font_is_found_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    bench._laid(tmp_path, f"clean-{articles.DEMOS[0]}", articles.clean(articles.DEMOS[0]))
    monkeypatch.setattr(sheets, "names", lambda: ["cut-list"])
    monkeypatch.setattr(sheets, "forms", lambda name: ("pdf",))
    assert wrong(bench._sheets, tmp_path) == []
    monkeypatch.setattr(bench, "FONT", b"another font")
    assert [line.got for line in wrong(bench._sheets, tmp_path)] == ["wrong: pdf"]


def test_a_demo_that_was_changed_is_found_out(monkeypatch: pytest.MonkeyPatch) -> None:
    fault = next(a for a in articles.faults() if a.check == "unplugged-cavity")
    real = articles.clean
    monkeypatch.setattr(articles, "clean", lambda demo: {f: f"# one line more\n{t}" for f, t in real(demo).items()})
    with pytest.raises(ValueError, match="is not the line that this article changes"):
        fault.files()


def test_a_part_that_breaks_down_is_a_failure(monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(*_: object) -> Iterator[Line]:
        raise OSError("no room")
        yield

    for part in ("_clean", "_faults", "_missing", "_unreadable", "_whole_program", "_left_alone", "_sheets"):
        monkeypatch.setattr(bench, part, fails)
    lines = list(bench.run(cli.main))
    assert len(lines) == 7 and not any(line.good for line in lines)
    assert record.verdict(lines).startswith("FAILED: 7 of 7")
    assert not record.passed([]) and not record.passed([Line("good", "x", "y", "y")])


def test_the_command(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    kinds = [Line(kind, "x", "exit 0", "exit 0") for kind in record.KINDS if kind != "broken"]
    monkeypatch.setattr("harnesscheck.selftest.run", lambda main: iter(kinds))
    assert cli.main(["selftest", "-o", str(tmp_path / "record.txt")]) == 0
    assert "PASSED: 7 of 7" in capsys.readouterr().out
    assert (tmp_path / "record.txt").read_text().startswith("Self-test of harnesscheck\n")
    monkeypatch.setattr("harnesscheck.selftest.run", lambda main: iter([*kinds, Line("bad", "y\x1b[2J", "a", "b")]))
    assert cli.main(["selftest"]) == 1
    out = capsys.readouterr().out
    assert "FAILED: 1 of 8" in out and "WRONG  y" in out and "\x1b" not in out


def test_the_articles_are_those_of_the_jobs_and_pages() -> None:
    sys.path.insert(0, str(ROOT / "docs"))
    try:
        import make_articles
    finally:
        sys.path.pop(0)
    assert articles.FILE.read_text(encoding="utf-8") == make_articles.articles()


def test_an_article_is_the_faulty_job_but_for_its_story() -> None:
    for fault in articles.faults():
        folder = ROOT / "harnesses" / "faulty" / fault.check
        for name, text in fault.files().items():
            job = [row for row in (folder / name).read_text(encoding="utf-8").split("\n") if not row.startswith("#")]
            assert [row for row in text.split("\n") if not row.startswith("#")] == job, f"{fault.check}/{name}"
