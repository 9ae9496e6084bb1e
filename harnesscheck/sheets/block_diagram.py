"""Description and system block diagram

What the new unit is, what it takes from the aircraft and by which way, in words and in one drawing.
"""

from __future__ import annotations

from collections.abc import Sequence

from harnesscheck.connector import Origin
from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.paper import metrics
from harnesscheck.paper.blocks import Block, Cell, Column, Content, Figure, Heading, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.paper.svg import TEXT, Canvas, identifier
from harnesscheck.sheets import Wish
from harnesscheck.sheets import _symbols as symbols
from harnesscheck.sheets._labels import Labels
from harnesscheck.sheets._ways import Way, amperes, sentences, signal, ways

PART = 2
"""Where the sheet stands in the book of a pack."""
WIDE = 270.0
"""Width of the drawing, mm: A4 turned."""
BUS, LINE, PAIR, KIT, PLUG, UNIT = 42.0, 106.0, 154.0, 158.0, 203.0, 218.0
"""Where the bus bars, the circuit names, the opened pair, the kit, its plug and the unit stand, mm."""
MOST_PITCH, LEAST_PITCH, TOP, AFTER = 8.0, 5.6, 15.0, 11.0
ROOM = 108.0
"""Height in which the drawing stands on one page with the words over it, mm."""
COLUMNS = (
    Column("Pin"),
    Column("Function"),
    Column("Circuit of the aircraft"),
    Column("Comes from"),
    Column("Splice"),
    Column("What it is"),
)


def not_applicable(job: Job, wish: Wish) -> str:
    """Why a job has no block diagram; empty when it has one."""
    new = any(half.origin is Origin.JUMPER for half in job.subject.connectors.values())
    return "" if new else "no kit is planned in this file"


def content(job: Job, wish: Wish) -> Content:
    """A drawing, a description and a table of pins for every new unit."""
    harness = job.subject
    labels = Labels(harness)
    why = not_applicable(job, wish)
    blocks: list[Block] = [Words(f"Not applicable: {why}.")] if why else list(_blocks(harness, labels))
    blocks += [Words(f"[{number}] {note}") for number, note in enumerate(labels.notes, 1)]
    title = "Description and system block diagram"
    return Content("block-diagram", title, tuple(blocks), landscape=True, decisions=tuple(decisions(harness)))


def _blocks(harness: Harness, labels: Labels) -> Sequence[Block]:
    listed = {ref: ways(harness, labels, ref) for ref in harness.devices}
    through = _through(harness)
    opened = "/".join(harness.opened)
    tapped = {way.circuit for found in listed.values() for way in found if way.wired and way.circuit}
    said = f"The kit {harness.title} opens {opened}, leads {len(through)} cavities through"
    said += f" and taps {len(tapped)} circuits: {', '.join(sorted(tapped))}." if tapped else " and taps none."
    blocks: list[Block] = [Words(said)]
    blocks.append(_figure(harness, labels, listed, len(through)))
    for ref, found in listed.items():
        half = found[0].pin.point.ref if found else ref
        blocks.append(Heading(labels.unit(half)))
        blocks += [Words(text) for text in sentences(harness, labels, ref, found)]
        blocks.append(_table(harness, labels, ref, found))
    blocks.append(
        Words("Existing wiring is as the airframe file states it; what it does not state is unknown here too.")
    )
    return blocks


def _through(harness: Harness) -> list[str]:
    """Cavities of the opened pair that the kit joins again."""
    if not harness.opened:
        return []
    one, two = harness.opened[:2]
    wanted = harness.connectors[one].cavities
    nets = dict(zip(harness.nets.points, harness.nets.label, strict=True))
    others = {point.cavity: number for point, number in nets.items() if point.ref == two}
    mine = {point.cavity: number for point, number in nets.items() if point.ref == one}
    return [name for name in wanted if name in mine and mine[name] == others.get(name)]


def _from(harness: Harness, labels: Labels, way: Way) -> str:
    """Feed or return in words."""
    if way.breaker in harness.breakers:
        text = labels.breaker(harness.breakers[way.breaker], "load")
        return f"{text}, {labels.bus(way.bus)}" if way.bus else f"{text}, bus not stated"
    if way.ground:
        return f"{way.ground}  {harness.grounds[way.ground].name}".rstrip()
    if way.pin.signal == "power":
        return "protector not stated"
    return "ground point not stated" if way.pin.signal == "ground" else "existing units"


