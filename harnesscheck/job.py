"""A job: the three harnesses that belong together, and which of them a question is about."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from harnesscheck.harness import Harness
from harnesscheck.unread import Unread


@dataclass(frozen=True, slots=True)
class InputFile:
    """One file that was read for a job, so that anybody can tell later whether it is still the same."""

    name: str
    """Relative to the folder in which the file that was asked for lies, with forward slashes."""
    sha256: str
    """Of its bytes as read, 64 hexadecimal digits (FIPS 180-4)."""


@dataclass(frozen=True)
class Job:
    """What one file on the command line leads to.

    ``subject`` is the harness that checks and sheets look at: the installed harness for a jumper file, else the
    airframe or the equipment alone.
    """

    path: Path
    name: str
    """The path as typed."""
    subject: Harness
    airframe: Harness | None = None
    jumper: Harness | None = None
    equipment: tuple[Harness, ...] = ()
    files: tuple[InputFile, ...] = ()
    """Every file that was read for it, the shop's parts files too, by name."""
    kits: tuple[Harness, ...] = ()
    """Every jumper of the job: one, or several that are fitted to one aircraft together."""
    rows: str = ""
    """Of a list: what became of its rows, in one line."""

    @property
    def unread(self) -> tuple[Unread, ...]:
        """What a list holds beside what was understood of it: this file, or the list that its airframe was made of."""
        return (self.airframe or self.subject).unread
