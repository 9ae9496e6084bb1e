"""Runs the articles through the command line, as a person would, and notes what was expected and what came out."""

from __future__ import annotations

import io
import json
import sys
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from harnesscheck import api, checks, sheets
from harnesscheck.selftest import articles
from harnesscheck.selftest.articles import DEMOS, JUMPER
from harnesscheck.version import __version__

Main = Callable[[Sequence[str]], int]
LOUD = ("stop", "caution")
"""Findings of these severities give exit status 1."""
STARTS = {"pdf": b"%PDF-", "png": b"\x89PNG\r\n", "svg": b"<?xml", "xlsx": b"PK\x03\x04", "html": b"<!DOCTYPE html"}
FONT = b"DejaVuSansCondensed"
"""The name of the bundled font inside a PDF file; another one stands there when it was not found."""
KEPT = "a person's own figures\n"


@dataclass(frozen=True)
class Line:
    """One line of the record."""

    kind: str
    what: str
    expected: str
    got: str

    @property
    def good(self) -> bool:
        """Whether what came out is what was expected."""
        return self.expected == self.got


def run(main: Main) -> Iterator[Line]:
    """All lines of the record. ``main`` is the command line: arguments to exit status."""
    with tempfile.TemporaryDirectory(prefix="harnesscheck-selftest-") as folder:
        room = Path(folder)
        for part in (_clean, _faults, _missing, _unreadable, _whole_program, _left_alone, _sheets):
            try:
                yield from part(main, room)
            except Exception as error:  # a part that breaks down has not passed; the others are still wanted
                name = part.__name__.strip("_").replace("_", " ")
                yield Line("broken", name, "all articles run", f"{type(error).__name__}: {error}")


# -- running -----------------------------------------------------------------------------------------------------------


def _laid(room: Path, name: str, files: dict[str, str]) -> Path:
    place = room / name
    place.mkdir()
    for file, text in files.items():
        (place / file).write_bytes(text.encode("utf-8"))
    return place


def _run(main: Main, *words: str | Path) -> tuple[int, str, str]:
    """Exit status, what was printed, and what was printed of errors."""
    with redirect_stdout(io.StringIO()) as out, redirect_stderr(io.StringIO()) as err:
        status = main([str(word) for word in words])
    return status, out.getvalue(), err.getvalue()


def _report(main: Main, *words: str | Path) -> tuple[int, dict[str, Any]]:
    status, out, err = _run(main, "check", "--format", "json", *words)
    said: dict[str, Any] = json.loads(out) if out else {"findings": [], "not_checked": [], "broken": err.strip()}
    return status, said


# -- the articles ------------------------------------------------------------------------------------------------------


def _clean(main: Main, room: Path) -> Iterator[Line]:
    looked = set()
    for name in DEMOS:
        place = _laid(room, f"clean-{name}", articles.clean(name))
        status, said = _report(main, "--strict", place / JUMPER)
        count = len(said["findings"]) + len(said["not_checked"])
        yield Line("good", name, "exit 0: 0 found or not checked", f"exit {status}: {count} found or not checked")
        looked |= {check for check, passed in said.get("passed", {}).items() if passed}
    idle = sorted(set(checks.names()) - looked)
    got = f"without: {', '.join(idle)}" if idle else "all of them"
    yield Line("good", "checks that looked at something", "all of them", got)


def _faults(main: Main, room: Path) -> Iterator[Line]:
    known = {fault.check for fault in articles.faults()}
    for name in sorted(set(checks.names()) - known):
        yield Line("bad", name, "an article for every check", "none: this check is not tested")
    for number, fault in enumerate(articles.faults()):
        place = _laid(room, f"bad-{number}", fault.files())
        status, said = _report(main, place / JUMPER)
        first = [f"{f['severity']} {f['check']}" for f in said["findings"] if not f["follows"] and not f["waived"]]
        got = f"exit {status}: {' and '.join(first) or said.get('broken') or 'nothing found'}"
        expected = f"exit {int(fault.severity in LOUD)}: {fault.severity} {fault.check}"
        yield Line("bad", f"{fault.check} in {fault.demo}", expected, got)


def _missing(main: Main, room: Path) -> Iterator[Line]:
    known = {article.check for article in articles.missing()}
    for name in sorted(set(checks.names()) - known):
        yield Line("unknown", name, "an article for every check", "none: this check is not tested")
    for number, article in enumerate(articles.missing()):
        place = _laid(room, f"unknown-{number}", article.texts)
        status, said = _report(main, "--strict", "--only", article.check, place / article.main)
        got = f"exit {status}: {_counted(said)}"
        yield Line("unknown", article.check, f"exit 1: {article.counts}", got)


