"""The geometry of one whole sheet: the field, what lies beyond its connectors, and the heights of all rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from harnesscheck.harness import Harness
from harnesscheck.paper import metrics
from harnesscheck.paper.svg import TEXT, leading
from harnesscheck.place import Point
from harnesscheck.sheets._far import MOST_END, MOST_UNIT, Far, far_side
from harnesscheck.sheets._labels import Index, Labels
from harnesscheck.sheets._layout import CABLE_LEAD, MOST_OUTSIDE, PITCH, Spread, spread
from harnesscheck.sheets._pages import Joint, Page
from harnesscheck.sheets._strands import Node, Row

JOINT = 5.0
"""Distance between the two halves of a mated pair, mm."""
REF = 3.5
"""Height of a connector reference, mm (next size of the lettering series 2.5, 3.5, 5; common practice)."""
BEHIND = 4.4
"""From an unmated half to the circuit names behind its contacts, mm."""
HEAD_CLEAR = 10.0
"""Lettering lower than this below the top of the drawing is clear of the revision block, mm."""
INNER_ROOM = 40.0
"""Least room for each of two headings that face each other over the field, mm."""
HEAD_ROOM = 46.0
"""Least room for the heading of a connector, mm."""


@dataclass(eq=False)
class Outside:
    """What lies beyond the outer half of a joint; distances in mm from that half, away from the field."""

    joint: Joint
    spread: Spread
    far: Far
    cavity: float
    texts: dict[str, str]
    width: float
    unit: str = ""
    elsewhere: frozenset[str] = frozenset()
    """Cavities whose wires another sheet shows."""


@dataclass(eq=False)
class Heading:
    """The lines over one connector half."""

    ref: str
    lines: list[str]
    on_site: bool

    @property
    def height(self) -> float:
        """Height of the heading, mm."""
        return leading(REF) + leading(TEXT) * (len(self.lines) + self.on_site) + 1.5


@dataclass(eq=False)
class Sheet:
    """One sheet ready to draw. ``x_near`` and ``x_far`` are where the inner halves stand; rows have their ``y``."""

    page: Page
    labels: Labels
    main: Spread
    far: Far
    outsides: list[Outside]
    near_room: float
    far_room: float
    left: float = 0.0
    width: float = 0.0
    height: float = 0.0
    head_right: float = 0.0
    """How far to the right the uppermost headings reach, mm."""
    headings: list[tuple[Joint, Heading | None, Heading | None, float]] = field(default_factory=list)
    """Joint, heading of its inner and of its outer half, y of the lower edge."""


def cavity_room(names: Sequence[str]) -> float:
    """Room for cavity names beside their contacts, mm; 0 when there are none."""
    return max((metrics.width(name, TEXT) for name in names), default=-2.4) + 2.4


def cavity_text(node: Node | None, idle: str) -> str:
    """A cavity as written at its contact; a second wire in the same contact says so."""
    if node is None or node.kind != "port":
        return idle
    return node.point.cavity if not node.number else f"{node.point.cavity} (wire {node.number + 1})"


def compose(harness: Harness, page: Page, index: Index | None = None, number: int = 0) -> Sheet:
    """Lay out one page; ``index`` says where everything else stands, once that is known."""
    labels = Labels(harness, index)
    _number_rows(page)
    near_names = [cavity_text(row.near, row.idle_near) for row in page.main]
    far_names = [cavity_text(row.far, row.idle_far) for row in page.main]
    far_names += [cavity_text(row.far, row.idle_far) for joint in page.joints if not joint.left for row in joint.rows]
    near_room = cavity_room([name for name in near_names if name]) if page.near else 0.0
    inner_far = any(joint.inner and not joint.left for joint in page.joints)
    far_room = cavity_room([name for name in far_names if name]) if inner_far else 0.0
    main = spread(page.strands, page.near, labels, near_room, far_room, page.open_far)
    _widen_for_idle(page, labels, main, far_room)
    if page.near and page.aligned and main.width < 2 * INNER_ROOM + 6.0:
        _widen(main, main.width, 2 * INNER_ROOM + 6.0 - main.width)
    last = main.zones[-1].end - main.zones[-1].at
    if any(joint.inner and joint.rows and joint.rows[0].block != "main" for joint in page.joints) and last < INNER_ROOM:
        _widen(main, main.width, INNER_ROOM - last)
    far = far_side(labels, main, page.strands, skip=main.inside)
    outsides = [_outside(harness, labels, joint) for joint in page.joints if joint.beyond is not None]
    sheet = Sheet(page, labels, main, far, outsides, near_room, far_room)
    _leads(page, main, outsides)
    _heights(harness, sheet, number)
    near_ends = [
        MOST_END + 14.0
        for strand in page.strands
        for node, row in strand.row.items()
        if row.near == node and node.kind == "end" and node.wire not in main.inside
    ]
    bare = [
        (joint.left, BEHIND + 2.0 + metrics.width(labels.unmated(joint.inner, joint.cavity(row)), TEXT))
        for joint in page.joints
        if not joint.outer
        for row in joint.rows
        if not joint.idle(row)
    ]
    left_sides = [one.width + JOINT * bool(one.joint.inner) for one in outsides if one.joint.left]
    right_sides = [one.width + JOINT * bool(one.joint.inner) for one in outsides if not one.joint.left]
    sheet.left = max([*left_sides, *near_ends, *(wide for left, wide in bare if left), 2.0])
    sheet.head_right = _head_right(sheet)
    sheet.width = (
        sheet.left + main.width + max([*right_sides, far.width, *(wide for left, wide in bare if not left), 2.0])
    )
    return sheet


def _head_right(sheet: Sheet) -> float:
    bottom = min((entry[3] for entry in sheet.headings), default=0.0)
    reach = sheet.left
    for joint, inner, outer, at in sheet.headings:
        if at > bottom:
            continue
        x = sheet.left + (0.0 if joint.left else sheet.main.width + JOINT)
        # On the left the inner heading runs to the right of its half, on the right the outer one does.
        heading = inner if joint.left else outer
        if heading is not None:
            top = bottom - heading.height + leading(REF)
            words = [
                metrics.width(line, TEXT)
                for number, line in enumerate(heading.lines)
                if top + number * leading(TEXT) < HEAD_CLEAR
            ]
            reach = max(reach, x + max([*words, metrics.width(heading.ref, REF), 40.0 * heading.on_site]) + 2.0)
        reach = max(reach, x)
    return reach


def _rows_in_order(page: Page) -> list[Row]:
    """All rows from the top down."""
    rows = list(page.main)
    for joint in page.joints:
        if joint.rows and joint.rows[0].block == "main" and joint.beyond is not None:
            rows.extend(joint.beyond.extra)
    for joint in page.joints:
        if joint.rows and joint.rows[0].block != "main":
            rows.extend(joint.rows)
            rows.extend(joint.beyond.extra if joint.beyond is not None else ())
    return [*rows, *page.ends]


def _number_rows(page: Page) -> None:
    """A first height for every row, enough to know their order."""
    for number, row in enumerate(_rows_in_order(page)):
        row.y, row.lead = PITCH * number, 0.0
    _copy_heights(page)


def _again(joint: Joint, row: Row) -> bool:
    """True for the row of a second wire in one contact."""
    node = row.near if joint.left else row.far
    return node is not None and node.number > 0


def _copy_heights(page: Page) -> None:
    for joint in page.joints:
        if joint.beyond is not None:
            for row in joint.rows:
                given = joint.beyond.rows[joint.cavity(row)]
                if not _again(joint, row):
                    given.y = row.y


def _widen_for_idle(page: Page, labels: Labels, main: Spread, far_room: float) -> None:
    """Make room for what is written at cavities that have no wire in the field."""
    near = [labels.fit(labels.inside(page.near, row.idle_near), MOST_OUTSIDE) for row in page.main if row.idle_near]
    far = [
        labels.fit(labels.inside(joint.inner, joint.cavity(row)), MOST_OUTSIDE)
        for joint in page.joints
        if not joint.left and joint.inner
        for row in joint.rows
        if row.idle_far
    ]
    for zone, texts, kept in ((main.zones[0], near, 0.0), (main.zones[-1], far, far_room)):
        room = zone.end - kept - zone.label
        short = max((metrics.width(text, TEXT) + 5.0 for text in texts), default=0.0) - room
        if short > 0:
            _widen(main, zone.end, short)


def _widen(main: Spread, beyond: float, more: float) -> None:
    """Move everything that lies at or past ``beyond`` by ``more``."""
    for zone in main.zones:
        if zone.at >= beyond:
            zone.at += more
            zone.label += more
            zone.drop += more
            zone.twist += more if zone.twist else 0.0
            zone.slot += more if zone.slot else 0.0
        if zone.end >= beyond:
            zone.end += more
    tables: tuple[dict[Any, float], ...] = (main.x, main.drops)
    for table in tables:
        for key in table:
            if table[key] >= beyond:
                table[key] += more
    main.width += more


def _outside(harness: Harness, labels: Labels, joint: Joint) -> Outside:
    """What lies beyond a joint: names of circuits or pins, and the wiring where it is drawn here."""
    beyond = joint.beyond
    assert beyond is not None
    half = beyond.half
    names = [joint.cavity(row) for row in joint.rows]
    unit = labels.fit(labels.unit(half), MOST_UNIT)
    room = MOST_UNIT if unit else MOST_OUTSIDE
    texts: dict[str, str] = {}
    elsewhere: set[str] = set()
    for name in dict.fromkeys(names):
        text = labels.beyond(half, name)
        wires = [wire.id for wire in harness.wires_at(Point(half, name)) if wire.id in beyond.elsewhere]
        if wires:
            elsewhere.add(name)
            circuit = labels.circuit(half, name)
            places = dict.fromkeys(labels.index.wire(wire) for wire in wires)
            where = "; ".join(place for place in places if place) or "shown elsewhere"
            text = f"{circuit + ', ' if circuit else ''}{', '.join(wires)}: {where}"
        texts[name] = labels.fit(text, room, f"{half}-{name}")
    written = [cavity_text(row.near if joint.left else row.far, joint.cavity(row)) for row in joint.rows]
    cavity = cavity_room([*written, *(cavity_text(row.near, "") for row in beyond.extra)])
    wide = max((metrics.width(text, TEXT) for text in texts.values()), default=0.0)
    if unit:
        wide = max(wide, metrics.width(unit, TEXT))
    near_room = cavity + 1.5 + wide + (1.5 if wide else 0.0)
    done = spread(beyond.strands, half, labels, near_room, 0.0, open_far=True)
    far = far_side(labels, done, beyond.strands, skip=set())
    plain = cavity + 1.5 + wide + 8.0
    width = done.width + far.width if beyond.strands else plain
    return Outside(joint, done, far, cavity, texts, max(width, HEAD_ROOM), unit, frozenset(elsewhere))


def _leads(page: Page, main: Spread, outsides: Sequence[Outside]) -> None:
    """Room above the first core of each cable, and for the name of an equipment unit inside its outline."""
    wanted: dict[int, tuple[Row, float]] = {}

    def want(row: Row, lead: float) -> None:
        known = wanted.get(id(row))
        wanted[id(row)] = (row, max(lead, known[1] if known else 0.0))

    for run in main.runs:
        want(min(run.rows, key=lambda row: row.y), CABLE_LEAD)
    for one in outsides:
        beyond = one.joint.beyond
        assert beyond is not None
        own = {id(given): name for name, given in beyond.rows.items()}
        shown = {one.joint.cavity(row): row for row in one.joint.rows if not _again(one.joint, row)}
        for run in one.spread.runs:
            top = min(run.rows, key=lambda row: row.y)
            want(shown[own[id(top)]] if id(top) in own else top, CABLE_LEAD)
        if one.unit and one.joint.rows:
            want(one.joint.rows[0], CABLE_LEAD)
    for row, lead in wanted.values():
        row.lead = lead


def _heading(harness: Harness, labels: Labels, ref: str, room: float, also: str) -> Heading | None:
    if not ref:
        return None
    lines: list[str] = []
    for text in (*labels.heading(ref), *([also] if also else [])):
        wrapped = metrics.balanced(text, TEXT, room)
        lines.extend(wrapped if len(wrapped) <= 3 else [*wrapped[:2], labels.fit(text, room, ref)])
    return Heading(ref, lines, labels.on_site(harness.connectors[ref]))


def _heights(harness: Harness, sheet: Sheet, number: int) -> None:
    """The final ``y`` of every row, from 0 at the top of the drawing."""
    page, labels = sheet.page, sheet.labels
    both = bool(page.near and page.aligned)
    inner_room = sheet.main.width / 2 - 3.0 if both else max(HEAD_ROOM, sheet.main.width - 3.0)
    rooms = {one.joint.outer: one.width - 2.0 for one in sheet.outsides}
    y = 0.0

    def also(ref: str) -> str:
        return labels.index.others(ref, number) if page.part else ""

    def head(joints: Sequence[Joint], inner_room: float) -> None:
        nonlocal y
        made = [
            (
                joint,
                _heading(harness, labels, joint.inner, inner_room, also(joint.inner)),
                _heading(harness, labels, joint.outer, rooms.get(joint.outer, HEAD_ROOM), also(joint.outer)),
            )
            for joint in joints
        ]
        tall = max((one.height for entry in made for one in entry[1:] if one is not None), default=0.0)
        y += tall
        sheet.headings.extend((*entry, y) for entry in made)

    def put(rows: Sequence[Row]) -> None:
        nonlocal y
        for row in rows:
            y += PITCH + row.gap + row.lead
            row.y = y

    level = [joint for joint in page.joints if joint.rows and joint.rows[0].block == "main"]
    if level:
        head(level, inner_room)
    put(page.main)
    for joint in level:
        put(joint.beyond.extra if joint.beyond is not None else [])
    for joint in page.joints:
        if joint in level or not joint.rows:
            continue
        if y:
            y += 4.0
        # Lines come down past the left of this heading: it keeps to the label zone.
        head([joint], sheet.main.zones[-1].end - sheet.main.zones[-1].at - 2.0)
        put(joint.rows)
        put(joint.beyond.extra if joint.beyond is not None else [])
        y += 1.0
    if page.ends:
        y += 3.0
    put(page.ends)
    sheet.height = y + 5.0
    _copy_heights(page)
