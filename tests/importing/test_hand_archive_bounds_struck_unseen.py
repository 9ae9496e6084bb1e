"""The parts of a workbook, looked at one by one: how far a sheet reaches, what is struck, hidden or broken in it.

The small parts of XML are written by hand after ECMA-376 part 1 (18.3.1.4, 18.3.1.13, 18.3.1.73, 18.8.22) and ODF 1.3
part 3 (19.763, 20.288, 20.380); what each holds is counted by hand.
"""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pytest

from harnesscheck.fault import InputError
from harnesscheck.formats._lists import archive, bounds, cells, struck, unseen
from harnesscheck.formats._lists.cells import BROKEN

MAIN = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
REL = 'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"'
ODS = " ".join(
    f'xmlns:{n}="urn:oasis:names:tc:opendocument:xmlns:{n}:1.0"' for n in ("office", "table", "text", "style")
)
CALC = 'xmlns:calcext="urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0"'


@pytest.mark.parametrize(("rows", "count"), [
    ("", 0), ('<row r="1"><c r="A1"><v>1</v></c></row>', 1), ('<row r="3"><c r="B3"><v>1</v></c></row>', 6),
    ('<row r="3"><c r="B3"/></row>', 0), ("<row><c/><c><v>1</v></c></row>", 2),
    ("<row/><row><c><v>1</v></c></row>", 2), ('<row r="5"/><row><c><v>1</v></c></row>', 6),
    ('<row r="5"><c><v>1</v></c></row><row r="2"><c r="C2"><v>1</v></c></row>', 15),
    ('<row r="x"><c><v>1</v></c></row>', 1), ('<row r="12345678"><c><v>1</v></c></row>', 1),
    ('<row r="1234567"><c><v>1</v></c></row>', 1234567), ('<row><c r="AA1"><v>1</v></c></row>', 27),
    ('<row><c r="XFD1048576"><v>1</v></c></row>', 16384 * 1048576), ('<row><c r="ABCD1"><v>1</v></c></row>', 1),
    ('<row><c r="C1"/><c><v>1</v></c></row>', 4), ('<row r="2"><c r="A9"><v>1</v></c><c><v>1</v></c></row>', 18),
])  # fmt: skip
def test_bounds_of_a_sheet(rows: str, count: int) -> None:
    """Last row times last column with a value; a cell without a place of its own follows the one before."""
    text = f"<worksheet {MAIN}><sheetData>{rows}</sheetData></worksheet>".encode()
    assert bounds.cells_of(text) == count
    assert bounds.cells_of(text.replace(b"worksheet", b"chartsheet")) == 0


def _ods(rows: str) -> bytes:
    return f"<office:document-content {ODS} {CALC}><table:table>{rows}</table:table></office:document-content>".encode()


@pytest.mark.parametrize(("rows", "count"), [
    ("", 0), ("<R><C><text:p>a</text:p></C></R>", 1), ("<R><C/><C><text:p>a</text:p></C></R>", 2),
    ("<R><C><text:p>a</text:p></C><C/></R>", 1), ("<R><C/></R>", 0), ("<R/><R><C><text:p/></C></R>", 2),
    ('<R><C many="9"/><C><text:p/></C></R>', 10), ('<R rows="5"/><R><C><text:p/></C></R>', 6),
    ('<R rows="5"><C many="2"><text:p/></C></R>', 10), ('<R><C office:value-type="float"/></R>', 1),
    ('<R><covered many="3" office:value-type="float"/></R>', 3), ('<R><C many="x"><text:p/></C></R>', 10**12),
    ('<R><C many="1234567890"><text:p/></C></R>', 10**12), ('<R><C many="123456789"><text:p/></C></R>', 123456789),
    ("<R><C><text:p/></C><C><text:p/></C></R><R><C><text:p/></C></R>", 4),
    ("<R><C><text:p/></C></R></table:table><table:table><R><C/><C><text:p/></C></R>", 2),
    ("<R><C/><C><text:p/></C></R><R/><R/></table:table><table:table><R><C><text:p/></C></R>", 2),
    ("<R><C/><C/><C><text:p/></C></R></table:table><table:table><R/><R><C><text:p/></C></R>", 3),
])  # fmt: skip
def test_bounds_of_an_opendocument_sheet(rows: str, count: int) -> None:
    """Repeated blanks behind the last value count nothing, before it they do; what is no number counts as endless."""
    for short, said in (("covered", "table:covered-table-cell"), ("many=", "table:number-columns-repeated="),
                        ("rows=", "table:number-rows-repeated="), ("<R", "<table:table-row"),
                        ("</R>", "</table:table-row>"),
                        ("<C", "<table:table-cell"), ("</C>", "</table:table-cell>")):  # fmt: skip
        rows = rows.replace(short, said)
    assert bounds.cells_of(_ods(rows)) == count
    assert bounds.cells_of(_ods(rows).replace(b"document-content", b"document")) == count


