"""The map file: a shop's own layout, stated once.

kind: list map
sheet: Wires                  # read this sheet only
header row: 3                 # the head of the columns stands in this row
columns: {A: id, B: from, C: from pin, D: to, E: to pin, G: ignore}
connector: P14                # of a pin table that does not say it
gauge unit: AWG               # of bare numbers; or mm2
length unit: mm
dash: yes                     # P14-3 is cavity 3 of P14, whatever the names look like
splices: [J1, JS2]            # ends without a cavity
grounds: [FRAME]
names: {PWR-IN: P1}           # another reference for a name of the list
hidden: leave                 # hidden rows are left out; or take
colours: {GR: green}          # what a colour key means
tables:                       # instead of the first keys, where a file holds several tables
  power: {sheet: Wires, header row: 3, last row: 20, columns: {A: id, B: from, C: to}, gauge unit: AWG}
  plug: {sheet: Wires, header row: 23, connector: P14, columns: {A: pin, B: signal}}
"""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from harnesscheck.document import Block, Document, Items, read
from harnesscheck.fault import Fault, InputError, nearest, short
from harnesscheck.formats._lists.headers import FROM, TO, Head
from harnesscheck.units import LENGTH

FIELDS: dict[str, Head] = {
    "id": Head("id"),
    "signal": Head("signal"),
    "from": Head("end", FROM),
    "from pin": Head("pin", FROM),
    "to": Head("end", TO),
    "to pin": Head("pin", TO),
    "connector": Head("ref"),
    "pin": Head("pin"),
    "gauge": Head("gauge"),
    "colour": Head("colour"),
    "length": Head("length"),
    "type": Head("type"),
    "contact": Head("contact"),
    "note": Head("note"),
    "ends": Head("ends"),
    "part": Head("part"),
    "gender": Head("gender"),
    "ignore": Head("quantity"),
}
"""What a column may be called in a map file."""
_TEXT = ("kind", "sheet", "header row", "last row", "connector", "gauge unit", "length unit", "dash", "hidden")
_LISTS = ("splices", "grounds")
_BLOCKS = ("columns", "names", "colours")
_KINDS: dict[str, Any] = {**dict.fromkeys(_TEXT, str), **dict.fromkeys(_LISTS, Items), **dict.fromkeys(_BLOCKS, Block)}
_IN_TABLES = ("sheet", "header row", "last row", "columns", "connector", "gauge unit", "length unit")


@dataclass(frozen=True, slots=True)
class Part:
    """One table as the map states it."""

    name: str
    sheet: str
    header_row: int
    last_row: int
    """0: to the next table, or to the end of the sheet."""
    columns: dict[str, str]
    connector: str
    gauge_unit: str
    length_unit: str


@dataclass(frozen=True, slots=True)
class Mapping:
    """A map as read; all empty when there is none."""

    sheet: str = ""
    header_row: int = 0
    columns: dict[str, str] = field(default_factory=dict)
    """Column letter, or the head as typed, to a key of ``FIELDS``."""
    connector: str = ""
    gauge_unit: str = ""
    length_unit: str = ""
    dash: bool = False
    splices: frozenset[str] = frozenset()
    grounds: frozenset[str] = frozenset()
    names: dict[str, str] = field(default_factory=dict)
    colours: dict[str, str] = field(default_factory=dict)
    """Colour key to word."""
    hidden: str = ""
    """``take`` or ``leave``; empty: hidden rows are listed."""
    tables: tuple[Part, ...] = ()

    @property
    def parts(self) -> tuple[Part, ...]:
        """The tables that are stated; none when the map leaves the columns to the reader."""
        if self.tables or not self.columns:
            return self.tables
        one = Part("", self.sheet, self.header_row, 0, self.columns, self.connector, self.gauge_unit, self.length_unit)
        return (one,)


