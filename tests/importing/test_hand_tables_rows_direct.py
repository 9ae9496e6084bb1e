"""Heads, titles over them, units under them and title blocks, asked directly; all expected by hand."""

from __future__ import annotations

import pytest

from harnesscheck.formats._lists import colours, layouts, rows, tables
from harnesscheck.formats._lists.cells import NUMBER, TEXT, Cell, Row, Sheet
from harnesscheck.formats._lists.headers import FROM, TO, Head
from harnesscheck.formats._lists.layouts.headless import is_end
from harnesscheck.formats._lists.tables import Table


def row(*texts: str, kind: str = TEXT, hidden: bool = False, bare: bool = False) -> Row:
    cells = [Cell(text, 1, n, kind if n == len(texts) else TEXT, hidden=hidden) for n, text in enumerate(texts, 1)]
    return Row(1, cells, bare=bare)


def fields(heads: list[Head | None] | None) -> str | None:
    """``end<`` of a from, ``pin>`` of a to, ``-`` of none; None when it is no head."""
    if heads is None:
        return None
    return " ".join((h.field + {FROM: "<", TO: ">", "": ""}[h.side]) if h else "-" for h in heads)


@pytest.mark.parametrize(("texts", "said"), [
    ("From|To", "end< end>"), ("From", None), ("Gauge|Color", None), ("Gauge|Color|Notes", "gauge colour note"),
    ("From|To|x|y", "end< end> - -"), ("From|To|x|y|z", None), ("From|To|7", None), ("From|x", None), ("x|y|z", None),
    ("From||To", "end< - end>"), ("Pin|Signal", "pin signal"), ("Ends|Net", "ends signal"),
    ("Connector|Gender", "ref gender"),
    ("Filo|Da|A", "- end< end>"), ("Da|A", "end< end>"), ("Da|b|Pin|To", "- - pin end>"),
    ("A|To|Pin|x", "- end> pin> -"),
    ("Connector|Pin|Connector|Pin", "ref< pin< ref> pin>"),
    ("Connector|Pin|Connector|Pin|Notes", "ref< pin< ref> pin> note"),
    ("From|Pin|To|Pin", "end< pin< end> pin>"), ("Pin|From|To|Pin", "pin end< end> pin>"),
    ("From|Pin|To|Pin|Pin", "end< pin end> pin pin"),
    ("Item|Conn A|Pin A|Conn B|Pin B", "id ref< pin< ref> pin>"), ("Unit|Conn A|Pin A", "id ref< pin<"),
    ("Unit|Pin|To connector|To pin", "ref pin ref> pin>"), ("Item|Pin|To connector|To pin", "id pin ref> pin>"),
    ("Unit|From pin|To connector|To pin", "id pin< ref> pin>"),
    ("ID|Unit|Conn A|Pin A", "id ref ref< pin<"), ("Unit|ID|Conn A|Pin A", "ref id ref< pin<"),
    ("Item|Connector|Pin", "id ref pin"), ("Item|Wire No.|Connector|Pin", "- id ref pin"),
    ("Item|Pin|Signal", "ref pin signal"),
    ("Connector|Item|Pin", "ref ref pin"), ("From|Contact|To|Contact", "end< pin< end> pin>"),
    ("From|Notes|Contact|To|Contact", "end< note contact end> pin>"),
    ("From|Contact|To|Contact|Contact", "end< contact end> contact contact"),
    ("From|Contact|To|Contact|Pin", "end< contact end> contact pin>"), ("From|Contact|Contact", "end< contact contact"),
])  # fmt: skip
def test_tables_heads_of_a_row(texts: str, said: str | None) -> None:
    assert fields(tables._heads(row(*texts.split("|")), False, False)) == said


@pytest.mark.parametrize(("texts", "said"), [
    ("Signal|x", "signal -"), ("Pin|x", "pin -"), ("From|x", "end< -"), ("Gauge|x", None), ("Signal", None),
    ("x|y", None),
    ("Signal|" + "x" * 30, "signal -"), ("Signal|" + "x" * 31, None), ("Signal|a:", None), ("Signal|7", None),
    ("Signal|x|y", "signal - -"),
])  # fmt: skip
def test_tables_heads_of_a_first_row_with_one_known(texts: str, said: str | None) -> None:
    assert fields(tables._heads(row(*texts.split("|")), False, True)) == said
    assert tables._heads(row(*texts.split("|")), False, False) is None


