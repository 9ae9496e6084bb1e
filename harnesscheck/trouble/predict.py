"""What every reading would be with a given fault in the wiring: resistances between groups of probes, and volts.

Copper that a fault does not touch keeps its values: only the components that it changes are worked out again. The
groups of a bussed reading couple separate components only through the probes, so their conductances add.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

from harnesscheck.place import Point
from harnesscheck.trouble.copper import OPEN, Wire, bilinear, conductances, joined, reduced
from harnesscheck.trouble.network import Network, Piece
from harnesscheck.trouble.powered import volts_at


class Asked(Protocol):
    """What is asked of a reading: its kind, and the points that each probe (or shorting plug) holds."""

    @property
    def kind(self) -> str: ...  # noqa: D102
    @property
    def a(self) -> tuple[Point, ...]: ...  # noqa: D102
    @property
    def b(self) -> Sequence[Point]: ...  # noqa: D102


class InSeries(Asked, Protocol):
    """Lines put one behind the other by loop-back leads."""

    @property
    def lines(self) -> tuple[tuple[Point, Point], ...]: ...  # noqa: D102


@dataclass(frozen=True, slots=True)
class Edit:
    """A fault as a change of the network."""

    change: tuple[tuple[int, int, int, float], ...] = ()
    """(piece number, new end, new end, new ohms); infinite ohms take the piece out."""
    add: tuple[Wire, ...] = ()
    """New resistances: (node, node, ohms)."""

    def plus(self, other: Edit) -> Edit:
        """Both at once; where both change one piece the second wins, except that open stays open."""
        mine = {number: rest for number, *rest in self.change}
        for number, *rest in other.change:
            if number in mine and math.isinf(mine[number][2]):
                continue
            mine[number] = rest
        return Edit(tuple((n, a, b, ohms) for n, (a, b, ohms) in mine.items()), self.add + other.add)  # type: ignore[misc]


class Predictor:
    """Answers for one network and one list of readings."""

    def __init__(self, net: Network, readings: Sequence[Asked]) -> None:
        self.net = net
        self.readings = list(readings)
        self.count = len(net.index)
        self.hot = [reading.kind == "volts" for reading in self.readings]
        self.reds, self.blacks = self._masks(False)
        self.cold = _Half(net, [p for p in net.pieces if p.kind != "breaker"], self.reds, self.blacks)
        self.powered = any(self.hot) and bool(net.fixed)
        if self.powered:
            self.trips = {(p.a, p.b, p.ohms): p.trips for p in net.pieces if not math.isinf(p.trips)}
            self.live = _Half(net, net.pieces, [0] * self.count, [0] * self.count)
            self.ends = [
                (self._first(reading.a), self._first(reading.b)) if hot else (None, None)
                for reading, hot in zip(self.readings, self.hot, strict=True)
            ]
            self.volts_at = self._volts(range(len(self.live.members)), self.live.members)
            self.touching: dict[int, list[int]] = {}
            for number, ends in enumerate(self.ends):
                for node in ends:
                    if node is not None:
                        self.touching.setdefault(node, []).append(number)
        self.healthy = list(self._healthy())
        self._chains: dict[int, _Chain] = {}
        self._kept: dict[Edit, dict[int, float]] = {}

    def _first(self, points: Iterable[Point]) -> int | None:
        return next((self.net.index[p] for p in points if p in self.net.index), None)

    def _masks(self, hot: bool) -> tuple[list[int], list[int]]:
        reds, blacks = [0] * self.count, [0] * self.count
        for number, reading in enumerate(self.readings):
            if self.hot[number] is not hot:
                continue
            for points, mask in ((reading.a, reds), (reading.b, blacks)):
                for point in points:
                    if point in self.net.index:
                        mask[self.net.index[point]] |= 1 << number
        return reds, blacks

    def _healthy(self) -> Iterable[float]:
        sums = [0.0] * len(self.readings)
        for found in self.cold.found:
            for number, siemens in found.items():
                sums[number] += siemens
        self.sums = sums
        for number, siemens in enumerate(sums):
            if self.hot[number]:
                yield self._across(number, {}) if self.powered else math.nan
            else:
                yield OPEN if siemens == 0 else 1 / siemens if siemens != OPEN else 0.0

    def effect(self, edit: Edit) -> dict[int, float]:
        """Reading number to ohms or volts, for the readings that the fault can change; all others stay."""
        kept = self._kept.get(edit)
        if kept is None:
            kept = self._kept[edit] = self._effect(edit)
        return kept

    def family(self, edits: Sequence[Edit]) -> list[dict[int, float]]:
        """``effect`` of edits that differ in the ohms of one resistance only.

        What is read is a bilinear function of one resistance x (R = (p + q x) / (1 + r x)), so three of them say all.
        """
        if len(edits) < 4 or self.powered:
            return [self.effect(edit) for edit in edits]
        first, middle, last = (self.effect(edit) for edit in _some(edits))
        found: list[dict[int, float]] = [{} for _ in edits]
        for number, value in first.items():
            every = _between(edits, (value, middle[number], last[number]))
            for effect, one in zip(found, every, strict=True):
                effect[number] = one
        return found

    def _effect(self, edit: Edit) -> dict[int, float]:
        old, new = self.cold.after(edit)
        values: dict[int, float] = {}
        more: dict[int, float] = {}
        for found, sign in ((f, sign) for group, sign in ((old, -1.0), (new, 1.0)) for f in group):
            for number, siemens in found.items():
                more[number] = more.get(number, 0.0) + sign * siemens
        for number, change in more.items():
            siemens = self.sums[number]
            if siemens == OPEN or math.isnan(change):  # probes that touch by design cannot be taken from the sum
                rest = sum(f.get(number, 0.0) for f in self.cold.found if not any(f is o for o in old))
                siemens = rest + sum(found.get(number, 0.0) for found in new)
            else:
                siemens += change
                if siemens < 1e-12 * self.sums[number]:
                    siemens = 0.0
            values[number] = OPEN if siemens < 1e-11 else 0.0 if siemens == OPEN else 1 / siemens
        if self.powered:
            values.update(self._effect_on_volts(edit))
        return values

    # -- lines in series ---------------------------------------------------------------------------------------

    def extend(self, asked: InSeries) -> int:
        """One more reading, of lines in series. Returns its number."""
        number = len(self.readings)
        self.readings.append(asked)
        self.hot.append(False)
        self._chains[number] = _Chain(self.cold, [(self.net.index[a], self.net.index[b]) for a, b in asked.lines])
        self.healthy.append(self._chains[number].ohms(Edit()))
        return number

    def reaches(self, edit: Edit, number: int) -> bool:
        """True when a fault touches copper of a reading in series."""
        return bool(self.cold.touched(edit) & self._chains[number].parts)

    def series(self, number: int, edits: Sequence[Edit]) -> list[float]:
        """Ohms of a reading in series with a fault, for every strength of it (see ``family``)."""
        chain = self._chains[number]
        if len(edits) < 4:
            return [chain.ohms(edit) for edit in edits]
        return _between(edits, [chain.ohms(edit) for edit in _some(edits)])

    # -- with the power on -------------------------------------------------------------------------------------

    def _effect_on_volts(self, edit: Edit) -> dict[int, float]:
        parts = self.live.parts(edit)
        numbers = {n for nodes, _ in parts for node in nodes for n in self.touching.get(node, ())}
        if not numbers:
            return {}
        volts = self._volts(range(len(parts)), parts)
        return {number: self._across(number, volts) for number in numbers}

    def _volts(self, which: Iterable[int], parts: Sequence[tuple[list[int], list[Wire]]]) -> dict[int, float | None]:
        found: dict[int, float | None] = {}
        for part in which:
            nodes, wires = parts[part]
            found.update(volts_at(nodes, wires, self.net.fixed, self.trips))
        return found

    def _across(self, number: int, volts: dict[int, float | None]) -> float:
        """Volts from probe to probe; a probe on copper that no supply reaches reads 0."""
        red, black = self.ends[number]
        one = None if red is None else volts.get(red, self.volts_at.get(red))
        two = None if black is None else volts.get(black, self.volts_at.get(black))
        return 0.0 if one is None or two is None else one - two


def _some(edits: Sequence[Edit]) -> tuple[Edit, Edit, Edit]:
    return edits[0], edits[len(edits) // 2], edits[-1]


def _between(edits: Sequence[Edit], three: Sequence[float]) -> list[float]:
    """A reading for edits that differ in one resistance, from its values at the first, middle and last of them."""

    def ohms(edit: Edit) -> float:
        return edit.add[0][2] if edit.add else edit.change[0][3]

    fitted = bilinear([ohms(edit) for edit in _some(edits)], three)
    if len(fitted) == 1:
        return [fitted[0]] * len(edits)
    return [(fitted[0] + fitted[1] * ohms(edit)) / (1 + fitted[2] * ohms(edit)) for edit in edits]


class _Half:
    """The components of the network for one state of the power, and the conductance that each lends each reading."""

    def __init__(self, net: Network, pieces: Sequence[Piece], reds: list[int], blacks: list[int]) -> None:
        self.reds, self.blacks = reds, blacks
        used = {id(piece) for piece in pieces}
        self.wires: dict[int, Wire] = {
            number: (p.a, p.b, p.ohms) for number, p in enumerate(net.pieces) if id(p) in used
        }
        near: list[list[int]] = [[] for _ in net.index]
        for number, (a, b, _) in self.wires.items():
            near[a].append(number)
            near[b].append(number)
        self.comp = [-1] * len(near)
        self.members: list[tuple[list[int], list[Wire]]] = []
        self.numbers: list[list[int]] = []
        for start in range(len(near)):
            if self.comp[start] < 0:
                self.comp[start], nodes, own = len(self.members), [start], set()
                for node in nodes:
                    for number in near[node]:
                        own.add(number)
                        for other in self.wires[number][:2]:
                            if self.comp[other] < 0:
                                self.comp[other] = len(self.members)
                                nodes.append(other)
                self.numbers.append(sorted(own))
                self.members.append((nodes, [self.wires[n] for n in sorted(own)]))
        self.found = [conductances(nodes, wires, reds, blacks) for nodes, wires in self.members]
        self._seen: dict[tuple[Wire, ...], dict[int, float]] = {}

    def touched(self, edit: Edit) -> set[int]:
        """The components that a fault changes."""
        nodes = [node for a, b, _ in edit.add for node in (a, b)]
        for number, a, b, _ in edit.change:
            if number in self.wires:
                nodes += (a, b, *self.wires[number][:2])
        return {self.comp[node] for node in nodes}

    def parts(self, edit: Edit) -> list[tuple[list[int], list[Wire]]]:
        """The components that the fault leaves where it has changed something: nodes and resistances of each."""
        touched = sorted(self.touched(edit))
        changed = {number: (a, b, ohms) for number, a, b, ohms in edit.change}
        near: dict[int, list[int]] = {node: [] for comp in touched for node in self.members[comp][0]}
        wires: list[Wire] = []
        for comp in touched:
            for number in self.numbers[comp]:
                wire = changed.get(number) or self.wires[number]
                if wire[2] != OPEN:
                    wires.append(wire)
        wires += edit.add
        for place, (a, b, _) in enumerate(wires):
            near[a].append(place)
            near[b].append(place)
        seen: set[int] = set()
        found = []
        for start in near:
            if start not in seen:
                seen.add(start)
                nodes, own = [start], set()
                for node in nodes:
                    for place in near[node]:
                        own.add(place)
                        a, b, _ = wires[place]
                        other = b if a == node else a
                        if other not in seen:
                            seen.add(other)
                            nodes.append(other)
                found.append((nodes, [wires[place] for place in own]))
        return found

    def after(self, edit: Edit) -> tuple[list[dict[int, float]], list[dict[int, float]]]:
        """Conductances by reading of the components that were touched: before and after."""
        bridge = self._bridge(edit)
        if bridge is not None:
            return bridge
        old = [self.found[comp] for comp in sorted(self.touched(edit))]
        new = []
        for nodes, wires in self.parts(edit):
            if not wires:
                continue
            key = tuple(sorted(wires))  # two resistors alike side by side are two, so a set would not do
            values = self._seen.get(key)
            if values is None:
                values = self._seen[key] = conductances(nodes, wires, self.reds, self.blacks)
            new.append(values)
        return old, new

    def _bridge(self, edit: Edit) -> tuple[list[dict[int, float]], list[dict[int, float]]] | None:
        """One new resistance between two components: readings that lie within one of them stay as they are."""
        if edit.change or len(edit.add) != 1:
            return None
        (a, b, ohms) = edit.add[0]
        one, two = self.comp[a], self.comp[b]
        if one == two:
            return None
        masks = [self._mask(comp) for comp in (one, two)]
        crossing = (masks[0][0] | masks[0][1]) & (masks[1][0] | masks[1][1])
        old = [{n: g for n, g in self.found[comp].items() if crossing >> n & 1} for comp in (one, two)]
        if not crossing:
            return old, []
        nodes = self.members[one][0] + self.members[two][0]
        wires = [*self.members[one][1], *self.members[two][1], (a, b, ohms)]
        return old, [conductances(nodes, wires, self.reds, self.blacks, crossing)]

    def _mask(self, comp: int) -> tuple[int, int]:
        red = black = 0
        for node in self.members[comp][0]:
            red |= self.reds[node]
            black |= self.blacks[node]
        return red, black


class _Chain:
    """Lines one behind the other; what a fault does not touch stays one resistance a line."""

    def __init__(self, half: _Half, lines: Sequence[tuple[int, int]]) -> None:
        self.half, self.lines = half, lines
        self.parts = {half.comp[a] for a, _ in lines}
        self.each = []
        for a, b in lines:
            nodes, wires = half.members[half.comp[a]]
            place = joined(nodes, wires)
            if half.comp[a] != half.comp[b]:
                self.each.append(OPEN)
            elif place[a] == place[b]:
                self.each.append(0.0)
            else:
                self.each.append(1 / reduced(place, wires, {place[a]}, {place[b]}))

    def ohms(self, edit: Edit) -> float:
        """Ohms from the first end to the last."""
        touched = self.half.touched(edit)
        outside = between = 0.0
        leads: list[Wire] = []
        first = last = -1
        for (a, b), ohms in zip(self.lines, self.each, strict=True):
            if self.half.comp[a] not in touched:
                between += ohms
                continue
            if first < 0:
                first, outside = a, between
            else:
                leads.append((last, a, between))
            last, between = b, 0.0
        outside += between
        if first < 0 or outside == OPEN:
            return outside
        parts = self.half.parts(edit)
        wires = [wire for _, own in parts for wire in own] + leads
        nodes = {node for own, _ in parts for node in own}
        place = joined(nodes, wires)
        if place[first] == place[last]:
            return outside
        siemens = reduced(place, wires, {place[first]}, {place[last]})
        return outside + 1 / siemens if siemens > 1e-11 else OPEN
