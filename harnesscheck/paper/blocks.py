"""The blocks of a sheet: what stands on it, without saying how it looks.

Lengths are millimetres on paper. Text is plain text in every block; no form takes it for markup.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from harnesscheck.paper.svg import Canvas

NO_PACK = "single sheet, no pack"
"""Stands where the pack id stands on a sheet that belongs to none."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table."""

    title: str
    right: bool = False
    """Numbers stand flush right."""
    blank: bool = False
    """Left empty, to be written in by hand: a box on paper, an input in a worksheet."""
    least: float = 0.0
    """Least width, mm."""


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell that is more than its text."""

    text: str
    anchor: str = ""
    """Other documents may point at this cell: ``wire-P501A20``, ``cavity-P14-3``."""
    link: str = ""
    """The anchor it points at."""
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading over what follows."""

    text: str
    anchor: str = ""


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph."""

    text: str
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Facts:
    """Names and values, one pair a line."""

    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under column titles. The titles are repeated on every page; a row is never parted."""

    name: str
    """Names the table in CSV and XLSX files: letters, digits and dashes."""
    columns: tuple[Column, ...]
    rows: tuple[tuple[str | Cell, ...], ...]
    title: str = ""
    totals: int = 0
    """How many of the last rows are totals."""

    def __post_init__(self) -> None:
        for row in self.rows:
            if len(row) != len(self.columns):
                raise ValueError(f"a row of table {self.name} has {len(row)} cells for {len(self.columns)} columns")


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing. ``draw`` is given a canvas of the size stated, and draws within it."""

    name: str
    caption: str
    width: float
    height: float
    draw: Callable[[Canvas], None]
    words: tuple[str, ...] = ()
    """What the drawing says, for a form that cannot show it."""


@dataclass(frozen=True, slots=True)
class NewPage:
    """What follows begins on a new page."""


Block = Heading | Words | Facts | Table | Figure | NewPage


@dataclass(frozen=True, slots=True)
class Content:
    """What stands on one sheet, cautions included: every form adds them, so ``blocks`` does not hold them."""

    name: str
    """The sheet's name, like ``cut-list``."""
    title: str
    blocks: tuple[Block, ...]
    landscape: bool = False
    decisions: tuple[str, ...] = ()
    """What somebody has decided in writing for the job."""

    @property
    def tables(self) -> tuple[Table, ...]:
        """The tables, in order."""
        return tuple(block for block in self.blocks if isinstance(block, Table))


@dataclass(frozen=True, slots=True)
class Stamp:
    """What the title block of every sheet of one pack says."""

    title: str
    revision: str = ""
    file: str = ""
    note: str = ""
    pack: str = ""
    """The pack id; empty on a sheet that belongs to no pack."""
    tool: str = ""
    """Name and version of this program."""
    numbers: Mapping[str, str] = field(default_factory=dict)
    """Sheet name to its number in the pack."""
    warning: str = ""
    """A sentence that no page may be without: the job is not clear."""


def plain(cell: str | Cell) -> str:
    """The text of a cell."""
    return cell if isinstance(cell, str) else cell.text
