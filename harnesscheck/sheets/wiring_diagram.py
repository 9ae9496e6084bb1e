"""Wiring diagram

Existing and new wiring from connector to connector, as an aircraft wiring manual shows it: every wire with its
identification, gauge and colour, every cavity, every splice, and what is known of the wiring beyond.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from itertools import islice

from harnesscheck.connector import Origin
from harnesscheck.harness import Harness, Kind
from harnesscheck.job import Job
from harnesscheck.paper import svg as _svg
from harnesscheck.paper.blocks import Stamp
from harnesscheck.paper.cautions import decisions
from harnesscheck.paper.svg import Canvas
from harnesscheck.sheets import _frame as frame
from harnesscheck.sheets._compose import Sheet, compose
from harnesscheck.sheets._draw import Pen
from harnesscheck.sheets._pages import Page, Planner
from harnesscheck.sheets._symbols import LEGEND
from harnesscheck.sheets._touched import left_out, touched

FORMS = ("svg", "png")

KINDS = {
    Kind.INSTALLED: "Wiring diagram, jumper installed",
    Kind.JUMPER: "Wiring diagram, jumper on the bench",
    Kind.AIRFRAME: "Wiring diagram, airframe as found",
    Kind.EQUIPMENT: "Wiring diagram, equipment",
}
ROOM = 4.0
"""Least distance of the diagram from border and furniture, mm."""


@dataclass(frozen=True)
class Drawing:
    """One finished sheet."""

    number: int
    count: int
    size: str
    canvas: Canvas


def render(job: Job, form: str) -> bytes:
    """All sheets below each other, as one SVG or one picture. Raises ``KeyError`` for another form."""
    if form not in FORMS:
        raise KeyError(form)
    drawn = [drawing.canvas for drawing in sheets(job)]
    drawing = _svg.svg(drawn, f"{job.subject.title}: {KINDS[job.subject.kind]}")
    return drawing if form == "svg" else _svg.png(drawing, drawn)


def pages(job: Job, wish: object, stamp: Stamp) -> list[Canvas]:
    """The finished pages, with the title block of a pack."""
    return [drawing.canvas for drawing in sheets(job, stamp)]


def sheets(job: Job, stamp: Stamp | None = None) -> list[Drawing]:
    """The sheets of the diagram, each drawn on paper of its own; nothing is left out to make it fit."""
    job = touched(job)
    harness = job.subject
    paper, pages = _plan(harness, job)
    title = frame.Title(harness.title, KINDS[harness.kind], drawing_number(harness), harness.revision, job.path.name)
    if stamp is not None:
        place = stamp.numbers.get("wiring-diagram", "")
        title = replace(title, pack=stamp.pack, tool=stamp.tool, place=place)
    seen: dict[str, int] = {}
    drawings: list[Drawing] = []
    for number, page in enumerate(pages, 1):
        sheet = compose(harness, page)
        trial = _Trial(job, page)
        canvas = Canvas(paper.width, paper.height)
        left, top, right, bottom = frame.inner(paper)
        free = bottom - top - trial.head(paper) - trial.furniture(paper) - sheet.height
        x = left + (right - left - sheet.width) / 2
        pen = Pen(canvas, harness, sheet, seen)
        pen.draw(x, top + trial.head(paper) + min(free / 2, 2 * ROOM))
        frame.draw(canvas, paper, title, trial.notes, trial.legend, number, len(pages))
        drawings.append(Drawing(number, len(pages), paper.name, canvas))
    return drawings


def drawing_number(harness: Harness) -> str:
    """The title in capitals and dashes, and WD: the same on every machine, and no number register is needed."""
    words = re.findall(r"[A-Z0-9]+", harness.title.upper())
    return "-".join([*words[:6], "WD"])


class _Trial:
    """A page drawn once on scrap paper, to learn which symbols and notes it needs and how large it is."""

    def __init__(self, job: Job, page: Page) -> None:
        self.sheet = compose(job.subject, page)
        pen = Pen(Canvas(1, 1), job.subject, self.sheet, {})
        pen.draw(0.0, 0.0)
        self.legend = [name for name in LEGEND if name in pen.used]
        self.notes = [*self.sheet.labels.notes, *_notes(job, self.sheet, pen)]

    def furniture(self, paper: frame.Paper) -> float:
        """Height of the strip below the diagram, mm."""
        return frame.furniture_height(paper, self.notes, self.legend)

    def head(self, paper: frame.Paper) -> float:
        """Room kept above the diagram, mm: the revision block's height where a heading would meet it."""
        left, _, right, _ = frame.inner(paper)
        start = left + (right - left - self.sheet.width) / 2
        clear = start + self.sheet.head_right < right - frame.REVISION_WIDTH - ROOM
        return ROOM if clear else frame.REVISION_HEIGHT + ROOM

    def size(self, paper: frame.Paper) -> tuple[float, float]:
        """Width and height of drawing area that the page needs on this paper, mm."""
        return self.sheet.width + 2 * ROOM, self.head(paper) + self.sheet.height + ROOM + self.furniture(paper)

    def fits(self, paper: frame.Paper) -> bool:
        """True when the page can be drawn on this paper."""
        left, top, right, bottom = frame.inner(paper)
        wide, high = self.size(paper)
        return wide <= right - left and high <= bottom - top


