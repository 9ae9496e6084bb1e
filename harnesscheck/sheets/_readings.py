"""Readings as rows of a table: points kept short, values with the unit a meter shows."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from harnesscheck.paper.blocks import Cell, Column, Table
from harnesscheck.place import Point
from harnesscheck.ringout.reading import Reading, band, computed
from harnesscheck.ringout.rest import Rest

ALL = 200
"""Points still tied that a line names: of more the list itself says which they are."""
FOLLOWING = "those of every net that follows in this list"
BLANKS = (Column("reading", blank=True, least=20), Column("by", blank=True, least=12))


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


def tied(listed: Sequence[Point]) -> str:
    """Points of one lead; of the rest of a long walk only how many: each line would name all that follow it."""
    return f"{len(listed)} points: {FOLLOWING}" if following(listed) else points(listed)


def following(listed: Sequence[Point]) -> bool:
    """True for the rest of a long walk."""
    return isinstance(listed, Rest) and len(listed) > ALL


def anchored(reading: Reading) -> Cell:
    """The reading's id, to be pointed at."""
    return Cell(reading.id, anchor=f"reading-{reading.id}", strong=True)


def through(name: str, readings: Iterable[Reading]) -> Table:
    """Continuity readings."""
    columns = (Column("no"), Column("lead A"), Column("lead B"), Column("computed", right=True), Column("accept"),
               Column("what lies between"), *BLANKS)  # fmt: skip
    rows = tuple(
        (anchored(r), points(r.a), points(r.b), computed(r) or "not known", band(r), _why(r), "", "") for r in readings
    )
    return Table(name, columns, rows, "Through: every one of these conducts")


def apart(name: str, readings: Iterable[Reading], title: str) -> Table:
    """Isolation readings with all their points."""
    columns = (Column("no"), Column("lead A"), Column("lead B"), Column("accept"), Column("of"), *BLANKS)
    rows = tuple((anchored(r), points(r.a), tied(r.b), band(r), _why(r), "", "") for r in readings)
    return Table(name, columns, rows, title)


def _why(reading: Reading) -> str:
    return "; ".join(word for word in (reading.why, reading.unknown if reading.judged else "") if word)