def load(path: Path, name: str) -> Mapping:
    """Read a map file. Raises ``InputError`` with every fault."""
    document = read(path, name)
    faults: list[Fault] = []
    root = document.root
    _of_kinds(document, root, faults, {**_KINDS, "tables": Block})
    for part in _blocks(root):
        _of_kinds(document, part, faults, {key: _KINDS[key] for key in _IN_TABLES})
    if root.get("kind") != "list map":
        faults.append(document.fault(1, 1, "this file does not say that it is a map", "add 'kind: list map'"))
    if faults:
        raise InputError(faults)
    for block in (root, *_blocks(root)):
        _one_of(document, block, faults, "gauge unit", ("AWG", "mm2"))
        _one_of(document, block, faults, "length unit", tuple(LENGTH))
        columns = block.get("columns", Block(1, 1))
        for key, value in columns.items():
            if value not in FIELDS:
                remedy = nearest(value, FIELDS) or f"the fields are: {', '.join(FIELDS)}"
                line, column = columns.marks[key][2:]
                faults.append(document.fault(line, column, f"there is no field {short(value)}", remedy))
        for key in ("header row", "last row"):
            row = block.get(key, "0")
            if not (row.isascii() and row.isdigit()) or len(row) > 6:
                line, column = block.marks[key][2:]
                faults.append(document.fault(line, column, "this is not the number of a row", "write it like 3"))
    _one_of(document, root, faults, "dash", ("yes", "no"))
    _one_of(document, root, faults, "hidden", ("take", "leave"))
    for name, block in root.get("tables", {}).items():
        if not block.get("columns") or "header row" not in block:
            line, column = root["tables"].marks[name][:2]
            remedy = "add 'header row:' (0: the table has none) and 'columns:'"
            faults.append(document.fault(line, column, f"table {short(name)} states no rows or no columns", remedy))
    for key in ("columns", "header row", "sheet", "connector"):
        if "tables" in root and key in root:
            line, column = root.marks[key][:2]
            faults.append(document.fault(line, column, f"{key} stands beside tables:", "move it into its table"))
    if faults:
        raise InputError(faults)
    return Mapping(
        root.get("sheet", ""),
        int(root.get("header row", "0")),
        dict(root.get("columns", {})),
        root.get("connector", ""),
        root.get("gauge unit", "").casefold(),
        root.get("length unit", ""),
        root.get("dash") == "yes",
        frozenset(root.get("splices", ())),
        frozenset(root.get("grounds", ())),
        dict(root.get("names", {})),
        dict(root.get("colours", {})),
        root.get("hidden", ""),
        tuple(
            Part(
                name,
                block.get("sheet", ""),
                int(block["header row"]),
                int(block.get("last row", "0")),
                dict(block["columns"]),
                block.get("connector", ""),
                (block.get("gauge unit") or root.get("gauge unit", "")).casefold(),
                block.get("length unit") or root.get("length unit", ""),
            )
            for name, block in root.get("tables", {}).items()
        ),
    )


def _blocks(root: Block) -> list[Block]:
    tables = root.get("tables")
    return [block for block in tables.values() if isinstance(block, Block)] if isinstance(tables, Block) else []


def _of_kinds(document: Document, block: Block, faults: list[Fault], kinds: dict[str, Any]) -> None:
    """Unknown keys, and values of another kind than the key has."""
    for key, mark in block.marks.items():
        expected = kinds.get(key)
        if expected is None:
            remedy = nearest(key, kinds) or f"the keys are: {', '.join(kinds)}"
            faults.append(document.fault(mark[0], mark[1], f"unknown key {short(key)}", remedy))
        elif not isinstance(block[key], expected):
            what = {str: "one value", Items: "a list like [J1, JS2]", Block: "a block like {A: id}"}[expected]
            faults.append(document.fault(mark[2], mark[3], f"{key} is written as {what}", "see docs/import.md"))
        elif expected is not str:
            nested = block[key].values() if expected is Block else block[key]
            if not all(isinstance(value, Block if key == "tables" else str) for value in nested):
                faults.append(
                    document.fault(mark[2], mark[3], f"{key} holds something that is no text", "see docs/import.md")
                )


def _one_of(document: Document, block: Block, faults: list[Fault], key: str, words: tuple[str, ...]) -> None:
    said = block.get(key)
    if said is not None and said not in words:
        line, column = block.marks[key][2:]
        faults.append(document.fault(line, column, f"{key} {short(said)} is not known", f"write {' or '.join(words)}"))
