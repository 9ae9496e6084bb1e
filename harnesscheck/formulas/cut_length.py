"""Cut length of a wire: laid length, what each end takes, rounded up."""

from __future__ import annotations

import math
from dataclasses import dataclass

from harnesscheck.source import Source, Status

DEFAULTS: dict[str, tuple[float, Source]] = {
    # AC 43.13-1B asks for slack for two re-terminations and names no length; 20 mm a time is common practice.
    "connector": (
        0.040,
        Source(
            "AC 43.13-1B",
            Status.COMMON,
            "Chg 1",
            "par. 11-118 asks for slack for two re-terminations; the amount is ours",
        ),
    ),
    "splice": (0.010, Source("", Status.COMMON, paragraph="reach into the splice barrel")),
    "stud": (
        0.040,
        Source(
            "AC 43.13-1B",
            Status.COMMON,
            "Chg 1",
            "par. 11-118 asks for slack for two re-terminations; the amount is ours",
        ),
    ),
    "round up to": (0.005, Source("", Status.COMMON, paragraph="reading off a bench rule")),
}
"""Allowance by kind of end, metres, with its source; a job states its own under ``allowances:``."""


@dataclass(frozen=True, slots=True)
class Cut:
    """A cut length and the pieces it is made of, all in metres."""

    laid: float
    end_a: float
    end_b: float
    rounding: float

    @property
    def total(self) -> float:
        """The length to cut."""
        return self.laid + self.end_a + self.end_b + self.rounding


def cut_length(laid: float, end_a: float, end_b: float, step: float) -> Cut:
    """Cut length for a laid length between rear faces, metres; rounded up to a multiple of ``step`` (above zero).

    >>> cut = cut_length(0.060, 0.040, 0.010, 0.025)     # own arithmetic: 60 + 40 + 10 = 110, next step is 125
    >>> round(cut.total, 6), round(cut.rounding, 6)
    (0.125, 0.015)
    >>> round(cut_length(0.300, 0.040, 0.040, 0.005).rounding, 6)   # 380 is a multiple of 5 already
    0.0
    """
    bare = laid + end_a + end_b
    # A tenth of a micrometre is taken off before rounding up: 0.11 / 0.005 is 22.000000000000004 in floating point.
    steps = math.ceil((bare - 1e-7) / step)
    return Cut(laid, end_a, end_b, max(0.0, steps * step - bare))
