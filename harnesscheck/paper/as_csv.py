"""The tables of a sheet as CSV for a machine: one table as it stands, several with a first column that names them."""

from __future__ import annotations

from harnesscheck.paper.blocks import Content, Stamp, plain
from harnesscheck.paper.rows import csv_bytes

SUFFIX = ".csv"


def write(content: Content, stamp: Stamp) -> bytes:
    """UTF-8 CSV after RFC 4180. Columns left blank on paper are left out; totals as well: a machine adds up itself."""
    tables = content.tables
    if len(tables) == 1:
        kept = [i for i, column in enumerate(tables[0].columns) if not column.blank]
        body = tables[0].rows[: len(tables[0].rows) - tables[0].totals]
        return csv_bytes([tables[0].columns[i].title for i in kept], ([plain(row[i]) for i in kept] for row in body))
    titles = list(dict.fromkeys(c.title for table in tables for c in table.columns if not c.blank))
    rows = []
    for table in tables:
        for row in table.rows[: len(table.rows) - table.totals]:
            said = {c.title: plain(cell) for c, cell in zip(table.columns, row, strict=True)}
            rows.append([table.name, *(said.get(title, "") for title in titles)])
    return csv_bytes(["table", *titles], rows)
