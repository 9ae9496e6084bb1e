"""Prove that a jumper does no harm to the aircraft's own circuits, and write the evidence."""

from __future__ import annotations

import argparse

from harnesscheck.commands._common import FOUND, OK, load, usage

EXAMPLES = (
    "prove jumper.yaml",
    "prove jumper.yaml -o evidence.json",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("file", metavar="FILE", help="jumper file")
    parser.add_argument("-o", "--out", metavar="OUT", help="file to write the evidence to, .json")


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    from pathlib import Path

    from harnesscheck import api
    from harnesscheck.fault import InputError, quoted
    from harnesscheck.finding import Severity
    from harnesscheck.output import write_whole
    from harnesscheck.proof.evidence import as_json, evidence
    from harnesscheck.proof.statement import provable, statement
    from harnesscheck.report import verdict
    from harnesscheck.sheets import do_no_harm

    if arguments.out and not arguments.out.lower().endswith(".json"):
        raise InputError([usage(f"evidence is not written as {arguments.out}", "end the name in .json")])
    job = load(arguments.file)
    if not provable(job.subject):
        raise InputError([usage(f"{arguments.file} has no before and after", "name the jumper file of the job")])
    report = api.check(job)
    proven = statement(job)
    lines = [quoted(line) for line in do_no_harm.text(proven)]
    print("\n".join([*lines, "", f"What the checks say: {verdict(report)}"]))
    if arguments.out:
        data = evidence(proven, report)
        write_whole(Path(arguments.out), as_json(data).encode("ascii"))
        print(f"wrote {arguments.out}: confirm it with harnesscheck recheck {arguments.out}")
    return OK if proven.holds and not report.count(Severity.STOP) else FOUND
