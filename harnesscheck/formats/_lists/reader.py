"""A file of lists, read: every table with the layout that knows it, every row with its verdict."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType

from harnesscheck.formats._lists import account, layouts, spellings
from harnesscheck.formats._lists.build import finish
from harnesscheck.formats._lists.cells import DATE, NUMBER, Cell, Row, Sheet, read, refused
from harnesscheck.formats._lists.draft import Draft
from harnesscheck.formats._lists.headers import Head, head
from harnesscheck.formats._lists.mapping import FIELDS, Mapping
from harnesscheck.formats._lists.source import ListDocument, letters
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import Table, connector_of, of_sheet

_IDS = ("pin", "end", "ref", "id", "ends")
_AS_TEXT = "format the column as text in the spreadsheet, and type the value again"


@dataclass(slots=True)
class Imported:
    """A list as understood: the draft with its account, and the document whose root is one of our airframe files."""

    document: ListDocument
    draft: Draft

    @property
    def account(self) -> account.Account:
        """What became of every row."""
        return self.draft.account


def read_list(path: Path, name: str, mapping: Mapping | None = None) -> Imported:
    """Read a list. Raises ``InputError`` when the file cannot be read at all, or holds nothing that is a list."""
    mapping = mapping or Mapping()
    sheets = read(path, name)
    if mapping.sheet:
        named = [sheet for sheet in sheets if sheet.name == mapping.sheet]
        if not named:
            there = ", ".join(sheet.name for sheet in sheets)
            raise refused(
                name, f"there is no sheet {mapping.sheet!r}", f"correct 'sheet:' in the map; there are: {there}"
            )
        sheets = named
    document = ListDocument(name, sheets, path)
    draft = Draft(document, mapping)
    stem = spellings.reference(path.stem) or "LIST"
    found = [(sheet, *one) for sheet in sheets for one in _tables(sheet, mapping)]
    tables = [table for _, table, _ in found if table is not None]
    for one in tables:
        _name(one, mapping, stem)
    draft.tables = tables
    draft.known = frozenset(_parts(tables))
    order = {id(one): layout_of(one, draft) for one in tables}
    for sheet, table, notes in found:
        for row in notes:
            draft.note(sheet, row)
        if table is not None and table.top is not None and table.sheet is sheet and table.top not in notes:
            draft.note(sheet, table.top)
    for one in sorted(tables, key=lambda t: getattr(order[id(t)], "ORDER", 999) != 15):  # lists of connectors first
        _take(one, order[id(one)], draft)
    for sheet in sheets:
        for row in sheet.rows:
            if row and document.number(sheet, row.number) not in draft.account.rows:
                draft.unread(
                    sheet, row, "no table was recognised here", "put a head over the columns: From, Pin, To, Pin"
                )
    finish(draft, path.stem)
    return Imported(document, draft)


def _tables(sheet: Sheet, mapping: Mapping) -> list[tuple[Table | None, list[Row]]]:
    """The tables of a sheet; with a map, one table from its header row on."""
    if not mapping.columns:
        return list(of_sheet(sheet))
    top = next((r for r in sheet.rows if r.number == max(mapping.header_row, 1)), None)
    rows = [r for r in sheet.rows if r and r.number > mapping.header_row]
    if top is None:
        return [(None, rows)]
    width = max(len(r.cells) for r in [top, *rows])
    heads: list[Head | None] = [
        head(top.at(i).text) if top.at(i) and mapping.header_row else None for i in range(width)
    ]
    for index in range(width):
        said = mapping.columns.get(letters(index + 1)) or mapping.columns.get(top.at(index).text)
        heads[index] = FIELDS[said] if said else heads[index]
    before = [r for r in sheet.rows if r and r.number < mapping.header_row]
    return [(Table(sheet, top if mapping.header_row else None, heads, rows), before)]


def _name(table: Table, mapping: Mapping, stem: str) -> None:
    """Settle what the heads leave open, and what connector a pin table is about."""
    if mapping.connector:
        table.connector, table.connector_from = mapping.connector, "the map"
    else:
        table.connector, table.connector_from = connector_of(table, stem)
    parts = table.all("part")
    if table.all("pin") and parts and not table.all("ref") and not table.all("end"):
        table.heads[parts[0]] = Head("ref")  # what others call a part number is the reference here
    if len(table.all("pin", "")) > 1:  # beside the cavity, a terminal is what is crimped on
        for index in table.all("pin", ""):
            if re.match(r"(?i)term", table.title(index)):
                table.heads[index] = Head("contact")
    for index, one in enumerate(table.heads):
        if one is None:
            continue
        texts = table.texts(index)
        sized = sum(bool(spellings.gauge(t, "awg" if table.find("id") is not None else "").value) or
                    spellings.gauge_and_colour(t, "") is not None for t in texts)  # fmt: skip
        if one.field == "wire":  # three different things are called so
            if texts and sized * 2 > len(texts):
                table.heads[index] = Head("gauge")
            elif texts and sum(bool(spellings.colour(t).value) and not t.isdigit() for t in texts) * 2 > len(texts):
                table.heads[index] = Head("colour")
            else:
                table.heads[index] = Head("id" if table.find("id") is None else "note")
        elif one.field == "size":
            with_unit = sum(bool(spellings.gauge(t).value) and not t.startswith("#") for t in texts)
            table.heads[index] = Head("gauge") if texts and with_unit * 2 > len(texts) else Head("contact", rank=5)
        elif one.field == "ends" and (table.all("pin") or table.all("end")):
            table.heads[index] = Head("note")


def _parts(tables: list[Table]) -> set[str]:
    """Names that are parts for certain: they stand in a column of references, beside a column of cavities."""
    found: set[str] = set()
    for table in tables:
        for side in ("", "from", "to"):
            pin, part = table.find("pin", side), table.find("part")
            for index in (*table.all("ref", side), *table.all("end", side)):
                for row in table.rows:
                    if any(at is not None and row.at(at) for at in (pin, part)):
                        found.add(row.at(index).text)
    return {name for name in found if name and ":" not in name}


def layout_of(table: Table, draft: Draft) -> ModuleType | None:
    """The first layout that knows the table."""
    return next((layout for layout in layouts.every() if layout.fits(table, draft)), None)


def _take(table: Table, layout: ModuleType | None, draft: Draft) -> None:
    sheet = table.sheet
    if layout is None:
        _no_layout(table, draft)
        return
    if hasattr(layout, "prepare"):
        layout.prepare(table, draft)
    _say(table, layout, draft)
    for row in table.rows:
        if not row:
            continue
        if _passed_over(table, row, draft):
            continue
        before = draft.state()
        try:
            _as_wide_as_its_head(table, row)
            _typed_well(table, row, draft)
            kind = layout.take(table, row, draft)
        except NotPlainError as error:
            draft.back_to(before)
            draft.unread(sheet, row, error.reason, error.remedy)
        else:
            draft.settle(sheet, row, kind)


def _no_layout(table: Table, draft: Draft) -> None:
    """Rows of no known layout: running text is a note, everything that looks like a table is listed."""
    heads = [h for h in table.heads if h]
    if heads and not any(h.field in ("pin", "end", "ref", "ends", "id", "gauge", "colour") for h in heads):
        reason = "a table without cavities or ends"
    else:
        reason = "no layout is known for this table" if table.top else "no head says what the columns are"
    for row in table.rows:
        if not row:
            continue
        if row.bare and not re.search(r"->|<.+>|^\s*\S{1,3}\s*[:.)=]", row.text):
            draft.note(table.sheet, row)
        elif row.cells[0].struck and all(c.struck for c in row.filled):
            draft.retired(table.sheet, row, "struck through")
        else:
            draft.unread(
                table.sheet, row, reason, "put a head over the columns (From, Pin, To, Pin), or state it with --map"
            )


def _passed_over(table: Table, row: Row, draft: Draft) -> bool:
    """Heads said again, totals, rows that the list takes back."""
    sheet, filled = table.sheet, row.filled
    again = [head(c.text) for c in filled]
    if (
        not any(re.search(r"\w", c.text) for c in filled)
        or (table.top and [c.text for c in filled] == [c.text for c in table.top.filled])
        or (spellings.TOTALS.fullmatch(filled[0].text) and len(filled) <= 4 and sum(h is not None for h in again) < 2)
    ):
        draft.note(sheet, row)
    elif all(c.struck for c in filled):
        draft.retired(sheet, row, "struck through")
    elif any(c.struck for c in filled):
        raise_at = next(c for c in filled if c.struck)
        reason = f"{raise_at.text!r} is struck through, and the rest of the row is not"
        draft.unread(sheet, row, reason, "strike the whole row, or write it anew", raise_at)
    elif any(spellings.RETIRED.search(row.at(i).text) for f in ("id", "status") for i in table.all(f)):
        draft.retired(sheet, row, "the row calls itself retired")
    elif _first_words(table, row):
        draft.note(sheet, row)
    else:
        return False
    return True


def _first_words(table: Table, row: Row) -> bool:
    """A remark under a table: one cell of running text in its first column."""
    filled = row.filled
    if len(filled) != 1 or not table.top or filled[0] is not row.cells[0]:
        return False
    return (
        bool(re.match(r"(?i)notes?\b|\*|legend|key\b|see\b|all\b", filled[0].text)) or len(filled[0].text.split()) > 5
    )


def _as_wide_as_its_head(table: Table, row: Row) -> None:
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


def _typed_well(table: Table, row: Row, draft: Draft) -> None:
    """Refuse names that the spreadsheet has turned into something else: a date for ``1-2``, a fraction."""
    for index, one in enumerate(table.heads):
        cell = row.at(index)
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


def _say(table: Table, layout: ModuleType, draft: Draft) -> None:
    """What was understood of a table, in one or two lines for the person."""
    where = draft.document.where(*draft.mark(table.sheet, _first(table)))
    said = f"{where}: {layout.TITLE}"
    pins = table.all("pin", "")
    if pins and table.find("ref", "") is None and not any(h and h.named for h in table.heads):
        said += f"; connector {table.connector} (from {table.connector_from})"
    draft.understood.append(said)
    if table.top is None:
        return
    shown = []
    for index, one in enumerate(table.heads):
        if one and one.field not in ("quantity", "size"):
            field = {"end": one.side, "ref": f"{one.side} connector".strip(), "pin": f"{one.side} cavity".strip()}
            shown.append(f"{table.title(index)!r} is {field.get(one.field, one.field)}")
    if shown:
        draft.understood.append("    " + ", ".join(shown))
    lost = []
    for index, one in enumerate(table.heads):
        if (one is None or one.field == "quantity") and table.texts(index):
            lost.append(table.title(index))
            if one is None and table.top.at(index):
                remedy = "name it in a map: harnesscheck import --write-map"
                draft.not_taken(table.sheet, table.top.at(index), "column", "what it holds is kept as a note", remedy)
    if lost:
        draft.understood.append("    columns not taken: " + ", ".join(repr(title) for title in lost))


def _first(table: Table) -> Cell:
    row = table.top or (table.rows[0] if table.rows else Row(1, []))
    return next(iter(row.filled), Cell("", row.number, 1))
