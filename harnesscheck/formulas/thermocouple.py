"""Type K thermocouple: what it gives, and what a piece of copper in its run makes of the reading."""

from __future__ import annotations

import math

from harnesscheck.source import Source, Status

POLYNOMIAL = (
    -1.7600413686e-2, 3.8921204975e-2, 1.8558770032e-5, -9.9457592874e-8, 3.1840945719e-10,
    -5.6072844889e-13, 5.6075059059e-16, -3.2020720003e-19, 9.7151147152e-23, -1.2104721275e-26,
)  # fmt: skip
"""Coefficients of the reference polynomial for 0 to 1372 C, millivolts. From memory (ITS-90)."""
BUMP = (1.185976e-1, -1.183432e-4, 126.9686)
METALS_SOURCE = Source(
    "law of intermediate metals, as explained in a builders' forum", Status.SECOND_HAND,
    paragraph="a third metal is harmless only while both its junctions have one temperature",
)  # fmt: skip


def millivolts(celsius: float) -> float:
    """Type K against 0 C, millivolts. Range 0 to 1372 C. Checked at two points that are known apart from it:

    >>> round(millivolts(100), 3), round(millivolts(700), 3)
    (4.096, 29.129)
    """
    if not 0 <= celsius <= 1372:
        raise ValueError("the polynomial is for 0 C to 1372 C")
    powers = math.fsum(c * celsius**n for n, c in enumerate(POLYNOMIAL))
    return powers + BUMP[0] * math.exp(BUMP[1] * (celsius - BUMP[2]) ** 2)


def celsius_of(voltage: float) -> float:
    """The temperature of a voltage in millivolts, by halving; the inverse of ``millivolts``.

    >>> round(celsius_of(millivolts(661.0)), 3)
    661.0
    """
    low, high = 0.0, 1372.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if millivolts(middle) < voltage else (low, middle)
    return (low + high) / 2


def reading(hot: float, splice: float, instrument: float) -> float:
    """What an instrument reads with copper from a splice to itself, Celsius: hot - (splice - instrument), about.

    E(T) = E(hot) - E(splice) + E(instrument). Own arithmetic from ``millivolts``:

    >>> [round(reading(h, s, 20), 1) for h, s in ((700, 60), (200, 60), (700, 40), (700, 20))]
    [661.0, 159.0, 680.6, 700.0]
    """
    return celsius_of(millivolts(hot) - millivolts(splice) + millivolts(instrument))


def reading_reversed(hot: float, splice: float, instrument: float) -> float:
    """What it reads when the extension wire from splice to instrument is connected the wrong way round, Celsius.

    >>> round(reading_reversed(700, 60, 20), 1)
    622.3
    """
    return celsius_of(millivolts(hot) - 2 * (millivolts(splice) - millivolts(instrument)))


def contact_error(hot: float, across: float, at: float = 25.0) -> float:
    """Error of copper contacts with ``across`` Celsius from one end of them to the other, Celsius. Own arithmetic.

    >>> round(contact_error(700, 5, 40), 1)
    -4.9
    """
    return celsius_of(millivolts(hot) - millivolts(at + across) + millivolts(at)) - hot
