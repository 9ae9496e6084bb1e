"""Data of ``test_bad_files.py``: bad lists as CSV, workbook and Markdown; marks by hand.

A place is marked in the text (as in ``bad_input_rows.py``) where a message gives line and column, and written out where
it gives a cell of a spreadsheet or the file as a whole.
"""

from __future__ import annotations

import datetime
import zipfile
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from bad_input_rows import MARK as M

from tests.importing import books

LIST = ("import {0}", "check {0}", "import {0} -o out.yaml", "import {0} --write-map out-map.yaml")
CHECKED = ("check {0}", "import {0} -o out.yaml")


@dataclass(frozen=True)
class Bad:
    """One bad file: what lies in it (text, bytes, or a maker of a workbook), the commands, and the answer."""

    name: str
    file: str
    content: str | bytes | Callable[[Path], object]
    commands: tuple[str, ...]
    says: str
    do: str
    at: str = ""
    """The place where it is not marked in the text: ``1:1`` or ``!Sheet!A3``, behind the name of the file."""
    more: bool = False

    def __str__(self) -> str:
        return self.name


HEAD = "Wire,From,Pin,To,Pin,Gauge\n"
ROW = "W1,J1,1,J2,1,22 AWG\n"
GRID = [["Wire", "From", "Pin", "To", "Pin", "Gauge"], ["W1", "J1", "1", "J2", "1", "22 AWG"]]


def csv(name: str, text: str | bytes, says: str, do: str, at: str = "", commands: tuple[str, ...] = LIST) -> Bad:
    """A bad CSV list."""
    return Bad(name, "list.csv", text, commands, says, do, at)


def book(name: str, says: str, do: str, part: str, change: Callable[[str], str], at: str = ":1:1") -> Bad:
    """A workbook of which one part is spoilt."""

    def make(path: Path) -> None:
        books.xlsx(path, {"Wires": GRID})
        books.with_part(path, part, change)

    return Bad(name, "list.xlsx", make, LIST, says, do, at)


def grid(
    name: str,
    rows: list[list[object]],
    says: str,
    do: str,
    at: str,
    commands: tuple[str, ...] = LIST,
    form: str = "xlsx",
) -> Bad:
    """A workbook that is whole, with bad cells."""

    def make(path: Path) -> object:
        return books.xlsx(path, {"Wires": rows}) if form == "xlsx" else books.ods(path, rows)  # type: ignore[arg-type]

    return Bad(f"{name} ({form})", f"list.{form}", make, commands, says, do, at)


def encrypted(path: Path) -> None:
    """Sets the bit of the header that says so."""
    books.xlsx(path, {"Wires": GRID})
    data = bytearray(path.read_bytes())
    for signature, flags in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        data[data.index(signature) + flags] |= 1
    path.write_bytes(bytes(data))


def lying(path: Path) -> None:
    """A part that unpacks to ten million bytes, under headers that say 862 or so, with the sum that belongs to them."""
    books.xlsx(path, {"Wires": GRID})
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    name = "xl/worksheets/sheet1.xml"
    short = parts[name]
    parts[name] = short + b"<!--" + b"x" * 10_000_000 + b"-->"
    books.packed(path, dict(parts))
    data = bytearray(path.read_bytes())
    numbers = zlib.crc32(short).to_bytes(4, "little"), len(short).to_bytes(4, "little")
    for signature, sums, length, named in ((b"PK\x03\x04", 14, 26, 30), (b"PK\x01\x02", 16, 28, 46)):
        at = data.find(signature)
        while at >= 0:
            size = int.from_bytes(data[at + length : at + length + 2], "little")
            if data[at + named : at + named + size] == name.encode():
                data[at + sums : at + sums + 4] = numbers[0]
                data[at + sums + 8 : at + sums + 12] = numbers[1]
            at = data.find(signature, at + 4)
    path.write_bytes(bytes(data))


def elsewhere(path: Path) -> None:
    """The sheet lies under a name that a guard for .xml parts would pass over."""
    books.xlsx(path, {"Wires": GRID})
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    parts["xl/worksheets/sheet1.dat"] = parts.pop("xl/worksheets/sheet1.xml")
    rels = "xl/_rels/workbook.xml.rels"
    parts[rels] = parts[rels].replace(b"sheet1.xml", b"sheet1.dat")
    books.packed(path, dict(parts))


SHEET = "xl/worksheets/sheet1.xml"
STRINGS = "xl/sharedStrings.xml"
FAR = '<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'
ENTITY = '<!DOCTYPE l [<!ENTITY a "ha">]>'

