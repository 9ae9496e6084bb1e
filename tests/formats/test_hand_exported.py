"""Tables read as a file, cell by cell: what becomes of each, and what is refused at which cell.

Tables are typed with ``|`` between cells; in a CSV file the first cell of a row says its table. A ``§`` stands before
the cell that a fault is about; its letter and number are counted in the text.
"""

from __future__ import annotations

import csv
import json
import zipfile
from pathlib import Path
from typing import Any

import pytest

import harnesscheck as hc
from harnesscheck.document import Block, parse
from harnesscheck.formats import exported
from harnesscheck.formats._lists.cells import Row, Sheet, cell
from harnesscheck.formats._lists.source import ListDocument
from tests.formats.marked import MARK, same

LETTERS = "ABCDEFGHIJ"
START = "harnesscheck export | 1\n"
HEAD = START + "file | (name) | (value)\nfile | kind | airframe\nfile | title | t\n"
"""Four rows of every export here."""


def sheet(text: str, name: str = "") -> tuple[Sheet, list[str]]:
    """A sheet, and the cells that are marked, as ``C14`` or ``name!C14``."""
    rows, marks = [], []
    for number, line in enumerate(text.rstrip("\n").split("\n"), 1):
        cells = [one.strip() for one in line.split("|")]
        marks += [f"{name}{'!' * bool(name)}{LETTERS[c]}{number}" for c, one in enumerate(cells) if one[:1] == MARK]
        rows.append(Row(number, [cell(one.removeprefix(MARK), number, c) for c, one in enumerate(cells, 1)]))
    return Sheet(name, rows), marks


def read(*sheets: Sheet, name: str = "l.csv") -> Block:
    return exported._Reader(ListDocument(name, list(sheets), None)).whole().root


def csv_root(text: str) -> Block:
    return read(sheet(text)[0])


def refused(sheets: list[Sheet], marks: list[str], said: tuple[tuple[str, str], ...], name: str) -> None:
    with pytest.raises(hc.InputError) as caught:
        read(*sheets, name=name)
    found = sorted((f.at, f.message, f.remedy) for f in caught.value.faults)
    same(found, sorted((f"{name}!{mark}", *words) for mark, words in zip(marks, said, strict=True)))


def csv_refused(text: str, *said: tuple[str, str]) -> None:
    one, marks = sheet(text)
    refused([one], marks, said, "l.csv")


def test_an_export_in_one_csv_file() -> None:
    root = csv_root(
        HEAD + "file | wires | (see wires)\nfile | kit | (see kit)\nfile | connectors | (see connectors)\n"
        "wires | (name) | from | to | (order)\nwires | '001 | P1-1 | '+x |\n"
        'wires | W2 | a | b | ["to", "from"]\n|\nkit | (name) | (value)\nkit | site tools | ["T"]\n'
        "connectors | (name) | cavities | pins\nconnectors | P1 | (see cavities) |\nconnectors | P2 |  | (see pins)\n"
        "connectors | P3 |\n"
        "cavities | (connector) | (name) | (value) | note\ncavities | P1 | 1 | CAN H |\ncavities | P1 | 2 | | n\n"
        "cavities | P3 | 1 | B |\npins | (connector) | (name) | function\npins | P2 | 1 | f\n"
        "file | note |\n"
    )
    assert json.loads(json.dumps(root)) == {
        "kind": "airframe",
        "title": "t",
        "note": "",
        "wires": {"001": {"from": "P1-1", "to": "+x"}, "W2": {"to": "b", "from": "a"}},
        "kit": {"site tools": ["T"]},
        "connectors": {
            "P1": {"cavities": {"1": "CAN H", "2": {"note": "n"}}},
            "P2": {"pins": {"1": {"function": "f"}}},
            "P3": {"cavities": {"1": "B"}},
        },
    }
    assert list(root["wires"]["W2"]) == ["to", "from"]
    # The cell of the name, then that of the value; of an entry both are the cell of its name.
    assert root.marks["title"] == (4, 2, 4, 3) and root.marks["wires"] == (5, 2, 5, 3)
    wires = root["wires"]
    assert (wires.line, wires.column) == (8, 1) and wires.marks["W2"] == (10, 2, 10, 2)
    assert wires["001"].marks == {"from": (9, 3, 9, 3), "to": (9, 4, 9, 4)}
    assert (wires["001"].line, wires["001"].column) == (9, 2)
    half = root["connectors"]["P1"]
    assert half.marks["cavities"] == (15, 3, 15, 3) and (half["cavities"].line, half["cavities"].column) == (15, 3)
    assert half["cavities"].marks == {"1": (19, 3, 19, 3), "2": (20, 3, 20, 3)}
    late = root["connectors"]["P3"]
    assert late.marks["cavities"] == (21, 3, 21, 3) and (late["cavities"].line, late["cavities"].column) == (21, 3)


