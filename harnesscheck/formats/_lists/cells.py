"""Files into sheets of cells: CSV, XLSX, ODS, Markdown and plain text. Nothing is understood here, only read.

Guards are put before anything is opened (common practice): the size of the file, the sum and the ratio of what a zip
archive unpacks to, the number of cells. Entities in the XML of a workbook are refused.
"""

from __future__ import annotations

import io
import re
import unicodedata
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any

from harnesscheck.characters import place_of
from harnesscheck.fault import Fault, InputError

MAX_TEXT = 5_000_000
"""Largest CSV, Markdown or text file, bytes."""
MAX_PACKED = 50_000_000
"""Largest workbook as it lies on the disk, bytes."""
MAX_CELLS = 200_000
"""Most cells of a file; of a workbook, of the rectangle that a sheet spans."""
MAX_CELL = 2_000
"""Longest text in one cell, characters."""
MAX_LINE = 10_000
"""Longest line of a Markdown or text file, characters; it bounds the time that any pattern takes on it."""

TEXT, NUMBER, DATE, TRUTH, BROKEN = "text", "number", "date", "truth", "broken"
WORKBOOKS = (".xlsx", ".ods")
TEXTS = (".csv", ".tsv", ".md", ".txt")

_LOOKS = {
    **dict.fromkeys(map(ord, "\u2010\u2011\u2012\u2013\u2014\u2015\u2212\ufe63\uff0d"), "-"),
    **dict.fromkeys(map(ord, "\u00a0\u2002\u2003\u2007\u2009\u200a\u202f\u3000"), " "),
    **dict.fromkeys(map(ord, "\u201c\u201d\u201e\u2033\u02dd"), '"'),
    **dict.fromkeys(map(ord, "\u2018\u2019\u201a\u2032"), "'"),
    **dict.fromkeys(map(ord, "\u2192\u2794\u21d2"), "->"),
    **dict.fromkeys(map(ord, "\u2194\u21d4"), "<->"),
    ord("\u03bc"): "\u00b5",
    ord("\uff0b"): "+",
}
"""Signs that look alike, as one of them: a minus, a hyphen and a dash are the same to whoever typed the list."""
_CONTROL = re.compile("[\x00-\x08\x0e-\x1f\x7f-\x9f]")
_TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""Marks that turn the direction of writing: a cell then shows other text than it holds (CVE-2021-42574)."""
_MARKS = re.compile("[\u2713\u2714\u2611\u2705\u274c\u26a0\ufe0f]|\\[\\^?\\d{1,2}\\]")
"""Check marks and footnote marks behind a value."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell: its text in plain signs, as typed, what the spreadsheet made of it, and where it stands (from 1)."""

    text: str
    row: int
    column: int
    kind: str = TEXT
    struck: bool = False
    typed: str = ""
    hidden: bool = False
    """Stands in a hidden column."""

    def __bool__(self) -> bool:
        return bool(self.text)


@dataclass(slots=True)
class Row:
    """One row of a sheet. ``bare``: a line of running text, not of a table; ``rule``: a line that only rules off."""

    number: int
    cells: list[Cell]
    bare: bool = False
    level: int = 0
    """Of a heading in a Markdown file: 1 to 6."""
    hidden: bool = False

    def __bool__(self) -> bool:
        return any(self.cells)

    def at(self, index: int) -> Cell:
        """The cell at an index (from 0); an empty one when the row is shorter."""
        return self.cells[index] if 0 <= index < len(self.cells) else Cell("", self.number, index + 1)

    @property
    def filled(self) -> list[Cell]:
        """The cells that hold something."""
        return [cell for cell in self.cells if cell]

    @property
    def text(self) -> str:
        """The row as one line."""
        return " | ".join(cell.text for cell in self.cells).rstrip(" |")


@dataclass(slots=True)
class Sheet:
    """One sheet, or a whole text file (``name`` is then empty)."""

    name: str
    rows: list[Row]
    lines: list[str] = field(default_factory=list)
    """Of a text file: its lines, for messages that point at line and column."""
    said: list[str] = field(default_factory=list)
    """How it was read, where a person should know."""
    hidden: bool = False


def plain(text: str) -> str:
    r"""Text in plain signs: one kind of dash, blank and quote, no check marks, no blanks at the ends.

    >>> plain(" DC−\xa0"), plain("6 AWG ✓")
    ('DC-', '6 AWG')
    """
    if not text.isascii():
        text = _MARKS.sub("", text.translate(_LOOKS))
        text = "".join(c for c in text if unicodedata.category(c) not in ("Cf", "So"))
    parts = (part.strip() for part in re.split(r"[\r\n\v\f]+", text))  # in linear time, whatever the blanks
    return re.sub(r"[ \t]+", " ", "\n".join(part for part in parts if part))


