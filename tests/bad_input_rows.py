"""Data of ``test_bad_input.py``: broken jobs, each with what must be said about it.

The expected place is marked by hand in the text itself: ``◆`` stands in front of the character where the fault is. The
test takes the mark out before the file is written and counts line and column from the text, so no expected place is
copied from what the program printed. A place that is in no text (a missing file) is written out in the row.
"""

from __future__ import annotations

from dataclasses import dataclass

MARK = "◆"
J, A, E = "jumper.yaml", "airframe.yaml", "ice-probe.yaml"
WIRE = "P501A20: {from: J114-1, to: SP1, type: M22759/16-20-9, length: 60 mm}"
"""The first wire of the demo's jumper, which most rows spoil."""


@dataclass(frozen=True)
class Row:
    """One broken job: edits of the demo (file, old text, new text with marks), or whole files, and the answer."""

    name: str
    says: tuple[str, ...]
    """A phrase of each message, in the order of the marks."""
    do: tuple[str, ...]
    """A phrase of each remedy; ``""`` where there is none to check."""
    edits: tuple[tuple[str, str, str], ...] = ()
    files: tuple[tuple[str, str | bytes], ...] = ()
    at: tuple[str, ...] = ()
    """Places written out; else they come from the marks."""
    argv: str = J
    more: bool = False
    """Further faults may follow those of the row."""

    def __str__(self) -> str:
        return self.name


def swap(name: str, old: str, new: str, says: str, do: str, file: str = J, more: bool = False) -> Row:
    """One place of one file of the demo is changed."""
    return Row(name, (says,), (do,), edits=((file, old, new),), more=more)


def wire(name: str, old: str, new: str, says: str, do: str) -> Row:
    """Something in the first wire of the jumper is changed."""
    assert WIRE.count(old) == 1, (name, old)
    return swap(name, WIRE, WIRE.replace(old, new), says, do)


def text(name: str, content: str | bytes, says: str, do: str, at: str = "", more: bool = False) -> Row:
    """The whole jumper file is other text."""
    return Row(name, (says,), (do,), files=((J, content),), at=(at,) if at else (), more=more)


def depth(levels: int) -> str:
    """Brackets nested ``levels`` deep; the mapping of the file is level 1, so the 50th bracket is one too many."""
    return "a: " + "[" * 49 + MARK + "[" * (levels - 50) + "x" + "]" * (levels - 1) + "\n"


def alias_bomb() -> str:
    lines = [f"a0: {MARK}&a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [" + ", ".join([f"*a{n - 1}"] * 9) + "]" for n in range(1, 12)]
    return "\n".join(lines) + "\n"


def merge_bomb() -> str:
    lines = [f"a0: {MARK}&a0 {{k: v}}"]
    lines += [f"a{n}: &a{n}\n  <<: [*a{n - 1}, *a{n - 1}]" for n in range(1, 31)]
    return "\n".join(lines) + "\n"


