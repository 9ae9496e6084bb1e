"""What a person does not see in a workbook, maps of several tables, and what colour keys and lengths mean."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from harnesscheck.cli import main
from harnesscheck.formats import spreadsheet
from harnesscheck.formats._lists import colours, lengths
from harnesscheck.parts import open_drawer
from tests.importing import books

ROWS = [["Wire", "From", "To", "AWG"], ["W1", "J1-1", "J2-1", "22"], ["W2", "J1-2", "J2-2", "22"]]


def broken(path: Path, cell: str) -> Path:
    """A workbook in which the far end of W1 is the cell given."""
    books.xlsx(path, {"S": ROWS})
    sheet = "xl/worksheets/sheet1.xml"
    return books.with_part(path, sheet, lambda text: re.sub(r'<c r="C2" t="s"><v>\d+</v></c>', cell, text))


@pytest.mark.parametrize(
    ("cell", "words"),
    [
        ('<c r="C2" t="e"><f>A1/0</f><v>#REF!</v></c>', "the error #REF!"),
        ('<c r="C2"><f>A1&amp;"-1"</f></c>', "a formula that was never worked out"),
    ],
)
def test_a_cell_without_a_value_is_no_blank(tmp_path: Path, cell: str, words: str) -> None:
    """A blank far end would make a cavity of the wire; an error is not a blank."""
    imported = spreadsheet.understood(broken(tmp_path / "list.xlsx", cell), "list.xlsx")
    assert [wire.id for wire in imported.draft.wires] == ["W2"]
    assert [words in left.reason for left in imported.account.left] == [True]
    assert not imported.draft.pins


def ods_with(path: Path, was: str, now: str) -> Path:
    books.ods(path, ROWS)
    return books.with_part(path, "content.xml", lambda text: text.replace(was, now, 1))


def test_hidden_parts_of_an_opendocument_sheet(tmp_path: Path) -> None:
    """ODF 1.3 part 3, 19.763 (table:visibility) and 20.288 (table:display)."""
    second = '<table:table-row><table:table-cell office:value-type="string"><text:p>W1'
    path = ods_with(tmp_path / "row.ods", second, second.replace("row>", 'row table:visibility="filter">', 1))
    imported = spreadsheet.understood(path, "row.ods")
    assert [wire.id for wire in imported.draft.wires] == ["W2"]
    assert [(left.line, "hidden" in left.reason) for left in imported.account.left] == [(2, True)]

    columns = '<table:table-column table:number-columns-repeated="3"/><table:table-column table:visibility="collapse"/>'
    path = ods_with(tmp_path / "column.ods", "<table:table-row>", f"{columns}<table:table-row>")
    imported = spreadsheet.understood(path, "column.ods")
    assert ["gauge" in wire.values for wire in imported.draft.wires] == [False, False]
    assert ["it is hidden" in left.reason for left in imported.account.values] == [True]

    style = '<style:style style:name="off" style:family="table"><style:table-properties '
    style += 'table:display="false"/></style:style>'
    path = ods_with(tmp_path / "sheet.ods", "<office:automatic-styles>", f"<office:automatic-styles>{style}")
    books.with_part(
        path,
        "content.xml",
        lambda text: text.replace('table:name="Wires"', 'table:name="Wires" table:style-name="off"'),
    )
    imported = spreadsheet.understood(path, "sheet.ods")
    assert not imported.draft.wires
    assert imported.account.line().startswith("3 rows read = 0 wires") and "3 not understood" in imported.account.line()


def test_hidden_rows_by_a_map(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    books.kept(Path("list.xlsx"), {"S": [list(row) for row in ROWS]}, {"S": ["hide row 3"]})
    for word, status, said in (
        ("take", 0, "2 wires + 0 pins + 0 spares + 1 notes and headers + 0 retired + 0 not"),
        ("leave", 0, "1 wires + 0 pins + 0 spares + 1 notes and headers + 1 retired + 0 not"),
        ("", 1, "1 wires + 0 pins + 0 spares + 1 notes and headers + 0 retired + 1 not"),
    ):
        Path("map.yaml").write_text("kind: list map\n" + (f"hidden: {word}\n" if word else ""), encoding="utf-8")
        assert main(["import", "list.xlsx", "--map", "map.yaml"]) == status
        assert said in capsys.readouterr().out


SEVERAL = """\
kind: list map
tables:
  power: {sheet: W, header row: 2, last row: 4, columns: {A: id, B: from, C: to, D: gauge}, gauge unit: mm2}
  plug: {sheet: W, header row: 7, columns: {Kontakt: pin, Was: signal}, connector: P14}
