"""TIA-422 and TIA-485: receivers, unit loads, terminators, and whether one is needed."""

from __future__ import annotations

import math
from collections.abc import Iterable

from harnesscheck.formulas.loading import parallel
from harnesscheck.source import Source, Status

RECEIVERS = 10
"""TIA-422: receivers on one driver."""
RECEIVERS_SOURCE = Source("TIA-422-B", Status.CONFIRMED, paragraph="1 driver, 10 receivers; seen in a converter manual")
RECEIVER = 4000.0
"""TIA-422: least input resistance of a receiver, ohms."""
UNIT_LOADS = 32.0
UNIT_LOADS_SOURCE = Source("TIA-485-A", Status.CONFIRMED, paragraph="32 unit loads; as in a transceiver's data sheet")
UNIT_LOAD = 12000.0
"""TIA-485: one unit load is about this, ohms; parts of 1/8 unit load have 96 kohm."""
TERMINATORS_422 = 1
TERMINATORS_422_SOURCE = Source(
    "TIA-422 user manual and transceiver data sheet", Status.CONFIRMED, paragraph="one, at the far end, 90 to 120 ohm"
)
TERMINATORS_485 = 2
TERMINATORS_485_SOURCE = Source(
    "TIA-485 reader installation manual", Status.CONFIRMED, paragraph="two, at the trunk ends, 100 to 120 ohm"
)
WITHIN = (80.0, 144.0)
"""Ohms: 100 to 120 ohm within 20 %, the band of the data sheets for one terminator."""
TEST_LOAD = 54.0
"""TIA-485: ohms a driver is tested into. From memory."""
LIGHT = 299_792_458.0
"""Metres a second, exactly."""
SETTLE_SOURCE = Source("TIA-422 and TIA-485 applications handbook, p. 29", Status.CONFIRMED)


def bus_load(receivers: Iterable[float], terminators: Iterable[float]) -> float:
    """What a driver sees, ohms: receivers and terminators in parallel. Own arithmetic.

    TIA-422, ten receivers of 4 kohm alone, with 100 ohm and with 120 ohm:

    >>> [round(bus_load([RECEIVER] * 10, t), 1) for t in ([], [100], [120])]
    [400.0, 80.0, 92.3]

    TIA-485, 32 unit loads alone, with two terminators of 120 ohm, and with a third:

    >>> [round(bus_load([UNIT_LOAD] * 32, [120] * n), 1) for n in (0, 2, 3)]
    [375.0, 51.7, 36.1]
    """
    return parallel([*receivers, *terminators])


def unit_loads(counts: Iterable[tuple[int, float]]) -> float:
    """Sum of unit loads from ``(how many, unit load of each)``. Ten of 1 and forty of 1/8:

    >>> unit_loads([(10, 1), (40, 0.125)])
    15.0
    """
    return math.fsum(count * load for count, load in counts)


def settling(length: float, velocity: float) -> float:
    """Seconds after which reflections on a line without terminator have died: three round trips. 3 x 2 L / (v c).

    Must be well within half a bit. Source: ``SETTLE_SOURCE``: 2000 ft at 0.66 c has a round trip of 6.2 us.

    >>> round(settling(2000 * 0.3048, 0.66) * 1e6, 1), round(settling(2000 * 0.3048, 0.66) / 3 * 1e6, 1)
    (18.5, 6.2)
    >>> round(0.5 / 9600 * 1e6)
    52
    """
    return 6 * length / (velocity * LIGHT)


def longest_without_terminator(rate: float, velocity: float) -> float:
    """Longest line that settles within half a bit, metres. ``settling`` turned round. Own arithmetic.

    >>> round(0.5 / 115200 * 1e6, 2), round(longest_without_terminator(115200, 0.66))
    (4.34, 143)
    """
    return velocity * LIGHT / (12 * rate)
