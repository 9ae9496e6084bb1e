"""A table of small plugs, one a row, with a column for each pin: ``Sensor, Pin 1, Pin 2, Pin 3``."""

from __future__ import annotations

import re

from harnesscheck.formats._lists import account, values
from harnesscheck.formats._lists.cells import Row
from harnesscheck.formats._lists.draft import Draft
from harnesscheck.formats._lists.headers import Head
from harnesscheck.formats._lists.layouts.headless import is_end
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import Table

TITLE = "table of plugs: one row is one plug, one column one of its cavities"
ORDER = 10
_PIN = re.compile(r"(?i)(?:pin|cavity|cav|terminal)\s*#?\s*(\d{1,2}|[A-Z])")
_BESIDE = ("note", "quantity", "block", "status")


def _across(table: Table) -> dict[int, str]:
    """Column to the cavity that its head names."""
    found = {i: m[1] for i in range(len(table.heads)) if (m := _PIN.fullmatch(table.title(i)))}
    return found if len(set(found.values())) == len(found) else {}


def _plug(table: Table) -> int:
    """The column that names the plug: the one of references, else the first."""
    refs = [i for i in table.all("ref", "") if i not in _across(table)]
    return refs[0] if len(refs) == 1 else 0


def fits(table: Table, draft: Draft) -> bool:
    """The plug, then pins that hold words; two columns of cavities are the ends of a wire."""
    pins = _across(table) if table.top else {}
    if len(pins) < 2 or not table.top or not table.top.at(0):
        return False
    at = _plug(table)
    others = [h for i, h in enumerate(table.heads) if i != at and i not in pins and h]
    first = table.heads[at]
    plain = at not in pins and (first is None or first.field in ("ref", "id", "signal"))
    words = any(re.search(r"[A-Za-z]{3}", text) for i in pins for text in table.texts(i))
    return plain and words and all(h.field in _BESIDE for h in others)


def prepare(table: Table, draft: Draft) -> None:
    """One column names the plug; the cavities stand in the heads."""
    pins, at = _across(table), _plug(table)
    table.heads = [Head("ref") if i == at else Head("lead") if i in pins else h for i, h in enumerate(table.heads)]


def take(table: Table, row: Row, draft: Draft) -> str:
    """One plug: a dash or a blank says that it has no such cavity, or that nothing is known of it."""
    at = table.all("ref")[0]
    ref = row.at(at)
    if not ref:
        raise NotPlainError("this row does not say which plug it is about", "write its name")
    told = [(name, row.at(i)) for i, name in _across(table).items() if re.search(r"\w", row.at(i).text)]
    if not told:
        raise NotPlainError("no cavity of this plug is told", "write what each pin carries, or spare")
    spares = []
    for name, cell in told:
        if is_end(cell.text):
            raise NotPlainError(f"{cell.text!r} is the end of a wire", "write a from-to list: From, Pin, To, Pin")
        taken, spare = values.for_pin(draft, Table(table.sheet, None, [], [row]), row, cell)
        draft.pin(table, row, ref.text, name, cell, taken)
        spares.append(spare)
    notes = [
        f"{table.title(i)}: {row.at(i).text}"
        for i, h in enumerate(table.heads)
        if i != at and (h is None or h.field in _BESIDE) and row.at(i)
    ]
    if notes:
        key = (draft.ref(ref.text, draft.mark(table.sheet, ref)), told[0][0])
        draft.pins[key].values.setdefault("note", ("; ".join(notes)[:390], draft.mark(table.sheet, ref)))
    return account.SPARE if all(spares) else account.PIN
