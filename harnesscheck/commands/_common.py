"""What several commands share: exit status, loading a job, faults of the command line."""

from __future__ import annotations

import argparse
import os
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from harnesscheck.fault import Fault
    from harnesscheck.job import Job

OK, FOUND, UNREADABLE, INTERRUPTED = 0, 1, 2, 130


def add_format(parser: argparse.ArgumentParser) -> None:
    """The option ``--format text|json``."""
    parser.add_argument("--format", choices=("text", "json"), default="text", help="default: text")


def add_on(parser: argparse.ArgumentParser) -> None:
    """The option ``--on AIRCRAFT``."""
    parser.add_argument("--on", metavar="AIRCRAFT", help="as-found or airframe file: the kit in that aircraft instead")


def load(file: str, on: str | None = None) -> Job:
    """The job a file leads to, in the aircraft ``on`` when one is named. Raises ``InputError``.

    What a list held beside what was understood of it is said on stderr: no answer may pass over it.
    """
    from harnesscheck import api
    from harnesscheck.fault import quoted
    from harnesscheck.unread import warning

    job = api.load(file, on)
    if job.unread:
        print(f"{quoted(file)}: {warning(job.unread)}", file=sys.stderr)
    return job


def colour() -> bool:
    """Colour only on a terminal that wants it (NO_COLOR, TERM=dumb and pipes get none)."""
    return (
        sys.stdout is not None
        and sys.stdout.isatty()
        and not os.environ.get("NO_COLOR")
        and os.environ.get("TERM") != "dumb"
    )


def unknown(what: str, name: str, known: list[str]) -> Fault:
    """A fault of the command line: there is no such thing, with the nearest name."""
    from harnesscheck.fault import nearest, short

    return usage(f"there is no {what} {short(name)}", nearest(name, known) or "see: harnesscheck list")


def usage(message: str, remedy: str) -> Fault:
    """A fault of the command line."""
    from harnesscheck.fault import Fault

    return Fault("command line", 1, 1, message, "", remedy)
