"""Text with places: what a file becomes, and every refusal where it stands; marks are counted in the texts.

A ``§`` stands before what the fault is about. YAML's own rules: YAML 1.2.2, https://yaml.org/spec/1.2.2.
"""

from __future__ import annotations

import gc
import hashlib
import os
from pathlib import Path

import pytest
from ruamel.yaml.error import YAMLError

import harnesscheck as hc
from harnesscheck import document as doc
from harnesscheck.document import Block, Document, Items, file_kind, inside, parse
from tests.formats.marked import places, refused, same

TAG, ANCHOR = "remove the tag: every value is read as text", "remove the anchor: aliases are not read"
ALIAS, FLAT = "write the value out: aliases are not read", "use plain text as the key"
TOP = "start it with 'kind: jumper', one 'key: value' a line, with a blank after the colon"
EMPTY = "start it with what it is: 'kind: jumper', or airframe, equipment, ..."
CUT = "put quotes round the text; if it is a remark, put a blank after the #"
BRACE, BRACKET = (f"the {sign} opened here is not closed, or a comma is missing in it" for sign in "{[")
START, COLON = "a text cannot start with this character", "a colon where no key can stand"
OTHER = "look for a missing quote, bracket, comma or indent here or on the line before"
QUOTE, CLOSE = "the quote opened here is not closed", "close the quote on the same line"
KEY, KEY_DO = "no colon behind this text, or one inside it", "write 'key: value', or quote the text"
INDENT = "check the indent, or quote a text that holds ': '"


