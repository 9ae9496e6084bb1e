"""What a list of wires says and the harness made of it does not hold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from harnesscheck.place import Place


@dataclass(frozen=True, slots=True)
class Unread:
    """A row of a list, or a value of one, that was not understood and is not in the harness."""

    place: Place
    """Labelled with the words of the list."""
    reason: str
    remedy: str
    row: bool = True
    """False: one value only; the row was taken without it."""
    at: str = ""
    """The cell of the list, like ``list.xlsx!Sheet1!C14``."""


def warning(unread: Sequence[Unread]) -> str:
    """The sentence that an answer on such a harness may not be without; empty when all was understood."""
    if not unread:
        return ""
    many = f"{len(unread)} rows or values of the list were" if len(unread) > 1 else "1 row or value of the list was"
    return f"{many} not understood and not counted here: harnesscheck check names them."
