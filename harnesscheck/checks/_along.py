"""Where splices sit along the wiring: how far from which connector, as stated or as the wire lengths say."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.splice import Splice
from harnesscheck.wire import Wire

STATED, BY_WIRE, RECKONED = 2, 1, 0
"""How good a distance is."""


@dataclass(frozen=True, slots=True)
class Station:
    """Distance of a splice from the rear face of a connector, metres."""

    distance: float
    how: str
    """``stated``, the wire whose length it is, or both ends of the run it was reckoned from."""
    grade: int


class Along:
    """The distances of the splices of one harness; the runs between connectors are looked up once."""

    def __init__(self, harness: Harness) -> None:
        self.harness = harness

    def stations(self, splice: Splice) -> dict[str, Station]:
        """Distances of a splice from every connector for which they are known, by reference.

        In this order: as stated (``at:``); the length of a wire that leads straight from the splice to the connector;
        and for a connector that a core leads to, the known run between two connectors less the distance from the
        other one.
        """
        found: dict[str, Station] = {}
        if splice.at_ref is not None and splice.at is not None:
            found[splice.at_ref] = Station(splice.at, "stated", STATED)
        led: dict[str, None] = {}
        for ref, wire in _led(self.harness, splice):
            led[ref] = None
            length, known = own_length(self.harness, wire), found.get(ref)
            if length is not None and (known is None or (known.grade != STATED and length < known.distance)):
                found[ref] = Station(length, wire.id, BY_WIRE)
        reckoned = {ref: self._reckoned(ref, found) for ref in led if ref not in found}
        return {**found, **{ref: at for ref, at in reckoned.items() if at is not None}}

    def _reckoned(self, ref: str, found: Mapping[str, Station]) -> Station | None:
        """The rest of a run: from the connector that the place is stated from, else the shortest of several rests."""
        rests = [
            (-at.grade, rest, other)
            for other, at in found.items()
            if (rest := self.runs.get(frozenset((ref, other)), 0.0) - at.distance) > 0
        ]
        if not rests:
            return None
        _, rest, other = min(rests)
        return Station(rest, f"the run from {other} to {ref}", RECKONED)

    def copper(self, splice: Splice) -> dict[str, float]:
        """Length of copper from a splice to every connector it is known for: of the wire itself where it is stated."""
        lengths = {ref: at.distance for ref, at in self.stations(splice).items()}
        own: dict[str, list[float]] = {}
        for ref, wire in _led(self.harness, splice):
            length = own_length(self.harness, wire)
            if length is not None:
                own.setdefault(ref, []).append(length)
        return {**lengths, **{ref: min(found) for ref, found in own.items()}}

    @cached_property
    def runs(self) -> dict[frozenset[str], float]:
        """The shortest known length of copper between two connectors, straight or through one splice, metres."""
        harness, runs = self.harness, dict[frozenset[str], float]()

        def enter(one: str, two: str, length: float) -> None:
            pair = frozenset((one, two))
            runs[pair] = min(runs.get(pair, length), length)

        for wire in harness.wires.values():
            if wire.length is not None and wire.a.ref in harness.connectors and wire.b.ref in harness.connectors:
                length = own_length(harness, wire)
                if length is not None:
                    enter(wire.a.ref, wire.b.ref, length)
        for splice in harness.splices.values():
            # Where the stated place and the wire differ, one of them is wrong: the longer one shortens no run.
            at = {splice.at_ref: splice.at or 0.0} if splice.at_ref else {}
            lengths = [(ref, own_length(harness, wire)) for ref, wire in _led(harness, splice)]
            ends = [(ref, max(own, at.get(ref, 0.0)) if own is not None else at.get(ref)) for ref, own in lengths]
            for (one, first), (two, second) in combinations(ends, 2):
                if one != two and first is not None and second is not None:
                    enter(one, two, first + second)
        return runs


def own_length(harness: Harness, wire: Wire) -> float | None:
    """The laid length of a wire; None for a core that has only the length of its cable, for cores are trimmed."""
    cable = harness.cables.get(wire.cable) if wire.cable else None
    return None if cable is not None and cable.length == wire.length else wire.length


def _led(harness: Harness, splice: Splice) -> Iterator[tuple[str, Wire]]:
    """The wires that lead straight from a splice to a connector, each with the connector."""
    point = Point(splice.ref)
    for wire in harness.wires_at(point):
        ref = wire.other(point).ref
        if ref in harness.connectors:
            yield ref, wire


def reached(harness: Harness, splice: Splice) -> list[str]:
    """The connectors to which a wire leads straight from a splice, and the one its place is stated from."""
    ends = [ref for ref, _ in _led(harness, splice)]
    return list(dict.fromkeys([*ends, splice.at_ref] if splice.at_ref else ends))


def millimetres(length: float, places: int = 1) -> str:
    """``60 mm``; tenths (or as many places as asked for) only where there are any."""
    return f"{round(length * 1000, places):g} mm"
