"""How checks word numbers and lists, and how they read marks and colours on a wire: limits and just over them."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck import checks
from harnesscheck.checks import _along, _areas, _marks, _power, _words
from harnesscheck.finding import Passed
from harnesscheck.harness import Harness, Kind
from harnesscheck.parts import open_drawer
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status
from harnesscheck.units import Gauge

FIRM, SOFT = (Source("invented for the test", status) for status in (Status.CONFIRMED, Status.MEMORY))
HARNESS = Harness(Kind.INSTALLED, "t", open_drawer())


@pytest.mark.parametrize(("names", "said"), [
    ([], ""), (["1"], "1"), (["1", "2"], "1 and 2"), (["1", "2", "3", "2"], "1, 2 and 3"),
    (list("abcdefghijkl"), "a, b, c, d, e, f, g, h, i, j, k and l"),
    (list("abcdefghijklm"), "a, b, c, d, e, f, g, h, i, j, k, l and 1 more"),
])  # fmt: skip
def test_a_list_of_names_ends_at_twelve(names: list[str], said: str) -> None:
    assert _words.several(names) == said


def test_one_and_many() -> None:
    assert [_words.many(n, "wire") for n in (0, 1, 2)] == ["0 wires", "1 wire", "2 wires"]
    assert [_words.many(n, "cavity", "cavities") for n in (1, 2)] == ["1 cavity", "2 cavities"]


def test_cavities_stand_in_the_order_of_the_insert() -> None:
    assert _words.cavities([Point("P1", "3")]) == "P1 cavity 3"
    assert _words.cavities([Point("P1", c) for c in ("10", "B", "9", "A")]) == "P1 cavities 9, 10, A and B"


def test_what_rests_on_unconfirmed_values_is_counted_apart() -> None:
    tally = _words.Tally("wires")
    for count, source in ((1, None), (2, FIRM), (4, SOFT)):
        tally.add(count, source)
    assert list(tally.passed()) == [
        Passed(3, "wires"), Passed(4, "wires, by values that nobody has confirmed"),
    ]  # fmt: skip


@pytest.mark.parametrize("weakest", [
    lambda *sources: _words.weakest(*(SimpleNamespace(source=s) if s else None for s in sources)),  # type: ignore[misc]
    lambda *sources: _areas.weakest(sources),
])  # fmt: skip
def test_a_finding_is_as_firm_as_its_weakest_leg(weakest: Any) -> None:
    second = Source("another, invented for the test", Status.CONFIRMED)
    assert weakest(FIRM, SOFT, second) is SOFT
    assert weakest(None, FIRM, second) is FIRM
    assert weakest(None) is None


@pytest.mark.parametrize(("value", "said"), [
    (0.354, "0.35 V"), (1.99, "1.99 V"), (2.0, "2.0 V"), (13.54, "13.5 V"), (-1.5, "-1.50 V"), (-2.04, "-2.0 V"),
])  # fmt: skip
def test_volts(value: float, said: str) -> None:
    assert _power.volts(value) == said


@pytest.mark.parametrize(("value", "said"), [(2.2, "2.2 A"), (12.34, "12.3 A"), (0.01234, "0.0123 A")])
def test_amps(value: float, said: str) -> None:
    assert _power.amps(value) == said


def test_millimetres() -> None:
    assert _along.millimetres(0.06) == "60 mm"
    assert _along.millimetres(0.06026) == "60.3 mm"
    assert _along.millimetres(0.06026, 2) == "60.26 mm"


def wire(**more: Any) -> Any:
    given = {"id": "W1a", "mark": None, "cable": None, "core": None, "colour": None, "type": None, "is_shield": False}
    return SimpleNamespace(**{**given, "place": Place("W1"), **more})


@pytest.mark.parametrize(("mark", "printed"), [
    (None, "W1A"), (" w12  a ", "W12 A"), ("none", None), ("None", None), ("", None), ("unknown", "UNKNOWN"),
])  # fmt: skip
def test_what_is_printed_on_a_wire(mark: str | None, printed: str | None) -> None:
    """Without a mark of its own a wire carries its id."""
    assert _marks.printed(wire(mark=mark)) == printed


@pytest.mark.parametrize(("given", "colour"), [
    ({}, None), ({"colour": "9"}, "white"), ({"colour": "96"}, "white/blue"),
    ({"colour": "White with Blue"}, "white/blue"),
    ({"colour": "white / gray"}, "white/grey"), ({"colour": "white-red"}, "white/red"),
    ({"colour": "9", "core": "6"}, "white"), ({"colour": "9", "core": "6", "cable": "C1"}, "blue"),
    ({"colour": "9", "cable": "C1"}, "white"), ({"core": "6"}, None),
])  # fmt: skip
def test_a_colour_in_words(given: dict[str, str], colour: str | None) -> None:
    """Digits after MIL-STD-681: 6 blue, 9 white; a core's colour counts only in a cable."""
    assert _marks.colour(HARNESS, wire(**given)) == colour


@pytest.mark.parametrize(("awg", "mils"), [(22, 6.3), (20, 8.0)])
def test_area_of_a_gauge_is_that_of_its_strands(awg: int, mils: float) -> None:
    """Stranded aircraft conductors: 19 strands of 34 AWG (6.3 mil) make 22 AWG, 19 of 32 AWG (8.0 mil) 20 AWG (ASTM
    B258 for the strands); a circular mil is the area of a circle of one thousandth of an inch.
    """
    area, _ = _areas.copper(HARNESS, wire(gauge=Gauge(awg=awg)))
    assert area == pytest.approx(19 * math.pi / 4 * (mils * 25.4e-6) ** 2, rel=0.01)


def test_area_of_a_metric_wire_is_its_own_and_of_an_unlisted_one_nobodys() -> None:
    area, source = _areas.copper(HARNESS, wire(gauge=Gauge(mm2=0.5)))
    assert area == pytest.approx(0.5e-6, rel=1e-12)
    assert isinstance(source, Source)
    assert source.status is Status.STATED
    assert _areas.copper(HARNESS, wire(gauge=Gauge(awg=40))) == (
        "the conductor area of 40 AWG is not in the parts drawer"
    )  # fmt: skip


def test_a_check_is_found_by_its_name_and_explains_itself() -> None:
    with pytest.raises(KeyError):
        checks.module("no-such-check")
    for name in checks.names():
        assert len(checks.explain(name).split()) > 10, name
