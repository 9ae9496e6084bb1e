"""Lines that are taken apart without the YAML parser read as the parser reads them, places and all.

The independent route is the parser itself: the same text composed from its events alone.
"""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any

import pytest

from harnesscheck import characters
from harnesscheck import document as reading
from harnesscheck.block import Block, Items
from harnesscheck.document import MAX_DEPTH, Document, parse
from harnesscheck.fault import Fault, InputError

ROOT = Path(__file__).parent.parent
FILES = sorted((ROOT / "harnesses").rglob("*.yaml"))

HEAD = "kind: airframe\ntitle: T\n"
PARTS = [
    "a", "b", "W1", "P14-3", "-3", "- x", "-", "28 V", "text with, comma", "it's", 'a "b" c', "x  ", " ", "  ", "    ",
    "a:b", "a: b", "a : b", "a:", ":", "#", " # remark", "#x", " #x", "'q'", '"q"', '"a: b"', "'it''s'", '"\\x41"',
    "|", ">", "&x", "*x", "!t", "<<", "<<: {a: b}", "? a", "?", "{", "}", "[", "]", "{}", "[]", "{a: b}",
    "{a: b, a: c}",
    "{a: b , c:  d }", "{a:b}", "{a: b, c}", "[a, b]", "{a: {b: c}}", "{a: b} # c: d", "%YAML 1.2", "---", "...",
    "... x: y", "@a", "`a", "\u00b0C", "\u00fc: \u00fc", "\t", "\\", "a\\", "(x)", "+1", "/x", "_", ".5", "~", "=",
    "{from: P1-1, to: J1-1, type: M22759/16-20-9, length: 320 mm}",
]  # fmt: skip
"""What lines are thrown together from: everything that YAML gives a meaning to, and what it does not."""


def composed(text: str) -> Block | None:
    """By the events of the parser alone; None when that finds a fault."""
    faults: list[Fault] = []
    document = Document("f.yaml", text)
    if list(characters.bad(document.lines, text)):
        return None
    block = reading._compose(document, text, faults)
    return None if faults else block


def spelt(value: Any) -> Any:
    """Everything of a value that a message can depend on, in order."""
    if isinstance(value, Block):
        inner = [(key, value.marks[key], spelt(one)) for key, one in value.items()]
        assert set(value.marks) == set(value)
        return ("block", value.line, value.column, inner)
    if isinstance(value, Items):
        return ("items", value.line, value.column, value.marks, [spelt(one) for one in value])
    return value


def by_lines(text: str) -> Block | None:
    return reading._plain(Document("f.yaml", text), text)


def agree(text: str) -> bool:
    """True when the lines were taken apart; they then say what the parser says."""
    found = by_lines(text)
    if found is not None:
        there = composed(text)
        assert there is not None, f"the parser refuses {text!r}"
        assert spelt(found) == spelt(there), text
    return found is not None


def test_every_file_of_the_examples() -> None:
    """Nearly all of them are read by their lines, so that the comparison is not empty."""
    taken = sum(agree(path.read_text("utf-8")) for path in FILES if b"\r" not in path.read_bytes())
    assert len(FILES) > 50
    assert taken > 0.9 * len(FILES)


def lines_at_random(dice: random.Random) -> str:
    lines = []
    for _ in range(dice.randint(1, 7)):
        kind = dice.random()
        indent = " " * dice.choice((0, 0, 2, 2, 2, 4, 4, 1, 3, 6))
        if kind < 0.45:
            lines.append(f"{indent}{dice.choice('abcdefgh')}: {dice.choice(PARTS)}")
        elif kind < 0.7:
            lines.append(f"{indent}{dice.choice('abcdefgh')}:")
        elif kind < 0.8:
            lines.append(f"{indent}- {dice.choice(PARTS)}")
        else:
            lines.append(indent + "".join(dice.choice(PARTS) for _ in range(dice.randint(0, 3))))
    return dice.choice(("", HEAD)) + "\n".join(lines) + dice.choice(("", "\n"))


