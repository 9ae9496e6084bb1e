"""How large the sheets of a workbook would become in memory, looked at before any is opened.

A reader of workbooks makes a full rectangle of a sheet: a single cell in its last corner is 17 thousand million cells,
and the process is gone. So the corners are looked for first, in the XML itself.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from xml.etree import ElementTree

_CELL = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")
Events = Iterator[tuple[str, ElementTree.Element]]
MOST = 10**12
"""Standing in for a number that no longer matters."""


def cells_of(text: bytes) -> int:
    """Cells of the rectangle that a part of a workbook spans; 0 for a part that is no sheet.

    Raises ``ElementTree.ParseError`` when the part is no XML. Entities must have been refused before.
    """
    events: Events = iter(ElementTree.iterparse(io.BytesIO(text), events=("start", "end")))  # noqa: S314
    _, root = next(events)
    kind = _local(root)
    if kind == "worksheet":
        return _of_xlsx(events)
    return _of_ods(events) if kind in ("document-content", "document") else 0


def _local(element: ElementTree.Element) -> str:
    return element.tag.rpartition("}")[2]


def _of_xlsx(events: Events) -> int:
    last_row = last_column = row = column = 0
    for event, element in events:
        kind = _local(element)
        if event == "start" and kind == "row":
            said = element.get("r", "")
            row, column = int(said) if said.isdigit() and len(said) < 8 else row + 1, 0
        elif event == "end" and kind == "c":
            found = _CELL.fullmatch(element.get("r", ""))
            if found:
                row, column = int(found[2]), _number(found[1])
            else:
                column += 1
            if len(element):
                last_row, last_column = max(last_row, row), max(last_column, column)
        elif event == "end" and kind == "row":
            element.clear()
    return last_row * last_column


def _number(letters: str) -> int:
    value = 0
    for letter in letters:
        value = value * 26 + ord(letter) - 64
    return value


def _of_ods(events: Events) -> int:
    most = last_row = last_column = row = column = wide = 0
    for event, element in events:
        kind = _local(element)
        if event == "start" and kind == "table":
            last_row = last_column = row = 0
        elif event == "start" and kind == "table-row":
            column = wide = 0
        elif event == "end" and kind in ("table-cell", "covered-table-cell"):
            column += _repeated(element, "number-columns-repeated")
            if len(element) or any(_name(key) == "value-type" for key in element.attrib):
                wide = column
        elif event == "end" and kind == "table-row":
            row += _repeated(element, "number-rows-repeated")
            if wide:
                last_row, last_column = row, max(last_column, wide)
                most = max(most, last_row * last_column)
            element.clear()
    return most


def _name(key: str) -> str:
    return key.rpartition("}")[2]


def _repeated(element: ElementTree.Element, name: str) -> int:
    said = next((value for key, value in element.items() if _name(key) == name), "1")
    return int(said) if said.isdigit() and len(said) < 10 else MOST
