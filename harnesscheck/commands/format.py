"""Lay the files out in their canonical form, comments kept."""

from __future__ import annotations

import argparse

from harnesscheck.commands._common import FOUND, OK

EXAMPLES = (
    "format jumper.yaml airframe.yaml",
    "format --check jumper.yaml",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("files", nargs="+", metavar="FILE", help="any YAML file of a job")
    parser.add_argument("--check", action="store_true", help="write nothing; exit 1 when a file would change")


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    import sys
    from pathlib import Path

    from harnesscheck.document import read
    from harnesscheck.fault import Fault, InputError, quoted
    from harnesscheck.layout import LeftAloneError, canonical
    from harnesscheck.output import write_whole

    faults: list[Fault] = []
    alone: list[Fault] = []
    changed: list[tuple[str, bytes]] = []
    for name in dict.fromkeys(arguments.files):
        try:
            document = read(Path(name), name)
            if "kind" not in document.root:
                raise LeftAloneError(document.fault(1, 1, "this is not a file of a job", "leave it out"))
            data = Path(name).read_bytes()
            result = canonical(data, name)
            if result != data:
                changed.append((name, result))
        except LeftAloneError as error:
            alone.append(error.fault)
        except InputError as error:
            faults.extend(error.faults)
    if faults:
        raise InputError(faults)
    for name, result in changed:
        if not arguments.check:
            write_whole(Path(name), result)
        print(f"{'would lay out anew:' if arguments.check else 'laid out anew:'} {quoted(name)}")
    for fault in alone:
        print(f"left alone: {fault}", file=sys.stderr)
    if not changed and not alone:
        print("nothing to change")
    return FOUND if alone or (arguments.check and changed) else OK