def _table(harness: Harness, labels: Labels, ref: str, found: Sequence[Way]) -> Table:
    rows = []
    for way in found:
        pin = way.pin
        what = signal(way) if pin.signal not in ("power", "ground") else amperes(way) if pin.signal == "power" else ""
        rows.append(
            (
                Cell(str(pin.point), link=identifier("cavity", str(pin.point))),
                labels.function(pin),
                way.circuit if way.wired and way.circuit else "no wire" if not way.wired else "not stated",
                _from(harness, labels, way) if way.wired else "",
                Cell(way.splice, link=identifier("splice", way.splice)) if way.splice else "",
                what if way.wired else "",
            )
        )
    return Table(f"pins-{ref}", COLUMNS, tuple(rows))


def _figure(harness: Harness, labels: Labels, listed: dict[str, list[Way]], through: int) -> Figure:
    """Aircraft at the left, the kit in the middle, the new units at the right."""
    drawn = {ref: [way for way in found if way.wired] for ref, found in listed.items()}
    fixed = TOP + 14.0 + (AFTER + 4.0) * len(drawn)
    count = sum(len(found) for found in drawn.values())
    pitch = min(MOST_PITCH, max(LEAST_PITCH, (ROOM - fixed) / max(count, 1)))
    height = fixed + pitch * count
    words = [f"{way.pin.point} {way.pin.function}: {way.circuit or 'no circuit'}, {_from(harness, labels, way)}"
             for found in drawn.values() for way in found]  # fmt: skip

    def draw(canvas: Canvas) -> None:
        _Block(canvas, harness, labels, pitch).draw(drawn, through, height)

    caption = (
        "Heavy: new. Dash-dot: existing. One line stands for one circuit; the wires themselves are on the wiring "
        "diagram. Arrow heads show which way current or signals go."
    )
    return Figure("block-diagram", caption, WIDE, height, draw, tuple(words))


