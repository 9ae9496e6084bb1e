"""The values of a row: gauge, colour, length, type, notes; the same for every layout."""

from __future__ import annotations

import re
from collections.abc import Iterable

from harnesscheck.formats._lists import colours, lengths, spellings
from harnesscheck.formats._lists.cells import DATE, NUMBER, Cell, Row
from harnesscheck.formats._lists.draft import Draft, Mark
from harnesscheck.formats._lists.tables import Table
from harnesscheck.formats._lists.together import gauge_and_colour

Values = dict[str, tuple[str, Mark]]
_AS_AWG = re.compile(r"[1-4]/0|\d{1,2}")
_FRACTION = re.compile(r"\d*[.,]\d+")
PART = re.compile(r"(?=.*\d)[!-~]{5,60}")
"""A contact written as a part number; ``#16`` is a size of contact, and no part number."""


def of_row(draft: Draft, table: Table, row: Row, extra: Iterable[tuple[str, Cell]] = ()) -> Values:
    """The values of one wire. What is not understood is listed and kept in the note, so that no word is lost."""
    values: Values = {}
    notes: list[tuple[str, Mark]] = [(text, draft.mark(table.sheet, cell)) for text, cell in extra if text]
    seen: dict[str, int] = {}
    clashed: set[str] = set()
    for index, head in enumerate(table.heads):
        cell = row.at(index)
        if head is None or not cell or head.field not in _READERS:
            continue
        if cell.kind == DATE:
            draft.not_taken(table.sheet, cell, table.title(index), "the spreadsheet has made a date of it", _AS_TEXT)
            continue
        read: Values = {}
        _READERS[head.field](draft, table, index, cell, read, notes)
        for key, value in read.items():
            was = values.get(key)
            if key in clashed or (was and was[0].casefold() != value[0].casefold()):
                _two_columns(draft, table, (seen[key], index), row, notes)
                clashed.add(key)
                values.pop(key, None)
            else:
                values[key] = value
            seen[key] = index
    if table.gauge and not {"type", "gauge"} & values.keys() and not any(row.at(i) for i in table.all("gauge")):
        top = table.above[-1] if table.above else row
        values.setdefault("gauge", (table.gauge, draft.mark(table.sheet, next(iter(row.filled or top.filled)))))
    for index, head in enumerate(table.heads):
        if (
            head is not None
            and head.field in ("note", "contact", "voltage", "status", "signal", "lead")
            and row.at(index)
        ):
            if head.field == "signal" and index == table.find("signal"):
                continue
            said = row.at(index).text
            named = "" if head.field == "note" else f"{table.title(index)}: "
            if re.search(r"[^\W_]", said):
                notes.append((f"{named}{said}", draft.mark(table.sheet, row.at(index))))
    for index, head in enumerate(table.heads):
        if head is None and table.top and row.at(index) and re.search(r"[^\W_]", row.at(index).text):
            notes.append((f"{table.title(index)}: {row.at(index).text}", draft.mark(table.sheet, row.at(index))))
    if notes:
        joined = "; ".join(dict.fromkeys(re.sub(r"\s*\n\s*", ", ", text) for text, _ in notes))
        values["note"] = (joined if len(joined) <= 390 else joined[:390] + " ...", notes[0][1])
    return values


_AS_TEXT = "format the column as text and type it again"


def _two_columns(draft: Draft, table: Table, both: tuple[int, int], row: Row, notes: list[tuple[str, Mark]]) -> None:
    """Two columns of one sort that say different things: neither is taken."""
    for index in both:
        text = f"{table.title(index)}: {row.at(index).text}"
        notes.append((text, draft.mark(table.sheet, row.at(index))))
    one, cell = row.at(both[0]), row.at(both[1])
    reason = f"{table.title(both[0])!r} says {one.text!r}, and nothing says which of the two is meant here"
    draft.not_taken(
        table.sheet, cell, table.title(both[1]), reason, "keep one of the columns, or call one of them Note"
    )


def _unit_of(draft: Draft, table: Table, index: int) -> str:
    """What a bare number in a column of sizes means: stated by the head, by the map, or plain from its fractions."""
    if index not in table.units:
        table.units[index] = _find_unit(draft, table, index)
    return table.units[index]


