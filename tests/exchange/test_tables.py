"""Tables that are read back the same, and what is said when somebody has spoilt one.

The comparison walks the records themselves; the files are drawn at random (``trips.py``) and made without harnesscheck.
``python -m tests.exchange --whole 1000`` runs more of them.
"""

from __future__ import annotations

import csv
import io
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from python_calamine import CalamineWorkbook

import harnesscheck as hc
from harnesscheck import cli, exchange
from harnesscheck.exchange import csv_tables
from tests.exchange import trips

DEMO = Path(__file__).parents[2] / "harnesses" / "ice-probe"


@pytest.fixture
def demo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for file in DEMO.glob("*.yaml"):
        shutil.copy(file, tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("number", range(24))
def test_random_files_come_back(number: int, tmp_path: Path) -> None:
    assert not list(trips.differences(trips.random_files(number), tmp_path))


@pytest.mark.parametrize("name", ["airframe.yaml", "jumper.yaml", "ice-probe.yaml"])
def test_the_demo_comes_back(name: str, tmp_path: Path) -> None:
    files = {file.name: file.read_text() for file in DEMO.glob("*.yaml")}
    assert not list(trips.differences({name: files.pop(name), **files}, tmp_path))


@pytest.mark.parametrize("suffix", trips.SUFFIXES)
def test_the_findings_of_a_table_are_those_of_its_file(suffix: str, demo: Path) -> None:
    text = (demo / "jumper.yaml").read_text().replace("to: P114-8", "to: P114-9", 1)
    (demo / "jumper.yaml").write_text(text)
    plain = hc.load("jumper.yaml")
    (demo / f"kit{suffix}").write_bytes(exchange.write(plain, f"kit{suffix}"))
    one, two = hc.check(plain), hc.check(hc.load(f"kit{suffix}"))
    assert [(f.check, f.headline, f.severity) for f in one.findings] == [
        (f.check, f.headline, f.severity) for f in two.findings
    ]
    places = {p.where() for f in two.findings for p in (f.place, *f.others) if p.label.startswith("W50")}
    assert places and all(p.startswith(f"kit{suffix}!") for p in places), places


# What a spreadsheet does to a cell without the guard: from memory, seen in common ones.
@pytest.mark.parametrize(
    "text", ["+28V", "007", "1-2", "1E5", "=1+1", "@A1", "-5", "5 A", "1:2", "MAR1", "TRUE", ".5", "1/2"]
)
def test_names_that_a_spreadsheet_would_change_are_guarded(text: str) -> None:
    assert csv_tables.held(text) == f"'{text}"


@pytest.mark.parametrize(
    "text", ["22 AWG", "300 mm", "0.35 mm2", "10 V to 32 V", "P14-3", "M22759/16-22-9", "NO", "marking"]
)
def test_ordinary_cells_stay_readable(text: str) -> None:
    assert csv_tables.held(text) == text


def test_every_cell_of_a_workbook_is_text_and_the_bytes_are_the_same_each_time(demo: Path) -> None:
    job = hc.load("airframe.yaml")
    data = exchange.write(job, "a.xlsx")
    assert exchange.write(hc.load("airframe.yaml"), "a.xlsx") == data
    book = CalamineWorkbook.from_filelike(io.BytesIO(data))
    cells = [cell for name in book.sheet_names for row in book.get_sheet_by_name(name).to_python() for cell in row]
    assert len(cells) > 200 and {type(cell) for cell in cells} == {str}
    assert book.sheet_names[:2] == ["file", "aircraft"] and "cavities" in book.sheet_names


def spoilt(demo: Path, change: Callable[[list[list[str]]], None]) -> str:
    """The faults of an export of the airframe after a change of its cells, as text."""
    rows = list(csv.reader(io.StringIO(exchange.write(hc.load("airframe.yaml"), "a.csv").decode())))
    change(rows)
    with (demo / "list.csv").open("w", newline="") as file:
        csv.writer(file).writerows(rows)
    with pytest.raises(hc.InputError) as caught:
        hc.load("list.csv")
    return "\n".join(map(str, caught.value.faults))


def at(rows: list[list[str]], *start: str) -> int:
    return next(i for i, row in enumerate(rows) if row[: len(start)] == list(start))


def test_a_wrong_value_points_at_its_cell(demo: Path) -> None:
    def change(rows: list[list[str]]) -> None:
        rows[at(rows, "wires", "L112A20")][2] = "CB99-load"

    said = spoilt(demo, change)
    with (demo / "list.csv").open(newline="") as file:
        line = at(list(csv.reader(file)), "wires", "L112A20") + 1
    assert said.startswith(f"list.csv!C{line}: ") and "CB99" in said


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda rows: rows.append(["wires", "P107A20", "GS3", "GS8"]), "'P107A20' is given twice (first at list.csv!B"),
        (lambda rows: rows.append(["wire", "W1", "GS3", "GS8"]), "nothing leads to the table 'wire'"),
        (lambda rows: rows.append(["cavities", "P99", "'1", "CAN H"]), "there is no connector 'P99'"),
        (lambda rows: rows.append(["wires", "", "GS3", "GS8"]), "this row has no (name)"),
        (lambda rows: rows.append(["", "W9", "GS3", "GS8"]), "this row does not say what table it is of"),
        (lambda rows: rows[at(rows, "wires")].__setitem__(4, "tipe"), "unknown key 'tipe'"),
        (lambda rows: rows[at(rows, "wires")].__setitem__(4, "from"), "the head 'from' stands twice"),
        (lambda rows: rows[at(rows, "wires")].__setitem__(1, "id"), "the heads of this table do not start with (name)"),
        (lambda rows: rows[at(rows, "wires", "P107A20")].append("x"), "no head stands over 'x'"),
        (lambda rows: rows[at(rows, "wires", "P107A20")].__setitem__(4, "[1"), "is not JSON"),
        (lambda rows: rows[at(rows, "wires", "P107A20")].__setitem__(4, "(see pins)"), "leads to no table"),
        (lambda rows: rows[at(rows, "file", "wires")].__setitem__(2, "(see zones)"), "does not belong to 'wires'"),
        (lambda rows: rows.pop(at(rows, "file", "wires")), "nothing leads to the table 'wires'"),
        (lambda rows: rows.__setitem__(slice(None), [r for r in rows if r[0] != "wires"]), "there is no table 'wires'"),
        (lambda rows: rows.__setitem__(slice(None), [r for r in rows if r[0] != "cavities"]), "no table 'cavities'"),
        (lambda rows: rows[0].__setitem__(1, "2"), "an export of format '2'"),
    ],
)
def test_what_is_spoilt_is_a_fault_and_never_left_out(
    change: Callable[[list[list[str]]], None], said: str, demo: Path
) -> None:
    assert said in spoilt(demo, change)


