"""The canonical layout: it never changes a value or a comment, one pass settles it, and it refuses what it cannot keep.

What is expected of a value is the nested text that the test started from, not what the layout made of it.
"""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnesscheck.cli import main
from harnesscheck.document import parse
from harnesscheck.layout import LeftAloneError, canonical

HARNESSES = Path(__file__).parents[2] / "harnesses"
FILES = sorted(HARNESSES.rglob("*.yaml"))


def plain(value: Any) -> Any:
    """A document's values as ordinary dicts and lists."""
    if isinstance(value, dict):
        return {key: plain(each) for key, each in value.items()}
    return [plain(each) for each in value] if isinstance(value, list) else value


def settled(data: bytes) -> bytes:
    """The layout of ``data``, after making sure that a second pass changes nothing."""
    result = canonical(data, "x.yaml")
    assert canonical(result, "x.yaml") == result
    return result


def test_every_harness_file_keeps_its_values_and_comments() -> None:
    assert len(FILES) > 200
    for text in sorted({file.read_bytes() for file in FILES}):
        result = canonical(text, "x")
        assert plain(parse(result, "x").root) == plain(parse(text, "x").root)
        hashes = [re.findall(rb"(?m)(?:^|\s)#.*$", each) for each in (text, result)]
        assert [c.strip() for c in hashes[0]] == [c.strip() for c in hashes[1]]