def _find_unit(draft: Draft, table: Table, index: int) -> str:
    head = table.heads[index]
    found = (re.fullmatch(r"([\d.,/]+)(?:\s+(?!mm|sq|qmm|awg|ga)[^\W\d]\D*)?", t, re.I) for t in table.texts(index))
    texts = [m[1] for m in found if m]
    if head and head.unit in ("awg", "mm2"):
        return head.unit
    if table.gauge_unit or draft.mapping.gauge_unit:
        return table.gauge_unit or draft.mapping.gauge_unit
    if any(_FRACTION.fullmatch(t) for t in texts):
        if set(texts) & _NO_AREA:
            return ""  # 0.5 and 22 in one column: two units
        draft.remark(f"bare numbers under {table.title(index)!r} are read as mm2, since there are fractions among them")
        return "mm2"
    if head and re.search(r"(?i)\b(?:awg|ga|gauge|gage)\b", table.title(index)):
        return "awg"
    if re.search(r"(?i)wire|cable|conductor", table.title(index)) and set(texts) <= _EVEN and set(texts) & _NO_AREA:
        draft.remark(f"bare numbers under {table.title(index)!r} are read as AWG: not all of them are areas in mm2")
        return "awg"
    return ""


_EVEN = frozenset(map(str, range(2, 31, 2)))
"""Sizes of wire in use as AWG numbers (common practice)."""
_NO_AREA = frozenset(("8", "12", "14", "18", "20", "22", "24", "26", "28", "30"))
"""Of these, the ones that are no nominal area in mm2 (IEC 60228, from memory: 0.5 to 2.5, 4, 6, 10, 16, 25)."""


def _gauge(draft: Draft, table: Table, index: int, cell: Cell, values: Values, notes: list[tuple[str, Mark]]) -> None:
    mark = draft.mark(table.sheet, cell)
    unit = _unit_of(draft, table, index)
    both = gauge_and_colour(cell.text, unit, keys_of(draft))
    read, hue = both or (spellings.gauge(cell.text, unit), None)
    if hue is not None:
        values["colour"] = (hue.value, mark)
        if hue.note:
            notes.append((hue.note, mark))
    if read.value.startswith("type:"):
        values["type"] = (read.value.removeprefix("type:"), mark)
    elif read.value:
        values["gauge"] = (read.value, mark)
    _aside(draft, table, index, cell, read, notes, "write it like 22 AWG or 0.35 mm2, or state it with --map")


def _colour(draft: Draft, table: Table, index: int, cell: Cell, values: Values, notes: list[tuple[str, Mark]]) -> None:
    both = gauge_and_colour(cell.text, "", keys_of(draft))
    mark = draft.mark(table.sheet, cell)
    if both:
        values["gauge"] = (both[0].value, mark)
        read = both[1]
    else:
        read = colours.colour(cell.text, keys_of(draft))
    if read.value:
        values["colour"] = (read.value, mark)
    _aside(
        draft, table, index, cell, read, notes, "write a word like white/blue, digits like 96, or a legend: GR = green"
    )


def _length(draft: Draft, table: Table, index: int, cell: Cell, values: Values, notes: list[tuple[str, Mark]]) -> None:
    head = table.heads[index]
    unit = (head.unit if head else "") or table.length_unit or draft.mapping.length_unit
    point = "." if cell.kind == NUMBER else _point_of(draft, table, index)
    read = lengths.length(cell.text, unit, point)
    if read.value:
        values["length"] = (read.value, draft.mark(table.sheet, cell))
    _aside(draft, table, index, cell, read, notes, "write it like 320 mm or 12 in")


def _point_of(draft: Draft, table: Table, index: int) -> str:
    """The decimal sign of a column of lengths, by itself or by the other numbers beside it (``lengths.point_of``)."""
    if index not in table.points:
        sizes = [text for at in (*table.all("gauge"), *table.all("length")) for text in table.texts(at)]
        table.points[index] = lengths.point_of(table.texts(index)) or lengths.point_of(sizes)
    return table.points[index]


def keys_of(draft: Draft) -> colours.Keys:
    """The colour keys of the whole list: of its columns of colours, with what a legend or the map says of them."""
    if draft.colour_keys is None:
        rows = (row for sheet in draft.document.sheets for row in sheet.rows)
        told = dict(colours.legend(c.text for row in rows for c in row.filled))
        told.update((key.upper(), word.casefold()) for key, word in draft.mapping.colours.items())
        texts = [
            _SIZED.sub(" ", text).strip()
            for table in draft.tables
            for field in ("colour", "gauge")
            for index in table.all(field)
            for text in table.texts(index)
        ]
        draft.colour_keys, said = colours.keys_of(texts, tuple(sorted(told.items())))
        if said:
            draft.remark(said)
    return draft.colour_keys


