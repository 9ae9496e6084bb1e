"""The load sheet and the volts sheet of the demo. Sums by hand; the rest is looked for, not compared word by word."""

from __future__ import annotations

import argparse
import csv
import io
from pathlib import Path
from types import ModuleType

import pytest

import harnesscheck as hc
from harnesscheck import sheets
from harnesscheck.commands import load, volts
from harnesscheck.fault import InputError

DEMO = Path(__file__).parents[2] / "harnesses" / "ice-probe"


@pytest.fixture(scope="module")
def demo() -> hc.Job:
    return hc.load(DEMO / "jumper.yaml")


def rows(job: hc.Job, name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(sheets.render(name, job, "csv").decode())))


def test_load_sheet_sums_by_hand(demo: hc.Job) -> None:
    """Cruise: radio 1.1, transponder 1.4, wing equipment 0.6, nav light 1.9, probe 0.9 = 5.9 A.
    Takeoff: 3.5 A of fuel pump and 7.2 A of landing light more = 16.6 A. Battery: 18 Ah x 0.75 / 5.9 A = 137 min."""
    text = sheets.render("load-sheet", demo, "text").decode()
    total = next(line for line in text.splitlines() if line.split()[:1] == ["total"])
    assert total.split()[1:] == ["9.4", "5.9", "16.6", "5.9", "5.9", "5.9", "16.6", "5.9"]
    assert "15.4 A left" in text  # 80 % of 40 A is 32 A
    assert "137 min on battery" in text
    assert next(line for line in text.splitlines() if "CB7  " in line and "%" in line).split() == [
        "CB7", "5", "0.6", "0.9", "1.5", "30", "%", "3.2",
    ]  # fmt: skip
    listed = [row for row in rows(demo, "load-sheet") if row["table"].startswith("bus")]
    assert [row["load"] for row in listed if row["state"] == "new"] == ["A12J1-1 POWER"]
    assert sum(float(row["cruise A"]) for row in listed if row["cruise A"] != "off") == pytest.approx(5.9)


def test_volts_sheet_names_the_worst_case(demo: hc.Job) -> None:
    text = sheets.render("volts", demo, "text").decode()
    assert "worst drop:" in text and "at A12J1-1" in text
    listed = {(row["kind"], row["name"]): row for row in rows(demo, "volts")}
    probe, old = listed["load", "A12J1-1"], listed["load", "load of WING EQPT PWR"]
    assert probe["before V"] == "" and float(old["before V"]) > float(old["continuous V"])
    # What leaves the splice towards the probe and towards the wing is what comes in.
    amps = {name: float(row["continuous A"]) for (kind, name), row in listed.items() if kind == "wire"}
    assert amps["P501A20"] + amps["P501C22"] == pytest.approx(amps["P501B20"], abs=2e-3)
    lost = sum(
        float(listed["wire", name]["drop continuous V"])
        for name in ("P107A20", "P501B20", "P501C22", "P502C22N", "P502B20N", "P108A20N")
    )
    assert lost < float(probe["drop continuous V"]) < lost + 0.2  # and breaker, six contacts, two splices, the bond
    assert {"wire", "contact", "splice", "breaker", "bond"} <= {kind for kind, _ in listed}


@pytest.mark.parametrize("name", ["load-sheet", "volts"])
@pytest.mark.parametrize("file", ["jumper.yaml", "airframe.yaml", "ice-probe.yaml"])
def test_every_kind_of_file_has_its_sheet(name: str, file: str) -> None:
    job = hc.load(DEMO / file)
    text = sheets.render(name, job, "text")
    assert b"Technical help, not approved data" in text
    assert sheets.render(name, job, "text") == text
    assert sheets.render(name, job, "csv")


def test_what_is_not_stated_is_said(tmp_path: Path) -> None:
    for file in DEMO.glob("*.yaml"):
        (tmp_path / file.name).write_text(file.read_text().replace(", load: 0.6 A, peak: 1 A", ""))
    job = hc.load(tmp_path / "jumper.yaml")
    seen, sums = (sheets.render(name, job, "text").decode() for name in ("volts", "load-sheet"))
    assert "A12J1-1: what hangs on WING EQPT PWR already is not stated" in seen
    assert "NOT STATED, and so not in the totals: WING EQPT PWR" in sums


@pytest.mark.parametrize("command", [load, volts])
def test_commands(command: ModuleType, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    parser = argparse.ArgumentParser()
    command.options(parser)
    assert command.run(parser.parse_args([str(DEMO / "jumper.yaml")])) == 0
    assert "SHEET" in capsys.readouterr().out.splitlines()[0]
    assert command.run(parser.parse_args([str(DEMO / "jumper.yaml"), "-o", str(tmp_path / "out.csv")])) == 0
    assert (tmp_path / "out.csv").read_bytes().startswith(b'"')
    with pytest.raises(InputError):
        command.run(parser.parse_args([str(DEMO / "jumper.yaml"), "-o", str(tmp_path / "out.doc")]))
