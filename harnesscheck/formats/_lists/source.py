"""The list as a document with places: a row is a line, and a place prints as the cell it is."""

from __future__ import annotations

from pathlib import Path

from harnesscheck.document import Document
from harnesscheck.fault import Fault
from harnesscheck.formats._lists.cells import Row, Sheet


def letters(column: int) -> str:
    """``A`` of 1, ``AB`` of 28."""
    said = ""
    while column > 0:
        column, rest = divmod(column - 1, 26)
        said = chr(65 + rest) + said
    return said


class ListDocument(Document):
    """A list as read: the rows of its sheets one below the other."""

    __slots__ = ("firsts", "is_text", "sheets")

    def __init__(self, name: str, sheets: list[Sheet], path: Path | None) -> None:
        super().__init__(name, "", path)
        self.sheets = sheets
        self.is_text = bool(sheets and sheets[0].lines)
        self.lines = []
        self.firsts: list[int] = []
        for sheet in sheets:
            self.firsts.append(len(self.lines))
            last = sheet.rows[-1].number if sheet.rows else 0
            text = sheet.lines or [""] * last
            if not sheet.lines:
                for row in sheet.rows:
                    text[row.number - 1] = row.text.replace("\n", " ")
            self.lines.extend(text)

    def number(self, sheet: Sheet, row: int) -> int:
        """The line of a row of a sheet (both from 1)."""
        return self.firsts[next(i for i, s in enumerate(self.sheets) if s is sheet)] + row

    def where(self, line: int, column: int) -> str:
        """``list.xlsx!Sheet1!C14``, ``list.csv!C14`` or, in a text file, ``list.md:14:3``."""
        if self.is_text or line < 1:
            return super().where(line, column)
        index = max(i for i, first in enumerate(self.firsts) if first < line)
        named = self.sheets[index].name
        shown = named if named.replace("_", "").isalnum() else "'" + named.replace("'", "''") + "'"
        return f"{self.name}!{shown + '!' if named else ''}{letters(max(column, 1))}{line - self.firsts[index]}"

    def cell_text(self, line: int, column: int) -> str:
        """The text of one cell; empty when there is none."""
        for first, sheet in zip(self.firsts, self.sheets, strict=True):
            for row in sheet.rows:
                if first + row.number == line:
                    return next((c.text for c in row.cells if c.column == column), "")
        return ""

    def fault(self, line: int, column: int, message: str, remedy: str) -> Fault:
        """A fault at a cell, with the row as it stands in the list."""
        text = self.line(line)
        found = text.find(self.cell_text(line, column)) if not self.is_text else column - 1
        return Fault(self.name, line, max(found, 0) + 1, message, text, remedy, self.where(line, column))


def blank(number: int) -> Row:
    """An empty row."""
    return Row(number, [])
