"""Several kits in one aircraft: what is asked of all together, and what of each alone.

The harness with all of them in it is looked at like any other. Two things belong to one kit and must not spill over
to another: what the kit brings along (allowances, spare contacts, tools), and what a person decided for that kit.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from types import ModuleType

from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Report, in_order
from harnesscheck.harness import Harness

_Run = Callable[[ModuleType, str, Harness], Iterator[Answer]]


def answers(found: ModuleType, name: str, harness: Harness, run: _Run) -> Iterator[Answer]:
    """The answers of one check, each once."""
    if not harness.kits:
        yield from run(found, name, harness)
        return
    seen: list[Answer] = []
    found_right: list[list[Passed]] = []
    for part, kit in _parts(found, name, harness):
        counts: list[Passed] = []
        found_right.append(counts)
        for answer in run(found, name, part):
            if isinstance(answer, Passed):
                counts.append(answer)
            elif answer not in seen and (kit is None or _concerns(answer, kit, harness)):
                seen.append(answer)
                yield answer
    # What each kit brings along is counted once for each; all other things were looked at under the limits of each kit,
    # and what was right under all of them was found right.
    together = sum if getattr(found, "PER_KIT", False) else min
    numbers: dict[str, list[int]] = {}
    for counts in found_right:
        for passed in counts:
            numbers.setdefault(passed.what, []).append(passed.count)
    yield from (Passed(together(counted), what) for what, counted in numbers.items())


def _concerns(answer: Finding | NotChecked, kit: Harness, harness: Harness) -> bool:
    """False when an answer is about things of other kits, and about nothing of this one."""
    places = (answer.place, *answer.others) if isinstance(answer, Finding) else (answer.place,)
    documents = {id(one.place.document) for one in harness.kits}
    named = {id(place.document) for place in places} & documents
    return not named or id(kit.place.document) in named


def _parts(found: ModuleType, name: str, harness: Harness) -> Iterator[tuple[Harness, Harness | None]]:
    """The harnesses to look at, each with the kit whose decisions hold there; None when they are the same for all."""
    if getattr(found, "PER_KIT", False):
        yield from ((kit, None) for kit in harness.kits)
        return
    said = [kit.overrides.get(name) for kit in harness.kits]
    if any(one != harness.overrides.get(name) for one in said):
        # A limit that somebody set for one kit does not hold for the things of another.
        yield from ((replace(harness, overrides=kit.overrides), kit) for kit in harness.kits)
    else:
        yield harness, None


def still_waived(findings: Iterable[Finding], alone: Iterable[Report]) -> tuple[Finding, ...]:
    """Findings, waived only when the same finding was waived for a kit alone.

    Whoever decided to live with a breaker at 85 % did not decide on what a second kit makes of it.
    """
    decided = {_said(finding) for report in alone for finding in report.waived}
    kept = (finding if _said(finding) in decided else replace(finding, waived="") for finding in findings)
    return tuple(sorted(kept, key=in_order))


def _said(finding: Finding) -> tuple[str, ...]:
    return finding.check, finding.headline, finding.value, finding.place.label
