"""Which cells of a workbook are struck through: retired wires must not come back as live ones."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterator
from xml.etree import ElementTree

_STRINGS = "xl/" + "sharedStrings.xml"
_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_REL = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"
_TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
_STYLE = "{urn:oasis:names:tc:opendocument:xmlns:style:1.0}"
_TEXT = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"

Struck = dict[str, frozenset[tuple[int, int]]]
"""Sheet name to the (row, column) of its struck cells, counted from 1."""


def struck_cells(data: bytes, suffix: str) -> Struck:
    """The struck cells of a workbook (ECMA-376 part 1, 18.8.22; ODF 1.3 part 3, 20.380)."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        try:
            return _of_ods(archive) if suffix == ".ods" else _of_xlsx(archive)
        except (KeyError, ElementTree.ParseError):
            return {}


def _tree(archive: zipfile.ZipFile, name: str) -> ElementTree.Element:
    return ElementTree.fromstring(archive.read(name))  # noqa: S314


def _on(element: ElementTree.Element | None) -> bool:
    return element is not None and element.get("val", "1") not in ("0", "false")


def _of_xlsx(archive: zipfile.ZipFile) -> Struck:
    names = set(archive.namelist())
    gone: set[str] = set()
    if "xl/styles.xml" in names:
        styles = _tree(archive, "xl/styles.xml")
        fonts = [_on(font.find(f"{_MAIN}strike")) for font in styles.iterfind(f"{_MAIN}fonts/{_MAIN}font")]
        for index, form in enumerate(styles.iterfind(f"{_MAIN}cellXfs/{_MAIN}xf")):
            font = int(form.get("fontId", "0"))
            if font < len(fonts) and fonts[font]:
                gone.add(str(index))
    partly: set[str] = set()
    if _STRINGS in names:
        for index, said in enumerate(_tree(archive, _STRINGS).iterfind(f"{_MAIN}si")):
            if any(_on(run) for run in said.iterfind(f"{_MAIN}r/{_MAIN}rPr/{_MAIN}strike")):
                partly.add(str(index))
    if not gone and not partly:
        return {}
    files = {r.get("Id"): r.get("Target", "") for r in _tree(archive, "xl/_rels/workbook.xml.rels")}
    found: Struck = {}
    for sheet in _tree(archive, "xl/workbook.xml").iterfind(f"{_MAIN}sheets/{_MAIN}sheet"):
        target = files.get(sheet.get(f"{_REL}id"), "").lstrip("/")
        part = target if target.startswith("xl/") else f"xl/{target}"
        if part in names:
            found[sheet.get("name", "")] = frozenset(_marked(_tree(archive, part), gone, partly))
    return found


def _marked(sheet: ElementTree.Element, gone: set[str], partly: set[str]) -> Iterator[tuple[int, int]]:
    for cell in sheet.iter(f"{_MAIN}c"):
        text = cell.find(f"{_MAIN}v")
        shared = cell.get("t") == "s" and text is not None and text.text in partly
        where = re.fullmatch(r"([A-Z]{1,3})([0-9]{1,7})", cell.get("r", ""))
        if where and (shared or cell.get("s", "0") in gone):
            column = 0
            for letter in where[1]:
                column = column * 26 + ord(letter) - 64
            yield int(where[2]), column


def _of_ods(archive: zipfile.ZipFile) -> Struck:
    content = _tree(archive, "content.xml")
    gone = {
        style.get(f"{_STYLE}name")
        for style in content.iter(f"{_STYLE}style")
        for said in style.iter(f"{_STYLE}text-properties")
        if said.get(f"{_STYLE}text-line-through-style", "none") != "none"
        or said.get(f"{_STYLE}text-line-through-type", "none") != "none"
    }
    found: Struck = {}
    for sheet in content.iter(f"{_TABLE}table"):
        marked, row = set(), 0
        for line in sheet.iter(f"{_TABLE}table-row"):
            column = 0
            for cell in line:
                many = min(int(cell.get(f"{_TABLE}number-columns-repeated", "1")), 1000)
                spans = any(span.get(f"{_TEXT}style-name") in gone for span in cell.iter(f"{_TEXT}span"))
                if spans or cell.get(f"{_TABLE}style-name") in gone:
                    marked |= {(row + 1, column + n) for n in range(1, many + 1)}
                column += many
            row += int(line.get(f"{_TABLE}number-rows-repeated", "1"))
        found[sheet.get(f"{_TABLE}name", "")] = frozenset(marked)
    return found
