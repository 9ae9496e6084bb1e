"""An adapter table or a grid: a column of cavities for each connector that the heads name (``OEM Pin``, ``J2``)."""

from __future__ import annotations

import re

from harnesscheck.formats._lists import account, spellings, values
from harnesscheck.formats._lists.cells import Cell, Row
from harnesscheck.formats._lists.draft import Draft
from harnesscheck.formats._lists.headers import Head
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import Table

TITLE = "adapter table: one row is a wire between two of the connectors that the heads name"
ORDER = 50
_DESIGNATOR = re.compile(r"[A-Za-z]{1,4}\d{1,4}[A-Za-z]?")


def fits(table: Table, draft: Draft) -> bool:
    """Two columns of cavities and no ends, or two and more unknown heads over nothing but cavities."""
    if table.all("end") or not table.top or table.all("ref", ""):
        return False
    pins = table.all("pin")
    if len(pins) == 2 and len(table.all("signal")) <= 1:
        return True
    open_heads = [i for i, h in enumerate(table.heads) if h is None and table.top.at(i)]
    if pins or len(open_heads) < 2 or not table.all("signal"):
        return False
    if len(open_heads) > 2 and not all(_DESIGNATOR.fullmatch(table.title(i)) for i in open_heads):
        return False
    return all(table.texts(i) and all(len(t) <= 8 for t in table.texts(i)) for i in open_heads)


def prepare(table: Table, draft: Draft) -> None:
    """The two columns, when their heads are names of connectors only."""
    if not table.all("pin") and table.top:
        table.heads = [
            Head("pin", "", "", table.title(i)) if h is None and table.top.at(i) else h
            for i, h in enumerate(table.heads)
        ]


def take(table: Table, row: Row, draft: Draft) -> str:
    """One wire, or one cavity where the other column says that nothing is there."""
    ends = []
    for index in table.all("pin"):
        head = table.heads[index]
        name = (head.named if head else "") or (table.connector if index == table.all("pin")[0] else "")
        if not name:
            raise NotPlainError(
                f"nothing says which connector {table.title(index)!r} belongs to", "name it in the head"
            )
        text = row.at(index).text
        if text and not spellings.SPARE.fullmatch(text):
            found = spellings.cavities(text)
            if len(found) > 1:
                raise NotPlainError(f"{text!r} names several cavities", "write one row for each wire")
            ends.append((name, found[0], row.at(index)))
    if len(ends) > 2:
        return _net(table, row, draft, ends)
    if not ends:
        raise NotPlainError("no cavity is given", "write both cavities")
    signal_at = table.find("signal")
    said = row.at(signal_at) if signal_at is not None else None
    if len(ends) == 1:
        taken, spare = values.for_pin(draft, table, row, said)
        draft.pin(table, row, ends[0][0], ends[0][1], ends[0][2], taken)
        return account.SPARE if spare else account.PIN
    taken = values.of_row(draft, table, row)
    id_at = table.find("id")
    name_cell = row.at(id_at) if id_at is not None and row.at(id_at) else None
    draft.wire(table, row, (ends[0], ends[1]), taken, name_cell, values.signal(draft, table, row))
    return account.WIRE


def _net(table: Table, row: Row, draft: Draft, ends: list[tuple[str, str, Cell]]) -> str:
    """More than two cavities in a row: what each carries is told, and not between which of them wires run."""
    circuit = values.signal(draft, table, row)
    if circuit is None:
        raise NotPlainError("this row joins more than two cavities and has no name", "give it a name")
    draft.remark("a net of more than two ends gives the pin map only: between which of them wires run is not told")
    own = values.of_row(draft, table, row)
    for ref, cavity, cell in ends:
        mark = draft.mark(table.sheet, cell)
        taken = {"circuit": (circuit[0], draft.mark(table.sheet, circuit[1]))}
        taken["note"] = (f"of a net list; {own['note'][0]}"[:390] if "note" in own else "of a net list", mark)
        draft.pin(table, row, ref, cavity, cell, taken)
    return account.PIN
