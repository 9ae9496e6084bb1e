"""The tables of a sheet as a workbook: one worksheet a table, and one with title block, words and cautions.

Every cell is text, so ``=1+1``, ``+28V``, ``007`` and ``1-2`` stay what they are. Columns left blank on paper are boxes
to write in. No clock goes into the file: the same sheet gives the same bytes.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from harnesscheck.paper.blocks import NO_PACK, Content, Facts, Figure, Heading, Stamp, Table, Words, plain
from harnesscheck.paper.cautions import CAUTIONS
from harnesscheck.paper.svg import clean

if TYPE_CHECKING:
    from xlsxwriter.workbook import Workbook
    from xlsxwriter.worksheet import Worksheet

SUFFIX = ".xlsx"
FIRST = "Title block"
OWN = "Worksheet "
NAME = 31
"""Longest name of a worksheet (the file format's own limit)."""
WIDEST = 60
"""Widest column, characters."""


def write(content: Content, stamp: Stamp) -> bytes:
    """One XLSX file."""
    return book([content], stamp)


def book(contents: Sequence[Content], stamp: Stamp) -> bytes:
    """The tables of several sheets in one workbook."""
    import datetime

    from xlsxwriter.workbook import Workbook

    out = io.BytesIO()
    strict = {"strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    made = Workbook(out, {"in_memory": True, **strict})
    pack = f"pack id {stamp.pack}" if stamp.pack else NO_PACK
    made.set_properties({"title": clean(stamp.title), "created": datetime.datetime(1980, 1, 1), "comments": pack})
    looks = _looks(made)
    first = made.add_worksheet(FIRST)
    names = {FIRST.lower(): 1}
    listed = []
    for content in contents:
        for table in content.tables:
            sheet = made.add_worksheet(_name(f"{stamp.numbers.get(content.name, '')} {table.name}".strip(), names))
            listed.append((sheet.get_name(), content.title, table.title))
            _table(sheet, table, looks)
            _dress(sheet, content.title, stamp)
    _first(first, contents, stamp, listed, looks)
    _dress(first, stamp.title, stamp)
    made.close()
    return out.getvalue()


def _looks(made: Workbook) -> dict[str, Any]:
    usual = {"num_format": "@", "valign": "top", "text_wrap": True}
    box = {**usual, "border": 1}
    return {
        "text": made.add_format(usual),
        "strong": made.add_format({**usual, "bold": True}),
        "link": made.add_format({**usual, "font_color": "#00409C", "underline": 1}),
        "cell": made.add_format(box),
        "right": made.add_format({**box, "align": "right"}),
        "head": made.add_format({**box, "bold": True, "bottom": 2}),
        "total": made.add_format({**box, "bold": True, "top": 2}),
    }


def _name(wanted: str, taken: dict[str, int]) -> str:
    """A worksheet name that the format allows, and that no other worksheet has; ``taken`` is name to last number."""
    short = re.sub(r"[^A-Za-z0-9 ._-]", "-", wanted)[:NAME] or "table"
    name, number = short, taken.get(short.lower(), 1)
    while name.lower() in taken:
        number += 1
        name = f"{short[: NAME - len(str(number)) - 1]} {number}"
    taken[short.lower()] = number
    taken.setdefault(name.lower(), 1)
    return name


def _table(sheet: Worksheet, table: Table, looks: dict[str, Any]) -> None:
    for at, column in enumerate(table.columns):
        texts = [column.title, *(plain(row[at]) for row in table.rows)]
        sheet.set_column(at, at, min(WIDEST, max(12 if column.blank else 6, *map(len, texts)) + 2))
        sheet.write_string(0, at, clean(column.title), looks["head"])
    last = len(table.rows) - table.totals
    for number, row in enumerate(table.rows):
        for at, (column, cell) in enumerate(zip(table.columns, row, strict=True)):
            look = looks["total" if number >= last else "right" if column.right else "cell"]
            text = clean(plain(cell))
            if text:
                sheet.write_string(number + 1, at, text, look)
            else:
                sheet.write_blank(number + 1, at, None, look)
    sheet.freeze_panes(1, 0)
    sheet.repeat_rows(0)
    if last and not table.totals:
        sheet.autofilter(0, 0, len(table.rows), len(table.columns) - 1)


def _dress(sheet: Worksheet, title: str, stamp: Stamp) -> None:
    """A4, one page wide, pack id and caution on every page."""
    sheet.set_paper(9)
    sheet.set_landscape()
    sheet.fit_to_pages(1, 0)
    room = 120  # a header or footer holds 255 characters
    pack = stamp.pack or NO_PACK
    sheet.set_header(f"&L{_code(stamp.title, room)}&R{_code(title, room)}")
    sheet.set_footer(f"&Lpack id {_code(pack, 60)}, revision {_code(stamp.revision or 'not stated', 40)}&R&P of &N")


def _code(text: str, room: int) -> str:
    """Text in a header or footer, where ``&`` begins a code."""
    return clean(text)[: room // 2].replace("&", "&&")


def _first(
    sheet: Worksheet,
    contents: Sequence[Content],
    stamp: Stamp,
    listed: Sequence[tuple[str, str, str]],
    looks: dict[str, Any],
) -> None:
    sheet.set_column(0, 0, 24)
    sheet.set_column(1, 2, WIDEST)
    for number, (left, right) in enumerate(_said(contents, stamp, listed)):
        if left.startswith(OWN):
            name = left.removeprefix(OWN)
            sheet.write_url(number, 0, f"internal:'{name}'!A1", looks["link"], string=left)
        elif left:
            sheet.write_string(number, 0, clean(left), looks["strong"])
        if right:
            sheet.write_string(number, 1, clean(right), looks["text"])


def _said(
    contents: Sequence[Content], stamp: Stamp, listed: Sequence[tuple[str, str, str]]
) -> Iterator[tuple[str, str]]:
    yield "Job", stamp.title
    if stamp.note:
        yield "Note", stamp.note
    yield "Revision", stamp.revision or "not stated"
    yield "File", stamp.file
    yield "Pack id", stamp.pack or NO_PACK
    yield "Made with", stamp.tool
    if stamp.warning:
        yield "Warning", stamp.warning
    for caution in CAUTIONS:
        yield "Caution", caution
    for name, title, words in listed:
        yield f"{OWN}{name}", f"{title}: {words}" if words else title
    for content in contents:
        yield "", ""
        number = stamp.numbers.get(content.name, "")
        yield f"{number} {content.title}".strip(), ""
        for block in content.blocks:
            if isinstance(block, Heading):
                yield block.text, ""
            elif isinstance(block, Words):
                yield "", block.text
            elif isinstance(block, Facts):
                yield from block.pairs
            elif isinstance(block, Figure):
                yield "Drawing", block.caption
        yield from (("Decided in writing", said) for said in content.decisions)