def test_an_export_in_sheets_of_a_workbook() -> None:
    head, _ = sheet("harnesscheck export | 1\n(name) | (value)\nkind | airframe\n'q | '7\nwires | (see wires)", "file")
    wires, _ = sheet("\n(name) | from\nW1 | x", "wires")
    empty, _ = sheet("", "other")
    root = read(head, empty, wires, name="l.xlsx")
    # In a workbook an apostrophe is text; the head has 5 rows, the empty sheet 1, so W1 stands in line 9.
    assert root == {"kind": "airframe", "'q": "'7", "wires": {"W1": {"from": "x"}}}
    assert root["wires"].marks["W1"] == (9, 1, 9, 1) and (root["wires"].line, root["wires"].column) == (8, 1)


AGAIN = "export the file again and change that"


def test_what_is_refused_at_once() -> None:
    csv_refused("harnesscheck export | §2\n", ("an export of format '2'", "this version reads format 1"))
    csv_refused("§harnesscheck export | 1\nwires | (name)\n", ("there is no table 'file'", AGAIN))
    csv_refused("harnesscheck export | §\n", ("an export of format ''", "this version reads format 1"))


NO_TABLE = "add the table connectors, with a row for each connector"
HIDDEN = "a sheet that is hidden is not read: show it; or export the file again"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("file | wires | §(see wires)\n", ("there is no table 'wires'", HIDDEN)),
        ("file | wires | §(see zones)\n", ("(see zones) does not belong to 'wires'", "write (see wires)")),
        ("file | file | §(see file)\n", ("(see file) does not belong to 'file'", "write (see file)")),
        ("file | pins | §(see pins)\n", ("(see pins) does not belong to 'pins'", "write (see pins)")),
        ("file | note | §[a\n", ("'[a' is not JSON: Expecting value", 'write it like ["a", "b"] or {"a": "b"}')),
        ('file | §["a"] | x\n', ("a list or a block where a name stands", "write a name")),
        ("file | §title | again\n", ("'title' is given twice (first at l.csv!B4)", "keep one of the rows")),
        ("file | §| x\n", ("this row has no (name)", "give it, or delete the row")),
        ("| §x | y\n", ("this row does not say what table it is of", AGAIN)),
        ("| | §y\n", ("this row does not say what table it is of", AGAIN)),
        ("file | note | x | §y\n", ("no head stands over 'y'", "put a key over the column")),
        ("§wires | (name) | from\n", ("nothing leads to the table 'wires'",
         "add a row to the table file: wires, (see wires)")),
        ("§titel | (name)\n", ("nothing leads to the table 'titel'", "did you mean title?")),
        ("§cavity | (name)\n", ("nothing leads to the table 'cavity'", "did you mean cavities?")),
        ("§cavities | (connector) | (name)\n", ("nothing leads to the table 'cavities'", NO_TABLE)),
    ],
)  # fmt: skip
def test_faults_of_the_head(text: str, said: tuple[str, str]) -> None:
    # What is right behind the fault is read all the same: the last row is looked at as well.
    csv_refused(HEAD + text + "file | revision | §[\n", said, ("'[' is not JSON: Expecting value", JSON))


JSON = 'write it like ["a", "b"] or {"a": "b"}'
WIRES = HEAD + "file | wires | (see wires)\nwires | (name) | (value) | from | to | (order)\n"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("wires | W1 | x | §a\n", ("this row has a (value) of its own as well",
         "clear (value), or the rest of the row")),
        ("wires | W1 | | §(see a)\n", ("'(see a)' leads to no table", f"write the value, or {AGAIN}")),
        ("wires | W1 | | §(see from) | a\n", ("'(see from)' leads to no table", f"write the value, or {AGAIN}")),
        ("wires | W1 | | a | b | | §c\n", ("no head stands over 'c'", "put a key over the column")),
        ("wires | W1 | | a\nwires | §W1 | | b\n", ("'W1' is given twice (first at l.csv!B7)", "keep one of the rows")),
        ("wires | §| | a\n", ("this row has no (name)", "give it, or delete the row")),
        ("wires | W1 | | a | §{\n", ("'{' is not JSON: Expecting property name enclosed in double quotes", JSON)),
        ("wires | W1 | | a | | §[\n", ("'[' is not JSON: Expecting value", JSON)),
    ],
)  # fmt: skip
def test_faults_of_an_entry(text: str, said: tuple[str, str]) -> None:
    csv_refused(WIRES + text + "wires | W9 | | §[ | a\n", said, ("'[' is not JSON: Expecting value", JSON))


