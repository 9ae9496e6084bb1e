"""What every form of a report says: the cautions, the last line, and what a form is given."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from harnesscheck.finding import Report, Severity

CAUTIONS = (
    "Technical help, not approved data: the holder of the licence or the builder decides under local rules and signs.",
    "Never measure resistance or insulation with equipment connected.",
)
"""Printed on every report and sheet."""

Results = Sequence[tuple[str, Report]]
"""File as typed, and the report on it."""


@dataclass(frozen=True, slots=True)
class Rule:
    """A check as a form of report presents it."""

    name: str
    summary: str
    text: str


Rules = Callable[[str], Rule]
"""The rule of a check, by its name."""


def verdict(report: Report) -> str:
    """The last line of a report: what to do, and the three totals."""
    stop, caution, note = (report.count(s) for s in (Severity.STOP, Severity.CAUTION, Severity.NOTE))
    totals = (
        f"{stop} to stop for, {_many(caution, 'caution')}, {_many(note, 'note')}; "
        f"{_many(len(report.not_checked), 'thing')} not checked; {report.items_passed} looked at and found right"
    )
    decided = len(report.waived) + len(report.overrides)
    if decided:
        totals += f"; {_many(decided, 'decision')} in writing"
    if stop:
        return f"STOP, do not build or apply power: {totals}."
    if caution:
        return f"CAUTION, put right or decide in writing: {totals}."
    if report.not_checked:
        return f"Nothing found to stop for, but look yourself at what was not checked: {totals}."
    if not report.items_passed:
        return f"Nothing was checked: {totals}."
    return f"Nothing to stop for: {totals}."


def _many(count: int, word: str) -> str:
    return f"{count} {word}{'' if count == 1 else 's'}"
