"""Find every wiring fault in a job."""

from __future__ import annotations

import argparse

from harnesscheck.commands._common import FOUND, OK, add_on, colour, unknown

EXAMPLES = (
    "check jumper.yaml",
    "check --format json jumper.yaml",
    "check --format sarif jumper.yaml",
)


FORMS = ("text", "annotations", "json", "sarif")
"""As ``report.forms()`` lists them; a test holds the two together, so that help need not import the report."""


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument(
        "files",
        nargs="+",
        metavar="FILE",
        help="jumper, airframe, as-found or equipment file, or a list; several jumpers: also all in one aircraft",
    )
    parser.add_argument("--only", action="append", metavar="CHECK", help="run this check only (may be repeated)")
    parser.add_argument("--strict", action="store_true", help="notes and things not checked count as findings too")
    parser.add_argument("--format", choices=FORMS, default="text", help="default: text; the same findings in all")
    add_on(parser)


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
    from harnesscheck import api, checks, report
    from harnesscheck.fault import Fault, InputError

    for name in arguments.only or ():
        if name not in checks.names():
            raise InputError([unknown("check", name, checks.names())])
    results, faults, kits = [], list[Fault](), list[str]()
    for file in arguments.files:
        try:
            job = api.load(file, arguments.on)
            kits += [file] if job.jumper is not None else []
            results.append((file, api.check(job, arguments.only)))
        except InputError as error:
            faults.extend(error.faults)
    if faults:
        raise InputError(faults)
    if len(kits) > 1:  # each alone, and then all of them in the one aircraft
        results.append((" + ".join(kits), api.check(api.together(kits, arguments.on), arguments.only)))
    print(report.write(arguments.format, results, checks.rule, colour()), end="")
    found = any(not r.clear or (arguments.strict and (r.findings or r.not_checked)) for _, r in results)
    return FOUND if found else OK
