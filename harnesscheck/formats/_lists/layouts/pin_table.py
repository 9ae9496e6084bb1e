"""A pin table: one row is one cavity of a connector that a column, the heading, the sheet or the map names."""

from __future__ import annotations

import re

from harnesscheck.formats._lists import account, joined, spellings, values
from harnesscheck.formats._lists.cells import Row
from harnesscheck.formats._lists.draft import Draft
from harnesscheck.formats._lists.layouts import from_to
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import Table

TITLE = "pin table: one row is one cavity"
ORDER = 80


def fits(table: Table, draft: Draft) -> bool:
    """One column of cavities, and no ends."""
    return len(table.all("pin")) == 1 and not table.all("end")


def connector(table: Table, row: Row, draft: Draft) -> str:
    """What the cavity of a row belongs to."""
    refs = table.all("ref", "")
    return (from_to.named(table, row, refs, draft, True).text if refs else "") or table.connector


def names_of(table: Table, row: Row, index: int, spare: bool) -> list[str]:
    """The cavities that a row is about; a range is one only where it cannot be the name of a cavity."""
    text = row.at(index).text
    listed = spellings.cavity_range(text)
    if listed is None:
        return spellings.cavities(text)
    others = [t for t in _beside(table, row, index) if t != text]
    dashed = [t.split("-") for t in [text, *others] if re.fullmatch(r"\d+-\d+", t)]
    firsts = [int(one) for one, _ in dashed]
    if len(dashed) == len(others) + 1 and (len(set(firsts)) < len(firsts) or any(int(a) >= int(b) for a, b in dashed)):
        return [text]  # 1-1, 1-2, 2-1: every cavity here is called like that, and they are no ranges
    plain = {name for t in others for name in re.split(r"[,;&/ ]+", t) if name.isdigit()}
    fits_in = not plain & set(listed) and (str(int(listed[0]) - 1) in plain or str(int(listed[-1]) + 1) in plain)
    if spare and fits_in:
        return listed
    raise NotPlainError(f"{text!r} may be one cavity or a range", "write one row for each cavity")


def _beside(table: Table, row: Row, index: int) -> list[str]:
    """The cavities of the same connector, as typed."""
    refs = table.all("ref", "")
    if len(refs) != 1:
        return table.texts(index)
    ref_at = refs[0]
    if table.beside is None:
        table.beside = {}
        same = ""
        for each in table.rows:
            same = each.at(ref_at).text or same
            if each.at(index):
                table.beside.setdefault(same, []).append(each.at(index).text)
    carried = table.carried.get(ref_at)
    return table.beside.get(row.at(ref_at).text or (carried.text if carried else ""), [])


def take(table: Table, row: Row, draft: Draft) -> str:
    """One cavity, or several that carry the same."""
    index = table.all("pin")[0]
    cell = row.at(index)
    ref = connector(table, row, draft)
    if not cell:
        refs = [row.at(i) for i in table.all("ref", "") if row.at(i)]
        leads = joined.leads_of(table, row, ref, "", refs[0], draft) if refs and draft.point_kind(ref, "") else []
        if len(leads) != 1:
            raise NotPlainError("no cavity is given", "write the cavity")
        draft.leads += leads  # a ground stud or a splice, with the id of its wire
        return account.WIRE
    signal_at = table.find("signal")
    said = row.at(signal_at) if signal_at is not None else None
    nothing = bool(said and (spellings.SPARE.fullmatch(said.text) or spellings.RESERVED.fullmatch(said.text)))
    names = names_of(table, row, index, nothing)
    if len(names) > 1:
        draft.remark(f"{cell.text!r} of {ref} is read as the cavities {', '.join(names)}")
    taken, spare = values.for_pin(draft, table, row, said)
    bracket = cell.text.partition("(")[2].rstrip(") ") if len(names) == 1 and names[0] != cell.text else ""
    if bracket:
        if "circuit" not in taken and not spare and (signal_at is None or not said):
            taken.pop("use", None)
            taken["circuit"] = (bracket, draft.mark(table.sheet, cell))
        else:
            was = taken.get("note")
            taken["note"] = (f"{was[0]}; {bracket}" if was else bracket, draft.mark(table.sheet, cell))
    for name in names:
        draft.pin(table, row, ref, name, cell, taken)
    if len(names) == 1 and not spare:
        draft.leads += joined.leads_of(table, row, ref, names[0], cell, draft)
    return account.SPARE if spare else account.PIN