FILES = [
    Row("missing file", ("does not exist",), ("give the path",), at=("none.yaml:1:1",), argv="none.yaml"),
    Row("folder", ("this is a folder",), ("name the jumper file in it",), at=(".:1:1",), argv="."),
    Row("folder called .yaml", ("this is a folder",), ("name the jumper file",), at=("d.yaml:1:1",), argv="d.yaml"),
    Row("suffix not supported", ("no reader for a file called",), (".yaml",), at=("job.doc:1:1",), argv="job.doc"),
    Row("no suffix", ("no reader for a file called",), (".yaml",), at=("job:1:1",), argv="job"),
    Row(
        "hostile name", ("does not exist",), ("give the path",), at=("x\\x1b[31m\\n.yaml:1:1",), argv="x\x1b[31m\n.yaml"
    ),
    Row("fifo", ("is not an ordinary file",), ("give the path",), at=("pipe.yaml:1:1",), argv="pipe.yaml"),
    text("empty", "", "this file is empty", "kind: jumper", at=f"{J}:1:1"),
    text("only blank lines", "\n\n\n", "this file is empty", "kind: jumper", at=f"{J}:1:1"),
    text("comments only", "# a\n# b\n", "this file is empty", "kind: jumper", at=f"{J}:1:1"),
    text("UTF-16", "kind: jumper\n".encode("utf-16"), "UTF-16", "save it as UTF-8", at=f"{J}:1:1"),
    # 'title: ' is 7 bytes, so the byte E9 is column 8 of line 2.
    text(
        "Latin-1",
        b"kind: jumper\ntitle: \xe9t\xe9\n",
        "byte 0xe9 is not UTF-8",
        "save the file as UTF-8",
        at=f"{J}:2:8",
    ),
    # After a letter of two bytes the column counts characters, not bytes.
    text("Latin-1 after UTF-8", b"t: \xc3\xa9 \xe9\n", "byte 0xe9", "UTF-8", at=f"{J}:1:6"),
    text("NUL", f"kind: jumper\ntitle: a{MARK}\0b\n", "U+0000", "delete it"),
    text("ESC", f"kind: jumper\ntitle: a{MARK}\x1b[31mb\n", "U+001B", "delete it"),
    text("BEL", f"kind: {MARK}\x07jumper\n", "U+0007", "delete it"),
    text("DEL", f"kind: jum{MARK}\x7fper\n", "U+007F", "delete it"),
    text("C1 control", f"kind: jum{MARK}\x85per\n", "U+0085", "delete it"),
    text("BOM inside", f"kind: jum{MARK}\ufeffper\n", "U+FEFF", "delete it"),
    text("private use", f"kind: jum{MARK}\ue000per\n", "U+E000", "delete it"),
    text("tag character", f"kind: jum{MARK}\U000e0041per\n", "U+E0041", "delete it"),
    text("old line ends", f"kind: jumper{MARK}\rtitle: x\r", "U+000D", "ordinary line ends", more=True),
    text("cut in a key", f"kind: jumper\ntitle: x\n{MARK}conn", "no colon behind this text", "write 'key: value'"),
    text("cut in a quote", f"kind: jumper\ntitle: {MARK}'Ice pro", "quote opened here", "close the quote"),
    text("cut in a block", f"kind: jumper\nwires:\n  W1: {MARK}{{from: P14-1, to", "{ opened here", "add the }"),
]

