"""How much current a wire may carry: free air, then its bundle, then its altitude. After AC 43.13-1B chapter 11.

The AC gives curves. Here the free-air curves are a closed form fitted to Table 11-9 (own fit, derived), the bundle
curves are a public digitisation, and altitude is a straight line between the points known. ``*_source`` says how far
each is known, so that a finding can say so; figure numbers are not used, because the AC contradicts itself about them
(p. 11-27, par. 11-67).
"""

from __future__ import annotations

from bisect import bisect_right

from harnesscheck.source import Source, Status

SHARES = (0.2, 0.4, 0.6, 0.8, 1.0)
_POINTS: dict[int, tuple[float, float, float, float, float]] = {
    1: (1.0, 1.0, 1.0, 1.0, 1.0),
    2: (0.9675, 0.92, 0.91, 0.87, 0.825),
    3: (0.935, 0.855, 0.815, 0.77, 0.725),
    4: (0.9075, 0.805, 0.75, 0.705, 0.66),
    5: (0.875, 0.76, 0.695, 0.65, 0.61),
    6: (0.85, 0.725, 0.655, 0.605, 0.5725),
    7: (0.82, 0.695, 0.625, 0.57, 0.54),
    8: (0.795, 0.6675, 0.595, 0.5425, 0.5125),
    9: (0.775, 0.645, 0.575, 0.52, 0.485),
    10: (0.755, 0.6225, 0.55, 0.5, 0.465),
    11: (0.735, 0.6, 0.53, 0.48, 0.445),
    12: (0.715, 0.585, 0.515, 0.465, 0.43),
    13: (0.6975, 0.5675, 0.495, 0.4475, 0.415),
    14: (0.685, 0.5525, 0.48, 0.435, 0.3975),
    15: (0.67, 0.54, 0.465, 0.42, 0.385),
    16: (0.6575, 0.5275, 0.455, 0.41, 0.37),
    17: (0.645, 0.515, 0.4425, 0.3975, 0.36),
    18: (0.635, 0.505, 0.4325, 0.3875, 0.35),
    19: (0.625, 0.495, 0.4225, 0.38, 0.3425),
    20: (0.615, 0.485, 0.413, 0.371, 0.335),
}
"""Wires in the bundle to the factor at each of ``SHARES``. Source: ``BUNDLE_SOURCE``; reading error about 0.01."""
_SLOPES = (0.30, 0.36, 0.41, 0.41, 0.45)
BUNDLE_SOURCE = Source("MIL-W-5088L bundle curves", Status.SECOND_HAND, paragraph="public digitisation, 1 to 20 wires")
LARGE_BUNDLE_SOURCE = Source(
    "MIL-W-5088L bundle curves", Status.DERIVED, paragraph="own extrapolation f20 (20/N)^p beyond 20 wires"
)
ALTITUDE_SOURCE = Source(
    "AC 43.13-1B", Status.CONFIRMED, "Chg 1", "p. 11-27: 0.91 at 20,000 ft; straight line from 0 ft"
)
HIGH_ALTITUDE_SOURCE = Source("AC 43.13-1B", Status.MEMORY, "Chg 1", "par. 11-69: 0.79 at 60,000 ft")
FREE_AIR_SOURCE = Source(
    "AC 43.13-1B", Status.DERIVED, "Chg 1", "own closed form of the free-air curves, within 6 % of Table 11-9"
)
KILOFEET = 304.8
"""Metres in 1000 ft, exactly."""


def free_air(circular_mils: float, rise: float) -> float:
    """Amperes of one copper wire in free air at sea level: 0.01534 cmil^0.6655 rise^0.509.

    ``rise`` is rating less ambient, kelvin, above zero. Range of the fit: AWG 22 to 4/0, rise 35 to 175 K.
    Source: ``FREE_AIR_SOURCE``.

    >>> round(free_air(3831, 150.0), 1)         # AC 43.13-1B p. 11-27 reads 47 A off its curve for AWG 14
    47.7
    """
    if circular_mils <= 0 or rise <= 0:
        raise ValueError("area and temperature rise are above zero")
    return float(0.01534 * circular_mils**0.6655 * rise**0.509)


def bundle_factor(wires: int, share: float) -> float:
    """Factor for a bundle of ``wires``, of whose total capacity ``share`` (0 to 1) is in use.

    Between the shares of the curves the factor is a straight line; below 20 % the 20 % curve is used, which errs on the
    safe side. Source: ``bundle_source(wires)``.

    >>> bundle_factor(8, 0.6)                   # AC 43.13-1B p. 11-27 reads 0.6
    0.595
    """
    if wires < 1 or not 0 <= share <= 1:
        raise ValueError("a bundle has at least one wire, and the share in use lies between 0 and 1")
    row: tuple[float, ...] = _POINTS.get(wires, ())
    if not row:
        row = tuple(f * float((20 / wires) ** p) for f, p in zip(_POINTS[20], _SLOPES, strict=True))
    if share <= SHARES[0]:
        return row[0]
    upper = min(bisect_right(SHARES, share), len(SHARES) - 1)
    low, high = SHARES[upper - 1], SHARES[upper]
    return row[upper - 1] + (row[upper] - row[upper - 1]) * (share - low) / (high - low)


def bundle_source(wires: int) -> Source:
    """How far the bundle factor is known for a bundle of this size."""
    return BUNDLE_SOURCE if wires <= 20 else LARGE_BUNDLE_SOURCE


def altitude_factor(metres: float) -> float:
    """Factor for altitude: 1.00 at sea level, 0.91 at 20,000 ft, 0.79 at 60,000 ft, straight lines between.

    Range: to 60,000 ft (18,288 m). Below sea level counts as sea level. Source: ``altitude_source(metres)``.

    >>> round(altitude_factor(20 * KILOFEET), 2), round(altitude_factor(60 * KILOFEET), 2)
    (0.91, 0.79)
    """
    kilofeet = max(0.0, metres / KILOFEET)
    if kilofeet > 60.0001:
        raise ValueError("the altitude curve ends at 60,000 ft")
    if kilofeet <= 20:
        return 1 - 0.0045 * kilofeet
    return 0.91 - (0.91 - 0.79) * (kilofeet - 20) / 40


def altitude_source(metres: float) -> Source:
    """How far the altitude factor is known at this altitude."""
    return ALTITUDE_SOURCE if metres <= 20.0001 * KILOFEET else HIGH_ALTITUDE_SOURCE


def allowed(circular_mils: float, rise: float, wires: int, share: float, metres: float) -> float:
    """Amperes a wire may carry in its bundle at its altitude: the product of the three above.

    >>> from harnesscheck.formulas.wire_resistance import CIRCULAR_MILS
    >>> amps = allowed(CIRCULAR_MILS[12], 200.0 - 70.0, 33, 0.2, 60 * KILOFEET)   # note 1 of Table 11-9
    >>> round(amps, 1)                          # Table 11-9 prints 25 A for AWG 12, 200 C wire
    24.6
    """
    return free_air(circular_mils, rise) * bundle_factor(wires, share) * altitude_factor(metres)
