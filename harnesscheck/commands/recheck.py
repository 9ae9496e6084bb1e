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
    from pathlib import Path

    from harnesscheck import recheck
    from harnesscheck.document import MAX_BYTES
    from harnesscheck.fault import Fault, InputError

    path = Path(arguments.file)
    if path.is_file() and path.stat().st_size > MAX_BYTES:
        message = f"this file is larger than {MAX_BYTES // 1_000_000} MB"
        raise InputError([Fault(arguments.file, 1, 1, message, "", "make it anew: harnesscheck prove")])
    folder = ["--folder", arguments.folder] if arguments.folder else []
    return recheck.main([*folder, "--", arguments.file])
