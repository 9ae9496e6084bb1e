"""What a person may decide in writing where no layout passes: the lines to fill in, and slips in them put in place.

Only what is no more than a caution is offered: what stops a job is put right, not decided. Nothing is filled in for the
person: who decides and why stay blank, and a blank is refused.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from harnesscheck import checks
from harnesscheck.document import read
from harnesscheck.fault import Fault
from harnesscheck.finding import Finding, Severity


@dataclass(frozen=True, slots=True)
class Decision:
    """One entry that a person would write: a limit or a waiver."""

    section: str
    """``limits`` or ``waivers``."""
    lines: tuple[str, ...]


def limit(check: str, hint: str) -> Decision:
    """Another limit for a check; ``hint`` says what the value should be."""
    return Decision(
        "limits",
        (
            f"  {check}:",
            f"    value:     # {hint}",
            "    reason:    # why it does no harm here",
            "    by:        # who decides",
        ),
    )


def waiver(finding: Finding) -> Decision | None:
    """A finding to live with; None for one that stops a job."""
    if finding.severity is Severity.STOP:
        return None
    if checks.has_limit(finding.check):
        return limit(finding.check, f"the rule: {finding.limit}" if finding.limit else "with its unit")
    return Decision(
        "waivers",
        (
            f"  - check: {finding.check}",
            f"    at: {finding.place.label}",
            "    reason:    # why it does no harm here",
            "    by:        # who decides",
            "    date:      # today, like 2026-11-20",
        ),
    )


def block(decisions: Iterable[Decision]) -> list[str]:
    """The text of a decisions file, sections in the order of the file format; empty when there is nothing to decide."""
    said: dict[str, dict[str, Decision]] = {"limits": {}, "waivers": {}}
    for each in decisions:
        said[each.section].setdefault(each.lines[0] if each.section == "limits" else "\n".join(each.lines), each)
    lines = []
    for section, entries in said.items():
        if entries:
            lines += [f"{section}:", *(line for each in entries.values() for line in each.lines)]
    return lines


def in_decided_file(fault: Fault, out: str, decided: str) -> Fault:
    """A fault of the planned text said of the file with the decisions, where that holds the line."""
    line = line_in(decided, fault) if fault.file == out else None
    return replace(fault, file=decided, line=line) if line is not None else fault


def line_in(file: str, fault: Fault) -> int | None:
    """The line of a person's file that reads like the one with the fault; None when there is none."""
    lines = read(Path(file), file).lines
    return next((n for n, text in enumerate(lines, 1) if text.rstrip() == fault.text.rstrip()), None)
