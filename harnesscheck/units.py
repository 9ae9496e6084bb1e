"""Quantities at the door: what a person types becomes SI, and a gauge stays a gauge.

Accepted spellings are few and strict, so that nothing is guessed: a number with a point, a blank or none, a unit.
``1,5 mm`` is refused because a comma means different things in different countries. A bare number is refused.
Definitions: inch = 25.4 mm and foot = 0.3048 m exactly (international yard and pound agreement, 1959).
A typed number is scaled as a whole number over a power of ten and divided once, so ``12 in`` and ``304.8 mm`` are
exactly the same float.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

_NUMBER = r"([+-]?)([0-9]{1,9}(?:\.[0-9]{1,9})?|\.[0-9]{1,9})"
_QUANTITY = re.compile(_NUMBER + r" ?([A-Za-zµ%°²/]{1,8}2?)")
_FEET_INCHES = re.compile(r"([0-9]{1,6}) ?ft ([0-9]{1,6}(?:\.[0-9]{1,6})?) ?in")
_AUGHT = re.compile(r"(0{1,4}|[1-4]/0|[0-9]{1,2}) ?AWG")

Scale = dict[str, tuple[int, int]]
"""Unit to its size in SI as a fraction: numerator, denominator."""
LENGTH: Scale = {"mm": (1, 1000), "cm": (1, 100), "m": (1, 1), "in": (254, 10_000), "ft": (3048, 10_000)}
CURRENT: Scale = {"A": (1, 1), "mA": (1, 1000)}
VOLTAGE: Scale = {"V": (1, 1), "mV": (1, 1000), "kV": (1000, 1)}
TEMPERATURE: Scale = {"C": (1, 1), "°C": (1, 1)}
AREA: Scale = {"mm2": (1, 1), "mm²": (1, 1)}
"""Square millimetres: a conductor area is kept as typed."""
CHARGE: Scale = {"Ah": (1, 1)}
"""Ampere hours, as a battery is sold; kept as typed."""
RESISTANCE: dict[str, float] = {"ohm": 1.0, "kohm": 1e3, "mohm": 1e-3, "Mohm": 1e6}
RATE: Scale = {"bit/s": (1, 1), "kbit/s": (1000, 1), "Mbit/s": (1_000_000, 1)}
MASS: Scale = {"kg": (1, 1), "g": (1, 1000), "lb": (45_359_237, 10**8), "oz": (45_359_237, 16 * 10**8)}
"""The avoirdupois pound is 0.45359237 kg exactly (international yard and pound agreement, 1959); 16 oz."""
TIME: Scale = {"s": (1, 1), "ms": (1, 1000), "us": (1, 10**6), "µs": (1, 10**6), "ns": (1, 10**9)}


class UnitError(ValueError):
    """A quantity that cannot be read; ``remedy`` says what is accepted."""

    def __init__(self, message: str, remedy: str = "") -> None:
        super().__init__(f"{message}; {remedy}" if remedy else message)
        self.message = message
        self.remedy = remedy


@dataclass(frozen=True, slots=True)
class Gauge:
    """Conductor size: either an AWG number (1/0 is 0, 2/0 is -1) or a metric area in mm2; never both."""

    awg: int | None = None
    mm2: float | None = None

    def __str__(self) -> str:
        """``22 AWG``, ``2/0 AWG`` or ``0.35 mm2``."""
        if self.awg is None:
            return f"{self.mm2:g} mm2"
        return f"{self.awg} AWG" if self.awg >= 1 else f"{1 - self.awg}/0 AWG"


@dataclass(frozen=True, slots=True)
class Range:
    """A closed range of one quantity, SI."""

    low: float
    high: float

    def __contains__(self, value: float) -> bool:
        """True when the value lies in the range, ends included."""
        return self.low <= value <= self.high


def _ratio(number: str, unit: tuple[int, int]) -> tuple[int, int]:
    """A typed number times a unit, as an exact fraction."""
    whole, _, decimals = number.partition(".")
    return int(whole + decimals) * unit[0], 10 ** len(decimals) * unit[1]


def _scaled(text: str, units: Scale, example: str) -> float:
    typed = text.strip()
    found = _QUANTITY.fullmatch(typed)
    like = f"write it like {example}"
    if found and found[3] in units:
        top, bottom = _ratio(found[2], units[found[3]])
        return -top / bottom if found[1] == "-" else top / bottom
    if found:
        raise UnitError(f"unit {found[3]!r} is not one of {', '.join(units)}", like)
    if "," in typed:
        raise UnitError("a decimal comma is not read", like)
    if typed and typed[-1] in "0123456789.":
        raise UnitError("the unit is missing", like)
    raise UnitError("this is not a number and a unit", like)


@lru_cache(maxsize=4096)
def length(text: str) -> float:
    """Metres from ``320 mm``, ``12 in``, ``1.5 m``, ``4 ft 6 in``. Must be above zero.

    >>> round(length("4 ft 6 in"), 4)
    1.3716
    """
    both = _FEET_INCHES.fullmatch(text.strip())
    if both:
        (feet, one), (inches, other) = _ratio(both[1], LENGTH["ft"]), _ratio(both[2], LENGTH["in"])
        value = (feet * other + inches * one) / (one * other)
    else:
        value = _scaled(text, LENGTH, "320 mm or 12 in")
    if value <= 0:
        raise UnitError("a length is above zero", "write it like 320 mm or 12 in")
    return value


@lru_cache(maxsize=1024)
def gauge(text: str) -> Gauge:
    """A ``Gauge`` from ``22 AWG``, ``2/0 AWG``, ``00 AWG`` or ``0.35 mm2``; AWG 4/0 to 40.

    >>> gauge("2/0 AWG").awg, str(gauge("0.35 mm2"))
    (-1, '0.35 mm2')
    """
    typed = text.strip()
    like = "write it like 22 AWG or 0.35 mm2"
    found = _AUGHT.fullmatch(typed)
    if found:
        word = found[1]
        number = 1 - int(word[0]) if "/" in word else (1 - len(word) if set(word) == {"0"} else int(word))
        if number > 40:
            raise UnitError("AWG sizes run from 4/0 to 40", like)
        return Gauge(awg=number)
    if "awg" in typed.casefold():
        raise UnitError("this is not an AWG size (they run from 4/0 to 40)", like)
    try:
        area = _scaled(typed, AREA, "22 AWG or 0.35 mm2")
    except UnitError as error:
        raise UnitError(error.message.replace("one of mm2", "one of AWG, mm2"), error.remedy) from None
    if not 0 < area < 1000:
        raise UnitError("a conductor area lies between 0 and 1000 mm2", like)
    return Gauge(mm2=area)


@lru_cache(maxsize=1024)
def current(text: str) -> float:
    """Amperes from ``5 A`` or ``400 mA``; zero or above."""
    value = _scaled(text, CURRENT, "5 A or 400 mA")
    if value < 0:
        raise UnitError("a current is zero or above", "write it like 5 A or 400 mA")
    return value


@lru_cache(maxsize=1024)
def voltage(text: str) -> float:
    """Volts from ``14 V`` or ``250 mV``."""
    return _scaled(text, VOLTAGE, "14 V")


@lru_cache(maxsize=1024)
def charge(text: str) -> float:
    """Ampere hours from ``18 Ah``; above zero."""
    value = _scaled(text, CHARGE, "18 Ah")
    if value <= 0:
        raise UnitError("a battery capacity is above zero", "write it like 18 Ah")
    return value


_OHMS: Scale = {"ohm": (1, 1), "mohm": (1, 1000), "kohm": (1000, 1), "Mohm": (1_000_000, 1)}


@lru_cache(maxsize=1024)
def resistance(text: str) -> float:
    """Ohms from ``120 ohm``, ``2.5 mohm`` or ``10 kohm``; above zero."""
    value = _scaled(text, _OHMS, "120 ohm or 2.5 mohm")
    if value <= 0:
        raise UnitError("a resistance is above zero", "write it like 120 ohm or 2.5 mohm")
    return value


@lru_cache(maxsize=1024)
def temperature(text: str) -> float:
    """Degrees Celsius from ``70 C``."""
    return _scaled(text, TEMPERATURE, "70 C")


def _above_zero(text: str, units: Scale, what: str, example: str) -> float:
    value = _scaled(text, units, example)
    if value <= 0:
        raise UnitError(f"{what} is above zero", f"write it like {example}")
    return value


@lru_cache(maxsize=1024)
def ohms_or_none(text: str) -> float:
    """Ohms, or infinity for ``none``: stated not to be there, which in parallel with anything changes nothing.

    >>> ohms_or_none("10 kohm"), ohms_or_none("none")
    (10000.0, inf)
    """
    return float("inf") if text.strip() == "none" else resistance(text)


@lru_cache(maxsize=1024)
def length_or_none(text: str) -> float:
    """Metres, or 0 for ``none``: stated not to be there.

    >>> length_or_none("1.5 m"), length_or_none("none")
    (1.5, 0.0)
    """
    if text.strip() == "none":
        return 0.0
    try:
        return length(text)
    except UnitError as error:
        raise UnitError(error.message, "write it like 1.2 m, or none") from None


@lru_cache(maxsize=1024)
def rate(text: str) -> float:
    """Bits a second from ``500 kbit/s`` or ``9600 bit/s``; above zero."""
    return _above_zero(text, RATE, "a data rate", "500 kbit/s")


@lru_cache(maxsize=1024)
def time(text: str) -> float:
    """Seconds from ``50 ns`` or ``1.5 us``; above zero."""
    return _above_zero(text, TIME, "a time", "50 ns")


@lru_cache(maxsize=1024)
def mass(text: str) -> float:
    """Kilograms from ``0.32 kg``, ``320 g``, ``0.7 lb`` or ``11 oz``; above zero."""
    return _above_zero(text, MASS, "a mass", "0.32 kg")


@lru_cache(maxsize=1024)
def station(text: str) -> float:
    """Metres from the datum, aft positive: ``2.1 m``, ``-310 mm`` or ``84 in``.

    >>> station("-310 mm"), station("0 m")
    (-0.31, 0.0)
    """
    return _scaled(text, LENGTH, "2.1 m")


@lru_cache(maxsize=1024)
def duration(text: str) -> float:
    """Seconds from ``40 s``, ``2 min`` or ``1.5 h``; above zero."""
    return _above_zero(text, {"s": (1, 1), "min": (60, 1), "h": (3600, 1)}, "a time", "2 min")


@lru_cache(maxsize=1024)
def ratio(text: str) -> float:
    """A plain number above zero, like ``0.125``: a unit load has no unit."""
    if not re.fullmatch(r"[0-9]{1,4}(?:\.[0-9]{1,6})?", text.strip()) or float(text) <= 0:
        raise UnitError("this is not a number above zero", "write it like 0.125")
    return float(text)


def _both(text: str, one: object, example: str) -> Range:
    parts = text.split(" to ")
    if len(parts) != 2 or not callable(one):
        raise UnitError("this is not a range", f"write it like {example}")
    low, high = one(parts[0]), one(parts[1])
    if low > high:
        raise UnitError("the first value of a range is the smaller one", f"write it like {example}")
    return Range(low, high)


@lru_cache(maxsize=1024)
def voltage_range(text: str) -> Range:
    """A range of volts from ``9 V to 32 V``."""
    return _both(text, voltage, "9 V to 32 V")


@lru_cache(maxsize=1024)
def temperature_range(text: str) -> Range:
    """A range of degrees Celsius from ``-40 C to 60 C``."""
    return _both(text, temperature, "-40 C to 60 C")


@lru_cache(maxsize=1024)
def length_range(text: str) -> Range:
    """A range of metres from ``0.76 mm to 1.37 mm``."""
    return _both(text, length, "0.76 mm to 1.37 mm")


@lru_cache(maxsize=1024)
def gauge_range(text: str) -> tuple[Gauge, Gauge]:
    """``(thinnest, thickest)`` from ``28 AWG to 22 AWG`` or ``0.14 mm2 to 0.5 mm2``; both ends in the same system."""
    parts = text.split(" to ")
    like = "write it like 28 AWG to 22 AWG"
    if len(parts) != 2:
        raise UnitError("this is not a range", like)
    thin, thick = gauge(parts[0]), gauge(parts[1])
    if (thin.awg is None) != (thick.awg is None):
        raise UnitError("both ends of a gauge range are in the same system", like)
    if (thin.awg is not None and thick.awg is not None and thin.awg < thick.awg) or (
        thin.mm2 is not None and thick.mm2 is not None and thin.mm2 > thick.mm2
    ):
        raise UnitError("the first gauge of a range is the thinner one", like)
    return thin, thick
