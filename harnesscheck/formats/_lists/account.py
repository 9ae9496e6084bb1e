"""What became of every row: nothing is dropped without a word."""

from __future__ import annotations

from dataclasses import dataclass, field

WIRE, PIN, SPARE, NOTE, RETIRED, UNREAD = "wires", "pins", "spares", "notes and headers", "retired", "not understood"
KINDS = (WIRE, PIN, SPARE, NOTE, RETIRED, UNREAD)


@dataclass(frozen=True, slots=True)
class Left:
    """A row or a value that was not taken: its line and column, why, and what to do."""

    line: int
    column: int
    text: str
    reason: str
    remedy: str = ""


@dataclass(slots=True)
class Account:
    """One entry a row that holds anything."""

    rows: dict[int, str] = field(default_factory=dict)
    """Line to what it became."""
    left: list[Left] = field(default_factory=list)
    """Rows that were not understood."""
    values: list[Left] = field(default_factory=list)
    """Values that were not understood, of rows that were."""
    retired: list[Left] = field(default_factory=list)

    def count(self, kind: str) -> int:
        """Rows of one kind."""
        return sum(said == kind for said in self.rows.values())

    @property
    def total(self) -> int:
        """Rows read."""
        return len(self.rows)

    @property
    def whole(self) -> bool:
        """True when everything was understood."""
        return not self.left and not self.values

    def line(self) -> str:
        """``12 rows read = 8 wires + 2 pins + 1 spares + 1 notes and headers + 0 retired + 0 not understood``."""
        return f"{self.total} rows read = " + " + ".join(f"{self.count(kind)} {kind}" for kind in KINDS)
