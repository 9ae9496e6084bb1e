"""Follow the copper from one cavity: wires, ohms, what it reads to its neighbours, who else is on it."""

from __future__ import annotations

import argparse

from harnesscheck.commands._common import OK, add_format, add_on, load

EXAMPLES = (
    "trace jumper.yaml P14-3",
    "trace jumper.yaml A12J1-1 -o circuit.svg",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("file", metavar="FILE", help="jumper or airframe file")
    parser.add_argument("point", metavar="CAVITY", help="like P14-3, or SP1, GS3, CB7-load")
    parser.add_argument("-o", "--out", metavar="OUT", help="the diagram with this circuit heavy: .svg, .png or .pdf")
    add_format(parser)
    add_on(parser)


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    import json
    import sys

    from harnesscheck import api, tracing

    job = load(arguments.file, arguments.on)
    result = tracing.trace(job.subject, arguments.point)
    as_json = arguments.format == "json"
    text = json.dumps(result.as_data(), indent=2) + "\n" if as_json else result.as_text()
    if arguments.out:
        from harnesscheck.sheets.wiring_diagram import shows

        aside = sys.stderr if as_json else sys.stdout
        print(f"wrote {api.draw(job, arguments.out, result.points)}", file=aside)
        if not shows(job, result.points):
            print("nothing is heavy in it: the jumper does not touch this circuit, so it is not drawn", file=aside)
    print(text, end="")
    return OK
