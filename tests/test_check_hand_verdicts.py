"""Verdicts of single checks on bare records, each boundary on both sides; worked out by hand (all data invented)."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import check_cases
import pages
import pytest
from check_cases import AIR, BOX, KIT, Case, Swap

from harnesscheck.checks import (
    _pinmap,
    colour_clash,
    double_feed,
    drain_on_wrong_contact,
    plug_larger_than_passage,
    rate_mismatch,
    shifted_pin_map,
)
from harnesscheck.checks._shields import Carried
from harnesscheck.checks._supply import Copper, coppers
from harnesscheck.circuit import Circuit
from harnesscheck.connector import Cavity, Connector, Origin, Use
from harnesscheck.device import Breaker, Bus, Pin
from harnesscheck.finding import Finding, NotChecked, Passed, Report, Severity
from harnesscheck.harness import Harness, Kind
from harnesscheck.parts import Fact, Part, open_drawer
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status
from harnesscheck.wire import Wire

NEW, OLD = Origin.JUMPER, Origin.AIRFRAME
SAID = Source("invented for the test", Status.STATED)


@pytest.fixture(autouse=True)
def _here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def told(page: str, *swaps: Swap, job: int = 0) -> Report:
    return check_cases.answered(Case(page, swaps, "", job=job))


def wire(name: str, origin: Origin = NEW, **more: Any) -> Wire:
    return Wire(name, Point("J1", name), Point("P1", name), origin, **more)


# -- double-feed ---------------------------------------------------------------------------------------------------

BREAKERS = {f"CB{n}": Breaker(f"CB{n}", Place(f"CB{n}"), OLD, bus=f"B{n}") for n in (1, 2)}
BUSES = {f"B{n}": Bus(f"B{n}", Place(f"B{n}"), OLD) for n in (1, 2)}
LAMP, FAN, TEST = (
    Circuit(name, Place(name), signal, breaker=breaker)
    for name, signal, breaker in (("LAMP", "power", "CB1"), ("FAN", "power", "CB2"), ("TEST", "power", None))
)


def piece(
    *circuits: Circuit, loads: str = "", named: str = "", buses: str = "", origin: Origin = NEW, **more: Any
) -> Copper:
    return Copper(
        wires=[wire("W0", OLD), wire("W1", origin)], circuits={c.name: c for c in circuits},
        loads=[BREAKERS[f"CB{n}"] for n in loads], named=[BREAKERS[f"CB{n}"] for n in named],
        buses=[f"B{n}" for n in buses], **more,
    )  # fmt: skip


def feeds(*found: Copper, before: tuple[Copper, ...] = ()) -> list[Any]:
    derive = coppers.__wrapped__  # type: ignore[attr-defined]
    old: Any = SimpleNamespace(views={derive: list(before)}, breakers=BREAKERS, buses=BUSES, before=None)
    one: Any = SimpleNamespace(
        kind=Kind.INSTALLED, views={derive: list(found)}, breakers=BREAKERS, buses=BUSES, before=old
    )
    return list(double_feed.check(one))


PIN = Pin(Point("A9J1", "1"), Place("A9J1-1"), "POWER", "power")


@pytest.mark.parametrize(("one", "good", "asked", "joined"), [
    (piece(LAMP), 1, 0, ""),
    (piece(LAMP, loads="1"), 1, 0, ""),
    (piece(LAMP, loads="2"), 0, 0, "CB2 and CB1"),
    (piece(LAMP, FAN), 0, 0, "CB1 and CB2"),
    (piece(LAMP, TEST), 1, 0, ""),
    (piece(TEST), 0, 1, ""),  # nobody says what feeds it
    (piece(TEST, loads="1"), 1, 0, ""),
    (piece(TEST, loads="12"), 0, 0, "CB1 and CB2"),
    (piece(named="1"), 1, 0, ""),  # a cavity names its breaker, and no circuit
    (piece(named="12"), 0, 0, "CB1 and CB2"),
    (piece(named="2", loads="1"), 1, 0, ""),  # copper before names
    (piece(buses="1"), 1, 0, ""),
    (piece(loads="1", buses="1"), 1, 0, ""),  # the bus behind its own breaker
    (piece(loads="1", buses="2"), 0, 0, "CB1 and B2"),
    (piece(buses="12"), 0, 0, "B1 and B2"),
    (piece(loads="1", buses="12"), 0, 0, "CB1, B1 and B2"),
    (piece(LAMP, FAN, origin=OLD), 0, 0, ""),  # the kit does not touch it
    (piece(TEST, origin=OLD), 0, 0, ""),
    (piece(), 0, 0, ""),
])  # fmt: skip
def test_double_feed_of_one_piece_of_copper(one: Copper, good: int, asked: int, joined: str) -> None:
    for found in ([one], [piece(), one], [piece(LAMP, origin=OLD), one, piece()]):
        said = feeds(*found)
        assert [a.missing for a in said if isinstance(a, NotChecked)] == ["what feeds TEST is not known"] * asked
        assert [a.value for a in said if isinstance(a, Finding)] == [f"joined: {joined}"] * bool(joined)
        assert [a.place.label for a in said if isinstance(a, Finding)] == ["W1"] * bool(joined)
        assert said[-1] == Passed(good, "pieces of copper with one feed")


@pytest.mark.parametrize(("now", "before", "severity"), [
    (piece(LAMP, FAN), (), None),
    (piece(LAMP, FAN), (piece(LAMP), piece(FAN)), None),
    (piece(LAMP, FAN), (piece(LAMP, FAN),), Severity.NOTE),
    (piece(LAMP, FAN, pins=[PIN]), (piece(LAMP, FAN),), Severity.CAUTION),  # the new unit hangs on it now
    (piece(LAMP, FAN, pins=[PIN]), (), None),
    (piece(LAMP, FAN, buses="1"), (piece(LAMP, FAN),), Severity.NOTE),
    (piece(LAMP, FAN, buses="12"), (piece(LAMP, FAN),), None),
])  # fmt: skip
def test_double_feed_that_was_there_before(now: Copper, before: tuple[Copper, ...], severity: Severity | None) -> None:
    said = feeds(now, before=before)[0]
    assert said.severity is severity
    assert said.headline.endswith(", as in the airframe before") is (severity is not None)


def test_double_feed_a_cavity_names_its_breaker_and_no_circuit() -> None:
    """The check used to break down on it: nothing else says what is fed there."""
    cavity: Swap = (AIR, "1: LAMP", "1: {breaker: CB1}")
    alone: Swap = (AIR, "  L1: {from: CB1-load, to: J1-1, gauge: 20 AWG, length: 3 m}\n", "")
    assert pages.counted(told("double-feed", cavity, alone)) == "1 passed"


# -- shifted-pin-map -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("goes", "runs"), [
    # cavity by cavity, in the order of the insert: where 1, 2, 3 ... lead to; a point is led nowhere
    ("23456789.", [(1, "12345678")]),
    (".12345678", [(-1, "23456789")]),
    ("234.56789", [(1, "123")]),
    ("234556789", [(1, "1234")]),
    ("231456789", []),  # two in a row are too few
    ("213456789", []),
    ("2345.4567", [(1, "1234")]),  # off by two is no shift
    ("234576789", [(1, "1234")]),  # and one back, but only 6 to 7
    ("2341.5678", [(1, "123"), (-1, "6789")]),
    ("23.45.78.", []),
    ("234x56789", [(1, "123")]),  # x is no cavity of this insert
    ("123456789", []),
    ("...456...", []),
    ("1235678.9", [(1, "4567")]),
])  # fmt: skip
def test_shifted_pin_map_runs(goes: str, runs: list[tuple[int, str]]) -> None:
    led = {str(n): to for n, to in enumerate(goes, 1) if to != "."}
    pins = _pinmap.PinMap("P1", "J1", Connector("P1", Place("P1"), OLD), (), led, {})
    assert [(step, "".join(run)) for step, run in shifted_pin_map._runs(pins, tuple("123456789"))] == runs


@pytest.mark.parametrize(("shifts", "good", "found"), [
    (["123456789"], 1, 0), (["213456789"], 1, 0), (["23456789."], 0, 1), (["231456789"], 1, 0),
    (["321456789", "23456789.", "123456789"], 2, 1), (["2341.5678"], 0, 2), (["23456789.", "23456789."], 0, 2),
])  # fmt: skip
def test_shifted_pin_map_counts_maps(monkeypatch: pytest.MonkeyPatch, shifts: list[str], good: int, found: int) -> None:
    half = Connector("P1", Place("P1"), OLD, names=tuple("123456789"))
    maps = []
    for goes in shifts:
        led = {str(n): to for n, to in enumerate(goes, 1) if to != "."}
        maps.append(_pinmap.PinMap("P1", "J1", half, ("J101",), led, {name: (Place(name),) for name in led}))
    monkeypatch.setattr(_pinmap, "maps", lambda _: iter(maps))
    said = list(shifted_pin_map.check(None))  # type: ignore[arg-type]
    assert said[-1] == Passed(good, "pin maps")
    assert sum(isinstance(answer, Finding) for answer in said) == found


# -- plug-larger-than-passage --------------------------------------------------------------------------------------

SHELL = {"plug diameter": "30 mm", "jam nut diameter": "34 mm", "flange square": "24 mm", "flange diagonal": "33 mm"}


def girth(style: str | None, mount: str | None, shell: dict[str, str]) -> Any:
    records = {
        ("shell", "38999-III-11"): Part("s", "shell", {name: Fact(value, SAID) for name, value in shell.items()}),
        ("connector", "N1"): Part("N1", "connector", {"mount": Fact(mount, SAID)} if mount else {}),
    }
    facts = {"family": "38999-III", "shell": "11", "style": style}
    stub: Any = SimpleNamespace(part=lambda kind, number: records.get((kind, number)))
    half = Connector("P1", Place("P1"), NEW, part="N1", facts={k: Fact(v, SAID) for k, v in facts.items() if v})
    return plug_larger_than_passage._girth(stub, half)


@pytest.mark.parametrize(("style", "mount", "least", "enough", "words"), [
    ("plug", None, 30, 30, "the plug is 30 mm across"),
    ("receptacle", "jam nut", 34, 34, "its jam nut flange is 34 mm across"),
    ("receptacle", "box mount", 24, 33, "its flange is 24 mm square"),
    ("receptacle", None, 24, 34, "its flange is 24 mm square"),  # which of the two it is, is not known
])  # fmt: skip
def test_plug_larger_than_passage_what_a_connector_needs(
    style: str, mount: str | None, least: float, enough: float, words: str
) -> None:
    found = girth(style, mount, SHELL)
    assert (round(found.least * 1000, 6), round(found.enough * 1000, 6)) == (least, enough)
    assert (found.words, found.source) == (words, SAID)


def test_plug_larger_than_passage_a_nut_smaller_than_the_flange() -> None:
    found = girth("receptacle", None, {**SHELL, "jam nut diameter": "20 mm"})
    assert (round(found.least * 1000, 6), round(found.enough * 1000, 6)) == (20, 33)
    assert girth(None, None, SHELL) == "whether P1 is a plug or a receptacle is not known"
    short = {name: value for name, value in SHELL.items() if name != "flange diagonal"}
    assert girth("receptacle", "box mount", short) == "whether P1 is a plug or a receptacle is not known"


# -- drain-on-wrong-contact ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(("facing", "spare"), [
    ([("mate", Use.SPARE)], True), ([("mate", Use.LIVE)], False), ([("mate", Use.UNKNOWN)], False), ([], False),
    ([("mate", Use.SPARE), ("mate", Use.LIVE)], False), ([("mate", None)], False), ([("W1", Use.SPARE)], False),
    ([("W1", Use.LIVE), ("mate", Use.SPARE)], True),
])  # fmt: skip
def test_drain_on_wrong_contact_what_is_spare(facing: list[tuple[str, Use | None]], spare: bool) -> None:
    points = [(through, Point("P1", str(n))) for n, (through, _) in enumerate(facing)]
    listed = {p: Cavity(p, Place("c"), use=use) for (_, p), (_, use) in zip(points, facing, strict=True) if use}
    stub: Any = SimpleNamespace(neighbours=lambda _: points, cavity=listed.get)
    assert drain_on_wrong_contact._spare(stub, Point("J1", "1")) is spare


@pytest.mark.parametrize(("ends", "headline", "soft"), [
    ([("drain", "signal ground")], "drain S0 of C1 ends at J1-0 on X0, which is a signal return", True),
    ([("drain", "power")], "drain S0 of C1 ends at J1-0 on X0, whose signal is power", False),
    ([("drain", "none")], "drain S0 of C1 ends at J1-0 on X0, which must carry nothing", False),
    ([("drain", "signal ground"), ("shield", "power")], "drain S0 of C1 ends at J1-0 on X0, which is a signal return",
     False),
    ([("drain", "signal ground"), ("white", "shield")], "drain S0 and core S1 of C1 are exchanged at J1-0 and J1-1",
     False),
    ([("white", "shield")], "core S0 of C1 ends at J1-0 on the shield contact X0", False),
])  # fmt: skip
def test_drain_on_wrong_contact_in_words(ends: list[tuple[str, str]], headline: str, soft: bool) -> None:
    listed = [
        (
            Wire(f"S{n}", Point("J1", str(n)), Point("P1", str(n)), NEW, core=core),
            Point("J1", str(n)),
            Carried(f"X{n}", said),
        )
        for n, (core, said) in enumerate(ends)
    ]
    found = drain_on_wrong_contact._finding("C1", "J1", listed)
    assert found.headline == headline
    assert (found.source is drain_on_wrong_contact.RETURN) is soft


# -- colour-clash --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("wires", "good", "clash", "asked"), [
    # A wire is: n new or o old; its colour (a point: not stated); m marked, u nobody has read it, - not marked
    ("n9- n4-", 1, "", 0),
    ("n9- n9-", 0, "W0 and W1", 0),
    ("n9- o9-", 0, "W0 and W1", 0),
    ("o9- o9-", 0, "", 0),
    ("o9- o9- n4-", 1, "", 0),
    ("n9m n9-", 1, "", 0),
    ("n9-", 1, "", 0),
    ("n9- n9- n9-", 0, "W0, W1 and W2", 0),
    ("n9u n9-", 0, "", 1),  # what is printed on one of them is not known
    ("n9u n9u", 0, "", 2),
    ("n9u n9- n9-", 0, "W0, W1 and W2", 0),  # two of them at least are alike
    ("n.- n9-", 0, "", 1),
    ("n.- n.-", 0, "", 2),
    ("n9- o.- o.-", 0, "", 1),  # of the aircraft's it is said once
    ("o.- n.- o.-", 0, "", 2),
    ("n.-", 1, "", 0),  # nothing to confuse it with
    ("o.- o9-", 0, "", 0),
])  # fmt: skip
def test_colour_clash_in_a_bundle(wires: str, good: int, clash: str, asked: int) -> None:
    made = {}
    for n, (origin, hue, mark) in enumerate(map(tuple, wires.split())):
        made[f"W{n}"] = Wire(
            f"W{n}", Point("J1", str(n)), Point("P1", str(n)), NEW if origin == "n" else OLD, bundle="b",
            colour=None if hue == "." else hue, mark={"m": f"M{n}", "u": "unknown", "-": "none"}[mark],
        )  # fmt: skip
    said = list(colour_clash.check(Harness(Kind.INSTALLED, "t", open_drawer(), wires=made)))
    found = [answer for answer in said if isinstance(answer, Finding)]
    assert [answer.headline.partition(" in bundle")[0] for answer in found] == [clash] * bool(clash)
    assert all(("both" in answer.headline) is (len(made) == 2) for answer in found)
    missing = [answer.missing for answer in said if isinstance(answer, NotChecked)]
    assert len(missing) == asked
    assert sum("nor perhaps of others" in words for words in missing) == ("o.-" in wires and asked > 0)
    assert said[-1] == Passed(good, "cables and bundles")


# -- bus lengths and rates -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(("signal", "one", "two", "same"), [
    ("can", 500e3, 500e3, True), ("can", 500e3, 500001.0, False), ("rs232", 12e3, 14.5e3, False),
    ("arinc429", 12e3, 14.5e3, True), ("arinc429", 14.5e3, 12e3, True), ("arinc429", 11999.0, 12500.0, False),
    ("arinc429", 12500.0, 14501.0, False), ("arinc429", 100e3, 12.5e3, False), ("arinc429", 100e3, 100e3, True),
])  # fmt: skip
def test_rate_mismatch_of_two_rates(signal: str, one: float, two: float, same: bool) -> None:
    assert rate_mismatch.same(signal, one, two) is same


STUB = "from: SP2, to: P102-2, length: 260 mm"


@pytest.mark.parametrize(("length", "rate", "counts"), [
    # ISO 11898-2: 0.3 m; up to the looser table (5.5 m at 500 kbit/s) a caution; above 500 kbit/s there is none.
    ("300 mm", "500 kbit/s", "1 passed"), ("301 mm", "500 kbit/s", "1 caution"), ("5.5 m", "500 kbit/s", "1 caution"),
    ("5.51 m", "500 kbit/s", "1 stop"), ("301 mm", "501 kbit/s", "1 stop"), ("300 mm", "1 Mbit/s", "1 passed"),
])  # fmt: skip
def test_long_stub_at_its_limits(length: str, rate: str, counts: str) -> None:
    swaps: list[Swap] = [(KIT, STUB, STUB.replace("260 mm", length)), (AIR, "rate: 500 kbit/s", f"rate: {rate}")]
    assert pages.counted(told("long-stub", *swaps)) == counts


@pytest.mark.parametrize(("own", "rate", "counts"), [
    # The kit adds 0.4 m. 100 m at 500 kbit/s, 25 m at 1 Mbit/s, there up to the 40 m of ISO a caution.
    ("99.6 m", "500 kbit/s", "1 passed"), ("99.7 m", "500 kbit/s", "1 stop"), ("24.6 m", "1 Mbit/s", "1 passed"),
    ("24.7 m", "1 Mbit/s", "1 caution"), ("39.6 m", "1 Mbit/s", "1 caution"), ("39.7 m", "1 Mbit/s", "1 stop"),
    ("10 m", "2 Mbit/s", "1 not checked"), ("39.6 m, kind: J1939", "2 Mbit/s", "1 passed"),
    ("39.7 m, kind: J1939", "250 kbit/s", "1 stop"),
])  # fmt: skip
def test_long_bus_at_its_limits(own: str, rate: str, counts: str) -> None:
    """The job of the page long-stub, with the length of the trunk in the aircraft."""
    said: Swap = (AIR, "rate: 500 kbit/s}", f"rate: {rate}, bus length: {own}}}")
    files = check_cases.files(Case("long-stub", (said,), ""))
    for name, text in files.items():
        Path(name).write_text(text, encoding="utf-8")
    import harnesscheck as hc

    assert pages.counted(hc.check(hc.load(KIT), only=["long-bus"])) == counts


def test_long_stub_of_pins_that_are_to_stay_open() -> None:
    """No pin of the box belongs on the bus, so there is no stub to look at."""
    high: Swap = (BOX, "line: H, direction: both}", "line: H, connect: no}")
    low: Swap = (BOX, "line: L}", "line: L, connect: no}")
    assert pages.counted(told("long-stub", high, low)) == "nothing to look at"
