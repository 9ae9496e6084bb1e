"""A job: the three harnesses that belong together, and which of them a question is about."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from harnesscheck.harness import Harness


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
    kits: tuple[Harness, ...] = ()
    """Every jumper of the job: one, or several that are fitted to one aircraft together."""
