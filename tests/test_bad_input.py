"""Bad input through the real command line: each fault at file:line:column with a remedy, exit 2, nothing written.

The rows are in ``bad_input_rows.py``; every expected place is marked by hand in the text of the row.
"""

from __future__ import annotations

import json
import os
import shutil
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from bad_input_jobs import INCLUDES, REFERENCES, SCHEMA, TOGETHER
from bad_input_power import POWER
from bad_input_rows import FILES, MARK, TOKENS, USAGE, YAML, J, Row

from harnesscheck import document, sheets
from harnesscheck.cli import main

ROWS = [*FILES, *YAML, *SCHEMA, *REFERENCES, *INCLUDES, *POWER, *TOGETHER]
DEMO = Path(__file__).parent / "jobs" / "plain"
COMMANDS = {
    "check": lambda file: ["check", file],
    "check json": lambda file: ["check", "--format", "json", "--strict", file],
    "draw": lambda file: ["draw", file, "-o", "out.svg"],
    "sheet": lambda file: ["sheet", "cut-list", file, "-o", "out.csv"],
    "trace": lambda file: ["trace", file, "P14-3"],
}
SLOWEST = 1.0
"""CPU seconds a broken file may take, after the project's threat table (rows 4 to 6). The rows take hundredths."""


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the demo, with a few hostile neighbours, as the current folder."""
    folder = tmp_path / "job"
    shutil.copytree(DEMO, folder)
    shutil.copy(DEMO / "airframe.yaml", tmp_path / "airframe.yaml")
    (folder / "link.yaml").symlink_to(tmp_path / "airframe.yaml")
    (folder / "d.yaml").mkdir()
    (folder / "d.csv").mkdir()
    (folder / "edited").mkdir()
    (folder / "edited" / J).write_text("kind: jumper\n")
    (folder / "sub").mkdir()
    for name in ("job", "job.doc"):
        (folder / name).write_text("kind: jumper\n")
    os.mkfifo(folder / "pipe.yaml")
    monkeypatch.chdir(folder)
    return folder


def listing(folder: Path) -> dict[str, object]:
    """Every path below ``folder`` with its kind and bytes."""
    return {
        str(p.relative_to(folder)): p.read_bytes() if p.is_file() and not p.is_symlink() else p.lstat().st_mode
        for p in sorted(folder.rglob("*"))
    }


def unmarked(text: str) -> tuple[str, list[str]]:
    """The text without its marks, and the places of the marks as ``line:column``."""
    places, line, column, plain = [], 1, 1, []
    for char in text:
        if char == MARK:
            places.append(f"{line}:{column}")
            continue
        plain.append(char)
        line, column = (line + 1, 1) if char == "\n" else (line, column + 1)
    return "".join(plain), places


def prepare(row: Row, folder: Path) -> list[str]:
    """Write the broken files of a row. Returns the expected places, in file order, then by line."""
    changed: dict[str, str] = {}
    for file, content in row.files:
        if isinstance(content, bytes):
            (folder / file).write_bytes(content)
        else:
            changed[file] = content
    for file, old, new in row.edits:
        text = changed.get(file) or (folder / file).read_text("utf-8")
        assert text.count(old) >= 1, f"row {row}: {old!r} is no longer in the demo's {file}"
        changed[file] = text.replace(old, new, 1)
    places = []
    for file in sorted(changed):
        plain, found = unmarked(changed[file])
        (folder / file).write_bytes(plain.encode("utf-8"))
        places += [f"{file}:{place}" for place in found]
    return list(row.at) or places


def test_marks_are_counted_right() -> None:
    # Counted by hand.
    assert unmarked(f"a\nbc{MARK}d\n{MARK}") == ("a\nbcd\n", ["2:3", "3:1"])


def test_the_table_is_long_enough() -> None:
    assert len(ROWS) + len(USAGE) >= 60
    assert len({row.name for row in ROWS}) == len(ROWS)
    assert len(TOKENS) >= 40 and len(set(TOKENS)) == len(TOKENS)


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_bad_file(row: Row, job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    expected = prepare(row, job)
    assert len(expected) == len(row.says) == len(row.do), "the row is not complete"
    before = listing(job.parent)
    for name, command in COMMANDS.items():
        start = time.process_time()
        status = main(command(row.argv))
        taken = time.process_time() - start
        out, err = capsys.readouterr()
        assert status == 2, (name, out)
        assert out == "", name
        assert taken < SLOWEST, (name, taken)
        answers_well(err)
        faults = faults_of(err)
        if not row.more:
            assert len(faults) == len(expected), err
        for fault, place, says, do in zip(faults, expected, row.says, row.do, strict=False):
            assert fault.startswith(f"{place}: "), f"expected {place}\n{err}"
            assert says in fault.split("\n")[0], err
            assert do in fault.split("\n  do: ")[1], err
        assert listing(job.parent) == before, name


def answers_well(err: str) -> None:
    """What every refusal has in common."""
    assert "Traceback" not in err and "broke down" not in err, err
    assert err.rstrip().endswith("in the input; nothing was written"), err
    assert all(char == "\n" or char.isprintable() for char in err), ascii(err)
    assert len(err) < 40_000


def faults_of(err: str) -> list[str]:
    """The faults of a message, each with its lines; a fault starts where a line is not indented."""
    faults: list[str] = []
    for line in err.rstrip().split("\n")[:-1]:
        if line.startswith(" "):
            faults[-1] += "\n" + line
        else:
            faults.append(line)
    return faults


@pytest.mark.parametrize("name", USAGE)
def test_bad_command_line(name: str, job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    arguments, says, do = USAGE[name]
    if arguments[:1] == ["draw"] and "required" not in says:
        assert "wiring-diagram" in sheets.names()
    before = listing(job.parent)
    status = main(arguments)
    out, err = capsys.readouterr()
    assert status == 2
    assert out == ""
    assert says in err.split("  do: ")[0], err
    assert do in err.split("  do: ")[1], err
    assert "Traceback" not in err and "broke down" not in err, err
    assert "\x1b" not in err
    assert listing(job.parent) == before


def test_several_files_report_all_their_faults(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (job / "one.yaml").write_text("kind: jmper\n")
    (job / "two.yaml").write_text("title: x\n")
    assert main(["check", J, "two.yaml", "one.yaml", "none.yaml"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    # Sorted by file name, as the order of messages is defined.
    assert [f.split(": ")[0] for f in faults_of(err)] == ["none.yaml:1:1", "one.yaml:1:7", "two.yaml:1:1"]


def test_thousands_of_faults_are_cut_with_their_number(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    wires = "".join(f"  W{n}: {{from: J114-1, to: SP1, length: 60}}\n" for n in range(1000))
    (job / J).write_text(f"kind: jumper\ntitle: x\nairframe: airframe.yaml\nopens: P14/J14\nwires:\n{wires}")
    assert main(["check", J]) == 2
    err = capsys.readouterr().err
    assert err.count("the unit is missing") == 200
    assert "... and 800 more" in err and "1000 faults in the input" in err


# -- what must be accepted -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(lambda data: b"\xef\xbb\xbf" + data, id="BOM"),
        pytest.param(lambda data: data.replace(b"\n", b"\r\n"), id="CRLF"),
        pytest.param(lambda data: b"---\n" + data + b"...\n", id="document marks"),
        pytest.param(lambda data: data.rstrip(b"\n"), id="no line end at the end"),
        pytest.param(
            lambda data: data.replace(b"revision: A", "revision: µ, ², °, é, Ω and 日本".encode()), id="letters"
        ),
    ],
)
def test_accepted(change: Callable[[bytes], bytes], job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", J]) == 0
    plain = capsys.readouterr().out
    (job / J).write_bytes(change((job / J).read_bytes()))
    assert main(["check", J]) == 0
    assert capsys.readouterr().out == plain


def test_places_count_the_same_with_crlf_and_bom(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = (job / J).read_text().replace("to: SP1", f"to: {MARK}SP9", 1)
    plain, (place,) = unmarked(text)
    (job / J).write_bytes(b"\xef\xbb\xbf" + plain.replace("\n", "\r\n").encode())
    assert main(["check", J]) == 2
    assert capsys.readouterr().err.startswith(f"{J}:{place}: ")


# -- caps: just under, at, and over ----------------------------------------------------------------------------------


@pytest.mark.parametrize(("over", "status"), [(-1, 0), (0, 0), (1, 2)])
def test_size_cap(
    over: int, status: int, job: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    cap = 2_000_000
    monkeypatch.setattr(document, "MAX_BYTES", cap)
    data = (job / J).read_bytes()
    (job / J).write_bytes(data + b"#" * (cap + over - len(data)))
    assert main(["check", J]) == status
    if status:
        assert f"{J}:1:1: this file is larger than 2 MB" in capsys.readouterr().err


@pytest.mark.parametrize(("length", "status"), [(399, 0), (400, 0), (401, 2)])
def test_text_cap(length: int, status: int, job: Path) -> None:
    (job / J).write_text((job / J).read_text().replace("revision: A", f"revision: {'r' * length}", 1))
    assert main(["check", J]) == status


@pytest.mark.parametrize(("levels", "deep"), [(49, False), (50, False), (51, True)])
def test_depth_cap(levels: int, deep: bool, job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (job / J).write_text("kind: jumper\na: " + "[" * (levels - 1) + "]" * (levels - 1))
    assert main(["check", J]) == 2
    assert ("nested deeper than 50" in capsys.readouterr().err) is deep


# -- nothing is given a type -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(("typed", "text"), TOKENS, ids=[text for _, text in TOKENS])
def test_text_out_is_text_in(typed: str, text: str, job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    end = f"P1-{text}" if typed[0] not in "'\"" else f"{typed[0]}P1-{text}{typed[0]}"
    # Inside { } a comma or colon needs quotes (without them the file is refused, see the rows).
    block, braces = typed, typed if not set(typed) & set(",:") else f"'{typed}'"
    (job / "a.yaml").write_text(
        f"kind: airframe\ntitle: {block}\n"
        f"circuits:\n  {block}: {{signal: power}}\n"
        f"connectors:\n  P1:\n    cavities:\n      {block}: {{circuit: {braces}}}\n  P2: {{}}\n"
        f"wires:\n  {block}:\n    from: {end}\n    to: P2-1\n"
    )
    assert main(["trace", "a.yaml", f"P1-{text}", "--format", "json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["start"], told["circuits"]) == (f"P1-{text}", [text])
    (step,) = told["steps"]
    assert (step["from"], step["through"], step["to"], step["depth"]) == (f"P1-{text}", text, "P2-1", 1)
    assert main(["check", "a.yaml"]) in (0, 1)
    assert capsys.readouterr().out.startswith(f"{text}\n")


def test_capital_and_small_cavities_are_two_nets(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (job / "a.yaml").write_text(
        "kind: airframe\ntitle: t\nconnectors:\n  P1: {cavities: {a: LOW, A: HIGH}}\n  P2: {}\n"
        "wires:\n  W1: {from: P1-a, to: P2-1}\n  W2: {from: P1-A, to: P2-2}\n"
    )
    for cavity, circuit, far in (("a", "LOW", "P2-1"), ("A", "HIGH", "P2-2")):
        assert main(["trace", "a.yaml", f"P1-{cavity}", "--format", "json"]) == 0
        found = json.loads(capsys.readouterr().out)
        assert (found["circuits"], [step["to"] for step in found["steps"]]) == ([circuit], [far])
