"""Files into cells: signs that look alike, codings, limits at their edge, CSV and text. All expected by hand."""

from __future__ import annotations

import datetime
import os
from pathlib import Path

import pytest

from harnesscheck.fault import InputError
from harnesscheck.formats._lists import archive, cells, csv_rows, source, text_tables
from harnesscheck.formats._lists.cells import DATE, NUMBER, TEXT, TRUTH, Cell, Row, Sheet, plain
from tests.importing import books


def fault(read: object, *said: object) -> tuple[int, int, str, str]:
    """Line, column, message and remedy of the one fault of a refused file."""
    with pytest.raises(InputError) as caught:
        read(*said)  # type: ignore[operator]
    (one,) = caught.value.faults
    return one.line, one.column, one.message, one.remedy


def test_cells_in_plain_signs() -> None:
    same = {"-": "‐‑‒–—―−﹣－", '"': "“”„″˝", "'": "‘’‚′", "->": "→➔⇒", "<->": "↔⇔", "µ": "μ", "+": "＋",
            " ": "\u00a0\u2002\u2003\u2007\u2009\u200a\u202f\u3000", "": "\u200b\u00ad☃"}  # fmt: skip
    for sign, others in same.items():
        for other in others:
            assert plain(f"a{other}b") == f"a{sign}b", hex(ord(other))
    for text, said in ((" a ", "a"), ("a \t  b", "a b"), ("a\r\n\n b \v c", "a\nb\nc"), ("6 AWG ✓", "6 AWG"), ("", ""),
                       ("µ [1]", "µ"), ("µ[^12]", "µ"), ("µ[123]", "µ[123]"), ("[1]", "[1]"), ("\n", "")):  # fmt: skip
        assert plain(text) == said, text
    assert cells.cell(" x  y ", 3, 4, NUMBER, True) == Cell("x y", 3, 4, NUMBER, True, " x  y ")
    assert cells.cell(" " * 10_000, 1, 1).text == ""
    assert cells.cell(" " * 10_001, 1, 1).text == " " * 10_001
    assert cells.cell("x", 1, 1) == Cell("x", 1, 1, TEXT, False, "x")


def test_cells_of_a_row() -> None:
    row = Row(7, [Cell("", 7, 1), Cell("b", 7, 2), Cell("c", 7, 3), Cell("", 7, 4)])
    assert [row.at(i).text for i in (0, 1, 2, 3)] == ["", "b", "c", ""]
    assert row.at(4) == Cell("", 7, 5)
    assert row.at(-1) == Cell("", 7, 0)
    assert [c.text for c in row.filled] == ["b", "c"]
    assert row.text == " | b | c"
    assert (bool(row), bool(Row(1, [])), bool(Row(1, [Cell("", 1, 1)]))) == (True, False, False)
    assert (row.bare, row.level, row.hidden) == (False, 0, False)
    assert (Cell("x", 1, 1).struck, Cell("x", 1, 1).hidden, Sheet("", []).hidden) == (False, False, False)


def test_cells_of_a_workbook_by_their_kind() -> None:
    day = datetime.date(2026, 2, 1)
    for value, text, kind, typed in (
        (3.0, "3", NUMBER, "3"), (-2.0, "-2", NUMBER, "-2"), (3.5, "3.5", NUMBER, "3.5"), (7, "7", NUMBER, "7"),
        (999999999999999.0, "999999999999999", NUMBER, "999999999999999"),
        (1e15, "1000000000000000.0", NUMBER, "1000000000000000.0"),
        (True, "TRUE", TRUTH, "True"), (False, "FALSE", TRUTH, "False"), (day, "2026-02-01", DATE, "2026-02-01"),
        (datetime.time(1, 2), "01:02:00", DATE, "01:02:00"), (datetime.timedelta(hours=1), "1:00:00", DATE, "1:00:00"),
        (" x ", "x", TEXT, " x "), (None, "", TEXT, ""),
    ):  # fmt: skip
        made = cells._valued(value, 4, 5, True)
        assert made == Cell(text, 4, 5, kind, value is not None, typed), value


