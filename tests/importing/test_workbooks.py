"""Workbooks: what a spreadsheet does to names, merged and struck cells, several sheets, and files meant to do harm."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest

from harnesscheck import api
from harnesscheck.cli import main
from harnesscheck.fault import InputError
from harnesscheck.formats import spreadsheet
from tests.importing import books
from tests.importing.test_cases import pins_of, rows_in, wires_of

HEAD = ["Wire", "From", "Pin", "To", "Pin", "Gauge"]


def read(path: Path):  # type: ignore[no-untyped-def]
    imported = spreadsheet.understood(path, path.name)
    assert imported.account.total == rows_in(imported)
    return imported


def test_what_a_spreadsheet_makes_of_names(tmp_path: Path) -> None:
    rows = [
        HEAD,
        ["W1", "J1", "+28V", "J2", "007", "22 AWG"],
        ["W2", "J1", 3.0, "J2", "1-2", "22 AWG"],
        ["W3", "J1", datetime.date(2026, 2, 1), "J2", "2", "22 AWG"],
        ["W4", "J1", 3.5, "J2", "4", "22 AWG"],
        ["W5", "J1", "1E5", "J2", "NO", 22],
    ]
    imported = read(books.xlsx(tmp_path / "list.xlsx", {"Sheet1": rows}))
    assert wires_of(imported) == {
        "W1": "J1-+28V > J2-007, 22 AWG, , ",
        "W2": "J1-3 > J2-1-2, 22 AWG, , ",
        "W5": "J1-1E5 > J2-NO, 22 AWG, , ",
    }
    said = {left.line: (left.reason, left.remedy) for left in imported.account.left}
    assert "made a date" in said[4][0] and "as text" in said[4][1]
    assert "is the number 3.5" in said[5][0] and "as text" in said[5][1]
    assert any("3.0 is read as 3" in remark for remark in imported.draft.remarks)


def test_findings_point_at_the_cell(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Two wires in one cavity: the finding names the cells of the second sheet."""
    monkeypatch.chdir(tmp_path)
    front = [["Harness list"], ["invented for the tests"]]
    rows = [HEAD, ["W1", "J1", "1", "J2", "1", "22 AWG"], ["W2", "J1", "1", "J2", "2", "22 AWG"]]
    books.xlsx(Path("list.xlsx"), {"Front": front, "Left wing": rows})
    report = api.check(api.load("list.xlsx"))
    places = {p.where() for f in report.findings if f.check != "unread-row" for p in (f.place, *f.others)}
    assert places & {"list.xlsx!'Left wing'!A2", "list.xlsx!'Left wing'!A3"}, places
    assert main(["check", "list.xlsx"]) == 1


def test_merged_and_struck_cells(tmp_path: Path) -> None:
    rows = [
        ["Connector", "Pin", "Signal"],
        ["", "1", "VCC"],
        ["", "2", "GND"],
        ["P8", "1", "OLD"],
        ["P8", "2", "TX"],
    ]
    path = tmp_path / "list.xlsx"
    books.xlsx(path, {"S": rows}, {"S": [(1, 0, 2, 0, "P7")]}, frozenset({("S", 3)}))
    imported = read(path)
    assert pins_of(imported) == {"P7-1": "VCC", "P7-2": "GND", "P8-2": "TX"}
    assert [left.line for left in imported.account.retired] == [4]


def test_ods_with_a_struck_row(tmp_path: Path) -> None:
    rows = [["From", "To", "Gauge"], ["J1:1", "J2:1", "22 AWG"], ["J1:2", "J2:2", "20 AWG"]]
    imported = read(books.ods(tmp_path / "list.ods", rows, struck=1))
    assert wires_of(imported) == {"W001": "J1-2 > J2-2, 20 AWG, , "}
    assert [left.line for left in imported.account.retired] == [2]
    assert imported.document.where(2, 1) == "list.ods!Wires!A2"


def refused(path: Path, capsys: pytest.CaptureFixture[str], words: str) -> None:
    assert main(["import", str(path)]) == 2
    out, err = capsys.readouterr()
    assert words in err and "do: " in err and out == "", err


def test_bombs_are_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = [HEAD, ["W1", "J1", "1", "J2", "1", "22 AWG"]]
    path = books.xlsx(tmp_path / "ratio.xlsx", {"S": rows})
    books.with_part(path, "xl/sharedStrings.xml", lambda text: text + "<!--" + "x" * 5_000_000 + "-->")
    refused(path, capsys, "unpacks to far more")
    path = books.packed(tmp_path / "many.xlsx", {f"xl/{n}.xml": "x" for n in range(201)})
    refused(path, capsys, "holds 201 parts")
    path = books.xlsx(tmp_path / "laughs.xlsx", {"S": rows})
    laughs = '<!DOCTYPE l [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>'
    books.with_part(path, "xl/sharedStrings.xml", lambda text: text.replace("<sst", laughs + "<sst", 1))
    refused(path, capsys, "XML entities")
    path = books.xlsx(tmp_path / "wide.xlsx", {"S": rows})
    # One cell in the last corner of a sheet (row 1,048,576, column XFD) must not make 17 thousand million cells.
    far = '<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'
    books.with_part(path, "xl/worksheets/sheet1.xml", lambda text: text.replace("</sheetData>", far))
    refused(path, capsys, "cells")


