"""Lines that are made for one load: network, video and radio frequency, and what a tee does to them."""

from __future__ import annotations

import math

from harnesscheck.formulas.rs422 import LIGHT
from harnesscheck.source import Source, Status

VIDEO_SOURCE = Source(
    "video loop-through manuals", Status.CONFIRMED, paragraph="terminate once, at the last device; the others high"
)
CABLE_LOSS = 1.5
"""Decibels that transponder manuals grant the cable at 1090 MHz; 0.25 dB for each connector, 2 dB together."""
CABLE_LOSS_SOURCE = Source("two transponder installation manuals", Status.CONFIRMED, paragraph="p. 32 and p. 17")
CONNECTOR_LOSS = 0.25


def reflection(line: float, load: float) -> float:
    """Voltage reflection of a load at the end of a line, both in ohms: (Z - Z0) / (Z + Z0). Own arithmetic.

    A tee shows the line two others in parallel, half its impedance, whatever that is:

    >>> round(reflection(100, 50), 4), round(reflection(50, 25), 4)
    (-0.3333, -0.3333)
    """
    return (load - line) / (load + line)


def return_loss(gamma: float) -> float:
    """Decibels: -20 log10 |gamma|. The tee: 9.54 dB.

    >>> round(return_loss(-1 / 3), 2)
    9.54
    """
    return -20 * math.log10(abs(gamma))


def vswr(gamma: float) -> float:
    """Standing wave ratio: (1 + |gamma|) / (1 - |gamma|). The tee: 2.

    >>> round(vswr(-1 / 3), 2)
    2.0
    """
    return (1 + abs(gamma)) / (1 - abs(gamma))


def tee_share() -> float:
    """Share of the power that each branch of a plain tee of equal lines gets: (1 - gamma^2) / 2. Own arithmetic.

    >>> round(100 * tee_share(), 1), round(10 * math.log10(tee_share()), 2)
    (44.4, -3.52)
    """
    return (1 - reflection(2.0, 1.0) ** 2) / 2


def video_level(loads: int, emf: float = 2.0, impedance: float = 75.0) -> float:
    """Volts of a video source into so many terminators. Own arithmetic; one, two, three and none:

    >>> [round(video_level(n), 3) for n in (1, 2, 3, 0)]
    [1.0, 0.667, 0.5, 2.0]
    >>> [round(20 * math.log10(video_level(n)), 2) for n in (2, 0)]
    [-3.52, 6.02]
    """
    return emf / (1 + loads)


def quarter_wave(frequency: float, velocity: float) -> float:
    """Length of open cable that shorts a frequency, metres: v c / (4 f). Own arithmetic.

    >>> [round(quarter_wave(1090e6, v) * 1000, 1) for v in (0.66, 0.695)]
    [45.4, 47.8]
    >>> round(quarter_wave(127e6, 0.695), 2)
    0.41
    """
    return velocity * LIGHT / (4 * frequency)


def inserted_loss(pairs: int = 1) -> float:
    """Decibels that inserted connector pairs cost, two connectors each: a third of the cable budget for one.

    >>> inserted_loss(), round(inserted_loss() / CABLE_LOSS, 2)
    (0.5, 0.33)
    """
    return 2 * pairs * CONNECTOR_LOSS
