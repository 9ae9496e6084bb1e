"""What the layouts without a table share."""

from __future__ import annotations

from harnesscheck.formats._lists.cells import Row


def said(row: Row) -> str:
    """One row as running text, without the sign of a list."""
    return (
        " ".join(c.text for c in row.filled).lstrip("-*+• ").strip() if row.bare or len(row.filled) == 1 else row.text
    )
