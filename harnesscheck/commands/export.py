"""Write a job for other programs: tables that read back the same, graph, netlist, JSON."""

from __future__ import annotations

import argparse

from harnesscheck.commands._common import OK, load, usage

EXAMPLES = (
    "export jumper.yaml -o kit.xlsx",
    "export jumper.yaml -o kit.graphml",
    "export --schema",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("file", metavar="FILE", nargs="?", help="jumper, airframe or equipment file")
    parser.add_argument(
        "-o", "--out", metavar="OUT",
        help="file to write: .csv or .xlsx (FILE itself, reads back the same), "
        ".graphml, .cir or .json (all that FILE leads to, the jumper in)",
    )  # fmt: skip
    parser.add_argument("--schema", action="store_true", help="show the JSON Schema of the .json form")


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    from pathlib import Path

    from harnesscheck import exchange
    from harnesscheck.fault import InputError
    from harnesscheck.output import write_whole

    if arguments.schema:
        from harnesscheck.exchange.model_json import schema_text

        if arguments.file or (arguments.out and not arguments.out.endswith(".json")):
            raise InputError([usage("--schema goes with no FILE, and is JSON", "harnesscheck export --schema")])
        if not arguments.out:
            print(schema_text(), end="")
            return OK
        write_whole(Path(arguments.out), schema_text().encode("utf-8"))
        print(f"wrote {arguments.out}")
        return OK
    if not arguments.file or not arguments.out:
        raise InputError([usage("export needs a file and where to write it", "harnesscheck export FILE -o OUT.xlsx")])
    if Path(arguments.out).resolve() == Path(arguments.file).resolve():
        raise InputError([usage(f"{arguments.out} is the file that is read", "choose another name with -o")])
    job = load(arguments.file)
    write_whole(Path(arguments.out), exchange.write(job, arguments.out))
    print(f"wrote {arguments.out}")
    if Path(arguments.out).suffix.lower() in (".csv", ".xlsx"):
        others = exchange.named_files(job)
        if others:
            print(f"it names {', '.join(others)}: keep them beside it")
        print(f"read it again: harnesscheck check {arguments.out}")
    if job.unread:
        print(f"{len(job.unread)} rows or values of the list were not understood: they are only listed in it")
        print(f"see: harnesscheck import {arguments.file}")
    return OK
