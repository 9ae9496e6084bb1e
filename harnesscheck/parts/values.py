"""How the text of one field is read: small parsers from text to a checked Python value, SI inside.

Every parser takes the value as it stands in a file (text, tuple of texts or mapping of texts) and raises
``ValueError`` with a sentence saying what is accepted. ``units.UnitError`` is a ``ValueError``.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping

from harnesscheck import units
from harnesscheck.units import Gauge, Range

Value = str | tuple[str, ...] | Mapping[str, str]
Parser = Callable[[Value], object]

_SIGNED = re.compile(r"([+-]?[0-9]{1,9}(?:\.[0-9]{1,9})?) ?([A-Za-z%][A-Za-z0-9%/ -]{0,15})")
_COUNT = re.compile(r"[0-9]{1,6}")
_POINT = re.compile(r"(-?[01]\.[0-9]{1,4}) (-?[01]\.[0-9]{1,4})")

LENGTH = {"mm": 1e-3, "in": 0.0254}
FORCE = {"lbf": 4.4482216152605, "N": 1.0}
"""Newton. The pound-force is 0.45359237 kg x 9.80665 m/s2 exactly (yard and pound agreement 1959; CGPM 1901)."""
PER_LENGTH = {"ohm/kft": 1 / 304.8, "ohm/km": 1e-3}
"""Ohm per metre; 1 kft = 1000 ft = 304.8 m exactly."""
WEIGHT = {"lb/kft": 0.45359237 / 304.8, "kg/km": 1e-3}
"""Kilogram per metre."""
MILS = {"cmil": 5.067074790974977e-10}
"""Square metres; a circular mil is the area of a circle of 0.001 in diameter: pi/4 x (25.4e-6 m)^2."""
TIME = {"s": 1.0, "min": 60.0, "h": 3600.0}
ANGLE = {"deg": 1.0}
"""Degrees, kept as degrees."""
SHARE = {"%": 0.01}


def text(value: Value) -> str:
    """Any text that is not empty."""
    if not isinstance(value, str) or not value.strip():
        raise ValueError("write one text")
    return value


def word(*choices: str) -> Parser:
    """One of a few words."""

    def parse(value: Value) -> str:
        if text(value) not in choices:
            raise ValueError(f"write one of: {', '.join(choices)}")
        return text(value)

    return parse


def items(value: Value) -> tuple[str, ...]:
    """A list of different texts, in order."""
    if not isinstance(value, tuple) or not value or not all(one.strip() for one in value):
        raise ValueError("write a list in square brackets, like [A, B, C]")
    if len(set(value)) != len(value):
        raise ValueError("an entry of this list is given twice")
    return value


def bands(value: Value) -> tuple[str, ...]:
    """A list of texts, in order, where one may stand twice (colour bands)."""
    if not isinstance(value, tuple) or not value or not all(one.strip() for one in value):
        raise ValueError("write a list in square brackets, like [orange, blue, black]")
    return value


def items_of(parser: Parser) -> Parser:
    """A list whose every entry is read by ``parser``."""

    def parse(value: Value) -> tuple[object, ...]:
        return tuple(parser(one) for one in items(value))

    return parse


def table_of(parser: Parser) -> Parser:
    """A mapping whose every value is read by ``parser``."""

    def parse(value: Value) -> dict[str, object]:
        if not isinstance(value, Mapping) or not value:
            raise ValueError("write a mapping in braces, like {22D: 6}")
        return {key: parser(one) for key, one in value.items()}

    return parse


def count(value: Value) -> int:
    """A whole number, zero or above."""
    if not _COUNT.fullmatch(text(value)):
        raise ValueError("write a whole number")
    return int(text(value))


def counts(value: Value) -> tuple[int, ...]:
    """A list of whole numbers."""
    return tuple(count(one) for one in bands(value))


def point(value: Value) -> tuple[float, float]:
    """A point of a face view, ``0.359 -0.286``: x to the right and y up, as shares of the insert radius."""
    found = _POINT.fullmatch(text(value))
    if not found:
        raise ValueError("write x and y as shares of the insert radius, like 0.359 -0.286")
    x, y = float(found[1]), float(found[2])
    if math.hypot(x, y) > 1:
        raise ValueError("this point lies outside the insert")
    return x, y


def quantity(table: Mapping[str, float], example: str) -> Parser:
    """A signed number with one of the units of ``table``."""

    def parse(value: Value) -> float:
        found = _SIGNED.fullmatch(text(value).strip())
        if not found or found[2] not in table:
            raise ValueError(f"write a number and one of the units {', '.join(table)}, like {example}")
        return float(found[1]) * table[found[2]]

    return parse


def span(parser: Parser) -> Parser:
    """A range ``a to b`` of what ``parser`` reads, or one value standing for both ends."""

    def parse(value: Value) -> Range:
        ends = [parser(one) for one in text(value).split(" to ")]
        if len(ends) > 2 or not all(isinstance(one, float) for one in ends):
            raise ValueError("write one value or a range, like 0.76 mm to 1.37 mm")
        low, high = ends[0], ends[-1]
        assert isinstance(low, float) and isinstance(high, float)
        if low > high:
            raise ValueError("the first value of a range is the smaller one")
        return Range(low, high)

    return parse


def measured(value: Value) -> str:
    """A number with any unit or counted thing behind it (``0.25 mm``, ``2 strands``), for rules of many topics."""
    ends = text(value).split(" to ")
    if len(ends) > 2 or not all(_SIGNED.fullmatch(one) for one in ends):
        raise ValueError("write a number and its unit, like 0.25 mm or 2 strands")
    return text(value)


def _from_units(read: Callable[[str], float]) -> Parser:
    return lambda value: read(text(value))


def gauge(value: Value) -> Gauge:
    """``22 AWG``."""
    return units.gauge(text(value))


def gauges(value: Value) -> tuple[Gauge, Gauge]:
    """``28 AWG to 22 AWG``, thin to thick."""
    return units.gauge_range(text(value))


length = _from_units(units.length)
lengths = span(length)
current = _from_units(units.current)
voltage = _from_units(units.voltage)
temperature = _from_units(units.temperature)
temperatures = span(temperature)
offset = quantity(LENGTH, "-1.385 mm")
force = quantity(FORCE, "12 lbf")
per_length = quantity(PER_LENGTH, "16.2 ohm/kft")
per_lengths = span(per_length)
weight = quantity(WEIGHT, "2.8 lb/kft")
cmil = quantity(MILS, "755 cmil")
cmils = span(cmil)
resistance = quantity(units.RESISTANCE, "14.6 mohm")
angle = quantity(ANGLE, "105 deg")
time = quantity(TIME, "1 h")
share = quantity(SHARE, "135 %")


def same(one: object, other: object) -> bool:
    """True when two parsed values say the same; floats within 1e-9, so that 1 in equals 25.4 mm."""
    if isinstance(one, float) and isinstance(other, float):
        return math.isclose(one, other, rel_tol=1e-9)
    if isinstance(one, Range) and isinstance(other, Range):
        return same(one.low, other.low) and same(one.high, other.high)
    return one == other
