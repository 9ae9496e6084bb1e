"""Readings as rows of a table: points kept short, values with the unit a meter shows."""

from __future__ import annotations

import math
from collections.abc import Iterable

from harnesscheck.paper.blocks import Cell, Column, Table
from harnesscheck.place import Point
from harnesscheck.ringout.reading import Reading

BLANKS = (Column("reading", blank=True, least=20), Column("by", blank=True, least=12))


def ohms(value: float | None) -> str:
    """``0.025 ohm``, ``60.1 ohm``, ``10 Mohm`` or ``open``; ``not known`` for None."""
    if value is None:
        return "not known"
    if math.isinf(value):
        return "open"
    for size, unit in ((1e6, "Mohm"), (1e3, "kohm")):
        if value >= size:
            return f"{value / size:g} {unit}"
    return f"{value:.3f} ohm" if value < 10 else f"{value:.1f} ohm"


def points(listed: Iterable[Point]) -> str:
    """Points by their reference: ``J114-1, -3, -5; P115-2``."""
    by_ref: dict[str, list[str]] = {}
    for point in listed:
        by_ref.setdefault(point.ref, []).append(point.cavity)
    return "; ".join(
        ", ".join(
            (ref if not cavity else f"{ref}-{cavity}") if n == 0 else f"-{cavity}" for n, cavity in enumerate(names)
        )
        for ref, names in by_ref.items()
    )


def anchored(reading: Reading) -> Cell:
    """The reading's id, to be pointed at."""
    return Cell(reading.id, anchor=f"reading-{reading.id}", strong=True)


def band(reading: Reading) -> str:
    """What is accepted, no more than is judged: ``at most 0.151 ohm``, ``more than 10 Mohm``, ``55.0 to 65.2 ohm``."""
    if reading.low is not None and reading.high is not None:
        return f"{ohms(reading.low).removesuffix(' ohm')} to {ohms(reading.high)}"
    if reading.low is not None:
        return f"more than {ohms(reading.low)}"
    if reading.high is not None:
        return f"at most {math.floor(reading.high * 1000 + 1e-9) / 1000:.3f} ohm"
    return "write it down"


def through(name: str, readings: Iterable[Reading]) -> Table:
    """Continuity readings."""
    columns = (Column("no"), Column("lead A"), Column("lead B"), Column("computed", right=True), Column("accept"),
               Column("what lies between"), *BLANKS)  # fmt: skip
    rows = tuple((anchored(r), points(r.a), points(r.b), ohms(r.expected), band(r), _why(r), "", "") for r in readings)
    return Table(name, columns, rows, "Through: every one of these conducts")


def apart(name: str, readings: Iterable[Reading], title: str) -> Table:
    """Isolation readings with all their points."""
    columns = (Column("no"), Column("lead A"), Column("lead B"), Column("accept"), Column("of"), *BLANKS)
    rows = tuple((anchored(r), points(r.a), points(r.b), band(r), _why(r), "", "") for r in readings)
    return Table(name, columns, rows, title)


def _why(reading: Reading) -> str:
    return "; ".join(word for word in (reading.why, reading.unknown if reading.judged else "") if word)