@pytest.mark.parametrize(
    ("text", "message", "remedy"),
    [
        ("§", "this file is empty", EMPTY),
        ("§# a remark\n", "this file is empty", EMPTY),
        ("§{}\n", "this file is empty", EMPTY),
        ("§- a\n", "the file is not a mapping of keys to values", TOP),
        ("\n  §text\n", "the file is not a mapping of keys to values", TOP),
        ("a: b\n§---\nc: d\n", "a second document in one file", "keep one document a file"),
        ("a: b\nc:\n  d: §*e\n", "alias *e", ALIAS),
        ("a: b\n§*e : f\n", "alias *e", ALIAS),
        ("a: [b, §*e]\n", "alias *e", ALIAS),
        ("a:\n  b: §!!str c\n", "tag tag:yaml.org,2002:str", TAG),
        ("a: §!x {b: c}\n", "tag !x", TAG),
        ("a: §!x [b]\n", "tag !x", TAG),
        ("a: §&x b\n", "anchor &x", ANCHOR),
        ("a: §&x [b]\n", "anchor &x", ANCHOR),
        ("§&x a: b\n", "anchor &x", ANCHOR),
        ("a:\n  §<<: b\n", "merge key <<", "write the keys out"),
        ("a:\n  §'': b\n", "empty key", "give the key a name"),
        ("a:\n  b: c\n  d: e\n  §b: f\n", "key 'b' is given twice (first on line 2)", "keep one of them"),
        ("a: {b: c, §b: d}\n", "key 'b' is given twice (first on line 1)", "keep one of them"),
        ("§[a]: b\n", "a key that is itself a list or a mapping", FLAT),
        ("x:\n  §{a: b}: c\n", "a key that is itself a list or a mapping", FLAT),
        ("x:\n  §{a: {b: c}}: {a: b, a2: c}\n  d: e\n", "a key that is itself a list or a mapping", FLAT),
        ('a: §"b\\u200b"\n', "this text holds the hidden character U+200B (zero width space)", "write plain text"),
        ('a: §"b\\u2800\\u0007"\n', "this text holds the hidden character U+2800 (braille pattern blank)",
         "write plain text"),
        ('a: §"b\\u2800"\n', "this text holds the hidden character U+2800 (braille pattern blank)", "write plain text"),
        ("a: §[b,\tc\nd: e\n", f"not valid YAML: {BRACKET}", "add the ] or the comma"),
        ("§*e : f\nf: f\n", "alias *e", ALIAS),
        ("§[a, b, a, c]: d\n", "a key that is itself a list or a mapping", FLAT),
        ("a§\u200b: !x b\n", "hidden or control character U+200B (zero width space)",
         "delete it and type the text again"),
        ('a: {§"b\\x1b": c}\n', "this text holds the hidden character U+001B", "write plain text"),
        ("a:\n  b: §LAMP #2\n", "'LAMP' is cut off before '#2'", CUT),
        ("a:\n  b: §LAMP\t#2 x\n", "'LAMP' is cut off before '#2'", CUT),
        ("a: {b: c,\n  d: §e #f\n  }\n", "'e' is cut off before '#f'", CUT),
        ("a:\n  b§\u200b: c\n", "hidden or control character U+200B (zero width space)",
         "delete it and type the text again"),
        ('a:\n  b: "§\\q"\n',
         "not valid YAML: \\ followed by this letter means nothing",
         "write the text in single quotes"),
        ("a:\n  b: §'c\nd: e\n", f"not valid YAML: {QUOTE}", CLOSE),
        ('a:\n  b: §"c\nd: e\n', f"not valid YAML: {QUOTE}", CLOSE),
        ("a: §{b: c\nd: e\n", f"not valid YAML: {BRACE}", "add the } or the comma"),
        ("a: §[b, c\nd: e\n", f"not valid YAML: {BRACKET}", "add the ] or the comma"),
        ("a:\n  b: {c: §[d}\n", f"not valid YAML: {BRACKET}", "add the ] or the comma"),
        ("a: b§: c\n", f"not valid YAML: {COLON}", INDENT),
        ("a: b\n c§: d\n", f"not valid YAML: {COLON}", INDENT),
        ("a: §@b\n", f"not valid YAML: {START}", "put the text in quotes"),
        ("a: b\n§c\nd: e\n", f"not valid YAML: {KEY}", KEY_DO),
        ("%b§\na: c\n", "not valid YAML: a line cannot start with %", "put the text in quotes"),
        ("{a: b} §c\n", "not valid YAML: more text after the end of the file's mapping",
         "remove the bracket or text too many"),
        ("a: {b: c}§}\n", "not valid YAML: this line cannot be read", OTHER),
        ("a: b\n§\tc: d\n", "not valid YAML: a tab in the indent", "indent with blanks, not tabs"),
        ("a:\n§ \tb: c\n", "not valid YAML: a tab in the indent", "indent with blanks, not tabs"),
    ],
)  # fmt: skip
def test_what_is_refused_and_where(text: str, message: str, remedy: str) -> None:
    plain, ((line, column),) = places(text)
    if "tab in the indent" in message:  # the parser stands at the line's first text or before it
        found = refused(lambda: parse(plain, "f.yaml"))
        assert [(f[1], f[3], f[4]) for f in found] == [(line, message, remedy)]
        return
    same(refused(lambda: parse(plain, "f.yaml")), [("f.yaml", line, column, message, remedy)])


def test_several_faults_of_one_file() -> None:
    text = "a: §*b\nc:\n  d: §§!x &y e\n  §<<: f\n  g: {h: i}\n  §g: {§<<: j}\n§[k, §*l]: §*m\nn: o\n§n: §*p\n"
    text += "§{q: r, §q: s}: t\n§*u : v\nw: §*x\n"
    plain, marks = places(text)
    said = [f[3] for f in refused(lambda: parse(plain, "f.yaml"))]
    assert [(f[1], f[2]) for f in refused(lambda: parse(plain, "f.yaml"))] == marks
    assert said == [
        "alias *b", "anchor &y", "tag !x", "merge key <<", "key 'g' is given twice (first on line 5)", "merge key <<",
        "a key that is itself a list or a mapping", "alias *l", "alias *m", "key 'n' is given twice (first on line 8)",
        "alias *p", "a key that is itself a list or a mapping", "key 'q' is given twice (first on line 10)", "alias *u",
        "alias *x",
    ]  # fmt: skip


