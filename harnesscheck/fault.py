"""What is wrong with an input file: one fault, and the error that carries all faults of a file at once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


def quoted(text: str) -> str:
    """User text made safe for a terminal: non-printing characters shown as escapes (CWE-150)."""
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in text)


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One thing wrong with an input, at file:line:column (from 1), with the offending line and a remedy."""

    file: str
    line: int
    column: int
    message: str
    text: str
    remedy: str

    def __str__(self) -> str:
        """Two to four lines: where and what, the person's own line with a marker, what to do."""
        head = f"{quoted(self.file)}:{self.line}:{self.column}: {quoted(self.message)}"
        shown = self.text.rstrip("\r\n").replace("\t", " ")
        if shown.strip():
            start = max(0, self.column - 60) if len(shown) > 110 else 0
            part = quoted(shown[start : start + 110])
            head += f"\n    {part}\n    {' ' * (self.column - 1 - start)}^"
        return head + (f"\n  do: {quoted(self.remedy)}" if self.remedy else "")


class InputError(Exception):
    """The input cannot be used. ``faults`` holds everything that was found, in file order."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = tuple(sorted(set(faults)))
        super().__init__("\n".join(map(str, self.faults)))
