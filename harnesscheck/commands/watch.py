"""Check again whenever a file of the job is saved, and say what has changed."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from harnesscheck.commands._common import FOUND, OK, UNREADABLE, usage

if TYPE_CHECKING:
    from pathlib import Path

EXAMPLES = (
    "watch --once jumper.yaml",
    "watch --once --draw diagram.svg jumper.yaml",
)
QUICKEST, SLOWEST = 0.05, 60.0
"""Seconds between two looks at the files. Common practice."""
SUFFIXES = (".yaml", ".yml")


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("file", metavar="FILE", help="jumper, airframe or equipment file; its folder is watched")
    parser.add_argument("--draw", metavar="OUT", help="draw the wiring diagram anew each time, .svg or .png")
    parser.add_argument("--every", type=float, default=0.5, metavar="SECONDS", help="between looks (default: 0.5)")
    parser.add_argument("--once", action="store_true", help="look once and stop; the exit status is that of check")


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status; without ``--once`` it runs until Ctrl-C."""
    import time
    from pathlib import Path

    from harnesscheck.fault import InputError

    if not QUICKEST <= arguments.every <= SLOWEST:
        message = f"--every {arguments.every:g}"
        raise InputError([usage(message, f"say a number of seconds from {QUICKEST:g} to {SLOWEST:g}")])
    last: list[str] | None = None
    headlines: list[str] = []
    before: object = None
    status = OK
    while True:
        now = _saved(Path(arguments.file))
        if now != before:
            before = now
            status, verdict, found = _look(arguments.file, arguments.draw)
            if last != [verdict, *found]:
                last = [verdict, *found]
                if status != UNREADABLE:
                    for line in [f"gone: {each}" for each in headlines if each not in found]:
                        print(line)
                    for line in [each for each in found if each not in headlines]:
                        print(line)
                    headlines = found
                print(verdict, flush=True)
        if arguments.once:
            return status
        time.sleep(arguments.every)


def _saved(file: Path) -> dict[str, tuple[int, int]]:
    """When each YAML file in the folder of ``file`` or below it was last written, and how long it is."""
    found = {}
    for path in sorted({file, *(p for p in file.parent.rglob("*") if p.suffix.lower() in SUFFIXES)}):
        try:
            state = path.stat()
        except OSError:
            continue  # taken away between the two calls, or never there; the reader says so
        found[str(path)] = (state.st_mtime_ns, state.st_size)
    return found


def _look(file: str, out: str | None) -> tuple[int, str, list[str]]:
    """The exit status, the verdict, and one line for each primary finding; a broken file is a verdict too."""
    from harnesscheck import api, report
    from harnesscheck.fault import InputError, quoted

    try:
        job = api.load(file)
        result = api.check(job)
        if out:
            api.draw(job, out)
    except InputError as error:
        return UNREADABLE, f"{error}\nThis cannot be read, and what was said before no longer counts.", []
    found = [f"{f.severity.word if f.severity else 'note'}: {quoted(f.headline)} [{f.check}]" for f in result.primary]
    return (OK if result.clear else FOUND), f"{quoted(file)}: {report.verdict(result)}", found
