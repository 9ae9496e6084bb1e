"""What the readers of our own files refuse, each with its place and a remedy: the rarer rows beside bad input.

The words are those of the rule that is broken (docs/file-format.md); a refusal names file, line and column.
"""

from __future__ import annotations

import os
import re
from pathlib import Path

import check_cases
import pytest
from check_cases import AIR, BOX, KIT, Case

import harnesscheck as hc
from harnesscheck import document

LONG = "a" * 300 + ".yaml"
ROWS = [
    Case(
        "pin-map-mismatch",
        ((AIR, "      5: AUX PWR\n", "      5: {use: spare, circuit: AUX PWR}\n"),),
        AIR,
        "P1-5 is called spare but carries a wire or circuit",
    ),
    Case(
        "pin-map-mismatch",
        ((AIR, "      5: AUX PWR\n", "      5: {circuit: AUX PWR, signal: can}\n"),),
        AIR,
        "AUX PWR is power elsewhere and can here",
    ),
    Case("pin-map-mismatch", ((AIR, "      5: AUX PWR\n", "      5: {circuit: AUX PWR, breaker: CB9}\n"),), AIR, "CB9"),
    Case(
        "pin-map-mismatch",
        ((BOX, "direction: both}\n      4", "direction: both, loops: 4}\n      4"),),
        BOX,
        "are not of one signal and line",
    ),
    Case(
        "pin-map-mismatch",
        ((BOX, "direction: both}\n      4", "direction: both, loops: 9}\n      4"),),
        BOX,
        "has no other pin '9'",
    ),
    Case(
        "pin-map-mismatch",
        ((KIT, "W5A: {from: J101-5, to: SP5}", "W5A: {from: J101-5, to: SP5, type: M22759/16-22-9, gauge: 20 AWG}"),),
        KIT,
        "gauge 20 AWG is stated, but M22759/16-22-9 is 22 AWG",
    ),
    Case(
        "wrong-contact-family",
        ((KIT, "part: D38999/26WA98SN\n", "part: D38999/26WA98SN\n    gender: pin\n"),),
        KIT,
        "gender pin is stated, but D38999/26WA98SN has gender socket",
    ),
    Case(
        "pin-map-mismatch",
        (
            (AIR, "  J1: {}\n", "  J1: {}\n  P5: {mates: J5}\n  J5: {}\n"),
            (KIT, "P102: {mates: A9J1}", "P102: {mates: J5}"),
        ),
        KIT,
        "J5 stays mated with P5",
    ),
    Case(
        "long-stub",
        (
            (AIR, "kind: airframe\n", "kind: airframe\nlimits: {long-stub: {value: 1 m, reason: r, by: b}}\n"),
            (KIT, "", "limits: {long-stub: {value: 1 m, reason: r, by: b}}\n"),
        ),
        KIT,
        "the limit long-stub is set twice",
    ),
    Case("wire-shorter-than-route", ((KIT, "100 mm from J101", "100 mm"),), KIT, "not a place along the bundle"),
    Case("colour-clash", ((KIT, "colour: '9'", "colour: '9!'"),), KIT, "this is not a colour"),
    Case("too-many-receivers", ((AIR, "receivers: 1", "receivers: one"),), AIR, "this is not a whole number"),
    Case("pin-map-mismatch", ((KIT, "airframe: airframe.yaml", f"airframe: {LONG}"),), KIT, "there is no such file"),
    Case(
        "pin-map-mismatch",
        ((KIT, "airframe: airframe.yaml", "airframe: loop.yaml"),),
        KIT,
        "this path cannot be followed",
    ),
    Case("pin-map-mismatch", ((KIT, "taps:\n", "taps:\n  *one : x\n"),), KIT, "alias *one"),
    Case(
        "pin-map-mismatch",
        ((KIT, "kind: jumper\n", "kind: jumper\n" + "note: \u202e\n" * 25),),
        KIT,
        "hidden or control",
    ),
]


@pytest.mark.parametrize("case", ROWS, ids=lambda case: case.name)
def test_refused_with_its_place(case: Case, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """``counts`` is the file that the refusal names."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "loop.yaml").symlink_to("loop.yaml")
    with pytest.raises(hc.InputError) as caught:
        check_cases.answered(case)
    fault = next(fault for fault in caught.value.faults if case.words in fault.message)
    assert fault.file == case.counts
    assert fault.line > 1
    assert fault.column >= 1
    assert fault.remedy
    assert len(caught.value.faults) <= 20  # a flood is cut off


@pytest.mark.parametrize(("name", "words"), [
    ("folder.yaml", "is a folder, not a file"), ("pipe.yaml", "is not an ordinary file"),
    (LONG, "cannot be read (OSError)"), ("missing.yaml", "does not exist"),
])  # fmt: skip
def test_what_is_no_file(name: str, words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "folder.yaml").mkdir()
    os.mkfifo(tmp_path / "pipe.yaml")
    with pytest.raises(hc.InputError, match=re.escape(words)):
        hc.load(name)


def test_a_file_at_the_size_limit_is_read_and_one_byte_over_is_not(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    text = "kind: airframe\n"
    monkeypatch.setattr(document, "MAX_BYTES", len(text))
    (tmp_path / "a.yaml").write_text(text)
    assert document.read(tmp_path / "a.yaml").root == {"kind": "airframe"}
    (tmp_path / "a.yaml").write_text(text + "\n")
    with pytest.raises(hc.InputError, match="is larger than"):
        document.read(tmp_path / "a.yaml")


def test_a_flood_of_faults_is_cut_off() -> None:
    """Own rule: ``MAX_FAULTS``; nobody reads more, and a hostile file must not fill the terminal."""
    text = "".join(f"k{n}: &a{n} x\n" for n in range(document.MAX_FAULTS + 50))
    with pytest.raises(hc.InputError) as caught:
        document.parse(text.encode(), "flood.yaml")
    assert len(caught.value.faults) == document.MAX_FAULTS


def test_a_list_is_put_on_no_aircraft(tmp_path: Path) -> None:
    (tmp_path / "list.csv").write_text("from,to\nP1-1,P2-1\n")
    with pytest.raises(hc.InputError, match="only a kit is put on an aircraft"):
        hc.load(tmp_path / "list.csv", tmp_path / "other.yaml")
