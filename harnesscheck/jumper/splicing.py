"""Splices for the kit: a part whose barrel takes the wires, sealed where it is wet, and how far apart they sit."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from harnesscheck.jumper.kit import up
from harnesscheck.parts import Drawer
from harnesscheck.units import Gauge

LEAST_GAP = 0.025
"""Metres between two splices where no sleeve length is known; the same as the check of staggering counts with."""


@dataclass(frozen=True, slots=True)
class Part:
    """A splice part, how much of what speaks for it is not firm, and the length of its sleeve in metres."""

    number: str
    doubts: int
    sleeve: float | None

    @property
    def room(self) -> int:
        """Millimetres that it asks for along the bundle."""
        return up(max(LEAST_GAP, self.sleeve or 0.0))


def parts(drawer: Drawer, sizes: Sequence[Gauge], wet: bool | None) -> list[Part]:
    """Splices of the drawer that take these wires, the firmest and then the smallest first.

    ``wet`` False: an open one will do as well; else (or when nobody knows) only those that keep water out.
    """
    areas = [area(drawer, size) for size in sizes]
    found: list[tuple[tuple[float, ...], Part]] = []
    for number in drawer.numbers("splice"):
        record = drawer.get("splice", number)
        span = record.span("cma") if record is not None else None
        if record is None or span is None or record.text("style") == "stub" or record.text("restriction"):
            continue
        sealed = record.yes("sealed")
        if wet is not False and not sealed:
            continue
        known = [one for one in areas if one is not None]
        if len(known) < len(areas) or not _divides(known, span.low, span.high):
            continue
        most = record.whole("most wires")
        if most is not None and len(areas) > most:
            continue
        facts = (record.fact("cma"), record.fact("sealed"), record.fact("sleeve length"))
        doubts = sum(fact is None or not fact.firm for fact in facts)
        found.append(((doubts, span.high), Part(number, doubts, record.quantity("sleeve length"))))
    return [part for _, part in sorted(found, key=lambda pair: pair[0])]


def area(drawer: Drawer, size: Gauge) -> float | None:
    """Conductor area, square metres, of a stranded aircraft conductor of that size."""
    if size.awg is None:
        return size.mm2 * 1e-6 if size.mm2 is not None else None
    record = drawer.get("conductor", str(size))
    return record.quantity("area") if record is not None else None


def _divides(areas: Sequence[float], low: float, high: float) -> bool:
    """True when the wires can be divided between the two ends of a barrel so that both are in its range."""
    total = math.fsum(areas)
    for mask in range(1, 2 ** (len(areas) - 1)):
        one = math.fsum(each for n, each in enumerate(areas) if mask >> n & 1)
        if all(low * (1 - 1e-9) <= end <= high * (1 + 1e-9) for end in (one, total - one)):
            return True
    return False