def _plan(harness: Harness, job: Job) -> tuple[frame.Paper, list[Page]]:
    """The smallest paper that holds the diagram: A4 for a single sheet, else A3; larger only when it has to be."""
    for paper in (frame.A4, frame.A3, frame.A2, frame.A1):
        for full in (True,) if paper is frame.A4 else (True, False):
            planner = Planner(harness, lambda page, paper=paper: _Trial(job, page).fits(paper), full)  # type: ignore[misc]
            pages = list(islice(planner.pages(), 2 if paper is frame.A4 else None))
            pages = pages or [Page("", "", True, [], [], [], [])]
            if not (paper is frame.A4 and len(pages) > 1) and all(_Trial(job, page).fits(paper) for page in pages):
                return paper, pages
    sizes = [_Trial(job, page).size(frame.A1) for page in pages]
    margin = 2 * (frame.EDGE + frame.STRIP)
    wide = max(frame.A1.width, max(size[0] for size in sizes) + margin)
    high = max(frame.A1.height, max(size[1] for size in sizes) + margin)
    return frame.Paper("special", wide, high), pages


def _notes(job: Job, sheet: Sheet, pen: Pen) -> list[str]:
    """The notes that every sheet has, and those that this one needs."""
    harness = job.subject
    notes: list[str] = []
    if job.airframe is not None and job.airframe is not harness:
        revision = f"revision {job.airframe.revision}" if job.airframe.revision else "revision not stated"
        notes.append(f"Existing wiring after the airframe file: {job.airframe.title}, {revision}.")
    notes.append(
        "Wire text: identification, gauge, colour digits (as in use with MIL-STD-681) and word. "
        "'?' or 'not stated': nobody has said."
    )
    notes.append("Not to scale. Rows stand in the order of the drawing, not of the insert.")
    notes.extend(_splice_notes(harness, sheet))
    for ref in dict.fromkeys(ref for joint in sheet.page.joints for ref in (joint.inner, joint.outer) if ref):
        half = harness.connectors[ref]
        if half.fitted == "aircraft":
            why = f": {half.note}" if half.note else ""
            notes.append(f"{ref}: shell shipped loose, contacts inserted on site{why}.")
        beyond = next((joint.beyond for joint in sheet.page.joints if joint.outer == ref), None)
        if beyond is not None and beyond.elsewhere:
            notes.append(f"Wires at {ref} shown elsewhere on this diagram: {', '.join(beyond.elsewhere)}.")
    strands = list(sheet.page.strands)
    for one in sheet.page.joints:
        strands.extend(one.beyond.strands if one.beyond is not None else ())
    for wire in (wire for strand in strands for wire in strand.left_over):
        notes.append(f"Not drawn: {pen.labels.wire(wire)} from {wire.a} to {wire.b}.")
    ends = {point.ref for wire in harness.wires.values() for point in (wire.a, wire.b)}
    ends.update(breaker.bus for breaker in harness.breakers.values() if breaker.bus and breaker.ref in ends)
    unused = [ref for ref in (*harness.splices, *harness.grounds, *harness.breakers, *harness.buses) if ref not in ends]
    if unused:
        notes.append(f"Not drawn, no wire stated: {', '.join(unused)}.")
    away = left_out(harness)
    if away:
        notes.append(f"Not drawn, existing wiring that the jumper does not touch: {', '.join(away)}.")
    if harness.note:
        notes.append(f"{harness.note[:1].upper()}{harness.note[1:]}.")
    notes += [f"Decided in writing: {said}." for said in decisions(harness)]
    return notes


def _splice_notes(harness: Harness, sheet: Sheet) -> list[str]:
    """Part number and place of the splices on this sheet, one note for each part number."""
    by_part: dict[str, list[str]] = {}
    for node in (node for strand in sheet.page.strands for node in strand.layer):
        splice = harness.splices[node.ref]
        place = f"{node.ref} place not stated"
        if splice.at is not None:
            place = f"{node.ref} {splice.at * 1000:.4g} mm from {splice.at_ref or '?'}"
        if splice.fitted == "aircraft":
            place += " (made on site)"
        if splice.origin is Origin.JUMPER:
            by_part.setdefault(splice.part or "part number not stated", []).append(place)
    return [f"Splices {part}: {', '.join(places)}." for part, places in by_part.items()]
