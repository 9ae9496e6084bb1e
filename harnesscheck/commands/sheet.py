"""Write or show one sheet."""

from __future__ import annotations

import argparse

from harnesscheck.commands._common import OK, add_on, load, unknown, usage

EXAMPLES = (
    "sheet cut-list jumper.yaml",
    "sheet cut-list jumper.yaml -o cut.csv",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("name", metavar="NAME", help="see: harnesscheck list")
    parser.add_argument("file", metavar="FILE")
    parser.add_argument("-o", "--out", metavar="OUT", help="file to write; without it a text sheet is shown")
    add_on(parser)


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    from harnesscheck import api, sheets
    from harnesscheck.fault import InputError

    if arguments.name not in sheets.names():
        raise InputError([unknown("sheet", arguments.name, sheets.names())])
    job = load(arguments.file, arguments.on)
    if arguments.out:
        print(f"wrote {api.sheet(job, arguments.name, arguments.out)}")
    elif "text" in sheets.forms(arguments.name):
        print(sheets.render(arguments.name, job, "text").decode("utf-8"), end="")
    else:
        raise InputError(
            [usage(f"sheet {arguments.name} is a picture", f"say where to write it: -o {arguments.name}.svg")]
        )
    return OK