def test_the_fault_that_stops_the_parser_comes_with_those_before_it() -> None:
    plain, marks = places("a: §*b\nc: §@d\ne: *f\n")
    assert [(f[1], f[2]) for f in refused(lambda: parse(plain, "f.yaml"))] == marks


def test_two_hundred_faults_are_collected() -> None:
    text = "".join(f"k{n}: *a\n" for n in range(205))
    found = refused(lambda: parse(text, "f.yaml"))
    assert [(f[1], f[2]) for f in found] == [(n, len(f"k{n - 1}: ") + 1) for n in range(1, 201)]


def test_long_texts_and_deep_nesting() -> None:
    assert parse("a: " + "x" * 4000 + "\n", "f").root["a"] == "x" * 4000
    plain, marks = places("a: §" + "x" * 4001 + "\nb: {c: §'" + "y" * 4002 + "'}\n")
    assert [f[1:] for f in refused(lambda: parse(plain, "f"))] == [
        (*marks[0], "text of 4001 characters", "keep a value under 4000 characters"),
        (*marks[1], "text of 4002 characters", "keep a value under 4000 characters"),
    ]
    deep = "a: " + "[" * 49 + "]" * 49 + "\n"  # the file's mapping is the first level of fifty
    assert isinstance(parse(deep, "f").root["a"], Items)
    (fault,) = refused(lambda: parse("a: " + "[" * 50 + "]" * 50 + "\n", "f"))
    assert fault[1:] == (1, 3 + 50, "nested deeper than 50 levels", "flatten this part of the file")
    deep = "k: v\na:\n  b: " + "[" * 48 + "]" * 48 + "\n"  # the file and the section are two
    assert isinstance(parse(deep, "f").root["a"]["b"], Items)
    (fault,) = refused(lambda: parse(deep.replace("[]", "[[]]"), "f"))
    assert fault[1:4] == (3, 6 + 48, "nested deeper than 50 levels")
    (fault,) = refused(lambda: parse("b: {c: '#'}\na: " + "{x: " * 50 + "y" + "}" * 50 + "\n", "f"))
    assert fault[1:4] == (2, 4 + 4 * 49, "nested deeper than 50 levels")


def test_the_caps() -> None:
    """As docs/threats.md and the messages state them."""
    assert (doc.MAX_BYTES, doc.MAX_MARKS, doc.MAX_DEPTH, doc.MAX_SCALAR) == (50_000_000, 4_000_000, 50, 4_000)


def test_a_file_of_too_many_values(monkeypatch: pytest.MonkeyPatch) -> None:
    """Signs that part values are counted: line ends, commas, colons, brackets that open; the text must be longer."""
    monkeypatch.setattr(doc, "MAX_MARKS", 9)
    good, bad = "a: [b, {c: d}]\n", "a: [b, {c: d}, e, f, g]\n"  # 1+1+2+1+1 = 6 signs; 3 more and two of them
    assert parse(good, "f").root["a"][0] == "b"
    assert parse("a: [b, {c: d}, e, f, g]\n", "f").root["a"][4] == "g"  # nine
    (fault,) = refused(lambda: parse(bad.replace("g]", "g, h]"), "f"))
    assert fault[1:] == (1, 1, "this file holds more than 9 values", "split the job, or take out what is no part of it")


# -- what a file becomes -----------------------------------------------------------------------------------------------


