"""Reckon the evidence of a do-no-harm proof through again, without the rest of the program."""

from __future__ import annotations

import argparse

EXAMPLES = (
    "recheck evidence.json",
    "recheck evidence.json --folder .",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("file", metavar="FILE", help="evidence that harnesscheck prove has written")
    parser.add_argument("--folder", metavar="FOLDER", help="folder of the job: compare its files as well")


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    from harnesscheck import recheck

    folder = ["--folder", arguments.folder] if arguments.folder else []
    return recheck.main([*folder, "--", arguments.file])