def test_tables_heads_over_a_rule() -> None:
    """In Markdown a rule makes a head of whatever stands over it, when there is more than one column."""
    assert fields(tables._heads(row("x", "y"), True, False)) == "- -"
    assert fields(tables._heads(row("x", ""), True, False)) == "- -"
    assert tables._heads(row("x"), True, False) is None
    assert tables._heads(row("x", "y", bare=True), True, False) is None
    assert fields(tables._heads(row("From", "To", "Pin", kind=NUMBER), True, False)) == "end< end> -"
    assert fields(tables._heads(row("From", "To", hidden=True), True, False)) == "- -"


@pytest.mark.parametrize(("upper", "lower", "said"), [
    ("From||To|", "Ref|Pin|Ref|Pin", "ref< pin< ref> pin>"),
    ("|From||To|", "ID|Ref|Pin|Ref|Pin", "id ref< pin< ref> pin>"),
    ("From||To||Notes", "Ref|Pin|Ref|Pin", "ref< pin< ref> pin> note"),
    ("From||To", "Ref|Pin|Ref|Pin|Notes", "ref< pin< ref> pin> note"),
    ("From||To||Notes|", "Ref|Pin|Ref|Pin||AWG", "ref< pin< ref> pin> note gauge"),
    ("Notes|From||To|", "|Ref|Pin|Ref|Pin", "note ref< pin< ref> pin>"),
    ("x||y|", "Ref|Pin|Ref|Pin", None), ("From|To|Pin", "From|To|Pin", None), ("From||To|", "x|Pin|y|Pin", None),
    ("From||To|", "Gauge|Color|Notes|", None), ("From||To|", "x|Pin|Ref|Pin", "end< pin< ref> pin>"),
    ("Notes||", "Ref|Pin|Gauge", None),
])  # fmt: skip
def test_tables_heads_of_two_rows(upper: str, lower: str, said: str | None) -> None:
    assert fields(tables._double(row(*upper.split("|")), row(*lower.split("|")))) == said


def test_tables_two_rows_as_one_top() -> None:
    made = tables._one_top(row("a", "", "c"), Row(4, [Cell("", 4, 1), Cell("e", 4, 2)]))
    assert ([c.text for c in made.cells], made.number) == (["a", "e", "c"], 4)
    assert [c.text for c in tables._one_top(row("a"), row("", "b", "c")).cells] == ["a", "b", "c"]


@pytest.mark.parametrize(("titles", "following", "over"), [
    ("|First||Second|", "ID|From|Pin|To|Pin", True), ("a|b", "From|To|Pin|x", False), ("a|b", "From|To|Pin|Pin", True),
    ("a||", "From|To|x", True),
    ("a|b|c", "From|To|Pin|Pin|AWG", False), ("a|7", "From|Pin|To|Pin", False), ("a|b: c", "From|Pin|To|Pin", False),
    ("a|b", "x|y|z|u", False),
])  # fmt: skip
def test_tables_titles_over_groups(titles: str, following: str, over: bool) -> None:
    """Words only, and at most half as many as there are known heads below."""
    assert tables._over(row(*titles.split("|")), row(*following.split("|"))) is over
    assert not tables._over(row(*titles.split("|"), bare=True), row(*following.split("|")))


def test_tables_units_under_the_heads() -> None:
    heads: list[Head | None] = [Head("length"), Head("gauge"), None]
    for said, unit in {"awg": "awg", "GA": "awg", "mm2": "mm2", "(mm²)": "mm2", "[mm]": "mm", "cm.": "cm", "m": "m",
    "in": "in", "inch": "in",
                       "Inches": "in", "ft": "ft", "feet": "ft", '"': "in"}.items():  # fmt: skip
        assert tables._units_of(row(said), heads) == [Head("length", unit=unit), Head("gauge"), None], said
    assert tables._units_of(row("mm", "AWG"), heads) == [Head("length", unit="mm"), Head("gauge", unit="awg"), None]
    assert tables._units_of(row("", "AWG"), heads) == [Head("length"), Head("gauge", unit="awg"), None]
    for bad in (
        row("x"),
        row("mm", "x"),
        row("", "", "mm"),
        row("", "", "", "mm"),
        row(""),
        Row(1, []),
        row("m", kind=NUMBER),
    ):
        assert tables._units_of(bad, heads) is None
    assert tables._units_of(None, heads) is None
    assert heads == [Head("length"), Head("gauge"), None]


