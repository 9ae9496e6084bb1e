"""The blocks of a sheet on pages of paper: frame, title strip and cautions on each, and what stands between them.

Lengths are millimetres. A4 is used upright or turned, and stays readable on Letter: nothing stands within 6 mm of the
edge, and the smallest lettering is 2.5 mm high. Everything is black on white.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import overload

from harnesscheck.paper import metrics, tables
from harnesscheck.paper.blocks import NO_PACK, Block, Content, Facts, Figure, Heading, NewPage, Stamp, Table, Words
from harnesscheck.paper.cautions import CAUTIONS
from harnesscheck.paper.strips import Item, cut, lines, name
from harnesscheck.paper.svg import TEXT, Canvas, leading

EDGE = 8.0
"""Paper edge to frame; printers leave 6 mm blank."""
ROOM = 3.0
"""Frame to what stands inside it."""
TITLE, HEADING = 4.5, 3.2
STRIP = 9.0
"""Height of a row of the title strip."""
GAP = 3.0
"""Between blocks."""
SMALL = 0.3
"""A block that takes less than this share of a page is kept whole."""
UNSAID = "not stated"


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of paper, mm."""

    name: str
    width: float
    height: float

    @property
    def wide(self) -> float:
        """Width between the margins."""
        return self.width - 2 * (EDGE + ROOM)


# ISO 216.
UPRIGHT = Paper("A4", 210.0, 297.0)
TURNED = Paper("A4", 297.0, 210.0)
LARGER = (Paper("A3", 420.0, 297.0), Paper("A2", 594.0, 420.0), Paper("A1", 841.0, 594.0))


@dataclass(frozen=True)
class Drawn(Collection[Canvas]):
    """The pages of a drawing, to be gone through once: how many, and each when it comes."""

    count: int
    drawings: Iterator[Canvas]

    def __len__(self) -> int:
        return self.count

    def __iter__(self) -> Iterator[Canvas]:
        return self.drawings

    def __contains__(self, page: object) -> bool:
        raise TypeError("the pages of a drawing are gone through once")


class Laid(Sequence[Canvas]):
    """The pages of one sheet, laid out; each is drawn anew whenever it is asked for, and none is kept."""

    def __init__(self, content: Content, stamp: Stamp) -> None:
        self._content, self._stamp = content, stamp
        self._paper = _paper(content, stamp)
        self._strips = _laid(content, self._paper, free(self._paper, stamp))

    def __len__(self) -> int:
        return len(self._strips)

    @overload
    def __getitem__(self, at: int) -> Canvas: ...
    @overload
    def __getitem__(self, at: slice) -> list[Canvas]: ...
    def __getitem__(self, at: int | slice) -> Canvas | list[Canvas]:
        numbers = range(len(self._strips))[at]
        return self._drawn(numbers) if isinstance(numbers, int) else [self._drawn(number) for number in numbers]

    def _drawn(self, number: int) -> Canvas:
        canvas = Canvas(self._paper.width, self._paper.height)
        frame(canvas, self._paper, self._content, self._stamp, number + 1, len(self._strips))
        y = _top()
        for place, item in enumerate(self._strips[number]):
            y += item.gap if place else 0.0
            item.draw(canvas, EDGE + ROOM, y)
            canvas.end()
            y += item.height
        return canvas


def pages(content: Content, stamp: Stamp) -> list[Canvas]:
    """The pages of one sheet, nothing left out."""
    return list(Laid(content, stamp))


def _laid(content: Content, paper: Paper, room: float) -> list[list[Item]]:
    """The strips of each page. Decisions stand last, or first where that saves a page of their own."""
    blocks = list(content.blocks)
    decided: list[Block] = []
    if content.decisions:
        decided = [Heading("Decided in writing for this job"), *(Words(said) for said in content.decisions)]
    last = list(_broken(list(_items([*blocks, *decided], paper.wide, room)), room))
    if not decided:
        return last
    first = list(_broken(list(_items([*decided, *blocks], paper.wide, room)), room))
    return first if len(first) < len(last) else last


def _top() -> float:
    return EDGE + ROOM + TITLE + GAP


