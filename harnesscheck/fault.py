"""What is wrong with an input file: one fault, the error that carries all faults of a job at once, the nearest name."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass


def quoted(text: str) -> str:
    """User text made safe for a terminal: non-printing characters shown as escapes (CWE-150)."""
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in text)


def short(text: str, most: int = 40) -> str:
    """User text for the middle of a sentence: in quotes, the tail of a long one left out."""
    return repr(text) if len(text) <= most else f"{text[:most]!r}... ({len(text)} characters)"


def foreign(text: str) -> str:
    """Name the first character that is not plain ASCII: it may look like a plain letter. Empty when there is none.

    >>> foreign("P14"), foreign("\u041014")
    ('', 'U+0410 (cyrillic capital letter a) at character 1 is not a plain letter: type it again')
    """
    for number, char in enumerate(text, 1):
        if not char.isascii():
            named = unicodedata.name(char, "unnamed").lower()
            return f"U+{ord(char):04X} ({named}) at character {number} is not a plain letter: type it again"
    return ""


def nearest(word: str, words: Iterable[str]) -> str:
    """``did you mean X?`` for the known words closest to ``word`` (five at the most); empty when none is close.

    Closest means fewest slips of the keyboard: a letter left out, added, changed, or two exchanged.

    >>> nearest("J141", ["J14", "J114", "P14"]), nearest("Airframe", ["airframe"])
    ('did you mean J14 or J114?', 'did you mean airframe? (capital and small letters differ)')
    """
    known = list(dict.fromkeys(words))
    same = [k for k in known if k.casefold() == word.casefold() and k != word]
    if same:
        return f"did you mean {_either(same)}? (capital and small letters differ)"
    most = max(1, min(3, len(word) // 3))
    best: list[str] = []
    typed, letters = word.casefold(), set(word.casefold())
    for name in known:
        folded = name.casefold()
        if abs(len(folded) - len(typed)) > most or len(letters ^ set(folded)) > 2 * most:
            continue
        slips = _slips(typed, folded)
        if slips < most:
            most, best = slips, []
        if slips == most:
            best.append(name)
    if not best and word:
        best = _looking_like(word, known)
    return f"did you mean {_either(best)}?" if best else ""


def _either(words: list[str]) -> str:
    listed = words[:5]
    return " or ".join([", ".join(listed[:-1]), listed[-1]]) if len(listed) > 1 else listed[0]


def _looking_like(word: str, known: list[str]) -> list[str]:
    """For a word that is cut short or half right: the share of letters in common decides."""
    from difflib import get_close_matches

    folded = {name.casefold(): name for name in known[:5000]}
    return [folded[found] for found in get_close_matches(word.casefold(), folded, 1, 0.55)]


def _slips(a: str, b: str) -> int:
    """Keyboard slips between two words (Damerau-Levenshtein, each pair exchanged at most once)."""
    before: list[int] = []
    row = list(range(len(b) + 1))
    for i, x in enumerate(a, 1):
        last, before, row = before, row, [i]
        for j, y in enumerate(b, 1):
            cost = min(before[j] + 1, row[-1] + 1, before[j - 1] + (x != y))
            if i > 1 and j > 1 and x == b[j - 2] and y == a[i - 2]:
                cost = min(cost, last[j - 2] + 1)
            row.append(cost)
    return row[-1]


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One thing wrong with an input, at file:line:column (from 1), with the offending line and a remedy."""

    file: str
    line: int
    column: int
    message: str
    text: str
    remedy: str
    at: str = ""
    """The place as printed, where it is no line of a text: ``list.xlsx!Sheet1!C14``."""

    def __str__(self) -> str:
        """Two to four lines: where and what, the person's own line with a marker, what to do."""
        where = self.at or f"{self.file}:{self.line}:{self.column}"
        head = f"{quoted(where)}: {quoted(self.message)}"
        shown = self.text.rstrip("\r\n").replace("\t", " ")
        if shown.strip():
            start = max(0, self.column - 60) if len(shown) > 110 else 0
            head += f"\n    {quoted(shown[start : start + 110])}"
            head += f"\n    {' ' * len(quoted(shown[start : self.column - 1]))}^"
        return head + (f"\n  do: {quoted(self.remedy)}" if self.remedy else "")


class InputError(Exception):
    """The input cannot be used. ``faults`` holds everything that was found, in file order."""

    SHOWN = 200
    """Faults printed; a file of another sort altogether can have thousands."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = tuple(sorted(set(faults)))
        left = len(self.faults) - self.SHOWN
        more = [f"... and {left} more; put these right and check again"] if left > 0 else []
        super().__init__("\n".join([*map(str, self.faults[: self.SHOWN]), *more]))
