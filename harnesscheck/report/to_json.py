"""A report as JSON for a program."""

from __future__ import annotations

import json
from typing import Any

from harnesscheck.finding import Finding, Report, Severity
from harnesscheck.place import Place
from harnesscheck.report._words import CAUTIONS, Results, Rules, verdict


def write(results: Results, rules: Rules, colour: bool = False) -> str:
    """Stable keys, in the order of the text; a list when there is more than one file."""
    data = [as_data(result, file) for file, result in results]
    return json.dumps(data[0] if len(data) == 1 else data, indent=2) + "\n"


def as_data(report: Report, file: str) -> dict[str, Any]:
    """The report as plain data."""
    return {
        "file": file,
        "title": report.title,
        "clear": report.clear,
        "verdict": verdict(report),
        "totals": {
            **{s.word.lower(): report.count(s) for s in sorted(Severity, reverse=True)},
            "not_checked": len(report.not_checked),
            "passed": report.items_passed,
        },
        "findings": [_finding_data(f) for f in report.findings],
        "not_checked": [
            {"check": n.check, "place": _place_data(n.place), "missing": n.missing, "remedy": n.remedy}
            for n in report.not_checked
        ],
        "passed": {name: [{"count": p.count, "what": p.what} for p in group] for name, group in report.passed.items()},
        "overrides": list(report.overrides),
        "cautions": list(CAUTIONS),
    }


def _finding_data(finding: Finding) -> dict[str, Any]:
    source = finding.source
    return {
        "check": finding.check,
        "severity": (finding.severity or Severity.NOTE).word.lower(),
        "headline": finding.headline,
        "place": _place_data(finding.place),
        "others": [_place_data(other) for other in finding.others],
        "value": finding.value,
        "limit": finding.limit,
        "source": str(source) if source else "",
        "source_status": str(source.status) if source else "",
        "remedy": finding.remedy,
        "follows": finding.follows,
        "waived": finding.waived,
    }


def _place_data(place: Place) -> dict[str, Any]:
    return {"label": place.label, "file": place.file, "line": place.line, "column": place.column, "text": place.text}