@pytest.mark.parametrize(("text", "heading"), [
    ("Left wing", True), ("Front", True), ("Wire:", True), ("J5:", True), ("AB1234C:", True), ("J5", False),
    ("1-2", False), ("A12 - 13", False), ("Total", False),
    ("Total of all", False), ("ABCDE", True),
])  # fmt: skip
def test_tables_heading_in_a_table(text: str, heading: bool) -> None:
    sheet = Sheet("S", [])
    table = Table(sheet, row("From", "To"), [Head("end", FROM), Head("end", TO)])
    assert tables._is_heading(row(text, ""), table, sheet) is heading
    loose = " " in text or ":" in text
    assert tables._is_heading(row(text, ""), table, sheet, False) is (heading and loose)
    assert not tables._is_heading(row("", text), table, sheet)
    assert not tables._is_heading(row(text, "x"), table, sheet)
    assert tables._is_heading(row("", text), table, sheet, False, row("From", "To"))
    assert tables._is_heading(row(text, ""), None, sheet)
    assert tables._is_heading(Row(1, row(text, "x").cells, level=1), table, sheet)


def test_tables_heading_that_tells_a_wire() -> None:
    sheet, text = Sheet("S", []), Sheet("", [], ["x"])
    for said in ("J1:1 -> J2:1", "a => b", "J1-1 -- J2-2", "J1:1 = J2:2", "a <red> b"):
        assert not tables._is_heading(row(said), None, sheet), said
        assert not tables._is_heading(row(said, bare=True), None, text), said
    for said in ("J1-1 to J2-2", "J1-1 -- J2", "J1-1 --- --- J2-2", "words", "J1-1 == J2-2222"):
        assert tables._is_heading(row(said), None, sheet), said
        assert tables._is_heading(row(said, bare=True), None, text), said
    for said in ("1. VCC", "Pin 7: GND", "- A) x", "A - x", "B = y"):
        assert not tables._is_heading(row(said, bare=True), None, text), said
    assert not tables._is_heading(row("words"), None, text)


@pytest.mark.parametrize(("texts", "block"), [
    (("Drawing of it|D-1",), True), (("Drawing|J1-4",), False), (("Drawing|22 AWG",), False), (("Drawing|a -> b",),
    False), (("Drawing|1|2",), False),
    (("Drawing|1",), True), (("ab|cd",), False), (("Drawing of it|D-1", "1|2"), False), (("Rev: J1:4|Drawn by",), True),
    (("J1-1 and J2-1|words",), True), (("Title|A1|B22",), False), (("Title|A1|B222",), True), (("abc",), True),
    (("ab",), False), ((), True),
])  # fmt: skip
def test_rows_of_a_title_block(texts: tuple[str, ...], block: bool) -> None:
    sheet = Sheet("S", [])
    assert rows.is_title_block(sheet, Table(sheet, None, [], [row(*said.split("|")) for said in texts])) is block


def test_layouts_in_the_order_in_which_they_are_asked() -> None:
    asked = {layout.__name__.rpartition(".")[2]: layout.ORDER for layout in layouts.every()}
    assert list(asked.items()) == [
        ("end_list", 10), ("pins_across", 10), ("crosses", 12), ("breaker_schedule", 14), ("connector_list", 15),
        ("through_table", 20),
        ("from_to", 30), ("side_by_side", 40), ("adapter", 50), ("pin_table", 80), ("edges", 90), ("list_items", 95),
        ("headless", 97),
    ]  # fmt: skip


def test_colours_shades() -> None:
    for shade, word in {"light": "light", "lt": "light", "lite": "light", "dark": "dark", "dk": "dark", "pale": "pale",
    "sky": "sky", "lime": "lime",
                        "navy": "navy", "hell": "light", "dunkel": "dark"}.items():  # fmt: skip
        assert colours.colour(f"{shade} BU").value == f"{word} blue"
        assert colours.colour(f"{shade}. blue/WH").value == f"{word} blue/white"


def test_colours_words_of_the_trade() -> None:
    words = "black brown red orange yellow green blue violet purple gray grey white pink tan turquoise natural clear "
    words += "transparent cyan magenta slate beige gold silver bare drain"
    for word in words.split():
        assert colours.colour(word).value == word
        assert colours.colour(f"{word}/BK").value == f"{word}/black"
        assert colours.legend([f"X = {word}"]) == (("X", word),)


def test_headless_ends() -> None:
    ends = {"J1-1": True, "J1:A": True, "J1": False, "J1-1 and J2-2": False, "J1-1, J2-2": False, "pump (J1-1)": False}
    assert {text: is_end(text) for text in ends} == ends
