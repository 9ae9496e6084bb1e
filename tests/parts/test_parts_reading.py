"""A parts file that breaks a rule is refused, with file, line and column of the very word that breaks it."""

from __future__ import annotations

import textwrap

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnesscheck.document import parse
from harnesscheck.fault import InputError
from harnesscheck.parts import values
from harnesscheck.parts.fields import FIELDS, RESERVED
from harnesscheck.parts.reading import read_records
from harnesscheck.source import Source, Status

HEAD = """\
kind: parts
sources:
  S1: {document: a sheet, grade: standard text}
  S2: {document: a page, grade: third-party page}
  S3: {document: "none: recalled", grade: recalled}
parts:
  X-1:
"""
"""Seven lines; the cases below go on at line 8."""


def _bad(lines: str) -> list[tuple[int, int, str, str]]:
    with pytest.raises(InputError) as caught:
        read_records(parse(HEAD + textwrap.indent(textwrap.dedent(lines), "    "), "drawer.yaml"))
    assert all(fault.file == "drawer.yaml" for fault in caught.value.faults)
    return [(fault.line, fault.column, fault.message, fault.remedy) for fault in caught.value.faults]


CONTACT = "kind: contact\nfacts:\n"

REFUSED = [
    ("kind: conact\nfacts: [{status: from memory, note: x}]", 8, 11, "X-1: kind 'conact' is not known", "'contact'"),
    ("facts: [{status: from memory, note: x}]", 7, 3, "X-1 has no kind", "write one of: "),
    ("kind: contact", 7, 3, "X-1 has no facts", "write 'facts:'"),
    ("kind: contact\nfacts: []", 9, 12, "X-1 has no facts", "write 'facts:'"),
    (
        "kind: contact\ncolour: red\nfacts: [{status: from memory, note: x}]",
        9,
        5,
        "'colour' is no key of a part",
        "facts",
    ),
    (CONTACT + "  - just text", 10, 9, "a statement is not a mapping", "status"),
    (CONTACT + "  - {status: [confirmed], gender: pin}", 10, 18, "status is not a text", "one text"),
    (CONTACT + "  - {gender: pin}", 10, 9, "this statement has no status", "confirmed"),
    (CONTACT + "  - {status: certain, gender: pin}", 10, 18, "status 'certain' is not known", "confirmed"),
    (
        CONTACT + "  - {status: shop confirmed, gender: pin}",
        10,
        18,
        "status 'shop confirmed' is not known",
        "'shop-confirmed'",
    ),
    (CONTACT + "  - {status: from memory}", 10, 9, "this statement says nothing", "field"),
    (CONTACT + "  - {status: confirmed, gender: pin}", 10, 9, "a confirmed statement names no source", "source: KEY"),
    (
        CONTACT + "  - {status: second hand, gender: pin}",
        10,
        9,
        "a second hand statement names no source",
        "source: KEY",
    ),
    (
        CONTACT + "  - {status: derived, rule: a, gender: pin}",
        10,
        9,
        "a derived statement names no source",
        "source: KEY",
    ),
    (CONTACT + "  - {status: derived, source: S1 p1, gender: pin}", 10, 9, "a derived value has no rule", "rule"),
    (
        CONTACT + "  - {status: confirmed, source: S1, rule: a, gender: pin}",
        10,
        9,
        "a rule belongs to a derived",
        "remove",
    ),
    (CONTACT + "  - {status: confirmed, source: S9 p1, gender: pin}", 10, 37, "source 'S9' is not listed", "S1"),
    (
        CONTACT + "  - {status: confirmed, source: S2 p1, gender: pin}",
        10,
        18,
        "'third-party page' cannot make",
        "second hand",
    ),
    (CONTACT + "  - {status: confirmed, source: S3, gender: pin}", 10, 18, "'recalled' cannot make", "from memory"),
    (
        CONTACT + "  - {status: second hand, source: S1, gender: pin}",
        10,
        18,
        "'standard text' cannot make",
        "confirmed",
    ),
    (CONTACT + "  - {status: from memory, gendre: pin}", 10, 31, "'gendre' is no field of a contact", "'gender'"),
    (CONTACT + "  - {status: from memory, gender: male}", 10, 39, "gender cannot be read", "pin, socket"),
    (CONTACT + "  - {status: from memory, gauge: 22 AWG to 28 AWG}", 10, 38, "gauge cannot be read", "thinner"),
    (CONTACT + "  - {status: from memory, gauge: 22-28}", 10, 38, "gauge cannot be read", "28 AWG to 22 AWG"),
    (CONTACT + "  - {status: from memory, insulation: 0.76 to 1.37}", 10, 43, "insulation cannot be read", "unit"),
    (
        CONTACT + "  - {status: from memory, insulation: 1.4 mm to 0.8 mm}",
        10,
        43,
        "insulation cannot be read",
        "smaller",
    ),
    (CONTACT + "  - {status: from memory, rated current: '5'}", 10, 46, "rated current cannot be read", "5 A"),
    (CONTACT + "  - {status: from memory, well depth: '0,141 in'}", 10, 43, "well depth cannot be read", "comma"),
    (CONTACT + "  - {status: from memory, family: 38999-III}", 10, 39, "family cannot be read", "square brackets"),
    (CONTACT + "  - {status: from memory, family: [A, A]}", 10, 39, "family cannot be read", "twice"),
    (CONTACT + "  - {status: from memory, gender: [pin]}", 10, 39, "gender cannot be read", "one text"),
    (CONTACT + "  - {status: from memory, bands: [[a]]}", 10, 38, "bands is nested", "texts only"),
    (CONTACT + "  - {status: from memory, by: me, gender: pin}", 10, 31, "'by' belongs to a shop-confirmed", "source"),
    (CONTACT + "  - {status: shop-confirmed, gender: pin}", 10, 9, "lacks document, by, date", "add document"),
    (
        CONTACT + "  - {status: shop-confirmed, document: AS39029/58, date: 2031-05-24, gender: pin}",
        10,
        9,
        "a shop-confirmed statement lacks by",
        "add document",
    ),
    (
        CONTACT + "  - {status: shop-confirmed, document: d, by: A. Fitter, date: 2031-02-30, gender: pin}",
        10,
        68,
        "date '2031-02-30' cannot be read",
        "2031-05-24",
    ),
    (
        CONTACT
        + "  - {status: confirmed, source: S1 p1, size: 22D}\n  - {status: confirmed, source: S1 p2, size: '20'}",
        11,
        50,
        "X-1: size is confirmed twice with different values",
        "line 10",
    ),
    (CONTACT + "  - {status: from memory, gender: pin}\nunknown: [stripp]", 11, 15, "'stripp' is no field", "'strip'"),
    (CONTACT + "  - {status: from memory, gender: pin}\nunknown: strip", 11, 14, "unknown is not a list", "brackets"),
]


