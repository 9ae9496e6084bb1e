"""The far side of a field: where its studs, breakers and buses stand, and how wide all that is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from harnesscheck.paper import metrics
from harnesscheck.paper.svg import TEXT
from harnesscheck.sheets._labels import Labels
from harnesscheck.sheets._layout import Spread
from harnesscheck.sheets._strands import Node, Row, Strand

BREAKER = 9.0
"""Length of a breaker symbol, mm."""
GROUND = 4.5
"""Length of a ground symbol, mm."""
MOST_UNIT = 80.0
"""Longest function of an equipment pin, mm."""
MOST_END = 46.0
"""Longest text beside a stud, breaker or bus, mm."""
BESIDE_BAR = 30.0
"""Longest text beside a stud that a bus bar passes, mm."""


@dataclass(eq=False)
class Far:
    """The studs, breakers and buses on the far side of a field; ``at`` and ``bus`` in mm from the near side."""

    at: float
    bus: float
    width: float
    bars: dict[str, list[Row]]
    """Rows that end at a bus, by bus."""
    names: dict[str, list[str]]
    text: dict[Node, str] = field(default_factory=dict)
    spans: bool = True
    """False when bars would cross each other's lines: then every row has a short bar of its own."""


def far_side(labels: Labels, main: Spread, strands: Sequence[Strand], skip: set[str]) -> Far:
    """Place the studs, breakers and buses on the far side."""
    harness = labels.harness
    ends = [
        (strand.row[node], node)
        for strand in strands
        for node in strand.row
        if node.kind == "end" and node.wire not in skip and strand.row[node].near != node
    ]
    far = Far(main.width, 0.0, 0.0, {}, {})
    if not ends:
        return far
    ends.sort(key=lambda pair: pair[0].y)
    wide = clear = 0.0
    heights = [row.y for row, node in ends if node.ref in harness.breakers or node.ref in harness.buses]
    for row, node in ends:
        low = heights and heights[0] < row.y < heights[-1]
        # A bar may pass to the right of a text between its rows: keep that short, the whole goes into a note.
        room = MOST_END if node.ref in harness.breakers else BESIDE_BAR if low else MOST_UNIT
        text = labels.short_end(node.point, room)
        size = metrics.width(text, TEXT)
        if node.ref in harness.breakers:
            bus = harness.breakers[node.ref].bus if node.point.cavity != "line" else None
            far.bars.setdefault(bus or "", []).append(row)
            wide = max(wide, BREAKER + size + 2.5)
        elif node.ref in harness.buses:
            far.bars.setdefault(node.ref, []).append(row)
            text = ""
            wide = max(wide, 4.0)
        elif low:
            wide = max(wide, GROUND + size + 3.0)
        else:
            clear = max(clear, GROUND + size + 3.0)
        far.text[node] = text
    far.bus = main.width + wide
    spans = [(rows[0].y, rows[-1].y) for bus, rows in far.bars.items() if bus]
    far.spans = all(a[1] < b[0] or b[1] < a[0] for number, a in enumerate(spans) for b in spans[:number])
    for bus, rows in far.bars.items():
        if bus:
            tall = far.spans and len(rows) > 1
            words = labels.bus(bus).split("  ") if tall else [labels.bus(bus)]
            far.names[bus] = [labels.fit(word, MOST_END / (2 if tall else 1)) for word in words]
    most = max((metrics.width(word, TEXT) for words in far.names.values() for word in words), default=0.0)
    unknown = metrics.width("bus not stated", TEXT) if "" in far.bars else 0.0
    far.width = max(wide + max(most, unknown) + 3.0, clear)
    return far
