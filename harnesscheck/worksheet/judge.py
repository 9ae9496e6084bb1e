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
