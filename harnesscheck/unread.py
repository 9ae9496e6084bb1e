"""What a list of wires says and the harness made of it does not hold."""

from __future__ import annotations

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
