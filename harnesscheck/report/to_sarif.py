"""A report as SARIF 2.1.0 (OASIS Standard, 27 March 2020), which editors and code review pages show.

Rule ids are the names of the checks, paths are relative as typed, and a fingerprint made of the check and of what the
finding is about stays the same when lines move. A thing not checked is a result of kind ``open``, which the standard
has for exactly that: the tool could not decide. A waived finding carries the decision as an accepted suppression.
"""

from __future__ import annotations

import hashlib
import json
from pathlib import PurePosixPath
from typing import Any

from harnesscheck.finding import Finding, NotChecked, Severity
from harnesscheck.place import Place
from harnesscheck.report._words import CAUTIONS, Results, Rule, Rules, verdict
from harnesscheck.version import __version__

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
_LEVELS = {Severity.STOP: "error", Severity.CAUTION: "warning", Severity.NOTE: "note"}


def write(results: Results, rules: Rules, colour: bool = False) -> str:
    """One run a file, in the order of the command line."""
    runs = []
    for file, report in results:
        names = sorted({*report.passed, *(f.check for f in report.findings), *(n.check for n in report.not_checked)})
        index = {name: number for number, name in enumerate(names)}
        runs.append(
            {
                "tool": {
                    "driver": {
                        "name": "harnesscheck",
                        "version": __version__,
                        "rules": [_rule(rules(name)) for name in names],
                    }
                },
                "columnKind": "unicodeCodePoints",
                "properties": {"file": file, "title": report.title, "verdict": verdict(report), "cautions": CAUTIONS},
                "results": [
                    *(_found(finding, index[finding.check]) for finding in report.findings),
                    *(_open(answer, index[answer.check]) for answer in report.not_checked),
                ],
            }
        )
    return json.dumps({"$schema": SCHEMA, "version": "2.1.0", "runs": runs}, indent=2) + "\n"


def _rule(rule: Rule) -> dict[str, Any]:
    return {
        "id": rule.name,
        "shortDescription": {"text": rule.summary},
        "fullDescription": {"text": rule.summary},
        "help": {"text": rule.text},
    }


def _found(finding: Finding, index: int) -> dict[str, Any]:
    parts = (
        finding.headline,
        f"Found: {finding.value}." if finding.value else "",
        f"Right: {finding.limit}." if finding.limit else "",
        f"Source: {finding.source}." if finding.source else "",
        f"Do: {finding.remedy}." if finding.remedy else "",
    )
    result: dict[str, Any] = {
        "ruleId": finding.check,
        "ruleIndex": index,
        "kind": "fail",
        "level": "note" if finding.follows else _LEVELS[finding.severity or Severity.NOTE],
        "message": {"text": "\n".join(part for part in parts if part)},
        "locations": [_location(finding.place)],
        "partialFingerprints": {"about/v1": _fingerprint(finding.check, finding.place.label, finding.headline)},
        "properties": {
            "headline": finding.headline,
            "value": finding.value,
            "limit": finding.limit,
            "source": str(finding.source or ""),
            "remedy": finding.remedy,
            "follows": finding.follows,
        },
    }
    others = [_location(place, number) for number, place in enumerate(finding.others, 1) if place.document is not None]
    if others:
        result["relatedLocations"] = others[:100]
    if finding.waived:
        result["suppressions"] = [{"kind": "external", "status": "accepted", "justification": finding.waived}]
    return result


def _open(answer: NotChecked, index: int) -> dict[str, Any]:
    remedy = f"\nDo: {answer.remedy}." if answer.remedy else ""
    return {
        "ruleId": answer.check,
        "ruleIndex": index,
        "kind": "open",
        "level": "none",
        "message": {"text": f"Not checked: {answer.missing}.{remedy}"},
        "locations": [_location(answer.place)],
        "partialFingerprints": {"about/v1": _fingerprint(answer.check, answer.place.label, answer.missing)},
        "properties": {"missing": answer.missing, "remedy": answer.remedy},
    }


def _location(place: Place, number: int | None = None) -> dict[str, Any]:
    said: dict[str, Any] = {"logicalLocations": [{"name": place.label}]} if place.label else {}
    if place.document is not None:
        physical: dict[str, Any] = {"artifactLocation": {"uri": _uri(place.file)}}
        if place.line > 0:
            physical["region"] = {"startLine": place.line, "startColumn": max(place.column, 1)}
            if place.text:
                physical["region"]["snippet"] = {"text": place.text}
        said["physicalLocation"] = physical
    if number is not None:
        said["id"] = number
        said["message"] = {"text": place.label or "see also"}
    return said


def _uri(file: str) -> str:
    """A path as a relative reference (RFC 3986), or as a file URI when it was typed from the root."""
    path = PurePosixPath(file)
    return path.as_uri() if path.is_absolute() else (PurePosixPath("/") / path).as_uri().removeprefix("file:///")


def _fingerprint(*words: str) -> str:
    return hashlib.sha256("\0".join(words).encode()).hexdigest()[:32]
