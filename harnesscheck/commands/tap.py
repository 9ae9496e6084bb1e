"""Plan a jumper that taps existing circuits for new equipment, and say why it is so or why there is none.

The plan is an ordinary jumper file with the reason of each choice beside it. Before it is written it is read back and
put to all checks; what they would find is avoided, or there is no plan and the reason is printed. Planning again into
the same file keeps entries marked '# fixed', limits: and waivers:.
"""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from harnesscheck.commands._common import FOUND, OK, usage

if TYPE_CHECKING:
    from harnesscheck.jumper.planning import Plan
    from harnesscheck.place import Point

EXAMPLES = (
    "tap airframe.yaml ice-probe.yaml --at P14/J14 --decided jumper.yaml -o plan.yaml",
    "tap airframe.yaml ice-probe.yaml --at P14/J14 --unit A12 --use A12J1-1=P14-12 --least mass --decided jumper.yaml "
    "-o plan.yaml",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("airframe", metavar="AIRFRAME", help="airframe file")
    parser.add_argument("equipment", nargs="+", metavar="EQUIPMENT", help="equipment files, all tapped at one pair")
    parser.add_argument("--at", required=True, metavar="P14/J14", help="the mated pair to open")
    parser.add_argument("-o", "--out", required=True, metavar="OUT", help="jumper file to write")
    parser.add_argument(
        "--use", action="append", default=[], metavar="PIN=WHERE",
        help="tap this circuit or cavity for that pin, like A12J1-1=P14-3 (may be repeated)",
    )  # fmt: skip
    parser.add_argument("--unit", action="append", default=[], metavar="A12", help="designator, one per equipment file")
    parser.add_argument("--least", choices=("splices", "mass", "length", "parts"), help="what to have least of, first")
    parser.add_argument("--trunk", metavar="LENGTH", help="length of the trunk, where the default one is too long")
    parser.add_argument("--route", metavar="NAME", help="route to the equipment, where the airframe has several")
    parser.add_argument("--branch", metavar="LENGTH", help="way from the pair to the equipment, where no route says it")
    parser.add_argument("--decided", metavar="FILE", help="file whose limits: and waivers: hold here as well")


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    from pathlib import Path

    from harnesscheck import report
    from harnesscheck.fault import InputError, quoted
    from harnesscheck.jumper.planning import Asked, plan
    from harnesscheck.output import write_whole
    from harnesscheck.report.to_text import not_checked_lines

    if not arguments.out.lower().endswith((".yaml", ".yml")):
        raise InputError([usage(f"a plan is not written as {arguments.out!r}", "end the name in .yaml")])
    asked = Asked(
        arguments.airframe, tuple(arguments.equipment), arguments.at, arguments.out, _use(arguments.use),
        arguments.least, tuple(arguments.unit), _length("--trunk", arguments.trunk), arguments.route,
        _length("--branch", arguments.branch), arguments.decided,
    )  # fmt: skip
    made = plan(asked)
    if made.text is None or made.report is None:
        print("\n".join(quoted(line) for line in _refused(made)))
        return FOUND
    write_whole(Path(arguments.out), made.text.encode("utf-8"))
    print("\n".join(quoted(line) for line in _planned(made, arguments.least)))
    if made.report.not_checked:
        print("Not checked:", *not_checked_lines(made.report.not_checked), "", sep="\n")
    print("\n".join(report.CAUTIONS))
    print(report.verdict(made.report))
    print(f"wrote {quoted(arguments.out)}")
    return OK


def _use(listed: list[str]) -> dict[Point, str]:
    from harnesscheck.fault import InputError
    from harnesscheck.place import split_point

    found: dict[Point, str] = {}
    for text in listed:
        pin, equals, where = text.partition("=")
        point = split_point(pin.strip())
        if not equals or point is None or not point.cavity or not where.strip():
            raise InputError([usage(f"--use {text!r} cannot be read", "write it like --use A12J1-1=P14-3")])
        found[point] = where.strip()
    return found


def _length(option: str, text: str | None) -> float | None:
    from harnesscheck import units
    from harnesscheck.fault import InputError

    if text is None:
        return None
    try:
        return units.length(text)
    except ValueError as error:
        raise InputError([usage(f"{option} {text!r}: {error}", "write it like 300 mm")]) from None


def _planned(made: Plan, least: str | None) -> list[str]:
    """What was planned, in the order in which a person asks: what is tapped, what it costs, what else there was."""
    from harnesscheck.jumper.design import difference

    assert made.kit is not None and made.result is not None and made.result.best is not None
    lines = [made.title, ""]
    for tap in made.chosen.taps:
        lines.append(f"{tap.pin} taps {tap.circuit} at {made.kit.opened[0]}-{tap.cavity}")
        lines += [f"    {reason}" for reason in tap.reasons]
        lines += [f"    not {name}: {why}" for name, why in tap.others[:3]]
    lines += [*made.remarks, ""]
    lines.append(f"cost{f', least {least} first' if least else ''}: {made.result.best.cost}")
    lines += [f"  next: {other.cost}: {difference(made.result.best, other)}" for other in made.result.runners_up]
    return [*lines, ""]


def _refused(made: Plan) -> list[str]:
    from harnesscheck.jumper.deciding import block

    lines = ["No plan, and nothing was written:"]
    for no in made.noes:
        lines.append(f"  {no.what}")
        lines += [f"      {name}: {why}" for name, why in no.tried]
        if no.remedy:
            lines.append(f"    do: {no.remedy}")
    wanted = block(no.decision for no in made.noes if no.decision is not None)
    if wanted:
        lines += [
            "",
            "What cannot be put right a person may decide in writing. Fill this in, add it to the file of your",
        ]
        lines += ["decisions (a new one: decided.yaml), and plan again with --decided decided.yaml:", "", *wanted]
    return lines