_SIZED = re.compile(r"(?i)(?:AWG|#)\s*\d+|\d[\d./,]*\s*(?:AWG|ga|gauge|mm2|mm²)\.?")


def _type(draft: Draft, table: Table, index: int, cell: Cell, values: Values, notes: list[tuple[str, Mark]]) -> None:
    size = spellings.gauge(cell.text)
    sized = bool(size.value) and not size.value.startswith("type:")  # 22 AWG shielded
    if sized:
        values["gauge"] = (size.value, draft.mark(table.sheet, cell))
    if sized and not table.all("gauge"):
        if size.note:
            notes.append((size.note, draft.mark(table.sheet, cell)))
    elif re.fullmatch(r"[!-~](?:[ -~]{0,58}[!-~])?", cell.text) and re.search(r"[^\W_]", cell.text):
        values["type"] = (cell.text, draft.mark(table.sheet, cell))
    elif re.search(r"[^\W_]", cell.text):
        draft.not_taken(table.sheet, cell, table.title(index), "no part number", "write it in plain characters")


def _aside(
    draft: Draft, table: Table, index: int, cell: Cell, read: spellings.Read, notes: list[tuple[str, Mark]], remedy: str
) -> None:
    mark = draft.mark(table.sheet, cell)
    if read.refused:
        draft.not_taken(table.sheet, cell, table.title(index), read.refused, remedy)
        notes.append((f"{table.title(index)}: {cell.text}", mark))
    elif read.note:
        notes.append((read.note if read.value else f"{table.title(index)}: {read.note}", mark))


_READERS = {"gauge": _gauge, "colour": _colour, "length": _length, "type": _type}


def signal(draft: Draft, table: Table, row: Row) -> tuple[str, Cell] | None:
    """The circuit name of a row."""
    index = table.find("signal")
    return draft.circuit(table, row.at(index)) if index is not None and row.at(index) else None


def for_pin(draft: Draft, table: Table, row: Row, cell: Cell | None, skip: Iterable[int] = ()) -> tuple[Values, bool]:
    """What a row says of a cavity, and whether it is a spare or reserved one."""
    id_at = table.find("id")
    own = (
        [(f"{table.title(id_at)}: {row.at(id_at).text}", row.at(id_at))] if id_at is not None and row.at(id_at) else []
    )
    values = of_row(draft, table, row, own)
    for key in ("colour", "length", "type"):
        if key in values:
            text, mark = values.pop(key)
            was = values.get("note")
            values["note"] = (f"{was[0]}; {key} {text}" if was else f"{key} {text}", was[1] if was else mark)
    index = table.find("contact")
    if index is not None and PART.fullmatch(row.at(index).text):
        values["contact"] = (row.at(index).text, draft.mark(table.sheet, row.at(index)))
    spare = False
    if cell is not None and cell:
        mark = draft.mark(table.sheet, cell)
        closed = re.fullmatch(r"(?i)n/?c", cell.text) is not None and _has_contacts(table)
        if spellings.SPARE.fullmatch(cell.text) and not closed:
            values["use"], spare = ("spare", mark), True
            _add_note(values, cell.text if re.search(r"[^\W_]", cell.text) else "", mark)
        elif spellings.RESERVED.fullmatch(cell.text):
            values["use"], spare = ("unknown", mark), True
            _add_note(values, cell.text, mark)
        else:
            named = draft.circuit(table, cell)
            if named:
                values["circuit"] = (named[0], mark)
            else:
                values["use"] = ("unknown", mark)
                _add_note(values, cell.text, mark)
    else:
        values["use"] = ("unknown", draft.mark(table.sheet, next(iter(row.filled))))
    return values, spare


def _add_note(values: Values, text: str, mark: Mark) -> None:
    if text:
        was = values.get("note")
        values["note"] = ((f"{was[0]}; {text}" if was else text)[:390].replace("\n", " "), mark)


def _has_contacts(table: Table) -> bool:
    """True where NC means normally closed: the contacts of a relay or a switch stand beside it."""
    said = {c.text.casefold() for row in table.rows for c in row.cells if len(c.text) <= 6}
    return bool(said & {"no", "n/o", "com", "common", "c/o"})
