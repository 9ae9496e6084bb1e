"""Wiring diagram

Existing and new wiring from connector to connector, as an aircraft wiring manual shows it: every wire with its
identification, gauge and colour, every cavity, every splice, and what is known of the wiring beyond.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from harnesscheck import paper as forms
from harnesscheck.harness import Harness, Kind
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Stamp
from harnesscheck.paper.pages import Drawn
from harnesscheck.paper.svg import XY, Canvas
from harnesscheck.place import Point
from harnesscheck.sheets import _frame as frame
from harnesscheck.sheets import stamp as plain_stamp
from harnesscheck.sheets._compose import compose
from harnesscheck.sheets._draw import Pen
from harnesscheck.sheets._labels import Index
from harnesscheck.sheets._notes import common_notes, sheet_notes
from harnesscheck.sheets._pages import Page, Planner
from harnesscheck.sheets._symbols import LEGEND
from harnesscheck.sheets._touched import touched

FORMS = ("svg", "png", "pdf")
PART = 3
"""Where the sheet stands in the book of a pack."""
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
    picked: bool = False
    """True when something on it is picked out."""


def render(job: Job, form: str) -> bytes:
    """All sheets: below each other in one picture, or as pages. Raises ``KeyError`` for another form."""
    if form not in FORMS:
        raise KeyError(form)
    return picture(job, form)


def pages(job: Job, wish: object, stamp: Stamp) -> Drawn:
    """The finished pages, with the title block of a pack; each is drawn when it comes."""
    count, drawings = _drawings(job, stamp, None)
    return Drawn(count, (drawing.canvas for drawing in drawings))


def picture(job: Job, form: str, highlight: Collection[Point] = (), stamp: Stamp | None = None) -> bytes:
    """The diagram in a form of pages (``svg``, ``png``, ``pdf``) with some copper heavy and the rest light.

    ``highlight`` are points of the harness, as a trace gives them: a wire is heavy when both its ends are among them.
    Only sheets that show some of it are in the picture; all of them when none does. Without ``highlight`` it is the
    plain diagram. Raises ``KeyError`` for another form.
    """
    drawings = sheets(job, stamp, frozenset(highlight) or None)
    shown = [one.canvas for one in drawings if one.picked] or [one.canvas for one in drawings]
    return forms.write_pages(shown, form, KINDS[job.subject.kind], stamp or plain_stamp(job))


def shows(job: Job, points: Collection[Point]) -> bool:
    """True when the diagram draws any of the points."""
    return not set(points).isdisjoint(touched(job).subject.points)


def sheets(job: Job, stamp: Stamp | None = None, picked: frozenset[Point] | None = None) -> list[Drawing]:
    """The sheets of the diagram, each drawn on paper of its own; nothing is left out to make it fit."""
    return list(_drawings(job, stamp, picked)[1])


def _drawings(job: Job, stamp: Stamp | None, picked: frozenset[Point] | None) -> tuple[int, Iterator[Drawing]]:
    """How many sheets, and the sheets in order, each drawn when it is asked for."""
    whole = job
    job = touched(job)
    harness = job.subject
    stamp = stamp or plain_stamp(whole)
    lines = tuple((one.letter, one.text, one.date, one.by) for one in harness.revisions)
    title = frame.Title(
        harness.title,
        "Wiring diagram, circuit picked out" if picked else KINDS[harness.kind],
        drawing_number(harness),
        harness.revision,
        job.path.name,
        stamp.pack,
        stamp.tool,
        stamp.numbers.get("wiring-diagram", ""),
        lines,
    )
    common = [*([stamp.warning] if stamp.warning else []), *common_notes(job)]
    size, planned = _plan(job, title, common)
    index = _index(job, title, common, size, planned)

    def drawn() -> Iterator[Drawing]:
        seen: dict[str, int] = {}
        for number, page in enumerate(planned, 1):
            canvas = Canvas(size.width, size.height)
            trial = _Trial(job, title, common, page, index, number, picked)
            pen = Pen(canvas, harness, trial.sheet, seen, picked)
            pen.draw(*trial.start(size))
            frame.draw(canvas, size, title, trial.notes, trial.legend, number, len(planned))
            yield Drawing(number, len(planned), size.name, canvas, "picked" in pen.used)

    return len(planned), drawn()


def drawing_number(harness: Harness) -> str:
    """The title in capitals and dashes, and WD: the same on every machine, and no number register is needed."""
    words = re.findall(r"[A-Z0-9]+", harness.title.upper())
    return "-".join([*words[:6], "WD"])


class _Scrap(Canvas):
    """Paper on which nothing is drawn."""

    def line(self, *args: object, **named: object) -> None: ...
    def circle(self, *args: object, **named: object) -> None: ...
    def arc(self, *args: object, **named: object) -> None: ...
    def capsule(self, *args: object, **named: object) -> None: ...
    def text(self, *args: object, **named: object) -> None: ...
    def group(self, *args: object, **named: object) -> ET.Element:
        return self.root


class _Trial:
    """A page drawn once on scrap paper, to learn which symbols and notes it needs and how large it is."""

    def __init__(
        self,
        job: Job,
        title: frame.Title,
        common: Sequence[str],
        page: Page,
        index: Index | None = None,
        number: int = 0,
        picked: frozenset[Point] | None = None,
    ) -> None:
        self.title = title
        self.sheet = compose(job.subject, page, index, number)
        self.pen = Pen(_Scrap(1, 1), job.subject, self.sheet, {}, picked)
        self.pen.draw(0.0, 0.0)
        self.legend = [name for name in LEGEND if name in self.pen.used]
        self.notes = [*self.sheet.labels.notes, *common, *sheet_notes(job.subject, self.sheet)]

    def furniture(self, paper: frame.Paper) -> float:
        """Height of the strip below the diagram, mm."""
        return frame.furniture_height(paper, self.notes, self.legend)

    def head(self, paper: frame.Paper) -> float:
        """Room kept above the diagram, mm: the revision block's height where a heading would meet it."""
        left, _, right, _ = frame.inner(paper)
        start = left + (right - left - self.sheet.width) / 2
        clear = start + self.sheet.head_right < right - frame.REVISION_WIDTH - ROOM
        return ROOM if clear else frame.revision_height(self.title) + ROOM

    def size(self, paper: frame.Paper) -> tuple[float, float]:
        """Width and height of drawing area that the page needs on this paper, mm."""
        return self.sheet.width + 2 * ROOM, self.head(paper) + self.sheet.height + ROOM + self.furniture(paper)

    def fits(self, paper: frame.Paper) -> bool:
        """True when the page can be drawn on this paper."""
        left, top, right, bottom = frame.inner(paper)
        wide, high = self.size(paper)
        return wide <= right - left and high <= bottom - top

    def start(self, paper: frame.Paper) -> XY:
        """Where the upper left corner of the diagram goes, mm."""
        left, top, right, bottom = frame.inner(paper)
        free = bottom - top - self.head(paper) - self.furniture(paper) - self.sheet.height
        return left + (right - left - self.sheet.width) / 2, top + self.head(paper) + min(free / 2, 2 * ROOM)


