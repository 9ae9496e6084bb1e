"""Electrical load analysis: the 80 % rule of thumb, and how long a battery carries what is left on."""

from __future__ import annotations

from harnesscheck.source import Source, Status

CONTINUOUS_SHARE = 0.80
"""Continuous load as a share of the generator or alternator limit, without monitor or placard."""
CONTINUOUS_SOURCE = Source(
    "AC 43.13-1B", Status.CONFIRMED, "Chg 1", "par. 11-35, a rule of thumb and not a load analysis"
)
BATTERY_MINUTES = 30.0
BATTERY_SOURCE = Source("14 CFR 23.1353(h) (old numbering)", Status.MEMORY)


def margin(load: float, rating: float, share: float = CONTINUOUS_SHARE) -> float:
    """Amperes left until ``share`` of the rating; below zero when it is exceeded.

    >>> round(58 * CONTINUOUS_SHARE, 1)         # a type manual: 80 % of 58 A is 46.4 A
    46.4
    >>> round(margin(46.4, 58.0), 6)
    0.0
    """
    if rating <= 0:
        raise ValueError("a rating is above zero")
    return rating * share - load


def battery_minutes(ampere_hours: float, usable: float, load: float) -> float:
    """Minutes a battery carries a constant ``load`` in amperes, with the share ``usable`` (0 to 1) of its capacity.

    Own arithmetic; the discharge rate of a real battery lowers it.

    >>> battery_minutes(12.0, 0.75, 9.0)
    60.0
    """
    if load <= 0 or not 0 < usable <= 1:
        raise ValueError("a load is above zero, and the usable share lies between 0 and 1")
    return ampere_hours * usable / load * 60