def test_keys_and_values_have_places() -> None:
    root = parse("a: b\nc:\n  - d\n  - {e: f, 'g': [h]}\n  -\n    i: |\n      j\nk: {l: \"m\"}\nn:\no: # p\n", "f").root
    assert root == {"a": "b", "c": ["d", {"e": "f", "g": ["h"]}, {"i": "j\n"}], "k": {"l": "m"}, "n": "", "o": ""}
    assert (root.line, root.column) == (1, 1)
    assert root.marks["a"] == (1, 1, 1, 4) and root.marks["c"] == (2, 1, 3, 3) and root.marks["k"] == (8, 1, 8, 4)
    items = root["c"]
    assert isinstance(items, Items) and (items.line, items.column) == (3, 3)
    assert items.marks == [(3, 5), (4, 5), (6, 5)]
    inner = items[1]
    assert isinstance(inner, Block) and (inner.line, inner.column) == (4, 5)
    assert inner.marks == {"e": (4, 6, 4, 9), "g": (4, 12, 4, 17)} and inner["g"].marks == [(4, 18)]
    assert items[2].marks == {"i": (6, 5, 6, 8)}
    assert root["k"].marks == {"l": (8, 5, 8, 8)}


@pytest.mark.parametrize("text", ["no", "07", "1:2", "1_0", "null", "~", "2026-01-02", "0x1F", "1e3", "true"])
def test_no_text_becomes_anything_else(text: str) -> None:
    assert parse(f"a: {text}\n'b': c\n", "f").root == {"a": text, "b": "c"}


@pytest.mark.parametrize(
    ("text", "value"),
    [("a: 'x #2'\n", "x #2"), ("a: 'x' #2\n", "x"), ("a: x # 2\n", "x"), ("a: x#2\n", "x#2"),
     ("a: |\n  x #2\n", "x #2\n"),
     ('a: "x #2\\n\\ty"\n', "x #2\n\ty"), ("\ufeffa: x\n", "x"), ("a: x\r\n", "x"), ("'<<': y\na: x\n", "x"),
     ("a: x #\n", "x"), ("--- \na: x\n...\n", "x"), ("'a': \"\\u00e4\"\n", "\u00e4"), ("a: x #  2\n'b': c\n", "x")],
)  # fmt: skip
def test_what_is_read(text: str, value: str) -> None:
    assert parse(text, "f").root["a"] == value
    assert parse(text.encode(), "f").root["a"] == value


def test_what_is_no_fault_of_a_line_is_said_of_the_file(monkeypatch: pytest.MonkeyPatch) -> None:
    """No text is known that makes the parser say this."""

    class Odd:
        def __init__(self, text: str) -> None:
            raise YAMLError("odd")

    monkeypatch.setattr("_ruamel_yaml.CParser", Odd)
    found = refused(lambda: parse("a: 'b'\n", "f.yaml"))
    assert found == [("f.yaml", 1, 1, "not valid YAML: odd", "save the file as plain UTF-8 text")]


def test_lines_of_a_document() -> None:
    found = Document("f.yaml", "one\r\ntwo")
    assert [found.line(n) for n in (-1, 0, 1, 2, 3, 4)] == ["", "", "one", "two", "", ""]
    assert (found.root, found.root.line, found.root.column) == ({}, 1, 1)
    assert found.where(3, 4) == "f.yaml:3:4" and found.origin(7) == (found, 7) and found.sha256 == ""
    fault = found.fault(2, 1, "m", "r")
    assert (fault.file, fault.line, fault.column, fault.message, fault.text, fault.remedy, fault.at) == (
        "f.yaml", 2, 1, "m", "two", "r", "",
    )  # fmt: skip


# -- files -------------------------------------------------------------------------------------------------------------


def test_reading_a_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("a.yaml").write_bytes(b"a: \xc3\xa4\r\n")
    found = doc.read(Path("a.yaml"))
    assert (found.name, found.path, found.root) == ("a.yaml", Path("a.yaml"), {"a": "\u00e4"})
    assert found.sha256 == hashlib.sha256(b"a: \xc3\xa4\r\n").hexdigest()
    assert doc.read(Path("a.yaml"), "typed").name == "typed"
    Path("folder").mkdir()
    os.mkfifo("pipe")
    do = "give the path of a harness file written as UTF-8 text"
    for name, said in (
        ("none", "does not exist"),
        ("folder", "is a folder, not a file"),
        ("pipe", "is not an ordinary file"),
        ("a.yaml/b", "cannot be read (NotADirectoryError)"),
        ("a\0b", "cannot be read (ValueError)"),
    ):
        assert refused(lambda name=name: doc.read(Path(name))) == [(name, 1, 1, f"this file {said}", do)]  # type: ignore[misc]