def _plan(job: Job, title: frame.Title, common: Sequence[str]) -> tuple[frame.Paper, list[Page]]:
    """The smallest paper that holds the diagram: A4 for a single sheet, else A3; larger only when it has to be."""
    full: list[Page] = []
    for paper in (frame.A4, frame.A3, frame.A2, frame.A1):
        for whole in (True,) if paper is frame.A4 else (True, False):
            full = []
            for page, fits in _pages(job, title, common, paper, whole):
                full.append(page)
                if (not fits and paper is not frame.A1) or (paper is frame.A4 and len(full) > 1):
                    break
            else:
                if paper is not frame.A1 or all(_Trial(job, title, common, page).fits(paper) for page in full):
                    return paper, full or [Page("", "", True, [], [], [], [])]
    sizes = [_Trial(job, title, common, page).size(frame.A1) for page in full]
    margin = 2 * (frame.EDGE + frame.STRIP)
    wide = max(frame.A1.width, max(one[0] for one in sizes) + margin)
    high = max(frame.A1.height, max(one[1] for one in sizes) + margin)
    return frame.Paper("special", wide, high), full


def _pages(
    job: Job, title: frame.Title, common: Sequence[str], paper: frame.Paper, whole: bool
) -> Iterator[tuple[Page, bool]]:
    """The pages on one paper, each with whether it fits."""

    def fits(page: Page) -> bool:
        return _Trial(job, title, common, page).fits(paper)

    for page in Planner(job.subject, fits, whole).pages():
        yield page, fits(page)


def _index(job: Job, title: frame.Title, common: Sequence[str], size: frame.Paper, planned: Sequence[Page]) -> Index:
    """Sheet and zone of every wire, and the sheets of every connector half."""
    index = Index()
    for number, page in enumerate(planned, 1):
        for ref in dict.fromkeys(page.halves):
            index.halves.setdefault(ref, []).append(number)
    several = any(joint.beyond is not None and joint.beyond.elsewhere for page in planned for joint in page.joints)
    for number, page in enumerate(planned, 1) if several else ():
        trial = _Trial(job, title, common, page, index, number)
        x, y = trial.start(size)
        for name, (across, down) in trial.pen.written.items():
            index.wires.setdefault(name, f"sheet {number}, {frame.zone(size, x + across, y + down)}")
    return index