def test_an_order_that_names_some_keys() -> None:
    """Those it names come first; those it does not, and words that are no keys, change nothing."""
    root = csv_root(
        HEAD + "file | wires | (see wires)\nwires | (name) | (order) | a | b | c\n"
        'wires | W1 | ["c"] | 1 | 2 | 3\nwires | W2 | ["x", "b"] | 1 | 2 | 3\nwires | W3 | b | 1 | 2 | 3\n'
        'wires | W4 | {"c": "b"} | 1 | 2 | 3\n'
    )
    assert ["".join(entry) for entry in root["wires"].values()] == ["cab", "bac", "abc", "abc"]


def test_faults_of_heads() -> None:
    start = HEAD + "file | wires | (see wires)\n"
    csv_refused(start + "wires | §name | from\nwires | W1 | x\n",
                ("the heads of this table do not start with (name)", AGAIN))  # fmt: skip
    csv_refused(
        start + "wires | (name) | from | §from\n", ("the head 'from' stands twice", "rename one of the columns")
    )
    csv_refused(start + "wires | (name) | (value) | (order) | §(more)\n", ("unknown head '(more)'", AGAIN))
    csv_refused(start + "wires | (name) | | from\nwires | W1 | §x | y\n",
                ("no head stands over 'x'", "put a key over the column"))  # fmt: skip
    csv_refused(start + 'wires | (name) | §["a"]\nwires | W1 | y\n',
                ("a list or a block where a name stands", "write a name"))  # fmt: skip
    start = HEAD + "file | connectors | (see connectors)\nconnectors | (name)\nconnectors | P1\n"
    csv_refused(start + "cavities | §(name) | (connector)\n",
                ("the heads of this table do not start with (connector), (name)", AGAIN))  # fmt: skip


def test_faults_of_pin_maps() -> None:
    start = HEAD + "file | connectors | (see connectors)\nconnectors | (name) | (value) | cavities\n"
    maps = "cavities | (connector) | (name) | (value)\n"
    csv_refused(
        start + "connectors | P1 | | §(see cavities)\n",
        ("there is no table 'cavities'", HIDDEN),
    )
    csv_refused(
        start + "connectors | P1 | | (see cavities)\nconnectors | P2 | odd\n" + maps + "cavities | §P9 | 1 | A\n"
        "cavities | §zzzz | 1 | A\ncavities | §P2 | 1 | A\ncavities | P1 | §| A\ncavities | §| 1 | A\n"
        "cavities | P1 | 1 | §[\n"
        "cavities | P1 | §1 | A\n",
        ("there is no connector 'P9'", "did you mean P1 or P2?"),
        ("there is no connector 'zzzz'", "add it to the table connectors"),
        ("connector 'P2' has a (value) of its own, and no cavities", "clear (value) in the table connectors"),
        ("this row has no (name)", "give it, or delete the row"),
        ("this row has no (connector)", "give it, or delete the row"),
        ("'[' is not JSON: Expecting value", JSON),
        ("'P1-1' is given twice (first at l.csv!C15)", "keep one of the rows"),
    )
    text = HEAD + "file | connectors | none\n§cavities | (connector) | (name) | (value)\ncavities | P1 | 1 | A\n"
    csv_refused(text, ("nothing leads to the table 'cavities'", NO_TABLE))


def test_cells_that_a_spreadsheet_has_changed() -> None:
    one, _ = sheet("harnesscheck export | 1\n(name) | (value)\nkind | airframe\ntitle | 7\nnote | x\nx | y", "file")
    one.rows[3].cells[1] = cell("7", 4, 2, "number")
    one.rows[4].cells[1] = cell("x", 5, 2, struck=True)
    one.rows[5].cells = [cell("x", 6, 1), cell("", 6, 2, "number", True)]  # an empty cell says nothing
    said = (
        ("the spreadsheet has made a number of this: '7'", "format the cell as text, and type the value again"),
        ("'x' is struck through", "delete it, or remove the line"),
    )
    refused([one], ["file!B4", "file!B5"], said, "l.xlsx")


# -- which files are exports, and the text made of one -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "text", "found"),
    [
        ("a.csv", "harnesscheck export,1\r\n", True),
        ("a.CSV", '"harnesscheck export",1\n', True),
        ("a.csv", "list,harnesscheck export\n", False),
        ("a.csv", "x\nharnesscheck export,1\n", False),
        ("a.csv", "", False),
        ("a.csv", 'harnesscheck export,"1\n', False),  # cannot be read: the reader of lists says so
        ("a.txt", "harnesscheck export,1\n", False),
        ("a.xlsx", "harnesscheck export,1\n", False),
        ("a.ods", "PK\x03\x04", False),
    ],
)
def test_an_export_is_known_by_its_first_cell(name: str, text: str, found: bool, tmp_path: Path) -> None:
    (tmp_path / name).write_text(text, newline="")
    assert exported.reads(tmp_path / name) is found
    assert exported.reads(tmp_path / "none.csv") is False
    (tmp_path / "folder.csv").mkdir()
    assert exported.reads(tmp_path / "folder.csv") is False