@pytest.mark.parametrize(("lines", "line", "column", "message", "remedy"), REFUSED)
def test_refused(lines: str, line: int, column: int, message: str, remedy: str) -> None:
    found = _bad(lines)
    assert [(at, col) for at, col, _, _ in found] == [(line, column)], found
    assert message in found[0][2]
    assert remedy in found[0][3]


@pytest.mark.parametrize(
    ("text", "line", "column", "message"),
    [
        ("kind: jumper\n", 1, 7, "this is not a parts file"),
        ("parts: {}\n", 1, 1, "this is not a parts file"),
        ("kind: parts\nsources: []\n", 2, 10, "sources is not a mapping"),
        ("kind: parts\nparts:\n  X-1: pin\n", 3, 8, "X-1 is not a mapping"),
        ("kind: parts\nsources:\n  S1: {grade: standard text}\n", 3, 3, "source S1 names no document"),
        ("kind: parts\nsources:\n  S1: {document: a, grade: good}\n", 3, 28, "source S1 has no known grade"),
        ("kind: parts\nsources:\n  S1: {document: a}\n", 3, 3, "source S1 has no known grade"),
        ("kind: parts\nsources:\n  a b: {document: a, grade: recalled}\n", 3, 3, "source key 'a b' holds a blank"),
        ("kind: parts\nsources:\n  S1: {document: [a], grade: recalled}\n", 3, 18, "document is not a text"),
        ("kind: parts\nmade: by us\n", 2, 1, "'made' is no key of a parts file"),
    ],
)
def test_refused_head(text: str, line: int, column: int, message: str) -> None:
    with pytest.raises(InputError) as caught:
        read_records(parse(text, "drawer.yaml"))
    first = caught.value.faults[0]
    assert (first.line, first.column) == (line, column), caught.value
    assert message in first.message


