"""Start a job folder: four files with comments that say what to fill in."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from harnesscheck.commands._common import OK, usage

if TYPE_CHECKING:
    from harnesscheck.commands._from_list import Told

EXAMPLES = (
    "new my-job --opens P14/J14 --connector M24308/4-2 --equipment-pins 1:power,2:ground,3:can,4:can",
    "new other-job --opens P7/J7 --cavities A,B,C,D --unit A3 --equipment-pins 4",
    "new third-job --list list.csv --opens P1/J1 --equipment-pins 1:power,2:ground",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("folder", metavar="FOLDER", help="folder to make; what lies in it is never overwritten")
    parser.add_argument("--title", metavar="TEXT", help="what the job is, for title blocks")
    parser.add_argument("--opens", metavar="PAIR", help="the mated pair that is opened, plug first, like P14/J14")
    parser.add_argument("--connector", metavar="PART", help="part number of the aircraft's plug half")
    parser.add_argument("--receptacle", metavar="PART", help="part number of the aircraft's receptacle half")
    parser.add_argument(
        "--cavities", metavar="N", help="how many, or their names (A,B,C); left out when the part number is known"
    )
    parser.add_argument(
        "--list", metavar="FILE", help="from-to list or pin table of the aircraft's wires, as you keep it"
    )
    parser.add_argument("--aircraft", metavar="TEXT", help="which aircraft, for title blocks")
    parser.add_argument("--unit", metavar="REF", help="unit designator of the new box (default: A1)")
    parser.add_argument("--equipment-connector", metavar="PART", help="part number of the receptacle on the new box")
    parser.add_argument(
        "--equipment-pins", metavar="N", help="how many, or their names, with a signal class if known: 1:power,2:ground"
    )


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    from pathlib import Path

    from harnesscheck import commands, newjob
    from harnesscheck.fault import InputError, quoted

    _ask(arguments)
    folder = Path(arguments.folder)
    title = arguments.title or folder.resolve().name
    if any(len(said) > 200 or not said.isprintable() for said in (title, arguments.aircraft or "")):
        raise InputError([usage("this title cannot be printed on one line", "say it in under 200 plain characters")])
    missing = [name for name in ("opens", "equipment_pins") if not getattr(arguments, name)]
    if missing:
        flags = " and ".join("--" + name.replace("_", "-") for name in missing)
        raise InputError([usage(f"{flags} must be given", "see: harnesscheck new --help")])
    plug, receptacle = newjob.pair(arguments.opens, "--opens")
    part = {
        name: newjob.part(said, "--" + name.replace("_", "-")) if (said := getattr(arguments, name)) else ""
        for name in ("connector", "receptacle", "equipment_connector")
    }
    told = _told(arguments.list, (plug, receptacle), part, arguments.aircraft) if arguments.list else None
    known = newjob.known_cavities(part["connector"]) or newjob.known_cavities(part["receptacle"])
    if told is not None and not known:
        known = told.cavities
    if not arguments.cavities and not known:
        message = "the cavities of this connector are not known to the parts drawer"
        raise InputError([usage(message, "give --cavities, like 15 or A,B,C")])
    wanted = newjob.Wanted(
        title=title,
        plug=plug,
        receptacle=receptacle,
        cavities=newjob.cavities(arguments.cavities, "--cavities") if arguments.cavities else known,
        unit=newjob.reference(arguments.unit or "A1", "--unit"),
        pins=newjob.pins(arguments.equipment_pins, "--equipment-pins"),
        plug_part=part["connector"],
        receptacle_part=part["receptacle"],
        equipment_part=part["equipment_connector"],
        aircraft=arguments.aircraft or "",
        known=told.lines if told is not None else (),
    )
    for path in newjob.start(folder, wanted, tap="tap" in commands.names()):
        print(f"wrote {quoted(str(path))}")
    airframe, box, kit = (quoted(str(folder / f"{name}.yaml")) for name in ("airframe", "equipment", "jumper"))
    if told is not None and told.left:
        many = f"{told.left} rows or values of the list were" if told.left > 1 else "1 row or value of the list was"
        print(f"{many} not understood: see the top of {airframe}")
    print(f"1. Fill in {airframe}: what each cavity carries, breakers, grounds. What is not known stays unknown.")
    print(f"   harnesscheck check {airframe}")
    print(f"2. Fill in {box}: what the maker says of each pin.")
    print(f"   harnesscheck check {box}")
    print(f"3. Let the kit be planned; {kit} is written over as long as nobody has changed it:")
    print(f"   harnesscheck tap {airframe} {box} --at {plug}/{receptacle} --unit {wanted.unit} -o {kit}")
    return OK


def _told(file: str, halves: tuple[str, str], parts: dict[str, str], aircraft: str | None) -> Told:
    """The airframe file that a list of wires gives."""
    from pathlib import Path

    from harnesscheck.commands._from_list import told
    from harnesscheck.formats import spreadsheet

    path = Path(file)
    imported = spreadsheet.understood(path, file)
    spreadsheet.job_of(imported, path, file)  # proves that what is written can be read
    return told(imported, halves, (parts["connector"], parts["receptacle"]), aircraft or "")


QUESTIONS = (
    ("title", "What is the job called? "),
    ("opens", "Which mated pair is opened, plug first (like P14/J14)? "),
    ("connector", "Part number of the aircraft's plug half (empty if not known)? "),
    ("receptacle", "Part number of the aircraft's receptacle half (empty if not known)? "),
    ("cavities", "How many cavities, or their names A,B,C (empty if the part number says it)? "),
    ("unit", "Unit designator of the new box (empty for A1)? "),
    ("equipment_connector", "Part number of the receptacle on the new box (empty if not known)? "),
    ("equipment_pins", "How many pins has it, or which (like 1:power,2:ground,3)? "),
)


def _ask(arguments: argparse.Namespace) -> None:
    """On a terminal, ask for what the flags do not say; without one the flags must suffice."""
    import sys

    if arguments.opens and arguments.equipment_pins:
        return
    if sys.stdin is None or not sys.stdin.isatty() or not sys.stdout.isatty():
        return
    for name, question in QUESTIONS:
        if getattr(arguments, name) is None:
            try:
                setattr(arguments, name, input(question).strip() or None)
            except EOFError:
                print()
                return
