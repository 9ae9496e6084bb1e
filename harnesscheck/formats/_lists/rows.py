"""Rows that are none of their own: ditto marks, notes that go on, heads said again, totals, what is taken back."""

from __future__ import annotations

import re
from dataclasses import replace

from harnesscheck.formats._lists import spellings
from harnesscheck.formats._lists.cells import BROKEN, DATE, NUMBER, Row, Sheet
from harnesscheck.formats._lists.draft import Draft
from harnesscheck.formats._lists.headers import head
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import Table

_IDS = ("pin", "end", "ref", "id", "ends")
_AS_TEXT = "format the column as text in the spreadsheet, and type the value again"
_DITTO = re.compile(r"(?i)\"{1,2}|'{2}|-\s?(?:\"|'')\s?-|do\.|dto\.?|ditto|dito|idem|\u3003")
_TAKEN_BACK = re.compile(
    r"(?i)\W*(?:(?:retired|deleted|obsolete|superseded|cancell?ed|void)\b|"
    r"removed\W*(?:$|(?:rev|per|by|in rev|at rev|ecn)\b))"
)
_LIKE_CAVITY = re.compile(r"\d{1,3}|[A-Za-z]\d{0,2}")


def filled_in(table: Table, row: Row, draft: Draft) -> None:
    """Ditto marks replaced by what stands above them. Raises ``NotPlainError`` when nothing does."""
    for index, one in enumerate(table.heads):
        cell = row.at(index)
        if one is None or not cell or not _DITTO.fullmatch(cell.text):
            continue
        above = table.last.at(index) if table.last is not None else None
        if not above:
            raise NotPlainError(f"{cell.text} under {table.title(index)!r} repeats a blank", "write the value out")
        row.cells[index] = replace(above, row=cell.row, column=cell.column)
        draft.remark(f"{cell.text} under {table.title(index)!r} means what stands above it")


def passed_over(table: Table, row: Row, draft: Draft) -> bool:
    """Heads said again, totals, notes, rows that the list takes back; their verdict is entered here."""
    sheet, filled = table.sheet, row.filled
    if row.hidden and draft.mapping.hidden != "take":
        if draft.mapping.hidden == "leave":
            draft.retired(sheet, row, "hidden, and the map says to leave such rows")
        else:
            remedy = "show it or delete it (a filter may be on), or state 'hidden: take' or 'hidden: leave' in a map"
            draft.unread(sheet, row, "this row is hidden in the spreadsheet", remedy)
        return True
    heads = [head(c.text) for c in filled]
    own = [row.at(i) for f in _IDS for i in table.all(f) if row.at(i)]
    ends = [row.at(i) for f in _IDS if f != "id" for i in table.all(f) if row.at(i) and row.at(i) is not filled[0]]
    if (
        not any(re.search(r"\w", c.text) for c in filled)
        or (table.top and [c.text for c in filled] == [c.text for c in table.top.filled])
        or (spellings.TOTALS.fullmatch(filled[0].text) and len(ends) < 2 and sum(map(bool, heads)) < 2)
    ):
        draft.note(sheet, row)
    elif all(c.struck for c in filled) or (own and all(c.struck for c in own)):
        draft.retired(sheet, row, "struck through")
    elif any(c.struck for c in filled):
        raise_at = next(c for c in filled if c.struck)
        reason = f"{raise_at.text!r} is struck through, and the rest of the row is not"
        draft.unread(sheet, row, reason, "strike the whole row, or write it anew", raise_at)
    elif _taken_back(table, row):
        draft.retired(sheet, row, "the row calls itself retired")
    elif _first_words(table, row):
        draft.note(sheet, row)
    elif own and _commented_out(table, filled[0].text):
        reason = f"{filled[0].text!r} begins like a comment"
        draft.unread(sheet, row, reason, "delete the row, or the sign before it")
    elif not own and _goes_on(table, row, draft):
        draft.note(sheet, row)
    else:
        return False
    return True


def _commented_out(table: Table, text: str) -> bool:
    """A row that somebody has put out of use by a sign before it, in a list whose rows do not all begin so."""
    if not re.match(r"//|;|!\s?\w|%|#\s*[^\W\d]|(?i:rem\s)", text):
        return False
    return not all(row.filled[0].text[0] == text[0] for row in table.rows if row)


def _taken_back(table: Table, row: Row) -> bool:
    said = any(spellings.RETIRED.search(row.at(i).text) for f in ("id", "status") for i in table.all(f))
    noted = any(_TAKEN_BACK.match(row.at(i).text) for f in ("note", "status") for i in table.all(f))
    ends = any(row.at(i) for f in ("pin", "end", "ref", "ends") for i in table.all(f))
    return said or noted or (bool(table.top) and not ends and any(_TAKEN_BACK.match(c.text) for c in row.filled))