def test_every_fault_is_reported_at_once() -> None:
    found = _bad(CONTACT + "  - {status: from memory, gender: male, gauge: thin}\n  - {status: confirmed, size: 22D}")
    assert [message for _, _, message, _ in found] == [
        "gender cannot be read",
        "gauge cannot be read",
        "a confirmed statement names no source",
    ]


def test_the_same_value_confirmed_twice_is_no_conflict() -> None:
    facts = "".join(f"  - {{status: confirmed, source: S1 p1, well depth: {depth}}}\n" for depth in ("1 in", "25.4 mm"))
    text = HEAD + textwrap.indent(CONTACT + facts, "    ")
    (record,) = read_records(parse(text, "drawer.yaml"))
    assert len(record.said["well depth"]) == 2


def test_a_source_is_built_from_key_paragraph_and_rule() -> None:
    facts = "  - {status: derived, source: S1 p18 and p19, rule: drop over current, resistance: 14.6 mohm}"
    (record,) = read_records(parse(HEAD + textwrap.indent(CONTACT + facts, "    "), "drawer.yaml"))
    assert record.said["resistance"][0].fact.source == Source(
        "a sheet", Status.DERIVED, paragraph="p18 and p19; rule: drop over current"
    )


def test_a_source_cited_in_a_file_without_sources() -> None:
    text = "kind: parts\nparts:\n  X-1:\n    kind: contact\n    facts: [{status: confirmed, source: S1, gender: pin}]\n"
    with pytest.raises(InputError) as caught:
        read_records(parse(text, "drawer.yaml"))
    assert [(fault.message, fault.remedy) for fault in caught.value.faults] == [
        ("source 'S1' is not listed under sources", "list it there first")
    ]


_WORDS = st.sampled_from(
    ["parts", "sources", "kind", "contact", "facts", "unknown", "status", "confirmed", "derived", "shop-confirmed",
     "from memory", "source", "S1", "rule", "document", "by", "date", "grade", "recalled", "gender", "gauge", "note",
     "22 AWG to 28 AWG", "0.1 in", "X-1", "", " ", "2031-05-24"]
)  # fmt: skip
_SHAPES = st.recursive(
    _WORDS, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(_WORDS, inner, max_size=5), max_leaves=25
)


def _flow(value: object) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_flow(key)}: {_flow(one)}" for key, one in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_flow(one) for one in value) + "]"
    return f'"{value}"'


@settings(max_examples=300, deadline=None, derandomize=True)
@given(
    st.just({}) | st.dictionaries(_WORDS, _SHAPES, max_size=3),
    st.just({}) | st.dictionaries(_WORDS, _SHAPES, max_size=3),
    st.just({"status": "from memory", "note": "a"}) | st.just({"status": "confirmed", "source": "S1 p1", "size": "20"}),
)
def test_no_shape_of_file_gets_past_the_reader_as_another_error(
    part: dict[str, object], spoil: dict[str, object], statement: dict[str, object]
) -> None:
    """Right words in wrong places: the reader either takes the file or refuses it with a place, never falls over."""
    record = {"kind": "contact", "facts": [{**statement, **spoil}], **part}
    sources = {"S1": {"document": "a", "grade": "standard text"}}
    text = _flow({"kind": "parts", "sources": sources, "parts": {"X-1": record}})
    try:
        records = read_records(parse(text, "drawer.yaml"))
    except InputError as error:
        assert error.faults and all(fault.line == 1 and fault.column >= 1 for fault in error.faults)
    else:
        assert [one.number for one in records] == ["X-1"] and records[0].said


def test_no_field_is_called_like_a_word_of_origin() -> None:
    assert {name for fields in FIELDS.values() for name in fields} & RESERVED == set()


@pytest.mark.parametrize(
    ("read", "good", "other"),
    [
        (values.length, "3 mm", "٣ mm"),
        (values.offset, "-1.5 mm", "-١.٥ mm"),
        (values.count, "12", "१२"),
        (values.point, "0.5 -0.5", "0.٥ -0.5"),
        (values.force, "12 lbf", "１２ lbf"),
        (values.current, "5 A", "５ A"),
    ],
)
def test_digits_of_other_scripts_are_no_numbers(read: values.Parser, good: str, other: str) -> None:
    read(good)
    with pytest.raises(ValueError, match="write"):
        read(other)
