"""Where everything of one sheet goes: rows down the paper, label zones and channels across it.

Between the near and the far side of a field lie *label zones*, in which only horizontal lines run and every wire has
its text, and *channels*, in which splices stand and lines change rows. Text therefore never meets a vertical line.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from harnesscheck.paper import metrics
from harnesscheck.paper.svg import TEXT
from harnesscheck.sheets._labels import Labels
from harnesscheck.sheets._strands import Leg, Node, Row, Strand

PITCH = 5.6
"""Distance between rows, mm: lettering of 2.5 mm, its distance from the line, and air."""
CABLE_LEAD = 4.8
"""Room above the first core of a cable for the cable's own text, mm."""
MOST_LABEL = 62.0
"""Longest wire text on the drawing itself, mm; a longer one goes on into a note."""
MOST_OUTSIDE = 60.0
"""Longest circuit text beyond a connector, mm."""
SLOT = 42.0
"""Room for a stud or breaker at the end of a wire inside a field, mm."""
HALF_HEIGHT = 1.6
"""Of a splice symbol, mm."""


TAP = 2.2
"""Distance between lines that leave one splice, mm."""


def half_width(taps: int) -> float:
    """Of a splice symbol with so many lines leaving below it, mm."""
    return max(2.0, taps * 1.1 + 0.4)


@dataclass(eq=False)
class Run:
    """Cores of one cable on rows next to each other, in one label zone."""

    cable: str
    zone: int
    rows: list[Row]
    shields: list[Row]
    """Rows of the shield or drain wires that join this run."""
    text: str


@dataclass(eq=False)
class Zone:
    """A label zone: ``at`` is its near edge, ``label`` where its texts begin, both in mm from the near side."""

    at: float = 0.0
    label: float = 0.0
    text: float = 0.0
    """Widest text, mm."""
    slot: float = 0.0
    """Where ends inside the field stand; 0 when there are none."""
    twist: float = 0.0
    """Where twist marks stand; 0 when there are none."""
    drop: float = 0.0
    """Where a shield leads down to its drain."""
    end: float = 0.0


@dataclass(eq=False)
class Spread:
    """The finished geometry of one field; x in mm from its near side."""

    depth: int
    zones: list[Zone]
    x: dict[Node, float] = field(default_factory=dict)
    """Of splices."""
    drops: dict[str, float] = field(default_factory=dict)
    """Of lines that change rows, by the key of their leg."""
    taps: dict[Node, int] = field(default_factory=dict)
    rising: set[Node] = field(default_factory=set)
    """Splices that a line leaves upwards: their text stands beside it."""
    runs: list[Run] = field(default_factory=list)
    text: dict[str, str] = field(default_factory=dict)
    zone: dict[str, int] = field(default_factory=dict)
    inside: set[str] = field(default_factory=set)
    """Keys of the legs that end in a slot."""
    width: float = 0.0

    def place(self, strand: Strand, node: Node) -> float:
        """The x of a node."""
        if node in self.x:
            return self.x[node]
        row = strand.row[node]
        return 0.0 if row.near == node else self.width


def cable_runs(strands: Sequence[Strand], zone: Mapping[str, int], labels: Labels) -> list[Run]:
    """The runs of all cables; ``zone`` gives the label zone of each wire."""
    cores: dict[tuple[str, int], list[Row]] = {}
    shields: dict[tuple[str, int], list[Row]] = {}
    for strand in strands:
        for leg in strand.legs:
            if leg.wire.cable:
                table = shields if leg.wire.is_shield else cores
                table.setdefault((leg.wire.cable, zone[leg.key]), []).append(label_row(strand, leg))
    runs: list[Run] = []
    for (cable, number), rows in cores.items():
        drains = shields.get((cable, number), [])
        text = labels.cable(cable)
        if labels.shielded(cable) and not drains:
            text += f"  {labels.shield_end(cable)}"
        runs.append(Run(cable, number, rows, drains, text))
    return runs


def label_row(strand: Strand, leg: Leg) -> Row:
    """The row a wire has its text on: that of its end when it leaves a splice, else that of its start."""
    return strand.row[leg.b] if leg.a.kind == "splice" else strand.row[leg.a]


