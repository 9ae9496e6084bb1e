"""Starting a job folder: what it writes loads, is laid out canonically, claims nothing, and nothing is overwritten."""

from __future__ import annotations

import os
import re
import select
import subprocess
import sys
import time
from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck import circuit, started
from harnesscheck.cli import main

FILES = ["airframe.yaml", "equipment.yaml", "jumper.yaml", "shop-parts.yaml"]
PLENTY = ["--opens", "P14/J14", "--cavities", "15", "--equipment-pins", "6"]


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize(
    ("flags", "cavities"),
    [
        (PLENTY, 15),
        (["--opens", "P14/J14", "--connector", "M24308/4-2", "--equipment-pins", "1:power,2:ground,3"], 15),
        (["--opens", "PL7/SK7", "--cavities", "A,a,B,NO", "--unit", "A3", "--equipment-pins", "A:can,B:can"], 4),
        (["--opens", "P7/J7", "--cavities", "B C,#,07,1:2,-,{", "--equipment-pins", "B C:can,#:can,07"], 6),
        (["--opens", "P114/J114", "--cavities", "2", "--unit", "P214", "--equipment-pins", "2"], 2),
        (["--opens", "P1/J1", "--cavities", "2", "--title", "it's #1: x, {y}", "--equipment-pins", "2"], 2),
    ],
)
def test_a_new_job_loads_and_says_what_is_not_known(
    flags: list[str], cavities: int, here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", "sub/job", *flags]) == 0
    assert sorted(path.name for path in (here / "sub/job").iterdir()) == FILES
    capsys.readouterr()
    assert main(["format", "--check", *(f"sub/job/{name}" for name in FILES)]) == 0
    job = hc.load("sub/job/jumper.yaml")
    assert job.jumper is not None and len(job.jumper.wires) == cavities
    result = hc.check(job)
    missing = {answer.check for answer in result.not_checked}
    # Nobody has said what the cavities carry, nor which contacts and wires are used: none of it may pass in silence.
    assert {"gauge-change-without-protector", "wrong-contact-family", "wire-outside-crimp-barrel"} <= missing
    assert {"pin-map-mismatch"} <= missing | {finding.check for finding in result.findings}
    assert "Nothing to stop for" not in hc.report.verdict(result)


def test_every_comment_names_a_signal_class(here: Path) -> None:
    assert main(["new", "job", *PLENTY]) == 0
    text = (here / "job/equipment.yaml").read_text()
    assert all(re.search(rf"\b{name}\b", text) for name in circuit.SIGNALS)


def test_what_the_comments_offer_can_be_taken(here: Path) -> None:
    """A person takes the '# ' of the offered lines away: the files still load."""
    assert main(["new", "job", *PLENTY]) == 0
    airframe = here / "job/airframe.yaml"
    text = airframe.read_text()
    for old, new in (
        ("# zones:", "zones:"),
        ("#   avionics bay:", "  avionics bay:"),
        ("# breakers:", "breakers:"),
        ("#   CB7:", "  CB7:"),
        ("# buses:", "buses:"),
        ("#   BUS1:", "  BUS1:"),
        ("# grounds:", "grounds:"),
        ("#   GS3:", "  GS3:"),
        ("# circuits:  ", "circuits:  "),
        ("#   AUX PWR:", "  AUX PWR:"),
        ("#   AUX RTN:", "  AUX RTN:"),
        ("#   DATA OUT:", "  DATA OUT:"),
        ("# sources:", "sources:"),
        ("#   ALT1:", "  ALT1:"),
        ("# routes:  ", "routes:  "),
        ("#   to the box:", "  to the box:"),
        ("# zone: avionics", "zone: avionics"),
        ("# wires:", "wires:"),
        ("#   P107A20:", "  P107A20:"),
        ("      1: unknown", "      1: AUX PWR"),
        ("      2: unknown", "      2: spare"),
    ):
        assert old in text
        text = text.replace(old, new)
    airframe.write_text(text)
    parts = here / "job/shop-parts.yaml"
    offered = [line[2:] for line in parts.read_text().splitlines() if line.startswith("#   ")]
    parts.write_text("kind: parts\nabout: x\nparts:\n" + "\n".join(offered) + "\n")
    jumper = here / "job/jumper.yaml"
    text = jumper.read_text()
    for start in ("# splices:", "#   SP1:", "  #   P501"):
        assert start in text
        text = text.replace(start, start.replace("#   ", "  ", 1).replace("# ", "", 1).replace("    P501", "  P501"))
    jumper.write_text(re.sub(r"(?m)^  T1: .*\n", "", text))
    job = hc.load("job/jumper.yaml")
    assert job.jumper is not None and "SP1" in job.jumper.splices and "P501C22" in job.jumper.wires
    assert job.airframe is not None and job.airframe.circuits["AUX PWR"].breaker == "CB7"


@pytest.mark.parametrize("name", FILES)
def test_nothing_is_overwritten(name: str, here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (here / "job").mkdir()
    (here / "job" / name).write_text("mine\n")
    assert main(["new", "job", *PLENTY]) == 2
    assert f"job/{name}:1:1: this file is there already" in capsys.readouterr().err
    assert [(path.name, path.read_text()) for path in (here / "job").iterdir()] == [(name, "mine\n")]


@pytest.mark.parametrize(
    ("flags", "says", "do"),
    [
        ([], "--opens and --equipment-pins must be given", "new --help"),
        (["--opens", "P14", "--equipment-pins", "2", "--cavities", "2"], "no mated pair", "P14/J14"),
        (["--opens", "P1/P1", "--equipment-pins", "2", "--cavities", "2"], "no mated pair", "P14/J14"),
        (["--opens", "P1/J1", "--equipment-pins", "2"], "not known to the parts drawer", "--cavities"),
        (["--opens", "P1/J1", "--equipment-pins", "2", "--cavities", "0"], "--cavities '0'", "like 15"),
        (["--opens", "P1/J1", "--equipment-pins", "2", "--cavities", "A,A"], "A twice", "once"),
        (["--opens", "P1/J1", "--equipment-pins", "2", "--cavities", "A, \u00b5"], "neither a number", "like 15"),
        (["--opens", "P1/J1", "--equipment-pins", "1:powr,2", "--cavities", "2"], "'powr'", "did you mean power"),
        (["--opens", "P1/J1", "--equipment-pins", "1:power", "--cavities", "2"], "one pin alone", "return"),
        ([*PLENTY, "--unit", "1A"], "'1A' is no reference", "like A12"),
        ([*PLENTY, "--connector", "a\nb"], "no part number", "plain characters"),
        ([*PLENTY, "--title", "a\nb"], "title", "plain characters"),
    ],
)
def test_bad_flags(flags: list[str], says: str, do: str, here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "job", *flags]) == 2
    err = capsys.readouterr().err
    assert says in err.split("  do: ")[0] and do in err.split("  do: ")[1], err
    assert list(here.iterdir()) == []


@pytest.mark.skipif(not hasattr(os, "openpty"), reason="no pseudo terminals here")
def test_on_a_terminal_it_asks(here: Path) -> None:
    terminal, inner = os.openpty()
    child = subprocess.Popen(
        [sys.executable, "-m", "harnesscheck", "new", "job"], stdin=inner, stdout=inner, stderr=inner, cwd=here
    )
    os.close(inner)
    answers = ["Probe, left wing", "P14/J14", "", "", "A,B,C", "", "", "1:power,2:ground"]
    shown = ""
    end = time.monotonic() + 120
    while time.monotonic() < end and child.poll() is None:
        if not select.select([terminal], [], [], 0.1)[0]:
            continue
        try:
            shown += os.read(terminal, 4096).decode()
        except OSError:
            break
        while answers and shown.count("? ") > 8 - len(answers):
            os.write(terminal, answers.pop(0).encode() + b"\n")
    assert child.wait(120) == 0, shown
    os.close(terminal)
    job = hc.load(here / "job" / "jumper.yaml")
    assert job.jumper is not None and job.jumper.title == "Probe, left wing" and len(job.jumper.wires) == 3


LIST = """Wire,Signal,From,Pin,To,Pin,AWG
A1,AUDIO PWR,CB5,load,P7,1,20
A2,AUDIO GND,P7,2,GND,,20
A3,CAN H,P7,3,P9,4,24
A4,CAN L,P7,4,CB9,,24
"""


def test_a_job_from_a_list(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("wires.csv").write_text(LIST)
    told = ["new", "job", "--list", "wires.csv", "--opens", "P7/J7", "--equipment-pins", "1:power,2:ground"]
    assert main([*told, "--aircraft", "Invented two-seater"]) == 0
    assert "1 row or value of the list was not understood" in capsys.readouterr().out  # CB9 without a terminal
    text = Path("job/airframe.yaml").read_text()
    assert "  J7: {}  # not in the list" in text and "\n  CB5: {}  # wires.csv!D2" in text
    job = hc.load("job/jumper.yaml")
    assert job.airframe is not None and job.airframe.title == "Invented two-seater"
    assert job.airframe.mates and sorted(job.airframe.breakers) == ["CB5"]
    assert sorted(job.airframe.circuits) == ["AUDIO GND", "AUDIO PWR", "CAN H"]
    assert job.jumper is not None and len(job.jumper.wires) == 3


def test_a_list_without_the_pair_is_refused(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("wires.csv").write_text(LIST)
    assert main(["new", "job", "--list", "wires.csv", "--opens", "P17/J17", "--equipment-pins", "2"]) == 2
    assert "neither P17 nor J17 stands in the list" in capsys.readouterr().err
    assert [path.name for path in here.iterdir()] == ["wires.csv"]


def test_a_plan_takes_the_place_of_a_file_that_nobody_has_changed(here: Path) -> None:
    assert main(["new", "job", *PLENTY]) == 0
    lines = Path("job/jumper.yaml").read_text().splitlines()
    assert started.untouched(lines) and started.untouched([*lines, ""])
    for number in range(len(lines)):
        assert not started.untouched([*lines[:number], lines[number] + " ", *lines[number + 1 :]]), lines[number]
    assert not started.untouched([*lines, "note: mine"]) and not started.untouched(lines[1:])
    assert not started.untouched([])
