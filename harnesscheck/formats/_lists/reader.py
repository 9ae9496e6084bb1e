"""A file of lists, read: every table with the layout that knows it, every row with its verdict."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from pathlib import Path
from types import ModuleType

from harnesscheck.formats._lists import account, colours, layouts, rows, spellings
from harnesscheck.formats._lists.build import finish
from harnesscheck.formats._lists.cells import Cell, Row, Sheet, read
from harnesscheck.formats._lists.draft import Draft
from harnesscheck.formats._lists.headers import FROM, TO, Head
from harnesscheck.formats._lists.headings import connector_of, stated
from harnesscheck.formats._lists.joined import join
from harnesscheck.formats._lists.mapped import all_used, sheets_of, tables_of
from harnesscheck.formats._lists.mapping import Mapping
from harnesscheck.formats._lists.source import ListDocument
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import ITEM, WIRED, Table, of_sheet
from harnesscheck.formats._lists.together import gauge_and_colour


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
    everything = sheets
    sheets = sheets_of(sheets, mapping, name)
    document = ListDocument(name, sheets, path)
    draft = Draft(document, mapping)
    for said in dict.fromkeys(text for sheet in sheets for text in sheet.said):
        draft.remark(said)
    stem = spellings.reference(path.stem) or "LIST"
    used: set[tuple[str, str]] = set()
    found = []
    for sheet in sheets:
        if not _left_hidden(sheet, mapping, draft):
            there = tables_of(sheet, mapping, draft, used) if mapping.parts and sheet.rows else of_sheet(sheet)
            found += [(sheet, *one) for one in there]
    all_used(mapping, used, name)
    if other := [sheet.name for sheet in everything if sheet not in sheets]:
        draft.remark(f"sheets that the map does not name, and nothing is taken from them: {', '.join(other)}")
    tables = [table for _, table, _ in found if table is not None]
    for one in tables:
        _name(one, mapping, stem, tables)
    draft.tables = tables
    draft.known = frozenset(_parts(tables))
    over = {id(table.above[-1]) for table in tables if table.above and table.rows}  # these speak of their own table
    loose: dict[int, list[Row]] = {}
    for sheet, below, notes in found:
        under = [row for row in below.rows if len(row.filled) == 1] if below is not None else []
        loose.setdefault(id(sheet), []).extend([*(row for row in notes if id(row) not in over), *under])
    for table in filter(lambda one: one.rows, tables):
        for said in stated(table, loose[id(table.sheet)]):
            draft.remark(said)
    order = {id(one): layout_of(one, draft) for one in tables}
    for sheet, one_table, notes in found:
        for row in notes:
            draft.note(sheet, row)
        if one_table is not None and one_table.top is not None and one_table.top not in notes:
            draft.note(sheet, one_table.top)
    for one in sorted(tables, key=lambda t: getattr(order[id(t)], "ORDER", 999) != 15):  # lists of connectors first
        _take(one, order[id(one)], draft)
    join(draft)
    for sheet in sheets:
        for row in sheet.rows:
            if row and document.number(sheet, row.number) not in draft.account.rows:  # pragma: no cover - every table
                # settles its rows; should one ever not, they are listed all the same
                draft.unread(
                    sheet, row, "no table was recognised here", "put a head over the columns: From, Pin, To, Pin"
                )
    finish(draft, path.stem)
    return Imported(document, draft)


def _left_hidden(sheet: Sheet, mapping: Mapping, draft: Draft) -> bool:
    """True for a hidden sheet that no map names: it is said, and listed when a table is on it."""
    named = [mapping.sheet, *(part.sheet for part in mapping.tables)]
    if not sheet.hidden or sheet.name in named or mapping.hidden == "take":
        return False
    rows_there = [row for row in sheet.rows if row]
    tells = any(table is not None and table.top is not None for table, _ in of_sheet(sheet))
    if not rows_there:
        return True
    said = f"sheet {sheet.name!r} is hidden, and its {len(rows_there)} rows are not taken"
    if tells and mapping.hidden != "leave":
        draft.unread(sheet, rows_there[0], said, "show it or delete it, or name it in a map (sheet:)")
    for row in rows_there:
        draft.settle(sheet, row, account.UNREAD if tells and mapping.hidden != "leave" else account.NOTE)
    draft.remark(said)
    return True


def _name(table: Table, mapping: Mapping, stem: str, tables: list[Table]) -> None:
    """Settle what the heads leave open, and what connector a pin table is about."""
    if table.connector:
        table.connector_from = "the map"
    elif mapping.connector:
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
        texts = table.texts(index)
        if one is None:
            if table.top and table.top.at(index) and not table.top.at(index).hidden:
                table.heads[index] = _by_values(table, texts)
            continue
        bare = "awg" if table.find("id") is not None else ""
        sized = sum(bool(spellings.gauge(t, bare).value) or gauge_and_colour(t, "awg") is not None for t in texts)
        if one.field in ("wire", "id") and _in_one_cell(table, index):
            continue
        if one.field == "wire":  # three different things are called so
            if (texts and sized * 2 > len(texts)) or _sizes_only(table, index, tables):
                table.heads[index] = Head("gauge")
            elif texts and sum(bool(colours.colour(t).value) and not t.isdigit() for t in texts) * 2 > len(texts):
                table.heads[index] = Head("colour")
            else:
                table.heads[index] = Head("id" if table.find("id") is None else "note")
        elif one.field == "size":
            wires_only = {h.side for h in table.heads if h and h.field in ("end", "ref", "pin")} >= {FROM, TO}
            with_unit = sum(bool(spellings.gauge(t).value) and not t.startswith("#") for t in texts)
            table.heads[index] = (
                Head("gauge", "", one.unit)
                if texts
                and (
                    one.unit in ("awg", "mm2")
                    or with_unit * 2 > len(texts)
                    or (wires_only and not table.all("contact"))
                )
                else Head("contact", rank=5)
            )
        elif one.field == "ends" and (table.all("pin") or table.all("end")):
            table.heads[index] = Head("note")


def _by_values(table: Table, texts: list[str]) -> Head | None:
    """A column whose head says nothing, and every value says what it is: a size with its unit, or a colour."""
    said = [t for t in texts if re.search(r"\w", t)]
    if not said:
        return None
    if not table.all("gauge") and all(spellings.gauge(t).value or gauge_and_colour(t, "") for t in said):
        return Head("gauge")
    plain = all(colours.colour(t).value and not colours.colour(t).note and len(t) > 2 and not t.isdigit() for t in said)
    return Head("colour") if plain and not table.all("colour") else None


_IN_BRACKETS = re.compile(r".*<.+>|\s*\S{1,3}\s*[:.)=]")
_THREE = re.compile(
    r"(\S*[A-Za-z]\S*)[\s,]+((?:AWG ?|#)?\d{1,2} ?(?:AWG|ga)?)[\s,]+([^\W\d_][^\d]*)|"
    r"([A-Za-z][\w -]*?)[\s,]+(\d{1,2} ?AWG)[\s,]+([^\W\d_][^\d]*)",
    re.I,
)


def _three(found: re.Match[str]) -> tuple[str, ...]:
    """Id, gauge and colour."""
    return found.groups()[:3] if found[1] else found.groups()[3:]


def _in_one_cell(table: Table, index: int) -> bool:
    """Id, gauge and colour in one cell (``W1 22 WHT``): parted into three columns that stand at the same place."""
    found = [(row, _THREE.fullmatch(row.at(index).text)) for row in table.rows if re.search(r"\w", row.at(index).text)]
    if not found or not table.top or not all(m and colours.colour(_three(m)[2]).value for _, m in found):
        return False
    width = max(len(table.heads), *(len(row.cells) for row in table.rows), len(table.top.cells))
    table.heads += [None] * (width - len(table.heads))
    for row in (table.top, *table.rows):
        cell = row.at(index)
        parts = next(
            (_three(m) for r, m in found if r is row and m), (cell.text,) * 3 if row is table.top else ("",) * 3
        )
        row.cells += [Cell("", row.number, n + 1) for n in range(len(row.cells), width)]
        row.cells[index] = replace(cell, text=parts[0]) if any(parts) else cell
        row.cells += [replace(cell, text=text) for text in parts[1:]]
    table.heads[index] = Head("id")
    table.heads += [Head("gauge"), Head("colour")]
    return True


def _sizes_only(table: Table, index: int, tables: list[Table]) -> bool:
    """A column ``Wire`` of a pin table in which sizes in use as AWG repeat: no ids, and no unit is stated either."""
    if not table.all("pin", "") or any(h and h.side for h in table.heads):
        return False
    same = [
        t
        for one in tables
        if index < len(one.heads) and one.title(index) == table.title(index)
        for t in one.texts(index)
    ]
    return len(set(same)) < len(same) and set(same) <= set(map(str, range(8, 31, 2)))


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
        if rows.passed_over(table, row, draft):
            continue
        before = draft.state()
        try:
            rows.as_wide_as_its_head(table, row)
            rows.filled_in(table, row, draft)
            rows.typed_well(table, row, draft)
            kind = layout.take(table, row, draft)
        except NotPlainError as error:
            draft.back_to(before)
            draft.unread(sheet, row, error.reason, error.remedy)
        else:
            draft.settle(sheet, row, kind)
        table.last = row


def _no_layout(table: Table, draft: Draft) -> None:
    """Rows of no known layout: running text is a note, everything that looks like a table is listed."""
    heads = [h for h in table.heads if h]
    tells = any(h.field in ("pin", "end", "ref", "ends") for h in heads)
    first = next(t for t in draft.tables if t.sheet is table.sheet) is table and draft.tables[-1] is not table
    if (sum(h.field == "block" for h in heads) > 1 and not tells) or (
        first and table.top is None and rows.is_title_block(table.sheet, table)
    ):
        for row in table.rows:
            draft.note(table.sheet, row)
        where = draft.document.where(*draft.mark(table.sheet, _first(table)))
        draft.remark(f"the {len(table.rows)} rows from {where} are a title block or a list of revisions")
        return
    if heads and not any(h.field in ("pin", "end", "ref", "ends", "id", "gauge", "colour") for h in heads):
        reason = "a table without cavities or ends"
    else:
        reason = "no layout is known for this table" if table.top else "no head says what the columns are"
    for row in table.rows:
        if row.bare and not any(found.match(row.text) for found in (ITEM, WIRED, _IN_BRACKETS)):
            draft.note(table.sheet, row)
        elif row.cells[0].struck and all(c.struck for c in row.filled):
            draft.retired(table.sheet, row, "struck through")
        else:
            draft.unread(
                table.sheet, row, reason, "put a head over the columns (From, Pin, To, Pin), or state it with --map"
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
        if one and one.field not in ("quantity", "block", "size"):
            field = {"end": one.side, "ref": f"{one.side} connector".strip(), "pin": f"{one.side} cavity".strip()}
            shown.append(f"{table.title(index)!r} is {field.get(one.field, one.field)}")
    if shown:
        draft.understood.append("    " + ", ".join(shown))
    lost = []
    for index, one in enumerate(table.heads):
        if (one is None or one.field in ("quantity", "block")) and table.texts(index):
            lost.append(table.title(index))
            if one is None and table.top.at(index):
                remedy = "name it in a map: harnesscheck import --write-map"
                kept = "it is hidden; " if table.top.at(index).hidden else ""
                draft.not_taken(
                    table.sheet, table.top.at(index), "column", f"{kept}what it holds is kept as a note", remedy
                )
    if lost:
        draft.understood.append("    columns not taken: " + ", ".join(repr(title) for title in lost))


def _first(table: Table) -> Cell:
    row = table.top or (table.rows[0] if table.rows else Row(1, []))
    return next(iter(row.filled), Cell("", row.number, 1))