def test_a_workbook_with_numbers_or_struck_cells_is_refused(demo: Path) -> None:
    import xlsxwriter

    book = xlsxwriter.Workbook("list.xlsx")
    sheet, wires = book.add_worksheet("file"), book.add_worksheet("wires")
    for row, cells in enumerate(
        [["harnesscheck export", "1"], ["(name)", "(value)"], ["kind", "airframe"], ["title", "t"],
         ["wires", "(see wires)"]]
    ):  # fmt: skip
        sheet.write_row(row, 0, cells)
    wires.write_row(0, 0, ["(name)", "from", "to"])
    wires.write_row(1, 0, [7, "GS1", "GS2"])
    wires.write_string(2, 0, "W8", book.add_format({"font_strikeout": True}))
    book.close()
    with pytest.raises(hc.InputError) as caught:
        hc.load("list.xlsx")
    said = "\n".join(map(str, caught.value.faults))
    assert "list.xlsx!wires!A2: the spreadsheet has made a number of this: '7'" in said
    assert "list.xlsx!wires!A3: 'W8' is struck through" in said


def test_export_check_and_import_on_the_command_line(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["check", "jumper.yaml"]) == 0
    plain = capsys.readouterr().out
    for suffix in trips.SUFFIXES:
        assert cli.main(["export", "jumper.yaml", "-o", f"kit{suffix}"]) == 0
        assert "keep them beside it" in capsys.readouterr().out
        assert cli.main(["check", f"kit{suffix}"]) == 0
        assert capsys.readouterr().out == plain
        assert cli.main(["import", f"kit{suffix}", "-o", "again.yaml"]) == 0
        assert "25 wires" in capsys.readouterr().out
        assert cli.main(["check", "again.yaml"]) == 0
        assert capsys.readouterr().out == plain
    assert cli.main(["export", "jumper.yaml", "-o", "kit.doc"]) == 2
    assert cli.main(["export", "jumper.yaml"]) == 2
    kept = (demo / "kit.csv").read_bytes()
    assert cli.main(["export", "kit.csv", "-o", "./kit.csv"]) == 2
    assert (demo / "kit.csv").read_bytes() == kept
    assert cli.main(["import", "kit.csv", "--write-map", "map.yaml"]) == 2
    assert not list(demo.glob("kit.doc")) and not list(demo.glob("map.yaml"))