YAML = [
    text("tab indent", f"kind: jumper\nconnectors:\n{MARK}\tP1: x\n", "a tab in the indent", "blanks, not tabs"),
    wire("open quote", "60 mm", f"{MARK}'60 mm", "quote opened here", "close the quote"),
    wire("open bracket", "60 mm", f"{MARK}[60 mm", "[ opened here", "add the ]"),
    swap("open brace", WIRE, f"P501A20: {MARK}" + WIRE[9:-1], "{ opened here", "add the }"),
    text("colon in a value", f"kind: jumper\ntitle: a{MARK}: b\n", "a colon where no key", "quote a text"),
    wire(
        "colon in a cavity",
        "from: J114-1",
        f"from: {MARK}J114-1:2",
        "or one inside it",
        "or quote the text",
    ),
    text("bare @", f"kind: jumper\ntitle: {MARK}@x\n", "cannot start with this", "quotes"),
    text("bare %", f"kind: jumper\ntitle: {MARK}%x\n", "cannot start with this", "quotes"),
    text("bare `", f"kind: jumper\ntitle: {MARK}`x\n", "cannot start with this", "quotes"),
    text("unknown escape", f'kind: jumper\ntitle: "a{MARK}\\q"\n', "means nothing", "single quotes"),
    text("bracket too many", f"{{kind: jumper}}{MARK}}}\n", "more text after the end", "remove the bracket"),
    text("bad indent", f"kind: jumper\nconnectors:\n   A: x\n  {MARK}B: y\n", "cannot be read", "indent"),
    text("two documents", f"kind: jumper\n{MARK}---\nkind: jumper\n", "a second document", "one document a file"),
    text("top level list", f"{MARK}- kind: jumper\n", "not a mapping", "kind: jumper"),
    text("top level text", f"{MARK}kind jumper\n", "not a mapping", "kind: jumper"),
    text("colon without blank", f"{MARK}kind:jumper\ntitle:x\n", "not a mapping", "a blank after the colon"),
    text("duplicate key", f"kind: jumper\ntitle: a\n{MARK}title: b\n", "given twice (first on line 2)", "keep one"),
    text("duplicate after quoting", f"title: a\n{MARK}'title': b\n", "given twice (first on line 1)", "keep one"),
    text("duplicate in braces", f"taps: {{A1J1-1: X, {MARK}A1J1-1: Y}}\n", "given twice (first on line 1)", "keep one"),
    swap("duplicate wire", WIRE, f"{WIRE}\n  {MARK}{WIRE}", "'P501A20' is given twice", "keep one"),
    text("unknown tag", f"kind: {MARK}!foo jumper\n", "tag !foo", "remove the tag"),
    text("standard tag", f"kind: {MARK}!!str jumper\n", "tag tag:yaml.org,2002:str", "remove the tag"),
    text("python tag", f"a: {MARK}!!python/object/apply:os.system [id]\n", "tag tag:yaml.org", "remove the tag"),
    text("python name tag", f"a: {MARK}!!python/name:os.system\n", "tag tag:yaml.org", "remove the tag"),
    text("tag on a mapping", f"a: {MARK}!!map {{b: c}}\n", "tag tag:yaml.org", "remove the tag"),
    text("tag on a key", f"{MARK}!!binary kind: c\n", "tag tag:yaml.org", "remove the tag"),
    text("anchor", f"kind: {MARK}&k jumper\n", "anchor &k", "remove the anchor"),
    text("undefined alias", f"kind: {MARK}*k\n", "alias *k", "write the value out"),
    text("self alias", f"a: {MARK}&a [*a]\n", "anchor &a", "remove the anchor", more=True),
    text("alias bomb", alias_bomb(), "anchor &a0", "remove the anchor", more=True),
    text("merge key", f"a:\n  {MARK}<<: {{b: c}}\n", "merge key <<", "write the keys out"),
    text("merge bomb", merge_bomb(), "anchor &a0", "remove the anchor", more=True),
    text("depth 51", depth(51), "nested deeper than 50", "flatten"),
    text("depth 1,000", depth(1_000), "nested deeper than 50", "flatten"),
    text("depth 20,000", depth(20_000), "nested deeper than 50", "flatten"),
    text("deep braces", "a: " + "{b: " * 49 + MARK + "{b: " * 2_000, "nested deeper than 50", "flatten"),
    text("list as a key", f"? {MARK}[a, b]\n: c\n", "a key that is itself a list", "plain text as the key"),
    text("mapping as a key", f"? {MARK}{{a: b}}\n: c\n", "a key that is itself a list or a mapping", "plain text"),
    text("empty key", f"a:\n  {MARK}'': c\n", "empty key", "give the key a name"),
    text("number of 5,000 digits", f"a: {MARK}{'9' * 5_000}\n", "text of 5000 characters", "under 4000"),
    text("text of 10,000", f"kind: jumper\ntitle: {MARK}{'x' * 10_000}\n", "text of 10000", "under 4000"),
    # A NUL spelled as an escape once made the reader drop the whole wire without a word.
    swap("NUL as an escape", "P501A20: {from", f'{MARK}"\\0": {{from', "U+0000", "write plain text"),
    text("bidi as an escape", f'kind: jumper\ntitle: {MARK}"a\\u202eb"\n', "U+202E (right-to-left", "write plain text"),
    # YAML ends a text at ' #': LAMP #2 and LAMP #3 would both be LAMP.
    swap("text cut by #", "8: STALL WARN", f"8: {MARK}STALL #2", "'STALL' is cut off before '#2'", "quotes", A),
]

