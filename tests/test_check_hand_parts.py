"""What the checks ask of parts and words, and what they say of circuits that are joined: worked out by hand."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import check_cases
import pytest
from check_cases import AIR, BOX, KIT, Case, Swap
from made_up import FIRM, NEW, SHEET, SOFT, half, harness, wire

import harnesscheck as hc
from harnesscheck import checks
from harnesscheck.checks import _areas, _routes, _seals, _words
from harnesscheck.finding import Severity
from harnesscheck.parts import Fact, Part
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status
from harnesscheck.units import Gauge
from harnesscheck.wire import Cable

# -- parts and words -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("status", "unsure"), [
    (Status.MEMORY, True), (Status.SECOND_HAND, True), (Status.CONFIRMED, False), (Status.STATED, False),
    (Status.DERIVED, False), (None, False),
])  # fmt: skip
def test_seals_who_says_that_a_connector_is_sealed(status: Status | None, unsure: bool) -> None:
    said = Fact("yes", Source("x", status)) if status else None
    found = _seals.unsure(half("P1", NEW, facts={"sealed": said} if said else {}))
    assert found is (said if unsure else None)


def test_areas_and_where_they_come_from() -> None:
    """755 cmil for 22 AWG by Table 11-9; metric sizes are as typed; 40 AWG is no aircraft wire."""
    typed, metric = wire("W1", "A", "B", gauge=Gauge(awg=22)), wire("W2", "A", "B", gauge=Gauge(mm2=0.5))
    one = harness(typed, metric, cables={"C1": Cable("C1", Place("C1"), NEW, type="M27500-22TG2T14")})
    found: Any = _areas.copper(one, typed)
    assert found[0] == pytest.approx(755 * 5.067074790974977e-10)
    assert found[1].firm
    found = _areas.copper(one, metric)
    assert found[0] == pytest.approx(0.5e-6)
    assert (found[1].status, found[1].paragraph) == (Status.STATED, "gauge of W2")
    assert _areas.copper(one, wire("W3", "A", "B", gauge=Gauge(awg=40))) == (
        "the conductor area of 40 AWG is not in the parts drawer"
    )


@pytest.mark.parametrize(("more", "asked"), [
    ({"type": "W"}, "w"), ({"type": "W", "cable": "C1"}, "w"), ({"cable": "C1"}, "c"), ({}, ""), ({"type": "N"}, ""),
    ({"cable": "C1", "core": "shield"}, ""), ({"cable": "C9"}, ""), ({"type": "N", "cable": "C1"}, "c"),
])  # fmt: skip
def test_areas_where_a_gauge_comes_from(more: dict[str, Any], asked: str) -> None:
    """W is a wire and C a cable whose gauge the drawer gives; of N it gives nothing."""
    gauge = {"w": Fact("22", FIRM), "c": Fact("22", SHEET)}
    records = {
        ("wire", "W"): Part("W", "wire", {"gauge": gauge["w"]}), ("wire", "N"): Part("N", "wire", {}),
        ("cable", "C"): Part("C", "cable", {"gauge": gauge["c"]}),
    }  # fmt: skip
    cables = {"C1": Cable("C1", Place("C1"), NEW, type="C")}
    stub: Any = SimpleNamespace(cables=cables, part=lambda kind, number: records.get((kind, number)))
    found = _areas._gauge_source(stub, wire("W1", "A", "B", **more))
    assert found is (gauge[asked].source if asked else None)


@pytest.mark.parametrize(("sources", "found"), [
    ([], None), ([None], None),
    ([FIRM, SHEET], FIRM), ([None, SHEET], SHEET), ([FIRM, SOFT], SOFT), ([SOFT, FIRM], SOFT),
])  # fmt: skip
def test_areas_and_words_the_weakest_source(sources: list[Source | None], found: Source | None) -> None:
    assert _areas.weakest(sources) is found
    assert _words.weakest(*(Fact("x", source) if source else None for source in sources)) is found


def test_words_cavities_in_turn() -> None:
    """Numbers by value, before letters; letters as they are spelled."""
    assert sorted(["b", "10", "A", "9", "2a", "1"], key=_words.in_turn) == ["1", "9", "10", "2a", "A", "b"]
    assert _words.in_turn("7") < _words.in_turn("0a")
    assert _words.cavities([Point("P1", "10"), Point("P1", "9")]) == "P1 cavities 9 and 10"
    assert _words.several("abc", 2) == "a, b and 1 more"
    assert _words.several("aab", 2) == "a and b"
    assert (_words.many(1, "wire"), _words.many(2, "wire"), _words.many(2, "box", "boxes")) == (
        "1 wire", "2 wires", "2 boxes",
    )  # fmt: skip


@pytest.mark.parametrize(("number", "thick"), [
    ("M22759/16-22-9", True), ("XYZ-1", False), (None, False),
])  # fmt: skip
def test_routes_how_thick_a_wire_is(number: str | None, thick: bool) -> None:
    one = wire("W1", "A", "B", type=number)
    (strand,) = _routes.strands(harness(one), [one])
    assert (strand.name, strand.kind) == ("W1", number or "type not stated")
    assert (strand.diameter is not None, strand.source is not None) == (thick, thick)


# -- several circuits on one piece of copper -----------------------------------------------------------------------

MIXED = {
    "copper-in-alloy-run": "thermocouple", "driver-without-listener": "can audio video pulse ethernet rs232",
    "long-bus": "can rs232", "long-stub": "can rs485 rs422 arinc429", "long-stub-sum": "can",
    "missing-isolation-diode": "discrete", "no-tee-class": "ethernet rf video ignition audio",
    "paralleled-sources": "analogue audio video lighting pulse discrete",
    "rate-mismatch": "rs232 rs422 rs485 can arinc429 nmea0183", "second-pull-up": "analogue pulse",
    "signal-load-too-heavy": "analogue nmea0183 lighting discrete rs232", "star-topology": "can rs485 rs422",
    "terminator-not-at-end": "can rs485 rs422", "too-many-receivers": "rs485 arinc429 rs422", "two-drivers": "rs232",
    "wrong-terminator-count": "can rs485",
}  # fmt: skip
JOINED: Swap = (KIT, "wires:\n", "wires:\n  W9: {from: SP1, to: SP2, length: 50 mm}\n")


@pytest.mark.parametrize("check", MIXED)
def test_what_hangs_on_several_circuits_at_once_is_not_passed_over(
    check: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two circuits of a class the check looks at, one piece of copper by a wire of the kit: it says that it cannot."""
    monkeypatch.chdir(tmp_path)
    for signal in MIXED[check].split():
        classes = [(file, "signal: can", f"signal: {signal}") for file in (AIR, BOX)]
        for name, text in check_cases.files(Case("long-stub", (*classes, JOINED), "")).items():
            Path(name).write_text(text, encoding="utf-8")
        report = hc.check(hc.load(KIT), only=[check])
        assert [n.missing.partition(",")[0] for n in report.not_checked] == ["CAN H and CAN L are one piece of copper"]
        assert (report.findings, report.items_passed) == ((), 0)


# -- how grave a fault is ------------------------------------------------------------------------------------------


def test_severities_that_nothing_else_shows() -> None:
    """Checks whose findings state their own severity name the one that stands in lists of checks."""
    assert checks.module("broken-through-circuit").SEVERITY is Severity.STOP
    assert checks.module("split-pair").SEVERITY is Severity.STOP
    assert checks.module("pair-apart").SEVERITY is Severity.CAUTION