def spread(
    strands: Sequence[Strand],
    near: str,
    labels: Labels,
    near_room: float,
    far_room: float,
    open_far: bool,
) -> Spread:
    """Lay out one field. ``near_room`` and ``far_room`` are kept free for cavity names at its two sides.

    Rows must be in their order already; their ``y`` is not needed except to order what shares a channel.
    """
    depth = max((strand.depth for strand in strands), default=0)
    changes = [
        (strand, leg)
        for strand in strands
        for leg in strand.legs
        if strand.row[leg.a] is not strand.row[leg.b] and leg.a.kind != "splice"
    ]
    depth = max(depth, 1 if changes or not open_far else 0)
    done = Spread(depth, [Zone() for _ in range(depth + 1)])
    for strand in strands:
        for leg in strand.legs:
            done.text[leg.key] = labels.fit(labels.wire(leg.wire), MOST_LABEL)
            done.zone[leg.key] = _zone(strand, leg, near, done, open_far)
    done.runs = cable_runs(strands, done.zone, labels)
    for run in done.runs:
        run.text = labels.fit(run.text, MOST_LABEL)
    for identity, text in done.text.items():
        zone = done.zones[done.zone[identity]]
        zone.text = max(zone.text, metrics.width(text, TEXT))
    for run in done.runs:
        done.zones[run.zone].text = max(done.zones[run.zone].text, metrics.width(run.text, TEXT))
    at = 0.0
    for number, zone in enumerate(done.zones):
        at = _lay_zone(done, number, zone, at, near_room, far_room, labels)
        if number < depth:
            at = _lay_channel(done, number + 1, at, strands, changes, near)
    done.width = at
    return done


def _zone(strand: Strand, leg: Leg, near: str, done: Spread, open_far: bool) -> int:
    """The label zone of a wire; marks wires that end at a stud inside the field."""
    low, high = (_layer(strand, node, done.depth) for node in (leg.a, leg.b))
    if strand.row[leg.a] is strand.row[leg.b]:
        low, high = sorted((low, high))
        ends = [node for node in (leg.a, leg.b) if node.kind == "end"]
        if ends and near and not open_far and leg.a.kind != "splice" and leg.b.kind != "splice":
            done.inside.add(leg.key)
            port = leg.a if leg.b in ends else leg.b
            return 0 if strand.row[port].near == port else done.depth
        return 0 if low == 0 else done.depth if high > done.depth else low
    if leg.a.kind != "splice":
        return 0 if low == 0 else done.depth
    return 0 if high == 0 else done.depth if high > done.depth else high - 1


def _layer(strand: Strand, node: Node, depth: int) -> int:
    if node.kind == "splice":
        return strand.layer[node]
    return 0 if strand.row[node].near == node else depth + 1


def _lay_zone(
    done: Spread, number: int, zone: Zone, at: float, near_room: float, far_room: float, labels: Labels
) -> float:
    """Place a zone whose near edge is at ``at``; returns its far edge."""
    first, last = number == 0, number == done.depth
    cables = [run for run in done.runs if run.zone == number]
    twist = 4.0 if any(labels.twisted(run.cable) for run in cables) else 0.0
    shield = 3.4 if cables else 0.0
    slots = any(done.zone[identity] == number for identity in done.inside)
    zone.at = at
    if not zone.text:
        zone.label = at + (near_room if first else 0.0) + 1.5
        zone.end = zone.label + (far_room if last else 0.0)
        return zone.end
    if first:
        zone.twist = at + near_room + 2.2 if twist else 0.0
        zone.label = at + near_room + 1.5 + twist
        zone.drop = zone.label + zone.text + 2.0
        zone.end = zone.label + zone.text + 1.5 + shield
        if slots:
            zone.slot = zone.end
            zone.end += SLOT
    else:
        if slots:
            zone.slot = at + SLOT
            at += SLOT
        zone.drop = at + 1.4
        zone.label = at + 1.0 + shield
        zone.twist = zone.label + zone.text + 2.4 if twist else 0.0
        zone.end = zone.label + zone.text + 1.0 + max(twist, 1.6 if cables else 0.0)
    if last:
        zone.end += far_room
    return zone.end


def _lay_channel(
    done: Spread,
    number: int,
    at: float,
    strands: Sequence[Strand],
    changes: Iterable[tuple[Strand, Leg]],
    near: str,
) -> float:
    """Give every splice and every line that changes rows in this channel its x; returns the far edge."""
    items: list[tuple[float, float, Node | str]] = []
    for strand in strands:
        for node, layer in strand.layer.items():
            if layer != number:
                continue
            own = strand.row[node]
            rows = [strand.row[leg.b] for leg in strand.legs if leg.a == node and strand.row[leg.b] is not own]
            done.taps[node] = taps = len(rows)
            label = metrics.width(node.ref, TEXT) + 1.6
            if any(row.y < own.y for row in rows):
                done.rising.add(node)
                label = 2 * (label + TAP * (taps - 1) / 2)
            items.append((strand.row[node].y, max(label, 2 * half_width(taps) + 1.6), node))
    for strand, leg in changes:
        starts_near = strand.row[leg.a].near == leg.a
        if number == (1 if starts_near else done.depth):
            items.append((strand.row[leg.a].y, 2.6, leg.key))
    # The upper rows drop furthest to the far side: then the lines that leave for rows below do not cross each other.
    items.sort(key=lambda item: item[0])
    x = at + 1.0 + sum(item[1] for item in items)
    edge = x + 1.0
    for _, wide, what in items:
        middle = x - wide / 2
        if isinstance(what, Node):
            done.x[what] = middle
        else:
            done.drops[what] = middle
        x -= wide
    return edge
