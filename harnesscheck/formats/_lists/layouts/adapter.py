"""An adapter table: two columns of cavities, each named after its connector (``OEM Pin``, ``controller pin``)."""

from __future__ import annotations

from harnesscheck.formats._lists import account, spellings, values
from harnesscheck.formats._lists.cells import Row
from harnesscheck.formats._lists.draft import Draft
from harnesscheck.formats._lists.headers import Head
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import Table

TITLE = "adapter table: one row is a wire between the two connectors that the heads name"
ORDER = 50


def fits(table: Table, draft: Draft) -> bool:
    """Two columns of cavities and no ends, or two unknown heads over nothing but cavities."""
    if table.all("end") or not table.top:
        return False
    pins = table.all("pin")
    if len(pins) == 2 and len(table.all("signal")) <= 1:
        return True
    open_heads = [i for i, h in enumerate(table.heads) if h is None and table.top.at(i)]
    if pins or len(open_heads) != 2 or not table.all("signal"):
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
