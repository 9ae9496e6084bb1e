"""The from-to list, the pin maps and every other section of one file as CSV that is read back the same."""

from __future__ import annotations

import csv
import io
import re

from harnesscheck.document import Block
from harnesscheck.exchange import root_of
from harnesscheck.exchange._proof import proven
from harnesscheck.formats import _tables as tables
from harnesscheck.job import Job
from harnesscheck.paper.rows import guarded

SUFFIX = ".csv"
ABOUT = "the file as tables, read back the same"

_KEPT = re.compile(r"(?:[\d./]+ (?:mm2?|cm|m|in|ft|AWG|m?V|kV|mA|W|[mk]?ohm|kbit/s)(?: to |$))+")
"""Ordinary sizes, that a spreadsheet leaves alone; ``5 A`` is not among them: it becomes a time of day."""
_MONTH = "(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)"
_TURNED = re.compile(rf"[\d.]|(?:true|false)$|{_MONTH}[a-z]*[ /.,-]*\d", re.IGNORECASE)


def write(job: Job) -> bytes:
    """UTF-8 CSV after RFC 4180; the first column says the table, the first row of a table holds its heads."""
    root = root_of(job)
    return proven(csv_of(root), root, SUFFIX)


def csv_of(root: Block) -> bytes:
    """The tables of a file."""
    out = io.StringIO()
    writer = csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    writer.writerow([tables.MARK, tables.FORMAT])
    for grid in tables.grids(root):
        for row in (grid.heads, *grid.rows):
            writer.writerow([grid.name, *map(held, row)])
    return out.getvalue().encode("utf-8")


def held(text: str) -> str:
    """A cell that no spreadsheet makes a formula, a number, a date or a time of: ``007``, ``1-2``, ``1E5``, ``5 A``.

    The apostrophe in front is the guard of all our CSV; the reader removes it again.
    """
    plain = guarded(text)
    return f"'{text}" if plain == text and _TURNED.match(text) and not _KEPT.fullmatch(text) else plain
