"""What a protector lets through before it opens."""

from __future__ import annotations

from harnesscheck.source import Source, Status

TRIP_BAND = 1.40
"""Greatest share of its rating that a thermal aircraft breaker may carry for an hour before it opens."""
TRIP_BAND_SOURCE = Source(
    "", Status.SECOND_HAND, paragraph="third-party page on aircraft breakers: up to one hour at 140 % of the rating"
)


def held(rating: float, share: float = TRIP_BAND) -> float:
    """Amperes that may flow for an hour behind a protector of ``rating`` amperes (above zero).

    >>> round(held(5.0), 6)                     # project example P3: 1.4 x breaker rating behind a 5 A breaker
    7.0
    """
    if rating <= 0 or share < 1:
        raise ValueError("a rating is above zero, and what a protector holds is no less than its rating")
    return rating * share