LISTS = [
    csv("empty list", "", "this file is empty", "give a from-to list", ":1:1"),
    csv("blank list", " \n\n", "this file is empty", "give a from-to list", ":1:1"),
    csv("not UTF-8", f"{HEAD}W1,J1,".encode() + b"\xcf1,J2,1,\n", "byte 0xcf is not UTF-8", "CSV UTF-8", ":2:7"),
    csv("NUL in a list", f"{HEAD}W1,J1,{M}\x001,J2,1,\n", "control character U+0000", "save it as plain text"),
    csv("escape in a list", f"{HEAD}W1,J1,{M}\x1b[31m1,J2,1,\n", "control character U+001B", "save it as plain text"),
    csv("half of UTF-16", b"\xff\xfeW\x00i", "is not UTF-16 text", "CSV UTF-8", ":1:2"),
    csv("text turned about", f"{HEAD}W1,J1,\u202e21,J2,1,\n", "U+202E, which turns text", "type it again", "!C2"),
    csv(
        "open quote", f'{HEAD}W1,J1,{M}"1,J2,1,22 AWG\n{ROW}', "rows below would be read as one cell", "close the quote"
    ),
    csv(
        "quote that closes two rows on",
        f'{HEAD}W1,J1,1,J2,1,{M}"22 AWG\nW2,J1,2,J2,2,22 AWG\nW3,J1,3,J2,3,"\n',
        "rows below would be read as one cell",
        "written twice",
    ),
    csv("text behind a quote", f'{HEAD}W1,J1,1,J2,1,"22"{M} AWG\n', "behind the closing quote", "written twice"),
    csv("cell of 2,001", f"{HEAD}W1,J1,1,J2,{'x' * 2001},22 AWG\n", "2001 characters", "under 2000", "!E2"),
    csv("no list at all", "apples,pears\n1,2\n", "no wire and no cavity was understood", "--map", "!A1", CHECKED),
    csv("a head alone", HEAD, "no list is in this file", "--map", "!A1", CHECKED),
    csv(
        "a comma in every row",
        f"{HEAD}W1,J1,1,J2,1,0,5 mm2\n",
        "this row has 7 cells, its head 6",
        "--map",
        "!A2",
        CHECKED,
    ),
    csv(
        "two gauges",
        "Wire,From,Pin,To,Pin,Gauge,Gauge\nW1,J1,1,J2,1,22 AWG,20 AWG\n",
        "two columns 'Gauge' say",
        "--map",
        "!A2",
        CHECKED,
    ),
    Bad("no such list", "none.csv", "", LIST, "does not exist", "give the path of a list", ":1:1"),
    Bad("list of another kind", "list.docx", "x", ("import {0}",), "no reader of lists", ".csv, .tsv", ":1:1"),
    Bad(
        "NUL in Markdown", "list.md", f"| From | To |\n|---|---|\n| J1:1 | J2:{M}\x00 |\n", LIST, "U+0000", "plain text"
    ),
    Bad(
        "words in Markdown", "list.md", "# Wiring\n\nTo be done.\n", CHECKED, "no list is in this file", "--map", ":1:1"
    ),
    Bad("text called a workbook", "list.xlsx", HEAD, LIST, "not a workbook", "save it as .xlsx", ":1:1"),
    Bad("empty workbook", "list.xlsx", b"", LIST, "not a workbook", "save it as .xlsx", ":1:1"),
    Bad("cut workbook", "list.ods", b"PK\x03\x04" + bytes(60), LIST, "not a workbook", "as .csv", ":1:1"),
    Bad("encrypted workbook", "list.xlsx", encrypted, LIST, "is encrypted", "without a password", ":1:1"),
    Bad("workbook with false headers", "list.xlsx", lying, LIST, "does not unpack to the", "save it again", ":1:1"),
    Bad("sheet under another name", "list.xlsx", elsewhere, LIST, "is called 'worksheets/sheet1.dat'", "again", ":1:1"),
    Bad(
        "201 parts",
        "list.xlsx",
        lambda path: books.packed(path, {f"{n}.xml": "x" for n in range(201)}),
        LIST,
        "holds 201 parts",
        "save only the list",
        ":1:1",
    ),
    Bad(
        "archive in an archive",
        "list.xlsx",
        lambda path: books.packed(path, {"a.zip": bytes(40_000_000)}),
        LIST,
        "unpacks to far more",
        "save only the list",
        ":1:1",
    ),
    book("ratio of a bomb", "unpacks to far more", "save only the list", STRINGS, lambda t: t + " " * 5_000_000),
    book("entities", "defines XML entities", "save it again", STRINGS, lambda t: t.replace("<sst", ENTITY + "<sst", 1)),
    book(
        "entities in the sheet",
        "defines XML entities",
        "again",
        SHEET,
        lambda t: t.replace("<work", ENTITY + "<work", 1),
    ),
    book(
        "a cell in the last corner",
        "a sheet spans 17179869184 cells",
        "delete what stands far",
        SHEET,
        lambda t: t.replace("</sheetData>", FAR),
    ),
    book("broken XML", "is damaged", "save it again", SHEET, lambda t: t[: len(t) // 2]),
    book("a part emptied", "is damaged", "save it again", SHEET, lambda _: ""),
    grid(
        "text turned about", [GRID[0], ["W1", "J1", "\u202e21", "J2", "1", ""]], "U+202E", "type it again", "!Wires!C2"
    ),
    grid(
        "text turned about",
        [GRID[0], ["W1", "J1", "\u202e21", "J2", "1", "x"]],
        "U+202E",
        "again",
        "!Wires!C2",
        form="ods",
    ),
    grid("a cell of 2,001", [GRID[0], ["W1", "J1", "1", "J2", "x" * 2001]], "2001 characters", "under", "!Wires!E2"),
    grid(
        "a cell of 2,001",
        [GRID[0], ["W1", "J1", "1", "J2", "x" * 2001]],
        "2001 characters",
        "under",
        "!Wires!E2",
        form="ods",
    ),
    grid(
        "nothing understood", [["apples", "pears"], ["1", "2"]], "no wire and no cavity", "--map", "!Wires!A1", CHECKED
    ),
    grid(
        "nothing understood",
        [["apples", "pears"], ["1", "2"]],
        "no wire and no cavity",
        "--map",
        "!Wires!A1",
        CHECKED,
        "ods",
    ),
    grid(
        "a date for a cavity",
        [GRID[0], ["W1", "J1", datetime.date(2026, 2, 1), "J2", "1", ""]],
        "made a date of 'Pin'",
        "--map",
        "!Wires!A2",
        CHECKED,
    ),
]
