"""A report as a person reads it."""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.fault import quoted
from harnesscheck.finding import Finding, NotChecked, Report, Severity
from harnesscheck.place import Place
from harnesscheck.report._words import CAUTIONS, Results, Rules, verdict

_COLOURS = {Severity.STOP: "\x1b[1;31m", Severity.CAUTION: "\x1b[1;33m", Severity.NOTE: "\x1b[1;36m"}
_PLAIN = "\x1b[0m"


def write(results: Results, rules: Rules, colour: bool = False) -> str:
    """The reports one below the other; ``colour`` for a terminal that wants it."""
    return "\n".join(one(result, colour) for _, result in results)


def one(report: Report, colour: bool = False) -> str:
    """One report."""
    lines = [quoted(report.title), *([report.reach] if report.reach else []), ""]
    primary = list(report.primary)
    for number, finding in enumerate(primary, 1):
        lines += [*_finding(number, finding, colour), ""]
    following = [f for f in report.findings if f.follows and not f.waived]
    if following:
        lines.append("These follow from the findings above; check again when those are put right:")
        lines += [f"  {quoted(f.headline)} [{f.check}, follows from {f.follows}]" for f in following] + [""]
    if report.overrides or report.waived:
        lines.append("Decided in writing for this job:")
        lines += [f"  {quoted(said)}" for said in report.overrides]
        lines += [f"  {quoted(f.headline)} [{f.check}], waived by {quoted(f.waived)}" for f in report.waived] + [""]
    if report.not_checked:
        lines.append("Not checked:")
        lines += [*not_checked_lines(report.not_checked), ""]
    idle = [name for name, passed in report.passed.items() if not passed and not _answered(report, name)]
    lines.append("Looked at and found right:")
    width = max((len(name) for name in report.passed), default=0) + 2
    for name, passed in report.passed.items():
        lines += [f"  {name:<{width}}{p.what}: {p.count}" for p in passed]
    if idle:
        lines.append(f"Had nothing to look at here: {', '.join(idle)}")
    lines += ["", *CAUTIONS, "", verdict(report)]
    return "\n".join(lines) + "\n"


def _answered(report: Report, name: str) -> bool:
    return any(f.check == name for f in report.findings) or any(n.check == name for n in report.not_checked)


def _finding(number: int, finding: Finding, colour: bool) -> Iterator[str]:
    severity = finding.severity or Severity.NOTE
    word = f"{_COLOURS[severity]}{severity.word}{_PLAIN}" if colour else severity.word
    yield f"{number}. {word}: {quoted(finding.headline)} [{finding.check}]"
    yield from _where(finding.place)
    for other in _typed_elsewhere(finding):
        yield f"     also   {other.where()}: {quoted(other.label)}"
    for name, said in (("found", finding.value), ("right", finding.limit), ("source", str(finding.source or ""))):
        if said:
            yield f"     {name:<7}{quoted(said)}"
    if finding.remedy:
        yield f"     do     {quoted(finding.remedy)}"


def _typed_elsewhere(finding: Finding) -> list[Place]:
    """Other places with a line of their own in a file, each line once, a handful at the most."""
    seen = {(finding.place.file, finding.place.line)}
    places = []
    for other in finding.others:
        key = (other.file, other.line)
        if other.document is not None and key not in seen:
            seen.add(key)
            places.append(other)
    return places[:4]


def _where(place: Place) -> Iterator[str]:
    if place.document is not None:
        yield f"     at     {quoted(place.where())}"
        text = place.text.strip()
        if text:
            yield f"            {quoted(text[:120])}"


def not_checked_lines(answers: tuple[NotChecked, ...]) -> Iterator[str]:
    """What was not checked, one line for each thing that a person would look up once."""
    grouped: dict[tuple[str, str, str], list[str]] = {}
    for answer in answers:
        grouped.setdefault((answer.check, answer.missing, answer.remedy), []).append(answer.place.label)
    same: dict[tuple[tuple[str, ...], str, str], list[str]] = {}
    for (check, missing, remedy), labels in grouped.items():
        same.setdefault((tuple(dict.fromkeys(labels)), missing, remedy), []).append(check)
    for (named, missing, remedy), checks in same.items():
        cut = f" and {len(named) - 10} more" if len(named) > 10 else ""
        yield f"  {', '.join(checks)}: {quoted(', '.join(named[:10]))}{cut}: {quoted(missing)}" + (
            f"; {quoted(remedy)}" if remedy else ""
        )
