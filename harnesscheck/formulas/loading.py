"""What a second input does to a sensor line: resistances in parallel, loading error, two pull-ups, a shared return."""

from __future__ import annotations

import math
from collections.abc import Iterable

from harnesscheck.source import Source, Status

LOADING = 0.005
"""Greatest change of an analogue signal by a tap, as a share of the reading."""
LOADING_SOURCE = Source(
    "", Status.COMMON, paragraph="half a per cent of the reading; the accuracy of the gauge decides"
)
PULL_UP_SOURCE = Source(
    "display maker's forum and sensor training page",
    Status.SECOND_HAND,
    paragraph="a second pull-up spoils the reading",
)


def parallel(resistances: Iterable[float]) -> float:
    """Resistances in parallel, ohms. R = 1 / sum(1 / R_i). Infinity is an open circuit, and so is nothing at all.

    Own arithmetic (Ohm's law):

    >>> round(parallel([100, 1000]), 1), round(parallel([12000] * 32), 9), parallel([math.inf])
    (90.9, 375.0, inf)
    """
    total = 0.0
    for resistance in resistances:
        if resistance <= 0:
            raise ValueError("a resistance is above zero")
        total += 1 / resistance
    return 1 / total if total else math.inf


def loading_error(source: float, load: float) -> float:
    """Share by which a load of ``load`` ohm lowers the voltage of a source of ``source`` ohm: Rs / (Rs + R_in).

    Own arithmetic (voltage divider); 100 ohm into 10 kohm and 1 kohm into 100 kohm lose the same:

    >>> round(100 * loading_error(100, 10e3), 2), round(100 * loading_error(1e3, 100e3), 2)
    (0.99, 0.99)
    """
    if source < 0 or load <= 0:
        raise ValueError("a load is above zero, a source resistance not below")
    return 0.0 if math.isinf(load) else source / (source + load)


def least_load(source: float, error: float) -> float:
    """Least input resistance that keeps the loading error of a source at ``error`` (a share), ohms.

    R_in = Rs (1 - e) / e. Own arithmetic:

    >>> round(least_load(1e3, 0.005))
    199000
    """
    if not 0 < error < 1:
        raise ValueError("the error is a share between 0 and 1")
    return source * (1 - error) / error


def sender_voltage(sender: float, pull_ups: Iterable[tuple[float, float]]) -> float:
    """Volts on a resistive sender to ground that is fed through pull-ups, each ``(ohms, volts)``.

    V = sum(V_i / R_i) / (1 / R_sender + sum(1 / R_i)). Own arithmetic (node equation). A 100 ohm sender on a gauge with
    200 ohm to 5 V (a real input, second hand), then with a second unit of 1 kohm to 5 V, and to 12 V:

    >>> round(sender_voltage(100, [(200, 5)]), 3)
    1.667
    >>> round(sender_voltage(100, [(200, 5), (1000, 5)]), 3), round(sender_voltage(100, [(200, 5), (1000, 12)]), 4)
    (1.875, 2.3125)
    """
    above, below = 0.0, 1 / sender
    for resistance, volts in pull_ups:
        above += volts / resistance
        below += 1 / resistance
    return above / below


def sender_decoded(volts: float, pull_up: float, supply: float) -> float:
    """Resistance that a gauge with one pull-up takes a voltage for, ohms; infinity at or above the supply.

    R = R_p V / (V_ref - V). Own arithmetic; the two voltages of ``sender_voltage`` are taken for 20 % and 72 % more:

    >>> round(sender_decoded(1.875, 200, 5)), round(sender_decoded(2.3125, 200, 5))
    (120, 172)
    """
    return math.inf if volts >= supply else pull_up * volts / (supply - volts)


def shared_return_error(resistance: float, current: float, span_volts: float, span: float) -> float:
    """Error of a sensor whose return carries another load: I R, in units of the sensor, ``span`` for ``span_volts``.

    Own arithmetic. Three feet of 22 AWG (0.0162 ohm/ft) with 7 A, and a sensor of 0 to 5 V for 150 psi:

    >>> round(7 * 0.0162 * 3, 3), round(shared_return_error(0.0162 * 3, 7, 5, 150), 1)
    (0.34, 10.2)
    """
    if span_volts <= 0:
        raise ValueError("the span is above zero")
    return resistance * current / span_volts * span


def sender_beside(sender: float, load: float) -> float:
    """What is left of a resistive sender with ``load`` ohm to ground beside it, ohms. Own arithmetic.

    A 33 to 240 ohm sender beside a unit without supply that looks like 1 kohm to ground:

    >>> [round(sender_beside(r, 1000), 2) for r in (33, 100, 240)]
    [31.95, 90.91, 193.55]
    """
    return parallel([sender, load])
