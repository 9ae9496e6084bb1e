"""A table on paper: column widths from the lettering, cells wrapped, heads repeated, rows never parted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from harnesscheck.paper import metrics
from harnesscheck.paper.blocks import Cell, Column, Table, plain
from harnesscheck.paper.strips import Item, lines, name
from harnesscheck.paper.svg import TEXT, Canvas, leading

PAD = 1.2
"""Between a rule and the lettering beside it, mm."""
WRITE = 8.0
"""Height of a row that is written in by hand, mm: common practice for shop papers."""
WRITE_WIDE = 12.0
"""Least width of a column that is written in by hand, mm."""
LONGEST = 50.0
"""A word longer than this is broken, mm."""

Row = Sequence[str | Cell]


@dataclass(frozen=True, slots=True)
class _Widths:
    least: float
    """Every word of the column whole."""
    full: float
    """Every cell on one line."""


def least(table: Table) -> float:
    """The width that the table needs with every word whole, mm."""
    return sum(width.least for width in _widths(table, range(len(table.columns))))


def items(table: Table, wide: float, room: float) -> Iterator[Item]:
    """The table as strips across a page that is ``wide`` mm wide and has ``room`` mm of height."""
    if table.title:
        for item in lines(metrics.wrap(table.title, TEXT, wide), strong=True):
            yield Item(item.height, item.draw, True, gap=item.gap + 2.0)
    if not table.rows:
        yield from lines(["none"])
        return
    parts = _parts(table, wide)
    for number, part in enumerate(parts):
        if number:
            yield from _said(f"{table.title or 'The table above'}: further columns")
        yield from _part(table, part, _shared(table, part, wide), room)


def _said(text: str) -> Iterator[Item]:
    for item in lines([text]):
        yield Item(item.height, item.draw, True, gap=4.0)


def _parts(table: Table, wide: float) -> list[list[int]]:
    """The columns that stand side by side: all, or as many as fit, with the key repeated.

    The key is the columns up to the first that other documents point at; without one, the first column.
    """
    widths = _widths(table, range(len(table.columns)))
    owner = [i for row in table.rows for i, cell in enumerate(row) if isinstance(cell, Cell) and cell.anchor]
    key = list(range(min(owner, default=0) + 1))
    parts: list[list[int]] = [list(key)]
    start = used = sum(widths[i].least for i in key)
    for number in range(len(key), len(widths)):
        if used + widths[number].least > wide and len(parts[-1]) > len(key):
            parts.append(list(key))
            used = start
        parts[-1].append(number)
        used += widths[number].least
    return parts


def _widths(table: Table, chosen: Sequence[int]) -> list[_Widths]:
    return [_width(table.columns[i], [plain(row[i]) for row in table.rows]) for i in chosen]


def _width(column: Column, cells: Sequence[str]) -> _Widths:
    longest = max((metrics.width(text, TEXT) for text in set(cells)), default=0.0)
    words = {word for text in {column.title, *cells} for word in text.split()}
    word = max((metrics.width(text, TEXT) for text in words), default=0.0)
    blank = WRITE_WIDE if column.blank else 0.0
    narrow = max(min(word, LONGEST) + 2 * PAD + 0.2, blank, column.least)
    return _Widths(narrow, max(narrow, min(longest, 3 * LONGEST) + 2 * PAD + 0.2))


def _shared(table: Table, part: Sequence[int], wide: float) -> list[float]:
    """The widths of the columns of one part, mm: what each needs, then what makes the fewest lines."""
    widths = _widths(table, part)
    need, full = sum(w.least for w in widths), sum(w.full for w in widths)
    if need >= wide:
        return [w.least * wide / need for w in widths]
    if full <= wide:
        widths = _titled(widths, [table.columns[i].title for i in part], wide - full)
        full = sum(w.full for w in widths)
        spare = wide - full
        blank = [i for i, number in enumerate(part) if table.columns[number].blank]
        if blank:
            return [w.full + (spare / len(blank) if i in blank else 0.0) for i, w in enumerate(widths)]
        return [w.full * (wide / full if full > 0.6 * wide else 1.0) for w in widths]
    # Columns that want little get all they want, so that a short entry stays on one line; long texts share the rest.
    got = [w.least for w in widths]
    left, waiting = wide - need, len(widths)
    for i in sorted(range(len(widths)), key=lambda i: widths[i].full - widths[i].least):
        more = min(widths[i].full - widths[i].least, left / waiting)
        got[i] += more
        left, waiting = left - more, waiting - 1
    return got


def _titled(widths: Sequence[_Widths], titles: Sequence[str], spare: float) -> list[_Widths]:
    """Where there is room to spare, titles stand on one line as well, the shortest first."""
    wanted = [metrics.width(title, TEXT) * 1.05 + 2 * PAD for title in titles]
    got = list(widths)
    for i in sorted(range(len(widths)), key=lambda i: wanted[i] - widths[i].full):
        more = max(0.0, wanted[i] - widths[i].full)
        if more <= spare:
            got[i] = _Widths(widths[i].least, widths[i].full + more)
            spare -= more
    return got


def _part(table: Table, part: Sequence[int], widths: Sequence[float], room: float) -> Iterator[Item]:
    columns = [table.columns[i] for i in part]
    head = _head(columns, widths)
    yield Item(head.height, head.draw, True, gap=1.5)
    last = len(table.rows) - table.totals
    for number, row in enumerate(table.rows):
        cells = [row[i] for i in part]
        floor = WRITE if number < last and any(column.blank for column in columns) else leading(TEXT)
        # Totals stay with the last row of what they add up.
        keep = bool(table.totals) and last - 1 <= number < len(table.rows) - 1
        most, high = _high(cells, widths, room - head.height)
        for start in range(0, high, most):
            lines_here = min(most, high - start)
            yield _row(columns, cells, (start, most), lines_here, widths, head, floor, number == last, keep)


def _high(cells: Row, widths: Sequence[float], room: float) -> tuple[int, int]:
    """Lines that a page has room for, and lines that the row takes; only one that takes more than that is parted."""
    most = max(1, int((room - 2 * PAD) / leading(TEXT)))
    high = max((len(_wrapped(cell, wide)) for cell, wide in zip(cells, widths, strict=True)), default=1)
    return most, max(high, 1)


def _wrapped(cell: str | Cell, wide: float) -> list[str]:
    return metrics.wrap(plain(cell), TEXT, wide - 2 * PAD)


def _head(columns: Sequence[Column], widths: Sequence[float]) -> Item:
    titles = [metrics.wrap(c.title, TEXT, wide - 2 * PAD) for c, wide in zip(columns, widths, strict=True)]
    high = leading(TEXT) * max(len(texts) for texts in titles) + PAD + 0.4

    def draw(canvas: Canvas, x: float, y: float) -> None:
        at = x
        for column, texts, wide in zip(columns, titles, widths, strict=True):
            below = high - leading(TEXT) * len(texts)
            _text(canvas, texts, at, y + below - PAD / 2, wide, column.right, True)
            at += wide
        _rules(canvas, x, y, widths, high)
        canvas.line([(x, y + high), (x + sum(widths), y + high)], "frame")

    return Item(high, draw)


def _row(
    columns: Sequence[Column],
    cells: Row,
    shown: tuple[int, int],
    count: int,
    widths: Sequence[float],
    head: Item,
    floor: float,
    total: bool,
    keep: bool,
) -> Item:
    """The lines of a row from the first of ``shown`` on, as many as its second says; ``count`` of them are there.

    The cells are wrapped again when they are drawn: a sheet of many rows keeps their cells and not every line.
    """
    high = max(floor, leading(TEXT) * count) + PAD
    start, most = shown

    def draw(canvas: Canvas, x: float, y: float) -> None:
        for cell in cells:
            if not start and isinstance(cell, Cell) and cell.anchor:
                canvas.anchor(name(cell.anchor), x, y)
        at = x
        for column, cell, wide in zip(columns, cells, widths, strict=True):
            texts = _wrapped(cell, wide)[start : start + most]
            strong = isinstance(cell, Cell) and cell.strong
            _text(canvas, texts, at, y, wide, column.right, strong)
            if isinstance(cell, Cell) and cell.link and texts:
                canvas.link(name(cell.link), at, y, wide, high)
            at += wide
        _rules(canvas, x, y, widths, high)
        canvas.line([(x, y + high), (x + sum(widths), y + high)], "thin")
        if total:
            canvas.line([(x, y), (x + sum(widths), y)], "frame")

    return Item(high, draw, keep, head)


def _text(
    canvas: Canvas, texts: Sequence[str], x: float, y: float, wide: float, right: bool, strong: bool = False
) -> None:
    at, anchor = (x + wide - PAD, "end") if right else (x + PAD, "start")
    for number, text in enumerate(texts):
        canvas.text(at, y + PAD / 2 + TEXT + 0.6 + number * leading(TEXT), text, anchor=anchor, strong=strong)


def _rules(canvas: Canvas, x: float, y: float, widths: Sequence[float], high: float) -> None:
    at = x
    canvas.line([(x, y), (x + sum(widths), y)], "thin")
    for wide in (0.0, *widths):
        at += wide
        canvas.line([(at, y), (at, y + high)], "thin")
