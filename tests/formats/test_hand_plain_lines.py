"""Which lines are taken apart without the parser, and what it is asked for of the others, counted line by line.

What the lines say, with all its places, is held against the parser's own reading of the same text.
"""

from __future__ import annotations

from typing import Any

import pytest

from harnesscheck import document as reading
from harnesscheck import plainlines
from harnesscheck.block import Block, Items
from harnesscheck.document import Document
from harnesscheck.plainlines import BracedBlock, compose

Asked = list[tuple[str, int, int]]
"""What the parser was asked for: the text, the lines above it, the mappings it lies in."""


def spelt(value: Any) -> Any:
    """Everything of a value that a message can depend on, in order."""
    if isinstance(value, Block):
        return (value.line, value.column, [(key, value.marks[key], spelt(one)) for key, one in value.items()])
    if isinstance(value, Items):
        return (value.line, value.column, value.marks, [spelt(one) for one in value])
    return value


def by_lines(text: str) -> tuple[Block | None, Asked]:
    document, asked = Document("f", text), []

    def slow(part: str, above: int, depth: int) -> Block | None:
        asked.append((part, above, depth))
        wrong: list[Any] = []
        block = reading._compose(document, part, wrong, above, depth)
        return None if wrong else block

    return compose(document.lines, slow), asked


def taken(text: str) -> Asked:
    """The text is read as the parser reads it; returns what the parser was asked for."""
    found, asked = by_lines(text)
    wrong: list[Any] = []
    there = reading._compose(Document("f", text), text, wrong)
    assert found is not None and not wrong
    assert spelt(found) == spelt(there)
    return asked


@pytest.mark.parametrize(
    "text",
    [
        "a: b\n", "a: b", "\n# x\na: b\n\n", "a:  b c \n", "a: b # c\n", "a: -3\n", "a: +28V\n",
        "a: (x) 'y' \"z\" & * ! | > % @ `\n", "a: \u00b0C\n", "\u00e4: \u00e4\n", "a: 28 V, 3 A\n", "_: /x\n", "1: 0\n",
        "a: {b: c}\n", "a: { b: c , d:  e } # f\n", "a:   {b: c}\n", "a b: {c d: e f, g: -1}\n", "a: {b: c}   \n",
        "a:\n  b: c\n", "a: # x\n  b: c\n", "a:\n      b: c\n      d: e\nf: g\n", "a:\n # x\n\n  b: c\n  # y\n  d: e\n",
        "a:\n  b:\n    c:\n      1: d\n      2: e\n    f: g\n    h: i\n  j:\n    c:\n      1: k\n  l: {m: n}\n  o: p\n"
        "q: r\n",
        "a:\n  b:\n    c:\n      1: d\n      2: e\n   # x\n      3: {f: g}\n      4: h\n\n      5: i\n      6: j\n",
        "a:\n  b:\n    c:\n      1: d\n  e:\n    f: g\n    h: i\n",
        "a: {b: c}\nd: {b: c}\ne:\n  f: {b: c}\n  g: {h: b}\n",
    ],
)  # fmt: skip
def test_plain_lines_need_no_parser(text: str) -> None:
    assert taken(text) == []


