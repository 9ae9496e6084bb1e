"""Reads the plain lines of a YAML file without a parser; everything else goes to the parser, entry by entry.

Nearly all of a large harness file are lines of three forms::

    key:
    key: text
    key: {key: text, key: text}

in printable characters without ``:`` or ``#`` inside. YAML has one reading of such a line; it is taken apart here in a
sixth of the time that the parser's events take. An entry with any other line in it is composed by the parser from its
own lines: where the next line stands no deeper than the key, no text of the entry can go on.

Whatever is not certain is left to the parser with the whole file: ``compose`` returns None, and the parser finds the
fault and its place, or that there is none. ``tests/test_plain_lines.py`` holds the two readings together.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import Any

from harnesscheck.block import Block

MOST_LINE = 1000
"""Longest line taken apart here, characters: YAML takes a key up to 1,024 (YAML 1.2.2, section 7.4)."""
MOST_DEPTH = 20
"""Deepest nesting followed here; a harness file needs 5."""

# Printable characters without what has a meaning inside a text: ":" and "#"; within braces also ", ? [ ] { }".
_WIDE = "\u00a1-\u2027\u202a-\ud7ff"
_TEXT = r"!\"$-9;-~" + _WIDE
_INNER = r"!\"$-+\--9;-=>@-Z\\^-z|~" + _WIDE
_FIRST = r"(?:[A-Za-z0-9_+/(" + _WIDE + r"]|-(?=[A-Za-z0-9]))"
_VALUE = rf"{_FIRST}(?:[ {_TEXT}]*[{_TEXT}])?"
_WORD = rf"{_FIRST}(?:[ {_INNER}]*[{_INNER}])?"
_PAIR = rf"{_WORD}: +{_WORD}"
_LINE = re.compile(rf"( *)({_WORD}):(?: +(?:({_VALUE})|\{{ *({_PAIR}(?: *, *{_PAIR})*) *\}}))?(?: +#.*| *)")
_IN_BRACES = re.compile(rf"({_WORD}): +({_WORD})")
_KEY_FIRST = re.compile(rf"[\"']|{_FIRST}")

Slow = Callable[[str, int, int], Block | None]
"""Composes text with the parser: the text, the lines before it in the file, the depth that it lies at."""


class BracedBlock(Block):
    """``{from: P1-1, to: J1-1}``: the columns are found when somebody asks, which few do."""

    __slots__ = ("_text",)

    def __init__(self, line: int, column: int, text: str) -> None:
        self.line = line
        self.column = column
        self._text = text  # the whole line of the file, which the document keeps anyway

    def __getattr__(self, name: str) -> Any:
        """Only ``marks`` is not set from the beginning."""
        if name != "marks":
            raise AttributeError(name)
        line = self.line
        found = _IN_BRACES.finditer(self._text, self.column, self._text.index("}", self.column))
        marks = {one[1]: (line, one.start(1) + 1, line, one.start(2) + 1) for one in found}
        self.marks = marks
        return marks


def compose(lines: Sequence[str], slow: Slow) -> Block | None:
    """The mapping that the lines of a file make; None when that is left to the parser."""
    return _Lines(lines, slow).read()


class _Lines:
    def __init__(self, lines: Sequence[str], slow: Slow) -> None:
        self.lines = lines
        self.slow = slow
        self.root = Block(1, 1)
        self.stack: list[tuple[int, Block]] = []
        """The open mappings with the columns (from 0) of their keys, outermost first."""
        self.pending: tuple[str, int] | None = None
        """A key without a value so far, and its line (from 0)."""
        self.section: int | None = None
        self.entry: int | None = None
        """Lines (from 0) where the open section and the open entry in it begin."""

    def read(self) -> Block | None:
        """Go through the lines once."""
        lines, number, most = self.lines, 0, len(self.lines)
        match = _LINE.fullmatch
        deep: str | None = None  # the blanks before the keys of the open mapping, when that lies in an entry
        block = self.root
        marks = block.marks
        while number < most:
            line = lines[number]
            found = match(line) if len(line) <= MOST_LINE else None
            if found is not None:
                spaces, key, text, _ = found.groups()
                # Most lines of a file are one cavity more of the same connector: what _plain does with them.
                if text is not None and spaces == deep and key not in block:
                    block[key] = text
                    number += 1
                    marks[key] = (number, len(spaces) + 1, number, found.start(3) + 1)
                    continue
                if not self._plain(number, line, found):
                    return None
                number += 1
                if text is not None and len(self.stack) > 2:
                    deep, block = spaces, self.stack[-1][1]
                    marks = block.marks
                else:
                    deep = None
            elif _says_something(line):
                behind, deep = self._entry_by_parser(number, line), None
                if behind is None:
                    return None
                number = behind
            else:
                number += 1
        return self.root if self.root and self.pending is None else None

    def _plain(self, number: int, line: str, found: re.Match[str]) -> bool:
        """Enter a plain line; False when it does not fit where it stands."""
        spaces, key, text, braced = found.groups()
        indent = len(spaces)
        block = self._at(indent, number)
        if block is None or key in block:
            return False
        depth = len(self.stack)
        if depth == 1:
            self.section, self.entry = number, None
        elif depth == 2:
            self.entry = number
        if text is not None:
            block[key] = text
            block.marks[key] = (number + 1, indent + 1, number + 1, found.start(3) + 1)
        elif braced is None:
            self.pending = (key, number)
        else:
            column = line.index("{", found.end(2)) + 1
            inner = BracedBlock(number + 1, column, line)
            pairs = braced.split(",")
            for pair in pairs:
                name, _, said = pair.partition(":")
                inner[name.strip(" ")] = said.strip(" ")
            if len(inner) < len(pairs):
                return False  # a key twice
            block[key] = inner
            block.marks[key] = (number + 1, indent + 1, number + 1, column)
        return True

    def _at(self, indent: int, number: int) -> Block | None:
        """The mapping whose keys stand at ``indent``, opened where that is a deeper one; None where none can stand."""
        stack = self.stack
        if self.pending is not None:
            key, above = self.pending
            outer, block = stack[-1]
            if indent <= outer or len(stack) >= MOST_DEPTH:
                return None
            inner = block[key] = Block(number + 1, indent + 1)
            block.marks[key] = (above + 1, outer + 1, number + 1, indent + 1)
            stack.append((indent, inner))
            self.pending = None
            return inner
        if not stack:
            if indent:
                return None
            self.root = Block(number + 1, 1)
            stack.append((0, self.root))
            return self.root
        while stack[-1][0] > indent:
            stack.pop()  # the first stands at 0, so one is always left
        return stack[-1][1] if stack[-1][0] == indent else None

    # -- what is not plain -------------------------------------------------------------------------------------

    def _entry_by_parser(self, number: int, line: str) -> int | None:
        """Have the parser compose the entry that a line belongs to. Returns the line behind it, or None."""
        bare = line.lstrip(" ")
        indent = len(line) - len(bare)
        # A list may stand under its key without being indented.
        deeper = 1 if bare == "-" or bare.startswith("- ") else 0
        if indent == 0 and not deeper:
            start, block = number, self._at(0, number)
        elif self.section is None:
            return None
        elif len(self.stack) == 1 and self.pending is not None and not deeper:
            start, block = number, self._at(indent, number)  # the first entry of a section
        elif self.entry is None:
            start, block = self.section, self._without(1, self.section)
        elif indent + deeper > self.stack[1][0]:
            start, block = self.entry, self._without(2, self.entry)
        else:
            start, block = number, self._at(indent, number)
        if block is None or not _KEY_FIRST.match(self.lines[start].lstrip(" ")):
            return None
        depth = len(self.stack)  # 1 or 2: an entry of the file, or of a section
        key_indent = self.stack[-1][0]
        end = self._end(start + 1, key_indent)
        # The line end counts: a text in lines of its own keeps it.
        text = "\n".join(self.lines[start:end]) + ("\n" if end < len(self.lines) else "")
        made = self.slow(text, start, depth - 1)
        if made is None or len(made) != 1:
            return None
        key, value = next(iter(made.items()))
        if key in block:
            return None
        block[key] = value
        block.marks[key] = made.marks[key]
        if depth == 2:  # behind an entry of the file itself another one begins
            self.entry = start
        return end

    def _without(self, depth: int, start: int) -> Block:
        """The mapping at ``depth``, without its entry that began on line ``start``."""
        del self.stack[depth:]
        block = self.stack[-1][1]
        self.pending = None
        last = next(reversed(block), None)
        if last is not None and block.marks[last][0] == start + 1:
            del block[last], block.marks[last]
        return block

    def _end(self, number: int, indent: int) -> int:
        """The first line from ``number`` on that stands no deeper than ``indent``; lists count as deeper."""
        lines = self.lines
        while number < len(lines):
            bare = lines[number].lstrip(" ")
            if bare and bare[0] != "#":
                stands = len(lines[number]) - len(bare)
                listed = bare == "-" or bare.startswith("- ")
                if stands < indent or (stands == indent and not listed):
                    break
            number += 1
        return number


def _says_something(line: str) -> bool:
    bare = line.lstrip(" ")
    return bool(bare) and bare[0] != "#"
