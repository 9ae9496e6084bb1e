"""Draw the wiring diagram."""

from __future__ import annotations

import argparse

from harnesscheck.commands._common import OK, add_on, load

EXAMPLES = (
    "draw jumper.yaml -o diagram.svg",
    "draw jumper.yaml -o diagram.png",
    "draw jumper.yaml -o diagram.pdf",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("file", metavar="FILE", help="jumper or airframe file")
    parser.add_argument("-o", "--out", required=True, metavar="OUT", help="file to write, .svg, .png or .pdf")
    add_on(parser)


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    from harnesscheck import api

    job = load(arguments.file, arguments.on)
    print(f"wrote {api.draw(job, arguments.out)}")
    return OK
