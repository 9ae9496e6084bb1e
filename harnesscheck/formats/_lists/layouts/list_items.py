"""A list under a heading: ``A - sensor 5 V``, ``1. CAN HI``, ``B: MPPT A +``."""

from __future__ import annotations

import re

from harnesscheck.formats._lists import account, colours, values
from harnesscheck.formats._lists.cells import Cell, Row
from harnesscheck.formats._lists.draft import Draft
from harnesscheck.formats._lists.layouts._text import said
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import Table

TITLE = "list of cavities: one line is one cavity"
ORDER = 95
_ITEM = re.compile(
    r"(?:pin\s+)?(?P<pin>[A-Za-z]{1,2}|\d{1,3}|[A-Za-z]\d{1,2})\s*(?:[.:)=]\s*|\s-+\s|\t|\s\|\s)\s*(?P<name>\S.*)", re.I
)


def fits(table: Table, draft: Draft) -> bool:
    """Two and more lines that begin with a cavity; sentences are no list of cavities."""
    if any(table.heads):
        return False
    found = [m for row in table.rows if (m := _ITEM.fullmatch(said(row)))]
    prose = sum(len(m["name"].split()) > 7 or m["name"].endswith((".", "!")) for m in found)
    return len(found) >= 2 and prose * 2 < len(found) and bool(table.connector_from or table.connector)


def take(table: Table, row: Row, draft: Draft) -> str:
    """One cavity."""
    found = _ITEM.fullmatch(said(row))
    if found is None:
        raise NotPlainError("this line does not begin with a cavity", "write it as 3: CAN HI")
    if len(found["name"].split()) > 7:
        raise NotPlainError("this reads like a sentence", "write it as 3: CAN HI")
    if not table.connector or table.connector_from == "the name of the file":
        raise NotPlainError("no heading says which connector this cavity belongs to", "put its name over the list")
    cell = row.filled[0]
    said_name, _, rest = found["name"].strip().partition(" | ")
    hue, dash, behind = said_name.partition(" - ")
    if dash and behind.strip() and colours.colour(hue).value and not hue.isdigit():  # red - RX
        said_name, rest = behind.strip(), "; ".join(filter(None, (f"colour {colours.colour(hue).value}", rest)))
    name = Cell(said_name, cell.row, cell.column)
    taken, spare = values.for_pin(draft, Table(table.sheet, None, [], [row]), row, name)
    if rest:
        taken["note"] = (rest[:390], draft.mark(table.sheet, cell))
    draft.pin(table, row, table.connector, found["pin"], cell, taken)
    return account.SPARE if spare else account.PIN
