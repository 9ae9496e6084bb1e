"""Audio sources on one line: why they fight, and what mixing resistors cost."""

from __future__ import annotations

import math

from harnesscheck.formulas.loading import parallel
from harnesscheck.source import Source, Status

SOURCE = Source(
    "broadcast engineer's and homebuilder's articles",
    Status.CONFIRMED,
    paragraph="outputs are joined by resistors only",
)


def fighting_load(output: float, load: float, others: int = 1) -> float:
    """What one output sees when others of the same resistance hang on its line, ohms. Own arithmetic.

    Two outputs of 10 ohm on 150 ohm:

    >>> round(fighting_load(10, 150), 1)
    9.4
    """
    return parallel([load, *[output] * others])


def fighting_loss(output: float, load: float, others: int = 1) -> float:
    """Decibels that the level of one output falls by against ``load`` alone. Own arithmetic.

    >>> round(fighting_loss(10, 150), 1)
    5.7
    """
    both = fighting_load(output, load, others)
    return 20 * math.log10(load / (load + output) / (both / (both + output)))


def mixing_gain(sources: int, resistor: float, load: float) -> float:
    """Share of one source that reaches the load through equal resistors: (1/R) / (N/R + 1/R_L). Own arithmetic.

    >>> [(round(g, 3), round(20 * math.log10(g), 1)) for g in (mixing_gain(2, 470, 600), mixing_gain(3, 470, 600))]
    [(0.359, -8.9), (0.264, -11.6)]
    """
    return (1 / resistor) / (sources / resistor + 1 / load)


def mixing_input(sources: int, resistor: float, load: float) -> float:
    """What one source sees: its resistor, then the load beside the resistors of the others, ohms. Own arithmetic.

    >>> round(mixing_input(2, 470, 600))
    734
    """
    return resistor + parallel([load, *[resistor] * (sources - 1)])