@pytest.mark.parametrize("name", ["ice-probe", "signal-logger"])
def test_the_demo_is_laid_out_as_the_program_lays_it_out(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(HARNESSES / name)
    assert main(["format", "--check", *sorted(f.name for f in Path().glob("*.yaml"))]) == 0


LAID_OUT = [
    pytest.param("kind:   jumper\n", "kind: jumper\n", id="blanks"),
    pytest.param("kind: jumper", "kind: jumper\n", id="line end"),
    pytest.param("\n\nkind: jumper\n\n\n\nopens: a\n\n\n", "kind: jumper\n\nopens: a\n", id="blank lines"),
    pytest.param("a:\n    b:\n          c: 1\n", "a:\n  b:\n    c: 1\n", id="steps"),
    pytest.param("a:\n- b\n-   c\n", "a:\n  - b\n  - c\n", id="list"),
    pytest.param("a:\n-   b: 1\n    c: 2\n", "a:\n  - b: 1\n    c: 2\n", id="list of blocks"),
    pytest.param("{kind: jumper, title: x}\n", "kind: jumper\ntitle: x\n", id="a file in braces"),
    pytest.param("wires:\n  W1:\n    to: B-1\n    from: A-1\n", "wires:\n  W1: {from: A-1, to: B-1}\n", id="one wire"),
    pytest.param(
        "wires: {W1: {from: A-1,\n to: B-1}, W2: {from: C, to: D}}\n",
        "wires:\n  W1: {from: A-1, to: B-1}\n  W2: {from: C, to: D}\n",
        id="wires in one brace",
    ),
    pytest.param(
        "wires:\n  W1:\n    note: a, {b} 'c'\n    mark: NO\n",
        "wires:\n  W1: {note: 'a, {b} ''c''', mark: NO}\n",
        id="quotes where braces need them",
    ),
    pytest.param("wires:\n  W1: # why\n    mark: a\n", "wires:\n  W1: {mark: a}  # why\n", id="a wire with a comment"),
    pytest.param(
        "wires:\n  W1:\n    from: a # why\n    to: b\n",
        "wires:\n  W1:\n    from: a  # why\n    to: b\n",
        id="two comments",
    ),
    pytest.param("# a\n\n# b\nk: 1 # c\n# d\n", "# a\n\n# b\nk: 1  # c\n# d\n", id="comments"),
    pytest.param(
        "a:\n    # x\n    b: 1\n    # y\n# z\nc: 1\n", "a:\n  # x\n  b: 1\n  # y\n# z\nc: 1\n", id="levels of comments"
    ),
    pytest.param("note: |\n      one\n        two\nb: 1\n", "note: |\n  one\n    two\nb: 1\n", id="prose"),
    pytest.param("note: one\n  two\n", "note: one two\n", id="text over two lines"),
    pytest.param("---\nkind: a\n...\n", "kind: a\n", id="document marks"),
    pytest.param("a: {}\nb: []\nc:\n", "a: {}\nb: []\nc:\n", id="empty things"),
    pytest.param("kind: a\r\nb:   c\r\n", "kind: a\r\nb: c\r\n", id="CRLF stays"),
]


@pytest.mark.parametrize(("typed", "expected"), LAID_OUT)
def test_layout(typed: str, expected: str) -> None:
    # The expected texts were written by hand.
    assert settled(typed.encode()).decode() == expected


def test_a_long_entry_is_broken_and_set_in() -> None:
    words = [f"key{n}: {'x' * 20}" for n in range(6)]
    result = settled(f"a:\n  W1: {{{', '.join(words)}}}\n".encode()).decode()
    assert result == f"a:\n  W1: {{{', '.join(words[:4])},\n      {', '.join(words[4:])}}}\n"
    note = " ".join(["word"] * 60)
    result = settled(f"note: {note}\n".encode()).decode()
    assert [len(line) for line in result.splitlines()] == [5 + 23 * 5, 2 + 4 + 22 * 5, 2 + 4 + 13 * 5]
    assert plain(parse(result, "x").root) == {"note": note}


@pytest.mark.parametrize(
    ("typed", "place"),
    [
        ("a: {b: 1, # why\n  c: 2}\n", "x.yaml:1:11"),
        ("a:\n  - # why\n    b: 1\n", "x.yaml:2:5"),
        ("a:\n  # why\n  b\n", "x.yaml:2:3"),
        ("a: # one\n  b # two\n", "x.yaml:1:1"),
        ("note: |2\n    one\n", "x.yaml:1:7"),
        ("%YAML 1.2\n---\na: 1\n", "x.yaml:1:1"),
    ],
)
def test_what_cannot_be_kept_is_left_alone(typed: str, place: str) -> None:
    with pytest.raises(LeftAloneError) as caught:
        canonical(typed.encode(), "x.yaml")
    assert str(caught.value).startswith(f"{place}: ")
    assert "\n  do: " in str(caught.value)


# -- made up ---------------------------------------------------------------------------------------------------------

WORDS = st.text(st.sampled_from("abNO01279:,'\"{}[]#&*!|>%@-?_ ~=<.é"), min_size=0, max_size=9)
KEYS = st.sampled_from(
    ["from", "to", "note", "7", "NO", "1:2", "a b", "W1", "wires", "x, y", "kind", "{", "#", "'", "- "]
)
VALUES = st.recursive(
    WORDS, lambda inner: st.dictionaries(KEYS, inner, max_size=4) | st.lists(inner, max_size=3), max_leaves=12
)
TOPS = st.fixed_dictionaries(
    {"kind": st.just("jumper")},
    optional={"wires": st.dictionaries(KEYS, st.dictionaries(KEYS, WORDS, max_size=5), max_size=4), "more": VALUES},
)


def scalar(text: str, chance: Random) -> str:
    """A text as YAML; plain only where that is surely the same text."""
    if re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9_.é]*( [A-Za-z0-9_.é]+)*", text) and chance.random() < 0.7:
        return text
    if chance.random() < 0.5:
        return json.dumps(text, ensure_ascii=False)
    return "'" + text.replace("'", "''") + "'"


