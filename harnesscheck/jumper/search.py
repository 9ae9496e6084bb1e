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
"""Pins that are not served; names that differ; things not known; returns and shields of
another circuit; capacity used; data lines used twice; distance between the cavities; cavity number. Less is better."""
_NONE: Score = (0.0,) * 8


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


def search(slots: list[Slot], site: rules.Site, court: Court) -> Found:
    """The best choice for all slots."""
    found = Found(site=site)
    found.checks = tuple(dict.fromkeys(name for slot in slots for name in rules.names(slot.signal)))
    for component in _components(slots, site):
        found.chosen += _Search(component, site, court).run()
    return found


def _components(slots: list[Slot], site: rules.Site) -> list[list[Slot]]:
    """Slots that have nothing in common (group, circuit, breaker, bus) are chosen apart."""
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
                yield ("breaker", breaker.ref)
                yield ("bus", breaker.bus)


class _Search:
    """One component."""

    def __init__(self, slots: list[Slot], site: rules.Site, court: Court) -> None:
        # What draws current comes first, then its returns: a full breaker is found out before returns are tried.
        slots = sorted(slots, key=lambda slot: slot.signal in _RETURNS)
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
        """The best candidate of each slot; None where nothing serves, or where not all can be served together."""
        self._descend(0, [], _NONE)
        if self.best is None:
            self._one_by_one()
        return list(zip(self.slots, self.chosen, strict=True))

    def _options(self, slot: Slot) -> list[tuple[Score, Candidate | None]]:
        """The candidates, best first; nothing only where the pin may stay open or where there is no candidate."""
        found: list[tuple[Score, Candidate | None]] = []
        order = {name: number for number, name in enumerate(self.site.cavities)}
        for one in slot.candidates:
            place = min(order[name] for name in one.circuits)
            found.append(((0, one.inexact, len(one.gaps), 0, round(one.burden, 6), 0, 0, place), one))
        if not slot.required or not slot.candidates:
            found.append(((len(slot.wants), 0, 0, 0, 0, 0, 0, 0), None))
        return sorted(found, key=lambda each: each[0])

    def _one_by_one(self) -> None:
        """There is no plan, and what can be served without it is looked for in order, to say which pins cannot be."""
        so_far: list[Candidate | None] = []
        for depth, slot in enumerate(self.slots):
            names = rules.names(slot.signal)
            every = [one for _, one in self.options[depth]]
            so_far.append(next((one for one in every if one is None or self._good([*so_far, one], names)), None))
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
        if self.best is not None and _plus(score, self.least[depth]) >= self.best:
            return
        if depth == len(self.slots):
            if self._good(so_far):
                self.best, self.chosen = score, list(so_far)
            return
        for own, one in self.options[depth]:
            here = [*so_far, one]
            total = _plus(score, _plus(own, self._between(depth, one, so_far)))
            if self.best is not None and _plus(total, self.least[depth + 1]) >= self.best:
                continue
            if one is None or depth == 0 or self._good(here, rules.names(self.slots[depth].signal)):
                self._descend(depth + 1, here, total)

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
        return (0, 0, 0, strange, 0, twice, far, 0)


_RETURNS = frozenset({"ground", "signal ground", "shield"})
_FREE = frozenset({"signal ground", "shield"})
"""Classes whose circuits serve any number of pins: two groups that tap the same one have nothing else in common."""
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
