"""Show volts and amps at each load, the worst case named."""

from __future__ import annotations

import argparse

from harnesscheck.commands._common import add_on, load

EXAMPLES = (
    "volts jumper.yaml",
    "volts jumper.yaml -o volts.csv",
)
SHEET = "volts"


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("file", metavar="FILE", help="jumper or airframe file")
    parser.add_argument("-o", "--out", metavar="OUT", help="file to write; without it the text is shown")
    add_on(parser)


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    from harnesscheck import api, sheets

    job = load(arguments.file, arguments.on)
    if arguments.out:
        print(f"wrote {api.sheet(job, SHEET, arguments.out)}")
    else:
        print(sheets.render(SHEET, job, "text").decode("utf-8"), end="")
    return 0
