"""The checks, one fault per file; the folder listing is the list. This module runs them.

A check is a plain module: a docstring with four headings, constants, and one generator ``check(harness)`` that yields
``Finding``, ``NotChecked`` and ``Passed``. To add one, add its file here and its page in ``tests/checks/``.

Constants a check may have: ``SEVERITY`` (required), ``SOURCE`` (required), ``FOLLOWS`` (names of checks whose finding
about the same thing explains one of this check), ``PER_KIT`` (true when it is about what one kit brings along, so that
of several kits in one aircraft it looks at each alone).
"""

from __future__ import annotations

import pkgutil
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import cache
from importlib import import_module
from inspect import cleandoc
from types import ModuleType

from harnesscheck.checks import _several as several
from harnesscheck.decision import Override, Waiver
from harnesscheck.document import no_collection
from harnesscheck.fault import Fault, InputError, nearest
from harnesscheck.finding import (
    Answer,
    Finding,
    NotChecked,
    Passed,
    Report,
    Severity,
    explained,
    settled,
)
from harnesscheck.harness import Harness
from harnesscheck.place import Point, split_point
from harnesscheck.report import Rule
from harnesscheck.source import Source, Status

HEADINGS = ("What", "Why it matters", "Source", "What to do")
_WRITTEN = Source("decisions written in the job", Status.STATED)
_CRASHED = Source("harnesscheck itself", Status.STATED)


UNREAD = Rule(
    "unread-row",
    "A row or a value of a list was not understood, and is not in what was checked.",
    """A row or a value of a list was not understood, and is not in what was checked.

What
    A from-to list or pin table was checked, or an airframe file that was made of one. The reader of lists takes what
    has one plain meaning and guesses nothing else; what it did not take is listed under this name, with its cell. In
    the airframe file it stands under not understood: until a person has settled it and deletes the entry.

Why it matters
    A wire that was not read was not checked: silence about it means nothing.

Source
    The list itself; the account of its rows is in the head of the report.

What to do
    Write the row as the message says, or state the layout of your lists once: harnesscheck import --write-map. In the
    airframe file: write what the row means into the file, then delete its entry.""",
)
"""Not one of the checks: what the reader of lists says. It has no file to switch it off."""


def rule(name: str) -> Rule:
    """A check as reports present it. Raises ``KeyError`` when there is no such check."""
    if name == UNREAD.name:
        return UNREAD
    text = cleandoc(module(name).__doc__ or "")
    return Rule(name, text.partition("\n\n")[0].replace("\n", " "), text)


def names() -> list[str]:
    """All check names, from the folder listing."""
    return list(_listed())


@cache
def _listed() -> tuple[str, ...]:
    """The folder is read once: every check of a run asks for the list."""
    found = (m.name.replace("_", "-") for m in pkgutil.iter_modules(__path__) if not m.name.startswith("_"))
    return tuple(sorted(found))


def module(name: str) -> ModuleType:
    """The module of one check. Raises ``KeyError`` when there is no such check."""
    if name not in _listed():
        raise KeyError(name)
    return import_module(f"{__name__}.{name.replace('-', '_')}")


def has_limit(name: str) -> bool:
    """True for a check whose limit a job may set anew."""
    return hasattr(module(name), "LIMIT")


def explain(name: str) -> str:
    """The page of a check: what it looks for, why it matters, its source, what to do."""
    if name == UNREAD.name:
        return UNREAD.text
    return cleandoc(module(name).__doc__ or "")


def title(name: str) -> str:
    """The first line of a check's page."""
    return explain(name).partition("\n")[0]


