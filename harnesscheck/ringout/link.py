"""One piece of the network between the probes, with the resistance it should have and the limits of that."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from harnesscheck.place import Point
from harnesscheck.source import Source, Status

STRUCTURE = Point("bare structure")
"""The structure of the aircraft as a probe finds it; the space keeps it apart from every reference."""
WIRE_FACTOR = 1.2
"""A reading above this many times the computed wire resistance is refused."""
WIRE_FACTOR_SOURCE = Source("a field-wiring specification, as quoted on a translation site", Status.SECOND_HAND,
                            paragraph="readings above 120 % of calculated are refused")  # fmt: skip
CONTACT_LIMIT = 0.02
"""Ohms allowed for each contact on the way, the test contact included."""
CONTACT_LIMIT_SOURCE = Source("", Status.MEMORY, paragraph="10 to 20 mohm for a pair of contacts")
COPPER = frozenset({"wire", "contact", "splice", "bond", "ground lead"})
"""Kinds of link that make one net of what they join; the others are resistances between nets."""


@dataclass(frozen=True, slots=True)
class Link:
    """A wire, contact, splice leg or bond, or something that stays connected; ``ohms`` None is not known."""

    kind: str
    name: str
    a: Point
    b: Point
    ohms: float | None
    low: float | None
    high: float | None
    missing: str = ""

    @property
    def copper(self) -> bool:
        """True when it makes one net of what it joins."""
        return self.kind in COPPER


def by_node(links: Iterable[Link]) -> dict[Point, list[Link]]:
    """The links at every node."""
    near: dict[Point, list[Link]] = {}
    for link in links:
        if link.a != link.b:
            near.setdefault(link.a, []).append(link)
            near.setdefault(link.b, []).append(link)
    return near
