"""The from-to list, the pin maps and every other section of one file as a workbook that is read back the same."""

from __future__ import annotations

import io
from datetime import UTC, datetime

from harnesscheck.document import Block
from harnesscheck.exchange import root_of
from harnesscheck.exchange._proof import proven
from harnesscheck.formats import _tables as tables
from harnesscheck.job import Job

SUFFIX = ".xlsx"
ABOUT = "the same as a workbook, one sheet a table, every cell text"

_WIDEST = 48
"""Widest column, characters."""


def write(job: Job) -> bytes:
    """Office Open XML (ISO/IEC 29500), every cell text; the first row of the first sheet says what it is."""
    root = root_of(job)
    return proven(workbook_of(root), root, SUFFIX)


def workbook_of(root: Block) -> bytes:
    """The tables of a file."""
    import xlsxwriter

    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True, "strings_to_urls": False})
    # The same file gives the same bytes: the time of writing is nobody's business.
    book.set_properties({"created": datetime(2000, 1, 1, tzinfo=UTC).replace(tzinfo=None)})
    text = book.add_format({"num_format": "@"})
    bold = book.add_format({"num_format": "@", "bold": True, "bottom": 1})
    for grid in tables.grids(root):
        sheet = book.add_worksheet(grid.name)
        first = 0
        if grid.name == tables.HEAD:
            sheet.write_string(0, 0, tables.MARK, text)
            sheet.write_string(0, 1, tables.FORMAT, text)
            first = 1
        for column, said in enumerate(grid.heads):
            widest = max([len(said), *(len(row[column]) for row in grid.rows)])
            sheet.set_column(column, column, min(widest + 2, _WIDEST), text)
            sheet.write_string(first, column, said, bold)
        # Columns beyond the last one as well: what a person adds stays text.
        sheet.set_column(len(grid.heads), len(grid.heads) + 9, 12, text)
        for number, row in enumerate(grid.rows, first + 1):
            for column, said in enumerate(row):
                if said:
                    sheet.write_string(number, column, said, text)
        sheet.freeze_panes(first + 1, 1)
    book.close()
    return out.getvalue()