@no_collection()
def run(harness: Harness, only: Iterable[str] | None = None, reach: str = "") -> Report:
    """Run the checks (all, or those named) on one harness. A check that breaks is a visible finding, never silence.

    Raises ``InputError`` when a written limit or a waiver names a check that does not exist or has no limit.
    """
    for part in (harness, *harness.kits):
        _decisions_fit(part)
    chosen = sorted(only) if only is not None else names()
    findings: list[Finding] = []
    not_checked: list[NotChecked] = []
    passed: dict[str, tuple[Passed, ...]] = {}
    causes: dict[str, tuple[str, ...]] = {}
    for name in chosen:
        found = module(name)
        causes[name] = getattr(found, "FOLLOWS", ())
        good: list[Passed] = []
        for answer in several.answers(found, name, harness, _answers):
            if isinstance(answer, Finding):
                findings.append(settled(answer, name, found.SEVERITY, found.SOURCE))
            elif isinstance(answer, NotChecked):
                not_checked.append(replace(answer, check=name))
            elif answer.count:
                good.append(answer)
        passed[name] = tuple(good)
    ordered = sorted(
        not_checked, key=lambda n: (n.check, n.missing, n.place.file, n.place.line, n.place.column, n.place.label)
    )
    every = only is None
    settled_findings = tuple(_waived(harness, explained(findings, causes), every))
    if harness.kits:
        settled_findings = several.still_waived(settled_findings, [run(kit, only) for kit in harness.kits])
    overrides = tuple(dict.fromkeys(str(said) for h in (harness, *harness.kits) for said in h.overrides.values()))
    return Report(harness.title, settled_findings, tuple(ordered), passed, reach, overrides)


def _decisions_fit(harness: Harness) -> None:
    """A slip in the name of a check must not make a written decision silently void."""
    known = names()
    faults = []
    decisions: list[Override | Waiver] = [*harness.overrides.values(), *harness.waivers]
    for said in decisions:
        place = said.place
        if said.check not in known:
            remedy = nearest(said.check, known) or "see: harnesscheck list"
            message = f"there is no check {said.check!r}"
        elif isinstance(said, Override) and not has_limit(said.check):
            message, remedy = (
                f"the check {said.check} has no limit that can be set",
                "waive the finding instead, or remove this",
            )
        else:
            continue
        faults.append(Fault(place.file, place.line, place.column, message, place.text, remedy))
    if faults:
        raise InputError(faults)


def _waived(harness: Harness, findings: list[Finding], every: bool) -> Iterator[Finding]:
    """Findings with the waivers applied; a waiver that fits nothing is itself worth a note."""
    used: set[Waiver] = set()
    for finding in findings:
        fits = _fitting(harness, finding)
        used.update(fits)
        yield replace(finding, waived=f"{fits[0].by}, {fits[0].date}: {fits[0].reason}") if fits else finding
    for waiver in harness.waivers:
        if every and waiver not in used:
            yield Finding(
                headline=f"the waiver of {waiver.check} at {waiver.at} fits no finding",
                place=waiver.place,
                severity=Severity.NOTE,
                value="no such finding",
                limit="a waiver for each decision, and no more",
                source=_WRITTEN,
                remedy="remove it, or correct check: or at:",
                check=waiver.check,
            )


def _fitting(harness: Harness, finding: Finding) -> list[Waiver]:
    """The waivers that together cover a finding; empty when they leave a part of it uncovered.

    A finding about several cavities is waived by naming the connector, or each of the cavities: a waiver for one cavity
    must not carry others away with it. A finding about anything else is waived by the name it stands under.
    """
    named = [w for w in harness.waivers if w.check == finding.check and w.at in finding.labels]
    about = split_point(finding.place.label)
    if about is None or not about.cavity or about.ref not in harness.connectors:
        whole = [w for w in named if w.at == finding.place.label]
        return whole or _each(named, {p.cavity for p in _cavities(harness, finding)})
    whole = [w for w in named if w.at == about.ref]
    return whole or _each(named, {p.cavity for p in _cavities(harness, finding) if p.ref == about.ref})


def _cavities(harness: Harness, finding: Finding) -> list[Point]:
    points = [split_point(label) for label in finding.labels]
    return [p for p in points if p is not None and p.cavity and p.ref in harness.connectors]


def _each(named: list[Waiver], cavities: set[str]) -> list[Waiver]:
    """The waivers when every cavity is named by one (on either half of a pair), else none."""
    said = {point.cavity for waiver in named if (point := split_point(waiver.at)) is not None and point.cavity}
    return named if cavities and cavities <= said else []


def _answers(found: ModuleType, name: str, harness: Harness) -> Iterator[Answer]:
    try:
        yield from found.check(harness)
    except InputError:
        raise  # a limit of the job that cannot be read: the person's slip, told with its place
    except Exception as error:
        yield Finding(
            headline=f"the check {name} broke down and did not finish ({error.__class__.__name__}: {error})",
            place=harness.place,
            severity=Severity.STOP,
            source=_CRASHED,
            remedy="make this check by hand, and report the fault to the makers of harnesscheck",
        )
