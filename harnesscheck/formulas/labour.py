"""Time that a task at the bench or in the aircraft takes, and the sum of many."""

from __future__ import annotations

import math
from collections.abc import Mapping

from harnesscheck.source import Source, Status

RATES: dict[str, tuple[float, str]] = {
    "set-up": (1800.0, "papers, parts and tools laid out, first-piece crimps, once a batch"),
    "cut": (60.0, "a wire or cable measured and cut"),
    "label": (45.0, "a mark printed and put on"),
    "strip": (20.0, "an end stripped and looked at"),
    "crimp": (40.0, "a contact crimped and looked at"),
    "insert": (30.0, "a contact inserted and tugged"),
    "plug": (15.0, "a sealing plug fitted"),
    "splice": (360.0, "a splice crimped, sleeved, shrunk and looked at"),
    "shield": (480.0, "a shield or drain dressed and ended, an end"),
    "ring-out": (60.0, "a row of the ring-out sheet"),
    "site set-up": (3600.0, "access, power off and tagged, inspection, papers, once an aircraft"),
    "site insert": (120.0, "a contact inserted in the aircraft and tugged"),
    "mate": (300.0, "a connector inspected, mated, locked and marked"),
    "route": (2400.0, "a metre of route clamped and tied in the aircraft"),
    "function check": (900.0, "a disturbed connector checked in use"),
}
"""Task to seconds and what it covers. Common practice, wide margins: a shop states its own under ``labour:``."""
SOURCE = Source("", Status.COMMON, paragraph="times of the trade, wide margins")


def hours(counts: Mapping[str, int | float], rates: Mapping[str, float]) -> float:
    """Hours of all tasks: the sum of count times rate (seconds). Raises ``KeyError`` for a task without a rate.

    >>> hours({"cut": 30, "crimp": 60}, {"cut": 60.0, "crimp": 40.0})     # own arithmetic: 1800 s + 2400 s
    1.1666666666666667
    """
    return math.fsum(count * rates[task] for task, count in counts.items()) / 3600.0
