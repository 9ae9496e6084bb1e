"""Conductor sizes: American Wire Gauge after ASTM B258, and comparing gauges written in different systems."""

from __future__ import annotations

import math

from harnesscheck.units import Gauge


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


def compare(one: Gauge, two: Gauge) -> int:
    """-1 when ``one`` is thinner, 0 when equal, 1 when thicker. AWG numbers are compared as numbers, not as areas.

    >>> compare(Gauge(awg=24), Gauge(awg=22)), compare(Gauge(awg=22), Gauge(mm2=0.35))
    (-1, -1)
    """
    if one.awg is not None and two.awg is not None:
        return (one.awg < two.awg) - (one.awg > two.awg)
    first, second = area(one), area(two)
    return (first > second) - (first < second)
