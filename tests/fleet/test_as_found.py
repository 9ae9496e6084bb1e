"""As-found files: what is laid over the type's file, where faults are said to be, and what is refused."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
import random_overlays as ro

import harnesscheck as hc
from harnesscheck.cli import main

DEMO = ro.DEMO
HEAD = "kind: as-found\nairframe: ../airframe.yaml\naircraft: LN-TST\nby: tester\ndate: 2026-11-20\n"


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for file in DEMO.glob("*.yaml"):
        shutil.copy(file, tmp_path)
    (tmp_path / "aircraft").mkdir()
    monkeypatch.chdir(tmp_path)
    return tmp_path


def found(job: Path, text: str) -> str:
    (job / "aircraft" / "tst.yaml").write_text(HEAD + text)
    return "aircraft/tst.yaml"


def faults(file: str, kit: str = "") -> list[tuple[str, int, int, str, str]]:
    with pytest.raises(hc.InputError) as error:
        hc.load(kit, on=file) if kit else hc.load(file)
    return [(f.file, f.line, f.column, f.message, f.remedy) for f in error.value.faults]


@pytest.mark.parametrize("seed", range(40))
def test_an_overlay_says_the_same_as_the_edited_file(seed: int, tmp_path: Path) -> None:
    """Oracle: the edited airframe file, made on plain dictionaries. 500 pairs: see ``random_overlays``."""
    one, two = ro.pair(tmp_path, seed)
    assert one == two


def test_the_drawn_edits_are_worth_the_name(tmp_path: Path) -> None:
    base = ro.answer(DEMO / "airframe.yaml")
    changed = [one for seed in range(12) if (one := ro.pair(tmp_path, seed)[0]) != base]
    assert len(changed) >= 9
    assert sum(isinstance(one, dict) for one in changed) >= 6


def test_no_difference_gives_the_type(job: Path) -> None:
    file = found(job, "")
    assert ro.bare(hc.load(file).subject) == ro.bare(hc.load("airframe.yaml").subject)
    kit, there = hc.load("jumper.yaml").subject, hc.load("jumper.yaml", on=file).subject
    assert ro.bare(kit) == ro.bare(there)
    assert there.title == "Ice probe jumper, left wing root, LN-TST as found"
    assert hc.check(there).reach == "On aircraft LN-TST as found 2026-11-20 by tester."


def test_a_fault_of_the_overlay_is_at_its_own_line(job: Path) -> None:
    # The head is five lines; P107A20 stands in line 7, its length is typed in column 22.
    file = found(job, "wires:\n  P107A20: {length: 12}\n")
    assert faults(file)[0][:4] == (file, 7, 21, "length '12': the unit is missing")


def test_a_finding_on_a_measured_value_shows_the_overlay(job: Path) -> None:
    file = found(job, "wires:\n  P107A20: {length: 12 m}\n")
    report = hc.check(hc.load("jumper.yaml", on=file))
    (drop,) = [f for f in report.findings if f.check == "excess-voltage-drop"]
    places = {(p.file, p.line, p.text) for p in (drop.place, *drop.others)}
    assert (file, 7, "  P107A20: {length: 12 m}") in places
    assert not hc.check(hc.load("jumper.yaml")).findings


def test_the_place_of_what_the_overlay_changes_is_in_the_overlay(job: Path) -> None:
    """Line and column counted in the text below, whose first line is line 6 of the file."""
    file = found(job, "connectors:\n  P14:\n    cavities:\n      4: {terminated: no}\n      5: spare\n"
                 "routes:\n  leading edge run: {length: 410 mm}\n")  # fmt: skip
    harness = hc.load(file).subject
    cavities = harness.connectors["P14"].cavities
    assert [cavities[name].place.where() for name in ("4", "5")] == [f"{file}:9:7", f"{file}:10:7"]
    assert harness.routes["leading edge run"].place.where() == f"{file}:12:3"
    # What it does not change stays where it was: the half itself, and its other cavities.
    assert {harness.connectors["P14"].place.file, cavities["3"].place.file} == {"airframe.yaml"}


REFUSED = [
    ("wires:\n  P107A02: {length: 2 m}\n", 7, 3, "no wire 'P107A02'", "did you mean P107A20?"),
    ("wires:\n  P107A02: none\n", 7, 3, "no wire 'P107A02'", "did you mean P107A20?"),
    ("connectors:\n  P41: {part: X}\n", 7, 3, "no connector 'P41'", "put it under added: connectors:"),
    ("connectors:\n  P14: {cavities: {33: spare}}\n", 7, 20, "no cavity '33'", "did you mean 3 or 13?"),
    ("buses:\n  BUS2: {supply: 28 V}\n", 7, 3, "no bus 'BUS2'", "did you mean BUS1?"),
    ("routes:\n  leading edge run: {passages: {nose rib 3: 9 mm}}\n", 7, 33, "no passage 'nose rib 3'", "did you mean"),
    ("wires:\n  P107A20: {lenght: 2 m}\n", 7, 13, "unknown key 'lenght'", "did you mean length?"),
    ("wires:\n  P107A20: {lenght: unknown}\n", 7, 13, "no 'lenght' here that could be taken back", "length"),
    ("wire:\n  P107A20: {length: 2 m}\n", 6, 1, "unknown key 'wire'", "did you mean wires?"),
    ("added: {wires: {P107A20: {from: CB7-load, to: GS3}}}\n", 6, 17, "has wire 'P107A20' already", "under wires:"),
    ("added: {connectors: {P14: {cavities: {3: spare}}}}\n", 6, 39, "names '3' here already", "outside added:"),
    ("wires: {P107A20: {type: }}\n", 6, 25, "type: the value is missing", ""),
    ("wires: {P107A20: thin}\n", 6, 18, "holds the text 'thin'", "write keys and values"),
    ("breakers: {CB7: none}\n", 6, 12, "", "tst.yaml:6 takes CB7 away"),
]


@pytest.mark.parametrize("text,line,column,says,do", REFUSED, ids=[row[3] or row[4] for row in REFUSED])
def test_what_would_do_nothing_is_refused(job: Path, text: str, line: int, column: int, says: str, do: str) -> None:
    file = found(job, text)
    for listed in (faults(file), faults(file, "jumper.yaml")):
        if says:
            at = next(fault for fault in listed if says in fault[3])
            assert at[:3] == (file, line, column)
            assert do in at[4]
        else:  # a line of the type's file that lost what it needs: said there, with where it went
            assert all(fault[0] == "airframe.yaml" and do in fault[4] for fault in listed), listed


def test_the_head_must_say_which_aircraft_and_who_looked(job: Path) -> None:
    (job / "aircraft" / "tst.yaml").write_text("kind: as-found\nairframe: ../airframe.yaml\n")
    assert [fault[3] for fault in faults("aircraft/tst.yaml")] == [
        "this file has no 'aircraft'", "this file has no 'by'", "this file has no 'date'",
    ]  # fmt: skip


def test_the_type_file_may_lie_one_folder_up_and_no_further(job: Path) -> None:
    file = found(job, "")
    (job / "aircraft" / "deep").mkdir()
    (job / "aircraft" / "deep" / "t.yaml").write_text(HEAD.replace("../airframe", "../../airframe"))
    assert hc.load(file).subject.wires
    assert "may not leave the folder" in faults("aircraft/deep/t.yaml")[0][3]


def test_a_value_taken_back_is_not_checked(job: Path) -> None:
    file = found(job, "wires: {P107A20: {length: unknown}}\n")
    report = hc.check(hc.load("jumper.yaml", on=file))
    assert any(n.check == "excess-voltage-drop" and "P107A20" in n.missing for n in report.not_checked)


@pytest.mark.parametrize("command", ["check", "trace", "draw", "sheet", "volts", "load"])
def test_every_command_takes_the_aircraft(job: Path, command: str, capsys: pytest.CaptureFixture[str]) -> None:
    file = found(job, "routes: {leading edge run: {length: 460 mm}}\ncircuits: {WING EQPT PWR: {load: 0.8 A}}\n")
    rest = {"trace": ["P14-3"], "draw": ["-o", "x.svg"]}.get(command, [])
    argv = ["sheet", "cut-list", "jumper.yaml"] if command == "sheet" else [command, "jumper.yaml", *rest]
    assert main([*argv, "--on", file]) == (1 if command == "check" else 0)
    out = capsys.readouterr().out + ((job / "x.svg").read_text() if command == "draw" else "")
    assert "LN-TST" in out or command == "trace"


def test_only_a_kit_is_put_on_an_aircraft(job: Path) -> None:
    file = found(job, "")
    assert "only a kit is put on an aircraft" in faults(file, "airframe.yaml")[0][3]
    with pytest.raises(hc.InputError, match="this is an equipment file"):
        hc.load("jumper.yaml", on="ice-probe.yaml")
