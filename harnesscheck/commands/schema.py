"""Write the file format as JSON Schema, for an editor that completes and explains keys."""

from __future__ import annotations

import argparse

from harnesscheck.commands._common import OK

EXAMPLES = (
    "schema",
    "schema -o job.schema.json",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("-o", "--out", metavar="OUT", help="file to write; without it the schema is shown")


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    import json
    from pathlib import Path

    from harnesscheck.formats import editor_schema
    from harnesscheck.output import write_whole

    text = json.dumps(editor_schema(), indent=2, ensure_ascii=False) + "\n"
    if arguments.out:
        write_whole(Path(arguments.out), text.encode("utf-8"))
        print(f"wrote {arguments.out}")
        print("in a job file, first line: # yaml-language-server: $schema=" + arguments.out)
    else:
        print(text, end="")
    return OK
