"""The command ``parts``: questions to the parts drawer."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from harnesscheck import api, lookup
from harnesscheck.document import read
from harnesscheck.fault import Fault, InputError
from harnesscheck.parts import open_drawer


def run(arguments: argparse.Namespace) -> None:
    """Answer ``parts find``, ``parts show`` or ``parts fit``. Raises ``InputError``."""
    if arguments.question == "fit":
        _fit(arguments)
        return
    drawer = open_drawer(read(Path(arguments.parts)) if arguments.parts else None)
    if arguments.question == "show":
        found = lookup.show(drawer, arguments.part)
    else:
        found = lookup.find(drawer, arguments.words)
        if not found:
            raise InputError([_usage(f"no part holds {' '.join(arguments.words)!r}", "try fewer or other words")])
    if arguments.format == "json":
        print(json.dumps([lookup.part_data(part) for part in found], indent=2))
    elif arguments.question == "show":
        print("\n".join(lookup.lines(lookup.page(part)) for part in found), end="")
    else:
        for part in found[: lookup.MOST]:
            print(f"{part.number:<24}{part.kind}")
        if len(found) > lookup.MOST:
            print(f"and {len(found) - lookup.MOST} more: give another word")


def _fit(arguments: argparse.Namespace) -> None:
    names = ("family", "insert", "gender")
    wire = arguments.wire
    if arguments.connector:
        drawer = open_drawer()
        record = drawer.get("connector", arguments.connector)
        if record is None:
            near = drawer.suggest("connector", arguments.connector)
            remedy = f"did you mean {near[0]}?" if near else "give FILE and --cavity instead"
            raise InputError([_usage(f"there is no connector {arguments.connector!r} in the drawer", remedy)])
        facts = {name: fact for name in names if (fact := record.fact(name)) is not None}
    elif arguments.file and arguments.cavity:
        harness = api.load(arguments.file).subject
        connector, _, at_cavity = lookup.cavity_connector(harness, arguments.cavity)
        drawer, wire = harness.drawer, wire or at_cavity
        facts = {name: fact for name in names if (fact := connector.fact(name)) is not None}
    else:
        raise InputError(
            [_usage("parts fit needs a cavity or a connector", "give FILE --cavity P14-3, or --connector PART")]
        )
    verdicts, plugs = lookup.fitting(drawer, facts, wire)
    print(lookup.lines(lookup.fit_page(facts, verdicts, plugs, wire)), end="")


def _usage(message: str, remedy: str) -> Fault:
    return Fault("command line", 1, 1, message, "", remedy)
