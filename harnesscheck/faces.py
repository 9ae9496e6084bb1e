"""Where the cavities of a connector stand on its face, which are neighbours, and what is seen from which side.

Distances are the same on the mating face and on the wire side, so one set of positions serves both halves. What is
left and right is not: two faces that meet, and the two sides of one insert, are mirror images of each other.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from harnesscheck.connector import Connector
from harnesscheck.harness import Harness
from harnesscheck.parts import Part
from harnesscheck.source import Source

NEAR = 1.35
"""Neighbours stand within this many smallest pitches: rows of a D-sub lie up to 1.15 pitches apart on the slant, the
next but one contact 2; measured face views are good to 0.03 of the insert radius."""

XY = tuple[float, float]


class Side(StrEnum):
    """From where one looks at a connector half."""

    MATING = "mating face"
    WIRE = "wire side"


@dataclass(frozen=True, slots=True)
class Face:
    """Positions by cavity name as seen on the mating face of the pin half, x to the right and y up."""

    positions: dict[str, XY]
    source: Source
    metres: bool = False
    """True when positions are metres; else they are insert radii, and the insert is round with its master key up."""

    @property
    def pitch(self) -> float:
        """The smallest distance between two cavities."""
        spots = list(self.positions.values())
        return min(math.dist(a, b) for i, a in enumerate(spots) for b in spots[:i])

    def apart(self, one: str, two: str) -> float | None:
        """Distance of two cavities in smallest pitches; None when the face does not show one of them."""
        a, b = self.positions.get(one), self.positions.get(two)
        return None if a is None or b is None else math.dist(a, b) / self.pitch

    def seen(self, gender: str, side: Side) -> dict[str, XY]:
        """Positions as seen on one side of the half with ``pin`` or ``socket`` contacts.

        The mating face of the socket half is that of the pin half turned over, and so is the wire side of either half
        against its mating face; what is up stays up. Raises ``ValueError`` for another gender.
        """
        if gender not in ("pin", "socket"):
            raise ValueError(f"contacts are pin or socket, not {gender!r}")
        over = (gender == "socket") != (side is Side.WIRE)
        return {name: (-x if over else x, y) for name, (x, y) in self.positions.items()}


def face(harness: Harness, connector: Connector) -> Face | None:
    """The face of a connector; None when its arrangement or the place of its cavities is not known."""
    insert = connector.says("insert")
    view = harness.part("face view", insert)
    if view is not None:
        spots, source = view.value("positions"), view.source("positions")
        if isinstance(spots, dict) and source is not None and len(spots) > 1:
            # Turned to the pin mating face when the drawer says it was drawn from elsewhere.
            over = (view.text("gender") == "socket") != (view.text("face") == Side.WIRE)
            return Face({name: (-x if over else x, y) for name, (x, y) in spots.items()}, source)
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
    spots: dict[str, XY] = {}
    following = iter(names)
    for number, count in enumerate(rows, 1):
        shift = 0.0 if number == 1 else offsets.get(str(number)) if isinstance(offsets, dict) else None
        if shift is None:
            return None
        for place in range(count):
            spots[next(following)] = (shift + place * pitch, -(number - 1) * spacing)
    return Face(spots, source, metres=True)
