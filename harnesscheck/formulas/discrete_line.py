"""Switch lines: what a listener takes for open and for ground, and what a box without supply does to the line."""

from __future__ import annotations

import math

from harnesscheck.source import Source, Status

ACTIVE_BELOW = 1.9
"""Volts below which a ground-active input is active."""
INACTIVE_FROM = 11.0
"""Volts from which it is inactive; between the two nobody has said what it does."""
THRESHOLDS_SOURCE = Source(
    "navigator maintenance manual, altitude inputs", Status.CONFIRMED, paragraph="active < 1.9 V, inactive 11 V to 33 V"
)
DIODE_SOURCE = Source(
    "GPS navigator and transponder installation manuals",
    Status.CONFIRMED,
    paragraph="one diode for each unit without an internal one",
)
SILICON = 0.7
"""Volts across a silicon diode; a Schottky or germanium one has less. Common practice."""


def open_line(supply: float, pull_up: float, clamp: float) -> float:
    """Volts of an open line with a pull-up of ``pull_up`` ohm, held by ``clamp`` ohm of a box without supply.

    V = V_s R_c / (R_c + R_p). Own arithmetic; 10 kohm up, 4.7 kohm down, on 28 V and 14 V: both below
    ``INACTIVE_FROM``.

    >>> round(open_line(28, 10e3, 4.7e3), 2), round(open_line(14, 10e3, 4.7e3), 2), open_line(28, 10e3, math.inf)
    (8.95, 4.48, 28.0)
    """
    return float(supply) if math.isinf(clamp) else supply * clamp / (clamp + pull_up)


def low_level(switch: float, diode: float = SILICON) -> float:
    """Volts that a listener sees behind its diode when the switch is closed: the sum. Own arithmetic.

    >>> round(low_level(0.1), 1), low_level(0.1) < ACTIVE_BELOW
    (0.8, True)
    """
    return switch + diode


def pulled_level(supply: float, on: float, pull_up: float) -> float:
    """Low level of an open-collector or Hall output of ``on`` ohm under all pull-ups together, volts.

    V = V_pu R_on / (R_on + R_pu). Own arithmetic; 50 ohm under 1 kohm to 5 V:

    >>> round(pulled_level(5, 50, 1000), 3)
    0.238
    """
    return supply * on / (on + pull_up)
