"""Draws a laid-out sheet: wires, contacts, connectors, and what lies beyond them."""

from __future__ import annotations

from harnesscheck.connector import Origin
from harnesscheck.paper import metrics
from harnesscheck.paper.svg import TEXT, identifier, leading
from harnesscheck.place import Point
from harnesscheck.sheets import _symbols as symbols
from harnesscheck.sheets._compose import BEHIND, JOINT, REF, Heading, Outside, cavity_text
from harnesscheck.sheets._layout import MOST_OUTSIDE
from harnesscheck.sheets._pages import Joint
from harnesscheck.sheets._strands import Row
from harnesscheck.sheets._wires import ABOVE, INLINE, WirePen


class Pen(WirePen):
    """Draws one sheet with its upper left corner at ``(x, y)``."""

    def draw(self, x: float, y: float) -> None:
        """Draw everything."""
        sheet = self.sheet
        self.top = y
        self.x_near = x + sheet.left
        self.x_far = self.x_near + sheet.main.width
        self.field(sheet.main, sheet.page.strands, self.x_near, sheet.page.near, sheet.far)
        for one in sheet.outsides:
            self.outside(one)
        for joint in sheet.page.joints:
            self.joint(joint)
        self.canvas.ink = "black"
        for joint, inner, outer, bottom in sheet.headings:
            self.headings(joint, inner, outer, y + bottom)

    # -- connectors --------------------------------------------------------------------------------------------

    def place(self, joint: Joint) -> tuple[float, float, int]:
        """The x of the inner and of the outer half, and the direction from inner to outer."""
        inner = self.x_near if joint.left else self.x_far
        towards = -1 if joint.left else 1
        gap = JOINT if joint.inner and joint.outer else 0.0
        return inner, inner + towards * gap, towards

    def joint(self, joint: Joint) -> None:
        """Contacts, cavity names and the dashed line that ties the cavities of one half together."""
        inner, outer, towards = self.place(joint)
        sides = ((joint.inner, inner, towards), (joint.outer, outer, -towards))
        halves = [(ref, x, side) for ref, x, side in sides if ref]
        extra = joint.beyond.extra if joint.beyond is not None else []
        again = [row for row in extra if row.near is not None and row.near.kind == "port"]
        self.used.add("tie")
        for ref, x, side in halves:
            half = self.harness.connectors[ref]
            rows = [*joint.rows, *(again if ref == joint.outer else ())]
            if not rows:
                continue
            identity = identifier("drawn-connector", f"{ref}.{self.sheet_count(ref)}")
            self.shade(Point(ref, "\n"))  # no cavity has this name: grey when a circuit is picked out
            self.canvas.group(id=identity, class_="connector", data_ref=ref)
            ys = [self.y(row) for row in rows]
            self.canvas.line([(x, min(ys) - 3.0), (x, max(ys) + 2.4)], "tie")
            for row in rows:
                y = self.y(row)
                if row in again:
                    name = cavity_text(row.near, "")
                else:
                    name = cavity_text(row.near if joint.left else row.far, joint.cavity(row))
                cavity = joint.cavity(row) if row not in again else row.near_cavity
                if cavity not in half.cavities and half.names is not None:
                    continue  # this half has no such cavity
                self.shade(Point(ref, cavity))
                symbols.contact(self.canvas, x, y, half.gender, side)
                self.used.add("pair" if half.gender else "unknown")
                self.canvas.text(x - side * 1.2, y - ABOVE, name, anchor="start" if side < 0 else "end")
                if ref == joint.inner and joint.idle(row):
                    self.no_wire(joint, row, x, -side)
                elif not joint.outer:
                    anchor = "start" if side > 0 else "end"
                    self.canvas.text(x + side * BEHIND, y + INLINE, self.labels.unmated(ref, cavity), anchor=anchor)
            self.canvas.end()

    def sheet_count(self, ref: str) -> int:
        """On how many sheets this half has been drawn, this one included."""
        key = f"connector {ref}"
        self.seen[key] = self.seen.get(key, 0) + 1
        return self.seen[key]

    def no_wire(self, joint: Joint, row: Row, x: float, towards: int) -> None:
        """A cavity of the inner half without a wire, and why."""
        canvas, y, cavity = self.canvas, self.y(row), joint.cavity(row)
        room = max(self.sheet.near_room if joint.left else self.sheet.far_room, 2.5)
        text = self.labels.fit(self.labels.inside(joint.inner, cavity), MOST_OUTSIDE)
        anchor = "start" if towards > 0 else "end"
        at = x + towards * (room + 1.2)
        if self.harness.connectors[joint.inner].origin is Origin.AIRFRAME and self.labels.is_live(joint.inner, cavity):
            self.used.update(("existing", "cut"))
            last = at + towards * (metrics.width(text, TEXT) + 2.0)
            canvas.text(at, y - ABOVE, text, anchor=anchor)
            canvas.line([(x, y), (last, y)], "existing")
            symbols.cut(canvas, last, y)
            return
        empty = self.labels.is_empty(joint.inner, cavity)
        self.used.update(("spare",) if empty else ())
        canvas.line([(x, y), (x + towards * (room - 1.5), y)], "symbol")
        symbols.spare(canvas, x + towards * (room - 1.5), y, towards, empty)
        canvas.text(at, y + INLINE, text, anchor=anchor)

    def headings(self, joint: Joint, inner: Heading | None, outer: Heading | None, bottom: float) -> None:
        """Reference, part number and name over each half."""
        inner_x, outer_x, towards = self.place(joint)
        for heading, x, side in ((inner, inner_x, -towards), (outer, outer_x, towards)):
            if heading is None:
                continue
            canvas = self.canvas
            anchor = "start" if side > 0 else "end"
            y = bottom - heading.height + REF + 0.6
            at = x + side * 0.8
            canvas.text(at, y, heading.ref, REF, anchor)
            y += leading(TEXT) + 0.4
            canvas.lines(at, y, heading.lines, anchor=anchor)
            if heading.on_site:
                self.used.add("site")
                y += leading(TEXT) * len(heading.lines)
                text = "FITTED ON SITE"
                start = at if side > 0 else at - metrics.width(text, TEXT) - 4.4
                symbols.on_site(canvas, start, y)
                canvas.text(start + 4.4, y, text)

    def outside(self, one: Outside) -> None:
        """What lies beyond a joint: circuit or pin names, existing wires and where they go."""
        joint = one.joint
        beyond = joint.beyond
        assert beyond is not None
        _, x, towards = self.place(joint)
        self.canvas.mirror = x if towards < 0 else None
        self.field(one.spread, beyond.strands, x, beyond.half, one.far)
        wired = {node.point.cavity for strand in beyond.strands for node in strand.ports if node.ref == beyond.half}
        at = x + one.cavity + 1.5
        for row in joint.rows:
            name = joint.cavity(row)
            node = row.near if joint.left else row.far
            if node is not None and node.number and not one.unit:
                continue  # named at the first wire of this contact
            y, text = self.y(row), one.texts[name]
            self.shade(Point(beyond.half, name))
            size = metrics.width(text, TEXT)
            if one.unit:
                self.canvas.line([(x, y), (at, y)], "thin")
                self.canvas.text(at + 2.0, y + INLINE, text)
            elif name in wired:
                self.canvas.text(at, y - ABOVE, text)
            elif name in one.elsewhere or self.labels.is_live(beyond.half, name):
                mark = "arrow" if name in one.elsewhere else "cut"
                self.used.update(("existing", mark))
                self.canvas.text(at, y - ABOVE, text)
                self.canvas.line([(x, y), (at + size + 2.0, y)], "existing")
                (symbols.arrow if mark == "arrow" else symbols.cut)(self.canvas, at + size + 2.0, y)
            else:
                empty = self.labels.is_empty(beyond.half, name)
                self.used.update(("spare",) if empty else ())
                self.canvas.line([(x, y), (at - 2.2, y)], "symbol")
                symbols.spare(self.canvas, at - 2.2, y, 1, empty)
                self.canvas.text(at + 0.6, y + INLINE, text)
        self.canvas.ink = "black"
        if one.unit and joint.rows:
            self.used.add("unit")
            ys = [self.y(row) for row in joint.rows]
            right = at + 4.0 + max(metrics.width(text, TEXT) for text in (*one.texts.values(), one.unit))
            corners = [(at, min(ys) - 8.4), (right, min(ys) - 8.4), (right, max(ys) + 3.0), (at, max(ys) + 3.0)]
            self.canvas.line(corners, "symbol", closed=True)
            self.canvas.text(at + 2.0, min(ys) - 4.6, one.unit)
        self.canvas.mirror = None