"""


def test_a_map_of_several_tables(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two tables with heads of their own on one sheet; what stands between them is said."""
    monkeypatch.chdir(tmp_path)
    rows = [["Power"], ["n", "x", "y", "z"], ["1", "J1-1", "J2-1", "1"], ["2", "J1-2", "J2-2", "2.5"],
            ["ask Y"], [], ["Kontakt", "Was"], ["A", "CAN H"], ["B", "CAN L"]]  # fmt: skip
    books.xlsx(Path("list.xlsx"), {"W": rows, "Other": [["x", "y"]]})
    Path("map.yaml").write_text(SEVERAL, encoding="utf-8")
    assert main(["import", "list.xlsx", "--map", "map.yaml", "-o", "out.yaml"]) == 0
    out = capsys.readouterr().out
    assert "8 rows read = 2 wires + 2 pins + 0 spares + 4 notes and headers" in out
    assert "1 rows from list.xlsx!W!A5 stand in no table of the map" in out
    assert "nothing is taken from them: Other" in out
    made = Path("out.yaml").read_text(encoding="utf-8")
    assert '"2": {from: J1-2, to: J2-2, gauge: 2.5 mm2}' in made or "2: {from: J1-2, to: J2-2, gauge: 2.5 mm2}" in made
    assert "P14:" in made and "{circuit: CAN H}" in made
    for wrong, words in (
        (SEVERAL.replace("Kontakt:", "Kontact:"), "names a column 'Kontact' of table 'plug' that is not there"),
        (SEVERAL.replace("sheet: W, header row: 7", "sheet: V, header row: 7"), "there is no sheet 'V'"),
        (SEVERAL.replace("header row: 7, ", ""), "table plug states no rows or no columns"),
        (SEVERAL + "sheet: W\n", "sheet stands beside tables:"),
        (SEVERAL.replace("last row", "lats row"), "did you mean last row"),
    ):
        Path("wrong.yaml").write_text(wrong, encoding="utf-8")
        assert main(["import", "list.xlsx", "--map", "wrong.yaml"]) == 2
        said = capsys.readouterr().err
        assert words in said.replace("'plug'", "plug") or words in said, said


def test_colour_keys_agree_with_the_parts_drawer() -> None:
    """The letter codes of IEC 60757 stand in the drawer with their source."""
    drawer = open_drawer()
    names = [*map(str, range(10)), "pink", "turquoise"]
    found = [part for name in names if (part := drawer.get("colour", name)) is not None and part.text("iec")]
    assert len(found) >= 10
    for part in found:
        assert colours.IEC[str(part.text("iec"))] == (part.text("word") or part.number)


@pytest.mark.parametrize(
    ("column", "meaning"),
    [
        ("BL WH", {"BL": ""}),  # blue or black
        ("BL BK WH", {"BL": "blue", "BK": "black"}),
        ("BL BK BU", {"BL": ""}),  # three keys for two colours
        ("BL BU", {"BL": ""}),  # somebody may write blue in two ways
        ("GR WH", {"GR": ""}),
        ("GR GN", {"GR": "gray"}),
        ("GR GY", {"GR": "green"}),
        ("GR GY GN", {"GR": ""}),
        ("sw bl gr ws", {"BL": "blue", "GR": "gray", "SW": "black"}),  # DIN 47100
        ("sw BK bl", {"BL": "blue", "SW": "black"}),  # black has two keys already, and bl is blue in both conventions
        ("W B", {"W": "white", "B": ""}),
    ],
)
def test_an_ambiguous_key_is_never_guessed(column: str, meaning: dict[str, str]) -> None:
    """What each column may mean was written down by hand; an empty word is one that is listed."""
    keys = dict(colours.keys_of(column.split())[0])
    assert {key: keys[key] for key in meaning} == meaning


@pytest.mark.parametrize(
    ("text", "unit", "point", "said"),
    [
        ("1,5", "m", "", "1.5 m"), ("1,234", "mm", "", ""), ("1,234", "mm", ".", "1234 mm"),
        ("1,234", "m", ",", "1.234 m"),
        ("1.234,5 mm", "", "", "1234.5 mm"), ("1,234.5 mm", "", "", "1234.5 mm"), ("1.2.3 mm", "", "", ""),
        ("12 1/2\"", "", "", "12.5 in"), ("3'-4\"", "", "", "3 ft 4 in"), ("3' 4", "", "", "3 ft 4 in"),
        ("1/0 in", "", "", ""),
        ("5 ft 13 1/8 in", "", "", "5 ft 13.125 in"), ("1 500", "mm", "", "1500 mm"), ("2 x 300 mm", "", "", ""),
        ("300 mm 2 pcs", "", "", ""), ("300 mm (11.8 in)", "", "", "300 mm"), ("300 mm each", "", "", "300 mm"),
        ("12,50 in", "", "", "12.50 in"), ("0,500 m", "", "", "0.500 m"), ("-5 mm", "", "", ""), ("5'-6' ", "", "", ""),
    ],
)  # fmt: skip
def test_a_length_is_read_whole_or_not_at_all(text: str, unit: str, point: str, said: str) -> None:
    """Worked out by hand; empty: listed as not understood."""
    read = lengths.length(text, unit, point)
    assert read.value == said
    assert bool(read.refused) is (said == "")