@pytest.mark.parametrize(
    ("text", "asked"),
    [
        ("a: 'b'\n", [("a: 'b'\n", 0, 0)]),
        ("a: 'b'", [("a: 'b'", 0, 0)]),
        ("a: |\n  b\n", [("a: |\n  b\n", 0, 0)]),
        ("a: |+\n  b\n\n", [("a: |+\n  b\n\n", 0, 0)]),
        ("k: v\n'a': b\nc: d\n\"e\": f\n", [("'a': b\n", 1, 0), ('"e": f\n', 3, 0)]),
        ("a:\n  b: 'c'\n\n  # x\n  d: e\n", [("  b: 'c'\n\n  # x\n", 1, 1)]),
        ("a:\n  b: {c: 'd'}\n  e: {f: g}\n  h: {i: 'j'}\n", [("  b: {c: 'd'}\n", 1, 1), ("  h: {i: 'j'}\n", 3, 1)]),
        ("w:\n- a: b\n-\n  c: d\nk: v\n", [("w:\n- a: b\n-\n  c: d\n", 0, 0)]),
        ("k: v\nw:\n  - a\n  - b\nl: m\n", [("w:\n  - a\n  - b\n", 1, 0)]),
        ("a:\n  b:\n    c: 'd'\n    e: f\n  g: h\n", [("  b:\n    c: 'd'\n    e: f\n", 1, 1)]),
        ("a:\n  x: y\n  b:\n    c: 'd'\n  g: h\n", [("  b:\n    c: 'd'\n", 2, 1)]),
        ("a:\n  b:\n    c:\n      1: d\n      2: 'e'\n      3: f\n  g: h\n",
         [("  b:\n    c:\n      1: d\n      2: 'e'\n      3: f\n", 1, 1)]),
        ("a:\n  b: c\n    d\n  e: f\n", [("  b: c\n    d\n", 1, 1)]),
        ("a: b\n  c\nd: e\n", [("a: b\n  c\n", 0, 0)]),
        ("k: v\na: b\n  c\n", [("a: b\n  c\n", 1, 0)]),
        ("a:\n  b:\n  - c\n  - d\n  e: f\n", [("  b:\n  - c\n  - d\n", 1, 1)]),
        ("a:\n  b: c\n  'd': e\nf: g\n", [("  'd': e\n", 2, 1)]),
        ("a:\n  b:\n    c: d\n  'e':\n    f: g\nh:\n  i: j\n", [("  'e':\n    f: g\n", 3, 1)]),
        ("a:\n  b:\n    c: d\n'e':\n  f: g\nh:\n  i: j\n", [("'e':\n  f: g\n", 3, 0)]),
        ("'e': f\nh:\n  'i': j\n  k: l\n   m\n", [("'e': f\n", 0, 0), ("  'i': j\n", 2, 1), ("  k: l\n   m\n", 3, 1)]),
        ("'a':\n  b: c\n  d: e\nf: g\n  h\n", [("'a':\n  b: c\n  d: e\n", 0, 0), ("f: g\n  h\n", 3, 0)]),
        ("a:\n  'b': c\n  'd': e\n", [("  'b': c\n", 1, 1), ("  'd': e\n", 2, 1)]),
        ("a:\n  b: c\n  d: e\n    f\n", [("  d: e\n    f\n", 2, 1)]), ("w:\n-\n  c: d\n", [("w:\n-\n  c: d\n", 0, 0)]),
        ("a: {b: c,\n  d: e}\n", [("a: {b: c,\n  d: e}\n", 0, 0)]),
        ("a: [b]\n", [("a: [b]\n", 0, 0)]), ("a: {}\n", [("a: {}\n", 0, 0)]),
        ("a: {b: {c: d}}\n", [("a: {b: {c: d}}\n", 0, 0)]),
        ("a: b#c\n", [("a: b#c\n", 0, 0)]), ("a : b\n", [("a : b\n", 0, 0)]),
        ("a: 1:2\n", [("a: 1:2\n", 0, 0)]), ("a:b: c\n", [("a:b: c\n", 0, 0)]), ("a: .5\n", [("a: .5\n", 0, 0)]),
    ],
)  # fmt: skip
def test_the_rest_is_asked_of_the_parser_entry_by_entry(text: str, asked: Asked) -> None:
    assert taken(text) == asked


@pytest.mark.parametrize(
    "text",
    [
        "", "# x\n", "\n\n", "a:\n", "a:\n  b:\n", "a:\nb: c\n", "a:\n  b:\n  c: d\n", "  a: b\n", " 'a': b\n", "- a\n",
        "a: b\na: c\n", "a: {b: c, b: d}\n", "a: b\n'a': c\n", "'a': b\na: c\n", "a:\n  b: c\n  b: d\n",
        "a:\n  b: c\n  'b': d\n", "a:\n  b:\n    c:\n      1: d\n      2: e\n      1: f\n", "a:\n  b: c\n d: e\n",
        "a:\n  b: c\n 'd': e\n", "a:\n  b: c\n   d: e\n", "a: b\n  c: d\n", "a: *b\n", "? a\n", "a: b\n? c\n",
        "a: 'b\nc: d\n", "a:\n  - b\n  c: d\n", "a:\n    b: c\n  - d\n", "a:\n  b:\n    'c': d\n   e: f\n",
        "a: {b:c}\n", "a: {b: c?}\n", "a: b\n- c\n", "a:\n  b: c\n  - d\n", "x: y\na: {b: c, b: d}\n",
        "a:\n    b: c\n   - d\n",
        "a: -\n  b\n",
    ],
)  # fmt: skip
def test_what_does_not_fit_is_left_to_the_parser_with_the_whole_file(text: str) -> None:
    assert by_lines(text)[0] is None


