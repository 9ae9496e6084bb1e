"""What a workbook holds that a person does not see, or that has no value: hidden rows, columns and sheets, errors.

A hidden row may be a filter that was left on, or wiring that nobody wants any more: neither is for a program to choose.
"""

from __future__ import annotations

import io
import re
import zipfile
from dataclasses import dataclass, field
from xml.etree import ElementTree

_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_REL = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"
_TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
_STYLE = "{urn:oasis:names:tc:opendocument:xmlns:style:1.0}"
_MOST = 20_000
"""Rows or columns of one repeated entry that are looked at; a sheet that is read is far smaller."""


@dataclass(slots=True)
class Unseen:
    """Of one sheet, counted from 1."""

    sheet: bool = False
    rows: set[int] = field(default_factory=set)
    columns: set[int] = field(default_factory=set)
    broken: dict[tuple[int, int], str] = field(default_factory=dict)
    """Row and column to what the spreadsheet shows instead of a value: ``#REF!``, or a formula never worked out."""


def unseen(data: bytes, suffix: str) -> dict[str, Unseen]:
    """By sheet name (ECMA-376 part 1, 18.3.1.13, 18.3.1.73, 18.2.19, 18.18.11; ODF 1.3 part 3, 19.763, 20.288)."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        try:
            return _of_ods(archive) if suffix == ".ods" else _of_xlsx(archive)
        except (KeyError, ElementTree.ParseError, ValueError):
            return {}


def _of_xlsx(archive: zipfile.ZipFile) -> dict[str, Unseen]:
    names = set(archive.namelist())
    root = ElementTree.fromstring(archive.read("xl/_rels/workbook.xml.rels"))  # noqa: S314
    files = {r.get("Id"): r.get("Target", "") for r in root}
    book = ElementTree.fromstring(archive.read("xl/workbook.xml"))  # noqa: S314
    found = {}
    for sheet in book.iterfind(f"{_MAIN}sheets/{_MAIN}sheet"):
        made = found[sheet.get("name", "")] = Unseen(sheet.get("state", "visible") != "visible")
        target = files.get(sheet.get(f"{_REL}id"), "").lstrip("/")
        part = target if target.startswith("xl/") else f"xl/{target}"
        text = archive.read(part) if part in names else b""
        if any(sign in text for sign in (b"hidden=", b't="e"', b"<f", b":f")):
            _look(ElementTree.fromstring(text), made)  # noqa: S314
    return found


def _look(sheet: ElementTree.Element, made: Unseen) -> None:
    for column in sheet.iterfind(f"{_MAIN}cols/{_MAIN}col"):
        if column.get("hidden") in ("1", "true"):
            last = min(int(column.get("max", "0")), _MOST)
            made.columns.update(range(int(column.get("min", "1")), last + 1))
    number = 0
    for row in sheet.iterfind(f"{_MAIN}sheetData/{_MAIN}row"):
        number = int(row.get("r", number + 1))
        if row.get("hidden") in ("1", "true"):
            made.rows.add(number)
        index = 0
        for cell in row.iterfind(f"{_MAIN}c"):
            where = re.fullmatch(r"([A-Z]{1,3})[0-9]{1,7}", cell.get("r", ""))
            index = _number(where[1]) if where else index + 1
            value, formula = cell.find(f"{_MAIN}v"), cell.find(f"{_MAIN}f")
            if cell.get("t") == "e":
                made.broken[number, index] = (value.text if value is not None else "") or "#ERROR"
            elif formula is not None and (value is None or value.text is None) and cell.get("t") != "str":
                made.broken[number, index] = f"={formula.text or '...'}"


def _number(letters: str) -> int:
    value = 0
    for letter in letters:
        value = value * 26 + ord(letter) - 64
    return value


def _of_ods(archive: zipfile.ZipFile) -> dict[str, Unseen]:
    content = ElementTree.fromstring(archive.read("content.xml"))  # noqa: S314
    gone = {
        style.get(f"{_STYLE}name")
        for style in content.iter(f"{_STYLE}style")
        for said in style.iter(f"{_STYLE}table-properties")
        if said.get(f"{_TABLE}display") == "false"
    }
    found = {}
    for sheet in content.iter(f"{_TABLE}table"):
        made = found[sheet.get(f"{_TABLE}name", "")] = Unseen(sheet.get(f"{_TABLE}style-name") in gone)
        at = 0
        for column in sheet.iter(f"{_TABLE}table-column"):
            many = min(int(column.get(f"{_TABLE}number-columns-repeated", "1")), _MOST)
            if column.get(f"{_TABLE}visibility", "visible") != "visible":
                made.columns.update(range(at + 1, at + many + 1))
            at += many
        number = 0
        for row in sheet.iter(f"{_TABLE}table-row"):
            many = int(row.get(f"{_TABLE}number-rows-repeated", "1"))
            if row.get(f"{_TABLE}visibility", "visible") != "visible":
                made.rows.update(range(number + 1, number + min(many, _MOST) + 1))
            index = 0
            for cell in row:
                kind = next(
                    (value for key, value in cell.items() if "calcext" in key and key.endswith("value-type")), ""
                )
                text = "".join(cell.itertext())
                if kind == "error" or re.fullmatch(r"#(?:REF|N/A|NAME\?|VALUE|DIV/0|NULL|NUM)!?|Err:\d{3}", text):
                    made.broken[number + 1, index + 1] = text or "#ERROR"
                index += int(cell.get(f"{_TABLE}number-columns-repeated", "1"))
            number += many
    return found