def mangled(dice: random.Random, text: str) -> str:
    """A file of the examples with one place of it changed: a person's slip."""
    lines = text.split("\n")
    start = dice.randrange(len(lines))
    lines = lines[start : start + dice.randint(2, 40)] if dice.random() < 0.7 else lines
    at = dice.randrange(len(lines))
    line = lines[at]
    cut = dice.randint(0, len(line))
    done = dice.random()
    if done < 0.4:
        lines[at] = line[:cut] + dice.choice(PARTS) + line[cut:]
    elif done < 0.6:
        lines[at] = line[:cut] + line[cut + 1 :]
    elif done < 0.75:
        lines[at] = " " * dice.randint(0, 8) + line.lstrip()
    elif done < 0.9:
        lines.insert(at, lines[dice.randrange(len(lines))])
    else:
        del lines[at]
    return "\n".join(lines)


def at_random(seed: int, count: int) -> tuple[int, int]:
    """How many of ``count`` texts were taken apart, and how many the parser takes. Raises when a reading differs."""
    dice = random.Random(seed)
    examples = [path.read_text("utf-8") for path in FILES]
    taken = good = 0
    for _ in range(count):
        text = lines_at_random(dice) if dice.random() < 0.6 else mangled(dice, dice.choice(examples))
        done = agree(text)
        taken += done
        good += done or composed(text) is not None
    return taken, good


def test_lines_at_random() -> None:
    """Slips and oddities: where the lines are taken apart, the parser agrees in every value and place."""
    taken, good = at_random(9, 3000)
    assert taken > 300
    assert good >= taken


@pytest.mark.parametrize(
    "text",
    [
        HEAD + "a: 'quoted'\n",
        HEAD + "wires:\n  W1: {a: b}\n  W2: {a: 'b'}\n  W3: {a: b}\n",
        HEAD + 'wires:\n  "W 1": {a: b}\n  W2:\n    x: |\n      text\n\n      more\n    y: z\n  W3: {a: b}\n',
        HEAD + "waivers:\n- check: a\n  at: b\n- check: c\nwires:\n  W1: {a: b}\n",
        HEAD + "waivers:\n  - check: a\n    at: b\n  - {check: c}\n",
        HEAD + "phases: [a, b]\nwires:\n  W1: {a: [b, c]}\n",
        HEAD + "a:\n  b:\n    c: d\n    e: 'f'\n    g: h\n  i: j\nk: l\n",
        HEAD + "a: one\n  two\nb: c\n",
        HEAD + "a: {b: c,\n  d: e}\nf: g\n",
    ],
)
def test_an_entry_that_is_not_plain_goes_to_the_parser_alone(text: str) -> None:
    """The rest of the file is still taken apart, and the places are those of the whole file."""
    assert agree(text)


@pytest.mark.parametrize(
    "text",
    [
        HEAD + "a: 1\na: 2\n",
        HEAD + "a: {b: c, b: d}\n",
        HEAD + "a: &x b\n",
        HEAD + "a: !!str b\n",
        HEAD + "a:\n  <<: {b: c}\n",
        HEAD + "a: |\n  x\n--- {b: c}\n",
        HEAD + "... b: c\n",
        HEAD + "a:\nb: c\n",
        HEAD + "a: b\n  c: d\n",
        HEAD + 'a: "b\nc: d\n',
        HEAD + "a: " + "[" * (MAX_DEPTH + 2) + "]" * (MAX_DEPTH + 2) + "\n",
        HEAD + "a:\n  b: " + "[" * (MAX_DEPTH - 1) + "]" * (MAX_DEPTH - 1) + "\n",
        HEAD + "".join(" " * depth + "a:\n" for depth in range(MAX_DEPTH + 2)),
        HEAD + "LAMP: a #2\n",
        HEAD + "a\t: b\n",
        "",
        "# nothing\n",
    ],
)
def test_what_is_faulty_or_not_certain_is_left_to_the_parser(text: str) -> None:
    """Duplicates, aliases, tags, merge keys, depth: the parser's own pass refuses them where they stand."""
    assert by_lines(text) is None


def test_depth_counts_from_the_top_of_the_file() -> None:
    """One level less than the limit is read, in an entry as anywhere, and one more is refused."""
    deep = MAX_DEPTH - 2  # the file and the section are two
    parse(HEAD + "a:\n  b: " + "[" * deep + "]" * deep + "\n", "f.yaml")
    deep += 1
    with pytest.raises(InputError, match="nested deeper"):
        parse(HEAD + "a:\n  b: " + "[" * deep + "]" * deep + "\n", "f.yaml")


if __name__ == "__main__":  # python -m tests.test_plain_lines 1000000
    import sys

    print("taken apart, good to the parser:", at_random(random.SystemRandom().randrange(10**9), int(sys.argv[1])))
