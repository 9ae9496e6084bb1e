"""An end that is cut back, capped and tied down: the shield of a stub that is grounded at its other end."""

from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck import sheets

DEMO = Path(__file__).parents[1] / "harnesses" / "ice-probe"
DRAIN = ("D505C22: {from: SP5, to: P115-6,", "D505C22: {from: SP5, to: stowed,")
TAP = ("  A12J1-6: CAN SHIELD\n", "")


def load(folder: Path, *changes: tuple[str, str]) -> hc.Job:
    for file in DEMO.glob("*.yaml"):
        text = file.read_text(encoding="utf-8")
        if file.name == "jumper.yaml":
            for old, new in changes:
                assert text.count(old) == 1, old
                text = text.replace(old, new)
        (folder / file.name).write_text(text, encoding="utf-8")
    return hc.load(folder / "jumper.yaml")


def test_a_stowed_shield_is_neither_floating_nor_a_dead_end(tmp_path: Path) -> None:
    report = hc.check(load(tmp_path, DRAIN, TAP))
    assert not report.findings
    assert not report.not_checked


def test_two_stowed_ends_are_not_one_piece_of_copper(tmp_path: Path) -> None:
    other = ("D505B22: {from: SP5, to: P114-5,", "D505B22: {from: SP5, to: stowed,")
    job = load(tmp_path, DRAIN, TAP, other)
    ends = [wire.b for wire in job.subject.wires.values() if not wire.b.ref]
    assert len({str(end) for end in ends}) == 2
    report = hc.check(job)  # the shield no longer runs through the jumper
    assert not report.clear


def test_a_wire_of_a_circuit_that_is_stowed_breaks_it(tmp_path: Path) -> None:
    report = hc.check(load(tmp_path, ("W508A22: {from: J114-8, to: P114-8,", "W508A22: {from: J114-8, to: stowed,")))
    assert report.findings[0].check == "broken-through-circuit"
    assert "STALL WARN" in report.findings[0].headline


def test_the_bench_is_told_what_to_do(tmp_path: Path) -> None:
    job = load(tmp_path, DRAIN, TAP)
    text = sheets.render("cut-list", job, "text").decode("utf-8")
    assert "cut back, cap and tie down at the bench" in text
    assert "stowed end of D505C22" in sheets.render("wiring-diagram", job, "svg").decode("utf-8")


def test_a_wire_with_two_stowed_ends_is_refused(tmp_path: Path) -> None:
    with pytest.raises(hc.InputError, match="ends where it starts"):
        load(tmp_path, ("W508A22: {from: J114-8, to: P114-8,", "W508A22: {from: stowed, to: stowed,"))
