"""Questions to the parts drawer, as the fabricator asks them."""

import json
from pathlib import Path

import pytest

from harnesscheck.cli import main

DEMO = str(Path(__file__).parents[1] / "harnesses" / "ice-probe" / "jumper.yaml")


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    status = main(["parts", *words])
    captured = capsys.readouterr()
    return status, captured.out, captured.err


def test_find_needs_every_word(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, "find", "sealing", "plug", "22D")
    assert status == 0
    assert "MS27488-22-2" in out
    assert "MS27488-20-2" not in out  # the plug of size 20


def test_find_nothing_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = run(capsys, "find", "no-such-thing")
    assert (status, out) == (2, "")
    assert "try fewer or other words" in err


def test_show_gives_status_and_source_of_each_value(capsys: pytest.CaptureFixture[str]) -> None:
    # 38999 catalogue p. 18: /58-360 is a size 22D pin; its wire range is only recalled.
    status, out, _ = run(capsys, "show", "M39029/58-360")
    assert status == 0
    rows = {line.split("  ")[1].strip(): line for line in out.splitlines() if line.startswith("  ")}
    assert "pin" in rows["gender"]
    assert rows["gender"].endswith("(confirmed)")
    assert "28 AWG to 22 AWG" in rows["gauge"]
    assert rows["gauge"].endswith("(from memory)")
    assert "not known firmly: " in out


def test_show_json_has_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "show", "M39029/58-360", "--format", "json")
    facts = json.loads(out)[0]["facts"]
    assert facts["size"][0] == {**facts["size"][0], "value": "22D", "status": "confirmed"}


def test_show_a_number_that_is_decoded(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "show", "D38999/26WA35SN")
    assert "9-35" in out
    assert "socket" in out


def test_show_a_slip_of_the_keyboard(capsys: pytest.CaptureFixture[str]) -> None:
    status, _, err = run(capsys, "show", "M39029/58-36O")
    assert status == 2
    assert "did you mean M39029/58-36" in err


def test_fit_a_cavity_of_the_demo(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, "fit", DEMO, "--cavity", "P115-1")
    assert status == 0
    # The kit's own contact; the shop has confirmed its gauge range, its seal range may not be firm.
    assert "contact M39029/56-348: yes" in out
    assert "M39029/58-360" not in out  # a pin does not belong into the socket plug
    assert "M39029/57-354" not in out  # a series II socket does not either
    assert "sealing plug MS27488-22-2" in out


def test_fit_a_wire_that_is_too_thick(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "fit", "--connector", "D38999/26WA35SN", "--wire", "M22759/16-16-9")
    assert "contact M39029/56-348: no" in out
    assert "16 AWG outside 28 AWG to 22 AWG (from memory)" in out


def test_fit_says_when_the_value_is_not_confirmed(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "fit", "--connector", "D38999/26WA35SN", "--wire", "M22759/16-22-9")
    assert "contact M39029/56-348: yes, not confirmed" in out


def test_fit_an_unknown_wire_is_not_a_yes(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "fit", "--connector", "D38999/26WA35SN", "--wire", "MYSTERY")
    assert "contact M39029/56-348: not known" in out


@pytest.mark.parametrize(
    "words, phrase",
    [
        (("fit",), "needs a cavity or a connector"),
        (("fit", DEMO, "--cavity", "P999-1"), "there is no cavity"),
        (("fit", DEMO, "--cavity", "P115-77"), "P115 has no cavity"),
        (("fit", "--connector", "nothing"), "there is no connector"),
        (("show", "nothing"), "there is no part"),
        (("find", "x", "--parts", "absent.yaml"), "does not exist"),
    ],
)
def test_bad_questions(capsys: pytest.CaptureFixture[str], words: tuple[str, ...], phrase: str) -> None:
    status, out, err = run(capsys, *words)
    assert (status, out) == (2, "")
    assert phrase in err
    assert "do: " in err
