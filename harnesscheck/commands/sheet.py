"""Write or show one sheet."""

from __future__ import annotations

import argparse

from harnesscheck.commands._common import OK, add_on, load, unknown, usage

EXAMPLES = (
    "sheet cut-list jumper.yaml",
    "sheet cut-list jumper.yaml -o cut.csv",
)


MOST_KITS = 1000


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("name", metavar="NAME", help="see: harnesscheck list")
    parser.add_argument("file", metavar="FILE", help="jumper or airframe file")
    parser.add_argument("-o", "--out", metavar="OUT", help="file to write; without it a text sheet is shown")
    parser.add_argument("--kits", type=int, default=1, metavar="N", help="for N kits at once, where it matters")
    parser.add_argument("--mode", default="", metavar="MODE", help="variant of a sheet that has several")
    parser.add_argument("--previous", metavar="FILE", help="the revision before, for a sheet that says what changed")
    add_on(parser)


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    from harnesscheck import api, sheets
    from harnesscheck.fault import InputError

    if arguments.name not in sheets.names():
        raise InputError([unknown("sheet", arguments.name, sheets.names())])
    if not 1 <= arguments.kits <= MOST_KITS:
        raise InputError([usage(f"--kits {arguments.kits}", f"say a number from 1 to {MOST_KITS}")])
    job = load(arguments.file, arguments.on)
    wish = sheets.Wish(arguments.kits, arguments.mode, load(arguments.previous) if arguments.previous else None)
    if arguments.out:
        print(f"wrote {api.sheet(job, arguments.name, arguments.out, wish)}")
    elif "text" in sheets.forms(arguments.name):
        print(sheets.render(arguments.name, job, "text", wish).decode("utf-8"), end="")
    else:
        raise InputError(
            [usage(f"sheet {arguments.name} is a picture", f"say where to write it: -o {arguments.name}.svg")]
        )
    return OK
