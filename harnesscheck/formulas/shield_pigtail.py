"""The pigtail of a shield at high frequency."""

from __future__ import annotations

import math

PER_METRE = 1e-6
"""Henries a metre of wire: about 1 nH/mm. From memory."""


def pigtail_impedance(length: float, frequency: float) -> float:
    """Impedance of a pigtail, ohms: 2 pi f L. ``length`` in metres. Own arithmetic; 75 mm and 25 mm at 1, 10, 100 MHz:

    >>> [[float(f"{pigtail_impedance(x, f):.2g}") for f in (1e6, 1e7, 1e8)] for x in (0.075, 0.025)]
    [[0.47, 4.7, 47.0], [0.16, 1.6, 16.0]]
    """
    return 2 * math.pi * frequency * PER_METRE * length
