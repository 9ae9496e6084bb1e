"""A kit's own arithmetic, the words of its sizes, and the call from Python: by hand."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck.fault import Fault, InputError
from harnesscheck.jumper import interface, reasons
from harnesscheck.jumper.interface import plan_tap
from harnesscheck.jumper.kit import STEP, Half, Kit, Lead, Section, up
from harnesscheck.jumper.planning import Asked
from harnesscheck.place import Point
from harnesscheck.units import Gauge

PIN = Point("A1J1", "1")


# -- kit ------------------------------------------------------------------------------------------------------------


def test_lengths_are_rounded_up_to_the_mark() -> None:
    """12 in are 304.8 mm; a micrometre above a mark is the next one, a tenth of it is rounding."""
    assert STEP == 5
    found = {m: up(m) for m in (0.0, 0.3, 0.3048, 0.300001, 0.3000001, 0.305)}
    assert found == {0.0: 0, 0.3: 300, 0.3048: 305, 0.300001: 305, 0.3000001: 300, 0.305: 305}
    assert up(0.3048, 1) == 305 and up(0.3048, 10) == 310 and up(0.31, 10) == 310


def test_the_contact_in_a_cavity() -> None:
    half = Half("P1", "plug", "J1", contacts="C20", own={"3": "C16"})
    assert half.contact("1") == "C20" and half.contact("3") == "C16"
    assert Half("P1", "plug", "J1").contact("1") is None
    assert (half.fitted, half.note, half.why, half.facts) == ("bench", "", (), {})


def test_leads_come_in_file_order() -> None:
    one, two, three = (Lead(n, PIN, PIN, 1, "b") for n in "abc")
    kit = Kit(("P1", "J1"), (), (), (), (Section("x", (two, one)), Section("y", ()), Section("z", (three,))), {})
    assert list(kit.leads()) == [two, one, three] and one.state_gauge is False


# -- why a wire has its size ----------------------------------------------------------------------------------------

G20, G22 = Gauge(awg=20), Gauge(awg=22)


def line(cavity: str = "1", gauge: Gauge | None = None, rating: float | None = None, supply: bool = False,
         signal: str = "discrete", breaker: bool = True) -> Any:  # fmt: skip
    fed = SimpleNamespace(ref="CB1", rating=rating) if breaker else None
    return SimpleNamespace(cavity=cavity, gauge=gauge, breaker=fed, supply=supply, signal=signal)


@pytest.mark.parametrize(
    ("one", "said"),
    [
        (line(gauge=G20, rating=5.0, supply=True), "as thick as the existing 20 AWG"),
        (line(rating=7.5, supply=True), "CB1 has 7.5 A (Table 11-3); not known: the existing size"),
        (line(rating=5.0), "CB1 has 5 A (Table 11-3); not known: the existing size"),
        (line(supply=True), "the thickest that the contacts take; not known: the existing size"),
        (line(breaker=False, supply=True), "the thickest that the contacts take; not known: the existing size"),
        (line(breaker=False, signal="ground"), "the thickest that the contacts take; not known: the existing size"),
        (line(), "signal wire; not known: the existing size"),
    ],
)
def test_a_through_wire(one: Any, said: str) -> None:
    assert reasons.through(one, G22) == f"through wire 22 AWG: {said}"


@pytest.mark.parametrize(
    ("one", "said"),
    [
        (line(rating=7.5, supply=True), "22 AWG behind CB1 (7.5 A, Table 11-3)"), (line(rating=7.5), "22 AWG"),
        (line(supply=True), "22 AWG"), (line(supply=True, breaker=False), "22 AWG"),
        (line(signal="ground"), "22 AWG, as thick as its feed"),
        (line(supply=True, breaker=False, signal="ground"), "22 AWG, as thick as its feed"),
    ],
)  # fmt: skip
def test_a_branch(one: Any, said: str) -> None:
    assert reasons.branch(one, PIN, G22) == f"branch to A1J1-1: {said}"


def test_several_through_wires() -> None:
    known, more, none, last = line("1", G22), line("4", G20), line("2"), line("3")
    assert reasons.group([known, none, more, last]) == (
        "cavity 1, 4: as thick as the existing wire", "not known: the existing size at cavity 2, 3",
    )  # fmt: skip
    assert reasons.group([known]) == ("cavity 1: as thick as the existing wire",)
    assert reasons.group([none]) == ("not known: the existing size at cavity 2",) and reasons.group([]) == ()


# -- from Python ----------------------------------------------------------------------------------------------------


def test_what_is_asked_from_python(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(interface, "plan", lambda asked: asked)
    found: Any = plan_tap(
        Path("air.yaml"), ["a.yaml", Path("b.yaml")], "P14/J14", Path("out.yaml"), use={"A12J1-+28V": "PWR"},
        least="mass", units=iter(["A1", "A2"]), trunk=0.6, route="R", branch=0.4, decided=Path("his.yaml"),
    )  # fmt: skip
    assert found == Asked(
        "air.yaml", ("a.yaml", "b.yaml"), "P14/J14", "out.yaml", {Point("A12J1", "+28V"): "PWR"}, "mass", ("A1", "A2"),
        0.6, "R", 0.4, "his.yaml",
    )  # fmt: skip
    bare: Any = plan_tap("air.yaml", "b.yaml", "P14/J14", "out.yaml")
    assert bare == Asked("air.yaml", ("b.yaml",), "P14/J14", "out.yaml")
    assert (bare.use, bare.decided, plan_tap("a", Path("b"), "c", "d").equipment) == ({}, None, ("b",))  # type: ignore[attr-defined]


@pytest.mark.parametrize("typed", ["A12J1", "A12J1-", "-3", ""])
def test_what_is_no_pin(typed: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(interface, "plan", lambda asked: asked)
    with pytest.raises(InputError) as found:
        plan_tap("air.yaml", "b.yaml", "P14/J14", "out.yaml", use={typed: "PWR"})
    message = f"{typed!r} is no pin of the equipment"
    assert found.value.faults == (Fault("use", 1, 1, message, "", "write it like A12J1-1"),)
