"""The paper round a drawing: border with zones, title block, revision block, notes, cautions, legend.

Furniture after common drawing practice: title block lower right, revision block upper right, zones of 25 mm to 75 mm
lettered and numbered in even counts from the corner opposite the title block.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from harnesscheck.paper import metrics
from harnesscheck.paper.blocks import NO_PACK
from harnesscheck.paper.cautions import CAUTIONS
from harnesscheck.paper.svg import TEXT, Canvas, leading
from harnesscheck.sheets._symbols import LEGEND


@dataclass(frozen=True)
class Paper:
    """A landscape sheet, mm."""

    name: str
    width: float
    height: float


# ISO 216.
A4 = Paper("A4", 297.0, 210.0)
A3 = Paper("A3", 420.0, 297.0)
A2 = Paper("A2", 594.0, 420.0)
A1 = Paper("A1", 841.0, 594.0)
EDGE = 8.0
"""Paper edge to border, mm; printers leave 6 mm blank (the design's print rule)."""
STRIP = 6.0
"""Width of the zone strip, mm."""
TITLE_WIDTH = 104.0
TITLE_HEIGHT = 49.0
REVISION_WIDTH = 104.0
LEGEND_WIDTH = 64.0
LEGEND_ROW = 6.0
GAP = 3.0


@dataclass(frozen=True)
class Title:
    """What the title block says."""

    title: str
    kind: str
    number: str
    revision: str
    file: str
    pack: str = ""
    tool: str = ""
    place: str = ""
    """Its number among the sheets of a pack."""
    revisions: tuple[tuple[str, str, str, str], ...] = ()
    """Letter, description, date and name of each revision that the job states."""


def inner(size: Paper) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of the drawing area of a size, mm."""
    wide, high = size.width, size.height
    return EDGE + STRIP, EDGE + STRIP, wide - EDGE - STRIP, high - EDGE - STRIP


def legend_columns(size: Paper) -> int:
    """Columns of the legend."""
    return 1 if size.width < 400 else 2


def notes_width(size: Paper) -> float:
    """Width left for the notes between legend and title block, mm."""
    left, _, right, _ = inner(size)
    return right - left - TITLE_WIDTH - legend_columns(size) * LEGEND_WIDTH - 2 * GAP


def note_lines(notes: Sequence[str], room: float) -> list[str]:
    """Numbered notes in lines that fit ``room``; lines after the first of a note are set in."""
    lines: list[str] = []
    for number, note in enumerate(notes, 1):
        for place, line in enumerate(metrics.wrap(note, TEXT, room - 7.0)):
            lines.append(f"{number}\t{line}" if not place else f"\t{line}")
    return lines


def furniture_height(size: Paper, notes: Sequence[str], legend: Sequence[str]) -> float:
    """Height of the strip along the bottom that holds legend, notes and title block, mm."""
    columns = legend_columns(size)
    rows = -(-len(legend) // columns)
    text = 6.0 + leading(TEXT) * len(note_lines(notes, notes_width(size))) + 3.0
    return max(TITLE_HEIGHT + _cautions_height(), 7.0 + rows * LEGEND_ROW, text)


def _cautions_height() -> float:
    """Room for the cautions above the title block, mm."""
    return 6.0 + leading(TEXT) * len(_caution_lines()) + 1.0


def _caution_lines() -> list[str]:
    return [line for caution in CAUTIONS for line in metrics.wrap(caution, TEXT, TITLE_WIDTH - 4.0)]


REVISION_CELLS = (("REV", 12.0), ("DESCRIPTION", 49.0), ("DATE", 22.0), ("BY", 21.0))


def _revision_rows(title: Title) -> list[list[list[str]]]:
    """The revisions, each a row of four cells of lines; the latest is the one this drawing is."""
    said = "as the job file states it" if title.revision else "revision not stated"
    rows = title.revisions or ((title.revision or "?", said, "not stated", "not stated"),)
    return [
        [metrics.wrap(text or "-", TEXT, wide - 2.4) for text, (_, wide) in zip(row, REVISION_CELLS, strict=True)]
        for row in rows
    ]


def revision_height(title: Title) -> float:
    """Height of the revision block, mm."""
    return 5.0 + sum(_revision_row_height(row) for row in _revision_rows(title))


def _revision_row_height(row: Sequence[Sequence[str]]) -> float:
    return 2.4 + leading(TEXT) * max(len(lines) for lines in row)


def zone(size: Paper, x: float, y: float) -> str:
    """The zone of a place on the paper, like ``C4``."""
    left, top, right, bottom = inner(size)
    across, down = _zones(right - left), _zones(bottom - top)
    column = min(across - 1, max(0, int((x - left) / (right - left) * across)))
    row = min(down - 1, max(0, int((y - top) / (bottom - top) * down)))
    return f"{LETTERS[row]}{column + 1}"


LETTERS = "ABCDEFGHJKLMNPQR"
"""Zone letters; I and O are left out: they read as digits."""


def draw(
    canvas: Canvas,
    size: Paper,
    title: Title,
    notes: Sequence[str],
    legend: Sequence[str],
    number: int,
    count: int,
) -> None:
    """Draw everything but the diagram itself on a sheet."""
    left, top, right, bottom = inner(size)
    _border(canvas, size)
    _title_block(canvas, right - TITLE_WIDTH, bottom - TITLE_HEIGHT, title, size, number, count)
    _revision_block(canvas, right - REVISION_WIDTH, top, title)
    columns = legend_columns(size)
    high = furniture_height(size, notes, legend)
    _legend(canvas, left, bottom - high, columns, legend)
    _notes(canvas, left + columns * LEGEND_WIDTH + GAP, bottom - high, notes_width(size), notes)
    _cautions(canvas, right - TITLE_WIDTH, bottom - TITLE_HEIGHT - _cautions_height())
    canvas.line([(left, bottom - high - 1.0), (right, bottom - high - 1.0)], "thin")


def _border(canvas: Canvas, size: Paper) -> None:
    wide, high = size.width, size.height
    left, top, right, bottom = inner(size)
    canvas.group(class_="frame")
    canvas.line([(EDGE, EDGE), (wide - EDGE, EDGE), (wide - EDGE, high - EDGE), (EDGE, high - EDGE)], "thin", True)
    canvas.line([(left, top), (right, top), (right, bottom), (left, bottom)], "frame", True)
    across, down = _zones(right - left), _zones(bottom - top)
    for number in range(across):
        step = (right - left) / across
        x = left + number * step
        for y in (EDGE, bottom):
            if number:
                canvas.line([(x, y), (x, y + STRIP)], "thin")
            canvas.text(x + step / 2, y + STRIP / 2 + TEXT / 2, str(number + 1), anchor="middle")
    for number in range(down):
        step = (bottom - top) / down
        y = top + number * step
        for x in (EDGE, right):
            if number:
                canvas.line([(x, y), (x + STRIP, y)], "thin")
            canvas.text(x + STRIP / 2, y + step / 2 + TEXT / 2, LETTERS[number], anchor="middle")
    canvas.end()


def _zones(length: float) -> int:
    """An even number of zones of about 50 mm, no more than there are letters."""
    return min(len(LETTERS), max(2, 2 * round(length / 100)))


def _cell(canvas: Canvas, x: float, y: float, wide: float, high: float, name: str, text: str, cap: float = 2.5) -> None:
    """A cell with its name in the upper left corner and its text below; a blank one is for writing in."""
    canvas.line([(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)], "thin", True)
    canvas.text(x + 1.2, y + TEXT + 1.0, name)
    room = wide - 2.4
    lines = metrics.wrap(text, cap, room)
    if len(lines) > 1 and cap > TEXT:
        cap = TEXT
        lines = metrics.wrap(text, cap, room)
    most = max(1, int((high - 5.0) / leading(cap)))
    if len(lines) > most:
        lines = [*lines[: most - 1], _cut(lines[most - 1], cap, room)]
    canvas.lines(x + 1.2, y + 5.0 + cap, lines, cap)


def _cut(text: str, cap: float, room: float) -> str:
    while text and metrics.width(text + "...", cap) > room:
        text = text[:-1]
    return text + "..."


def _title_block(canvas: Canvas, x: float, y: float, title: Title, size: Paper, number: int, count: int) -> None:
    canvas.group(class_="title-block")
    revision = title.revision or "?"
    rows = (
        (14.0, (("TITLE", TITLE_WIDTH, title.title),)),
        (
            9.0,
            (
                ("KIND OF DRAWING", TITLE_WIDTH - 38, title.kind),
                ("NO.", 16.0, title.place or "-"),
                ("SHEET", 22.0, f"{number} of {count}"),
            ),
        ),
        (9.0, (("DRAWING NO.", TITLE_WIDTH - 28, title.number), ("SIZE", 14.0, size.name), ("REV", 14.0, revision))),
        (8.5, (("FILE", 28.0, title.file), ("PACK ID", 41.0, title.pack or NO_PACK), ("MADE WITH", 35.0, title.tool))),
        (8.5, tuple((name, TITLE_WIDTH / 4, "") for name in ("DRAWN", "CHECKED", "APPROVED", "DATE"))),
    )
    at = y
    for high, cells in rows:
        across = x
        for name, wide, text in cells:
            _cell(canvas, across, at, wide, high, name, text, 3.5 if name == "TITLE" else TEXT)
            across += wide
        at += high
    canvas.line(
        [(x, y), (x + TITLE_WIDTH, y), (x + TITLE_WIDTH, y + TITLE_HEIGHT), (x, y + TITLE_HEIGHT)], "frame", True
    )
    canvas.end()


def _revision_block(canvas: Canvas, x: float, y: float, title: Title) -> None:
    canvas.group(class_="revision-block")
    across = x
    for name, wide in REVISION_CELLS:
        canvas.line([(across, y), (across + wide, y), (across + wide, y + 5), (across, y + 5)], "thin", True)
        canvas.text(across + 1.2, y + 3.8, name)
        across += wide
    top = y + 5.0
    for row in _revision_rows(title):
        across, high = x, _revision_row_height(row)
        for lines, (_, wide) in zip(row, REVISION_CELLS, strict=True):
            corners = [(across, top), (across + wide, top), (across + wide, top + high), (across, top + high)]
            canvas.line(corners, "thin", True)
            canvas.lines(across + 1.2, top + TEXT + 1.4, lines)
            across += wide
        top += high
    canvas.end()


def _legend(canvas: Canvas, x: float, y: float, columns: int, legend: Sequence[str]) -> None:
    canvas.group(class_="legend")
    canvas.text(x + 2.0, y + 4.0, "LEGEND")
    rows = -(-len(legend) // columns)
    for number, name in enumerate(legend):
        draw_symbol, words = LEGEND[name]
        at = x + 2.0 + (number // rows) * LEGEND_WIDTH
        middle = y + 7.0 + LEGEND_ROW * (number % rows) + LEGEND_ROW / 2
        draw_symbol(canvas, at, middle)
        canvas.text(at + 16.5, middle + TEXT / 2, words)
    canvas.end()


def _cautions(canvas: Canvas, x: float, y: float) -> None:
    canvas.group(class_="cautions")
    canvas.text(x + 2.0, y + 4.0, "CAUTIONS")
    canvas.lines(x + 2.0, y + 4.0 + leading(TEXT), _caution_lines())
    canvas.end()


def _notes(canvas: Canvas, x: float, y: float, room: float, notes: Sequence[str]) -> None:
    canvas.group(class_="notes")
    canvas.text(x + 2.0, y + 4.0, "NOTES")
    at = y + 4.0 + leading(TEXT)
    for line in note_lines(notes, room):
        number, _, text = line.partition("\t")
        canvas.text(x + 2.0, at, number)
        canvas.text(x + 7.0, at, text)
        at += leading(TEXT)
    canvas.end()
