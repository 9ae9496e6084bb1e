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
_TEXT = ("kind", "sheet", "header row", "connector", "gauge unit", "length unit", "dash", "hidden")
_LISTS = ("splices", "grounds")
_BLOCKS = ("columns", "names", "colours")


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


def load(path: Path, name: str) -> Mapping:
    """Read a map file. Raises ``InputError`` with every fault."""
    document = read(path, name)
    faults: list[Fault] = []
    root = document.root
    for key, mark in root.marks.items():
        expected: Any = str if key in _TEXT else Items if key in _LISTS else Block if key in _BLOCKS else None
        known = (*_TEXT, *_LISTS, *_BLOCKS)
        if expected is None:
            remedy = nearest(key, known) or f"the keys are: {', '.join(known)}"
            faults.append(document.fault(mark[0], mark[1], f"unknown key {short(key)}", remedy))
        elif not isinstance(root[key], expected):
            what = {str: "one value", Items: "a list like [J1, JS2]", Block: "a block like {A: id}"}[expected]
            faults.append(document.fault(mark[2], mark[3], f"{key} is written as {what}", "see docs/import.md"))
        elif expected is not str:
            nested = root[key].values() if expected is Block else root[key]
            if not all(isinstance(value, str) for value in nested):
                faults.append(
                    document.fault(mark[2], mark[3], f"{key} holds something that is no text", "see docs/import.md")
                )
    if root.get("kind") != "list map":
        faults.append(document.fault(1, 1, "this file does not say that it is a map", "add 'kind: list map'"))
    if faults:
        raise InputError(faults)
    _one_of(document, faults, "gauge unit", ("AWG", "mm2"))
    _one_of(document, faults, "length unit", tuple(LENGTH))
    _one_of(document, faults, "dash", ("yes", "no"))
    _one_of(document, faults, "hidden", ("take", "leave"))
    columns = root.get("columns", Block(1, 1))
    for key, value in columns.items():
        if value not in FIELDS:
            remedy = nearest(value, FIELDS) or f"the fields are: {', '.join(FIELDS)}"
            line, column = columns.marks[key][2:]
            faults.append(document.fault(line, column, f"there is no field {short(value)}", remedy))
    row = root.get("header row", "0")
    if not (row.isascii() and row.isdigit()) or len(row) > 6:
        line, column = root.marks["header row"][2:]
        faults.append(document.fault(line, column, "this is not the number of a row", "write it like 3"))
    if faults:
        raise InputError(faults)
    return Mapping(
        root.get("sheet", ""),
        int(row),
        dict(columns),
        root.get("connector", ""),
        root.get("gauge unit", "").casefold(),
        root.get("length unit", ""),
        root.get("dash") == "yes",
        frozenset(root.get("splices", ())),
        frozenset(root.get("grounds", ())),
        dict(root.get("names", {})),
        dict(root.get("colours", {})),
        root.get("hidden", ""),
    )


def _one_of(document: Document, faults: list[Fault], key: str, words: tuple[str, ...]) -> None:
    said = document.root.get(key)
    if said is not None and said not in words:
        line, column = document.root.marks[key][2:]
        faults.append(document.fault(line, column, f"{key} {short(said)} is not known", f"write {' or '.join(words)}"))
