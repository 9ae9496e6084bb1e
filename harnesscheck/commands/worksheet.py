"""Write the worksheet: ring-out and power-up as one page for a phone without a network."""

from __future__ import annotations

import argparse
from pathlib import Path

from harnesscheck.commands._common import FOUND, OK, add_on, load, usage

EXAMPLES = (
    "worksheet jumper.yaml -o worksheet.html",
    "worksheet jumper.yaml --mode field,installed -o worksheet.html",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("file", metavar="FILE", help="jumper or airframe file")
    parser.add_argument("-o", "--out", required=True, metavar="OUT", help="file to write, ends in .html")
    parser.add_argument("--mode", default="", metavar="MODE", help="as for sheet ring-out: field, quick, bussed, ...")
    add_on(parser)


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    from harnesscheck import api, output, report, sheets, worksheet
    from harnesscheck.fault import InputError, short
    from harnesscheck.pack import folder

    path = Path(arguments.out)
    if path.suffix.lower() not in (".html", ".htm"):
        raise InputError([usage(f"the worksheet is not written as {short(path.name)}", "end the name in .html")])
    job = load(arguments.file, arguments.on)
    result = api.check(job)
    data = worksheet.page(job, sheets.Wish(mode=arguments.mode), folder.stamp(job, result, ""))
    output.write_whole(path, data)
    print(f"wrote {path}: copy it to the phone, it needs no network")
    print(report.verdict(result))
    return OK if result.clear else FOUND