def free(paper: Paper, stamp: Stamp) -> float:
    """Height left for the blocks of a page."""
    return paper.height - EDGE - _foot(paper, stamp) - ROOM - _top()


def _paper(content: Content, stamp: Stamp) -> Paper:
    """A4, turned when the sheet asks for it or a table needs it; larger only for a drawing that needs it."""
    figures = [block for block in content.blocks if isinstance(block, Figure)]
    choice = [UPRIGHT, TURNED, *LARGER]
    if content.landscape or any(tables.least(table) > UPRIGHT.wide for table in content.tables):
        choice = choice[1:]
    for paper in choice:
        room = free(paper, stamp) - leading(TEXT)
        if all(f.width <= paper.wide and f.height <= room for f in figures):
            return paper
    wide = max(f.width for f in figures) + 2 * (EDGE + ROOM)
    spare = LARGER[-1].height - free(LARGER[-1], stamp) + leading(TEXT)
    return Paper("special", max(LARGER[-1].width, wide), max(f.height for f in figures) + spare)


def _broken(items: Sequence[Item], room: float) -> Iterator[list[Item]]:
    """Items in pages; items that keep with the next one travel together."""
    page: list[Item] = []
    used = 0.0
    for run in _runs(items):
        high = sum(item.height + (item.gap if number else 0.0) for number, item in enumerate(run))
        if page and (run[0].breaks or used + run[0].gap + high > room):
            yield page
            page, used = [], 0.0
            if run[0].head is not None:
                page, used = [run[0].head], run[0].head.height
        for item in run:
            if page and used + item.gap + item.height > room:  # a run that is longer than a page
                yield page
                page, used = [], 0.0
            used += item.height + (item.gap if page else 0.0)
            page.append(item)
    yield page


def _runs(items: Sequence[Item]) -> Iterator[list[Item]]:
    run: list[Item] = []
    for item in items:
        if run and item.breaks:
            yield run
            run = []
        run.append(item)
        if not item.keep:
            yield run
            run = []
    if run:
        yield run


# -- blocks ----------------------------------------------------------------------------------------------------------


def _items(blocks: Sequence[Block], wide: float, room: float) -> Iterator[Item]:
    breaks = False
    for block in blocks:
        if isinstance(block, NewPage):
            breaks = True
            continue
        for item in _together(list(_block(block, wide, room)), block, room):
            if breaks:
                yield replace(item, breaks=True)
            else:
                yield item
            breaks = False


def _together(items: list[Item], block: Block, room: float) -> list[Item]:
    """A block that is small against the page is not parted; the last row of a table never stands alone."""
    if not isinstance(block, Facts | Table):
        return items
    small = sum(item.height + item.gap for item in items) < SMALL * room
    last = len(items) - 1
    return [
        replace(item, keep=item.keep or (small and n < last) or (isinstance(block, Table) and n == last - 1))
        for n, item in enumerate(items)
    ]


def _block(block: Block, wide: float, room: float) -> Iterator[Item]:
    if isinstance(block, Heading):
        yield from _heading(block, wide)
    elif isinstance(block, Words):
        yield from lines(metrics.wrap(block.text, TEXT, wide), block.strong)
    elif isinstance(block, Facts):
        yield from _facts(block, wide)
    elif isinstance(block, Table):
        yield from tables.items(block, wide, room)
    elif isinstance(block, Figure):
        yield _figure(block, wide)


def _heading(block: Heading, wide: float) -> Iterator[Item]:
    texts = metrics.wrap(block.text, HEADING, wide)

    def draw(canvas: Canvas, x: float, y: float) -> None:
        if block.anchor:
            canvas.anchor(name(block.anchor), x, y)
        canvas.lines(x, y + HEADING + 0.4, texts, HEADING)

    yield Item(leading(HEADING) * len(texts) + 0.6, draw, keep=True, gap=2 * GAP)


