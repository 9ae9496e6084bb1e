"""A table of crosses: a row is a circuit, a column a cavity (``P1-1``), a cross says that it carries the circuit."""

from __future__ import annotations

import re

from harnesscheck.formats._lists import account, spellings, values
from harnesscheck.formats._lists.cells import Row
from harnesscheck.formats._lists.draft import Draft
from harnesscheck.formats._lists.headers import Head
from harnesscheck.formats._lists.layouts.headless import is_end
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import Table

TITLE = "table of crosses: one row is a circuit, a cross is a cavity that carries it"
ORDER = 12
_CROSS = re.compile(r"(?i)x|✓|✔|●|•|\*")


def _cavities(table: Table) -> list[int]:
    """The columns whose head is a cavity, and nothing but crosses stands below."""
    if not table.top:
        return []
    found = [i for i, h in enumerate(table.heads) if h is None and table.title(i) and is_end(table.title(i))]
    crossed = all(_CROSS.fullmatch(t) or not re.search(r"\w", t) for i in found for t in table.texts(i))
    return found if crossed else []


def fits(table: Table, draft: Draft) -> bool:
    """A column of circuits, two and more of cavities, and no other that tells of ends."""
    others = {h.field for h in table.heads if h}
    return len(_cavities(table)) >= 2 and "signal" in others and not others & {"pin", "end", "ref", "ends"}


def prepare(table: Table, draft: Draft) -> None:
    """Their heads are taken: they are cavities."""
    for index in _cavities(table):
        table.heads[index] = Head("pin")


def take(table: Table, row: Row, draft: Draft) -> str:
    """The cavities that carry one circuit; between which of them wires run is not told."""
    circuit = values.signal(draft, table, row)
    if circuit is None:
        raise NotPlainError("this row names no circuit", "give it a name")
    crossed = [i for i in table.all("pin") if _CROSS.fullmatch(row.at(i).text)]
    if not crossed:
        raise NotPlainError("no cavity of this circuit is crossed", "put a cross under each cavity that carries it")
    draft.remark("a table of crosses gives the pin map only: between which of the cavities wires run is not told")
    own = values.of_row(draft, table, row)
    for index in crossed:
        read, cell = spellings.end(table.title(index)), row.at(index)
        mark = draft.mark(table.sheet, cell)
        taken = {"circuit": (circuit[0], draft.mark(table.sheet, circuit[1]))}
        told = [f"{key} {text}" if key != "note" else text for key, (text, _) in own.items()]
        if told:
            taken["note"] = ("; ".join(told)[:390], mark)
        draft.pin(table, row, read.ref, read.cavity, cell, taken)
    return account.PIN
