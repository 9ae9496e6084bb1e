"""Wire labels: every mark of every wire, where it sits, the sleeve it fits, and a sheet of labels to print.

The CSV form is for a label printer. The code on a label opens the wire's row in the pack's page; ``--mode`` gives the
address in front of it, like ``https://shop.example/kit/``, when the page stands on a server.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from harnesscheck.connector import NONE, Origin
from harnesscheck.harness import Harness, new_wires
from harnesscheck.job import Job
from harnesscheck.paper import metrics
from harnesscheck.paper.blocks import Block, Cell, Column, Content, Figure, Heading, NewPage, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.paper.svg import TEXT, Canvas, identifier, leading
from harnesscheck.sheets import Wish
from harnesscheck.sheets._code import code
from harnesscheck.sheets._counts import Mark, mark_text, marks
from harnesscheck.sheets._say import UNKNOWN, UNSAID, mm, rule, wire_link
from harnesscheck.units import Range

PART, ORDER = 5, 50
PAGE = "kit.html"
"""The page of the pack that the codes lead to."""
WIDE, HIGH, ACROSS, DOWN = 47.0, 19.0, 4, 11
"""A label, mm, and how many stand on a page: they fit A4 and Letter."""
CODE = 17.0
LINES = 4
COLUMNS = (
    Column("kit"),
    Column("wire"),
    Column("text"),
    Column("place"),
    Column("from end A mm", right=True),
    Column("sleeve"),
    Column("code"),
    Column("done", blank=True),
)
BANDS = (Column("kit"), Column("connector"), Column("text"), Column("done", blank=True))
RULES = ("mark-interval", "mark-short-wire", "mark-from-end", "mark-mil-w-5088")


@dataclass(frozen=True, slots=True)
class Label:
    """One label as it is printed."""

    text: str
    lines: tuple[str, ...]
    code: str


def content(job: Job, wish: Wish) -> Content:
    """The labels of a job, for as many kits as are wished."""
    harness = job.subject
    base = wish.mode if "/" in wish.mode else ""
    found = list(marks(harness))
    blocks: list[Block] = [Words(text) for text in _unmarked(harness)]
    for name in RULES:
        text, source = rule(harness, name)
        blocks.append(Words(f"{text} {source or ''}".rstrip()))
    kits = [f"K{number}" for number in range(1, wish.kits + 1)]
    rows = [_row(harness, kit, mark, base) for kit in kits for mark in found]
    blocks.append(Table("labels", COLUMNS, tuple(rows), "Marks on wires and cables"))
    bands = [(kit, ref, text, "") for kit in kits for ref, text in band_texts(harness)]
    blocks.append(Table("bands", BANDS, tuple(bands), "Bands on connectors and on the kit"))
    labels = [label for kit in kits for label in _labels(harness, kit, found, base)]
    if labels:
        blocks += [NewPage(), Heading("Labels to print"), *_figures(labels)]
    return Content("wire-labels", "Wire labels", tuple(blocks), False, tuple(decisions(harness)))


def address(wire: str, base: str = "") -> str:
    """Where the code of a wire leads: ``kit.html#wire-P501A20``."""
    return f"{base}{PAGE}#{identifier('wire', wire)}"


def _unmarked(harness: Harness) -> Iterator[str]:
    """What gets no mark, and why: nothing is left out in silence."""
    marked = {mark.wire for mark in marks(harness)}
    short = [w.id for w in new_wires(harness) if w.id not in marked and mark_text(w) is not None]
    stated = [w.id for w in new_wires(harness) if mark_text(w) is None]
    if short:
        yield f"No mark, shorter than 3 in: {', '.join(short)}."
    if stated:
        yield f"No mark, the file says none or unknown: {', '.join(stated)}."


def _row(harness: Harness, kit: str, mark: Mark, base: str) -> tuple[str | Cell, ...]:
    at = UNSAID if mark.at is None else mm(mark.at)
    link = wire_link(mark.wire)
    return kit, link, mark.text, mark.where, at, sleeve(harness, mark.wire), address(mark.wire, base), ""