def cell(value: str, row: int, column: int, kind: str = TEXT, struck: bool = False) -> Cell:
    """A cell of some text; what the trade's Markdown writers put round it (bold, code, links) is taken off."""
    text = plain(value) if len(value) <= MAX_LINE else value  # what is too long is refused, and costs no time before
    return Cell(text, row, column, kind, struck, value)


def read(path: Path, name: str) -> list[Sheet]:
    """All sheets of a file. Raises ``InputError`` when it cannot be read or is too large."""
    suffix = path.suffix.lower()
    data = _bytes(path, name, MAX_PACKED if suffix in WORKBOOKS else MAX_TEXT)
    if suffix in WORKBOOKS:
        sheets = _workbook(data, name, suffix)
    else:
        text, coded = _decoded(data, name)
        if suffix in (".csv", ".tsv"):
            from harnesscheck.formats._lists.csv_rows import csv_rows

            sheets = [Sheet("", csv_rows(text, "\t" if suffix == ".tsv" else "", name))]
        else:
            from harnesscheck.formats._lists.text_tables import text_rows

            lines = text.split("\n")
            if long := next((n for n, line in enumerate(lines, 1) if len(line) > MAX_LINE), 0):
                raise refused(name, f"a line of more than {MAX_LINE} characters", "break the line", long)
            sheets = [Sheet("", text_rows(text), lines)]
        sheets[0].said += coded
    count = sum(len(row.cells) for sheet in sheets for row in sheet.rows)
    if count > MAX_CELLS:
        raise refused(name, f"this file has {count} cells; at most {MAX_CELLS} are read", "split it into several")
    if not any(row for sheet in sheets for row in sheet.rows):
        raise refused(name, "this file is empty", "give a from-to list or a pin table")
    for sheet in sheets:
        for row in sheet.rows:
            for one in row.cells:
                if said := _unfit(one):
                    from harnesscheck.formats._lists.source import ListDocument

                    document = ListDocument(name, sheets, path)
                    fault = document.fault(
                        document.number(sheet, one.row), one.column, f"this cell holds {said[0]}", said[1]
                    )
                    raise InputError([fault])
    return sheets


def _unfit(one: Cell) -> tuple[str, str] | None:
    """What a cell holds that no list holds, and the remedy: far too much text, or what a person cannot see."""
    if len(one.text) > MAX_CELL:
        return f"{len(one.text)} characters", f"keep a cell under {MAX_CELL} characters"
    if one.typed.isprintable():
        return None
    hidden = next((c for c in one.typed if c in _TURNING or _CONTROL.match(c)), "")
    if not hidden:
        return None
    turning = ", which turns text about" if hidden in _TURNING else ""
    return f"the hidden character U+{ord(hidden):04X}{turning}", "delete the text of this cell and type it again"


def refused(name: str, message: str, remedy: str, line: int = 1, column: int = 1) -> InputError:
    """A file that is not read at all."""
    return InputError([Fault(name, line, column, message, "", remedy)])


def _bytes(path: Path, name: str, most: int) -> bytes:
    try:
        if not path.is_file():
            what = "is a folder" if path.is_dir() else "does not exist" if not path.exists() else "is no ordinary file"
            raise refused(name, f"this file {what}", "give the path of a list: .csv, .tsv, .xlsx, .ods, .md or .txt")
        size = path.stat().st_size
        if size > most:
            raise refused(name, f"this file is larger than {most // 1_000_000} MB", "split it into several")
        return path.read_bytes()
    except OSError as error:
        said = error.strerror or error.__class__.__name__
        raise refused(name, f"this file cannot be read: {said}", "look at its access rights") from None


