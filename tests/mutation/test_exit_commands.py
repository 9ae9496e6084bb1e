"""The exit status of the commands that end in a report, and of the program itself.

Expected: what ``cli.py`` promises. 0 nothing to stop for, 1 findings (with ``--strict`` also notes and things not
checked), 2 what cannot be read or written, or a fault of the program, 130 interrupted.
"""

from __future__ import annotations

import argparse
import errno
import sys
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck import api, checks, cli, commands, pack, recheck
from harnesscheck.commands import check, prove, verify, watch
from harnesscheck.commands import pack as packing
from harnesscheck.commands import recheck as rechecking
from harnesscheck.fault import Fault, InputError
from harnesscheck.finding import Finding, NotChecked, Report, Severity
from harnesscheck.pack.audit import Verdict
from harnesscheck.place import Place
from harnesscheck.proof import evidence, statement
from harnesscheck.report import verdict
from harnesscheck.sheets import do_no_harm

Say = pytest.CaptureFixture[str]
Patch = pytest.MonkeyPatch


def found(severity: Severity, label: str = "W1", **more: Any) -> Finding:
    return Finding(headline="h", place=Place(label), severity=severity, check="over-ampacity", **more)


STOP, CAUTION, NOTE = (Report("t", (found(s),)) for s in (Severity.STOP, Severity.CAUTION, Severity.NOTE))
WAIVED = Report("t", (found(Severity.STOP, waived="b, d: r"),))
UNKNOWN = Report("t", not_checked=(NotChecked(place=Place("W1"), missing="m", check="over-ampacity"),))
CLEAN = Report("t")
BAD = InputError([Fault("j.yaml", 2, 3, "odd", "typed", "type it again")])
WORSE = InputError([*BAD.faults, Fault("b.yaml", 1, 1, "x", "", "")])
RULE = [(STOP, 1, 1), (CAUTION, 1, 1), (NOTE, 0, 1), (WAIVED, 0, 1), (UNKNOWN, 0, 1), (CLEAN, 0, 0)]
"""Report, exit status, exit status with --strict."""


def given(patch: Patch, reports: dict[str, Report | InputError]) -> None:
    """Let every file be the job that has this report; ``a + b`` is the report of both in one aircraft."""

    def load(file: str, on: str | None = None) -> Any:
        if isinstance(reports[file], InputError):
            raise reports[file]
        return SimpleNamespace(name=file, on=on, jumper=None if file.startswith("air") else 1, subject=file)

    def answer(job: Any, only: Any = None) -> Any:
        return reports[job.name]

    def together(files: list[str], on: str | None = None) -> Any:
        return SimpleNamespace(name=" + ".join(files), on=on)

    for module in (packing, prove, api):
        patch.setattr(module, "load", load)
    patch.setattr(api, "check", answer)
    patch.setattr(api, "together", together)


def wish(*files: str, **more: Any) -> argparse.Namespace:
    return argparse.Namespace(
        **{"files": list(files), "only": None, "strict": False, "format": "text", "on": None, **more}
    )


@pytest.mark.parametrize(("report", "plain", "strict"), RULE)
def test_check(report: Report, plain: int, strict: int, monkeypatch: Patch, capsys: Say) -> None:
    given(monkeypatch, {"a": report, "air": CLEAN})
    for files in (["a"], ["air", "a"], ["a", "air"]):
        assert check.run(wish(*files)) == plain
        assert check.run(wish(*files, strict=True)) == strict
    out = capsys.readouterr().out
    assert out.count("Looked at and found right") == 10
    assert out.endswith("\n")
    assert not out.endswith("\n\n")


def test_check_of_several_kits_is_that_of_all_together_too(monkeypatch: Patch, capsys: Say) -> None:
    given(monkeypatch, {"a": CLEAN, "b": CLEAN, "a + b": STOP, "air": CLEAN})
    assert check.run(wish("a", "b")) == 1
    assert capsys.readouterr().out.count("Looked at and found right") == 3
    assert check.run(wish("a", "air")) == 0  # one kit and an airframe: nothing to put together
    assert check.run(wish("air", "air")) == 0