def sleeve(harness: Harness, name: str) -> str:
    """The smallest heat-shrink sleeve that goes over a wire or cable and grips it, or why none is named."""
    size = _diameter(harness, name)
    if size is None:
        return f"{UNKNOWN}: diameter of {name} not in the drawer"
    best: tuple[float, str, str] | None = None
    for number in harness.drawer.numbers("sleeve"):
        record = harness.drawer.get("sleeve", number)
        covers = record.lengths("covers") if record and record.text("type") == "heat shrink" else None
        source = record.source("supplied bore") if record else None
        # As supplied it goes over the largest diameter; shrunk it is tight on the smallest (NASA-STD-8739.4 9.8.1).
        if covers and source and covers.low < size.low and size.high < covers.high:
            best = min(best or (covers.high, number, str(source.status)), (covers.high, number, str(source.status)))
    return f"{best[1]} ({best[2]})" if best else f"{UNKNOWN}: no sleeve in the drawer for {mm(size.high)} mm"


def _diameter(harness: Harness, name: str) -> Range | None:
    wire = harness.wires.get(name)
    if name in harness.cables:
        record = harness.part("cable", harness.cables[name].type)
        spec, gauge, cores = (
            (record.text("spec"), record.text("gauge"), record.whole("cores")) if record else (None, None, None)
        )
        if spec is None or gauge is None or cores is None:
            return None
        size = harness.part("cable size", f"{spec}-{gauge.removesuffix(' AWG')} x {cores}")
        return size.lengths("od") if size else None
    if wire is None:
        return None
    if wire.type is not None:
        found = harness.part("wire", wire.type)
        return found.lengths("od") if found else None
    record = harness.part("cable", harness.cables[wire.cable].type) if wire.cable and not wire.is_shield else None
    spec, gauge = (record.text("spec"), record.text("gauge")) if record else (None, None)
    core = harness.part("wire size", f"{spec}-{gauge.removesuffix(' AWG')}") if spec and gauge else None
    return core.lengths("od") if core else None


def band_texts(harness: Harness) -> Iterator[tuple[str, str]]:
    """What the bands on the new connectors and on the kit say: half, mate, and which contacts it has."""
    for connector in harness.connectors.values():
        if connector.origin is not Origin.JUMPER:
            continue
        mate = harness.mate_of(connector.ref)
        typed = connector.marking if connector.marking not in (None, NONE) else None
        yield connector.ref, typed or (f"{connector.ref} to {mate}" if mate else connector.ref)
    if any(True for _ in new_wires(harness)):
        yield "kit", f"{harness.title}, revision {harness.revision or UNSAID}"


def _labels(harness: Harness, kit: str, found: list[Mark], base: str) -> Iterator[Label]:
    for mark in found:
        wire = harness.wires.get(mark.wire)
        ends = f"{wire.a} / {wire.b}" if wire is not None else "cable"
        yield Label(mark.text, (ends, f"{kit}  {mark.where.partition(';')[0]}"), address(mark.wire, base))
    for ref, text in band_texts(harness):
        yield Label(text, ("kit" if ref == "kit" else f"connector {ref}", kit), "")


def _figures(labels: list[Label]) -> Iterator[Figure]:
    each = ACROSS * DOWN
    for number, start in enumerate(range(0, len(labels), each), 1):
        page = labels[start : start + each]
        rows = -(-len(page) // ACROSS)
        words = tuple(f"{label.text}: {', '.join(label.lines)}" for label in page)
        caption = f"Labels {start + 1} to {start + len(page)} of {len(labels)}; {WIDE:g} x {HIGH:g} mm"
        yield Figure(f"labels-{number}", caption, ACROSS * WIDE, rows * HIGH, _drawn(page), words)


def _drawn(page: list[Label]) -> Callable[[Canvas], None]:
    def draw(canvas: Canvas) -> None:
        for number, label in enumerate(page):
            x, y = (number % ACROSS) * WIDE, (number // ACROSS) * HIGH
            box = [(x, y), (x + WIDE, y), (x + WIDE, y + HIGH), (x, y + HIGH)]
            canvas.line(box, "thin", closed=True)
            room = WIDE - 2.0
            if label.code:
                code(canvas, label.code, x + WIDE - CODE - 1.0, y + 1.0, CODE)
                room -= CODE
            lines = [
                *metrics.wrap(label.text, TEXT, room),
                *(part for line in label.lines for part in metrics.wrap(line, TEXT, room)),
            ]
            strong = len(metrics.wrap(label.text, TEXT, room))
            if len(lines) > LINES:
                lines = [*lines[: LINES - 1], "... (see the list)"]
            for place, text in enumerate(lines):
                canvas.text(x + 1.0, y + 4.0 + place * leading(TEXT), text, TEXT, strong=place < strong)

    return draw
