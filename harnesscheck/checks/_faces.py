"""Where the cavities of a connector stand on its face, and which are neighbours.

Distances are the same on the mating face and on the wire side, so one set of positions serves both halves.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from harnesscheck.connector import Connector
from harnesscheck.harness import Harness
from harnesscheck.parts import Part
from harnesscheck.source import Source

NEAR = 1.35
"""Neighbours stand within this many smallest pitches: rows of a D-sub lie up to 1.15 pitches apart on the slant, the
next but one contact 2; measured face views are good to 0.03 of the insert radius."""


@dataclass(frozen=True, slots=True)
class Face:
    """Positions by cavity name, in any unit, and where they come from."""

    positions: dict[str, tuple[float, float]]
    source: Source

    @property
    def pitch(self) -> float:
        """The smallest distance between two cavities."""
        spots = list(self.positions.values())
        return min(math.dist(a, b) for i, a in enumerate(spots) for b in spots[:i])

    def apart(self, one: str, two: str) -> float | None:
        """Distance of two cavities in smallest pitches; None when the face does not show one of them."""
        a, b = self.positions.get(one), self.positions.get(two)
        return None if a is None or b is None else math.dist(a, b) / self.pitch


def face(harness: Harness, connector: Connector) -> Face | None:
    """The face of a connector; None when its arrangement or the place of its cavities is not known."""
    insert = connector.says("insert")
    view = harness.part("face view", insert)
    if view is not None:
        spots, source = view.value("positions"), view.source("positions")
        if isinstance(spots, dict) and source is not None and len(spots) > 1:
            return Face(spots, source)
    record = harness.part("insert", insert)
    return _rows(record) if record is not None else None


def _rows(record: Part) -> Face | None:
    """A face in straight rows: the first row starts at zero, the others are shifted by their offset."""
    rows, names, source = record.value("rows"), record.items("cavities"), record.source("pitch")
    pitch, spacing = record.quantity("pitch"), record.quantity("row spacing")
    offsets = record.value("row offsets")
    if not (isinstance(rows, tuple) and names and source and pitch and spacing) or sum(rows) != len(names):
        return None
    if not isinstance(offsets, dict) and len(rows) > 1:
        return None
    spots: dict[str, tuple[float, float]] = {}
    following = iter(names)
    for number, count in enumerate(rows, 1):
        shift = 0.0 if number == 1 else offsets.get(str(number)) if isinstance(offsets, dict) else None
        if shift is None:
            return None
        for place in range(count):
            spots[next(following)] = (shift + place * pitch, -(number - 1) * spacing)
    return Face(spots, source)