def test_a_file_as_large_as_may_be(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(doc, "MAX_BYTES", 5_000_000)
    (tmp_path / "a").write_bytes(b"a: b\n" + b"#" * 4_999_994 + b"\n")
    assert doc.read(tmp_path / "a", "a").root == {"a": "b"}
    (tmp_path / "a").write_bytes(b"a: b\n" + b"#" * 4_999_995 + b"\n")
    assert [f[3] for f in refused(lambda: doc.read(tmp_path / "a", "a"))] == ["this file is larger than 5 MB"]


def test_a_file_that_may_not_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def denied(self: Path) -> bytes:
        raise PermissionError

    (tmp_path / "a").write_text("a: b\n")
    monkeypatch.setattr(Path, "read_bytes", denied)
    assert refused(lambda: doc.read(tmp_path / "a", "a"))[0][3] == "this file may not be read by this user"


def test_kinds_of_files(tmp_path: Path) -> None:
    (tmp_path / "a").write_text("")
    os.mkfifo(tmp_path / "pipe")
    kinds = [
        file_kind(p) for p in (tmp_path / "a", tmp_path, tmp_path / "pipe", tmp_path / "no", tmp_path / ("x" * 300))
    ]
    assert kinds == ["file", "folder", "other", "missing", "missing"]


def test_paths_stay_inside_the_folder(tmp_path: Path) -> None:
    root, base = tmp_path / "root", tmp_path / "root" / "sub"
    base.mkdir(parents=True)
    for file in (tmp_path / "out", root / "up", base / "here"):
        file.write_text("")
    (base / "leads out").symlink_to(tmp_path / "out")
    (base / "ring").symlink_to(base / "ring")
    slashes, relative = "a path is written with forward slashes", "a path is relative to the file that names it"
    leaves, none = "a path may not leave the folder of the file you named", "there is no such file"
    for typed, found in (
        ("here", (base / "here").resolve()), ("../up", (root / "up").resolve()),
        ("../sub/here", (base / "here").resolve()),
        ("", slashes), ("a\\b", slashes), ("a\0b", slashes), ("/etc/hosts", relative), ("c:here", relative),
        ("../../out", leaves), ("leads out", leaves), ("none", none), ("../sub", none), ("x" * 300, none),
    ):  # fmt: skip
        assert inside(root, base, typed) == found, typed
    assert inside(base, base, "../up") == leaves
    assert inside(root, base, "ring") in (none, "this path cannot be followed")


def test_garbage_is_collected_again_afterwards() -> None:
    enabled = gc.isenabled()
    try:
        for state in (True, False):
            gc.enable() if state else gc.disable()
            with doc.no_collection():
                assert not gc.isenabled()
            assert (gc.isenabled(), gc.get_freeze_count()) == (state, 0)
            with pytest.raises(hc.InputError), doc.no_collection():
                raise hc.InputError([])
            assert gc.isenabled() is state
        gc.enable()
        gc.freeze()
        frozen = gc.get_freeze_count()
        with doc.no_collection():
            pass
        assert gc.get_freeze_count() >= frozen - 5 > 0, "what a program has frozen itself stays so"
    finally:
        gc.unfreeze()
        gc.enable() if enabled else gc.disable()


def test_what_was_made_meanwhile_counts_as_old() -> None:
    gc.collect()
    with doc.no_collection():
        kept = [[] for _ in range(500)]
    young = sum(len(gc.get_objects(generation)) for generation in (0, 1))
    assert len(kept) == 500 and young < 500