def test_the_mark_stands_at_the_front_of_a_large_file(tmp_path: Path) -> None:
    """65,536 bytes are looked at; UTF-16 has a zero in every other byte."""
    for at, found in ((65_536 - 19, True), (65_536 - 18, False)):
        (tmp_path / "a.csv").write_bytes(b" " * at + b"harnesscheck export,1\n")
        assert exported._may_be(tmp_path / "a.csv") is found
    (tmp_path / "a.csv").write_bytes("harnesscheck export,1\n".encode("utf-16"))
    assert exported._may_be(tmp_path / "a.csv")


@pytest.mark.parametrize(
    ("part", "before", "found"),
    [
        ("content.xml", 0, True),
        ("xl/sharedStrings.xml", 65_536 - 19, True),
        ("xl/worksheets/sheet1.xml", 65_536 - 18, False),
        ("other.xml", 0, False),
    ],
)
def test_the_mark_stands_at_the_front_of_a_part_of_a_workbook(
    part: str, before: int, found: bool, tmp_path: Path
) -> None:
    for name in ("a.xlsx", "a.ods"):
        with zipfile.ZipFile(tmp_path / name, "w") as archive:
            archive.writestr("first.xml", "x")
            archive.writestr(part, " " * before + "harnesscheck export")
        assert exported._may_be(tmp_path / name) is found
    (tmp_path / "b.xlsx").write_bytes((tmp_path / "a.xlsx").read_bytes()[:40])
    assert exported._may_be(tmp_path / "b.xlsx") is False
    assert exported._may_be(tmp_path / "none.csv") is False
    assert exported._may_be(tmp_path) is False


def test_a_workbook_is_known_by_its_first_cell(tmp_path: Path) -> None:
    import xlsxwriter

    for first, found in (("harnesscheck export", True), ("harnesscheck export of mine", False)):
        with xlsxwriter.Workbook(tmp_path / "a.xlsx") as book:
            book.add_worksheet("file").write_row(0, 0, [first, "1"])
        assert exported.reads(tmp_path / "a.xlsx") is found


def test_a_job_of_an_export(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    rows = [
        line.split("|")
        for line in HEAD.replace(" ", "").replace("harnesscheckexport", "harnesscheck export").splitlines()
    ]
    with Path("a.csv").open("w", newline="") as file:
        csv.writer(file).writerows(rows)
    job = exported.load(Path("a.csv"), "a.csv")
    assert (job.subject.title, job.name, job.path) == ("t", "a.csv", Path("a.csv"))
    assert exported.document_of(Path("a.csv"), "other").name == "other"


def text_of(text: str, name: str = "a.yaml") -> str:
    return exported.as_yaml(parse(text, name))


def test_text_made_of_an_export_says_the_same() -> None:
    """A section, a half with its pin map, and an entry too long for one line take several lines."""
    text = (
        "kind: airframe\nnote: 'a: b'\nwaivers: [{check: x, at: [y]}]\n\nwires:\n"
        "  W1: {from: a, to: b}\n  W2: odd\n  W3: {}\n\nconnectors:\n  P1:\n    part: A\n"
        "    cavities: {1: B, 2: {use: spare}}\n"
        "\nbuses:\n  B1: {name: " + "n" * 105 + "}\n  B2:\n    name: " + "n" * 106 + "\n"
    )  # fmt: skip
    made = text_of(text)
    assert parse(made, "b.yaml").root == parse(text, "a.yaml").root
    lines = made.split("\n")
    assert lines[0] == "# Made from a.yaml by harnesscheck import."
    assert lines[1:5] == ["kind: airframe", 'note: "a: b"', "waivers: [{check: x, at: [y]}]", ""]
    assert lines[5:9] == ["wires:", "  W1: {from: a, to: b}", "  W2: odd", "  W3: {}"]
    assert lines[9:15] == ["", "connectors:", "  P1:", "    part: A", "    cavities:", "      1: B"]
    assert lines[15:17] == ["      2: {use: spare}", ""]
    assert lines[17:] == ["buses:", "  B1: {name: " + "n" * 105 + "}", "  B2:", "    name: " + "n" * 106, ""]


@pytest.mark.parametrize(
    ("name", "shown"), [("x/y/a.csv", "a.csv"), ("x\\a.csv", "a.csv"), ("a\x1bb.csv", "a b.csv"), ("a.csv", "a.csv")]
)
def test_the_name_of_the_export_in_one_line(name: str, shown: str) -> None:
    first: Any = text_of("kind: x\n", name).partition("\n")[0]
    assert first == f"# Made from {shown} by harnesscheck import."
