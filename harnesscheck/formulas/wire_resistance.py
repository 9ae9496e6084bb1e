"""Resistance of aircraft wire: the greatest value of each size, hot and cold, over a run."""

from __future__ import annotations

from harnesscheck.source import Source, Status

FOOT = 0.3048
"""Metres, exactly."""
TABLE_11_9 = Source("AC 43.13-1B", Status.CONFIRMED, "Chg 1", "Table 11-9, p. 11-23, tin-plated copper at 20 C")
TIN_COPPER = {
    24: 28.40, 22: 16.20, 20: 9.88, 18: 6.23, 16: 4.81, 14: 3.06, 12: 2.02, 10: 1.26, 8: 0.70,
    6: 0.44, 4: 0.28, 2: 0.18, 1: 0.15, 0: 0.12, -1: 0.09, -2: 0.07, -3: 0.06,
}  # fmt: skip
"""AWG (2/0 is -1) to greatest resistance of tin-plated aircraft wire at 20 C, ohm per 1000 ft. Source: ``TABLE_11_9``.

Size 24 is out of family (its product with the area is 13.5 against 11.7 to 12.6 of all others; tin-plated copper is
about 26.2, from memory): it errs on the side of more resistance."""
CIRCULAR_MILS = {
    24: 475, 22: 755, 20: 1216, 18: 1900, 16: 2426, 14: 3831, 12: 5874, 10: 9354, 8: 16983,
    6: 26818, 4: 42615, 2: 66500, 1: 81700, 0: 104500, -1: 133000, -2: 166500, -3: 210900,
}  # fmt: skip
"""AWG to conductor area of aircraft wire, circular mils. Source: ``TABLE_11_9``. Not the solid area of the number."""


def per_metre(awg: int) -> float:
    """Greatest resistance of tin-plated copper wire of one aircraft size at 20 C, ohm/m. ``KeyError`` for other sizes.

    >>> round(per_metre(10) * FOOT, 5)          # AC 43.13-1B Table 11-7 works with .00126 ohm/ft
    0.00126
    """
    return TIN_COPPER[awg] / 1000 / FOOT


def at_temperature(resistance: float, celsius: float, *, aluminium: bool = False) -> float:
    """A resistance known at 20 C, at another conductor temperature, same unit.

    R(T) = R20 (234.5 + T) / 254.5 for copper, (238.1 + T) / 258.1 for aluminium. Range: -60 to 260 C.
    Source: AC 43.13-1B Chg 1 p. 11-22 (as the ratio of run lengths).

    >>> r20 = 16.143                            # solid 22 AWG, ohm/1000 ft from ASTM B258 and 5.8e7 S/m
    >>> round(at_temperature(r20, 25.0), 2), round(at_temperature(r20, 65.0), 2)   # a handbook table: 16.50, 19.00
    (16.46, 19.0)
    """
    if not -60 <= celsius <= 260:
        raise ValueError("the copper temperature formula is used from -60 C to 260 C")
    zero = 238.1 if aluminium else 234.5
    return resistance * (zero + celsius) / (zero + 20)
