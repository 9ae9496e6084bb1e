"""Lamps and listeners on one dimmer or switch: the sum of what they draw."""

from __future__ import annotations

import math
from collections.abc import Iterable

from harnesscheck.source import Source, Status

SOURCE = Source(
    "builder's log on a dimmer", Status.CONFIRMED, paragraph="a lamp labelled 65 mA drew 125 mA: measure before adding"
)


def excess(limit: float, currents: Iterable[float]) -> float:
    """Amperes above the limit of a dimmer or switch; below zero is the margin. Own arithmetic.

    A dimming output of 120 mA, a lamp measured at 125 mA (labelled 65 mA), and an intercom input of 9 mA:

    >>> round(1000 * (0.125 + 0.009)), round(1000 * excess(0.120, [0.125, 0.009]))
    (134, 14)
    >>> round(1000 * excess(0.120, [0.065, 0.009]))      # by the label it would have passed
    -46
    """
    return math.fsum(currents) - limit
