"""What a typed value means for a reading. The script of the page says the same; the tests compare the two."""

from __future__ import annotations

import math

from harnesscheck.ringout.reading import Reading
from harnesscheck.trouble.readings import value_of

UNREAD, GOOD, WRONG, NOTED, UNCLEAR, UNREADABLE = "not read", "good", "wrong", "noted", "unclear", "not understood"


def verdict(reading: Reading, typed: str, unit: str) -> str:
    """One of the words above. ``unit`` is the one beside the value; a unit typed with the value counts instead.

    A bound such as ``>20 Mohm`` is good or wrong only where every value beyond it is.
    """
    if not typed.strip():
        return UNREAD
    said = value_of(typed, unit)
    if isinstance(said, str) or said[1] != reading.unit:
        return UNREADABLE
    value, _, bound = said
    if not reading.judged:
        return NOTED
    if bound:
        least, most = (value, math.inf) if bound == ">" else (0.0 if reading.unit == "ohm" else -math.inf, value)
        low, high = reading.low, reading.high
        if (low is None or least >= low) and (high is None or most <= high):
            return GOOD
        out = (high is not None and least >= high) or (low is not None and most <= low)
        return WRONG if out else UNCLEAR
    return GOOD if reading.accepts(value) else WRONG


def band(reading: Reading) -> str:
    """What is accepted, never wider than what is judged: ``at most 0.172 ohm``, ``more than 10 Mohm``."""
    low, high = _words(reading.low, reading.unit, math.ceil), _words(reading.high, reading.unit, math.floor)
    if low and high:
        return f"{low} to {high}"
    if low:
        return f"at least {low}"
    return f"at most {high}" if high else "write it down"


def computed(reading: Reading) -> str:
    """The expected value; empty when it is not known."""
    return _words(reading.expected, reading.unit, round)


def _words(value: float | None, unit: str, whole: object) -> str:
    if value is None:
        return ""
    if math.isinf(value):
        return "open (OL)"
    for size, name in ((1e6, "Mohm"), (1e3, "kohm")):
        if unit == "ohm" and value >= size:
            return f"{value / size:g} {name}"
    assert callable(whole)
    steps = 1000 if abs(value) < 10 and unit == "ohm" else 100
    # The last places of a sum such as 0.1 + 0.2 are no part of a limit.
    return f"{whole(round(value * steps, 6)) / steps:g} {unit}"
