"""Draws the wires of a laid-out sheet: lines with their text, splices, cables, and their ends at studs and breakers."""

from __future__ import annotations

from collections.abc import Sequence

from harnesscheck.connector import Origin
from harnesscheck.harness import Harness
from harnesscheck.paper import metrics
from harnesscheck.paper.svg import TEXT, XY, Canvas, identifier
from harnesscheck.place import Point
from harnesscheck.sheets import _symbols as symbols
from harnesscheck.sheets._compose import Sheet
from harnesscheck.sheets._far import BREAKER, GROUND, MOST_END, Far
from harnesscheck.sheets._labels import Labels
from harnesscheck.sheets._layout import PITCH, SLOT, TAP, Run, Spread, label_row
from harnesscheck.sheets._strands import Leg, Node, Row, Strand
from harnesscheck.wire import Wire

ABOVE = 1.2
"""Distance of a text's base line above its wire, mm."""
INLINE = 0.95
"""Distance of a text's base line below the middle of a line it continues, mm."""


PAGE = "kit.html"
"""The page of a kit pack that has a row for every wire; a drawing leads there."""
GREY = "#8c8c8c"
"""What stands back when a circuit is picked out."""


class WirePen:
    """Draws the wiring of one sheet and notes which symbols it used."""

    def __init__(
        self,
        canvas: Canvas,
        harness: Harness,
        sheet: Sheet,
        seen: dict[str, int],
        picked: frozenset[Point] | None = None,
    ) -> None:
        self.canvas = canvas
        self.harness = harness
        self.sheet = sheet
        self.labels: Labels = sheet.labels
        self.used: set[str] = set()
        self.top = 0.0
        self.seen = seen
        """How often each wire was drawn, over all sheets, so that ids stay unique."""
        self.picked = picked
        """Points whose copper is drawn heavy and the rest light; None: all is drawn alike."""
        self.written: dict[str, XY] = {}
        """Where on the paper each wire has its text."""

    def y(self, row: Row) -> float:
        """The height of a row on the paper."""
        return self.top + row.y

    # -- what is picked out --------------------------------------------------------------------------------------

    def shade(self, *points: Point) -> bool:
        """Draw on in black when all points are picked out, else in grey; says whether they are."""
        lit = self.picked is not None and all(point in self.picked for point in points)
        self.canvas.ink = "black" if lit or self.picked is None else GREY
        return lit

    def shade_wire(self, key: str) -> bool:
        """The same for the wire of a leg."""
        wire = self.harness.wires[key.partition("\t")[0]]
        return self.shade(wire.a, wire.b)

    # -- wires -------------------------------------------------------------------------------------------------

    def field(self, spread: Spread, strands: Sequence[Strand], x: float, near: str, far: Far) -> None:
        """The wiring of one field whose near side is at ``x``."""
        for strand in strands:
            for leg in strand.legs:
                self.leg(spread, strand, leg, x)
        for strand in strands:
            for node in strand.layer:
                self.splice(spread, node, x + spread.x[node], self.y(strand.row[node]))
        for strand in strands:
            for node, row in strand.row.items():
                if node.kind == "end":
                    self.end(spread, strand, node, row, x, far)
        for run in spread.runs:
            self.cable(spread, run, x)
        self.bars(far, x)

    def style(self, wire: Wire) -> str:
        """Line style of a wire: existing or new, heavier when it is picked out."""
        style = "new" if wire.origin is Origin.JUMPER else "existing"
        self.used.add(style)
        if self.shade_wire(wire.id):
            self.used.add("picked")
            return f"picked {style}"
        return style

    def leg(self, spread: Spread, strand: Strand, leg: Leg, x: float) -> None:
        """One wire with its text."""
        wire = leg.wire
        start, finish = strand.row[leg.a], strand.row[leg.b]
        ya, yb = self.y(start), self.y(finish)
        xa, xb = x + spread.place(strand, leg.a), x + spread.place(strand, leg.b)
        zone = spread.zones[spread.zone[leg.key]]
        if leg.key in spread.inside:
            # The wire ends at a stud inside the field, in the slot beside its text.
            slot = x + zone.slot
            xa, xb = (slot if leg.a.kind == "end" else xa), (slot if leg.b.kind == "end" else xb)
        points: list[XY]
        if start is finish:
            points = [(xa, ya), (xb, yb)]
        elif leg.a.kind == "splice":
            offset = self.offset(spread, strand, leg)
            taps = spread.taps[leg.a]
            edge = symbols.tap_edge(offset, taps)
            points = [(xa + offset, ya + (edge if yb > ya else -edge)), (xa + offset, yb), (xb, yb)]
            self.used.add("crossing")
        else:
            drop = x + spread.drops[leg.key]
            points = [(xa, ya), (drop, ya), (drop, yb), (xb, yb)]
            self.used.add("crossing")
        self.wire_group(wire)
        self.canvas.line(points, self.style(wire))
        at = self.y(label_row(strand, leg)) - ABOVE
        left, text = self.canvas.at(x + zone.label), spread.text[leg.key]
        self.canvas.text(x + zone.label, at, text)
        wide = metrics.width(text, TEXT)
        left -= wide if self.canvas.mirror is not None else 0.0
        self.canvas.link(identifier("wire", wire.id), left, at - TEXT, wide, TEXT)
        self.written.setdefault(wire.id, (left, at))
        self.canvas.end()

    def wire_group(self, wire: Wire) -> None:
        """Open the group of one wire, a link to its row; a second drawing of it gets an id of its own."""
        count = self.seen[wire.id] = self.seen.get(wire.id, 0) + 1
        self.canvas.group(
            f"{PAGE}#{identifier('wire', wire.id)}",
            id=identifier("drawn-wire", wire.id) + (f".{count}" if count > 1 else ""),
            class_=f"wire {'new' if wire.origin is Origin.JUMPER else 'existing'}",
            data_wire=wire.id,
            data_from=str(wire.a),
            data_to=str(wire.b),
        )

    @staticmethod
    def offset(spread: Spread, strand: Strand, leg: Leg) -> float:
        """How far beside the middle of its splice a line leaves: near side first, then the lowest row first."""
        taps = [other for other in strand.legs if other.a == leg.a and strand.row[other.b] is not strand.row[leg.a]]
        middle = spread.place(strand, leg.a)

        def side(other: Leg) -> tuple[bool, float]:
            to_far = spread.place(strand, other.b) > middle
            height = strand.row[other.b].y
            return (to_far, -height if to_far else height)

        taps.sort(key=side)
        return TAP * (taps.index(leg) - (len(taps) - 1) / 2)

    def splice(self, spread: Spread, node: Node, x: float, y: float) -> None:
        """A splice with its reference."""
        taps = spread.taps.get(node, 0)
        self.used.add("splice")
        self.shade(node.point)
        self.canvas.group(id=identifier("drawn-splice", node.ref), class_="splice", data_splice=node.ref)
        symbols.splice(self.canvas, x, y, taps)
        if node in spread.rising:
            self.canvas.text(x + TAP * (taps - 1) / 2 + 0.7, y - 2.3, node.ref)
        else:
            self.canvas.text(x, y - 2.3, node.ref, anchor="middle")
        self.canvas.end()

    def cable(self, spread: Spread, run: Run, x: float) -> None:
        """The shield or jacket round the cores of a cable, its twist mark, and the lead to the drain."""
        zone = spread.zones[run.zone]
        rows = sorted(run.rows, key=lambda row: row.y)
        groups: list[list[Row]] = []
        for row in rows:
            if groups and row.y - groups[-1][-1].y < PITCH + 0.1:
                groups[-1].append(row)
            else:
                groups.append([row])
        shield = self.labels.shielded(run.cable)
        cores = [wire for wire in self.harness.wires.values() if wire.cable == run.cable] if self.picked else []
        lit = next((wire for wire in cores if self.shade_wire(wire.id)), None)
        if self.picked is not None and lit is None:
            self.canvas.ink = GREY
        self.used.add("shield" if shield else "cable")
        left = x + min(zone.label, zone.drop, zone.twist or zone.label) - (0.8 if zone.drop > zone.label else 0.6)
        right = x + max(zone.label + zone.text, zone.drop, zone.twist) + (0.8 if zone.drop > zone.label else 1.4)
        left -= 1.4 if zone.twist and zone.twist < zone.label else 0.0
        self.canvas.group(class_="cable", data_cable=run.cable, data_shield="yes" if shield else "")
        for number, group in enumerate(groups):
            top, bottom = self.y(group[0]) - 4.7, self.y(group[-1]) + 1.2
            self.canvas.capsule(left, top, right, bottom, "shield" if shield else "cable")
            if not number:
                self.canvas.text(x + zone.label, top - 1.0, run.text)
            if self.labels.twisted(run.cable) and len(group) > 1:
                self.used.add("twist")
                symbols.twist(self.canvas, x + zone.twist, self.y(group[0]), self.y(group[-1]))
            for row in run.shields if shield and not number else ():
                y = self.y(row)
                self.canvas.line([(x + zone.drop, bottom if y > bottom else top), (x + zone.drop, y)], "symbol")
                symbols.dot(self.canvas, x + zone.drop, y)
        self.canvas.end()

    # -- ends --------------------------------------------------------------------------------------------------

    def end(self, spread: Spread, strand: Strand, node: Node, row: Row, x: float, far: Far) -> None:
        """The symbol and text of a stud, breaker, bus, or of a place shown elsewhere."""
        y = self.y(row)
        self.shade_wire(node.wire)
        if node.wire in spread.inside:
            zone = spread.zones[spread.zone[node.wire]]
            towards_far = row.far == node
            self.stud(node, x + zone.slot, y, 1 if towards_far else -1, SLOT - 2.0)
        elif row.near == node:
            self.stud(node, x, y, -1, MOST_END + 12.0)
        else:
            self.far_end(node, x, row, far)

    def stud(self, node: Node, x: float, y: float, towards: int, room: float) -> None:
        """An end with its symbol and its text on one line, pointing right (+1) or left (-1)."""
        canvas, mirror = self.canvas, self.canvas.mirror
        if towards < 0:
            if mirror is None:
                canvas.mirror = x
            else:
                x, canvas.mirror = canvas.at(x), None
        length = self.mark(node, x, y)
        text = self.labels.short_end(node.point, room - length - 2, with_bus=True)
        canvas.text(x + length + 1.0, y + INLINE, text)
        canvas.mirror = mirror

    def mark(self, node: Node, x: float, y: float) -> float:
        """The symbol of an end; returns its length."""
        if node.ref in self.harness.grounds:
            self.used.add("ground")
            symbols.ground(self.canvas, x, y)
            return GROUND
        if node.ref in self.harness.breakers:
            self.used.add("breaker")
            symbols.breaker(self.canvas, x, y)
            return BREAKER
        if node.ref in self.harness.buses:
            self.used.add("bus")
            self.canvas.line([(x + 1, y - 2.2), (x + 1, y + 2.2)], "bus")
            self.canvas.line([(x, y), (x + 1, y)], "symbol")
            return 2.5
        self.used.add("arrow")
        symbols.arrow(self.canvas, x, y)
        return GROUND

    def far_end(self, node: Node, x: float, row: Row, far: Far) -> None:
        """An end on the far side; breakers lead on to the bus."""
        y, at = self.y(row), x + far.at
        if node.ref in self.harness.buses:
            self.canvas.line([(at, y), (x + far.bus, y)], "existing")
            return
        length = self.mark(node, at, y)
        text = far.text[node]
        if node.ref not in self.harness.breakers:
            self.canvas.text(at + length, y + INLINE, text)
            return
        known = node.point.cavity != "line" and self.harness.breakers[node.ref].bus
        self.canvas.text(at + length + 0.5, y - ABOVE, text)
        self.canvas.line([(at + length, y), (x + far.bus, y)], "existing")
        if not known and node.point.cavity != "line":
            self.canvas.text(x + far.bus + 1.5, y + INLINE, "bus not stated")

    def bars(self, far: Far, x: float) -> None:
        """The buses, each a heavy bar past the rows that end at it."""
        at = x + far.bus
        for bus, rows in far.bars.items():
            if not bus:
                continue
            self.used.add("bus")
            self.shade(Point(bus))
            self.canvas.group(class_="bus", data_bus=bus)
            ys = [self.y(row) for row in rows]
            if far.spans and len(ys) > 1:
                self.canvas.line([(at, ys[0] - 2.2), (at, ys[-1] + 2.2)], "bus")
                self.canvas.lines(at + 2.0, ys[0] + INLINE, far.names[bus])
            else:
                for y in ys:
                    self.canvas.line([(at, y - 2.2), (at, y + 2.2)], "bus")
                    self.canvas.text(at + 2.0, y + INLINE, "  ".join(far.names[bus]))
            self.canvas.end()
