"""Say whether a folder is still the kit pack that was written: whole, unaltered, one pack id."""

from __future__ import annotations

import argparse
from pathlib import Path

from harnesscheck.commands._common import FOUND, OK

EXAMPLES = (
    "verify kit-pack",
    "verify ../from-the-post/kit-pack",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("folder", metavar="DIR", help="the folder that pack wrote")


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    from harnesscheck.fault import quoted
    from harnesscheck.pack import verify

    found = verify(Path(arguments.folder))
    for fault in found.faults:
        print(quoted(fault))
    if found.faults:
        print("Do not use this pack: make it again with harnesscheck pack.")
        return FOUND
    print(f"whole and unaltered: {found.files} files, pack id {found.pack}")
    return OK
