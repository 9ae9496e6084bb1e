"""Check one kit against many aircraft: which fit, which need a change, which must not get it."""

from __future__ import annotations

import argparse
import re
from collections.abc import Iterator
from pathlib import Path

from harnesscheck.commands._common import FOUND, OK, usage

EXAMPLES = (
    "fleet jumper.yaml airframe.yaml",
    "fleet jumper.yaml airframe.yaml -o fleet.csv",
)
_KIND = re.compile(rb"^kind:[ \t]*(?:jumper|equipment|parts)\b", re.MULTILINE)

_FRONT = 65_536
"""Bytes of a file in which its kind is looked for."""


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("kit", metavar="JUMPER", help="jumper file of the kit")
    parser.add_argument(
        "aircraft", nargs="+", metavar="AIRCRAFT", help="as-found or airframe file, or a folder of them"
    )
    parser.add_argument("-o", "--out", metavar="OUT", help="file to write, .csv or .json, with every reason")
    parser.add_argument("--strict", action="store_true", help="aircraft that need a change or are not known count too")


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    from harnesscheck import fleet
    from harnesscheck.commands._progress import Bar
    from harnesscheck.fault import InputError
    from harnesscheck.fleet import page
    from harnesscheck.output import write_whole

    forms = {".csv": page.as_csv, ".json": page.as_json}
    out = Path(arguments.out) if arguments.out else None
    if out is not None and out.suffix.lower() not in forms:
        raise InputError([usage(f"a fleet is not written as {out.name}", "end the name in .csv or .json")])
    files = list(_files(arguments.aircraft))
    if not files:
        raise InputError([usage("there is no as-found or airframe file in this folder", "name the files of aircraft")])
    with Bar("aircraft") as bar:
        found = fleet.run(arguments.kit, files, progress=bar)
    print(page.as_text(found), end="")
    if out is not None:
        write_whole(out, forms[out.suffix.lower()](found))
        print(f"wrote {out}")
    bad = found.count(fleet.Verdict.NOT)
    if arguments.strict:
        bad = len(found.rows) - found.count(fleet.Verdict.FITS)
    return FOUND if bad else OK


def _files(named: list[str]) -> Iterator[str]:
    """The files as named; of a folder every YAML file that does not say it is something else than an aircraft."""
    for name in named:
        path = Path(name)
        if not path.is_dir():
            yield name
            continue
        for file in sorted(path.iterdir()):
            if file.suffix.lower() in (".yaml", ".yml") and not _other(file):
                yield str(file)


def _other(file: Path) -> bool:
    try:
        with file.open("rb") as opened:
            return _KIND.search(opened.read(_FRONT)) is not None
    except OSError:
        return False  # it gets a row that says so