class _Block:
    """Draws the block diagram on one canvas."""

    def __init__(self, canvas: Canvas, harness: Harness, labels: Labels, pitch: float) -> None:
        self.canvas, self.harness, self.labels, self.pitch = canvas, harness, labels, pitch

    def box(self, left: float, top: float, right: float, bottom: float, style: str, *lines: str) -> None:
        """A box with its words at the top."""
        self.canvas.line([(left, top), (right, top), (right, bottom), (left, bottom)], style, closed=True)
        for number, line in enumerate(lines):
            text = self.labels.fit(line, right - left - 4.0)
            self.canvas.text(left + 2.0, top + TEXT + 1.6 + 4.0 * number, text, strong=not number)

    def draw(self, drawn: dict[str, list[Way]], through: int, height: float) -> None:
        """Everything."""
        canvas, harness = self.canvas, self.harness
        one, two = harness.opened or ("", "")
        self.box(
            0.5, 0.5, PAIR - 14.0, height - 0.5, "existing", "AIRCRAFT", harness.before.title if harness.before else ""
        )
        self.box(KIT, 0.5, PLUG - 9.0, height - 0.5, "new", "KIT (new)")
        self.canvas.lines(KIT + 2.0, TEXT + 6.0, metrics.wrap(harness.title, TEXT, PLUG - KIT - 13.0)[:2])
        y = TOP
        top = y
        for ref, listed in drawn.items():
            half = listed[0].pin.point.ref if listed else ""
            rows = [y + AFTER + self.pitch * number for number in range(len(listed))]
            bottom = (rows[-1] if rows else y + AFTER) + 4.0
            self.box(UNIT, y, WIDE - 0.5, bottom, "new", self.labels.unit(half) or ref)
            if half:
                self.plug(half, y, bottom)
            for row, way in zip(rows, listed, strict=True):
                self.row(row, way)
            y = bottom + 4.0
        canvas.line([(LINE, y + 2.0), (KIT, y + 2.0)], "existing")
        canvas.line([(KIT, y + 2.0), (PLUG - 9.0, y + 2.0)], "new")
        canvas.text(LINE - 2.0, y + 2.9, f"{through} cavities led through", anchor="end")
        canvas.text(KIT + 2.0, y + 0.8, f"{one} to {two}" if two else "")
        self.pair(one, two, top, y + 5.0)

    def pair(self, one: str, two: str, top: float, bottom: float) -> None:
        """The opened pair, where the kit goes in."""
        x = PAIR - 8.0
        self.canvas.line([(x, top), (x, bottom)], "tie")
        self.canvas.line([(x + 4.0, top), (x + 4.0, bottom)], "tie")
        self.canvas.text(x + 2.0, top - 2.0, f"{one}/{two}", anchor="middle", strong=True)

    def plug(self, half: str, top: float, bottom: float) -> None:
        """The plug of the kit and the receptacle of the unit."""
        mate = self.harness.mate_of(half) or ""
        x = PLUG + 4.0
        for at in (x - 2.0, x + 2.0):
            self.canvas.line([(at, top), (at, bottom)], "tie")
        self.canvas.text(
            x, top - 1.6, self.labels.fit(f"{mate}/{half}", 2 * (x - PLUG + 9.0) - 2.0), anchor="middle", strong=True
        )

    def row(self, y: float, way: Way) -> None:
        """One circuit from what feeds it to the pin."""
        canvas, labels = self.canvas, self.labels
        start = self.source(y, way)
        canvas.line([(start, y), (KIT, y)], "existing")
        canvas.text(LINE, y - 1.2, labels.fit(way.circuit or "circuit not stated", PAIR - 10.0 - LINE))
        canvas.line([(KIT, y), (UNIT, y)], "new")
        if way.splice:
            symbols.splice(canvas, KIT + 12.0, y)
            canvas.text(KIT + 15.0, y - 1.4, labels.fit(way.splice, 18.0))
        self.arrows(y, way)
        canvas.text(UNIT + 5.0, y + 0.9, labels.fit(f"{way.pin.point.cavity}  {way.pin.function}", WIDE - UNIT - 8.0))

    def arrows(self, y: float, way: Way) -> None:
        """Heads at the unit: current and signals go in, out or both ways; none when nobody has said."""
        goes = way.pin.direction or {"power": "in", "lighting": "in", "ground": "out"}.get(way.pin.signal, "")
        if goes in ("in", "both"):
            tip = UNIT - 0.6
            self.canvas.line([(tip, y), (tip - 2.6, y - 1.1), (tip - 2.6, y + 1.1)], "symbol", True, "black")
        if goes in ("out", "both"):
            tip = UNIT - 6.0
            self.canvas.line([(tip, y), (tip + 2.6, y - 1.1), (tip + 2.6, y + 1.1)], "symbol", True, "black")

    def source(self, y: float, way: Way) -> float:
        """What feeds or takes the circuit in the aircraft; returns where its line begins."""
        canvas, labels, harness = self.canvas, self.labels, self.harness
        if way.breaker in harness.breakers:
            bus = labels.bus(way.bus) if way.bus else "bus not stated"
            text = labels.fit(bus, BUS - 4.0)
            canvas.text(BUS - 2.0, y + 0.9, text, anchor="end")
            if way.bus:
                canvas.line([(BUS, y - 2.6), (BUS, y + 2.6)], "bus")
            canvas.line([(BUS, y), (BUS + 4.0, y)], "existing")
            symbols.breaker(canvas, BUS + 4.0, y)
            room = LINE - BUS - 17.0
            canvas.text(BUS + 14.5, y - 1.2, labels.fit(labels.breaker(harness.breakers[way.breaker], ""), room))
            return BUS + 13.0
        if way.ground or way.pin.signal == "ground":
            said = f"{way.ground}  {harness.grounds[way.ground].name}".rstrip() if way.ground else "ground not stated"
            text = labels.fit(said, LINE - 14.0)
            start = metrics.width(text, TEXT) + 4.0
            canvas.text(2.0, y + 0.9, text)
            canvas.mirror = start + 5.0
            symbols.ground(canvas, start + 5.0, y)
            canvas.mirror = None
            return start + 5.0
        text = labels.fit(
            "supply, protector not stated" if way.pin.signal == "power" else signal(way, short=True), LINE - 8.0
        )
        canvas.text(2.0, y + 0.9, text)
        return metrics.width(text, TEXT) + 4.0
