"""Read a from-to list or pin table from a spreadsheet, say what was understood, write it as a harness file."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from harnesscheck.commands._common import FOUND, OK, usage

if TYPE_CHECKING:
    from pathlib import Path

EXAMPLES = (
    "import list.csv",
    "import list.csv -o airframe.yaml",
    "import list.csv --write-map list-map.yaml",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("file", metavar="FILE", help="list: .csv, .tsv, .xlsx, .ods, .md or .txt")
    parser.add_argument("-o", "--out", metavar="OUT", help="airframe file to write")
    parser.add_argument("--map", metavar="MAP", help="map file that states the layout of your lists")
    parser.add_argument("--write-map", metavar="MAP", help="write a map file of this layout, to be corrected by hand")


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status: 0 all understood, 1 something not, 2 unreadable."""
    from pathlib import Path

    from harnesscheck.formats import exported, spreadsheet
    from harnesscheck.formats._lists import mapping
    from harnesscheck.formats._lists.build import as_yaml
    from harnesscheck.formats._lists.show import map_text, shown
    from harnesscheck.output import write_whole

    path = Path(arguments.file)
    if exported.reads(path):
        return _back(arguments, path)
    told = mapping.load(Path(arguments.map), arguments.map) if arguments.map else None
    imported = spreadsheet.understood(path, arguments.file, told)
    if arguments.out or not arguments.write_map:
        print(shown(imported), end="")
    if arguments.out:
        spreadsheet.job_of(imported, path, arguments.file)  # proves that what is written can be read
        write_whole(Path(arguments.out), as_yaml(imported.draft).encode("utf-8"))
        print(f"wrote {arguments.out}")
    if arguments.write_map:
        write_whole(Path(arguments.write_map), map_text(imported).encode("utf-8"))
        print(f"wrote {arguments.write_map}")
        print(f"correct it, then: harnesscheck import --map {arguments.write_map} {arguments.file}")
    return OK if imported.account.whole else FOUND


def _back(arguments: argparse.Namespace, path: Path) -> int:
    """One of our own exports: the file that it was made of."""
    from pathlib import Path

    from harnesscheck.fault import InputError
    from harnesscheck.formats import exported
    from harnesscheck.output import write_whole

    if arguments.map or arguments.write_map:
        remedy = "leave out --map and --write-map"
        raise InputError([usage("a file written by harnesscheck export has its own layout", remedy)])
    document = exported.document_of(path, arguments.file)
    sections = [f"{len(block)} {key}" for key, block in document.root.items() if isinstance(block, dict) and block]
    print(
        f"{arguments.file}: written by harnesscheck export, read as it stands: {', '.join(sections) or 'no sections'}"
    )
    if arguments.out:
        exported.load(path, arguments.file)  # proves that what is written can be read
        write_whole(Path(arguments.out), exported.as_yaml(document).encode("utf-8"))
        print(f"wrote {arguments.out}")
    return OK