def test_merged_cells_speak_downwards_only() -> None:
    def rows() -> list[Row]:
        return [Row(n, [Cell(t, n, c) for c, t in enumerate(said, 1)])
                for n, said in enumerate((["a", "x"], ["", ""], ["k", ""], [""]), 1)]  # fmt: skip

    for merged, said in (
        (((0, 0), (1, 0)), ["a x", "a ", "k ", ""]), (((0, 0), (3, 0)), ["a x", "a ", "k ", "a"]),
        (((0, 0), (4, 0)), ["a x", " ", "k ", ""]), (((0, 1), (3, 1)), ["a x", " x", "k x", ""]),
        (((0, 0), (0, 1)), ["a x", " ", "k ", ""]), (((1, 0), (3, 0)), ["a x", " ", "k ", ""]),
    ):  # fmt: skip
        made = rows()
        cells._spread(made, [merged])
        assert [" ".join(c.text for c in row.cells) for row in made] == said, merged
    made = rows()
    made[0].cells[0] = Cell("a", 1, 1, NUMBER, True, "A")
    cells._spread(made, [((0, 0), (1, 0))])
    assert made[1].cells[0] == Cell("a", 2, 1, NUMBER, True, "A")


def test_codings_of_a_text_file() -> None:
    for data, text in (
        ("aü\r\nb\rc".encode(), "aü\nb\nc"), (b"\xef\xbb\xbfa", "a"), ("aü".encode("utf-16"), "aü"),
        (b"\xfe\xff" + "aü".encode("utf-16-be"), "aü"), (b"", ""), (b"a\tb\x0b\x0c", "a\tb\x0b\x0c"),
    ):  # fmt: skip
        assert cells._decoded(data, "l.csv") == (text, [])
    text, said = cells._decoded("Größe\nü½".encode("cp1252"), "l.csv")
    assert text == "Größe\nü½"
    assert said == ["the file is not UTF-8; read as Windows-1252, its signs are ½ ß ö ü: look whether they are right"]
    utf8 = "save it as 'CSV UTF-8', or as .xlsx or .ods"
    # д is 0xe4 in Windows-1251, which is ä in Windows-1252; 0xc4 0xce are Ä and Î, and Î is no sign of such a list
    assert fault(cells._decoded, b"ok\nab\xce", "l.csv") == (2, 3, "byte 0xce is not UTF-8 text", utf8)
    assert fault(cells._decoded, b"\x81", "l.csv") == (1, 1, "byte 0x81 is not UTF-8 text", utf8)
    # a first half of a pair of UTF-16 (U+D800) at the third sign, with nothing behind it
    assert fault(cells._decoded, b"\xff\xfea\0b\0\0\xd8", "l.csv")[2:] == ("byte 0x00 is not UTF-16 text", utf8)
    control = "this file holds the control character U+0001", "save it as plain text again"
    assert fault(cells._decoded, b"ab\nc\x01", "l.csv") == (2, 2, *control)
    assert fault(cells._decoded, b"a\x01", "l.csv") == (1, 2, *control)
    assert fault(cells._decoded, b"\n\n\x01", "l.csv") == (3, 1, *control)
    for sign in "\x00\x08\x0e\x1f\x7f\x9f":
        assert "control character" in fault(cells._decoded, sign.encode(), "l.csv")[2]


