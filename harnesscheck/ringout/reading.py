"""One reading: where the two test leads go, what the meter should show, and the words for it.

A limit is rounded once, where a reading is made (``limit``), to what a hand-held meter shows, and away from what is
right. From then on sheet, worksheet, readings file and diagnosis print that number whole (``band``) and judge by it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from harnesscheck.place import Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """Test leads at ``a`` and ``b``; several points of one lead are tied together.

    ``expected``, ``low`` and ``high`` are ohms or volts by ``unit``; infinity is an open line. ``expected`` None: not
    known. ``low`` or ``high`` None: no limit on that side, and with neither the value is only written down.
    """

    id: str
    """``BC3``: article (B bench, I installed, A aircraft), kind (C, S, R), number. The same job gives the same ids."""
    article: str
    """``bench``, ``installed`` or ``aircraft``."""
    kind: str
    """``continuity``, ``isolation``, ``ohms`` or ``volts``."""
    a: tuple[Point, ...]
    b: Sequence[Point]
    """A tuple, or the rest of a walk."""
    expected: float | None
    low: float | None
    high: float | None
    unit: str
    why: str
    """What the reading is for, in words."""
    unknown: str = ""
    """What is missing where ``expected`` is not known."""

    @property
    def judged(self) -> bool:
        """True when a value can be right or wrong; False when it is only written down."""
        return self.low is not None or self.high is not None

    def accepts(self, value: float) -> bool | None:
        """Whether a value is within the limits; None when the reading has none. Open is ``math.inf``."""
        if not self.judged or math.isnan(value):
            return None
        return (self.low is None or value >= self.low) and (self.high is None or value <= self.high)


def limit(value: float | None, unit: str, upper: bool) -> float | None:
    """A computed limit as a meter shows it: the upper one rounded up, the lower one down. None stays None.

    Steps: 0.01 ohm below 10 ohm, 0.1 ohm below 1 kohm, then three digits; 0.1 V (common practice: a hand-held meter).

    >>> limit(0.1723, "ohm", True), limit(55.09, "ohm", False), limit(3417.0, "ohm", False), limit(28.62, "V", True)
    (0.18, 55.0, 3410.0, 28.7)
    """
    if value is None or not math.isfinite(value):
        return value
    if unit == "V":
        parts = 10.0
    else:
        size = abs(value)
        parts = 100.0 if size < 10 else 10.0 if size < 1000 else 10.0 ** (2 - math.floor(math.log10(size)))
    # The last places of a sum such as 0.1 + 0.2 are no part of a limit.
    steps = round(value * parts, 6)
    whole = math.ceil(steps) if upper else math.floor(steps)
    return whole / parts if parts >= 1 else float(whole * round(1 / parts))


def shown(value: float | None, unit: str) -> str:
    """A limit or a computed value in full: ``0.18 ohm``, ``55.0 ohm``, ``10 Mohm``, ``28.7 V``, ``open``.

    What ``limit`` has rounded is printed exactly; ``not known`` for None.
    """
    if value is None:
        return "not known"
    if math.isinf(value):
        return "open"
    if unit == "V":
        return f"{_plain(value, 1)} V"
    for size, name in ((1e6, "Mohm"), (1e3, "kohm")):
        if value >= size:
            return f"{_plain(value / size, 0)} {name}"
    return f"{_plain(value, 2 if abs(value) < 10 else 1)} ohm"


def _plain(value: float, places: int) -> str:
    """At least so many decimals, and as many more as the number has."""
    fixed = f"{value:.{places}f}"
    return fixed if float(fixed) == value else f"{value:.10f}".rstrip("0").rstrip(".")


def band(reading: Reading) -> str:
    """What is accepted, exactly as it is judged: ``at most 0.18 ohm``, ``at least 10 Mohm``, ``55.0 to 65.2 ohm``."""
    low, high, unit = reading.low, reading.high, reading.unit
    if low is not None and high is not None:
        if unit == "V" and low == -high:
            return f"0 V within {shown(high, unit)}"
        one, two = shown(low, unit), shown(high, unit)
        name = two.rpartition(" ")[2]
        return f"{one.removesuffix(f' {name}')} to {two}"
    if low is not None:
        return f"at least {shown(low, unit)}"
    return f"at most {shown(high, unit)}" if high is not None else "write it down"


def computed(reading: Reading) -> str:
    """The expected value, rounded: ``0.025 ohm``, ``60.1 ohm``, ``27.85 V``, ``open``; empty when it is not known."""
    value = reading.expected
    if value is None or math.isinf(value):
        return "" if value is None else "open"
    if reading.unit == "V":
        return f"{value:.2f} V"
    for size, name in ((1e6, "Mohm"), (1e3, "kohm")):
        if value >= size:
            return f"{value / size:.3g} {name}"
    return f"{value:.3f} ohm" if value < 10 else f"{value:.1f} ohm"
