"""Our own exports of a job file (CSV, XLSX, or such a workbook saved as ODS) back to a ``Job``, nothing guessed."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from harnesscheck.document import Block, Document
from harnesscheck.fault import Fault, InputError, nearest, short
from harnesscheck.formats import _tables as tables
from harnesscheck.job import Job

if TYPE_CHECKING:
    from harnesscheck.formats._lists.cells import Cell, Row, Sheet
    from harnesscheck.formats._lists.source import ListDocument

_FRONT = 65_536
"""Bytes at the front of a file in which its mark must stand."""
_PARTS = ("xl/" + "sharedStrings.xml", "xl/worksheets/sheet1.xml", "content.xml")
_AGAIN = "export the file again and change that"
_SEE = re.compile(r"\(see (.+)\)")


def reads(path: Path) -> bool:
    """True when ``path`` is one of our own exports: the mark stands in its first cell."""
    if path.suffix.lower() not in (".csv", ".xlsx", ".ods") or not _may_be(path):
        return False
    from harnesscheck.formats._lists.cells import read

    try:
        sheets = read(path, str(path))
    except InputError:
        return False
    return bool(sheets[0].rows) and _text(sheets[0].rows[0].at(0)) == tables.MARK


def _may_be(path: Path) -> bool:
    """Looks for the mark at the front of the file; nothing is opened that could be large."""
    mark = tables.MARK.encode()
    try:
        if not path.is_file():
            return False
        if path.suffix.lower() == ".csv":
            with path.open("rb") as file:
                front = file.read(_FRONT)
            return mark in front.replace(b"\0", b"").partition(b"\n")[0]
        with zipfile.ZipFile(path) as archive:
            for part in set(_PARTS) & set(archive.namelist()):
                with archive.open(part) as file:
                    if mark in file.read(_FRONT):
                        return True
    except Exception:  # a damaged archive breaks its decompressor in many ways; the reader of lists then says so
        return False
    return False


def load(path: Path, name: str, on: tuple[Path, str] | None = None) -> Job:
    """Read an export as the file of a job that it was made of. Raises ``InputError`` with all faults found."""
    from harnesscheck.formats.harness_yaml import job_of

    return job_of(document_of(path, name), path, name, on)


def document_of(path: Path, name: str) -> Document:
    """The file that an export was made of, each value with the cell it stands in. Raises ``InputError``."""
    from harnesscheck.formats._lists.cells import read
    from harnesscheck.formats._lists.source import ListDocument

    sheets = read(path, name)
    document = ListDocument(name, sheets, path)
    return _Reader(document).whole()


def as_yaml(document: Document) -> str:
    """The file as YAML text: the same values, the order of the keys kept."""
    from harnesscheck.formats._lists.build import scalar

    def flow(value: Any) -> str:
        if isinstance(value, dict):
            return "{" + ", ".join(f"{scalar(key)}: {flow(each)}" for key, each in value.items()) + "}"
        return "[" + ", ".join(map(flow, value)) + "]" if isinstance(value, list) else scalar(value)

    def lines(block: Block, depth: int) -> Iterator[str]:
        for key, value in block.items():
            lead = "  " * depth + scalar(key) + ":"
            inner = isinstance(value, dict) and value
            # A section, a connector with its pin map, and a long entry take several lines.
            nested = inner and any(isinstance(each, dict) for each in value.values())
            if inner and (depth == 0 or nested or len(lead) + len(flow(value)) > 118):
                yield from ([""] if depth == 0 else [])
                yield lead
                yield from lines(value, depth + 1)
            else:
                yield f"{lead} {flow(value)}"

    name = document.name.replace("\\", "/").rpartition("/")[2]
    shown = "".join(c if c.isprintable() else " " for c in name)
    return f"# Made from {shown} by harnesscheck import.\n" + "\n".join(lines(document.root, 0)) + "\n"


def _text(cell: Cell) -> str:
    """The text of a cell; the apostrophe that guards it in a CSV file is taken off by whoever knows the file."""
    return cell.typed.strip(" ")


class _Table:
    """The rows of one table. ``first``: the index of its first column."""

    def __init__(self, sheet: Sheet, rows: list[Row], first: int) -> None:
        self.sheet = sheet
        self.rows = rows
        self.first = first
        self.heads: list[str] = []


class _Reader:
    """Puts the tables of one export together; ``faults`` collects what is wrong in them."""

    def __init__(self, document: ListDocument) -> None:
        self.document = document
        self.faults: list[Fault] = []
        self.guarded = not document.sheets[0].name
        self.there: frozenset[str] = frozenset()

    def whole(self) -> Document:
        """The document with its root. Raises ``InputError``."""
        found = self.tables()
        self.there = frozenset(found)
        head = found.pop(tables.HEAD, None)
        if head is None:
            raise InputError([self.document.fault(1, 1, f"there is no table {tables.HEAD!r}", _AGAIN)])
        root = Block(1, 1)
        used: set[str] = set()
        for row, (name,), said, mark in self.entries(head, [tables.NAME]):
            value = said.get(tables.VALUE, "")
            cell = row.at(head.first + 1)
            at = self.mark(head.sheet, cell)
            seen = _SEE.fullmatch(value)
            if seen and seen[1] == name and name not in (tables.HEAD, *tables.PIN_MAPS):
                used.add(name)
                section = self.section(found[name]) if name in found else self.absent(head.sheet, cell, name)
                tables.put(root, name, section, at, mark)
            elif seen:
                self.fault(head.sheet, cell, f"{value} does not belong to {short(name)}", f"write (see {name})")
            else:
                tables.put(root, name, self.value(value, head.sheet, cell), at, mark)
        if "connectors" in root and isinstance(root["connectors"], Block):
            for part in tables.PIN_MAPS:
                if part in found:
                    used.add(part)
                    self.pin_map(root["connectors"], part, found[part])
        for name, table in found.items():
            if name not in used:
                remedy = nearest(name, [tables.HEAD, *root, *tables.PIN_MAPS])
                if name in tables.PIN_MAPS:
                    remedy = "add the table connectors, with a row for each connector"
                remedy = remedy or f"add a row to the table {tables.HEAD}: {name}, (see {name})"
                self.fault(table.sheet, table.rows[0].at(0), f"nothing leads to the table {short(name)}", remedy)
        if self.faults:
            raise InputError(self.faults)
        self.document.root = root
        return self.document

    # -- cells -------------------------------------------------------------------------------------------------

    def mark(self, sheet: Sheet, cell: Cell) -> tuple[int, int]:
        return self.document.number(sheet, cell.row), cell.column

    def fault(self, sheet: Sheet, cell: Cell, message: str, remedy: str) -> None:
        self.faults.append(self.document.fault(*self.mark(sheet, cell), message, remedy))

    def text(self, sheet: Sheet, cell: Cell) -> str:
        """What a cell says; a cell that a spreadsheet has made something else of is a fault."""
        from harnesscheck.formats._lists.cells import TEXT

        if cell.struck and cell:
            self.fault(sheet, cell, f"{short(cell.text)} is struck through", "delete it, or remove the line")
        if cell.kind != TEXT and cell:
            remedy = "format the cell as text, and type the value again"
            self.fault(sheet, cell, f"the spreadsheet has made a {cell.kind} of this: {short(cell.text)}", remedy)
        said = _text(cell)
        return said.removeprefix("'") if self.guarded else said

    def value(self, text: str, sheet: Sheet, cell: Cell) -> Any:
        try:
            return tables.decode(text, self.mark(sheet, cell))
        except ValueError as error:
            problem = str(error).partition(":")[0]
            self.fault(sheet, cell, f"{short(text)} is not JSON: {problem}", 'write it like ["a", "b"] or {"a": "b"}')
            return ""

    def name(self, text: str, sheet: Sheet, cell: Cell) -> str:
        found = self.value(text, sheet, cell)
        if isinstance(found, str):
            return found
        self.fault(sheet, cell, "a list or a block where a name stands", "write a name")
        return ""

    # -- tables ------------------------------------------------------------------------------------------------

    def tables(self) -> dict[str, _Table]:
        """The tables by name, the mark and its number taken off. Raises ``InputError`` for another number."""
        first = self.document.sheets[0]
        number = self.text(first, first.rows[0].at(1))
        if number != tables.FORMAT:
            remedy = f"this version reads format {tables.FORMAT}"
            said = f"an export of format {short(number)}"
            raise InputError([self.document.fault(1, 2, said, remedy)])
        found: dict[str, _Table] = {}
        if self.guarded:
            for row in first.rows[1:]:
                if row:
                    name = self.text(first, row.at(0))
                    if not name:
                        self.fault(first, row.filled[0], "this row does not say what table it is of", _AGAIN)
                        continue
                    found.setdefault(name, _Table(first, [], 1)).rows.append(row)
            return found
        for sheet in self.document.sheets:
            rows = [row for row in sheet.rows[sheet is first :] if row]
            if rows:
                found[sheet.name] = _Table(sheet, rows, 0)
        return found

    def entries(
        self, table: _Table, lead: list[str]
    ) -> Iterator[tuple[Row, list[str], dict[str, str], tuple[int, int]]]:
        """Each row: its names, its cells by head, the place of its name. What is wrong with it is noted."""
        top, sheet = table.rows[0], table.sheet
        cells = top.cells[table.first :]
        heads = [self.text(sheet, cell) for cell in cells]
        if heads[: len(lead)] != lead:
            self.fault(
                sheet, top.at(table.first), f"the heads of this table do not start with {', '.join(lead)}", _AGAIN
            )
            return
        table.heads = heads
        for index, said in enumerate(heads):
            if said and said in heads[:index]:
                self.fault(sheet, cells[index], f"the head {short(said)} stands twice", "rename one of the columns")
            if said[:1] == "(" and said not in (*lead, tables.VALUE, tables.ORDER):
                self.fault(sheet, cells[index], f"unknown head {short(said)}", _AGAIN)
        seen: dict[tuple[str, ...], Cell] = {}
        for row in table.rows[1:]:
            texts = {}
            for index, cell in enumerate(row.cells[table.first :]):
                if said := self.text(sheet, cell):
                    if index >= len(heads) or not heads[index]:
                        self.fault(sheet, cell, f"no head stands over {short(said)}", "put a key over the column")
                    else:
                        texts[heads[index]] = said
            own = [row.at(table.first + i) for i in range(len(lead))]
            missing = next((cell for key, cell in zip(lead, own, strict=True) if key not in texts), None)
            if missing is not None:
                self.fault(sheet, missing, f"this row has no {lead[own.index(missing)]}", "give it, or delete the row")
                continue
            names = [self.name(texts.pop(key), sheet, cell) for key, cell in zip(lead, own, strict=True)]
            if tuple(names) in seen:
                where = self.document.where(*self.mark(sheet, seen[tuple(names)]))
                said = f"{short('-'.join(names))} is given twice (first at {where})"
                self.fault(sheet, own[-1], said, "keep one of the rows")
                continue
            seen[tuple(names)] = own[-1]
            yield row, names, texts, self.mark(sheet, own[-1])

    def entry(self, table: _Table, row: Row, said: dict[str, str], mark: tuple[int, int]) -> Any:
        """The value of one row: text, a list, or a block of its cells in their order."""
        sheet, first = table.sheet, table.first
        at = {key: row.at(first + index) for index, key in enumerate(table.heads)}
        if tables.VALUE in said:
            rest = [key for key in said if key not in (tables.VALUE, tables.ORDER)]
            if rest:
                remedy = f"clear {tables.VALUE}, or the rest of the row"
                self.fault(sheet, at[rest[0]], f"this row has a {tables.VALUE} of its own as well", remedy)
            return self.value(said[tables.VALUE], sheet, at[tables.VALUE])
        block = Block(*mark)
        keys = {self.name(key, sheet, table.rows[0].at(first + table.heads.index(key))): key
                for key in said if key != tables.ORDER}  # fmt: skip
        order = list(keys)
        if tables.ORDER in said:
            wanted = self.value(said[tables.ORDER], sheet, at[tables.ORDER])
            wanted = wanted if isinstance(wanted, list) else []
            order = sorted(order, key=lambda key: wanted.index(key) if key in wanted else len(wanted))
        for key in order:
            cell, text = at[keys[key]], said[keys[key]]
            seen = _SEE.fullmatch(text)
            if seen and seen[1] == key and key in tables.PIN_MAPS:
                value: Any = Block(*self.mark(sheet, cell)) if key in self.there else self.absent(sheet, cell, key)
            elif text.startswith("("):
                self.fault(sheet, cell, f"{short(text)} leads to no table", f"write the value, or {_AGAIN}")
                continue
            else:
                value = self.value(text, sheet, cell)
            tables.put(block, key, value, self.mark(sheet, cell))
        return block

    def absent(self, sheet: Sheet, cell: Cell, name: str) -> Block:
        """What a cell leads to and is not there: noted, for nothing may be left out without a word."""
        remedy = "a sheet that is hidden is not read: show it; or export the file again"
        self.fault(sheet, cell, f"there is no table {short(name)}", remedy)
        return Block(*self.mark(sheet, cell))

    def section(self, table: _Table) -> Block:
        """One section of the file."""
        found = Block(*self.mark(table.sheet, table.rows[0].at(0)))
        for row, (key,), said, mark in self.entries(table, [tables.NAME]):
            tables.put(found, key, self.entry(table, row, said, mark), mark)
        return found

    def pin_map(self, connectors: Block, part: str, table: _Table) -> None:
        """The cavities, or the pins, of all connectors, hung where each belongs."""
        for row, (ref, name), said, mark in self.entries(table, [tables.OWNER, tables.NAME]):
            owner = connectors.get(ref)
            if not isinstance(owner, Block):
                message, remedy = f"there is no connector {short(ref)}", nearest(ref, connectors)
                if owner is not None:
                    message = f"connector {short(ref)} has a {tables.VALUE} of its own, and no {part}"
                    remedy = f"clear {tables.VALUE} in the table connectors"
                self.fault(table.sheet, row.at(table.first), message, remedy or "add it to the table connectors")
                continue
            if not isinstance(owner.get(part), Block):
                tables.put(owner, part, Block(*mark), mark)
            tables.put(owner[part], name, self.entry(table, row, said, mark), mark)
