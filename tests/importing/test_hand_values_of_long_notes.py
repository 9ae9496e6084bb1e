"""Notes that are cut at 390 signs, long cells, and rows that hold a date beside values. All expected by hand."""

from __future__ import annotations

import csv
import datetime
from pathlib import Path

import pytest

from harnesscheck.formats import spreadsheet
from harnesscheck.formats._lists import csv_rows
from harnesscheck.formats._lists.account import Account, Left
from harnesscheck.formats._lists.reader import Imported
from tests.importing import books


def read(text: str, folder: Path) -> Imported:
    (folder / "l.csv").write_text(text, encoding="utf-8")
    return spreadsheet.understood(folder / "l.csv", "l.csv")


def test_values_of_a_long_note(tmp_path: Path) -> None:
    """390 signs stay whole; of more, 390 stay and the cut is shown."""
    for many, said in ((390, "x" * 390), (391, "x" * 390 + " ..."), (389, "x" * 389)):
        imported = read(f"Wire,From,To,Notes\nW1,J1:1,J2:1,{'x' * many}\n", tmp_path)
        assert imported.draft.wires[0].values["note"][0] == said


@pytest.mark.parametrize(("rows", "point", "note"), [
    ("Pin,Signal,Notes\n1,reserved,{}\n", ("l", "1"), "; reserved"),
    ("Pin,Signal,Notes\n1,A,{}\n,,more of it\n", ("l", "1"), "; more of it"),
    ("Pin,Signal,Source,Notes\n1,A,left,{}\n", ("l", "1"), "; Source: left"),
    ("Circuit,J1-1,J2-1,Gauge,Notes\nA,x,x,22 AWG,{}\n", ("J1", "1"), ""),
])  # fmt: skip
def test_values_of_a_long_note_of_a_cavity(rows: str, point: tuple[str, str], note: str, tmp_path: Path) -> None:
    """What is put behind or before a long note is cut at 390 signs with it."""
    pin = read(rows.format("x" * 300), tmp_path).draft.pins[point]
    assert pin.values["note"][0].endswith("x" * 300 + note)
    assert len(pin.values["note"][0]) < 390
    pin = read(rows.format("x" * 390), tmp_path).draft.pins[point]
    assert len(pin.values["note"][0]) == 390


def test_values_of_a_long_note_from_both_ends(tmp_path: Path) -> None:
    for head, near, far in (("Connector,Pin,To,Wire No.,Notes", "J1,1,J2-1,W1,", "J2,1,J1-1,W1,"),
                            ("Connector,Pin,Wire No.,Notes", "J1,1,W1,", "J2,1,W1,")):  # fmt: skip
        imported = read(f"{head}\n{near}{'x' * 380}\n{far}{'y' * 380}\n", tmp_path)
        (wire,) = imported.draft.wires
        assert wire.values["note"][0] == "x" * 380 + "; " + "y" * 8


def test_values_behind_a_date(tmp_path: Path) -> None:
    """What stands to the right of a date is read all the same."""
    rows = [
        ["Wire", "From", "To", "Length", "Color", "Gauge"],
        ["W1", "J1:1", "J2:1", datetime.date(2026, 2, 1), "red", "22 AWG"],
    ]
    imported = spreadsheet.understood(books.xlsx(tmp_path / "l.xlsx", {"S": rows}), "l.xlsx")
    values = {key: text for key, (text, _) in imported.draft.wires[0].values.items()}
    assert values == {"colour": "red", "gauge": "22 AWG"}
    assert [left.reason for left in imported.account.values] == ["the spreadsheet has made a date of it"]


def test_csv_rows_with_a_very_long_cell() -> None:
    """The reader of the standard library stops at 131,072 signs; a long cell is refused later, with its place."""
    csv.field_size_limit(131_072)
    (row,) = csv_rows.csv_rows(f"a,{'x' * 140_000}", "", "l.csv")
    assert len(row.cells[1].text) == 140_000


def test_account_is_whole_when_nothing_is_left() -> None:
    left = Left(1, 1, "x", "y")
    assert Account().whole
    assert not Account(left=[left]).whole
    assert not Account(values=[left]).whole
    assert Account(retired=[left]).whole
