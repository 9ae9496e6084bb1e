"""What the layouts without a table share."""

from __future__ import annotations

from harnesscheck.formats._lists.cells import Row
from harnesscheck.formats._lists.tables import Table


def lines(table: Table) -> list[str]:
    """The rows as running text."""
    return [said(row) for row in table.rows]


def said(row: Row) -> str:
    """One row as running text, without the sign of a list."""
    return (
        " ".join(c.text for c in row.filled).lstrip("-*+• ").strip() if row.bare or len(row.filled) == 1 else row.text
    )
