"""The tables on a sheet: where one begins, what its columns mean, what stands above it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from harnesscheck.formats._lists import spellings
from harnesscheck.formats._lists.cells import NUMBER, Cell, Row, Sheet
from harnesscheck.formats._lists.headers import FROM, TO, Head, head

_CAVITY_LIKE = re.compile(r"\S{1,4}|[A-Za-z]?\d{1,3}\s*-\s*\d{1,3}")
_END = r"[A-Za-z]{1,6}\d{1,4}[A-Za-z]?[:.-](?:\d{1,3}|[A-Za-z]\d{0,2})"
WIRED = re.compile(rf".*(?:->|=>)|{_END}\s+[^\w\s]{{1,4}}\s+{_END}(?!\S)")
"""Running text that tells a wire: an arrow, or two ends with nothing but a sign between them."""
ITEM = re.compile(
    r"(?i:pin)\s+\w{1,3}\s*[-.:=)]|(?:[-*+•]\s+)?[A-Za-z0-9]{1,3}\s*[.:)=]\s|(?:[-*+•]\s+)?[A-Za-z0-9]{1,3}\s+-\s"
)


@dataclass(slots=True)
class Table:
    """Rows under one head. ``above``: the headings that stand over it, the nearest last."""

    sheet: Sheet
    top: Row | None
    heads: list[Head | None]
    rows: list[Row] = field(default_factory=list)
    above: list[Row] = field(default_factory=list)
    connector: str = ""
    """What its connector is called, where the table itself does not say."""
    connector_from: str = ""
    carried: dict[int, Cell] = field(default_factory=dict)
    clash: str = ""
    polar: set[str] | None = None
    """Parts that have a cavity called +."""
    units: dict[int, str] = field(default_factory=dict)
    """Column to what a bare number in it means, once that has been found out."""
    last: Row | None = None
    """The row that was taken last, ditto marks filled in."""
    points: dict[int, str] = field(default_factory=dict)
    """Column of lengths to its decimal sign."""
    gauge_unit: str = ""
    """Of bare numbers, as the map states it."""
    length_unit: str = ""
    """Of bare numbers, as a note over the table states it."""
    gauge: str = ""
    """Of all wires that state none themselves, as a heading or a note says it."""
    beside: dict[str, list[str]] | None = None
    """Connector to its cavities, as typed."""

    def find(self, name: str, side: str | None = None) -> int | None:
        """The index of the best column of a field; None when there is none."""
        found = [
            (h.rank, i) for i, h in enumerate(self.heads) if h and h.field == name and (side is None or h.side == side)
        ]
        return min(found)[1] if found else None

    def all(self, name: str, side: str | None = None) -> list[int]:
        """The indices of all columns of a field."""
        return [i for i, h in enumerate(self.heads) if h and h.field == name and (side is None or h.side == side)]

    def title(self, index: int) -> str:
        """What the head of a column says."""
        return self.top.at(index).text if self.top else f"column {index + 1}"

    def texts(self, index: int) -> list[str]:
        """What stands in a column, blanks left out."""
        return [row.at(index).text for row in self.rows if row.at(index)]


def of_sheet(sheet: Sheet) -> Iterator[tuple[Table | None, list[Row]]]:
    """Tables with the rows that are headings or notes above each; at the end the notes that are left."""
    current: Table | None = None
    above: list[Row] = []
    notes: list[Row] = []
    after_blank = True
    rows = sheet.rows
    skip = 0
    for index, here in enumerate(rows):
        row = here
        if skip:
            skip -= 1
            continue
        if not row:
            if not row.cells and sheet.lines and current is not None:
                yield current, notes
                current, notes = None, []
            after_blank = after_blank or not (len(row.cells) == 1 and sheet.lines)
            continue
        following = rows[index + 1] if index + 1 < len(rows) else None
        ruled = following is not None and len(following.cells) == 1 and not following.cells[0] and bool(sheet.lines)
        double = _double(row, following) if following is not None and not ruled else None
        heads = double if double is not None else _heads(row, ruled, after_blank and current is None)
        two = row
        if heads is not None:
            if current is not None:
                yield current, notes
                notes = []
            if double is not None and following is not None:
                notes.append(two)
                row, skip = _one_top(two, following), 1
            current = Table(sheet, row, heads, [], list(above))
            said_units = _units_of(rows[index + 1 + skip] if index + 1 + skip < len(rows) else None, heads)
            if said_units is not None:
                current.heads = said_units
                notes.append(rows[index + 1 + skip])
                skip += 1
        elif row.bare and _is_heading(row, current, sheet):
            if row.level:
                above = [r for r in above if r.level and r.level < row.level]
            above = [*above, row][-4:]
            if current is not None:
                yield current, notes
                notes = []
                current = None
            notes.append(row)
        elif current is not None and _is_heading(row, current, sheet, after_blank, following):
            yield current, notes
            above = [row]
            current, notes = Table(sheet, current.top, current.heads, [], above), [row]
        elif current is None and (
            (following is not None and _over(row, following))
            or (len(row.filled) == 1 and not row.bare and _is_heading(row, None, sheet))
        ):
            above = [*above, row][-4:]
            notes.append(row)
        else:
            if current is None:
                current = Table(sheet, None, [], [], list(above))
            current.rows.append(row)
        after_blank = False
    yield current, notes


def _over(row: Row, following: Row) -> bool:
    """True for titles that stand over groups of columns: fewer than there are heads, and words only."""
    heads = _heads(following, False, True)
    words = all(not c.text.isdigit() and ":" not in c.text for c in row.filled)
    return heads is not None and not row.bare and len(row.filled) * 2 <= sum(h is not None for h in heads) and words


def _heads(row: Row, ruled: bool, first: bool) -> list[Head | None] | None:
    """The meaning of every column when the row is the head of a table; else None."""
    filled = row.filled
    if len(filled) < 2 and not (ruled and len(row.cells) > 1):
        return None
    heads = [head(c.text) if c and c.kind != NUMBER and not c.hidden else None for c in row.cells]
    texts = [c.text.casefold() for c in row.cells]
    if "da" in texts and "a" in texts:  # Italian: from and to
        heads = [{"da": Head("end", FROM), "a": Head("end", TO)}.get(t, h) for t, h in zip(texts, heads, strict=True)]
    known = [h for h in heads if h]
    numbers = sum(c.kind == NUMBER or c.text.isdigit() for c in filled)
    tells = any(h.field in ("pin", "end", "ends", "ref") for h in known)
    if ruled and not row.bare:
        return _settled(heads)
    if len(known) >= 2 and len(known) * 2 >= len(filled) and not numbers and (tells or len(known) >= 3):
        return _settled(heads)
    if first and len(known) == 1 and len(filled) >= 2 and not numbers and known[0].field in ("signal", "pin", "end"):
        plain = all(":" not in c.text and len(c.text) <= 30 for c in filled)
        return _settled(heads) if plain else None
    return None


def _double(row: Row, following: Row) -> list[Head | None] | None:
    """A head of two rows: ``From`` and ``To`` over ``Connector`` and ``Pin``, each reaching to the next."""
    upper = [head(c.text) if c and not c.hidden else None for c in row.cells]
    if not any(h and h.field == "end" for h in upper):
        return None
    if [c.text for c in row.filled] == [c.text for c in following.filled]:
        return None
    lower = [head(c.text) if c and not c.hidden else None for c in following.cells]
    if sum(h is not None for h in lower) < 3 or not any(h and h.field in ("pin", "ref") for h in lower):
        return None
    side = ""
    made: list[Head | None] = []
    lower += [None] * (len(upper) - len(lower))
    for index, low in enumerate(lower):
        over = upper[index] if index < len(upper) else None
        if index < len(row.cells) and row.cells[index]:
            side = over.side if over and over.field == "end" else ""
        made.append(replace(low, side=side) if low and low.field in ("pin", "ref") and side else low or over)
    return _settled(made)


def _one_top(upper: Row, lower: Row) -> Row:
    """Two rows of heads as one, for what is said of the columns: the upper speaks where the lower is blank."""
    width = max(len(upper.cells), len(lower.cells))
    return Row(lower.number, [lower.at(i) if lower.at(i) else upper.at(i) for i in range(width)])


def _settled(heads: list[Head | None]) -> list[Head | None]:
    """Heads whose side follows from where they stand: ``From, Pin, To, Pin`` and ``Connector, Pin, Connector, Pin``."""
    side = ""
    ends = [h for h in heads if h and h.side and h.field in ("end", "ref")]
    pins = [h for h in heads if h and h.field == "pin"]
    made: list[Head | None] = []
    contacts = [i for i, h in enumerate(heads) if h and h.field == "contact" and h.rank == 0 and not h.side]
    if not pins and len(contacts) == 2 and {h.side for h in ends} == {FROM, TO}:  # a cavity is called contact, too
        for index in contacts:
            before = next((h for h in reversed(heads[:index]) if h and h.side and h.field in ("end", "ref")), None)
            if before and before is heads[index - 1]:
                heads = [Head("pin") if i == index else h for i, h in enumerate(heads)]
        pins = [h for h in heads if h and h.field == "pin"]
    named = [h for h in heads if h and h.field == "ref" and not h.side and not h.rank]
    if heads and heads[0] == Head("ref", rank=1) and named:  # ITEM, CONNECTOR, PIN: the same
        heads = [Head("id", rank=30) if not _has(heads, "id") else None, *heads[1:]]
    second = heads[1] if len(heads) > 1 else None
    own = second is not None and second.field == "pin" and not second.side  # CONNECTOR, PIN, TO CONNECTOR, TO PIN
    if any(h.field == "ref" and h.side for h in ends):  # ITEM, CONN A, PIN A: the first is a number of the row
        heads = [
            Head("id", rank=30)
            if h and h.field == "ref" and not h.side and i == 0 and not _has(heads, "id") and (h.rank or not own)
            else h
            for i, h in enumerate(heads)
        ]
    if not ends and [h.field for h in heads if h and h.field in ("ref", "pin")] == ["ref", "pin", "ref", "pin"]:
        sides = iter((FROM, FROM, TO, TO))
        return [replace(h, side=next(sides)) if h and h.field in ("ref", "pin") else h for h in heads]
    for h in heads:
        if h and h.field in ("end", "ref") and h.side:
            side = h.side
        made.append(replace(h, side=side) if h and h.field == "pin" and not h.side and side and len(pins) <= 2 else h)
    return made


def _has(heads: list[Head | None], field: str) -> bool:
    return any(h is not None and h.field == field for h in heads)


_UNITS = {"awg": "awg", "ga": "awg", "mm2": "mm2", "mm²": "mm2", "mm": "mm", "cm": "cm", "m": "m", "in": "in",
          "inch": "in", "inches": "in", "ft": "ft", "feet": "ft", '"': "in"}  # fmt: skip


def _units_of(row: Row | None, heads: list[Head | None]) -> list[Head | None] | None:
    """Heads with the units that the row under them states; None when it is no row of units."""
    if row is None or not row.filled:
        return None
    made = list(heads)
    for index, cell in enumerate(row.cells):
        if not cell:
            continue
        unit = _UNITS.get(cell.text.strip("()[]. ").casefold())
        over = heads[index] if index < len(heads) else None
        if unit is None or over is None or cell.kind == NUMBER:
            return None
        made[index] = replace(over, unit=unit)
    return made


def _is_heading(
    row: Row, current: Table | None, sheet: Sheet, after_blank: bool = True, following: Row | None = None
) -> bool:
    """True for a line that stands over a table, or among them, and is no row of one."""
    filled = row.filled
    if row.level:
        return True
    if len(filled) != 1:
        return False
    text = filled[0].text
    if sheet.lines:
        return row.bare and not ITEM.match(text) and not WIRED.match(text) and "<" not in text
    if current is None:
        return not WIRED.match(text) and "<" not in text
    if following is not None and following.cells and _heads(following, False, True):
        return True
    if spellings.TOTALS.fullmatch(text) or row.cells[0] is not filled[0]:
        return False
    if re.fullmatch(r"[A-Za-z]{1,4}\d{1,4}[A-Za-z]?:", text):
        return True
    return (" " in text or text.endswith(":") or after_blank) and not _CAVITY_LIKE.fullmatch(text)
