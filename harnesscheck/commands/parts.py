"""Ask the parts drawer."""

from __future__ import annotations

import argparse
from pathlib import Path

from harnesscheck.commands._common import OK, add_format, load, usage

EXAMPLES = (
    "parts find sealing plug 22D",
    "parts show M39029/58-360",
    "parts fit jumper.yaml --cavity P115-1",
    "parts fit --connector D38999/26WA35SN --wire M22759/16-22-9",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    questions = parser.add_subparsers(dest="question", metavar="QUESTION", required=True)
    ask = questions.add_parser("find", help="parts that hold every word", description="parts that hold every word")
    ask.add_argument("words", nargs="+", metavar="WORD", help="all must stand in the part's number, kind or values")
    ask.add_argument("--parts", metavar="FILE", help="the shop's own parts file")
    add_format(ask)
    ask = questions.add_parser("show", help="every value with its source", description="every value with its source")
    ask.add_argument("part", metavar="PART", help="part number")
    ask.add_argument("--parts", metavar="FILE", help="the shop's own parts file")
    add_format(ask)
    ask = questions.add_parser("fit", help="what fits a cavity", description="contacts, plugs and tools that fit")
    ask.add_argument("file", nargs="?", metavar="FILE", help="jumper or airframe file, for --cavity")
    ask.add_argument("--cavity", metavar="CAVITY", help="like P14-3")
    ask.add_argument("--connector", metavar="PART", help="part number of the connector, instead of FILE and --cavity")
    ask.add_argument("--wire", metavar="TYPE", help="wire part number; default: the wire at the cavity")


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    import json

    from harnesscheck import lookup
    from harnesscheck.document import read
    from harnesscheck.fault import InputError
    from harnesscheck.parts import open_drawer

    if arguments.question == "fit":
        return _fit(arguments)
    drawer = open_drawer(read(Path(arguments.parts)) if arguments.parts else None)
    if arguments.question == "show":
        found = lookup.show(drawer, arguments.part)
    else:
        found = lookup.find(drawer, arguments.words)
        if not found:
            remedy = lookup.other_name(arguments.words) or "try fewer or other words"
            raise InputError([usage(f"no part holds {' '.join(arguments.words)!r}", remedy)])
    if arguments.format == "json":
        print(json.dumps([lookup.part_data(part) for part in found], indent=2))
    elif arguments.question == "show":
        print("\n".join(lookup.lines(lookup.page(part)) for part in found), end="")
    else:
        for part in found[: lookup.MOST]:
            print(f"{part.number:<24}{part.kind:<16}{lookup.in_short(part)}".rstrip())
        if len(found) > lookup.MOST:
            print(f"and {len(found) - lookup.MOST} more: give another word")
    return OK


def _fit(arguments: argparse.Namespace) -> int:
    from harnesscheck import lookup
    from harnesscheck.fault import InputError
    from harnesscheck.parts import open_drawer

    names = ("family", "insert", "gender")
    wire = arguments.wire
    if arguments.connector:
        drawer = open_drawer()
        record = drawer.get("connector", arguments.connector)
        if record is None:
            near = drawer.suggest("connector", arguments.connector)
            remedy = f"did you mean {near[0]}?" if near else "give FILE and --cavity instead"
            raise InputError([usage(f"there is no connector {arguments.connector!r} in the drawer", remedy)])
        facts = {name: fact for name in names if (fact := record.fact(name)) is not None}
    elif arguments.file and arguments.cavity:
        harness = load(arguments.file).subject
        connector, _, at_cavity = lookup.cavity_connector(harness, arguments.cavity)
        drawer, wire = harness.drawer, wire or at_cavity
        facts = {name: fact for name in names if (fact := connector.fact(name)) is not None}
    else:
        raise InputError(
            [usage("parts fit needs a cavity or a connector", "give FILE --cavity P14-3, or --connector PART")]
        )
    verdicts, plugs = lookup.fitting(drawer, facts, wire)
    print(lookup.lines(lookup.fit_page(facts, verdicts, plugs, wire)), end="")
    return OK