def typed(value: Any, indent: int, chance: Random, braces: bool = False) -> str:
    """A value as some person might type it: any depth of blanks, braces or lines, comments and blank lines between."""
    if isinstance(value, str):
        return f" {scalar(value, chance)}"
    if braces or not value or chance.random() < 0.25:
        blank = chance.choice(["", " ", f"\n{' ' * (indent + 3)}"])
        if isinstance(value, dict):
            inner = [f"{blank}{scalar(k, chance)}:{typed(v, indent, chance, True)}" for k, v in value.items()]
            return " {" + ",".join(inner) + "}"
        return " [" + ", ".join(typed(v, indent, chance, True).lstrip() for v in value) + "]"
    deeper = indent + chance.choice([1, 2, 4])
    lines = []
    for each in value.items() if isinstance(value, dict) else [(None, v) for v in value]:
        if chance.random() < 0.15:
            lines.append(chance.choice(["", "\n", f"{' ' * chance.randrange(9)}# note {chance.randrange(99)}"]))
        key, inner = each
        head = "-" if key is None else f"{scalar(key, chance)}{chance.choice(['', ' '])}:"
        text = typed(inner, deeper, chance)
        tail = f"  # why {chance.randrange(99)}" if chance.random() < 0.1 and "\n" not in text else ""
        lines.append(f"{' ' * deeper}{head}{text}{tail}")
    return "\n" + "\n".join(lines)


@settings(max_examples=200)
@given(value=TOPS, seed=st.integers(0, 2**32))
def test_made_up_files_keep_their_values(value: dict[str, Any], seed: int) -> None:
    chance = Random(seed)
    text = "".join(f"{key}:{typed(each, 0, chance)}\n" for key, each in value.items())
    assert plain(parse(text, "x").root) == value, "the test's own writer is wrong"
    try:
        result = settled(text.encode()).decode()
    except LeftAloneError as error:
        assert re.search(r"# (note|why)", text), f"{error}\n{text}"  # only a comment may be in the way
        return
    assert plain(parse(result, "x").root) == value
    assert re.findall(r"(?m)# (?:note|why) \d+", result) == re.findall(r"(?m)# (?:note|why) \d+", text)


# -- the command -----------------------------------------------------------------------------------------------------


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    shutil.copytree(HARNESSES / "ice-probe", tmp_path / "job")
    monkeypatch.chdir(tmp_path / "job")
    return tmp_path / "job"


def test_format_writes_and_check_does_not(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    good = (job / "jumper.yaml").read_bytes()
    spoiled = good.replace(b"revision: A", b"revision:    A").replace(b"from: J114-6, to", b"from:   J114-6,  to")
    (job / "jumper.yaml").write_bytes(spoiled)
    assert main(["format", "--check", "jumper.yaml", "airframe.yaml"]) == 1
    assert capsys.readouterr().out == "would lay out anew: jumper.yaml\n"
    assert (job / "jumper.yaml").read_bytes() == spoiled
    assert main(["format", "jumper.yaml", "airframe.yaml"]) == 0
    assert capsys.readouterr().out == "laid out anew: jumper.yaml\n"
    assert (job / "jumper.yaml").read_bytes() == good
    assert main(["format", "jumper.yaml"]) == 0
    assert capsys.readouterr().out == "nothing to change\n"


def test_a_file_that_cannot_be_kept_does_not_stop_the_others(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("odd.yaml").write_text("kind: jumper\na: {b: 1, # why\n  c: 2}\n")
    Path("other.yaml").write_text("jobs:   x\n")
    Path("more.yaml").write_text("kind:   parts\n")
    assert main(["format", "odd.yaml", "other.yaml", "more.yaml"]) == 1
    out, err = capsys.readouterr()
    assert out == "laid out anew: more.yaml\n"
    assert "left alone: odd.yaml:2:11: " in err and "left alone: other.yaml:1:1: this is not a file of a job" in err
    assert Path("other.yaml").read_text() == "jobs:   x\n"


def test_a_broken_file_changes_nothing(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("odd.yaml").write_text("kind: 'jumper\n")
    Path("more.yaml").write_text("kind:   parts\n")
    assert main(["format", "odd.yaml", "more.yaml"]) == 2
    assert "odd.yaml:1:7" in capsys.readouterr().err
    assert Path("more.yaml").read_text() == "kind:   parts\n"
