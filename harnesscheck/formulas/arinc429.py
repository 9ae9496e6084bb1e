"""ARINC 429: how many receivers, and the level that is left for them."""

from __future__ import annotations

from harnesscheck.formulas.loading import parallel
from harnesscheck.source import Source, Status

RECEIVERS = 20
RECEIVERS_SOURCE = Source("ARINC 429 training card", Status.SECOND_HAND, paragraph="1 transmitter, 20 receivers")
GUARANTEED = 5
"""Receivers that units of general aviation often guarantee to drive."""
GUARANTEED_SOURCE = Source("navigator and transponder manuals", Status.CONFIRMED, paragraph="five receiver loads")
RECEIVER = 12000.0
"""Least differential input resistance, ohms. From memory."""
DRIVER = 75.0
"""Source resistance, ohms. From memory."""
LEVEL = 10.0
"""Volts, open."""
NEEDED = (6.5, 13.0)
"""Volts that a receiver takes for a one. Source: navigator maintenance manual (confirmed)."""


def level(receivers: int, resistance: float = RECEIVER) -> float:
    """Differential volts into so many receivers. V = 10 R / (R + 75). Own arithmetic; 20 receivers are 600 ohm.

    >>> round(level(20), 2), round(level(5), 2), NEEDED[0] <= level(20) <= NEEDED[1]
    (8.89, 9.7, True)
    """
    if receivers < 1:
        return LEVEL
    load = parallel([resistance] * receivers)
    return LEVEL * load / (load + DRIVER)