def packed(parts: dict[str, str | bytes], how: int = zipfile.ZIP_DEFLATED) -> bytes:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", how) as file:
        for name, text in parts.items():
            file.writestr(name, text)
    return made.getvalue()


def refused(data: bytes) -> str:
    with pytest.raises(InputError) as caught:
        archive.look_into(data, "l.xlsx")
    return caught.value.faults[0].message


def test_archive_that_is_no_workbook(monkeypatch: pytest.MonkeyPatch) -> None:
    good = packed({"a.xml": "<a/>", "b.bin": b"\0" * 4000})
    archive.look_into(good, "l.xlsx")
    archive.look_into(packed({"a.xml": "<a/>"}, zipfile.ZIP_STORED), "l.xlsx")
    assert refused(b"text") == "this is not a workbook"
    assert refused(packed({"a.xml": "<a/>"}, zipfile.ZIP_BZIP2)) == "this is not a workbook"
    assert refused(packed({"a.xml": "<worksheet>"})) == "this workbook is damaged"
    assert refused(packed({"a.XML": "text"})) == "this workbook is damaged"
    archive.look_into(packed({"a.txt": "<a>"}), "l.xlsx")
    assert refused(packed({"a.xml": "<!DOCTYPE a><a/>"})) == "this workbook defines XML entities"
    assert refused(packed({"a.rels": "<!ENTITY a>"})) == "this workbook defines XML entities"
    assert refused(packed({"a.xml": "<!DOCTYPE a><a/>".encode("utf-16")})) == "this workbook defines XML entities"
    locked = bytearray(packed({"a.xml": "<a/>"}))
    locked[6] |= 1
    locked[locked.rindex(b"PK\x01\x02") + 8] |= 1
    assert refused(bytes(locked)) == "this workbook is encrypted"
    at = good.index(b"PK\x01\x02")
    lying = good[: at + 24] + (3).to_bytes(4, "little") + good[at + 28 :]
    assert refused(lying) == "a part of this workbook does not unpack to the 3 bytes that it states"
    lying = good[: at + 16] + b"\0\0\0\0" + good[at + 20 :]
    assert refused(lying) == "a part of this workbook does not unpack to the 4 bytes that it states"
    moved = good[:3] + b"\x07" + good[4:]
    assert refused(moved) == "this is not a workbook"
    assert (archive.MAX_UNPACKED, archive.MAX_RATIO, archive.SMALL, archive.MAX_MEMBERS) == (50_000_000, 200, 4096, 200)

    size = len(good)
    monkeypatch.setattr(archive, "MAX_MEMBERS", 2)
    monkeypatch.setattr(archive, "MAX_UNPACKED", 4004)
    archive.look_into(good, "l.xlsx")
    assert refused(packed({"a": "", "b": "", "c": ""})) == "this workbook holds 3 parts"
    monkeypatch.setattr(archive, "MAX_UNPACKED", 4003)
    assert refused(good) == "this workbook unpacks to far more than it holds"
    monkeypatch.setattr(archive, "MAX_UNPACKED", 10**9)
    with zipfile.ZipFile(io.BytesIO(good)) as file:
        small = file.getinfo("b.bin").compress_size
    monkeypatch.setattr(archive, "SMALL", 4000 - 2 * small)
    monkeypatch.setattr(archive, "MAX_RATIO", 2)
    archive.look_into(good, "l.xlsx")
    monkeypatch.setattr(archive, "SMALL", 4000 - 2 * small - 1)
    assert refused(good) == "this workbook unpacks to far more than it holds"
    assert size == len(good)


