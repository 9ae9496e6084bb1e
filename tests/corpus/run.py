"""Runs seeded faults through the checks and says what was caught."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import harnesscheck as hc
from harnesscheck.finding import Finding, Report
from tests.corpus import faults
from tests.corpus.jobs import Job
from tests.corpus.masks import MAY_FOLLOW
from tests.corpus.topologies import clean


@dataclass(frozen=True)
class Verdict:
    """What became of one seeded fault."""

    job: str
    fault: str
    check: str
    state: str
    """``caught``, ``silent``, ``elsewhere`` (the check speaks of another thing), ``follows`` or ``refused``."""
    extra: tuple[str, ...] = ()
    """Other primary findings than the expected one."""
    said: str = ""


@lru_cache(maxsize=256)
def job_of(topology: str, size: int, number: int) -> Job:
    """A clean job, kept: many faults are put into the same one."""
    return clean(topology, size, number)


def names(finding: Finding, wanted: tuple[str, ...]) -> bool:
    """True when a finding is about one of the wanted things."""
    return bool(finding.labels & set(wanted)) or any(word in finding.headline.split() for word in wanted)


def about(report: Report, check: str, wanted: tuple[str, ...]) -> tuple[str, Finding | None]:
    """``caught`` when the first finding of the check is primary and about one of the wanted things."""
    mine = [f for f in report.findings if f.check in check.split("|") and not f.waived]
    primary = [f for f in mine if not f.follows]
    if primary:
        hit = next((f for f in primary if names(f, wanted)), None)
        return ("caught", hit) if hit is primary[0] else (("later", hit) if hit else ("elsewhere", primary[0]))
    return ("follows", mine[0]) if mine else ("silent", None)


def judge(seeded: faults.Seeded) -> Verdict:
    """Load and check one job with a fault."""
    try:
        report = hc.check(seeded.job.load())
    except hc.InputError as error:
        state = "caught" if seeded.check == "input" else "refused"
        return Verdict(seeded.job.name, seeded.fault, seeded.check, state, (), str(error).splitlines()[0])
    state, finding = about(report, seeded.check, seeded.names)
    if state == "follows" and finding and finding.follows in MAY_FOLLOW.get(seeded.fault, ()):
        state = "caught"
    extra = tuple(f"{f.check}: {f.headline}" for f in report.primary if f is not finding)
    return Verdict(seeded.job.name, seeded.fault, seeded.check, state, extra, finding.headline if finding else "")


def false_alarms(job: Job) -> list[str]:
    """Findings of a clean job, and not-checked answers that the generator does not expect."""
    report = hc.check(job.load())
    said = [f"{f.severity.word if f.severity else ''} {f.check}: {f.headline}" for f in report.findings if not f.waived]
    return said + [
        f"NOT CHECKED {n.check} at {n.place.label}: {n.missing}"
        for n in report.not_checked
        if (n.check, n.place.label) not in job.expected
    ]
