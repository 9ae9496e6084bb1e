"""What a choice is worth: figures in order of weight, less is better, and the words for each.

The figures add up over the pins, so that a part of a choice can be compared with a whole one. The order is a decision
of this project (common practice at best): nothing in it makes a choice lawful, that is for the checks.
"""

from __future__ import annotations

from collections.abc import Sequence

from harnesscheck.circuit import Circuit
from harnesscheck.jumper import rules
from harnesscheck.jumper.demand import Want, words
from harnesscheck.jumper.slots import Candidate, Slot

Score = tuple[float, ...]
PARTS = ("open", "name", "unknown", "kin", "used", "far", "place")
"""Pins that stay open; names that are not those of the circuits; things not known; returns and shields that are not
known to belong to their lines; share of the capacity that is used; cavities between those of one group; position of
the cavity."""
NOTHING: Score = (0.0,) * len(PARTS)


def plus(a: Score, b: Score) -> Score:
    """Two scores together."""
    return tuple(x + y for x, y in zip(a, b, strict=True))


class Scale:
    """Weighs candidates at one opened pair."""

    def __init__(self, site: rules.Site) -> None:
        self.site = site
        self.position = {name: number for number, name in enumerate(site.cavities)}

    def own(self, slot: Slot, one: Candidate | None) -> Score:
        """What a candidate is worth by itself; nothing at all leaves the pins open."""
        if one is None:
            return (float(len(slot.wants)), *NOTHING[1:])
        place = min(self.position[name] for name in one.circuits)
        return (0.0, one.inexact, len(one.gaps), 0.0, round(one.burden, 6), 0.0, place)

    def between(self, slot: Slot, one: Candidate | None, other: Slot, its: Candidate | None) -> Score:
        """What two candidates cost beside each other: strange returns, distance."""
        if one is None or its is None or slot.wants[0].unit != other.wants[0].unit:
            return NOTHING
        strange = far = 0.0
        for want, name in zip(slot.wants, one.circuits, strict=True):
            for before, named in zip(other.wants, its.circuits, strict=True):
                strange += self.strange((want, name), (before, named))
        if slot.group == other.group:
            far = abs(self.position[one.circuits[0]] - self.position[its.circuits[0]])
        return (0.0, 0.0, 0.0, strange, 0.0, far, 0.0)

    def strange(self, one: tuple[Want, str], two: tuple[Want, str]) -> float:
        """How little is known of a return or shield and its line belonging together: 0 stated, 1 by name, 2 nothing."""
        for (back, its), (line, named) in ((one, two), (two, one)):
            if line.point in back.serves:
                return 2.0 - kin(self.site, self.site.circuit(its), self.site.circuit(named))
        return 0.0

    def whole(self, chosen: Sequence[tuple[Slot, Candidate | None]]) -> Score:
        """A whole choice."""
        total = NOTHING
        for number, (slot, one) in enumerate(chosen):
            total = plus(total, self.own(slot, one))
            for other, its in chosen[:number]:
                total = plus(total, self.between(slot, one, other, its))
        return total


def kin(site: rules.Site, back: Circuit, line: Circuit) -> int:
    """How sure a return or a shield belongs to a line: 2 a file says so, 1 their names share a word, 0 not at all."""
    if back.signal == "shield" and back.shields is not None:
        return 2 * (back.shields in (line.name, line.pair))
    if back.signal != "shield" and line.returns is not None:
        return 2 * (line.returns == back.name or site.leads_to(back.name, line.returns))
    return int(bool(words(back.name) & words(line.name)))


def part_behind(first: Score, second: Score) -> str:
    """The first part in which a choice is worse than the best; empty when it is as good."""
    return next((name for name, a, b in zip(PARTS, first, second, strict=True) if b > a), "")