def test_archive_whose_sheets_reach_far_or_hide(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(archive, "MAX_CELLS", 6)
    sheet = f'<worksheet {MAIN}><row r="3"><c r="B3"><v>1</v></c></row></worksheet>'
    archive.look_into(packed({"s.xml": sheet}), "l.xlsx")
    assert refused(packed({"s.xml": sheet.replace("B3", "C3")})).startswith("a sheet spans 9 cells")
    links = '<Relationships><Relationship Type="x/{}" Target="{}"/></Relationships>'
    for kind, target, good in (
        ("worksheet", "a/S.XML", True), ("worksheet", "a/s.bin", False), ("sharedStrings", "s", False),
        ("styles", "s", False), ("theme", "s.bin", True),
    ):  # fmt: skip
        data = packed({"x.rels": links.format(kind, target)})
        if good:
            archive.look_into(data, "l.xlsx")
        else:
            assert refused(data) == f"a sheet of this workbook is called {target!r}"
    archive.look_into(packed({"x.xml": links.format("worksheet", "s.bin")}), "l.xlsx")
    assert refused(packed({"x.rels": '<a><b Type="x/styles"/></a>'})) == "a sheet of this workbook is called ''"


BOOK = {
    "xl/workbook.xml": f'<workbook {MAIN} {REL}><sheets><sheet name="One" r:id="r1"/>'
    '<sheet name="Two" state="hidden" r:id="r2"/><sheet name="Three" state="visible" r:id="r3"/></sheets></workbook>',
    "xl/_rels/workbook.xml.rels": '<Relationships><Relationship Id="r1" Target="worksheets/one.xml"/>'
    '<Relationship Id="r2" Target="/xl/two.xml"/><Relationship Id="r3" Target="gone.xml"/></Relationships>',
}


def sheet(body: str, columns: str = "") -> str:
    return f"<worksheet {MAIN}>{columns}<sheetData>{body}</sheetData></worksheet>"


def test_struck_cells_of_a_workbook() -> None:
    """Fonts 1 and 3 strike; forms 1 and 3 have them; string 1 is struck in part, string 2 says that it is not."""
    styles = (
        f'<styleSheet {MAIN}><fonts><font/><font><strike/></font><font><strike val="0"/></font>'
        '<font><strike val="1"/></font><font><strike val="false"/></font></fonts><cellXfs><xf/><xf fontId="1"/>'
        '<xf fontId="2"/><xf fontId="3"/><xf fontId="4"/><xf fontId="5"/></cellXfs></styleSheet>'
    )
    strings = (
        f"<sst {MAIN}><si><t>a</t></si><si><r><t>b</t></r><r><rPr><strike/></rPr><t>c</t></r></si>"
        '<si><r><rPr><strike val="0"/></rPr><t>d</t></r></si></sst>'
    )
    one = sheet('<row><c r="A1" s="1"/><c r="B1" s="2"/><c r="C1" s="3"/><c r="D1" s="4"/><c r="E1" s="5"/><c r="F1"/>'
                '<c s="1"/></row><row><c r="AB12" t="s"><v>1</v></c><c r="AC12" t="s"><v>2</v></c><c r="AD12"><v>1</v>'
                '</c><c r="AE12" t="s"/></row>')  # fmt: skip
    parts = {**BOOK, "xl/styles.xml": styles, "xl/sharedStrings.xml": strings, "xl/worksheets/one.xml": one,
             "xl/two.xml": sheet('<row><c r="B2" s="1"/></row>')}  # fmt: skip
    found = {"One": frozenset({(1, 1), (1, 3), (12, 28)}), "Two": frozenset({(2, 2)})}
    assert struck.struck_cells(packed(parts), ".xlsx") == found
    without = {k: v for k, v in parts.items() if k != "xl/sharedStrings.xml"}
    assert struck.struck_cells(packed(without), ".xlsx")["One"] == {(1, 1), (1, 3)}
    without = {k: v for k, v in parts.items() if k != "xl/styles.xml"}
    assert struck.struck_cells(packed(without), ".xlsx") == {"One": {(12, 28)}, "Two": set()}
    plain = {**parts, "xl/styles.xml": styles.replace("<strike/>", "").replace('<strike val="1"/>', "")}
    assert struck.struck_cells(packed({**plain, "xl/sharedStrings.xml": f"<sst {MAIN}/>"}), ".xlsx") == {}
    assert struck.struck_cells(packed({**parts, "xl/two.xml": "<a>"}), ".xlsx") == {}
    first = styles.replace("<fonts><font/>", "<fonts><font><strike/></font>")
    assert (1, 6) in struck.struck_cells(packed({**parts, "xl/styles.xml": first}), ".xlsx")["One"]
    assert struck.struck_cells(packed({}), ".ods") == {}


def ods(rows: str, styles: str = "", columns: str = "") -> bytes:
    body = f'<table:table table:name="W" table:style-name="t">{columns}{rows}</table:table><table:table/>'
    return packed({"content.xml": f"<office:document-content {ODS} {CALC}>{styles}{body}</office:document-content>"})


def test_struck_cells_of_an_opendocument_sheet() -> None:
    style = '<style:style style:name="{}"><style:text-properties style:text-line-through-{}="{}"/></style:style>'
    styles = (
        style.format("a", "style", "solid") + style.format("b", "type", "single") + style.format("c", "style", "none")
    )
    cell = '<table:table-cell table:style-name="{}"/>'
    rows = (
        f"<table:table-row>{cell.format('a')}{cell.format('c')}{cell.format('b')}</table:table-row>"
        '<table:table-row table:number-rows-repeated="3"><table:table-cell/></table:table-row>'
        '<table:table-row><table:table-cell table:number-columns-repeated="2"/>'
        '<table:table-cell table:style-name="a" table:number-columns-repeated="2"/>'
        '<table:table-cell><text:p><text:span text:style-name="b">x</text:span>y</text:p></table:table-cell>'
        '<table:table-cell><text:p><text:span text:style-name="c">x</text:span></text:p></table:table-cell>'
        "</table:table-row>"
    )
    expected = frozenset({(1, 1), (1, 3), (5, 3), (5, 4), (5, 5)})
    assert struck.struck_cells(ods(rows, styles), ".ods") == {"W": expected, "": frozenset()}
    wide = (
        '<table:table-row><table:table-cell table:style-name="a" table:number-columns-repeated="1001"/>'
        "</table:table-row>"
    )
    assert len(struck.struck_cells(ods(wide, styles), ".ods")["W"]) == 1000


def test_unseen_parts_of_a_workbook() -> None:
    columns = (
        '<cols><col min="2" max="3" hidden="1"/><col min="5" hidden="0" max="5"/>'
        '<col max="7" min="7" hidden="true"/></cols>'
    )
    body = (
        '<row r="2" hidden="1"><c r="A2"><v>1</v></c></row><row hidden="true"/><row hidden="0"/>'
        '<row r="9"><c t="e"><v>#REF!</v></c><c t="e"/><c r="E9"><f>A1+1</f></c><c><f>B1</f><v/></c>'
        '<c r="AA9"><f/></c><c t="str"><f>X</f></c><c><f>C1</f><v>3</v></c></row>'
    )
    found = unseen.unseen(packed({**BOOK, "xl/worksheets/one.xml": sheet(body, columns)}), ".xlsx")
    assert {name: made.sheet for name, made in found.items()} == {"One": False, "Two": True, "Three": False}
    one = found["One"]
    assert (one.rows, one.columns) == ({2, 3}, {2, 3, 7})
    assert one.broken == {(9, 1): "#REF!", (9, 2): "#ERROR", (9, 5): "=A1+1", (9, 6): "=B1", (9, 27): "=..."}
    assert found["Two"] == unseen.Unseen(True, set(), set(), {})
    for one_sign, what in (('<row r="1" hidden="1"/>', "rows"), ("<row><c t=\"e\"><v>#N/A</v></c></row>", "broken"),
                           ("<row><c><f>A1</f></c></row>", "broken")):  # fmt: skip
        made = unseen.unseen(packed({**BOOK, "xl/worksheets/one.xml": sheet(one_sign)}), ".xlsx")["One"]
        assert getattr(made, what), one_sign
    prefixed = (
        sheet("<m:row><m:c><m:f>A1</m:f></m:c></m:row>")
        .replace("xmlns=", "xmlns:m=")
        .replace("<worksheet", "<m:worksheet")
    )
    prefixed = (
        prefixed.replace("</worksheet", "</m:worksheet")
        .replace("sheetData>", "sheetData>")
        .replace("<sheetData", "<m:sheetData")
    )
    prefixed = prefixed.replace("</sheetData", "</m:sheetData")
    assert unseen.unseen(packed({**BOOK, "xl/worksheets/one.xml": prefixed}), ".xlsx")["One"].broken == {(1, 1): "=A1"}
    far = sheet("", '<cols><col min="1" max="16384" hidden="1"/><col min="19999" max="30000" hidden="1"/></cols>')
    assert max(unseen.unseen(packed({**BOOK, "xl/worksheets/one.xml": far}), ".xlsx")["One"].columns) == 20_000
    assert unseen.unseen(packed({}), ".xlsx") == {}
    assert unseen.unseen(packed({**BOOK, "xl/worksheets/one.xml": sheet('<row r="x" hidden="1"/>')}), ".xlsx") == {}
    assert unseen.unseen(packed({"content.xml": "<a>"}), ".ods") == {}


def test_unseen_parts_of_an_opendocument_sheet() -> None:
    style = '<style:style style:name="t"><style:table-properties table:display="{}"/></style:style>'
    columns = (
        '<table:table-column table:number-columns-repeated="2"/><table:table-column table:visibility="collapse" '
        'table:number-columns-repeated="2"/><table:table-column table:visibility="visible"/>'
        '<table:table-column table:visibility="filter"/>'
    )
    rows = (
        '<table:table-row table:visibility="visible"><table:table-cell table:number-columns-repeated="2"/>'
        "<table:table-cell>"
        "<text:p>Err:502</text:p></table:table-cell><table:table-cell><text:p>#REF!</text:p></table:table-cell>"
        "</table:table-row>"
        '<table:table-row table:visibility="filter" table:number-rows-repeated="2"/><table:table-row><table:table-cell>'
        '<text:p>#N/A</text:p></table:table-cell><table:table-cell calcext:value-type="error"/><table:table-cell '
        'calcext:value-type="float"><text:p>Err:1</text:p></table:table-cell></table:table-row>'
        '<table:table-row table:visibility="collapse"/>'
    )
    made = unseen.unseen(ods(rows, style.format("false"), columns), ".ods")["W"]
    assert (made.sheet, made.columns, made.rows) == (True, {3, 4, 6}, {2, 3, 5})
    assert made.broken == {(1, 3): "Err:502", (1, 4): "#REF!", (4, 1): "#N/A", (4, 2): "#ERROR"}
    assert not unseen.unseen(ods(rows, style.format("true"), columns), ".ods")["W"].sheet
    many = (
        '<table:table-row table:visibility="filter" table:number-rows-repeated="20001"/>'
        '<table:table-row table:visibility="filter"/>'
    )
    assert sorted(unseen.unseen(ods(many), ".ods")["W"].rows)[-2:] == [20_000, 20_002]
    wide = '<table:table-column table:visibility="collapse" table:number-columns-repeated="20001"/>'
    assert max(unseen.unseen(ods("", "", wide), ".ods")["W"].columns) == 20_000


def test_cells_of_a_workbook_with_all_of_it(tmp_path: Path) -> None:
    """Broken cells get the text that they show, hidden ones their mark, merged ones what stands above them."""
    import xlsxwriter

    path = tmp_path / "l.xlsx"
    book = xlsxwriter.Workbook(str(path))
    one = book.add_worksheet("One")
    for at, value in (("A1", "a"), ("B1", "b"), ("A2", "m"), ("B2", "x"), ("B3", "y")):
        one.write(at, value)
    one.merge_range("A2:A3", "m")
    one.set_row(2, None, None, {"hidden": True})
    one.set_column("B:B", None, None, {"hidden": True})
    book.add_worksheet("Two").hide()
    chart = book.add_chart({"type": "line"})
    chart.add_series({"values": "=One!$B$2:$B$3"})
    book.add_chartsheet("Chart").set_chart(chart)
    book.close()
    with zipfile.ZipFile(path) as file:
        parts = {name: file.read(name) for name in file.namelist()}
    name = "xl/worksheets/sheet1.xml"
    parts[name] = parts[name].replace(
        b"</sheetData>", b'<row r="4"><c r="B4"><v>7</v></c><c r="D4"><f>A1</f></c></row></sheetData>'
    )
    path.write_bytes(packed(dict(parts)))
    first, second = cells.read(path, "l.xlsx")
    assert (first.name, first.hidden, second.name, second.hidden) == ("One", False, "Two", True)
    texts = [[c.text for c in row.cells] for row in first.rows]
    assert [said[:2] for said in texts] == [["a", "b"], ["m", "x"], ["m", "y"], ["", "7"]]
    assert [row.hidden for row in first.rows] == [False, False, True, False]
    assert [c.hidden for c in first.rows[0].cells][:2] == [False, True]
    last = first.rows[3].cells
    assert [(c.text, c.row, c.column, c.kind) for c in last[2:]] == [("", 4, 3, "text"), ("=A1", 4, 4, BROKEN)]
    assert last[3].typed == "=A1"


def test_cells_of_a_workbook_that_cannot_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    import python_calamine

    path = tmp_path / "l.xlsx"
    path.write_bytes(packed({"a.xml": "<a/>"}))
    with pytest.raises(InputError, match="this workbook cannot be read"):
        cells.read(path, "l.xlsx")

    class Panic(BaseException):
        pass

    class Book:
        error: type[BaseException] = Panic

        @classmethod
        def from_filelike(cls, file: object) -> None:
            raise cls.error

    monkeypatch.setattr(python_calamine, "CalamineWorkbook", Book)
    with pytest.raises(InputError, match="this workbook is damaged"):
        cells.read(path, "l.xlsx")
    for error in (KeyboardInterrupt, SystemExit, MemoryError):
        Book.error = error
        with pytest.raises(error):
            cells.read(path, "l.xlsx")