def test_a_line_of_a_thousand_characters_is_the_longest() -> None:
    assert taken("a: " + "x" * 997 + "\n") == []
    long = "a: " + "x" * 998 + "\n"
    assert taken(long + "b: c\n") == [(long, 0, 0)]


def test_twenty_mappings_are_the_deepest() -> None:
    """A text in the twentieth mapping is read; one mapping more is left to the parser."""
    text = "".join(" " * depth + "a:\n" for depth in range(19))
    assert taken(text + " " * 19 + "b: c\n" + " " * 19 + "d: e\n") == []
    assert by_lines(text + " " * 19 + "a:\n" + " " * 20 + "b: c\n")[0] is None


def test_the_parser_is_believed_only_where_it_found_one_entry() -> None:
    lines = ["'a': b", "c: d"]
    two = Block(1, 1)
    two.update(a="b", x="y")
    two.marks.update(a=(1, 1, 1, 6), x=(1, 1, 1, 1))
    one = Block(1, 1)
    one["a"] = "b"
    one.marks["a"] = (1, 1, 1, 6)
    assert compose(lines, lambda text, above, depth: None) is None
    assert compose(lines, lambda text, above, depth: two) is None
    assert compose(lines, lambda text, above, depth: Block(1, 1)) is None
    found = compose(lines, lambda text, above, depth: one)
    assert found == {"a": "b", "c": "d"} and found.marks == {"a": (1, 1, 1, 6), "c": (2, 1, 2, 4)}


def test_columns_in_braces_are_found_when_somebody_asks() -> None:
    found, _ = by_lines("x: {a: b}\n  # {y: z}\nab: { c: d,e: f }\n")
    assert found is not None
    block = found["ab"]
    assert isinstance(block, BracedBlock) and block == {"c": "d", "e": "f"}
    assert (block.line, block.column) == (3, 5)
    assert block.marks == {"c": (3, 7, 3, 10), "e": (3, 12, 3, 15)} and block.marks is block.marks
    with pytest.raises(AttributeError, match="nothing"):
        _ = block.nothing
    assert found["x"].marks == {"a": (1, 5, 1, 8)}


def test_the_first_key_of_a_file_gives_its_place() -> None:
    found, _ = by_lines("# x\n\na: b\n")
    assert found is not None and (found.line, found.column) == (3, 1)
    assert plainlines.MOST_DEPTH < reading.MAX_DEPTH and plainlines.MOST_LINE < 1024  # YAML 1.2.2, section 7.4


@pytest.mark.parametrize(
    ("text", "plain"),
    [("a: b\n", True), ("a: b\r\n", False), ("a: b\tc\n", False), ("a: b #c\n", False), ("a: b # c\n", True),
     ("a: b\n...\n", False), ("a: *b\n", False)],
)  # fmt: skip
def test_a_whole_file_by_its_lines(text: str, plain: bool) -> None:
    found = reading._plain(Document("f", text), text)
    assert (found == {"a": "b"}) if plain else found is None


def test_what_the_parser_refuses_is_not_taken_for_read(monkeypatch: pytest.MonkeyPatch) -> None:
    text = "a: b\n"
    monkeypatch.setattr(plainlines, "compose", lambda lines, slow: Block(1, 1))
    assert reading._plain(Document("f", text), text) == {}
    assert reading._plain(Document("f", "a: [\n"), "a: [\n") is None
    asked = []
    monkeypatch.setattr(plainlines, "compose", lambda lines, slow: asked.append(slow) or slow("  c: 'd'\n", 4, 1))
    found = reading._plain(Document("f", text), text)
    assert found == {"c": "d"} and found.marks == {"c": (5, 3, 5, 6)}
    monkeypatch.setattr(plainlines, "compose", lambda lines, slow: slow("  c: *d\n", 4, 1))
    assert reading._plain(Document("f", text), text) is None
