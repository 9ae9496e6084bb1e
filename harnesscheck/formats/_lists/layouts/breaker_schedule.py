"""A breaker schedule: a row is a circuit breaker and the wire on its load terminal."""

from __future__ import annotations

from harnesscheck.formats._lists import account, spellings, values
from harnesscheck.formats._lists.cells import Row
from harnesscheck.formats._lists.draft import Draft
from harnesscheck.formats._lists.headers import TO, Head, words
from harnesscheck.formats._lists.layouts import from_to
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import Table

TITLE = "breaker schedule: one row is a breaker and the wire from its load terminal"
ORDER = 14
_HEADS = ("cb", "breaker", "circuit breaker", "breaker no", "cb no", "breaker id")


def _breakers(table: Table) -> int | None:
    """The column of breakers: its head says so, and so does everything in it."""
    for index in range(len(table.heads)):
        texts = table.texts(index)
        if table.top and words(table.title(index)) in _HEADS and texts and all(map(spellings.BREAKER.fullmatch, texts)):
            return index
    return None


def fits(table: Table, draft: Draft) -> bool:
    """Breakers, one column or two for the far end, and nothing else that tells of ends."""
    at = _breakers(table)
    if at is None:
        return False
    rest = [h for i, h in enumerate(table.heads) if i != at and h and h.field in ("end", "ref", "pin", "ends")]
    return bool(rest) and all(h.side == TO for h in rest)


def prepare(table: Table, draft: Draft) -> None:
    """The column of breakers has no other meaning."""
    at = _breakers(table)
    assert at is not None
    table.heads[at] = Head("which")


def take(table: Table, row: Row, draft: Draft) -> str:
    """What a breaker protects hangs on its load terminal."""
    cell = row.at(table.all("which")[0])
    if not cell:
        raise NotPlainError("no breaker is named in this row", "write the breaker, like CB3")
    far = from_to.ends_of(table, row, draft)[1]
    id_at = table.find("id")
    name = row.at(id_at) if id_at is not None and row.at(id_at) else None
    if not far[0] and not far[1]:
        raise NotPlainError(f"nothing is said to hang on {cell.text}", "write the cavity that its wire leads to")
    circuit, taken = values.signal(draft, table, row), values.of_row(draft, table, row)
    draft.wire(table, row, ((cell.text, "load", cell), far), taken, name, circuit)
    return account.WIRE
