"""A report as one line a finding, which a build service shows beside the line of the file.

``::error file=jumper.yaml,line=14,col=3,title=split-pair::...`` is the notation that several build services read from
what a job prints. They show the first ten of each sort, so the worst come first (the order of the report), and
the last line is the verdict as a notice.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.finding import Report, Severity
from harnesscheck.place import Place
from harnesscheck.report._words import Results, Rules, verdict

_SORTS = {Severity.STOP: "error", Severity.CAUTION: "warning", Severity.NOTE: "notice"}


def write(results: Results, rules: Rules, colour: bool = False) -> str:
    """One line a finding and a thing not checked, then the verdict of each file."""
    return "".join(f"{line}\n" for file, result in results for line in _lines(file, result))


def _lines(file: str, report: Report) -> Iterator[str]:
    for finding in report.findings:
        sort = "notice" if finding.follows or finding.waived else _SORTS[finding.severity or Severity.NOTE]
        parts = (
            finding.headline,
            f"found {finding.value}" if finding.value else "",
            f"right {finding.limit}" if finding.limit else "",
            f"source {finding.source}" if finding.source else "",
            f"do {finding.remedy}" if finding.remedy else "",
            f"follows from {finding.follows}" if finding.follows else "",
            f"waived by {finding.waived}" if finding.waived else "",
        )
        yield _line(sort, finding.place, finding.check, "; ".join(part for part in parts if part))
    for answer in report.not_checked:
        remedy = f"; {answer.remedy}" if answer.remedy else ""
        yield _line("notice", answer.place, answer.check, f"not checked: {answer.missing}{remedy}")
    yield f"::notice title={_property(file)}::{_data(verdict(report))}"


def _line(sort: str, place: Place, check: str, said: str) -> str:
    where = f"file={_property(place.file)},line={place.line},col={place.column}," if place.file else ""
    return f"::{sort} {where}title={_property(check)}::{_data(said)}"


def _data(text: str) -> str:
    """A line break would end the notation, a percent sign begins an escape."""
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
