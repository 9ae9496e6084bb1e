"""The best set of taps: every pin that must be served is, if it can be; then the better names, returns and margins.

A depth-first search over the pins with a bound. What is worth more comes first in a list of figures (``Score``) that
add up over the pins, so that a part of a choice can be compared with the best whole choice so far.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from harnesscheck.circuit import Circuit
from harnesscheck.jumper import rules
from harnesscheck.jumper.demand import Want, words
from harnesscheck.jumper.slots import Candidate, Slot, against
from harnesscheck.jumper.trial import Court
from harnesscheck.place import Point

Score = tuple[float, ...]
"""Pins that must be served and are not; others not served; names that differ; things not known; returns and shields of
another circuit; capacity used; data lines used twice; distance between the cavities; cavity number. Less is better."""
_NONE: Score = (0.0,) * 9


def _plus(a: Score, b: Score) -> Score:
    return tuple(x + y for x, y in zip(a, b, strict=True))


@dataclass
class Found:
    """The best choice: a candidate, or None, for each slot."""

    chosen: list[tuple[Slot, Candidate | None]] = field(default_factory=list)
    checks: tuple[str, ...] = ()
    site: rules.Site | None = None

    @property
    def taps(self) -> dict[Point, str]:
        """Pin to circuit."""
        return {point: name for slot, one in self.chosen for point, name in slot.taps(one).items()}

    def kin(self, slot: Slot, number: int) -> str:
        """Whose return or shield it is, in words."""
        return ""

    def second(self, slot: Slot, candidate: Candidate) -> str:
        """Why a candidate that would do came second."""
        assert self.site is not None
        mine = next(one for other, one in self.chosen if other is slot)
        assert mine is not None
        if candidate.inexact > mine.inexact:
            return "would do, but its name is not that of the pin"
        if len(candidate.gaps) > len(mine.gaps):
            return f"would do, but more is not known of it: {candidate.gaps[0].missing}"
        if candidate.burden > mine.burden:
            return f"would do, but has less to spare: {next((w for w in candidate.words if w), '')}"
        return "would do, and came second"


def search(grouped: list[list[Slot]], site: rules.Site, court: Court) -> Found:
    """The best choice for all slots."""
    slots = [slot for group in grouped for slot in group]
    group_of = {id(slot): number for number, group in enumerate(grouped) for slot in group}
    found = Found(site=site)
    found.checks = tuple(dict.fromkeys(name for slot in slots for name in rules.names(slot.signal)))
    for component in _components(slots, group_of, site):
        found.chosen += _Search(component, site, court).run()
    return found


def _components(slots: list[Slot], group_of: dict[int, int], site: rules.Site) -> list[list[Slot]]:
    """Slots that have nothing in common (group, circuit, breaker, bus) are chosen apart."""
    root = list(range(len(slots)))

    def find(n: int) -> int:
        while root[n] != n:
            n = root[n]
        return n

    holder: dict[object, int] = {}
    for number, slot in enumerate(slots):
        for key in (group_of[id(slot)], *_resources(slot, site)):
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
            yield ("circuit", name)
            circuit = site.circuit(name)
            breaker = site.airframe.breakers.get(site.breaker(circuit) or "")
            if breaker is not None:
                yield ("breaker", breaker.ref)
                yield ("bus", breaker.bus)


class _Search:
    """One component."""

    def __init__(self, slots: list[Slot], site: rules.Site, court: Court) -> None:
        self.slots, self.site, self.court = slots, site, court
        self.checks = tuple(dict.fromkeys(name for slot in slots for name in rules.names(slot.signal)))
        self.wants = {want.point: want for slot in slots for want in slot.wants}
        self.options = [self._options(slot) for slot in slots]
        self.least = [_NONE] * (len(slots) + 1)
        for n in range(len(slots) - 1, -1, -1):
            self.least[n] = _plus(self.least[n + 1], self.options[n][0][0])
        self.best: Score | None = None
        self.chosen: list[Candidate | None] = [None] * len(slots)

    def run(self) -> list[tuple[Slot, Candidate | None]]:
        """The best candidate of each slot."""
        self._descend(0, [], _NONE)
        return list(zip(self.slots, self.chosen, strict=True))

    def _options(self, slot: Slot) -> list[tuple[Score, Candidate | None]]:
        found: list[tuple[Score, Candidate | None]] = []
        order = {name: number for number, name in enumerate(self.site.cavities)}
        for one in slot.candidates:
            place = min(order[name] for name in one.circuits)
            found.append(((0, 0, one.inexact, len(one.gaps), 0, one.burden, 0, 0, place), one))
        count = len(slot.wants)
        nothing: Score = (count * slot.required, count * (not slot.required), 0, 0, 0, 0, 0, 0, 0)
        found.append((nothing, None))
        return sorted(found, key=lambda each: each[0])

    def _descend(self, depth: int, so_far: list[Candidate | None], score: Score) -> None:
        if self.best is not None and _plus(score, self.least[depth]) >= self.best:
            return
        if depth == len(self.slots):
            if self._good(so_far, False):
                self.best, self.chosen = score, list(so_far)
            return
        for own, one in self.options[depth]:
            here = [*so_far, one]
            total = _plus(score, _plus(own, self._between(depth, one, so_far)))
            if self.best is not None and _plus(total, self.least[depth + 1]) >= self.best:
                continue
            if one is None or depth == 0 or self._good(here, True):
                self._descend(depth + 1, here, total)

    def _good(self, so_far: list[Candidate | None], partial: bool) -> bool:
        taps = {p: n for slot, one in zip(self.slots, so_far, strict=False) for p, n in slot.taps(one).items()}
        return not taps or not against(self.court.verdict(taps, self.checks), self._drivers(taps), partial)

    def _drivers(self, taps: dict[Point, str]) -> dict[Point, Want]:
        return {point: self.wants[point] for point in taps}

    def _between(self, depth: int, one: Candidate | None, so_far: list[Candidate | None]) -> Score:
        """What a candidate costs beside those chosen before it: strange returns, lines used twice, distance."""
        if one is None:
            return _NONE
        slot = self.slots[depth]
        strange = twice = far = 0.0
        for other, its in zip(self.slots, so_far, strict=False):
            if its is None:
                continue
            for want, name in zip(slot.wants, one.circuits, strict=True):
                for before, named in zip(other.wants, its.circuits, strict=True):
                    strange += _strange(self.site, (want, name), (before, named))
                    twice += name == named and want.signal not in _SHARED and want.unit == before.unit
        return (0, 0, 0, 0, strange, 0, twice, far, 0)


_SHARED = frozenset({"power", "ground", "signal ground", "shield"})


def _strange(site: rules.Site, one: tuple[Want, str], two: tuple[Want, str]) -> float:
    """1 when one of two taps is the return or shield of the other, and their circuits are strangers."""
    for (back, its), (line, named) in ((one, two), (two, one)):
        if line.point in back.serves:
            return float(not kin(site.circuit(its), site.circuit(named)))
    return 0.0


def kin(back: Circuit, line: Circuit) -> bool:
    """True when a return or shield belongs to a line: as stated, else by what their names share."""
    if back.signal == "shield":
        return back.shields in (line.name, line.pair) if back.shields else bool(words(back.name) & words(line.name))
    if line.returns is not None:
        return line.returns == back.name
    return bool(words(back.name) & words(line.name))