def _first_words(table: Table, row: Row) -> bool:
    """A remark under a table: one cell of running text in its first column."""
    filled = row.filled
    if len(filled) != 1 or not table.top or filled[0] is not row.cells[0]:
        return False
    return (
        bool(re.match(r"(?i)notes?\b|\*|#\s|//|legend|key\b|see\b|all\b|end of\b|page \d", filled[0].text))
        or len(filled[0].text.split()) > 5
    )


def _goes_on(table: Table, row: Row, draft: Draft) -> bool:
    """A row that holds words under a head of notes only: it goes on with the note of the row above."""
    notes = table.all("note")
    if table.last is None or not row.filled or any(c and i not in notes for i, c in enumerate(row.cells)):
        return False
    line = draft.document.number(table.sheet, table.last.number)
    text = "; ".join(c.text.replace("\n", " ") for c in row.filled)
    wires = [wire.values for wire in draft.wires if wire.line == line]
    pins = [pin.values for pin in draft.pins.values() if pin.line == line] if not wires else []
    for values in (*wires, *pins):
        was = values.get("note")
        values["note"] = ((f"{was[0]}; {text}" if was else text)[:390], draft.mark(table.sheet, row.filled[0]))
    if wires or pins:
        draft.remark("a row with nothing but a note goes on with the note of the row above")
    return bool(wires or pins)


def as_wide_as_its_head(table: Table, row: Row) -> None:
    """Refuse a cell under no head (a comma inside a value moves all that follows), and two heads alike that differ."""
    width = len(table.top.cells) if table.top else len(row.cells)
    if any(row.cells[width:]):
        reason = f"this row has {len(row.cells)} cells, its head {width}"
        raise NotPlainError(reason, "put a value that holds the separator in quotes, or name the column")
    said: dict[tuple[str, str, str], str] = {}
    for index, one in enumerate(table.heads):
        if one is None or one.field in _SEVERAL or not row.at(index) or len(table.all("pin", "")) > 1:
            continue  # several pin tables beside each other have a column of each
        key = (table.title(index).casefold(), one.field, one.side)
        if said.setdefault(key, row.at(index).text) != row.at(index).text:
            reason = f"two columns {table.title(index)!r} say {said[key]!r} and {row.at(index).text!r}"
            raise NotPlainError(reason, "keep one of the two columns, or call one of them Note")


_SEVERAL = ("pin", "end", "ref", "ends", "note", "quantity")
"""What several columns of one name may tell of a row."""


def typed_well(table: Table, row: Row, draft: Draft) -> None:
    """Refuse names that the spreadsheet has turned into something else: a date for ``1-2``, a fraction."""
    for index, one in enumerate(table.heads):
        cell = row.at(index)
        if one is not None and cell.kind == BROKEN:
            what = (
                f"a formula that was never worked out ({cell.text})"
                if cell.text[0] == "="
                else f"the error {cell.text}"
            )
            remedy = "open the workbook, let it calculate, and save it again; or type the value"
            raise NotPlainError(f"{table.title(index)!r} holds {what}", remedy)
        if one is None or one.field not in _IDS or not cell:
            continue
        if cell.kind == DATE:
            raise NotPlainError(f"the spreadsheet has made a date of {table.title(index)!r}: {cell.text}", _AS_TEXT)
        if cell.kind == NUMBER:
            if not re.fullmatch(r"\d{1,12}", cell.text):
                raise NotPlainError(f"{table.title(index)!r} is the number {cell.text}", _AS_TEXT)
            draft.remark(
                f"{table.title(index)!r} holds numbers, not text: 3.0 is read as 3; a name like 007 or 1E5 would have "
                "lost its form in the spreadsheet"
            )


def is_title_block(sheet: Sheet, table: Table) -> bool:
    """Rows over the first table of a sheet that tell of a drawing: no end, no cavity and no size stands in a cell."""
    for row in table.rows:
        loose = 0
        for cell in row.filled:
            text = cell.text
            try:
                end = spellings.end(text)
            except NotPlainError:
                end = spellings.End(text)
            label = re.match(r"[^:]{2,30}:(?:\s|$)", text)
            if (end.cavity and not label) or spellings.gauge(text).value or "->" in text:
                return False
            loose += bool(_LIKE_CAVITY.fullmatch(text))
        if loose > 1 or not any(re.search(r"[^\W\d_]{3}", c.text) for c in row.filled):
            return False
    return True