def test_unreadable_files(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name, data, words in (
        ("text.xlsx", b"From,To\n", "not a workbook"),
        ("empty.csv", b"\n\n", "empty"),
        ("cyrillic.csv", "От,До\nJ1:1,J2:2\n".encode("cp1251"), "not UTF-8"),
        ("nul.csv", b"From,To\nJ1:1,J2:\x001\n", "control character U+0000"),
        ("large.csv", b"a,b\n" * 1_300_000, "larger than 5 MB"),
        ("cells.csv", b"a,b,c,d,e,f,g,h,i,j\n" * 20_001, "at most 200000"),
        ("cell.csv", b"From,To\nJ1:1,J2:" + b"x" * 3000 + b"\n", "characters"),
        ("zip.xlsx", b"PK\x03\x04" + b"\0" * 40, "workbook"),
    ):
        (tmp_path / name).write_bytes(data)
        refused(tmp_path / name, capsys, words)
    refused(tmp_path / "none.csv", capsys, "does not exist")
    refused(tmp_path / "list.doc", capsys, "no reader")
    (tmp_path / "folder.csv").mkdir()
    refused(tmp_path / "folder.csv", capsys, "is a folder")


def test_nothing_understood_is_no_clean_answer(tmp_path: Path) -> None:
    (tmp_path / "words.csv").write_text("apples,pears\n1,2\n", encoding="utf-8")
    with pytest.raises(InputError, match="no wire and no cavity was understood"):
        api.load(tmp_path / "words.csv")


MAP = """\
kind: list map
sheet: Kabel
header row: 2
columns: {A: id, B: from, C: from pin, D: to, E: to pin, Tykkelse: gauge, G: ignore}
gauge unit: mm2
splices: [KNOTEN]
names: {Stecker-7: P7}
"""


def test_a_map_states_a_layout_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A head in another language: without the map nothing is taken, with it every wire is."""
    monkeypatch.chdir(tmp_path)
    rows = [
        ["Liste"],
        ["Nr", "Af", "Ben", "Til", "Ben", "Tykkelse", "Pris"],
        ["1", "Stecker-7", "1", "J2", "A", "1", "3"],
        ["2", "Stecker-7", "2", "KNOTEN", "", "4", "3"],
    ]
    books.xlsx(Path("liste.xlsx"), {"Notes": [["x"]], "Kabel": rows})
    assert main(["import", "liste.xlsx", "-o", "out.yaml"]) == 2
    assert not Path("out.yaml").exists()
    Path("map.yaml").write_text(MAP, encoding="utf-8")
    capsys.readouterr()
    assert main(["import", "--map", "map.yaml", "liste.xlsx", "-o", "out.yaml"]) == 0
    assert "4 rows read = 2 wires + 0 pins + 0 spares + 2 notes and headers" in capsys.readouterr().out
    harness = api.load("out.yaml").subject
    assert {w.id: (str(w.a), str(w.b), str(w.gauge)) for w in harness.wires.values()} == {
        "1": ("P7-1", "J2-A", "1 mm2"),
        "2": ("P7-2", "KNOTEN", "4 mm2"),
    }
    for wrong, words in (("gauge unit: mm", "gauge unit 'mm' is not known"), ("collumns: {}", "did you mean columns"),
                         ("columns: {A: frm}", "did you mean from"), ("header row: x", "number of a row")):  # fmt: skip
        Path("wrong.yaml").write_text(f"kind: list map\n{wrong}\n", encoding="utf-8")
        assert main(["import", "--map", "wrong.yaml", "liste.xlsx"]) == 2
        assert words in capsys.readouterr().err


def test_a_written_map_reads_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("list.csv").write_text("Wire,From,Pin,To,Pin,Color\nW1,J1,1,J2,2,red\n", encoding="utf-8")
    assert main(["import", "list.csv", "--write-map", "map.yaml"]) == 0
    assert main(["import", "list.csv", "-o", "one.yaml"]) == 0
    assert main(["import", "list.csv", "--map", "map.yaml", "-o", "two.yaml"]) == 0
    assert Path("one.yaml").read_text() == Path("two.yaml").read_text()
    assert "W1: {from: J1-1, to: J2-2, colour: red}" in Path("one.yaml").read_text()
