"""The Python interface: load a job, check it, draw it, write a sheet."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

from harnesscheck import checks, formats, sheets
from harnesscheck.fault import Fault, InputError, nearest, short
from harnesscheck.finding import Finding, NotChecked, Report, Severity, in_order
from harnesscheck.harness import Harness, Kind
from harnesscheck.job import Job
from harnesscheck.output import write_whole
from harnesscheck.place import Place
from harnesscheck.source import Source, Status

_REACH = {
    Kind.AIRFRAME: "An airframe file alone: its own wiring is checked; what a jumper does to it is not.",
    Kind.EQUIPMENT: "An equipment file alone: its pin table and contacts are checked; what reaches its pins is not.",
}


def load(file: str | os.PathLike[str]) -> Job:
    """Read a jumper, airframe or equipment file and every file it names.

    Raises ``InputError``, whose ``faults`` hold everything that is wrong, each with file, line, column and remedy.
    """
    job = formats.load(Path(file), os.fspath(file))
    faults = [_no_such_check(place, name) for name, place in _decided(job) if name not in checks.names()]
    if faults:
        raise InputError(faults)
    return job


def _decided(job: Job) -> Iterator[tuple[str, Place]]:
    """The checks that limits: and waivers: name; a misspelt one would stand in the file and do nothing."""
    for harness in (job.airframe, job.jumper, *job.equipment):
        if harness is not None:
            yield from ((name, override.place) for name, override in harness.overrides.items())
            yield from ((waiver.check, waiver.place) for waiver in harness.waivers)


def _no_such_check(place: Place, name: str) -> Fault:
    remedy = nearest(name, checks.names()) or "see: harnesscheck list"
    return Fault(place.file, place.line, place.column, f"there is no check {short(name)}", place.text, remedy)


def check(job: Job | Harness, only: Iterable[str] | None = None) -> Report:
    """Run all checks, or those named in ``only``. Raises ``KeyError`` for a check that does not exist."""
    harness = job.subject if isinstance(job, Job) else job
    chosen = None if only is None else list(dict.fromkeys(only))
    report = checks.run(harness, chosen, _REACH.get(harness.kind, ""))
    return _with_unread(report, job) if isinstance(job, Job) and job.rows else report


def _with_unread(report: Report, job: Job) -> Report:
    """A report on a list: rows that were not understood are findings, since what was not read was not checked."""
    name = checks.UNREAD.name
    rows = tuple(
        Finding(
            headline="this row was not understood and not checked",
            place=left.place,
            value=left.reason,
            limit="a row with one plain meaning",
            source=Source("rows of the list, as typed", Status.STATED),
            remedy=left.remedy or "write it again",
            severity=Severity.CAUTION,
            check=name,
        )
        for left in job.unread
        if left.row
    )
    values = tuple(
        NotChecked(place=left.place, missing=left.reason, remedy=left.remedy, check=name)
        for left in job.unread
        if not left.row
    )
    findings = tuple(sorted((*report.findings, *rows), key=in_order))
    reach = f"{report.reach}\n{job.rows}."
    return replace(report, findings=findings, not_checked=(*report.not_checked, *values), reach=reach)


def sheet(job: Job, name: str, out: str | os.PathLike[str], wish: sheets.Wish | None = None) -> Path:
    """Write one sheet; the suffix of ``out`` says the form, ``wish`` what the sheet leaves to choice. Returns the path.

    Raises ``InputError`` when the form is not one the sheet has, ``OSError`` when it cannot be written.
    """
    path = Path(out)
    suffixes = {"." + ("txt" if f == "text" else f): f for f in sheets.forms(name)}
    suffix = path.suffix.lower()
    if suffix not in suffixes:
        said = f"sheet {name} is not written as {short(suffix)}" if suffix else "the name has no suffix"
        remedy = f"end the name in {' or '.join(suffixes)}"
        raise InputError([Fault(os.fspath(out), 1, 1, said, "", remedy)])
    write_whole(path, sheets.render(name, job, suffixes[suffix], wish or sheets.Wish()))
    return path


def draw(job: Job, out: str | os.PathLike[str]) -> Path:
    """Write the wiring diagram as ``.svg`` or ``.png``. Returns the path."""
    return sheet(job, "wiring-diagram", out)
