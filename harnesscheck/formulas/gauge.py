"""Conductor sizes: American Wire Gauge after ASTM B258, and comparing gauges written in different systems."""

from __future__ import annotations

import math

from harnesscheck.formulas.short_circuit import CIRCULAR_MIL
from harnesscheck.formulas.wire_resistance import CIRCULAR_MILS
from harnesscheck.units import Gauge

SAME = 0.001
"""Areas that differ by less than this share are one size: as exactly as an area is typed, and far below the 0.6 % that
the nearest preferred metric size (0.38 mm2) is apart from an aircraft size."""


STRANDED = {**CIRCULAR_MILS, 26: 304}
"""AWG to conductor area of stranded aircraft wire, circular mils: AC 43.13-1B Table 11-9, and for 26 three wire
catalogues (19 strands of 38 AWG). Smaller sizes have no sourced area here."""


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


def conductor_area(gauge: Gauge) -> float:
    """Copper of a wire of that size, square metres: of the stranded aircraft conductor of an AWG number, or the metric
    area as typed. A number that ``STRANDED`` does not list has its solid area.

    >>> round(conductor_area(Gauge(awg=22)) * 1e6, 4), round(area(Gauge(awg=22)) * 1e6, 4)   # 755 cmil, and 642
    (0.3826, 0.3255)
    """
    mils = STRANDED.get(gauge.awg) if gauge.awg is not None else None
    return area(gauge) if mils is None else mils * CIRCULAR_MIL


def number(gauge: Gauge) -> int | None:
    """The AWG number of a size: as typed, or the one whose aircraft conductor has the metric area to ``SAME``.

    A metric size is its own copper and nothing else: 0.3255 mm2, the solid area of 22 AWG, is 15 % less copper than
    aircraft wire of 22 AWG has, so the tables of that number do not hold for it. Only numbers that Table 11-9 lists
    have an aircraft conductor here. No preferred metric size (0.2, 0.34, 0.38, 0.5, 0.75, 1, 1.5, 2.5 mm2 and on)
    comes that near to one.

    >>> number(Gauge(mm2=0.38256)), number(Gauge(mm2=0.3255)), number(Gauge(mm2=0.38)), number(Gauge(awg=20))
    (22, None, None, 20)
    """
    if gauge.awg is not None:
        return gauge.awg
    size = area(gauge)
    near = min(CIRCULAR_MILS, key=lambda awg: abs(CIRCULAR_MILS[awg] * CIRCULAR_MIL - size))
    return near if abs(conductor_area(Gauge(awg=near)) - size) <= SAME * size else None


def compare(one: Gauge, two: Gauge) -> int:
    """-1 when ``one`` is thinner, 0 when equal, 1 when thicker. AWG numbers are compared as numbers, not as areas.

    A metric size is compared by its own area with the stranded conductor of the number, and is equal to it only when
    it has that area to ``SAME``: nobody can type it exactly. 0.34 mm2 is thinner than 22 AWG.

    >>> compare(Gauge(awg=24), Gauge(awg=22)), compare(Gauge(mm2=0.34), Gauge(awg=22))
    (-1, -1)
    >>> compare(Gauge(mm2=0.3826), Gauge(awg=22)), compare(Gauge(mm2=0.5), Gauge(awg=22))
    (0, 1)
    """
    if one.awg is not None or two.awg is not None:
        a, b = number(one), number(two)
        if a is not None and b is not None:
            return (a < b) - (a > b)
    first, second = conductor_area(one), conductor_area(two)
    if (one.awg is None) != (two.awg is None) and abs(first - second) <= SAME * second:
        return 0
    return (first > second) - (first < second)
