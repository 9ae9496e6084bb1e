"""The next best reading: most information for the minutes that it takes.

The gain of a reading is the entropy of its outcome, less what stays open when the fault is known (the strength of a bad
crimp). One step ahead is near the optimum (de Kleer and Williams 1987); with costs the best gain a minute is taken.
Beside the readings of the list two kinds are offered that halve many suspects at once: nets tied in two groups by
shorting plugs, and several lines put in series by loop-back leads.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import zip_longest

from harnesscheck.place import Point
from harnesscheck.source import Source, Status
from harnesscheck.trouble.predict import Asked
from harnesscheck.trouble.rank import Ranker, Ranking, Taken, same

MINUTES: Mapping[str, float] = {
    "continuity": 0.7, "ohms": 0.8, "isolation": 0.8, "volts": 1.0, "groups": 1.0, "series": 1.0,
}  # fmt: skip
"""Minutes a reading takes by its kind; ``groups`` and ``series``: with leads to plug over."""
MINUTES_SOURCE = Source("", Status.COMMON, paragraph="half a minute to say which cavities, find and write; "
                        "10 s to read; half a minute to plug leads over")  # fmt: skip
SETTLED = 0.95
"""Probability from which a suspect counts as found."""
EVEN = 0.5
"""Share of the weight that goes to all distinguishable suspects alike when a reading is chosen. The priors are opinion:
half of each costs at most one reading more where they are right (log2 of 2), and little where they are not."""
LEAST_SHARE = 1e-5
"""Suspects less likely than this do not count when lines are put in series."""
LEAST_GAIN = 0.02
"""Bits below which a reading is not worth taking."""


@dataclass(frozen=True, slots=True)
class Groups:
    """Nets tied in two groups by shorting plugs and read against each other."""

    a: tuple[Point, ...]
    b: tuple[Point, ...]
    kind: str = "isolation"


@dataclass(frozen=True, slots=True)
class Series:
    """Lines put one behind the other by loop-back leads, read from the first point to the last."""

    lines: tuple[tuple[Point, Point], ...]
    """Each line from where it is entered to where it is left."""
    kind: str = "series"

    @property
    def a(self) -> tuple[Point, ...]:
        """Where one probe is held."""
        return (self.lines[0][0],)

    @property
    def b(self) -> tuple[Point, ...]:
        """Where the other is held."""
        return (self.lines[-1][1],)

    @property
    def leads(self) -> list[tuple[Point, Point]]:
        """The loop-back leads."""
        return [(one[1], two[0]) for one, two in zip(self.lines, self.lines[1:], strict=False)]


@dataclass(frozen=True, slots=True)
class Question:
    """The reading to take next."""

    number: int
    gain: float
    """Bits."""
    minutes: float
    asked: Asked


def entropy(shares: Iterable[float]) -> float:
    """Bits of a distribution; it need not sum to 1.

    >>> round(entropy([0.2857, 0.0714, 0.2857, 0.0714, 0.2857]), 2)
    2.09
    """
    held = [share for share in shares if share > 0]
    whole = sum(held)
    return sum(share / whole * math.log2(whole / share) for share in held)


def gain(outcomes: Sequence[tuple[int, float, float]], hot: bool = False) -> float:
    """Bits that a reading tells of which suspect it is. Each outcome: (suspect, probability, value).

    Values that a meter cannot tell apart are one outcome. Two suspects of equal share that read 60 and 120 ohm:

    >>> gain([(0, 0.5, 60.0), (1, 0.5, 120.0)]), gain([(0, 0.5, 60.0), (1, 0.5, 60.2)])
    (1.0, 0.0)
    """
    seen: list[float] = []
    of_suspect: dict[int, dict[int, float]] = {}
    start = math.nan
    for suspect, share, value in sorted(outcomes, key=lambda one: one[2]):
        if not seen or not same(start, value, hot):
            seen.append(0.0)
            start = value
        seen[-1] += share
        own = of_suspect.setdefault(suspect, {})
        own[len(seen) - 1] = own.get(len(seen) - 1, 0.0) + share
    whole = sum(seen)
    left = sum(sum(own.values()) * entropy(own.values()) for own in of_suspect.values() if len(own) > 1)
    return max(0.0, entropy(seen) - left / whole) if whole > 0 else 0.0


def groups(nets: Sequence[Sequence[Point]], most: int = 28) -> list[Groups]:
    """Ways to tie nets in two groups: by one bit of their number, then by two: each halves the pairs of nets."""
    bits = (len(nets) - 1).bit_length() if nets else 0
    masks = [1 << n for n in range(bits)] + [1 << n | 1 << m for n in range(bits) for m in range(n)]
    found = []
    for mask in masks[:most]:
        sides: tuple[list[Point], list[Point]] = ([], [])
        for number, net in enumerate(nets):
            sides[(number & mask).bit_count() & 1].extend(net)
        found.append(Groups(tuple(sides[1]), tuple(sides[0])))
    return found


class Asker:
    """Chooses readings for one ranker. ``numbers`` are the readings that may be asked for."""

    def __init__(
        self, ranker: Ranker, numbers: Iterable[int], minutes: Mapping[str, float] = MINUTES, plugs: bool = True
    ) -> None:
        self.ranker = ranker
        self.numbers = list(numbers)
        self.minutes = minutes
        self.layers = list(self._layers()) if plugs else []

    def _layers(self) -> Iterable[list[int]]:
        """Continuity readings of different nets, which can be put in series: the first of each net, the second, ..."""
        predictor = self.ranker.predictor
        nets: dict[int, list[int]] = {}
        for number in self.numbers:
            asked = predictor.readings[number]
            if asked.kind == "continuity" and len(asked.a) == len(asked.b) == 1:
                nets.setdefault(predictor.cold.comp[predictor.net.index[asked.a[0]]], []).append(number)
        layers = (sorted(n for n in each if n is not None) for each in zip_longest(*nets.values()))
        return [layer for layer in layers if len(layer) > 2]

    def next(self, ranking: Ranking, taken: Iterable[Taken], free: bool = False) -> Question | None:
        """The best reading not yet taken; None when nothing would be learned. ``free``: minutes do not count."""
        done = {one.number for one in taken}
        shares = self._shares(ranking)
        for layer in self.layers:
            self._halve(layer, ranking, shares)
        predictor = self.ranker.predictor
        table = self._table(ranking, shares)
        best: Question | None = None
        for number in [*self.numbers, *range(self.ranker.first_extra, len(predictor.readings))]:
            if number in done or number not in table:
                continue
            bits = gain(table[number], predictor.hot[number])
            if bits < LEAST_GAIN:
                continue
            minutes = 1.0 if free else self.cost(predictor.readings[number])
            if best is None or bits / minutes > best.gain / best.minutes + 1e-9:
                best = Question(number, bits, minutes, predictor.readings[number])
        return best

    def cost(self, asked: Asked) -> float:
        """Minutes that a reading takes."""
        tied = asked.kind == "isolation" and isinstance(asked, Groups)
        return self.minutes.get("groups" if tied else asked.kind, 0.5)

    def settled(self, ranking: Ranking) -> bool:
        """True when one suspect, or the wiring as designed, is as good as sure."""
        top = max([ranking.nothing + ranking.hidden, *(s.probability for s in ranking.suspects)])
        return top >= SETTLED

    def _shares(self, ranking: Ranking) -> list[float]:
        """Of each suspect when a reading is chosen: half by its prior, half as if all were equally likely at first."""
        classes, prior = self.ranker.classes, self.ranker.priors
        alike = EVEN / max(len(prior), 1)
        found = []
        for suspect in ranking.suspects:
            own = prior[classes[suspect.numbers[0]]] if suspect.numbers else 0.0
            found.append(suspect.probability * ((1 - EVEN) + alike / own) if own > 0 else suspect.probability)
        return found

    def _table(self, ranking: Ranking, shares: Sequence[float]) -> dict[int, list[tuple[int, float, float]]]:
        """By reading: what each suspect would show, and with which probability."""
        healthy = self.ranker.predictor.healthy
        table: dict[int, list[tuple[int, float, float]]] = {}
        whole = ranking.nothing + ranking.hidden
        for place, suspect in enumerate(ranking.suspects):
            if shares[place] < 1e-6:
                continue
            whole += shares[place]
            for share, effect in suspect.effects:
                mass = share * shares[place]
                if mass < 1e-7:
                    continue
                for number, value in effect.items():
                    table.setdefault(number, []).append((place, mass, value))
        for number, rows in table.items():
            own: dict[int, float] = {}
            for place, mass, _ in rows:
                own[place] = own.get(place, 0.0) + mass
            for place, mass in own.items():
                left = shares[place] - mass
                if left > 1e-7:
                    rows.append((place, left, healthy[number]))
            others = whole - sum(shares[place] for place in own)
            rows.append((-1, max(others, 0.0), healthy[number]))
        return table

    def _halve(self, layer: Sequence[int], ranking: Ranking, shares: Sequence[float]) -> None:
        """Offer the series of lines that splits what is suspected of a layer most evenly."""
        place = {number: n for n, number in enumerate(layer)}
        healthy = self.ranker.predictor.healthy
        mass = [0.0] * len(layer)
        for own, suspect in zip(shares, ranking.suspects, strict=True):
            if own < 1e-6:
                continue
            for share, effect in suspect.effects:
                hit = [place[n] for n, v in effect.items() if n in place and not same(v, healthy[n])]
                if hit:
                    mass[min(hit)] += share * own
        half, so_far, cut = sum(mass) / 2, 0.0, 0
        while so_far + mass[cut] / 2 < half:  # before the last one at the latest: half of it and all before is more
            so_far += mass[cut]
            cut += 1
        if cut < 2:
            return
        lines, over = [], False
        for number in layer[:cut]:
            asked = self.ranker.predictor.readings[number]
            ends = (asked.a[0], asked.b[0])
            lines.append(ends[::-1] if over else ends)
            over = not over
        both = zip(shares, ranking.suspects, strict=True)
        leaders = (s.numbers[0] for own, s in both if s.numbers and own >= LEAST_SHARE)
        self.ranker.offer(Series(tuple(lines)), list(leaders))
