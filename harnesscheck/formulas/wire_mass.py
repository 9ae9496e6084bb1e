"""Mass of the copper in a wire: a lower limit of the mass of the wire."""

from __future__ import annotations

COPPER_DENSITY = 8890.0
"""Kilograms per cubic metre: annealed copper, IEC 60028 (8.89 g/cm3 at 20 C; from memory)."""
COPPER_SOURCE = "Conductor area x length x 8.89 g/cm3 (density of annealed copper, IEC 60028, from memory)"


def copper_mass(area: float, length: float) -> float:
    """Kilograms of copper from an area in square metres and a length in metres; plating and lay are left out.

    Source: mass = area x length x density. The handbook mass of bare stranded 20 AWG (1216 cmil) is about 5.5 g/m.

    >>> round(copper_mass(1216 * 5.067074790974977e-10, 1.0), 5)      # own arithmetic: 0.6162 mm2 x 8.89 g/cm3
    0.00548
    """
    return area * length * COPPER_DENSITY