def _counted(said: dict[str, Any]) -> str:
    """``1 stop, 2 not checked, 3 passed``, as the pages count."""
    totals = said.get("totals", {})
    names = {"stop": "stop", "caution": "caution", "note": "note", "not_checked": "not checked", "passed": "passed"}
    counts = [f"{totals[key]} {word}" for key, word in names.items() if totals.get(key)]
    return ", ".join(counts) or said.get("broken") or "nothing to look at"


def _unreadable(main: Main, room: Path) -> Iterator[Line]:
    for number, article in enumerate(articles.unreadable()):
        place = _laid(room, f"unreadable-{number}", articles.edited(DEMOS[0], (article.edit,)))
        status, out, err = _run(main, "check", place / JUMPER)
        where = err.partition(": ")[0].rpartition(JUMPER)[2]
        said = "a report" if out else f"{JUMPER}{where}"
        yield Line(
            "refused", article.name, f"exit 2: {JUMPER}:{article.line}:{article.column}", f"exit {status}: {said}"
        )


# -- the program round the checks --------------------------------------------------------------------------------------


def _whole_program(main: Main, room: Path) -> Iterator[Line]:
    """The way of ``python -m harnesscheck``, to the exit status that the system gets."""
    for words, expected in (
        (("--version",), f"exit 0: harnesscheck {__version__}"),
        (("check", str(room / f"clean-{DEMOS[0]}" / JUMPER)), "exit 0"),
        (("check", str(room / "bad-0" / JUMPER)), "exit 1"),
        (("check", str(room / "unreadable-0" / JUMPER)), "exit 2"),
    ):
        status, out = _as_module(*words)
        version = words == ("--version",)
        name = "--version" if version else f"check {Path(words[-1]).parent.name}"
        yield Line("program", name, expected, f"exit {status}: {out.strip()}" if version else f"exit {status}")


def _as_module(*words: str) -> tuple[object, str]:
    import runpy

    kept = sys.argv
    sys.argv = ["harnesscheck", *words]
    try:
        with redirect_stdout(io.StringIO()) as out, redirect_stderr(io.StringIO()):
            runpy.run_module("harnesscheck", run_name="__main__", alter_sys=False)
    except SystemExit as stop:
        return stop.code, out.getvalue()
    finally:
        sys.argv = kept
    return "never asked for", out.getvalue()


def _left_alone(main: Main, room: Path) -> Iterator[Line]:
    """What was there stays when there is nothing right to put in its place."""
    place = room / "kept"
    place.mkdir()
    (place / "cut.csv").write_text(KEPT, encoding="utf-8")
    clean, broken = room / f"clean-{DEMOS[0]}" / JUMPER, room / "unreadable-0" / JUMPER
    for name, words in (
        ("a sheet of a file that cannot be read", ("sheet", "cut-list", broken, "-o", place / "cut.csv")),
        ("a pack over other files", ("pack", clean, "-o", place)),
    ):
        status, _, _ = _run(main, *words)
        yield Line("kept", name, "exit 2: the folder as it was", f"exit {status}: {_kept(place)}")
    status, _, _ = _run(main, "sheet", "cut-list", clean, "-o", place / "cut.csv")
    there = sorted(path.name for path in place.iterdir())
    got = "replaced" if there == ["cut.csv"] and (place / "cut.csv").read_bytes() != KEPT.encode() else _kept(place)
    yield Line("kept", "a sheet over an older one", "exit 0: replaced", f"exit {status}: {got}")


def _kept(place: Path) -> str:
    files = {path.name: path.read_bytes() for path in sorted(place.iterdir())}
    return "the folder as it was" if files == {"cut.csv": KEPT.encode()} else f"changed: {', '.join(files)}"


def _sheets(main: Main, room: Path) -> Iterator[Line]:
    """Every sheet in every form; pictures, which take long, of one list and of one drawing."""
    job = api.load(room / f"clean-{DEMOS[0]}" / JUMPER)
    for name in sheets.names():
        pictured = name in ("cut-list", "wiring-diagram")
        forms = [form for form in sheets.forms(name) if form != "png" or pictured]
        wrong = [form for form in forms if not _right(sheets.render(name, job, form), form)]
        got = f"wrong: {', '.join(wrong)}" if wrong else ", ".join(forms)
        yield Line("sheet", name, ", ".join(forms), got)


def _right(data: bytes, form: str) -> bool:
    starts = data.startswith(STARTS.get(form, b"")) and len(data) > 0
    return starts and (form != "pdf" or FONT in data)
