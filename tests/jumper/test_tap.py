"""The command ``tap`` as a fabricator uses it: first plan, a refusal, a decision, an edit that is kept, slips."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck.cli import main
from harnesscheck.finding import Finding, Severity
from harnesscheck.jumper.deciding import waiver
from tests.jumper.jobs import HARNESSES

PLAN = ["tap", "airframe.yaml", "ice-probe.yaml", "--at", "P14/J14", "--unit", "A12", "-o", "plan.yaml"]
DECIDED = [*PLAN, "--decided", "jumper.yaml"]


@pytest.fixture(autouse=True)
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = shutil.copytree(HARNESSES / "ice-probe", tmp_path / "job")
    monkeypatch.chdir(folder)
    return folder


def edit(old: str, new: str) -> None:
    text = Path("plan.yaml").read_text(encoding="utf-8")
    assert text.count(old) == 1, f"{text.count(old)} times: {old}"
    Path("plan.yaml").write_text(text.replace(old, new), encoding="utf-8")


def test_plan_check_and_cut_list(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(DECIDED) == 0
    out = capsys.readouterr().out
    assert "A12J1-1 taps WING EQPT PWR at P14-1" in out and "not NAV LT PWR" in out
    assert "A12J1-5 stays open" in out and "stays off" in out
    assert "Technical help, not approved data" in out and "Nothing to stop for" in out
    assert main(["check", "--strict", "plan.yaml"]) == 0
    assert main(["sheet", "cut-list", "plan.yaml", "-o", "cut-list.csv"]) == 0
    text = Path("plan.yaml").read_text(encoding="utf-8")
    assert "# the only ground circuit" in text or "A12J1-2" in text
    assert all(len(line) <= 120 for line in text.splitlines() if not line.startswith("    reason:"))


def test_without_a_decision_there_is_no_plan(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(PLAN) == 1
    out = capsys.readouterr().out
    assert not Path("plan.yaml").exists()
    assert "300 mm" in out and "305 mm" in out and "splice-near-connector" in out
    assert "bundle-tight-in-passage" in out, "all that a person has to decide is said at once"


def test_a_decision_in_the_plan_itself_is_kept() -> None:
    text = Path("jumper.yaml").read_text(encoding="utf-8")
    Path("plan.yaml").write_text(text[text.index("limits:") :], encoding="utf-8")
    assert main(PLAN) == 0
    assert "both rib holes carry a rubber grommet" in Path("plan.yaml").read_text(encoding="utf-8")
    first = Path("plan.yaml").read_bytes()
    assert main(PLAN) == 0
    assert Path("plan.yaml").read_bytes() == first


def test_a_short_trunk_needs_a_decision(capsys: pytest.CaptureFixture[str]) -> None:
    job = HARNESSES / "cabin-fan"
    for file in ("airframe.yaml", "fan.yaml", "shop-parts.yaml"):
        shutil.copy(job / file, file)
    plan = ["tap", "airframe.yaml", "fan.yaml", "--at", "P31/J31", "-o", "plan.yaml", "--trunk"]
    assert main([*plan, "300 mm"]) == 1
    assert "[splice-near-connector]" in capsys.readouterr().out and not Path("plan.yaml").exists()
    assert main([*plan, "50 mm"]) == 1
    assert "the splices need a trunk of 90 mm" in capsys.readouterr().out  # 30 + 30 + 30: own arithmetic
    assert main([*plan, "900 mm"]) == 0
    assert "length: 900 mm" in Path("plan.yaml").read_text(encoding="utf-8")


def test_fixed_entries_are_kept() -> None:
    assert main(DECIDED) == 0
    old = "  P201C22: {from: SP1, to: P115-1, type: M22759/16-22-9, length: 360 mm, bundle: stub}"
    new = (
        "  P201C22: {from: SP1, to: P115-1, type: M22759/16-22-2, length: 420 mm, bundle: stub}  # fixed: red in stock"
    )
    edit(old, new)
    edit("revision: A", "revision: C  # fixed")
    edit("    name: plug for probe receptacle", "    name: probe plug, bought already  # fixed")
    assert main(PLAN) == 0, "limits stay without --decided"
    text = Path("plan.yaml").read_text(encoding="utf-8")
    assert new in text and old not in text
    assert "revision: C  # fixed" in text and "probe plug, bought already" in text
    assert main(["check", "--strict", "plan.yaml"]) == 0


def test_an_edit_that_is_not_marked_goes() -> None:
    assert main(DECIDED) == 0
    edit("length: 360 mm", "length: 420 mm")
    assert main(PLAN) == 0
    assert "length: 420 mm" not in Path("plan.yaml").read_text(encoding="utf-8")


def test_a_fixed_tap_is_what_is_tapped(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(DECIDED) == 0
    edit("  A12J1-1: WING EQPT PWR", "  A12J1-1: STALL WARN  # fixed")
    before = Path("plan.yaml").read_bytes()
    capsys.readouterr()
    assert main(PLAN) == 1
    assert "STALL WARN" in capsys.readouterr().out
    assert Path("plan.yaml").read_bytes() == before


def test_a_fixed_entry_that_contradicts_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(DECIDED) == 0
    edit("type: M22759/16-22-9, length: 360 mm, bundle: stub}", "length: 90 mm, gauge: 30 AWG}  # fixed")
    before = Path("plan.yaml").read_bytes()
    capsys.readouterr()
    assert main(PLAN) == 1
    assert "marked # fixed: P201C22" in capsys.readouterr().out
    edit("to: P115-1, length: 90 mm", "to: P199-1, length: 90 mm")
    before = Path("plan.yaml").read_bytes()
    assert main(PLAN) == 2
    err = capsys.readouterr().err
    assert "plan.yaml:" in err and "P201C22" in err and "P199" in err
    assert Path("plan.yaml").read_bytes() == before


def test_a_file_of_ones_own_is_not_overwritten(capsys: pytest.CaptureFixture[str]) -> None:
    before = Path("jumper.yaml").read_bytes()
    assert main([*PLAN[:-1], "jumper.yaml"]) == 2
    assert "is no plan of this command" in capsys.readouterr().err
    assert Path("jumper.yaml").read_bytes() == before


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        (["--at", "P14/J15"], "not a mated pair"),
        (["--at", "P14"], "P14"),
        (["--use", "A12J1-1"], "--use"),
        (["--use", "A12J1-99=P14-1"], "no such pin"),
        (["--trunk", "300"], "--trunk"),
        (["--route", "leading edge"], "there is no route"),
        (["-o", "plan.txt"], "not written as"),
        (["-o", "/nowhere/plan.yaml"], "airframe.yaml"),
        (["--decided", "missing.yaml"], "missing.yaml"),
    ],
)
def test_slips_are_said(changed: list[str], said: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*DECIDED, *changed]) in (1, 2)
    out, err = capsys.readouterr()
    assert said in out + err and "broke down" not in err, err
    assert not Path("plan.yaml").exists()


def test_a_person_chooses_the_circuit(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*DECIDED, "--use", "A12J1-1=P14-8"]) == 1
    assert "STALL WARN" in capsys.readouterr().out
    assert main([*DECIDED, "--use", "A12J1-1=P14-1"]) == 0
    assert "asked for by a person" in capsys.readouterr().out


def test_the_same_from_python() -> None:
    assert main(DECIDED) == 0
    made = hc.plan_tap(
        "airframe.yaml", Path("ice-probe.yaml"), "P14/J14", "plan.yaml", units=["A12"], decided="jumper.yaml"
    )
    assert made.text == Path("plan.yaml").read_text(encoding="utf-8")
    refused = hc.plan_tap("airframe.yaml", ["ice-probe.yaml"], "P14/J14", "other.yaml", use={"A12J1-1": "P14-8"})
    assert refused.text is None and refused.noes and not Path("other.yaml").exists()
    with pytest.raises(hc.InputError, match="no pin"):
        hc.plan_tap("airframe.yaml", "ice-probe.yaml", "P14/J14", "plan.yaml", use={"A12": "P14-8"})


def test_what_a_person_may_decide_is_printed_to_be_filled_in(capsys: pytest.CaptureFixture[str]) -> None:
    """The block is taken as it is printed: blank it is refused, filled in it makes the plan."""
    assert main(PLAN) == 1
    out = capsys.readouterr().out
    block = out[out.index("\nlimits:") + 1 :]
    Path("decided.yaml").write_text(block, encoding="utf-8")
    assert main([*PLAN, "--decided", "decided.yaml"]) == 2
    err = capsys.readouterr().err
    assert "decided.yaml:" in err and "plan.yaml:" not in err and "the value is missing" in err
    assert not Path("plan.yaml").exists()
    filled = block.replace("reason:", "reason: tied down").replace("by:", "by: demo fabricator")
    for check, value in (("splice-near-connector", "40 mm"), ("bundle-tight-in-passage", "2 mm")):
        filled = filled.replace(f"{check}:\n    value:", f"{check}:\n    value: {value}")
    Path("decided.yaml").write_text(filled, encoding="utf-8")
    assert main([*PLAN, "--decided", "decided.yaml"]) == 0, capsys.readouterr().out
    assert Path("plan.yaml").read_text(encoding="utf-8").count("demo fabricator") == 2


def test_nothing_that_stops_a_job_is_offered_for_decision() -> None:
    place = hc.load("jumper.yaml").subject.connectors["P114"].place
    found = Finding(headline="x", place=place, check="energised-pins", severity=Severity.STOP)
    assert waiver(found) is None
    offered = waiver(replace(found, severity=Severity.CAUTION))
    assert offered is not None and offered.section == "waivers" and "    at: P114" in offered.lines


def test_slips_in_a_file_of_decisions(capsys: pytest.CaptureFixture[str]) -> None:
    Path("decided.yaml").write_text("title: x\n", encoding="utf-8")
    assert main([*PLAN, "--decided", "decided.yaml"]) == 2
    assert "decided.yaml:1:1: nothing is decided in this file" in capsys.readouterr().err
    Path("decided.yaml").write_text("waivers:\n  energised-pins: x\n", encoding="utf-8")
    assert main([*PLAN, "--decided", "decided.yaml"]) == 2
    err = capsys.readouterr().err
    assert "decided.yaml:2:3: waivers is a list" in err and "dash, like - {at: ..., by: ..." in err
