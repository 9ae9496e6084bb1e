"""Say what a check looks for, why, its source, and what to do."""

from __future__ import annotations

import argparse

from harnesscheck.commands._common import OK, unknown

EXAMPLES = (
    "explain wrong-mate",
    "explain pin-collision",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("check", metavar="CHECK", help="name of a check, as it stands behind a finding")


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    from harnesscheck import checks
    from harnesscheck.fault import InputError

    if arguments.check not in (*checks.names(), checks.UNREAD.name):
        raise InputError([unknown("check", arguments.check, checks.names())])
    print(f"{arguments.check}\n\n{checks.explain(arguments.check)}")
    return OK
