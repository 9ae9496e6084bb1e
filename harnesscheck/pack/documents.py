"""The documents of a pack, one sheet after the other: each is made, written in all its forms and let go.

What holds many sheets, the book, the workbook and the page, is closed and begun anew when it is full, so that a pack of
any size is made in the memory of one volume.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Collection, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor

from harnesscheck.pack.book import Book, Made, Sheet, make
from harnesscheck.pack.kit_page import FILE as PAGE
from harnesscheck.pack.kit_page import Pages
from harnesscheck.paper import as_csv, as_pdf, as_png, as_svg, as_xlsx
from harnesscheck.paper.as_pdf import Leaf
from harnesscheck.paper.blocks import Content
from harnesscheck.paper.portions import portions, weight
from harnesscheck.paper.svg import Canvas

BOOK, FIRST_VOLUME, WORKBOOK = "book.pdf", "book-001.pdf", "workbook.xlsx"
SHEETS, LISTS = "sheets", "lists"
VOLUME = 200
"""Pages in one PDF or SVG file: four megabytes of memory each while it is typeset, and what a binder holds."""
ORDINARY = 100_000
"""Bytes of SVG of an ordinary page; a page with more on it needs more memory, and counts for several."""
PICTURED = 2_000
"""Pages of a sheet beyond which no picture is made of each: a folder of more is looked through by nobody."""
LISTED = 50_000
"""Rows of a workbook beyond which another one is begun: a spreadsheet still opens it at once (common practice)."""
SCREEN, DRAWING = 96.0, 150.0
"""Resolution of the pictures of lists and of drawings, dots per inch: to look at and to send, the smallest lettering
about nine dots high; the PDF is for printing (common practice)."""
BATCH = 40
"""Pages of which pictures are made at once."""

Files = list[tuple[str, bytes]]


def documents(book: Book) -> Iterator[tuple[str, bytes]]:
    """Path in the folder and bytes of every document but the manifest and the worksheet."""
    page, workbooks, press = Pages(book), _Workbooks(book), _Press(book)
    try:
        for sheet in (*book.sheets[1:], book.cover):
            if sheet is book.cover:
                press.close()
            made = make(book, sheet)
            yield from _documents(book, sheet, made, page, press)
            if made.content is not None:
                page.add(sheet, made.content)
                yield from workbooks.add(sheet, made.content)
            del made
        yield from press.rest()
        yield from workbooks.rest()
        yield from page.files()
    finally:
        press.stop()


def _documents(book: Book, sheet: Sheet, made: Made, page: Pages, press: _Press) -> Iterator[tuple[str, bytes]]:
    """The files of one sheet; what is typeset follows when it is done."""
    name = file_name(sheet)
    if made.content is not None and made.content.tables:
        yield f"{LISTS}/{name}.csv", as_csv.write(made.content, book.stamp)
    if sheet.pages > PICTURED:
        why = f"it has {sheet.pages} pages, and each has a picture up to {PICTURED}; all are in its PDF and SVG files"
        book.without.append((sheet.number, f"{sheet.title}: pictures of its pages", why))
    start = 1
    for number, (part, leaves) in enumerate(_parts(made.pages), 1):
        several = len(part) < sheet.pages
        if number == 1:  # a leaf has the anchors of its page
            part[0].anchors.setdefault(f"sheet-{sheet.name}", (0.0, 0.0))
        _lead_home(part)
        stem = f"{SHEETS}/{name}" + (f"-part-{number:03d}" if several else "")
        yield f"{stem}.svg", as_svg.drawn(part, sheet.title, book.stamp)
        if made.content is None:
            page.draw(sheet, start, part)
        press.put(sheet, stem, start, leaves, SCREEN if made.content is not None else DRAWING)
        yield from press.ready()
        start += len(part)


def _parts(pages: Collection[Canvas]) -> Iterator[tuple[list[Canvas], list[Leaf]]]:
    """As many pages at a time as make a volume."""
    part: list[Canvas] = []
    leaves: list[Leaf] = []
    room = float(VOLUME)
    for page in pages:
        leaf = as_pdf.leaf(page)
        if part and _size(leaf) > room:
            yield part, leaves
            part, leaves, room = [], [], float(VOLUME)
        part.append(page)
        leaves.append(leaf)
        room -= _size(leaf)
    if part:
        yield part, leaves


def _size(leaf: Leaf) -> float:
    """Ordinary pages that a page counts for, in halves; never less than one."""
    return max(1.0, round(2 * len(leaf.svg) / ORDINARY) / 2)


def file_name(sheet: Sheet) -> str:
    """``05.2-cut-list``: sorts in the order of the book."""
    part, dot, rest = sheet.number.partition(".")
    return f"{int(part):02d}{dot}{rest.zfill(2) if dot else ''}-{sheet.name}"


def _lead_home(pages: Sequence[Canvas]) -> None:
    """A drawing leads to the rows of the page; from its own folder that is one step up."""
    for page in pages:
        for element in page.root.iter("a"):
            if element.get("href", "").startswith(f"{PAGE}#"):
                element.set("href", f"../{element.get('href')}")


class _Press:
    """Typesets the single sheets, the pictures and the volumes of the book, beside what goes on.

    One worker: it runs outside the interpreter's lock, and two would need the memory of two volumes.
    """

    def __init__(self, book: Book) -> None:
        self._book = book
        self._pool = ThreadPoolExecutor(max_workers=1)
        self._waiting: deque[tuple[int, Future[Files]]] = deque()
        self._volume: list[tuple[Sheet, str, Sequence[Leaf]]] = []
        """What stands in the volume that is being filled."""

    def put(self, sheet: Sheet, stem: str, start: int, leaves: Sequence[Leaf], dpi: float) -> None:
        """Pages of a sheet from page ``start`` on: a file of their own, pictures, and a place in the book."""
        cover, stamp = sheet is self._book.cover, self._book.stamp
        heading = f"{sheet.number}  {sheet.title}" + (f", from page {start} on" if start > 1 else "")
        names = [f"{stem}.pdf"]
        own = len(leaves) < sheet.pages and not cover
        if own:  # volumes of its own: the same bytes as the files of the sheet
            self._end_of_volume()
            last = start + len(leaves) - 1
            names.append(self._next(f"{sheet.number} {sheet.title}, page {start} to {last} of {sheet.pages}"))
        elif not cover and sum(_size(leaf) for held in (*self._held(), leaves) for leaf in held) > VOLUME:
            self._end_of_volume()
        if not own:
            self._volume.insert(0 if start == 1 and cover else len(self._volume), (sheet, heading, leaves))
        title = f"{stamp.title}: {sheet.title}"
        self._send(len(leaves), lambda: _under(names, as_pdf.book([(heading, leaves)], title, stamp)))
        if sheet.pages <= PICTURED:
            for at in range(0, len(leaves), BATCH):
                self._pictures(sheet, start + at, leaves[at : at + BATCH], dpi)

    def _held(self) -> list[Sequence[Leaf]]:
        return [leaves for *_, leaves in self._volume]

    def _pictures(self, sheet: Sheet, start: int, leaves: Sequence[Leaf], dpi: float) -> None:
        stem = f"{SHEETS}/{file_name(sheet)}"

        def made() -> Files:
            shown = enumerate(as_pdf.pictures(leaves, dpi), start)
            tails = ((f"-page-{number}" if sheet.pages > 1 else "", data) for number, data in shown)
            return [(f"{stem}{tail}.png", as_png.marked(data, self._book.stamp.pack)) for tail, data in tails]

        self._send(len(leaves), made)

    def _next(self, holds: str) -> str:
        """The file of the next volume; the first is the cover's."""
        name = f"book-{len(self._book.volumes) + 2:03d}.pdf"
        self._book.volumes.append((name, holds))
        return name

    def _end_of_volume(self) -> None:
        if self._volume:
            self._bind(self._next("; ".join(f"{sheet.number} {sheet.title}" for sheet, *_ in self._volume)))

    def close(self) -> None:
        """All sheets but the cover are there: the book is one file, or the cover is a volume by itself."""
        if self._book.volumes:
            self._end_of_volume()
            self._book.volumes.insert(0, (FIRST_VOLUME, "1 Cover, list of effective pages"))

    def _bind(self, name: str) -> None:
        parts, self._volume = [(heading, leaves) for _, heading, leaves in self._volume], []
        title, count = f"{self._book.stamp.title}: kit pack", sum(len(leaves) for _, leaves in parts)
        self._send(count, lambda: [(name, as_pdf.book(parts, title, self._book.stamp))])

    def _send(self, pages: int, work: Callable[[], Files]) -> None:
        self._waiting.append((pages, self._pool.submit(work)))

    def ready(self) -> Iterator[tuple[str, bytes]]:
        """What is done; waits while more pages than those of a volume are still to be done."""
        while self._waiting and (self._waiting[0][1].done() or sum(n for n, _ in self._waiting) > 2 * VOLUME):
            yield from self._waiting.popleft()[1].result()

    def rest(self) -> Iterator[tuple[str, bytes]]:
        """The book or its first volume, and all that is still to be done."""
        self._bind(FIRST_VOLUME if self._book.volumes else BOOK)
        while self._waiting:
            yield from self._waiting.popleft()[1].result()

    def stop(self) -> None:
        """Leave off, whatever is still to be done."""
        self._pool.shutdown(cancel_futures=True)


def _under(names: Sequence[str], data: bytes) -> Files:
    return [(name, data) for name in names]


class _Workbooks:
    """The tables of all sheets in one workbook, or cover and words in the first and the tables as they come."""

    def __init__(self, book: Book) -> None:
        self._book = book
        self._held: list[Content] = []
        self._room = LISTED
        self._closed = 0

    def add(self, sheet: Sheet, content: Content) -> Iterator[tuple[str, bytes]]:
        """A sheet; gives the workbook that has no room for it."""
        if sheet is self._book.cover:
            if self._closed:
                yield from self._close()
            self._held.insert(0, content)
            return
        for portion in portions(content, LISTED):
            if weight(portion) > self._room:
                yield from self._close()
            self._held.append(portion)
            self._room -= weight(portion)

    def _close(self) -> Iterator[tuple[str, bytes]]:
        if self._held:
            self._closed += 1
            yield f"workbook-{self._closed + 1:03d}.xlsx", as_xlsx.book(self._held, self._book.stamp)
        self._held, self._room = [], LISTED

    def rest(self) -> Iterator[tuple[str, bytes]]:
        """The one workbook, or the first of several."""
        yield WORKBOOK, as_xlsx.book(self._held, self._book.stamp)