USAGE = {
    "no command": ([], "required: COMMAND", "--help"),
    "unknown command": (["chek", J], "COMMAND cannot be 'chek'", "did you mean check?"),
    "unknown option": (["check", J, "--colour"], "unrecognized arguments: --colour", "check --help"),
    "hostile option": (["check", J, "--\x1b[31m"], "unrecognized arguments: --\\x1b[31m", "--help"),
    "no file": (["check"], "required: FILE", "check --help"),
    "no cavity": (["trace", J], "required: CAVITY", "trace --help"),
    "no output": (["draw", J], "required: -o", "draw --help"),
    "unknown format": (
        ["check", "--format", "yaml", J],
        "--format cannot be 'yaml'; it is one of: text, annotations, json, sarif",
        "--help",
    ),
    "leading dash": (["check", "-x.yaml"], "required: FILE", "--help"),
    "unknown check": (["explain", "pin-colision"], "there is no check 'pin-colision'", "did you mean pin-collision?"),
    "unknown check in --only": (["check", "--only", "pins", J], "there is no check 'pins'", ""),
    "empty check in --only": (["check", "--only", "", J], "there is no check ''", "harnesscheck list"),
    "unknown sheet": (["sheet", "cutlist", J], "there is no sheet 'cutlist'", "did you mean cut-list?"),
    "unknown point": (["trace", J, "P14-16"], "there is no point 'P14-16'", "did you mean P14-1"),
    "point in small letters": (["trace", J, "p14-3"], "there is no point 'p14-3'", "did you mean P14-3? (capital"),
    "connector alone": (["trace", J, "P14"], "'P14' has more than one point", "after the dash: P14-1"),
    "breaker alone": (["trace", J, "CB7"], "'CB7' has more than one point", "CB7-line, CB7-load"),
    "hostile point": (["trace", J, "\x1b[2J"], "there is no point '\\x1b[2J'", "P14-3"),
    "Cyrillic point": (["trace", J, "\u041314-3"], "there is no point", "U+0413"),
    "empty file name": (["check", ""], "this is a folder", "name the jumper file"),
    "wrong suffix": (["sheet", "cut-list", J, "-o", "cut.doc"], "sheet cut-list is not written as '.doc'", ".csv"),
    "no suffix": (["sheet", "cut-list", J, "-o", "cut"], "the name has no suffix", ".csv"),
    "drawing with wrong suffix": (["draw", J, "-o", "d.doc"], "is not written as '.doc'", ".svg"),
    "folder missing": (
        ["sheet", "cut-list", J, "-o", "no/cut.csv"],
        "cannot write no/cut.csv: No such file",
        "make that folder",
    ),
    "out is a folder": (["sheet", "cut-list", J, "-o", "d.csv"], "cannot write d.csv: this is a folder", "name a file"),
    "drawing into a missing folder": (
        ["draw", J, "-o", "no/d.svg"],
        "cannot write no/d.svg: No such file",
        "make that folder",
    ),
    "out below a file": (["sheet", "cut-list", J, "-o", f"{J}/cut.csv"], "Not a directory", "-o"),
    "demo over an edited file": (
        ["demo", "-o", "edited"],
        "edited/jumper.yaml:1:1: this file differs",
        "another folder",
    ),
    "demo onto a file": (["demo", "-o", J], f"cannot write {J}: File exists", "-o"),
}
"""Bad command lines: arguments, a phrase of the message, a phrase of the remedy."""

TOKENS = [
    # As typed in the file, and the text it must stay. First the list of the threat table, then other words that some
    # reader somewhere turns into a number, a date, a truth value or nothing.
    *(
        (t, t)
        for t in ("NO", "ON", "07", "010", "1:2", "12:30", "1_0", "0x1A", "1E5", "3.10", "2024-01-02", "~", "null")
    ),
    *(
        (t, t)
        for t in ("yes", ".5", "+28V", "no", "OFF", "off", "y", "n", "true", "False", "NULL", "Null", ".nan", ".inf")
    ),
    *(
        (t, t)
        for t in ("-.Inf", "0o7", "0b11", "1e-3", "1.0", "+1", "-1", "00", "0", "a", "A", "-SIG", "A-1", "190:20:30")
    ),
    *(
        (t, t)
        for t in ("2001-12-14T21:59:43", "1,5", "=", "1_000.5", "685_230.15", "None", "NaN", "0777", "1-2", "1/2")
    ),
    *(("'@5'", "@5"), ('"%5"', "%5"), ("'<<'", "<<"), ("'*1'", "*1"), ("'&1'", "&1"), ("'!1'", "!1"), ('"#1"', "#1")),
]
