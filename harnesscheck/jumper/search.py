"""The best set of taps: every pin is served, if it can be; then the better names, returns and margins.

A depth-first search over the pins with a bound (see ``score``). Returned is the best of all choices that the checks let
pass (see ``FURTHER``); the tests compare it with every possible choice on small cases.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from harnesscheck.jumper import rules
from harnesscheck.jumper.score import NOTHING, Scale, Score, plus
from harnesscheck.jumper.slots import Candidate, Slot, against, twice
from harnesscheck.jumper.trial import Court
from harnesscheck.place import Point

_RETURNS = frozenset({"ground", "signal ground", "shield"})
_FREE = frozenset({"signal ground", "shield"})
"""Classes whose circuits serve any number of pins: two groups that tap the same one have nothing else in common."""

FURTHER = 60
"""Questions to the checks after a first whole choice, by which a better one is looked for. Whether there is a choice is
never cut short; which of several is the best may be, where a connector has many supplies."""


def search(
    slots: list[Slot], site: rules.Site, court: Court, asked: Mapping[Point, str]
) -> list[tuple[Slot, Candidate | None]]:
    """The best candidate of each slot; None where nothing serves, or where not all can be served together."""
    found: list[tuple[Slot, Candidate | None]] = []
    for component in _components(slots, site):
        found += _Search(component, site, court, asked).run()
    return found


def _components(slots: list[Slot], site: rules.Site) -> list[list[Slot]]:
    """Slots that have nothing in common (group, circuit, bus, and so breaker) are chosen apart."""
    root = list(range(len(slots)))

    def find(n: int) -> int:
        while root[n] != n:
            n = root[n]
        return n

    holder: dict[object, int] = {}
    for number, slot in enumerate(slots):
        for key in (slot.group, *_resources(slot, site)):
            if key in holder:
                a, b = sorted((find(holder[key]), find(number)))
                root[b] = a
            holder[key] = number
    found: dict[int, list[Slot]] = {}
    for number, slot in enumerate(slots):
        found.setdefault(find(number), []).append(slot)
    return list(found.values())


def _resources(slot: Slot, site: rules.Site) -> Iterable[object]:
    for candidate in slot.candidates:
        for name in candidate.circuits:
            circuit = site.circuit(name)
            if circuit.signal in _FREE:
                continue
            yield ("circuit", name)
            breaker = site.airframe.breakers.get(site.breaker(circuit) or "")
            if breaker is not None:
                yield ("bus", breaker.bus)  # breakers of which no bus is stated count as on one


class _Search:
    """One component."""

    def __init__(self, slots: list[Slot], site: rules.Site, court: Court, asked: Mapping[Point, str]) -> None:
        self.asked = asked
        # What draws current comes first, then its returns: a full breaker is found out before returns are tried.
        slots = sorted(slots, key=lambda slot: slot.signal in _RETURNS)
        self.slots, self.court, self.scale = slots, court, Scale(site)
        self.checks = tuple(dict.fromkeys(name for slot in slots for name in rules.names(slot.signal)))
        self.wants = {want.point: want for slot in slots for want in slot.wants}
        self.options = [self._options(slot) for slot in slots]
        self.best: Score | None = None
        self.until = 0
        self.chosen: list[Candidate | None] = [None] * len(slots)

    def run(self) -> list[tuple[Slot, Candidate | None]]:
        """The best candidate of each slot; None where nothing serves, or where not all can be served together."""
        self._descend(0, [], NOTHING)
        if self.best is None:
            self._one_by_one()
        return list(zip(self.slots, self.chosen, strict=True))

    def _beside(self, settled: list[tuple[Slot, Candidate | None]], slots: list[Slot]) -> _Search:
        """A search for some of the slots, with others settled."""
        fixed = {id(slot): one for slot, one in settled}
        part = _Search([*(slot for slot, _ in settled), *slots], self.scale.site, self.court, self.asked)
        for number, slot in enumerate(part.slots):
            if id(slot) in fixed:
                part.options[number] = [(self.scale.own(slot, fixed[id(slot)]), fixed[id(slot)])]
        return part

    def _one_by_one(self) -> None:
        """There is no plan. To say which pins are in the way, group after group is served as far as it can be."""
        settled: list[tuple[Slot, Candidate | None]] = []
        for group in dict.fromkeys(slot.group for slot in self.slots):
            mine = [slot for slot in self.slots if slot.group == group]
            part = self._beside(settled, mine)
            part._descend(0, [], NOTHING)
            if part.best is None:
                part._pin_by_pin()
            settled = list(zip(part.slots, part.chosen, strict=True))
        found = {id(slot): one for slot, one in settled}
        self.chosen = [found[id(slot)] for slot in self.slots]

    def _options(self, slot: Slot) -> list[tuple[Score, Candidate | None]]:
        """The candidates, best first; nothing only where the pin may stay open or where there is no candidate."""
        every: list[Candidate | None] = [*slot.candidates]
        if not slot.required or not slot.candidates:
            every.append(None)
        return sorted(((self.scale.own(slot, one), one) for one in every), key=lambda each: each[0])

    def _pin_by_pin(self) -> None:
        """Not even a group can be served as a whole: what of it can be is looked for in order."""
        so_far: list[Candidate | None] = []
        for depth, slot in enumerate(self.slots):
            names = rules.beside(slot.signal)
            every = [one for _, one in self.options[depth]]
            fits = (
                one for one in every
                if one is None or (not self._twice([*so_far, one]) and self._good([*so_far, one], names))
            )  # fmt: skip
            so_far.append(next(fits, None))
        while any(so_far) and not self._good(so_far):
            said = {finding.place.label for finding in self.court.verdict(self._taps(so_far), self.checks).faults}
            named = [n for n, slot in enumerate(self.slots) if said & {str(want.point) for want in slot.wants}]
            open_ = [n for n in named if so_far[n] is not None] or [
                n for n, one in enumerate(so_far) if one is not None
            ]
            so_far[open_[-1]] = None
        self.chosen = so_far

    def _taps(self, so_far: list[Candidate | None]) -> dict[Point, str]:
        return {p: n for slot, one in zip(self.slots, so_far, strict=False) for p, n in slot.taps(one).items()}

    def _descend(self, depth: int, so_far: list[Candidate | None], score: Score) -> None:
        if depth == len(self.slots):
            if self._good(so_far):
                if self.best is None:
                    self.until = self.court.asked + FURTHER
                self.best, self.chosen = score, list(so_far)
            return
        for total, one in self._ranked(depth, so_far, score):
            here = [*so_far, one]
            if self.best is not None and self._least(depth + 1, here, total) >= self.best:
                continue
            if self.best is not None and self.court.asked > self.until:
                return
            if self._twice(here):
                continue
            if one is None or depth == 0 or self._good(here, rules.beside(self.slots[depth].signal)):
                self._descend(depth + 1, here, total)

    def _ranked(self, depth: int, so_far: list[Candidate | None], score: Score) -> list[tuple[Score, Candidate | None]]:
        """The options of a slot with what the choice is then worth, best first."""
        slot = self.slots[depth]
        found = []
        for own, one in self.options[depth]:
            total = plus(score, own)
            for other, its in zip(self.slots, so_far, strict=False):
                total = plus(total, self.scale.between(slot, one, other, its))
            found.append((total, one))
        return sorted(found, key=lambda each: each[0])

    def _least(self, depth: int, so_far: list[Candidate | None], score: Score) -> Score:
        """What the choice is worth at best: each of the other slots at its best beside what is chosen."""
        for following in range(depth, len(self.slots)):
            score = plus(score, self._ranked(following, so_far, NOTHING)[0][0])
        return score

    def _twice(self, so_far: list[Candidate | None]) -> bool:
        """True when the last tap leads a unit to a line on which it is already."""
        last = len(so_far) - 1
        before = zip(self.slots, so_far[:last], strict=False)
        return any(twice(self.slots[last], so_far[last], other, its, self.asked) for other, its in before)

    def _good(self, so_far: list[Candidate | None], names: tuple[str, ...] = ()) -> bool:
        """Whether a choice passes; of a part of one only the ``names`` are asked, which the last tap concerns.

        The group of the last tap is asked alone first: what fails there fails beside everything else, and the answer
        is kept.
        """
        every = list(zip(self.slots, so_far, strict=False))
        group = self.slots[len(so_far) - 1].group
        own = {p: n for slot, one in every if slot.group == group for p, n in slot.taps(one).items()}
        taps = self._taps(so_far)
        for part in ([own] if names and len(own) < len(taps) else []) + [taps]:
            verdict = self.court.verdict(part, names or self.checks, all_of_it=False)
            if part and against(verdict, {point: self.wants[point] for point in part}, curable=bool(names)):
                return False
        return True
