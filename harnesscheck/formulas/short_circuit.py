"""What a wire survives while a breaker is still closed: adiabatic heating, and melting as the far end of it."""

from __future__ import annotations

import math

from harnesscheck.source import Source, Status

ADIABATIC_SOURCE = Source(
    "BS 7671 / IEC 60364-5-54", Status.SECOND_HAND, paragraph="k factors as listed by a third party"
)
MIL = 25.4e-6
"""Metres, exactly."""
CIRCULAR_MIL = math.pi / 4 * MIL**2
"""Square metres."""
COPPER_MELTS = 1083.0
"""Celsius. Common practice (handbook value 1083 to 1085)."""


def adiabatic_k(start: float, end: float) -> float:
    """Factor k of I^2 t = (k S)^2 for copper, A s^0.5/mm2, from conductor temperatures in Celsius. Valid to about 5 s.

    k = 226 sqrt(ln((Tf + 234.5) / (Ti + 234.5))). Source: ``ADIABATIC_SOURCE``, whose list is reproduced here:

    >>> [round(adiabatic_k(a, b)) for a, b in ((70, 160), (90, 250), (60, 200), (85, 220), (180, 350), (90, 160))]
    [115, 143, 141, 134, 132, 100]
    """
    if not end > start > -234.5:
        raise ValueError("the end temperature is above the start temperature")
    return 226 * math.sqrt(math.log((end + 234.5) / (start + 234.5)))


def let_through(circular_mils: float, start: float, end: float) -> float:
    """I^2 t that heats a copper conductor from ``start`` to ``end`` Celsius with no heat lost, A2s.

    >>> round(let_through(755, 70.0, 150.0))        # 22 AWG, 70 to 150 C
    1744
    """
    return (adiabatic_k(start, end) * circular_mils * CIRCULAR_MIL * 1e6) ** 2


def fusing_current(circular_mils: float, seconds: float, ambient: float = 25.0) -> float:
    """Amperes that melt a copper wire in ``seconds``, after Onderdonk: 33 (I/A)^2 t = log10((Tm-Ta)/(234+Ta) + 1).

    A in circular mils. Valid to about 10 s. A worked figure in a public forum post (178 A for this example) uses
    234 - Ta and does not reproduce; the plus form is the right one.

    >>> round(fusing_current(2581, 5.0), 1)
    168.9
    """
    if seconds <= 0 or circular_mils <= 0:
        raise ValueError("time and area are above zero")
    return circular_mils * math.sqrt(math.log10((COPPER_MELTS - ambient) / (234 + ambient) + 1) / (33 * seconds))


def fusing_time(circular_mils: float, current: float, ambient: float = 25.0) -> float:
    """Seconds in which ``current`` melts a copper wire, after Onderdonk.

    >>> round(fusing_time(4110, 400.0), 2)
    2.26
    """
    if current <= 0 or circular_mils <= 0:
        raise ValueError("current and area are above zero")
    return math.log10((COPPER_MELTS - ambient) / (234 + ambient) + 1) / (33 * (current / circular_mils) ** 2)


def fusing_current_in_air(diameter: float) -> float:
    """Amperes that melt one bare copper wire in still air, after Preece: 10244 d^1.5, d in inches. Not a rating.

    ``diameter`` in metres.

    >>> round(fusing_current_in_air(0.0524 * 0.0254))
    123
    """
    return float(10244 * (diameter / 0.0254) ** 1.5)