def _decoded(data: bytes, name: str) -> tuple[str, list[str]]:
    """The text, and what is to be said of how its signs were read."""
    encoding = "utf-16" if data[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    said: list[str] = []
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError as error:
        line, column = place_of(data, error.start, encoding)
        message = f"byte 0x{data[error.start]:02x} is not {encoding[:6].upper().rstrip('-')} text"
        remedy = "save it as 'CSV UTF-8', or as .xlsx or .ods"
        text = "" if encoding == "utf-16" else data.decode("cp1252", "replace")
        signs = sorted({c for c in text if not c.isascii()})
        if not text or set(signs) - _WESTERN:
            raise refused(name, message, remedy, line, column) from None
        said.append(
            f"the file is not UTF-8; read as Windows-1252, its signs are {' '.join(signs)}: look whether they are right"
        )
    if found := _CONTROL.search(text):
        column = found.start() - text.rfind("\n", 0, found.start())
        message = f"this file holds the control character U+{ord(found[0]):04X}"
        raise refused(name, message, "save it as plain text again", text.count("\n", 0, found.start()) + 1, column)
    return text.replace("\r\n", "\n").replace("\r", "\n"), said


_WESTERN = frozenset("ÄÖÜäöüßéèêëàâçîïôùûñáíóúÉÈÀÇåÅøØæÆ°±²³µ½¼¾–—‘’“”„…•´·×\xa0ÀÊÔ§")
"""Signs that a Western list may hold; a file with others was written in some other coding."""


def _workbook(data: bytes, name: str, suffix: str) -> list[Sheet]:
    from python_calamine import CalamineError, CalamineWorkbook

    from harnesscheck.formats._lists.archive import look_into

    look_into(data, name)
    try:
        book = CalamineWorkbook.from_filelike(io.BytesIO(data))
        visible = [s.name for s in book.sheets_metadata if "work" in str(s.typ).casefold()]
        found = [(sheet_name, book.get_sheet_by_name(sheet_name)) for sheet_name in visible]
        tables = [(n, s.to_python(skip_empty_area=False), getattr(s, "merged_cell_ranges", None)) for n, s in found]
    except (CalamineError, OSError, ValueError, KeyError) as error:
        raise refused(name, f"this workbook cannot be read ({error})", "open it and save it again as .xlsx") from None
    except BaseException as error:  # the reader is not Python: a fault in it arrives as a panic
        if isinstance(error, KeyboardInterrupt | SystemExit | MemoryError):
            raise
        raise refused(name, "this workbook is damaged", "open it and save it again as .xlsx") from None
    from harnesscheck.formats._lists.struck import struck_cells
    from harnesscheck.formats._lists.unseen import Unseen, unseen

    struck = struck_cells(data, suffix)
    seen = unseen(data, suffix)
    sheets = []
    for sheet_name, table, merged in tables:
        if sum(map(len, table)) > MAX_CELLS:
            raise refused(name, f"sheet {sheet_name} has more than {MAX_CELLS} cells", "delete what is empty in it")
        gone, hidden = struck.get(sheet_name, frozenset()), seen.get(sheet_name, Unseen())
        rows = [
            Row(r, [_valued(value, r, c, (r, c) in gone) for c, value in enumerate(values, 1)], hidden=r in hidden.rows)
            for r, values in enumerate(table, 1)
        ]
        for (r, c), text in hidden.broken.items():
            rows += [Row(n, []) for n in range(len(rows) + 1, r + 1)]  # a last row of nothing but such cells
            if not rows[r - 1].at(c - 1):
                rows[r - 1].cells += [Cell("", r, n + 1) for n in range(len(rows[r - 1].cells), c)]
                rows[r - 1].cells[c - 1] = Cell(plain(text), r, c, BROKEN, (r, c) in gone, text)
        for row in rows if hidden.columns else ():
            row.cells = [replace(c, hidden=True) if c.column in hidden.columns else c for c in row.cells]
        _spread(rows, merged or ())
        sheets.append(Sheet(sheet_name, rows, hidden=hidden.sheet))
    return sheets


def _valued(value: Any, row: int, column: int, struck: bool) -> Cell:
    """A cell of a workbook. Whole numbers lose the ``.0`` that spreadsheets add; a date stays marked as one."""
    if isinstance(value, str):
        return cell(value, row, column, TEXT, struck)
    if isinstance(value, bool):
        return Cell("TRUE" if value else "FALSE", row, column, TRUTH, struck, str(value))
    if isinstance(value, int | float):
        said = str(int(value)) if value == int(value) and abs(value) < 1e15 else repr(value)
        return Cell(said, row, column, NUMBER, struck, said)
    if isinstance(value, date | datetime | time | timedelta):
        return Cell(str(value), row, column, DATE, struck, str(value))
    return Cell("", row, column)


def _spread(rows: list[Row], merged: Any) -> None:
    """A merged cell downwards says the same for every row that it covers; sideways only its first cell speaks."""
    for (top, left), (bottom, _) in merged:
        if bottom > top and bottom < len(rows):
            said = rows[top].at(left)
            for row in rows[top + 1 : bottom + 1]:
                if said and left < len(row.cells) and not row.cells[left]:
                    row.cells[left] = Cell(said.text, row.number, left + 1, said.kind, said.struck, said.typed)
