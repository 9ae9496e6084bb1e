"""NMEA 0183: how many listeners a talker feeds."""

from __future__ import annotations

from harnesscheck.source import Source, Status

SOURCE = Source(
    "NMEA 0183 training page and AIS manual",
    Status.CONFIRMED,
    paragraph="one talker; the current of the talker decides",
)
LISTENERS = 4
"""Listeners that the maker of a multiplexer grants its talker (confirmed)."""
LISTENER = 0.002
"""Amperes an isolated listener takes at 2 V. From memory."""


def most_listeners(talker: float, listener: float = LISTENER) -> int:
    """Listeners that a talker can feed: floor(I_talker / I_listener), amperes. Own arithmetic.

    >>> most_listeners(0.015), most_listeners(0.050)
    (7, 25)
    """
    if talker < 0 or listener <= 0:
        raise ValueError("the current of a listener is above zero")
    return int(talker / listener + 1e-9)