def test_check_says_every_unreadable_file_and_nothing_else(monkeypatch: Patch, capsys: Say) -> None:
    given(monkeypatch, {"a": STOP, "b": BAD, "c": WORSE})
    with pytest.raises(InputError) as caught:
        check.run(wish("a", "b", "c"))
    assert len(caught.value.faults) == 2
    assert capsys.readouterr().out == ""
    with pytest.raises(InputError, match="over-ampacity"):
        check.run(wish("a", only=["over-ampacitiy"]))
    assert check.run(wish("a", only=["over-ampacity"])) == 1


def test_check_asks_for_what_was_asked(monkeypatch: Patch, capsys: Say) -> None:
    asked = []
    given(monkeypatch, {"a": CLEAN, "b": CLEAN, "a + b": CLEAN})
    monkeypatch.setattr(api, "check", lambda job, only: (asked.append((job.name, job.on, only)), CLEAN)[1])
    assert check.run(wish("a", "b", on="N1", only=["long-stub"])) == 0
    assert asked == [(name, "N1", ["long-stub"]) for name in ("a", "b", "a + b")]
    assert "long-stub" in checks.names()


# -- watch ---------------------------------------------------------------------------------------------------------


def look(**more: Any) -> argparse.Namespace:
    return argparse.Namespace(**{"file": "a", "draw": None, "every": 1.0, "once": True, **more})


@pytest.mark.parametrize(("report", "plain", "_strict"), RULE)
def test_watch_once(report: Report, plain: int, _strict: int, monkeypatch: Patch, capsys: Say, tmp_path: Path) -> None:
    monkeypatch.chdir(tmp_path)
    given(monkeypatch, {"a": report})
    assert watch.run(look()) == plain
    lines = capsys.readouterr().out.splitlines()
    severity = report.primary[0].severity if report.primary else None
    assert lines[:-1] == ([f"{severity.word}: h [over-ampacity]"] if severity else [])
    assert lines[-1].startswith("a: ")


def test_watch_once_of_what_cannot_be_read(monkeypatch: Patch, capsys: Say, tmp_path: Path) -> None:
    monkeypatch.chdir(tmp_path)
    given(monkeypatch, {"a": BAD})
    assert watch.run(look()) == 2
    assert "what was said before no longer counts" in capsys.readouterr().out


def test_watch_draws_when_asked(monkeypatch: Patch, capsys: Say, tmp_path: Path) -> None:
    monkeypatch.chdir(tmp_path)
    given(monkeypatch, {"a": CLEAN})
    drawn: list[object] = []
    monkeypatch.setattr(api, "draw", lambda job, out: drawn.append(out))
    watch.run(look())
    assert drawn == []
    watch.run(look(draw="o.svg"))
    assert drawn == ["o.svg"]


@pytest.mark.parametrize(("every", "good"), [(0.01, False), (0.0499, False), (0.05, True), (60.0, True), (60.1, False)])
def test_watch_at_the_limits_of_its_interval(every: float, good: bool, monkeypatch: Patch, tmp_path: Path) -> None:
    """Own rule: from the shortest to the longest interval that ``watch`` names, both included."""
    assert (watch.QUICKEST, watch.SLOWEST) == (0.05, 60.0)
    monkeypatch.chdir(tmp_path)
    given(monkeypatch, {"a": CLEAN})
    if good:
        assert watch.run(look(every=every)) == 0
        return
    with pytest.raises(InputError):
        watch.run(look(every=every))


