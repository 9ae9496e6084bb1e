"""Look at one aircraft: read it, put the kit in, check, name the differences, give the verdict."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from harnesscheck import api
from harnesscheck.document import Document
from harnesscheck.fault import Fault, InputError
from harnesscheck.fleet.differences import differences
from harnesscheck.fleet.judging import Bench, judge, outcome
from harnesscheck.fleet.verdicts import Row, Verdict, verdict
from harnesscheck.formats import harness_yaml
from harnesscheck.formats._overlay import Overlaid


def look(bench: Bench, aircraft: Path | Document, name: str) -> Row:
    """The row of one aircraft, from its file or from what was read of it. A file that is no use gives *not known*."""
    try:
        frame = aircraft if isinstance(aircraft, Document) else harness_yaml.frame(aircraft, name, bench.read)
    except InputError as error:
        return Row(file=name, verdict=Verdict.UNKNOWN, missing=_faults(error.faults))
    head = frame.over.root if isinstance(frame, Overlaid) else frame.root
    title = str(head.get("aircraft") or head.get("title") or "")
    when = f"{head['date']} by {head['by']}" if isinstance(frame, Overlaid) else ""
    try:
        job = bench.kit.fit(frame)
        api.decided(job)
    except InputError as error:
        verdict_, said = _not_fitted(frame, error)
        key = "reasons" if verdict_ is Verdict.NOT else "missing"
        return Row(file=name, aircraft=title, found=when, verdict=verdict_, **{key: said})
    found = differences(bench.type_file, frame)
    here = outcome(job) if found else bench.type
    word, changes, reasons, missing = verdict(here.report, bench.kit.document)
    matter, no_matter = judge(bench, frame, found, here)
    return Row(
        file=name,
        aircraft=title,
        found=when,
        verdict=word,
        changes=tuple(changes),
        reasons=tuple(reasons),
        missing=tuple(missing),
        matter=tuple(matter),
        no_matter=tuple(no_matter),
    )


def _not_fitted(frame: Document, error: InputError) -> tuple[Verdict, tuple[str, ...]]:
    """The kit cannot be put into this aircraft: is it the aircraft's file that is of no use, or has it no place?"""
    try:
        harness_yaml.airframe(frame)
    except InputError as own:
        return Verdict.UNKNOWN, _faults(own.faults)
    if all("used twice" in fault.message or "set twice" in fault.message for fault in error.faults):
        return Verdict.UNKNOWN, tuple(f"names clash, so nothing was checked: {text}" for text in _faults(error.faults))
    return Verdict.NOT, tuple(f"the kit has no place here: {text}" for text in _faults(error.faults))


def _faults(faults: Iterable[Fault]) -> tuple[str, ...]:
    listed = list(faults)
    said = [f"{f.file}:{f.line}:{f.column}: {f.message}; {f.remedy}" for f in listed[:5]]
    return (*said, *([f"and {len(listed) - 5} more"] if len(listed) > 5 else []))
