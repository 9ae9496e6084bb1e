"""What a check answers: a finding, *not checked* with the reason, or passed. Three answers, never two."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from enum import IntEnum

from harnesscheck.place import Place
from harnesscheck.source import Source


class Severity(IntEnum):
    """How serious a finding is; the larger value is shown first."""

    STOP = 3
    """Do not build, do not apply power."""
    CAUTION = 2
    """Put right or decide in writing before flight."""
    NOTE = 1
    """Advice."""

    @property
    def word(self) -> str:
        """``STOP``, ``CAUTION`` or ``NOTE``."""
        return self.name


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One fault: a headline that stands alone, where it is, the value against the limit, its source, one remedy."""

    headline: str
    place: Place
    others: tuple[Place, ...] = ()
    value: str = ""
    """What was found, with its unit."""
    limit: str = ""
    """What would be right, with its unit."""
    source: Source | None = None
    remedy: str = ""
    severity: Severity | None = None
    """None: the severity of the check. A value from memory or second hand lowers *stop* to *caution*."""
    check: str = ""
    """Filled in by the runner."""
    follows: str = ""
    """Name of the check whose finding explains this one; empty for a primary finding."""
    waived: str = ""
    """Who decided to live with it, when and why; empty when nobody did. A waived finding stays listed."""

    @property
    def labels(self) -> frozenset[str]:
        """Names of everything this finding is about."""
        return frozenset((self.place.label, *(other.label for other in self.others)))


@dataclass(frozen=True, slots=True, kw_only=True)
class NotChecked:
    """A check could not be made here, and why."""

    place: Place
    missing: str
    """What would be needed, as a phrase: ``the contact part number is not stated``."""
    remedy: str = ""
    check: str = ""


@dataclass(frozen=True, slots=True)
class Passed:
    """So many things were looked at and found right."""

    count: int
    what: str
    """What was counted, in the plural: ``mated pairs``."""


Answer = Finding | NotChecked | Passed


def settled(finding: Finding, check: str, default: Severity, source: Source | None) -> Finding:
    """A finding with its check, severity and source filled in, and *stop* lowered where the source is not firm."""
    origin = finding.source or source
    severity = finding.severity or default
    if severity is Severity.STOP and origin is not None and not origin.may_stop:
        severity = Severity.CAUTION
    return replace(finding, check=check, severity=severity, source=origin)


def in_order(finding: Finding) -> tuple[object, ...]:
    """The one sort order: worst first, then file, line, column, check, headline."""
    severity = finding.severity or Severity.NOTE
    place = finding.place
    return (bool(finding.follows), -severity, place.file, place.line, place.column, finding.check, finding.headline)


@dataclass(frozen=True)
class Report:
    """All answers of one run."""

    title: str
    findings: tuple[Finding, ...] = ()
    not_checked: tuple[NotChecked, ...] = ()
    passed: dict[str, tuple[Passed, ...]] = field(default_factory=dict)
    """By check name; a check with nothing to look at has an empty tuple."""
    reach: str = ""
    """What the files allowed to be checked, in one sentence."""
    overrides: tuple[str, ...] = ()
    """Limits that a person has set for this job, one line each; printed in every report."""

    @property
    def primary(self) -> tuple[Finding, ...]:
        """Findings that no other finding explains and nobody has waived."""
        return tuple(f for f in self.findings if not f.follows and not f.waived)

    @property
    def waived(self) -> tuple[Finding, ...]:
        """Findings that somebody has decided in writing to live with."""
        return tuple(f for f in self.findings if f.waived)

    def count(self, severity: Severity) -> int:
        """Number of primary findings of one severity."""
        return sum(1 for f in self.primary if f.severity is severity)

    @property
    def clear(self) -> bool:
        """True when there is nothing to stop for: no *stop* and no *caution*."""
        return not any(f.severity in (Severity.STOP, Severity.CAUTION) for f in self.findings if not f.waived)

    @property
    def items_passed(self) -> int:
        """Number of things looked at and found right."""
        return sum(p.count for group in self.passed.values() for p in group)

    def __iter__(self) -> Iterator[Finding]:
        """Findings in report order."""
        return iter(self.findings)


def _explains(found: list[Finding], because: dict[int, int], cause: int, number: int) -> bool:
    """True when one finding may explain another: about the same thing, not milder, and not itself explained by it.

    Without the last condition findings could explain each other in a ring, and none would be left to stop anybody.
    """
    one, two = found[cause], found[number]
    if not one.labels & two.labels or (one.severity or 0) < (two.severity or 0):
        return False
    here: int | None = cause
    while here is not None:
        if here == number:
            return False
        here = because.get(here)
    return True


def explained(findings: Iterable[Finding], causes: dict[str, tuple[str, ...]]) -> list[Finding]:
    """Mark findings that follow from another one, so that one fault gives one primary finding.

    ``causes[check]`` names the checks whose findings explain those of ``check`` when both are about the same thing.
    A milder finding never explains a graver one: the graver would vanish from the totals.
    """
    found = list(findings)
    by_check: dict[str, list[int]] = {}
    for number, finding in enumerate(found):
        by_check.setdefault(finding.check, []).append(number)
    because: dict[int, int] = {}
    for number, finding in enumerate(found):
        candidates = (other for name in causes.get(finding.check, ()) for other in by_check.get(name, ()))
        cause = next((other for other in candidates if _explains(found, because, other, number)), None)
        if cause is not None:
            because[number] = cause
    result = [
        replace(finding, follows=found[because[number]].check) if number in because else finding
        for number, finding in enumerate(found)
    ]
    return sorted(result, key=in_order)