def _facts(block: Facts, wide: float) -> Iterator[Item]:
    names = min(max((metrics.width(key, TEXT) for key, _ in block.pairs), default=0.0), wide * 0.4)
    for number, (key, value) in enumerate(block.pairs):
        left = metrics.wrap(key, TEXT, names)
        right = metrics.wrap(value, TEXT, wide - names - 4.0)

        def draw(canvas: Canvas, x: float, y: float, left: list[str] = left, right: list[str] = right) -> None:
            canvas.lines(x, y + TEXT + 0.6, left)
            canvas.lines(x + names + 4.0, y + TEXT + 0.6, right)

        yield Item(leading(TEXT) * max(len(left), len(right), 1) + 0.6, draw, gap=0.0 if number else GAP / 2)


def _figure(block: Figure, wide: float) -> Item:
    captions = metrics.wrap(block.caption, TEXT, wide)

    def draw(canvas: Canvas, x: float, y: float) -> None:
        drawing = Canvas(block.width, block.height)
        block.draw(drawing)
        canvas.place(drawing, x + max(0.0, (wide - block.width) / 2), y)
        canvas.lines(x, y + block.height + TEXT + 0.6, captions)

    return Item(block.height + leading(TEXT) * len(captions), draw, gap=GAP)


# -- what stands round them --------------------------------------------------------------------------------------------


def _foot(paper: Paper, stamp: Stamp) -> float:
    """Height of cautions and title strip, down to the frame."""
    return 2 * STRIP + 2.0 + leading(TEXT) * len(_caution_lines(paper, stamp))


def _caution_lines(paper: Paper, stamp: Stamp) -> list[str]:
    said = [
        *([stamp.warning] if stamp.warning else []),
        *CAUTIONS,
        *([f"{stamp.note[:1].upper()}{stamp.note[1:]}."] if stamp.note else []),
    ]
    return metrics.wrap(" ".join(said), TEXT, paper.wide)


def frame(canvas: Canvas, paper: Paper, content: Content, stamp: Stamp, number: int, count: int) -> None:
    """Border, title, cautions and title strip of one page."""
    left, right, bottom = EDGE, paper.width - EDGE, paper.height - EDGE
    canvas.group(class_="frame")
    canvas.line([(left, EDGE), (right, EDGE), (right, bottom), (left, bottom)], "frame", True)
    canvas.group(class_="title")
    said = content.title if number == 1 else f"{content.title}, continued"
    canvas.text(left + ROOM, EDGE + ROOM + TITLE, cut(said, TITLE, paper.wide), TITLE)
    top = bottom - _foot(paper, stamp)
    canvas.group(class_="cautions")
    canvas.line([(left, top), (right, top)], "thin")
    canvas.lines(left + ROOM, top + leading(TEXT), _caution_lines(paper, stamp))
    canvas.group(class_="title-block")
    strip(canvas, left, bottom - 2 * STRIP, right - left, content, stamp, number, count)
    canvas.end()


def strip(
    canvas: Canvas, x: float, y: float, wide: float, content: Content, stamp: Stamp, number: int, count: int
) -> None:
    """The title block as two rows of cells."""
    named = metrics.width(content.title, TEXT) + 4.0
    rows = (
        (
            ("JOB", 0.0, stamp.title),
            ("SHEET TITLE", min(wide * 0.45, max(wide * 0.32, named)), content.title),
            ("NO.", 15.0, stamp.numbers.get(content.name, "-")),
            ("SHEET", 20.0, f"{number} of {count}"),
        ),
        (
            ("FILE", 0.0, stamp.file),
            ("REV", 15.0, stamp.revision or UNSAID),
            ("PACK ID", 48.0, stamp.pack or NO_PACK),
            ("MADE WITH", 42.0, stamp.tool),
        ),
    )
    for row, cells in enumerate(rows):
        across, top = x, y + row * STRIP
        rest = wide - sum(w for _, w, _ in cells)
        for title, stated, text in cells:
            width = stated or rest
            canvas.line([(across, top), (across + width, top), (across + width, top + STRIP), (across, top + STRIP)],
                        "thin", True)  # fmt: skip
            canvas.text(across + 1.2, top + TEXT + 0.9, title)
            canvas.text(across + 1.2, top + STRIP - 1.3, cut(text, TEXT, width - 2.4), strong=True)
            across += width
    canvas.line([(x, y), (x + wide, y)], "frame")
