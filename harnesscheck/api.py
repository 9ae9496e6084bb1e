"""The Python interface: load a job, check it, draw it, write a sheet."""

from __future__ import annotations

import os
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from harnesscheck import checks, formats, sheets
from harnesscheck.fault import Fault, InputError, nearest, short
from harnesscheck.finding import Finding, NotChecked, Report, Severity, in_order
from harnesscheck.harness import Harness, Kind
from harnesscheck.job import Job
from harnesscheck.output import write_whole
from harnesscheck.paper.svg import TooLargeError
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status
from harnesscheck.unread import Unread

_REACH = {
    Kind.AIRFRAME: "An airframe file alone: its own wiring is checked; what a jumper does to it is not.",
    Kind.EQUIPMENT: "An equipment file alone: its pin table and contacts are checked; what reaches its pins is not.",
}


def load(file: str | os.PathLike[str], on: str | os.PathLike[str] | None = None) -> Job:
    """Read a jumper, airframe, as-found or equipment file and every file it names.

    ``on`` is an as-found or airframe file: the kit is then put on that aircraft instead of the one its file names.
    Raises ``InputError``, whose ``faults`` hold everything that is wrong, each with file, line, column and remedy.
    """
    job = formats.load(Path(file), os.fspath(file), None if on is None else (Path(on), os.fspath(on)))
    decided(job)
    return job


def together(files: Sequence[str | os.PathLike[str]], on: str | os.PathLike[str] | None = None) -> Job:
    """Several kits in one aircraft: read their jumper files, which name the same airframe file.

    Raises ``InputError``, also when two kits open the same pair or use a name twice.
    """
    from harnesscheck.formats import harness_yaml

    paths = [(Path(file), os.fspath(file)) for file in files]
    job = harness_yaml.together(paths, None if on is None else (Path(on), os.fspath(on)))
    decided(job)
    return job


def decided(job: Job) -> None:
    """Raises ``InputError`` when a limit or waiver of the job names a check that does not exist."""
    faults = [_no_such_check(place, name) for name, place in _decided(job) if name not in checks.names()]
    if faults:
        raise InputError(faults)


def _decided(job: Job) -> Iterator[tuple[str, Place]]:
    """The checks that limits: and waivers: name; a misspelt one would stand in the file and do nothing."""
    for harness in (job.airframe, *(job.kits or (job.jumper,)), *job.equipment):
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
    found = [f"On {harness.as_found}."] if harness.as_found else []
    alone = [_REACH[harness.kind]] if harness.kind in _REACH else []
    report = checks.run(harness, chosen, " ".join([*found, *alone]))
    rows = job.rows if isinstance(job, Job) else ""
    unread = (harness.before or harness).unread
    return _with_unread(report, unread, rows) if unread or rows else report


def _with_unread(report: Report, unread: Sequence[Unread], account: str) -> Report:
    """A report on a list, or on what was made of one: rows not understood are findings, since nothing of them was
    checked. ``account`` says what became of the rows when the list itself was read.
    """
    name = checks.UNREAD.name
    rows = tuple(
        Finding(
            headline="this row was not understood and not checked",
            place=left.place,
            value=left.reason if left.at == left.place.where() else f"{left.at}: {left.reason}",
            limit="a row with one plain meaning",
            source=Source("rows of the list, as typed", Status.STATED),
            remedy=(left.remedy or "write it again") + _settle(left),
            severity=Severity.CAUTION,
            check=name,
        )
        for left in unread
        if left.row
    )
    values = tuple(
        NotChecked(place=left.place, missing=left.reason, remedy=left.remedy + _settle(left), check=name)
        for left in unread
        if not left.row
    )
    findings = tuple(sorted((*report.findings, *rows), key=in_order))
    many = f"{len(unread)} rows or values" if len(unread) > 1 else "1 row or value"
    kept = f"The list that the airframe file was made of holds {many} more, not understood"
    reach = f"{report.reach}\n{account or kept}.".lstrip("\n")
    return replace(report, findings=findings, not_checked=(*report.not_checked, *values), reach=reach)


def _settle(left: Unread) -> str:
    """What to do in an airframe file, where the list is out of sight."""
    made = left.at != left.place.where()
    return "; or write what it means into this file and delete this entry" if made else ""


def sheet(job: Job, name: str, out: str | os.PathLike[str], wish: sheets.Wish | None = None) -> Path:
    """Write one sheet; the suffix of ``out`` says the form, ``wish`` what the sheet leaves to choice. Returns the path.

    Raises ``InputError`` when the form is not one the sheet has, ``OSError`` when it cannot be written.
    """
    return _written(name, out, lambda form: sheets.render(name, job, form, wish or sheets.Wish()))


def _written(name: str, out: str | os.PathLike[str], render: Callable[[str], bytes]) -> Path:
    path = Path(out)
    suffixes = {"." + ("txt" if f == "text" else f): f for f in sheets.forms(name)}
    suffix = path.suffix.lower()
    if suffix not in suffixes:
        said = f"sheet {name} is not written as {short(suffix)}" if suffix else "the name has no suffix"
        remedy = f"end the name in {' or '.join(suffixes)}"
        raise InputError([Fault(os.fspath(out), 1, 1, said, "", remedy)])
    try:
        data = render(suffixes[suffix])
    except TooLargeError as error:
        raise InputError([Fault(os.fspath(out), 1, 1, str(error), "", "end the name in .pdf or .svg")]) from None
    write_whole(path, data)
    return path


def draw(job: Job, out: str | os.PathLike[str], highlight: Collection[Point] = ()) -> Path:
    """Write the wiring diagram as ``.svg``, ``.png`` or ``.pdf``, what joins the points heavy. Returns the path."""
    if not highlight:
        return sheet(job, "wiring-diagram", out)
    from harnesscheck.sheets.wiring_diagram import picture

    return _written("wiring-diagram", out, lambda form: picture(job, form, highlight))