def test_limits_of_cells_stand_at_their_edge(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert (cells.MAX_TEXT, cells.MAX_PACKED, archive.MAX_CELLS) == (5_000_000, 50_000_000, 200_000)
    path = tmp_path / "l.md"
    path.write_text("a" * 2000 + " | " + "b" * 2000 + " |", encoding="utf-8")
    assert [len(c.text) for c in cells.read(path, "l.md")[0].rows[0].cells] == [2000, 2000]
    path.write_text("x\n\n  yy  " + "b" * 2001, encoding="utf-8")
    line, column, message, remedy = fault(cells.read, path, "l.md")
    assert (line, column, message) == (3, 7, "this cell holds 2001 characters")
    assert remedy == "keep a cell under 2000 characters"
    path.write_text("x\n" + "a  " * 3333 + "b", encoding="utf-8")
    assert len(cells.read(path, "l.md")[0].rows[1].cells) == 3334
    path.write_text("x\n" + "a  " * 3333 + "bb", encoding="utf-8")
    assert fault(cells.read, path, "l.md") == (2, 1, "a line of more than 10000 characters", "break the line")

    monkeypatch.setattr(cells, "MAX_CELLS", 4)
    path = tmp_path / "l.csv"
    path.write_text("a,b\nc,d\n", encoding="utf-8")
    assert len(cells.read(path, "l.csv")) == 1
    path.write_text("a,b\nc,d,e\n", encoding="utf-8")
    assert fault(cells.read, path, "l.csv")[2] == "this file has 5 cells; at most 4 are read"
    assert cells.read(books.xlsx(tmp_path / "l.xlsx", {"S": [["a", "b"], ["c", "d"]]}), "l.xlsx")[0].name == "S"
    book = books.xlsx(tmp_path / "m.xlsx", {"S": [["a", "b"], ["c", "d"], ["e", "f"]]})
    assert fault(cells.read, book, "m.xlsx")[2] == "sheet S has more than 4 cells"

    monkeypatch.setattr(cells, "MAX_TEXT", 7_999_999)
    assert cells._bytes(path, "l.csv", 10) == b"a,b\nc,d,e\n"
    assert fault(cells._bytes, path, "l.csv", 9)[2] == "this file is larger than 0 MB"
    assert fault(cells._bytes, tmp_path, "l", 9)[2] == "this file is a folder"
    assert fault(cells._bytes, tmp_path / "no", "l", 9)[2] == "this file does not exist"
    os.mkfifo(tmp_path / "pipe")
    assert fault(cells._bytes, tmp_path / "pipe", "l", 9)[2] == "this file is no ordinary file"

    def closed(_: Path) -> bytes:
        raise OSError(13, "Permission denied")

    def broken(_: Path) -> bytes:
        raise OSError

    monkeypatch.setattr(Path, "read_bytes", closed)
    assert fault(cells._bytes, path, "l", 99)[2] == "this file cannot be read: Permission denied"
    monkeypatch.setattr(Path, "read_bytes", broken)
    assert fault(cells._bytes, path, "l", 99)[2:] == ("this file cannot be read: OSError", "look at its access rights")


def test_cells_that_hold_what_nobody_sees(tmp_path: Path) -> None:
    remedy = "delete the text of this cell and type it again"
    assert cells._unfit(Cell("ab", 1, 1, typed="a\u202eb")) == (
        "the hidden character U+202E, which turns text about", remedy)  # fmt: skip
    assert cells._unfit(Cell("ab", 1, 1, typed="a\x7fb")) == ("the hidden character U+007F", remedy)
    for typed in ("ab", "a\nb", "a\tb", "a\u00adb"):
        assert cells._unfit(Cell("ab", 1, 1, typed=typed)) is None
    path = tmp_path / "l.csv"
    path.write_text("a,b\nc,J1\u202e\n", encoding="utf-8")
    with pytest.raises(InputError) as caught:
        cells.read(path, "l.csv")
    (one,) = caught.value.faults
    assert (one.line, one.column, one.shown if hasattr(one, "shown") else "l.csv!B2") == (2, 5, "l.csv!B2")
    assert one.message == "this cell holds the hidden character U+202E, which turns text about"


def test_sheets_of_a_text_file(tmp_path: Path) -> None:
    for name, text, rows, lines in (
        ("l.CSV", "a;b\n", [["a", "b"]], []), ("l.tsv", "a,b\tc\n", [["a,b", "c"]], []),
        ("l.md", "a  b", [["a", "b"]], ["a  b"]), ("l.txt", "a\n", [["a"], []], ["a", ""]),
    ):  # fmt: skip
        (tmp_path / name).write_text(text, encoding="utf-8")
        (sheet,) = cells.read(tmp_path / name, name)
        assert ([[c.text for c in r.cells] for r in sheet.rows], sheet.lines, sheet.name, sheet.said) == (
            rows, lines, "", [])  # fmt: skip
    (tmp_path / "l.csv").write_bytes(b"\xfc,b\n")
    assert ["Windows-1252" in said for said in cells.read(tmp_path / "l.csv", "l.csv")[0].said] == [True]
    (tmp_path / "l.csv").write_bytes(b" , \n")
    assert fault(cells.read, tmp_path / "l.csv", "l.csv")[2:] == (
        "this file is empty", "give a from-to list or a pin table")  # fmt: skip


@pytest.mark.parametrize(("text", "sign"), [
    ("a,b\n1,2", ","), ("a;b\n1;2", ";"), ("a\tb", "\t"), ("a|b", "|"), ("a;b\n1,5;2", ";"), ("abc", ","), ("", ","),
    ("a,b;c", ","), ("a,b,c;d", ","), ("a;b;c,d", ";"), ("\n\na;b\n\n", ";"), ("a;b\nc,d\ne;f", ";"),
    ("a;b;c\nd,e\nf,g", ","), ("x\n" * 200 + "a;b\n" * 300, ","), ("x\n" * 199 + "a;b\n" * 300, ";"),
    ("a;b\n1;2\n3;4,5,6,7", ";"), ("a;b;c;d\n1;2,3\n4;5,6", ","),
])  # fmt: skip
def test_the_separator_of_csv_rows(text: str, sign: str) -> None:
    """The sign that splits most of the first two hundred lines alike; the one with more fields; else the comma."""
    assert csv_rows._separator(text) == sign


def test_csv_rows_are_numbered_as_records() -> None:
    def read(text: str, sign: str = "") -> list[tuple[int, list[str], list[int]]]:
        made = csv_rows.csv_rows(text, sign, "l.csv")
        return [(row.number, [c.text for c in row.cells], [c.column for c in row.cells]) for row in made]

    assert read("a,b\n1,2\n") == [(1, ["a", "b"], [1, 2]), (2, ["1", "2"], [1, 2])]
    assert read('a,"b\nc"\nd,e') == [(1, ["a", "b\nc"], [1, 2]), (2, ["d", "e"], [1, 2])]
    assert read("sep=|\na|b,c") == [(2, ["a", "b,c"], [1, 2])]
    assert read("\ufeffsep=;\na;b") == [(2, ["a", "b"], [1, 2])]
    assert read("a,b", "\t") == [(1, ["a,b"], [1])]
    assert read("a\n\nb") == [(1, ["a"], [1]), (2, [], []), (3, ["b"], [1])]
    assert read("") == []
    assert read('a,"b""c"') == [(1, ["a", 'b"c'], [1, 2])]
    assert read("\n,\n")[0] == (1, [], [])
    assert read('a,b\n"c\nd,e",f') == [(1, ["a", "b"], [1, 2]), (2, ["c\nd,e", "f"], [1, 2])]


def test_csv_rows_with_a_quote_that_is_not_plain() -> None:
    opened = "the quote opened here is not closed, so that rows below would be read as one cell"
    behind = "text stands behind the closing quote of a cell"
    close = "close the quote; a quote inside a cell in quotes is written twice"
    for text, line, column, message in (
        ('a,"b\nc,d', 1, 3, opened), ('a,b\n1,"2', 2, 3, opened), ('sep=,\na,b\n1,"2', 3, 3, opened),
        ('a,"b"c,d', 1, 6, behind), ('x,y\n"a""b"c,d', 2, 7, behind), ('sep=;\n"a"c;d', 2, 4, behind),
        ('h,i,j\n1,2,3\nx,"y,z\n4,5,6\n7,8",9\n', 3, 3, opened),
        ('h,i,j\nx,"y,z\n4,5,6",9,8\n', 2, 3, opened), ('h,i,j\n"u\nv",w,"y,z\n4,5,6"\n', 2, 1, opened),
    ):  # fmt: skip
        found = fault(csv_rows.csv_rows, text, "", "l.csv")
        remedy = f"{close}, or leave the quotes out" if message is behind else close
        assert found == (line, column, message, remedy), text
    # one separator a row: a list of two columns, and a comma in a note of two lines is plain
    assert len(csv_rows.csv_rows('h,i\n1,2\nx,"y\nz,u"\n', "", "l.csv")) == 3
    for values, usual, told in (
        (["a\nb,c,d"], 2, True), (["a\nb,c,d"], 1, False), (["a\nb,c,d"], 3, False), (["a,b,c\nd"], 2, False),
        (["x", "a\nb\nc,,"], 2, True), ([], 2, False),
    ):  # fmt: skip
        assert csv_rows._swallowed(values, ",", usual) is told


@pytest.mark.parametrize(("line", "column"), [
    ('a,"b', 3), ('"a","b', 5), ('"a""b",c', 1), ('"a"",b', 1), ('x"y,"z', 5), ("", 1), ("abc", 1), ('"a",b,"c', 7),
    ('"', 1), ('a,"', 3), ('a,b,""', 1), ('"a",""",b', 5), ('"abc","d"", ', 7), (',,"x', 3), ('"x"', 1),
])  # fmt: skip
def test_csv_rows_name_the_quote_that_stays_open(line: str, column: int) -> None:
    assert csv_rows._open_quote(line, ",") == column


@pytest.mark.parametrize(("text", "said", "struck"), [
    ("**P1** `+28V`", "P1 +28V", False), ("~~W7~~", "W7", True), ("<del>x</del>", "x", True),
    ("<s>x</s> y", "x y", True),
    ("<strike>x", "x", True), ("[text](http://x)", "text", False), ("![img](u)", "img", False),
    ("a<br/>b", "a\nb", False),
    ("a<BR >b", "a\nb", False), ("*it* 2*3", "it 2*3", False), (r"\[A\]", "[A]", False), ("<b>x</b>", "x", False),
    ("x~~y", "xy", False), (" ***x*** ", "x", False), ("<span style='a'>x</span>", "x", False), ("", "", False),
])  # fmt: skip
def test_text_tables_without_their_dress(text: str, said: str, struck: bool) -> None:
    assert text_tables.undressed(text) == (said, struck)


def rows_of(text: str) -> list[tuple[int, str, list[int], str]]:
    """Number, cells between bars, their columns, and what the row is."""
    made = []
    for row in text_tables.text_rows(text):
        kind = ("h" + str(row.level) if row.level else "") + ("b" if row.bare else "")
        kind += "s" if any(c.struck for c in row.cells) else ""
        made.append((row.number, "|".join(c.text for c in row.cells), [c.column for c in row.cells], kind))
    return made


@pytest.mark.parametrize(("text", "rows"), [
    ("# Plug J1 #", [(1, "Plug J1", [1], "h1b")]), (" ### ~~x~~", [(1, "x", [2], "h3bs")]),
    ("####### x", [(1, "####### x", [1], "b")]), ("#x", [(1, "#x", [1], "b")]),
    ("  word here", [(1, "word here", [3], "b")]), ("a   b", [(1, "a|b", [1, 5], "")]),
    ("a\tb c", [(1, "a|b c", [1, 3], "")]),
    ("  a  ~~b~~", [(1, "a|b", [3, 6], "s")]),
    ("x\n\ny", [(1, "x", [1], "b"), (2, "", [], ""), (3, "y", [1], "b")]),
    ("| a | b |", [(1, "a|b", [3, 7], "")]), ("|a||", [(1, "a", [2], "")]), ("| |a|", [(1, "|a", [3, 4], "")]),
    ("|a| |", [(1, "a|", [2, 5], "")]), ("a|b|c", [(1, "a|b|c", [1, 3, 5], "")]), ("a|b", [(1, "a|b", [1], "b")]),
    ("|a|b", [(1, "a|b", [2, 4], "")]), (r"|a\|b|c|", [(1, "a|b|c", [2, 7], "")]),
    ("|~~a~~|b|", [(1, "a|b", [2, 8], "s")]),
    ("a | b |  ", [(1, "a|b", [1, 5], "")]), ("a|b|  c", [(1, "a|b|c", [1, 3, 7], "")]),
    ("a|b\n-|--\nc|d\ne|f\ng|h", [(1, "a|b", [1, 3], ""), (2, "", [1], ""), (3, "c|d", [1, 3], ""),
    (4, "e|f", [1, 3], ""),
     (5, "g|h", [1], "b")]),
    ("g|h\ne|f\na|b\n-|--", [(1, "g|h", [1], "b"), (2, "e|f", [1, 3], ""), (3, "a|b", [1, 3], ""), (4, "", [1], "")]),
    ("---\nx", [(1, "", [1], ""), (2, "x", [1], "b")]), ("--", [(1, "--", [1], "b")]), ("|-", [(1, "", [1], "")]),
    ("```\n# x\na  b\n```\n# y", [(1, "", [], ""), (2, "# x", [1], "b"), (3, "a|b", [1, 4], ""), (4, "", [], ""),
     (5, "y", [1], "h1b")]),
    ("~~~\n# x\n~~~", [(1, "", [], ""), (2, "# x", [1], "b"), (3, "", [], "")]),
    ("Pin Signal\n--- ------\n1   GND\n12  +28V in\n\nx y", [(1, "Pin|Signal", [1, 5], ""), (2, "", [1], ""),
     (3, "1|GND", [1, 5], ""), (4, "12|+28V in", [1, 5], ""), (5, "", [], ""), (6, "x y", [1], "b")]),
    ("\n--- ---\n1   2", [(1, "", [], ""), (2, "", [1], ""), (3, "1|2", [1, 5], "")]),
    ("--- ---\n1   2", [(1, "", [1], ""), (2, "1|2", [1, 5], "")]),
    ("Pin\n---\n1 2", [(1, "Pin", [1], "b"), (2, "", [1], ""), (3, "1 2", [1], "b")]),
    ("--- ---\n```\n1 2", [(1, "", [1], ""), (2, "", [], ""), (3, "1 2", [1], "b")]),
    ("Pin Sig\n=== ===\n1000 GND", [(1, "Pin|Sig", [1, 5], ""), (2, "", [1], ""), (3, "1000|GND", [1, 6], "")]),
])  # fmt: skip
def test_text_tables_by_row(text: str, rows: list[tuple[int, str, list[int], str]]) -> None:
    """h: a heading of that level; b: a bare line; s: struck through. Columns are counted from 1 in the line."""
    assert rows_of(text) == rows


@pytest.mark.parametrize(("line", "said"), [
    ("a   b   c", "a|b|c"), ("a b c", "a b|c|"), ("abcdef g", "abcdef||g"), ("ab  cdefgh i", "ab|cdefgh|i"),
    ("a  bc  d", "a|bc|d"), ("abcdefghijk l", "abcdefghijk||l"), ("a", "a||"), ("", "||"), ("    b", "|b|"),
    ("a\tb", "a||b"), ("a      cd", "a||cd"),
])  # fmt: skip
def test_text_tables_are_never_cut_inside_a_word(line: str, said: str) -> None:
    """Columns begin at the first, fifth and ninth sign; a word that reaches over an edge, or up to it, is
    the next column's, unless the column before begins with it."""
    row = text_tables._cut(line, 3, [(0, 3), (4, 7), (8, 11)])
    assert ("|".join(c.text for c in row.cells), row.number) == (said, 3)


def test_the_source_of_a_finding_is_a_cell() -> None:
    for number, said in (
        (1, "A"),
        (2, "B"),
        (26, "Z"),
        (27, "AA"),
        (28, "AB"),
        (52, "AZ"),
        (702, "ZZ"),
        (703, "AAA"),
        (0, ""),
    ):
        assert source.letters(number) == said
    one = Sheet("One_1", [Row(1, [Cell("a", 1, 1), Cell("b", 1, 2)]), Row(3, [Cell("c", 3, 2)])])
    two = Sheet("It's", [Row(1, [Cell("d\ne", 1, 1)])])
    book = source.ListDocument("l.xlsx", [one, two], None)
    assert book.lines == ["a | b", "", "c", "d e"]
    assert (book.number(one, 3), book.number(two, 1), book.is_text, book.firsts) == (3, 4, False, [0, 3])
    for place, said in (((1, 1), "l.xlsx!One_1!A1"), ((3, 2), "l.xlsx!One_1!B3"), ((4, 28), "l.xlsx!'It''s'!AB1"),
                        ((4, 0), "l.xlsx!'It''s'!A1")):  # fmt: skip
        assert book.where(*place) == said
    assert "!" not in book.where(0, 1)
    assert [book.cell_text(*at) for at in ((1, 2), (3, 2), (3, 1), (2, 1), (4, 1))] == ["b", "c", "", "", "d\ne"]
    made = book.fault(1, 2, "m", "r")
    assert (made.line, made.column, made.message, made.remedy) == (1, 5, "m", "r")
    assert (book.fault(4, 1, "m", "r").column, book.fault(3, 2, "m", "r").column) == (1, 1)
    plain_text = source.ListDocument("l.md", [Sheet("", [Row(1, [Cell("b", 1, 3)])], ["a b", ""])], None)
    assert (plain_text.where(1, 3), plain_text.lines) == ("l.md:1:3", ["a b", ""])
    assert plain_text.fault(1, 3, "m", "r").column == 3
    assert source.ListDocument("l.csv", [Sheet("", [Row(1, [])])], None).where(1, 1) == "l.csv!A1"
    assert (source.ListDocument("x", [], None).is_text, source.blank(3)) == (False, Row(3, []))
