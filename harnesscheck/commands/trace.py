"""Follow the copper from one cavity."""

from __future__ import annotations

import argparse

from harnesscheck.commands._common import OK, add_format, load

EXAMPLES = (
    "trace jumper.yaml P14-3",
    "trace jumper.yaml A12J1-1",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("file", metavar="FILE", help="jumper or airframe file")
    parser.add_argument("point", metavar="CAVITY", help="like P14-3, or SP1, GS3, CB7-load")
    add_format(parser)


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    import json

    from harnesscheck import tracing

    job = load(arguments.file)
    result = tracing.trace(job.subject, arguments.point)
    print(
        json.dumps(result.as_data(), indent=2) if arguments.format == "json" else result.as_text(),
        end="\n" if arguments.format == "json" else "",
    )
    return OK
