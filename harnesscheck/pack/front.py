"""The cover and the last sheet of the book: what the pack is, what is in it, and what nobody has looked at."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import PurePath

from harnesscheck.finding import NotChecked, Report, Severity
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Cell, Column, Content, Facts, Heading, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.place import Place
from harnesscheck.report import verdict
from harnesscheck.sheets import Wish

COVER, LIMITS = "cover", "known-limits"
UNSAID = "not stated"

KNOWN = (
    "Only what the files say has been looked at. Nobody has measured the aircraft: what is in it may differ from its "
    "papers, so ring out and look before power is applied.",
    "Voltages and currents are steady values. Inrush below a second, battery charging and the heat that a wire makes "
    "itself are left out; breakers and stud bonds of unknown resistance count as 0 ohm.",
    "Interference, lightning, vibration, flammability and mechanical strength are not computed. The functional check "
    "on the ground looks for interference.",
    "Baud rate, protocol and software settings are not checked.",
    "Values marked as from memory or common practice are not from a document that was at hand; the shop confirms its "
    "own before it relies on them.",
)
"""What no run of this program looks at, whatever the files say."""

WHO = (
    "This pack is technical help, not approved data. Whether the change may be made, who may make it, and what has to "
    "be applied for is decided by the holder of the licence or the builder under local rules, who signs for it. "
    "Nothing in this pack replaces the maintenance manual of the aircraft or the instructions of the maker of a part; "
    "where they differ, those hold."
)


def cover(
    job: Job,
    wish: Wish,
    report: Report,
    listed: Sequence[tuple[str, str, str, int]],
    absent: Sequence[tuple[str, str, str]],
    volumes: Sequence[tuple[str, str]] = (),
) -> Content:
    """The cover. ``listed`` is number, name, title and pages of each sheet; ``absent`` number, title and why not;
    ``volumes`` file and content of each volume of a book that is more than one.
    """
    blocks: list[Block] = [Facts(tuple(_facts(job, wish))), *_state(report)]
    blocks += [Heading("Revisions"), _revisions(job)]
    blocks += [Heading("List of effective pages"), _effective(job, listed)]
    if volumes:
        held = (Column("file"), Column("holds"))
        blocks += [Heading("Volumes of the book"), Table("volumes", held, tuple(volumes))]
    if absent:
        columns = (Column("no."), Column("document"), Column("not applicable because"))
        blocks += [Heading("Not in this pack"), Table("not-in-this-pack", columns, tuple(absent))]
    files = tuple((file.name, file.sha256) for file in job.files)
    digest = (Column("file"), Column("SHA-256 of the file as read"))
    blocks += [Heading("Made from"), Table("made-from", digest, files)]
    blocks.append(
        Words(
            "Every document of this pack carries the same pack id. A document with another id, or with none, belongs "
            "to another pack: do not use the two together. harnesscheck verify, with the folder, says whether the pack "
            "is whole and unaltered."
        )
    )
    return Content(COVER, "Kit pack", tuple(blocks), decisions=tuple(decisions(job.subject)))


def _facts(job: Job, wish: Wish) -> Iterator[tuple[str, str]]:
    harness = job.subject
    aircraft = job.airframe.aircraft if job.airframe is not None else None
    yield "Kit", harness.title
    yield "Revision", harness.revision or UNSAID
    yield "Kits built from this pack", str(wish.kits)
    yield "Aircraft", (aircraft.type if aircraft else "") or UNSAID
    yield "Serial numbers", (aircraft.serials if aircraft else "") or UNSAID
    yield "Effectivity", harness.effectivity or UNSAID
    if harness.opened:
        yield "Opens", "/".join(harness.opened)
    for device in harness.devices.values():
        yield "New equipment", f"{device.ref} {device.name}"
    if job.airframe is not None:
        yield "Existing wiring", f"{job.airframe.title}, revision {job.airframe.revision or UNSAID}"


def _state(report: Report) -> list[Block]:
    return [Heading("What the checks say"), Words(verdict(report), strong=not report.clear)]


def _revisions(job: Job) -> Table:
    rows: tuple[tuple[str, str, str, str], ...] = tuple((r.letter, r.text, r.date, r.by) for r in job.subject.revisions)
    if not rows:
        rows = ((job.subject.revision or UNSAID, "no revision list in the jumper file", "", ""),)
    return Table("revisions", (Column("rev"), Column("what changed"), Column("date"), Column("by")), rows)


def _effective(job: Job, listed: Sequence[tuple[str, str, str, int]]) -> Table:
    revision = job.subject.revision or UNSAID
    rows = [(number, Cell(title, link=f"sheet-{name}"), str(pages), revision) for number, name, title, pages in listed]
    total = ("", "all", str(sum(pages for *_, pages in listed)), "")
    columns = (Column("no."), Column("sheet"), Column("pages", right=True), Column("revision"))
    return Table("list-of-effective-pages", columns, (*rows, total), totals=1)


def limits(job: Job, report: Report) -> Content:
    """What was found, what was not checked and why, what is never checked, and who decides."""
    blocks: list[Block] = [Words(verdict(report), strong=not report.clear)]
    if report.reach:
        blocks.append(Words(report.reach))
    blocks += [Heading("Findings"), _findings(report), Heading("Not checked"), _not_checked(report.not_checked)]
    idle = [name for name, passed in report.passed.items() if not passed and not _answered(report, name)]
    if idle:
        blocks.append(Words(f"Checks that had nothing to look at here: {', '.join(idle)}."))
    blocks += [Heading("Known limits of the checks"), *(Words(f"{n}. {said}") for n, said in enumerate(KNOWN, 1))]
    blocks += [Heading("Who decides"), Words(WHO)]
    signing = tuple(Column(name, blank=name != "who") for name in ("who", "name", "licence", "date", "signature"))
    people = tuple((who, "", "", "", "") for who in ("builder of the kit", "installer", "inspector"))
    blocks.append(Table("signatures", signing, people))
    title = "Known limits and what was not checked"
    return Content(LIMITS, title, tuple(blocks), decisions=tuple(decisions(job.subject)))


def _findings(report: Report) -> Table:
    columns = (Column("severity"), Column("what"), Column("where"), Column("what to do"), Column("check"))
    rows = []
    for finding in report.findings:
        word = (finding.severity or Severity.NOTE).word.lower()
        said = f"waived: {finding.waived}" if finding.waived else finding.remedy
        if finding.follows:
            word, said = f"{word}, follows", said or f"follows from {finding.follows}"
        rows.append((word, finding.headline, where(finding.place), said, finding.check))
    return Table("findings", columns, tuple(rows))


def _not_checked(items: Sequence[NotChecked]) -> Table:
    columns = (Column("check"), Column("where"), Column("because"), Column("what to do"))
    return Table("not-checked", columns, tuple((n.check, where(n.place), n.missing, n.remedy) for n in items))


def _answered(report: Report, name: str) -> bool:
    return any(f.check == name for f in report.findings) or any(n.check == name for n in report.not_checked)


def where(place: Place) -> str:
    """A place without the folder it was read from: a pack says the same wherever its files lie."""
    at = f"{PurePath(place.file).name}:{place.line}" if place.document is not None else ""
    return " ".join(part for part in (place.label, at) if part)
