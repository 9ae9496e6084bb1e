"""A place: ``P14-3`` or ``W12 end B``, and the file, line and column where it was declared."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import NamedTuple

from harnesscheck.document import Document

REFERENCE = re.compile(r"[A-Za-z][A-Za-z0-9_.]{0,30}")
"""A reference designator: a letter, then letters, digits, underscores or points. No dash: the dash ends it."""
CAVITY = re.compile(r"[!-~](?:[ -~]{0,30}[!-~])?")
"""A cavity name: printable ASCII exactly as typed (``a`` and ``A`` are two cavities)."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where something was declared. ``line`` and ``column`` count from 1; 0 means it was not typed anywhere."""

    label: str
    document: Document | None = None
    line: int = 0
    column: int = 0

    @property
    def file(self) -> str:
        """The file as the person named it; empty when the place was not typed."""
        return self.document.name if self.document else ""

    @property
    def text(self) -> str:
        """The person's own line."""
        return self.document.line(self.line) if self.document else ""

    def where(self) -> str:
        """``jumper.yaml:14:3``, ``list.xlsx!Sheet1!C14`` for a cell of a list, or the empty string."""
        return self.document.where(self.line, self.column) if self.document else ""


class Point(NamedTuple):
    """One electrical point: a cavity (``P14-3``), or a thing with one point only (``SP1``: cavity is empty).

    A named tuple because points are the keys of everything: its hash costs a third of a dataclass's.
    """

    ref: str
    cavity: str = ""

    def __str__(self) -> str:
        """``P14-3`` or ``SP1``; ``stowed end of W7`` for an end that is cut back and stowed."""
        if not self.ref:
            return f"stowed end of {self.cavity}"
        return f"{self.ref}-{self.cavity}" if self.cavity else self.ref


STOWED = Point("", "stowed")
"""Typed as ``stowed``: an end cut back, capped and tied down. The reader gives each its wire's id as cavity."""


def split_point(text: str) -> Point | None:
    """Read ``P14-3`` or ``SP1``; the first dash ends the reference, so a cavity may be called ``+28V`` or ``A-1``.

    Returns None when the text is neither.

    >>> split_point("P14-a"), split_point("SP1"), split_point("-3")
    (Point(ref='P14', cavity='a'), Point(ref='SP1', cavity=''), None)
    """
    ref, dash, cavity = text.partition("-")
    if not REFERENCE.fullmatch(ref) or (dash and not CAVITY.fullmatch(cavity)):
        return None
    return Point(ref, cavity)
