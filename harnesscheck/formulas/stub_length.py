"""How long the branch from a bus to a unit may be, by rise time and by rate."""

from __future__ import annotations

from harnesscheck.formulas.can_bus import DELAY
from harnesscheck.source import Source, Status

CAN_STUB = 0.3
"""Metres, ISO 11898-2 at 1 Mbit/s."""
CAN_SOURCE = Source("CAN transceiver data sheet, application", Status.CONFIRMED, paragraph="ISO 11898-2: stub 0.3 m")
CAN_OTHERS = "0.2 m, 0.5 m and 1.5 m in other manuals at 1 Mbit/s"
CAN_BY_RATE = {
    1_000_000: (1.5, 7.5), 800_000: (2.5, 12.5), 500_000: (5.5, 27.5), 250_000: (11.0, 55.0),
    125_000: (22.0, 110.0), 50_000: (55.0, 275.0),
}  # fmt: skip
"""Bits a second to the longest stub and to the longest sum of stubs, metres; looser than ISO 11898-2."""
CAN_BY_RATE_SOURCE = Source("industrial CAN controller help, stubs by rate", Status.CONFIRMED)
J1939_STUB = 1.0
"""Metres. J1939-15, without shield, has 3 m (from memory). Source: ``can_bus.J1939_SOURCE``."""
RISE_SOURCE = Source(
    "TIA-485 transceiver data sheets", Status.CONFIRMED, paragraph="round trip of the stub < 1/10 of the rise time"
)
ONE_WAY_SOURCE = Source("TIA-485 tutorial, slide 7", Status.CONFIRMED, paragraph="one way < 1/4 to 1/10 of rise time")
CRITICAL_SOURCE = Source("CiA 301, in a space engineering glossary", Status.CONFIRMED, paragraph="stub <= L_crit / 3")
ARINC429_EDGE = 1.0e-6
"""Shortest rise time of high-speed ARINC 429, seconds: 1.5 +- 0.5 us (confirmed; the page prints ms)."""
HOUSE_SHARE = 0.25
"""Share of the time to the sample point that ringing may take. From memory."""


def by_rise_time(rise: float, delay: float = DELAY, *, round_trip: bool = True) -> float:
    """Longest stub by rise time, metres: L = t_r / (20 t_p) by the round trip, t_r / (10 t_p) one way.

    ``rise`` in seconds, ``delay`` in seconds a metre. Sources disagree by a factor of two: ``RISE_SOURCE`` and
    ``ONE_WAY_SOURCE``. Own arithmetic at 0.78 c:

    >>> from harnesscheck.formulas.rs422 import LIGHT
    >>> slow = 1 / (0.78 * LIGHT)
    >>> [round(by_rise_time(t * 1e-9, slow, round_trip=False), 3) for t in (8, 10, 30, 100, 300)]
    [0.187, 0.234, 0.702, 2.338, 7.015]
    >>> [round(by_rise_time(t * 1e-9, slow), 3) for t in (8, 10, 30, 100, 300)]
    [0.094, 0.117, 0.351, 1.169, 3.508]
    >>> by_rise_time(50e-9, round_trip=False), by_rise_time(50e-9)      # CAN edge of 50 ns at 5 ns/m
    (1.0, 0.5)

    ARINC 429, fastest and nominal high speed, and low speed: the stub is not what matters there.

    >>> [round(by_rise_time(t * 1e-6), 3) for t in (1.0, 1.5, 10)]
    [10.0, 15.0, 100.0]
    """
    if rise <= 0 or delay <= 0:
        raise ValueError("times are above zero")
    return round(rise / delay / (20 if round_trip else 10), 9)


def critical_length(transition: float, delay: float = DELAY) -> float:
    """Length from which a line is long for an edge, metres: t / (2 t_p). A stub without terminator: a third of it.

    Source: ``CRITICAL_SOURCE``; 50 ns at 5 ns/m gives 5 m and 1.67 m there. 20 ns and 100 ns are own arithmetic.

    >>> [(critical_length(t * 1e-9), round(critical_length(t * 1e-9) / 3, 2)) for t in (50, 20, 100)]
    [(5.0, 1.67), (2.0, 0.67), (10.0, 3.33)]
    """
    return round(transition / (2 * delay), 9)


def ringing(length: float, delay: float = DELAY) -> float:
    """Seconds in which the reflections of a stub die: three round trips, 6 L t_p. Compare with the sample point.

    Source of the three round trips: ``rs422.SETTLE_SOURCE``. Own arithmetic: 0.3 m at 1 Mbit/s (750 ns to the sample
    point), 5.5 m and 20 m at 500 kbit/s (1750 ns): 9 % and 34 %, of which a house limit of 25 % refuses the second.

    >>> [round(ringing(length) * 1e9) for length in (0.3, 5.5, 20)]
    [9, 165, 600]
    >>> [round(100 * ringing(length) / 1750e-9) for length in (5.5, 20)]
    [9, 34]
    """
    return 6 * length * delay


def can_by_rate(rate: float) -> float | None:
    """Longest stub of the looser table for a rate, metres: of the nearest rate above; None above 1 Mbit/s.

    >>> can_by_rate(500e3), can_by_rate(300e3), can_by_rate(2e6)
    (5.5, 5.5, None)
    """
    rows = [row for row in CAN_BY_RATE if row >= rate]
    return CAN_BY_RATE[min(rows)][0] if rows else None


def can_sum_by_rate(rate: float) -> float | None:
    """Longest sum of all stubs for a rate, metres: of the nearest rate above in that table; None above 1 Mbit/s.

    Source: ``CAN_BY_RATE_SOURCE``.

    >>> can_sum_by_rate(500e3), can_sum_by_rate(300e3), can_sum_by_rate(2e6)
    (27.5, 27.5, None)
    """
    rows = [row for row in CAN_BY_RATE if row >= rate]
    return CAN_BY_RATE[min(rows)][1] if rows else None
