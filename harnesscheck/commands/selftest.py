"""Prove this installation with known-good and known-bad articles, and print the record."""

from __future__ import annotations

import argparse
from pathlib import Path

from harnesscheck.commands._common import FOUND, OK

EXAMPLES = (
    "selftest",
    "selftest -o selftest.txt",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("-o", "--out", metavar="OUT", help="write the record to this file as well")


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    from harnesscheck import selftest
    from harnesscheck.output import write_whole
    from harnesscheck.selftest.record import passed, verdict

    lines = list(selftest.run(arguments.main))
    record = selftest.as_text(lines)
    if arguments.out:
        write_whole(Path(arguments.out), record.encode("utf-8"))
        print(f"wrote {arguments.out}")
        print(verdict(lines))
    else:
        print(record, end="")
    return OK if passed(lines) else FOUND
