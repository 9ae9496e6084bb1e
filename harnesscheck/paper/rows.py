"""Rows written as CSV that a spreadsheet cannot turn into something else."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

_ACTIVE = ("=", "+", "-", "@", "\t", "\r", "'")


def guarded(text: str) -> str:
    """A cell that no spreadsheet takes for a formula: a leading apostrophe, which the project's own reader removes.

    Names such as ``+28V`` are ordinary in this trade, so the guard is reversible and never a refusal (OWASP, CSV
    injection; ASVS 1.2.10). Numbers are not guarded: they are written by us.
    """
    return f"'{text}" if text.startswith(_ACTIVE) else text


def csv_bytes(header: Sequence[str], rows: Iterable[Sequence[str]]) -> bytes:
    """UTF-8 CSV, every cell quoted, lines ended by CR LF (RFC 4180)."""
    out = io.StringIO()
    writer = csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    writer.writerow(header)
    for row in rows:
        writer.writerow([guarded(cell) for cell in row])
    return out.getvalue().encode("utf-8")


def columns(rows: Sequence[Sequence[str]], right: frozenset[int] = frozenset()) -> list[str]:
    """Rows as lines of text with aligned columns; ``right`` names the columns set flush right."""
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    return [
        "  ".join(
            c.rjust(w) if i in right else c.ljust(w) for i, (c, w) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    ]
