"""TIA-232: what one driver can carry, and what a second listener costs."""

from __future__ import annotations

from collections.abc import Iterable

from harnesscheck.formulas.loading import parallel
from harnesscheck.source import Source, Status

LEAST_LOAD = 3000.0
"""Ohms that a driver must still feed with 5 V; a receiver has 3 to 7 kohm."""
DRIVEN = 5.0
"""Volts that a driver must give into ``LEAST_LOAD``."""
THRESHOLD = 3.0
"""Volts above which a receiver is sure."""
CAPACITANCE = 2500e-12
"""Farads, cable and receiver together."""
SOURCE = Source("TIA-232-F", Status.CONFIRMED, paragraph="as stated in a transceiver maker's application report")
RECEIVERS = 1
"""By the standard: point to point."""
GRANTED = 3
"""Receivers that one navigator's installation manual allows on a serial output."""
GRANTED_SOURCE = Source("navigator installation manual, app. E", Status.CONFIRMED, paragraph="at most three units")
LENGTH = 25.4
"""Metres by ``CAPACITANCE`` at 30 pF/ft (from memory; a receiver data page says about 25 m)."""
LENGTH_SOURCE = Source("receiver data page", Status.SECOND_HAND, paragraph="about 25 m by 2500 pF")


def longest(capacitance_per_metre: float) -> float:
    """Longest cable by capacitance, metres: 2500 pF / c. Own arithmetic; 30 pF/ft:

    >>> round(longest(30e-12 / 0.3048), 1), round(longest(30e-12 / 0.3048) / 0.3048)
    (25.4, 83)
    """
    return CAPACITANCE / capacitance_per_metre


def level(open_volts: float, source: float, receivers: Iterable[float]) -> float:
    """Volts of a driver of ``source`` ohm into its receivers in parallel. V = V_oc R / (R + R_o).

    Own arithmetic; 5.4 V behind 300 ohm, one to four receivers of 5 kohm, and two of 3 kohm. Two break the 5 V of the
    standard and stay 1.8 V above the threshold:

    >>> [round(level(5.4, 300, [5000] * n), 2) for n in (1, 2, 3, 4)], round(level(5.4, 300, [3000] * 2), 2)
    ([5.09, 4.82, 4.58, 4.35], 4.5)
    """
    load = parallel(receivers)
    return open_volts if load == float("inf") else open_volts * load / (load + source)


def fight(one: float, two: float, resistance: float) -> float:
    """Amperes between two drivers of ``one`` and ``two`` volts with ``resistance`` ohm between them.

    Own arithmetic; +12 V against -12 V through 300 + 300 ohm (a page that counts one 300 ohm gets 80 mA):

    >>> round(fight(12, -12, 600) * 1000), round(fight(12, -12, 300) * 1000)
    (40, 80)
    """
    return abs(one - two) / resistance
