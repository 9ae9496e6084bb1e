"""Run the whole job on the packaged demo."""

from __future__ import annotations

import argparse
from pathlib import Path

from harnesscheck.commands._common import FOUND, OK, colour

EXAMPLES = (
    "demo",
    "demo -o my-demo",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument(
        "-o", "--out", default="harnesscheck-demo", metavar="DIR", help="folder to write (default: %(default)s)"
    )


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    from harnesscheck import demo

    return OK if demo.run(Path(arguments.out), colour()) else FOUND
