"""Conductor sizes: American Wire Gauge after ASTM B258, and comparing gauges written in different systems."""

from __future__ import annotations

import math

from harnesscheck.units import Gauge

SAME = 0.001
"""Areas that differ by less than this share are one size; neighbouring gauge numbers differ by a fifth and more."""


def awg_diameter(awg: int) -> float:
    """Diameter of a solid round conductor of gauge number ``awg`` (2/0 is -1), metres.

    d = 0.005 in x 92^((36 - n) / 39). Range: 4/0 (-3) to 40. Source: ASTM B258 (definition of the AWG series).

    >>> round(awg_diameter(36) / 0.0254, 6)   # by definition: No. 36 is 0.0050 in
    0.005
    >>> round(awg_diameter(-3) / 0.0254, 4)   # by definition: No. 4/0 is 0.4600 in
    0.46
    """
    return float(0.005 * 0.0254 * 92 ** ((36 - awg) / 39))


def area(gauge: Gauge) -> float:
    """Conductor area, square metres: the solid area of an AWG number, or the metric area as typed.

    Aircraft stranded conductors differ by some per cent from the solid area of their number (AC 43.13-1B
    Table 11-9: size 20 is 1,216 circular mils against 1,022), so this serves to order sizes, not to compute a drop.
    """
    if gauge.awg is not None:
        return math.pi / 4 * awg_diameter(gauge.awg) ** 2
    assert gauge.mm2 is not None
    return gauge.mm2 * 1e-6


def number(gauge: Gauge) -> int | None:
    """The AWG number of a size: as typed, or the one whose solid area a metric size is to ``SAME``; else None.

    Who types 0.3255 mm2 has converted 22 AWG, so the tables of that number hold. No preferred metric size (0.2, 0.34,
    0.5, 0.75, 1, 1.5, 2.5 mm2 and on) comes that near to a number.

    >>> number(Gauge(mm2=0.3255)), number(Gauge(mm2=0.34)), number(Gauge(mm2=0.5)), number(Gauge(awg=20))
    (22, None, None, 20)
    """
    if gauge.awg is not None:
        return gauge.awg
    size = area(gauge)
    near = round(36 - 39 * math.log(2 * math.sqrt(size / math.pi) / (0.005 * 0.0254), 92))
    return near if -3 <= near <= 40 and abs(area(Gauge(awg=near)) - size) <= SAME * size else None


def compare(one: Gauge, two: Gauge) -> int:
    """-1 when ``one`` is thinner, 0 when equal, 1 when thicker. AWG numbers are compared as numbers, not as areas.

    A metric area that is that of a gauge number to ``SAME`` counts as equal: nobody can type it exactly.

    >>> compare(Gauge(awg=24), Gauge(awg=22)), compare(Gauge(awg=22), Gauge(mm2=0.35))
    (-1, -1)
    >>> compare(Gauge(mm2=0.3255), Gauge(awg=22))
    0
    """
    if one.awg is not None or two.awg is not None:
        a, b = number(one), number(two)
        if a is not None and b is not None:
            return (a < b) - (a > b)
    first, second = area(one), area(two)
    return (first > second) - (first < second)
