"""Print what makes a shell complete commands and options."""

from __future__ import annotations

import argparse

from harnesscheck.commands._common import OK

EXAMPLES = (
    "completion bash",
    "completion zsh",
)
SHELLS = ("bash", "zsh", "tcsh")


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("shell", choices=SHELLS, metavar="SHELL", help="bash, zsh or tcsh")


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    import shtab

    print(shtab.complete(arguments.whole, arguments.shell))
    return OK
