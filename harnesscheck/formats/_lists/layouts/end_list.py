"""An end list or net list: a name, and all its ends in one cell (``J1-3; J2-5; J7-1``)."""

from __future__ import annotations

import re

from harnesscheck.formats._lists import account, spellings, values
from harnesscheck.formats._lists.cells import Row
from harnesscheck.formats._lists.draft import Draft
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import Table

TITLE = "end list: one row is a wire of two ends, or a net whose wires are not told"
ORDER = 10


def fits(table: Table, draft: Draft) -> bool:
    """A column of ends."""
    return table.find("ends") is not None


def take(table: Table, row: Row, draft: Draft) -> str:
    """Two ends are a wire. Of more, only what each cavity carries is known: the order of the wires is not told."""
    index = table.find("ends")
    assert index is not None
    cell = row.at(index)
    if not cell:
        raise NotPlainError("no ends are given", "write the ends, parted by ;")
    sign = ";" if ";" in cell.text else "," if "," in cell.text else r"\n|<->|->|\s+"
    texts = [t.strip() for t in re.split(sign, cell.text) if t.strip()]
    ends = [spellings.end(text, draft.known, draft.mapping.dash) for text in texts]
    for one in ends:
        if not one.cavity and not draft.point_kind(one.ref, ""):
            raise NotPlainError(f"no cavity is given at {one.ref!r}", "write each end as J1:3")
    name_at = table.find("signal")
    id_at = table.find("id")
    named = name_at if name_at is not None else id_at
    circuit = draft.circuit(table, row.at(named)) if named is not None and row.at(named) else None
    if len(ends) == 2:
        both = ((ends[0].ref, ends[0].cavity, cell), (ends[1].ref, ends[1].cavity, cell))
        name = row.at(id_at) if id_at is not None and row.at(id_at) else None
        draft.wire(table, row, both, values.of_row(draft, table, row), name, circuit)
        return account.WIRE
    if len(ends) < 2:
        raise NotPlainError("only one end is given", "write both ends")
    if circuit is None:
        raise NotPlainError("this net has no name", "give it a name")
    draft.remark("a net of more than two ends gives the pin map only: between which of them wires run is not told")
    mark = draft.mark(table.sheet, cell)
    for one in ends:
        if one.cavity:
            taken = {"circuit": (circuit[0], draft.mark(table.sheet, circuit[1])), "note": ("of a net list", mark)}
            draft.pin(table, row, one.ref, one.cavity, cell, taken)
    return account.PIN
