"""What the reader makes of sheets and rows that are hidden, and of names that a spreadsheet has changed. By hand."""

from __future__ import annotations

import datetime
import re
from pathlib import Path
from typing import Any

import pytest

from harnesscheck.formats import spreadsheet
from harnesscheck.formats._lists.mapping import Mapping, Part
from harnesscheck.formats._lists.reader import Imported
from tests.importing import books, lists

HEAD = ["Wire", "From", "Pin", "To", "Pin", "Length"]
ROW = ["W1", "J1", "1", "J2", "1", "300 mm"]
DAY = datetime.date(2026, 2, 1)


def read(folder: Path, sheets: dict[str, list[list[Any]]], orders: dict[str, list[str]] | None = None,
         stated: Mapping | None = None) -> Imported:  # fmt: skip
    path = books.kept(folder / "l.xlsx", sheets, {name: (orders or {}).get(name, []) for name in sheets})
    return spreadsheet.understood(path, "l.xlsx", stated)


def told(imported: Imported) -> list[str]:
    return [said for said in lists.told(imported) if said[0] in "wxvr"]


def test_reader_of_hidden_sheets(tmp_path: Path) -> None:
    """A hidden table is listed, hidden words are a note; a map may name it, take it or leave it."""
    sheets = {
        "A": [HEAD, ROW],
        "B": [HEAD, ["W2", *ROW[1:2], "2", "J2", "2", ""]],
        "C": [["some"], [], ["words"]],
        "D": [],
    }
    orders = {name: ["hide sheet"] for name in "BCD"}
    only = ["w2 W1: J1-1 > J2-1; length 300 mm"]
    imported = read(tmp_path, sheets, orders)
    hidden = "sheet 'B' is hidden, and its 2 rows are not taken ~ show it or delete it, or name it in a map (sheet:)"
    assert told(imported) == [
        "rows nwxxn.n", *only, f"x3A Wire | From | Pin | To | Pin | Length: {hidden}"]  # fmt: skip
    assert "sheet 'C' is hidden, and its 2 rows are not taken" in imported.draft.remarks
    assert not any("'D'" in said for said in imported.draft.remarks)
    imported = read(tmp_path, sheets, orders, Mapping(hidden="leave"))
    assert told(imported) == ["rows nwnnn.n", *only]
    assert "sheet 'B' is hidden, and its 2 rows are not taken" in imported.draft.remarks
    taken = ["rows nwnwx.x", *only, "w4 W2: J1-2 > J2-2"]
    assert told(read(tmp_path, sheets, orders, Mapping(hidden="take")))[:3] == [
        taken[0].replace("x.x", "n.n"),
        *taken[1:],
    ]
    imported = read(tmp_path, sheets, orders, Mapping(sheet="B"))
    assert told(imported) == ["rows nw", "w2 W2: J1-2 > J2-2"]
    assert "sheets that the map does not name, and nothing is taken from them: A, C, D" in imported.draft.remarks
    columns = {"A": "id", "B": "from", "C": "from pin", "D": "to", "E": "to pin"}
    part = Part("p", "B", 1, 0, columns, "", "", "")
    assert told(read(tmp_path, sheets, orders, Mapping(tables=(part,)))) == ["rows nw", "w2 W2: J1-2 > J2-2"]


def test_reader_of_hidden_rows_and_columns(tmp_path: Path) -> None:
    sheets = {"A": [HEAD, ROW, ["W2", "J1", "2", "J2", "2", "5 mm"]]}
    remedy = "show it or delete it (a filter may be on), or state 'hidden: take' or 'hidden: leave' in a map"
    orders = {"A": ["hide row 3", "hide column F"]}
    shown = "column 'Length': it is hidden; what it holds is kept as a note ~ "
    shown += "name it in a map: harnesscheck import --write-map"
    first = "w2 W1: J1-1 > J2-1; note Length: 300 mm"
    assert told(read(tmp_path, sheets, orders)) == [
        "rows nwx", first, f"x3A W2 | J1 | 2 | J2 | 2 | 5 mm: this row is hidden in the spreadsheet ~ {remedy}",
        f"v1F {shown}"]  # fmt: skip
    assert told(read(tmp_path, sheets, orders, Mapping(hidden="leave"))) == [
        "rows nwr", first, f"v1F {shown}",
        "r3A W2 | J1 | 2 | J2 | 2 | 5 mm: hidden, and the map says to leave such rows ~ "]  # fmt: skip
    assert told(read(tmp_path, sheets, orders, Mapping(hidden="take"))) == [
        "rows nww", first, "w3 W2: J1-2 > J2-2; note Length: 5 mm", f"v1F {shown}"]  # fmt: skip