def test_watch_says_what_came_and_what_went(monkeypatch: Patch, capsys: Say, tmp_path: Path) -> None:
    """One look after the other: only what is new is said, and a look at unchanged files says nothing."""
    monkeypatch.chdir(tmp_path)
    one, two = found(Severity.STOP), found(Severity.NOTE, "W2")
    two = Finding(headline="other", place=two.place, severity=two.severity, check=two.check)
    turns: list[Report | InputError] = [
        Report("t", (one,)), Report("t", (one,)), Report("t", (one, two)),
        BAD, Report("t", (one, two)), Report("t", (two,)),
    ]  # fmt: skip
    given(monkeypatch, {"a": turns[0]})
    times = iter(range(10))
    states: list[object] = []

    def saved(_file: Path) -> object:
        turn = next(times)
        if turn >= 2 * len(turns):
            raise KeyboardInterrupt
        given(monkeypatch, {"a": turns[turn // 2]})
        states.append(turn // 2)  # each state is seen twice
        return turn // 2

    times = iter(range(100))
    naps: list[float] = []
    monkeypatch.setattr(watch, "_saved", saved)
    monkeypatch.setattr("time.sleep", naps.append)
    flushed: list[int] = []  # into a pipe too every verdict is said at once
    monkeypatch.setattr(sys.stdout, "flush", lambda: flushed.append(1))
    with pytest.raises(KeyboardInterrupt):
        watch.run(look(once=False, every=0.5))
    assert len(flushed) == 5  # what is said twice is not printed twice
    assert naps == [0.5] * 12
    lines = [line for line in capsys.readouterr().out.splitlines() if not line.startswith(("a: ", "  do:", "  "))]
    shown = [line for line in lines if "[over-ampacity]" in line or "no longer counts" in line]
    assert shown == [
        "STOP: h [over-ampacity]",
        "NOTE: other [over-ampacity]",
        "This cannot be read, and what was said before no longer counts.",
        "gone: STOP: h [over-ampacity]",
    ]


# -- pack, prove, verify, recheck ----------------------------------------------------------------------------------


@pytest.mark.parametrize(("report", "plain", "_strict"), RULE)
def test_pack(report: Report, plain: int, _strict: int, monkeypatch: Patch, capsys: Say, tmp_path: Path) -> None:
    monkeypatch.chdir(tmp_path)
    Path("o").mkdir()
    given(monkeypatch, {"a": report, "old": CLEAN})
    wrote: list[Any] = []

    def write(job: Any, result: Report, folder: Path, asked: Any) -> Any:
        wrote.append((job.name, result, folder, asked.kits, asked.previous.name if asked.previous else None))
        without = (("pictures", "too many pages"),) if asked.kits == 2 else ()
        (folder / "worksheet.html").touch() if asked.kits < 2 else (folder / "worksheet.html").unlink(True)
        return SimpleNamespace(folder=folder, files=3, pages=4, pack="p", book="book-001.pdf", without=without)

    monkeypatch.setattr(pack, "write", write)
    for kits, previous in ((1, None), (2, "old"), (packing.MOST_KITS, None)):
        asked = argparse.Namespace(file="a", out="o", kits=kits, previous=previous)
        assert packing.run(asked) == plain
        assert wrote.pop() == ("a", report, Path("o"), kits, previous)
    said = capsys.readouterr().out.splitlines()
    assert len(said) == 5 + 5 + 4  # two without a worksheet, one of them with a line on what was not made
    assert said[8:10] == ["not made: pictures: too many pages", said[3]]
    assert said[:2] == ["wrote o: 3 files, a book of 4 pages", "pack id p"]
    assert said[2] == verdict(report)
    assert said[3:5] == [
        "Open o/book-001.pdf to print, o/kit.html on a phone,",
        "o/worksheet.html to type the readings.",
    ]
    for kits in (0, -1, packing.MOST_KITS + 1):
        with pytest.raises(InputError, match=f"--kits {kits}"):
            packing.run(argparse.Namespace(file="a", out="o", kits=kits, previous=None))
    assert not wrote


@pytest.mark.parametrize("holds", [True, False])
@pytest.mark.parametrize("out", [None, "e.json", "E.JSON"])
@pytest.mark.parametrize(("report", "stops"), [(STOP, True), (CAUTION, False), (WAIVED, False), (CLEAN, False)])
def test_prove(
    report: Report, stops: bool, holds: bool, out: str | None, monkeypatch: Patch, tmp_path: Path, capsys: Say
) -> None:
    """The statement counts whatever the checks say, and of those only what stops."""
    monkeypatch.chdir(tmp_path)
    given(monkeypatch, {"a": report})
    monkeypatch.setattr(statement, "provable", lambda subject: subject == "a")
    monkeypatch.setattr(statement, "statement", lambda job: SimpleNamespace(holds=holds))
    monkeypatch.setattr(do_no_harm, "text", lambda proven: ["line"])
    monkeypatch.setattr(evidence, "evidence", lambda proven, result: {"e": result.title})
    monkeypatch.setattr(evidence, "as_json", lambda data: f"<{data['e']}>")
    assert prove.run(argparse.Namespace(file="a", out=out)) == (0 if holds and not stops else 1)
    assert [p.name for p in tmp_path.iterdir()] == ([out] if out else [])
    assert not out or (tmp_path / out).read_text() == "<t>"
    said = capsys.readouterr().out
    assert said.startswith("line\n\nWhat the checks say: ")
    assert ("wrote" in said) is bool(out)


def test_prove_refuses_what_it_cannot_prove(monkeypatch: Patch, tmp_path: Path) -> None:
    monkeypatch.chdir(tmp_path)
    given(monkeypatch, {"a": CLEAN})
    monkeypatch.setattr(statement, "provable", lambda subject: False)
    with pytest.raises(InputError, match="no before and after"):
        prove.run(argparse.Namespace(file="a", out=None))
    with pytest.raises(InputError, match=r"not written as e\.txt"):
        prove.run(argparse.Namespace(file="a", out="e.txt"))


@pytest.mark.parametrize(("faults", "status"), [((), 0), (("altered: x",), 1), (("a", "b\x1b"), 1)])
def test_verify(faults: tuple[str, ...], status: int, monkeypatch: Patch, capsys: Say) -> None:
    monkeypatch.setattr(pack, "verify", lambda folder: Verdict("p", 3, faults))
    assert verify.run(argparse.Namespace(folder="o")) == status
    said = capsys.readouterr().out.splitlines()
    last = ["Do not use this pack: make it again with harnesscheck pack."]
    assert said == ([f.replace("\x1b", "\\x1b") for f in faults] + last if faults else
                    ["whole and unaltered: 3 files, pack id p"])  # fmt: skip


@pytest.mark.parametrize("status", [0, 1, 2])
def test_recheck(status: int, monkeypatch: Patch) -> None:
    asked: list[list[str]] = []
    monkeypatch.setattr(recheck, "main", lambda words: (asked.append(words), status)[1])
    assert rechecking.run(argparse.Namespace(file="e", folder=None)) == status
    assert rechecking.run(argparse.Namespace(file="e", folder="f")) == status
    assert asked == [["--", "e"], ["--folder", "f", "--", "e"]]


def test_recheck_refuses_a_file_that_is_too_large(monkeypatch: Patch, tmp_path: Path) -> None:
    monkeypatch.setattr(recheck, "main", lambda words: 0)
    monkeypatch.setattr("harnesscheck.document.MAX_BYTES", 2_000_000)
    whole, over = tmp_path / "whole.json", tmp_path / "over.json"
    whole.write_bytes(b" " * 2_000_000)
    over.write_bytes(b" " * 2_000_001)
    assert rechecking.run(argparse.Namespace(file=str(whole), folder=None)) == 0
    with pytest.raises(InputError) as caught:
        rechecking.run(argparse.Namespace(file=str(over), folder=None))
    (fault,) = caught.value.faults
    assert (fault.file, fault.line, fault.column) == (str(over), 1, 1)
    assert fault.message == "this file is larger than 2 MB" and "harnesscheck prove" in fault.remedy


def test_what_a_file_leads_to_comes_from_the_interface(monkeypatch: Patch, capsys: Say) -> None:
    left = SimpleNamespace()
    unread: dict[str | None, tuple[Any, ...]] = {"N1": (), "N2": (left,), "N3": (left, left)}
    monkeypatch.setattr(api, "load", lambda file, on: SimpleNamespace(name=f"{file} on {on}", unread=unread[on]))
    words = {
        "N1": "",
        "N2": "a\\x1b: 1 row or value of the list was not understood and not counted here",
        "N3": "a\\x1b: 2 rows or values of the list were not understood and not counted here",
    }
    for on, said in words.items():
        assert commands._common.load("a\x1b", on).name == f"a\x1b on {on}"
        told = capsys.readouterr()
        assert (told.out, told.err.partition(": harnesscheck check")[0].strip()) == ("", said)
    fault = commands._common.usage("odd", "say it again")
    assert (fault.file, fault.line, fault.column, fault.remedy) == ("command line", 1, 1, "say it again")


# -- the program ---------------------------------------------------------------------------------------------------


def program(patch: Patch, ends: Any) -> int:
    """Run the program with one command that returns or raises ``ends``; its exit status."""

    def run(_arguments: argparse.Namespace) -> Any:
        if isinstance(ends, BaseException):
            raise ends
        return ends

    parser = argparse.ArgumentParser()
    parser.set_defaults(command="x")
    patch.setattr(cli, "build_parser", lambda: parser)
    patch.setattr(commands, "module", lambda name: SimpleNamespace(run=run) if name == "x" else None)
    return cli.main([])


@pytest.mark.parametrize("status", [0, 1, 2])
def test_the_status_of_the_command_is_that_of_the_program(status: int, monkeypatch: Patch) -> None:
    assert program(monkeypatch, status) == status
    assert [commands._common.OK, commands._common.FOUND, commands._common.UNREADABLE] == [0, 1, 2]
    assert commands._common.INTERRUPTED == 130  # 128 + SIGINT, as shells count it (POSIX.1-2017, XCU 2.8.2)


@pytest.mark.parametrize(("ends", "status", "words"), [
    (BAD, 2, f"{BAD}\nharnesscheck: 1 fault in the input; nothing was written"),
    (WORSE, 2, f"{WORSE}\nharnesscheck: 2 faults in the input; nothing was written"),
    (OSError(errno.ENOSPC, "No space left on device", "o"), 2, "cannot write o: No space left on device\n  do: "),
    (OSError(errno.ENOSPC, "No space left on device"), 2, "cannot write the output: No space left on device\n  do"),
    (ValueError("odd"), 2, "harnesscheck itself broke down: ValueError in test_exit_commands.py line {}: odd\n  do:"),
    (RuntimeError("x" * 400), 2, f"RuntimeError in test_exit_commands.py line {{}}: {'x' * 300}\n"),
    (KeyboardInterrupt(), 130, ""),
    (BrokenPipeError(), 2, ""),
])  # fmt: skip
def test_how_a_run_ends(ends: BaseException, status: int, words: str, monkeypatch: Patch, capsys: Say) -> None:
    silenced: list[int] = []
    monkeypatch.setattr(cli, "_silence", lambda: silenced.append(1))
    assert program(monkeypatch, ends) == status
    said = capsys.readouterr().err
    line = program.__code__.co_firstlineno + 5  # where run() above raises
    assert words.replace("{}", str(line)) in said
    assert bool(said) is bool(words)
    nowhere = isinstance(ends, BrokenPipeError) or (isinstance(ends, OSError) and not ends.filename)
    assert silenced == [1] * nowhere


@pytest.mark.parametrize(("words", "status"), [
    (["--help"], 0), (["--version"], 0), ([], 2), (["no-such"], 2), (["check"], 2),
    (["check", "--format", "x", "a"], 2),
])  # fmt: skip
def test_help_and_bad_usage(words: list[str], status: int, capsys: Say) -> None:
    assert cli.main(words) == status


@pytest.mark.parametrize("code", [None, 0, 1, 2])
def test_a_parser_that_ends_the_program(code: int | None, monkeypatch: Patch) -> None:
    def stop() -> Any:
        raise SystemExit(code)

    monkeypatch.setattr(cli, "build_parser", stop)
    assert cli.main([]) == (code or 0)


def test_a_poor_terminal_gets_escapes_and_no_terminal_nothing(monkeypatch: Patch) -> None:
    asked: list[Any] = []
    said: list[str] = []
    poor = SimpleNamespace(reconfigure=lambda **words: asked.append(words), flush=lambda: said.append("flushed"))
    monkeypatch.setattr(sys, "stdout", poor)
    assert program(monkeypatch, 1) == 1
    assert asked == [{"errors": "backslashreplace"}]
    assert said == ["flushed"]
    monkeypatch.setattr(sys, "stdout", None)  # as under pythonw
    assert program(monkeypatch, 1) == 1


@pytest.mark.parametrize(("terminal", "no_colour", "term", "wanted"), [
    (True, None, "xterm", True), (True, "", "xterm", True), (True, "1", "xterm", False), (True, None, "dumb", False),
    (False, None, "xterm", False), (True, None, None, True),
])  # fmt: skip
def test_colour_only_where_it_is_wanted(
    terminal: bool, no_colour: str | None, term: str | None, wanted: bool, monkeypatch: Patch
) -> None:
    """NO_COLOR counts when it is set and not empty (no-color.org)."""
    for name, value in (("NO_COLOR", no_colour), ("TERM", term)):
        if value is None:
            monkeypatch.delenv(name, raising=False)
        else:
            monkeypatch.setenv(name, value)
    monkeypatch.setattr(sys, "stdout", SimpleNamespace(isatty=lambda: terminal))
    assert commands._common.colour() is wanted
    monkeypatch.setattr(sys, "stdout", None)
    assert commands._common.colour() is False
