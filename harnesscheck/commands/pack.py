"""Write the whole kit pack: one book, single sheets, lists, and a page for the phone."""

from __future__ import annotations

import argparse
from pathlib import Path

from harnesscheck.commands._common import FOUND, OK, load, usage
from harnesscheck.commands.sheet import MOST_KITS

EXAMPLES = (
    "pack jumper.yaml -o kit-pack",
    "pack jumper.yaml -o kit-pack --kits 10",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("file", metavar="FILE", help="the jumper file")
    parser.add_argument("-o", "--out", required=True, metavar="DIR", help="folder to write; a pack in it is replaced")
    parser.add_argument("--kits", type=int, default=1, metavar="N", help="for N kits at once")
    parser.add_argument("--previous", metavar="FILE", help="the revision before, for the rework list")


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    from harnesscheck import api, pack, report, sheets
    from harnesscheck.fault import InputError

    if not 1 <= arguments.kits <= MOST_KITS:
        raise InputError([usage(f"--kits {arguments.kits}", f"say a number from 1 to {MOST_KITS}")])
    job = load(arguments.file)
    wish = sheets.Wish(arguments.kits, "", load(arguments.previous) if arguments.previous else None)
    result = api.check(job)
    written = pack.write(job, result, Path(arguments.out), wish)
    print(f"wrote {written.folder}: {written.files} files, a book of {written.pages} pages")
    print(f"pack id {written.pack}")
    print(report.verdict(result))
    for what, why in written.without:
        print(f"not made: {what}: {why}")
    print(f"Open {written.folder / written.book} to print, {written.folder / 'kit.html'} on a phone,")
    if (written.folder / pack.WORKSHEET).exists():
        print(f"{written.folder / pack.WORKSHEET} to type the readings.")
    return OK if result.clear else FOUND