def test_reader_of_names_that_a_spreadsheet_changed(tmp_path: Path) -> None:
    as_text = "format the column as text in the spreadsheet, and type the value again"
    rows = [
        [1.0, "J1", 12.0, "J2", 1.0, 300.0], [2.5, "J1", "2", "J2", "2", ""], ["W3", "J1", DAY, "J2", "3", ""],
        ["W4", "J1", "4", "J2", "4", DAY], [DAY, "J1", "5", "J2", "5", ""], ["W6", 123456789012.0, "6", "J2", "6", ""],
        ["W7", 1234567890123.0, "7", "J2", "7", ""],
    ]  # fmt: skip
    imported = read(tmp_path, {"A": [HEAD, *rows]})
    day = "2026-02-01"
    reasons = [re.sub(r"^(\S+) .*?: (?='|the spr|a number)", r"\1 ", said) for said in told(imported)]
    assert reasons == [
        "rows nwxxwxwx", "w2 1: J1-12 > J2-1; note Length: 300", "w5 W4: J1-4 > J2-4", "w7 W6: X123456789012-6 > J2-6",
        f"x3A 'Wire' is the number 2.5 ~ {as_text}",
        f"x4A the spreadsheet has made a date of 'Pin': {day} ~ {as_text}",
        f"x6A the spreadsheet has made a date of 'Wire': {day} ~ {as_text}",
        f"x8A 'From' is the number 1234567890123 ~ {as_text}",
        "v2F a number without a unit ~ write it like 320 mm or 12 in",
        "v5F the spreadsheet has made a date of it ~ format the column as text and type it again",
    ]  # fmt: skip
    assert sum("holds numbers, not text: 3.0 is read as 3" in said for said in imported.draft.remarks) == 3


@pytest.mark.parametrize(("cells", "what"), [
    ('<c r="A3" t="str"><v>W9</v></c><c r="E3" t="e"><v>#REF!</v></c>', "'Pin' holds the error #REF!"),
    ('<c r="C3"><f>A1</f></c>', "'Pin' holds a formula that was never worked out (=A1)"),
    ('<c r="F3"><f>A1</f></c>', "'Length' holds a formula that was never worked out (=A1)"),
])  # fmt: skip
def test_reader_of_a_last_row_that_was_never_worked_out(tmp_path: Path, cells: str, what: str) -> None:
    """A row without any value is a row all the same."""
    path = books.kept(tmp_path / "l.xlsx", {"A": [HEAD, ROW]}, {"A": []})
    sheet = "xl/worksheets/sheet1.xml"
    books.with_part(path, sheet, lambda text: text.replace("</sheetData>", f'<row r="3">{cells}</row></sheetData>'))
    imported = spreadsheet.understood(path, "l.xlsx")
    (left,) = imported.account.left
    assert (left.line, left.reason) == (3, what)
    assert left.remedy == "open the workbook, let it calculate, and save it again; or type the value"
    assert not imported.account.whole
    assert imported.account.line() == (
        "3 rows read = 1 wires + 0 pins + 0 spares + 1 notes and headers + 0 retired + 1 not understood")  # fmt: skip


def test_reader_of_a_cell_that_shows_its_error_as_text(tmp_path: Path) -> None:
    """Text that looks like an error and that the workbook holds as text stays what it is."""
    path = books.ods(tmp_path / "l.ods", [["Wire", "From", "To", "Notes"], ["W1", "J1-1", "J2-1", "#N/A"]])
    (sheet,) = spreadsheet.understood(path, "l.ods").document.sheets
    assert (sheet.rows[1].cells[3].text, sheet.rows[1].cells[3].kind) == ("#N/A", "text")
