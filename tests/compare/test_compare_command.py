"""The command: exit status, lines to read, the rework list, data, the sheet, slips."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import edits
import pytest

from harnesscheck.cli import main

DESIGN = str(edits.DEMO / edits.J)


def built(folder: Path, text: str, file: str = edits.J) -> str:
    """A copy of the demo with one file written anew; its jumper file."""
    shutil.copytree(edits.DEMO, folder, dirs_exist_ok=True)
    (folder / file).write_text(text, encoding="utf-8")
    return str(folder / edits.J)


def test_a_wire_in_the_wrong_cavity(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Built with R506A22 in P114-13, where S513A22 is. By hand: its contact out and in again, two operations."""
    other = built(tmp_path, edits.swap(edits.J, "to: P114-6,", "to: P114-13,"))
    assert main(["compare", DESIGN, other]) == 1
    text = capsys.readouterr().out
    assert "\n1 differs\n  wire R506A22: end B moved from P114-6 to P114-13\n" in text
    assert "    with it, cavity P114-6: now spare\n" in text
    assert "  parted, circuit AOA TX:\n    J114-6 P14-6\n    J14-6 P114-6\n" in text
    assert "  joined, circuit AOA TX:\n    J114-13 J14-13 P114-13 P14-13\n    J114-6 P14-6\n" in text
    assert "Operations: 2 (remove 1, insert 1; marks not counted); no way takes fewer." in text
    assert "  1. Old R506A22 end B: take out of P114-6\n  2. R506A22 end B: insert into P114-13, tug\n" in text
    assert main(["compare", DESIGN, other, "--format", "json"]) == 1
    data = json.loads(capsys.readouterr().out)
    assert not data["same"]
    assert [d["name"] for d in data["differences"] if not d["comes of"]] == ["R506A22"]
    assert data["circuits"]["parted"] == [{"circuits": ["AOA TX"], "parts": [["J114-6", "P14-6"], ["J14-6", "P114-6"]]}]
    assert data["rework"]["operations"] == {"insert": 1, "remove": 1}


def test_what_is_only_renamed_needs_no_work(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A splice, a connector of the kit and a cable with new names: nothing is cut, crimped or moved."""
    text = edits.read(edits.J).replace("SP3", "SP33").replace("P115", "P215").replace("C501B", "C601B")
    assert main(["compare", DESIGN, built(tmp_path, text)]) == 1
    shown = capsys.readouterr().out
    for line in (
        "splice SP3 is called SP33 now",
        "connector P115 is called P215 now",
        "cable C501B is called C601B now",
        "No circuit changed.",
        "25 wires stay as they are. Operations: 0",
    ):
        assert line in shown, line


def test_two_that_look_alike_are_not_called_renamed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A wire doubled by its like, then both under new names: which is which is not certain."""
    line = next(row[0] for row in edits.wires(edits.J) if row[1] == "W508A22")
    one = tmp_path / "one"
    two = tmp_path / "two"
    a = built(one, edits.swap(edits.J, line, line + "\n" + line.replace("W508A22", "W518A22")))
    b = built(two, edits.swap(edits.J, line, line.replace("W508", "W608") + "\n" + line.replace("W508", "W618")))
    assert main(["compare", a, b]) == 1
    shown = capsys.readouterr().out
    assert "is called" not in shown
    for word in ("W508A22 removed", "W518A22 removed", "W608A22 added", "W618A22 added"):
        assert word in shown


def test_the_aircraft_built_otherwise(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A wire of the aircraft on another cavity is no work on the kit, and said apart."""
    text = edits.swap(edits.A, "to: J14-12, type", "to: J14-13, type").replace("      13: spare\n", "")
    assert main(["compare", DESIGN, built(tmp_path, text, edits.A)]) == 1
    shown = capsys.readouterr().out
    assert "wire L112A20: end B moved from J14-12 to J14-13" in shown
    assert "Shortest rework: 25 wires stay as they are. Operations: 0" in shown
    assert "Shortest rework in the aircraft: 2 wires stay as they are. Operations: 2 (remove 1, insert 1;" in shown


def test_the_sheet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    other = built(tmp_path / "b", edits.swap(edits.J, "length: 60 mm", "length: 70 mm"))
    out = tmp_path / "rework.txt"
    assert main(["compare", DESIGN, other, "-o", str(out)]) == 1
    text = out.read_text()
    assert "Never measure resistance or insulation with equipment" in text.replace("\n", " ")
    assert "P501A20" in text and "70 mm" in text


@pytest.mark.parametrize(
    ("arguments", "said", "remedy"),
    [
        ([DESIGN, str(edits.DEMO / edits.A)], "A is read as a jumper file, B as an airframe file", "of one kind"),
        ([DESIGN, "no.yaml"], "no.yaml", "do:"),
        ([DESIGN], "required: B", "compare --help"),
        ([DESIGN, DESIGN, "-o", "x.doc"], "sheet rework is not written as '.doc'", ".pdf"),
    ],
)
def test_slips(
    arguments: list[str],
    said: str,
    remedy: str,
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["compare", *arguments]) == 2
    shown = capsys.readouterr()
    assert said in shown.err and remedy in shown.err and not shown.out
    assert not list(tmp_path.iterdir())


def test_nothing_a_harness_holds_is_left_out() -> None:
    """A table that is added to the harness has to be compared as well, or named here with the reason."""
    from dataclasses import fields

    from harnesscheck.harness import Harness
    from harnesscheck.rework import things

    source = Path(things.__file__).read_text(encoding="utf-8")
    apart = {
        "kind",  # two kinds are not compared
        "place",  # where it was typed
        "unread",  # what a list says and the file does not hold; check reports it
        "kits",  # several kits at once are only checked; a comparison takes one
        "as_found",  # who looked and when: the title names the aircraft, its differences are in the other tables
    }
    names = {field.name for field in fields(Harness)} - apart
    assert not {name for name in names if f'"{name}"' not in source and f"harness.{name}" not in source}
