"""The small parsers of fields: what each takes, in SI, and what each refuses.

Factors: inch 25.4 mm and pound 0.45359237 kg exactly (1959 agreement); circular mil pi/4 x (25.4e-6 m)^2.
"""

from __future__ import annotations

import math

import pytest

from harnesscheck.parts import values as v
from harnesscheck.parts.values import Parser, Value
from harnesscheck.units import Gauge, Range

READ: list[tuple[Parser, Value, object]] = [
    (v.length, "0.0345 in", 0.0345 * 0.0254),
    (v.offset, "-1.385 mm", -1.385e-3),
    (v.offset, "-0.5 in", -0.0127),
    (v.offset, "0 mm", 0.0),
    (v.force, "12 lbf", 12 * 0.45359237 * 9.80665),
    (v.force, "53.4 N", 53.4),
    (v.per_length, "16.2 ohm/kft", 16.2 / 304.8),
    (v.per_length, "53.15 ohm/km", 0.05315),
    (v.weight, "2.8 lb/kft", 2.8 * 0.45359237 / 304.8),
    (v.weight, "4.2 kg/km", 4.2e-3),
    (v.cmil, "755 cmil", 755 * math.pi / 4 * 25.4e-6**2),
    (v.resistance, "14.6 mohm", 14.6e-3),
    (v.current, "7.5 A", 7.5),
    (v.voltage, "73 mV", 0.073),
    (v.share, "135 %", 1.35),
    (v.time, "1 h", 3600.0),
    (v.angle, "105 deg", 105.0),
    (v.temperature, "-55 C", -55.0),
]


@pytest.mark.parametrize(("parser", "typed", "expected"), READ)
def test_quantities(parser: Parser, typed: str, expected: float) -> None:
    assert parser(typed) == pytest.approx(expected, rel=1e-12)


def test_shapes() -> None:
    assert v.lengths("0.76 mm to 1.37 mm") == Range(0.76e-3, 1.37e-3)
    assert v.lengths("2 mm") == Range(2e-3, 2e-3)
    assert v.temperatures("-55 C to 125 C") == Range(-55, 125)
    assert v.gauges("28 AWG to 22 AWG") == (Gauge(awg=28), Gauge(awg=22))
    assert v.point("0.359 -0.286") == (0.359, -0.286)
    assert v.table_of(v.count)({"22D": "6"}) == {"22D": 6}
    assert v.items_of(v.current)(("0.5 A", "1 A")) == (0.5, 1.0)
    assert v.bands(("orange", "blue", "orange")) == ("orange", "blue", "orange")
    assert v.counts(("5", "5", "5")) == (5, 5, 5)
    assert v.measured("4 in to 6 in") == "4 in to 6 in" and v.measured("2 re-terminations") == "2 re-terminations"


@pytest.mark.parametrize(
    ("parser", "typed", "words"),
    [
        (v.text, " ", "one text"),
        (v.text, ("a",), "one text"),
        (v.word("pin", "socket"), "Pin", "pin, socket"),
        (v.items, "a", "square brackets"),
        (v.items, (), "square brackets"),
        (v.items, ("a", " "), "square brackets"),
        (v.items, ("a", "a"), "twice"),
        (v.count, "-1", "whole number"),
        (v.count, "1.0", "whole number"),
        (v.table_of(v.count), "6", "braces"),
        (v.table_of(v.count), {}, "braces"),
        (v.table_of(v.count), {"22D": "six"}, "whole number"),
        (v.point, "0.9 0.9", "outside the insert"),
        (v.point, "0.9", "x and y"),
        (v.force, "12", "lbf, N"),
        (v.force, "12 lb", "lbf, N"),
        (v.force, "1,2 N", "lbf, N"),
        (v.length, "0 mm", "above zero"),
        (v.lengths, "1 mm to 2 mm to 3 mm", "range"),
        (v.lengths, "2 mm to 1 mm", "smaller one"),
        (v.measured, "about 3 in", "number and its unit"),
        (v.measured, "3", "number and its unit"),
        (v.gauges, "22 AWG", "range"),
    ],
)
def test_refused(parser: Parser, typed: Value, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        parser(typed)


@pytest.mark.parametrize(
    ("parser", "one", "other", "expected"),
    [
        (v.length, "0.65 in", "16.51 mm", True),
        (v.length, "0.65 in", "16.66 mm", False),
        (v.lengths, "0.03 in to 0.054 in", "0.762 mm to 1.3716 mm", True),
        (v.lengths, "0.03 in to 0.054 in", "0.762 mm to 1.37 mm", False),
        (v.items, ("A", "B"), ("B", "A"), False),
        (v.text, "plug", "plug", True),
    ],
)
def test_same_value_in_another_unit(parser: Parser, one: Value, other: Value, expected: bool) -> None:
    """0.650 in is 16.51 mm; the 16.66 mm printed beside it on the catalogue page is another value."""
    assert v.same(parser(one), parser(other)) is expected
