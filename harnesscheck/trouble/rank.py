"""From readings to suspects: the posterior over all single and double faults, and what they leave unexplained.

Bayes' rule over the universe of faults (de Kleer and Williams 1987, Artificial Intelligence 32, 97-130, without its
assumption sets: the universe is small enough to be tried whole). A reading is never believed without doubt: leads and
tolerances spread it, a bad contact may happen to read well, and one reading in a hundred is simply wrong.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from harnesscheck.trouble.faults import PRIORS, Trouble
from harnesscheck.trouble.predict import InSeries, Predictor

LEADS = 0.25
"""Ohms by which leads and contact of the probe spread a reading: half of 0.2 to 0.5 ohm (common practice)."""
TOLERANCE = 0.02
"""Share by which terminators, wire and meter spread a reading: 1 % to 5 % resistors (common practice)."""
VOLTS_SPREAD = 0.2
"""Volts by which supply and meter spread a reading. Common practice."""
OPEN_FROM = 1e6
"""Ohms from which a reading counts as open. Common practice: units off, 1 Mohm and more to everything else."""
SLIP = 0.01
"""Share of readings that are simply wrong: wrong cavity probed, typing. Opinion."""
DOUBLES = 60
"""Single faults that are tried in pairs: those that make the readings likelier, best first."""
APART_OHMS, APART_SHARE, APART_VOLTS = 0.4, 0.03, 0.4
"""Two predictions nearer than this are the same to a meter with leads. Common practice."""


@dataclass(frozen=True, slots=True)
class Taken:
    """One reading as taken: a value (infinite: open), or only somebody's verdict."""

    number: int
    value: float | None = None
    good: bool | None = None


@dataclass(slots=True)
class Suspect:
    """Faults that no reading can tell apart, and how probable it is that it is one of them."""

    troubles: tuple[tuple[Trouble, ...], ...]
    """Each a single fault or a pair of faults; the likeliest first."""
    numbers: tuple[int, ...]
    """Of the single faults, in the same order; empty for a pair."""
    probability: float
    effects: list[tuple[float, dict[int, float]]]
    """Of the likeliest: share and predicted readings for every strength of it."""
    explains: tuple[int, ...] = ()
    """Numbers of readings that are wrong, and are what this fault would give."""
    contradicts: tuple[int, ...] = ()
    """Numbers of readings that are not what this fault would give."""


@dataclass(slots=True)
class Ranking:
    """All suspects, likeliest first."""

    suspects: list[Suspect]
    wrong: tuple[int, ...]
    """Readings outside what the wiring as designed would give."""
    nothing: float
    """Probability that the wiring is as designed."""
    hidden: float
    """Probability of a fault that no reading of the article shows."""
    hidden_first: tuple[Trouble, ...]
    """The likeliest of those."""
    unknown: float
    """Probability of something that is no single or double fault of the universe."""
    tried: tuple[int, int] = (0, 0)
    """Single faults and pairs that were tried."""


def update(priors: Sequence[float], likelihoods: Sequence[float]) -> list[float]:
    """Bayes' rule.

    >>> [round(p, 3) for p in update([0.3, 0.7], [0.6, 1.0])]      # a bad crimp that reads well 60 % of the time
    [0.205, 0.795]
    """
    joint = [p * like for p, like in zip(priors, likelihoods, strict=True)]
    whole = sum(joint)
    return [p / whole for p in joint] if whole > 0 else list(priors)


def same(a: float, b: float, hot: bool = False) -> bool:
    """True when a meter cannot tell the two predictions apart."""
    if hot:
        return abs(a - b) <= APART_VOLTS
    if a >= OPEN_FROM or b >= OPEN_FROM:
        return a >= OPEN_FROM and b >= OPEN_FROM
    return abs(a - b) <= APART_OHMS + APART_SHARE * max(a, b)


class Ranker:
    """Ranks the faults of one article as readings come in; predictions are worked out once."""

    def __init__(
        self, predictor: Predictor, troubles: Sequence[Trouble], bands: Sequence[tuple[float, float]],
        factors: Mapping[int, float] | None = None, priors: Mapping[str, float] = PRIORS,
    ) -> None:  # fmt: skip
        self.predictor = predictor
        self.troubles = list(troubles)
        self.bands = list(bands)
        """Accept band of every reading, for verdicts without a value."""
        weights = [t.weight * (factors or {}).get(n, 1.0) for n, t in enumerate(troubles)]
        self.left = max(1.0 - sum(t.weight for t in troubles), 1e-6)
        share = priors["nothing"] / (priors["nothing"] + priors["something else"])
        whole = sum(weights) + self.left
        self.weights = [w / whole for w in weights]
        self.designed, self.other = self.left * share / whole, self.left * (1 - share) / whole
        self.effects = [predictor.family(trouble.edits) for trouble in self.troubles]
        self.classes = self._classes()
        self.priors: dict[int, float] = {}
        """Of each class that readings can tell apart, by its leader."""
        for leader, weight in zip(self.classes, self.weights, strict=True):
            if leader >= 0:
                self.priors[leader] = self.priors.get(leader, 0.0) + weight
        self.first_extra = len(predictor.readings)
        """Readings from this number on were offered later."""
        self._left: dict[int, set[int]] = {}
        """Of those, the faults that they are not predicted for yet."""

    def offer(self, asked: InSeries, wanted: Iterable[int]) -> int:
        """One more reading that may be taken: lines in series. Returns its number.

        ``wanted`` are the faults to predict it for; the others follow when it has been taken.
        """
        predictor = self.predictor
        number = next((n for n in self._left if predictor.readings[n] == asked), None)
        if number is None:
            number = predictor.extend(asked)
            self.bands.append((0.0, predictor.healthy[number] + 2.0))
            self._left[number] = set(range(len(self.troubles)))
        self._series(number, wanted)
        return number

    def _series(self, number: int, wanted: Iterable[int]) -> None:
        predictor, left = self.predictor, self._left[number]
        for n in left.intersection(wanted):
            if predictor.reaches(self.troubles[n].edits[0], number):
                values = predictor.series(number, self.troubles[n].edits)
                for value, effect in zip(values, self.effects[n], strict=True):
                    if not same(value, predictor.healthy[number]):
                        effect[number] = value
        left.difference_update(wanted)

    # -- what no reading can tell apart ------------------------------------------------------------------------

    def _classes(self) -> list[int]:
        """Each fault's leader: the first fault with the same predictions; -1: same as the wiring as designed."""
        leaders: dict[tuple[int, frozenset[int]], list[int]] = {}
        found: list[int] = []
        for number, effects in enumerate(self.effects):
            seen = [self._seen(effect) for effect in effects]
            if not any(seen):
                found.append(-1)
                continue
            key = (len(effects), frozenset(r for effect in seen for r in effect))
            near = leaders.setdefault(key, [])
            leader = next((other for other in near if self._alike(number, other)), None)
            if leader is None:
                near.append(number)
            found.append(number if leader is None else leader)
        return found

    def _seen(self, effect: Mapping[int, float]) -> dict[int, float]:
        healthy, hot = self.predictor.healthy, self.predictor.hot
        return {r: v for r, v in effect.items() if not same(v, healthy[r], hot[r])}

    def _alike(self, one: int, two: int) -> bool:
        healthy, hot = self.predictor.healthy, self.predictor.hot
        for a, b in zip(self.effects[one], self.effects[two], strict=True):
            for r in a.keys() | b.keys():
                if not same(a.get(r, healthy[r]), b.get(r, healthy[r]), hot[r]):
                    return False
        return True

    def _open(self, taken: Taken) -> bool:
        """True when a value counts as open: beyond the limit of its reading, and in any case beyond 1 Mohm."""
        return taken.value is not None and taken.value >= max(OPEN_FROM, self.bands[taken.number][0])

    # -- one reading -------------------------------------------------------------------------------------------

    def likelihood(self, taken: Taken, predicted: float, spread: float = 0.0) -> float:
        """How likely a reading is when the wiring would give ``predicted``; never zero."""
        hot, healthy = self.predictor.hot[taken.number], self.predictor.healthy[taken.number]
        if taken.value is None:
            low, high = self.bands[taken.number]
            inside = low <= predicted <= high or same(predicted, healthy, hot)
            return 1 - SLIP if inside is taken.good else SLIP
        value = taken.value
        if hot:
            return (1 - SLIP) * _normal(value - predicted, math.hypot(VOLTS_SPREAD, 0.02 * predicted)) + SLIP / 40
        if self._open(taken):
            return 1 - SLIP if predicted >= OPEN_FROM else SLIP / 3
        slip = SLIP / ((abs(value) + 0.5) * 17)
        if predicted >= OPEN_FROM:
            return slip
        extra = 0.0 if healthy >= OPEN_FROM else healthy
        wide = math.hypot(LEADS, TOLERANCE * predicted, spread * abs(predicted - extra))
        return (1 - SLIP) * _normal(value - predicted - 0.1, wide) + slip

    def fits(self, taken: Taken, predicted: float, spread: float = 0.0) -> bool:
        """True when a reading is what the wiring would give, within four times its spread."""
        if taken.value is None:
            return self.likelihood(taken, predicted) > 0.5
        hot, healthy = self.predictor.hot[taken.number], self.predictor.healthy[taken.number]
        if hot:
            return abs(taken.value - predicted) <= 4 * math.hypot(VOLTS_SPREAD, 0.02 * predicted)
        if self._open(taken) or predicted >= OPEN_FROM:
            return self._open(taken) and predicted >= OPEN_FROM
        extra = 0.0 if healthy >= OPEN_FROM else healthy
        wide = math.hypot(LEADS, TOLERANCE * predicted, spread * abs(predicted - extra))
        return abs(taken.value - predicted - 0.1) <= 4 * wide

    # -- all of them -------------------------------------------------------------------------------------------

    def rank(self, readings: Iterable[Taken]) -> Ranking:
        """The posterior after all readings; several of one number count each."""
        taken = list(readings)
        healthy = self.predictor.healthy
        by_number: dict[int, list[Taken]] = {}
        for one in taken:
            by_number.setdefault(one.number, []).append(one)
        for number in by_number.keys() & self._left.keys():
            self._series(number, range(len(self.troubles)))
        base = {n: [math.log(self.likelihood(t, healthy[n])) for t in group] for n, group in by_number.items()}
        wrong = tuple(n for n, group in by_number.items() if not all(self.fits(t, healthy[n]) for t in group))
        scores: list[float] = []
        shares: list[list[float]] = []
        for trouble, effects in zip(self.troubles, self.effects, strict=True):
            gains = [self._gain(effect, trouble, by_number, base) for effect in effects]
            top = max(gains)
            each = [math.exp(g - top) for g in gains]
            scores.append(top + math.log(sum(each) / len(each)))
            shares.append([e / sum(each) for e in each])
        logs = [math.log(w) + s if w > 0 else -math.inf for w, s in zip(self.weights, scores, strict=True)]
        # Something else may give any value at all; a tenth each, or it would explain everything better than two faults.
        other = math.log(self.other) + sum(
            math.log(0.1 / 3 if t.value is None or self._open(t) else 0.1 / ((abs(t.value) + 0.5) * 17)) - was
            for n in wrong for t, was in zip(by_number[n], base[n], strict=True)
        )  # fmt: skip
        doubles = self._doubles(scores, shares, by_number, base, wrong)
        return self._ranking(logs, shares, doubles, by_number, wrong, other)

    def _gain(
        self, effect: Mapping[int, float], trouble: Trouble, by_number: Mapping[int, list[Taken]],
        base: Mapping[int, list[float]],
    ) -> float:  # fmt: skip
        gain = 0.0
        for number in effect.keys() & by_number.keys():
            predicted = effect[number]
            for one, was in zip(by_number[number], base[number], strict=True):
                likely = self.likelihood(one, predicted, trouble.spread)
                if trouble.comes_and_goes:
                    likely = (1 - trouble.comes_and_goes) * likely + trouble.comes_and_goes * math.exp(was)
                gain += math.log(likely) - was
        return gain

    def _doubles(
        self, scores: Sequence[float], shares: Sequence[Sequence[float]], by_number: Mapping[int, list[Taken]],
        base: Mapping[int, list[float]], wrong: Sequence[int],
    ) -> list[tuple[float, int, int, dict[int, float]]]:  # fmt: skip
        """Pairs of faults, when no single one explains every reading. Faults of separate copper simply add."""
        best = max(range(len(scores)), key=lambda n: scores[n] + math.log(self.weights[n] or 1e-300), default=None)
        if best is None or not wrong or len(wrong) == len(self._explained(best, shares, by_number, wrong)):
            return []
        useful = [n for n, s in enumerate(scores) if s > 0 and self.weights[n] > 0]
        useful.sort(key=lambda n: -(scores[n] + math.log(self.weights[n])))
        picked, seen = [], set()
        for n in useful:  # one of each class is enough: the others stand beside it in the answer
            if self.classes[n] not in seen:
                seen.add(self.classes[n])
                picked.append(n)
        picked = picked[:DOUBLES]
        whole: dict[int, float] = {}
        for n, leader in enumerate(self.classes):
            whole[leader] = whole.get(leader, 0.0) + self.weights[n]
        weigh = {n: whole[self.classes[n]] for n in picked}
        found = []
        for place, one in enumerate(picked):
            for two in picked[place + 1 :]:
                first, second = (max(range(len(shares[n])), key=shares[n].__getitem__) for n in (one, two))
                a, b = self.effects[one][first], self.effects[two][second]
                if a.keys() & b.keys():
                    edit = self.troubles[one].edits[first].plus(self.troubles[two].edits[second])
                    effect = self.predictor.effect(edit)
                    loose = max((self.troubles[one], self.troubles[two]), key=lambda t: (t.spread, t.comes_and_goes))
                    score = self._gain(effect, loose, by_number, base)
                else:
                    effect, score = {**a, **b}, scores[one] + scores[two]
                found.append((score + math.log(weigh[one] * weigh[two]), one, two, effect))
        return sorted(found, key=lambda f: -f[0])[:40]

    def _explained(
        self, number: int, shares: Sequence[Sequence[float]], by_number: Mapping[int, list[Taken]],
        wrong: Sequence[int],
    ) -> list[int]:  # fmt: skip
        strength = max(range(len(shares[number])), key=shares[number].__getitem__)
        effect, trouble = self.effects[number][strength], self.troubles[number]
        healthy = self.predictor.healthy
        return [n for n in wrong if all(self.fits(t, effect.get(n, healthy[n]), trouble.spread) for t in by_number[n])]

    def _ranking(
        self, logs: Sequence[float], shares: Sequence[Sequence[float]],
        doubles: Sequence[tuple[float, int, int, dict[int, float]]], by_number: Mapping[int, list[Taken]],
        wrong: tuple[int, ...], other: float,
    ) -> Ranking:  # fmt: skip
        designed = math.log(self.designed)
        top = max([designed, other, *logs, *(d[0] for d in doubles)])
        mass = [math.exp(value - top) for value in logs]
        pairs = [math.exp(d[0] - top) for d in doubles]
        nothing, unknown = math.exp(designed - top), math.exp(other - top)
        whole = sum(mass) + sum(pairs) + nothing + unknown
        groups: dict[int, list[int]] = {}
        for number, leader in enumerate(self.classes):
            groups.setdefault(leader, []).append(number)
        healthy = self.predictor.healthy
        suspects = []
        hidden, unshown = 0.0, sorted(groups.get(-1, ()), key=lambda n: (-mass[n], n))
        for leader, members in groups.items():
            if leader < 0:
                hidden = sum(mass[n] for n in members)
                continue
            members.sort(key=lambda n: (-mass[n], n))
            first = members[0]
            effects = list(zip(shares[first], self.effects[first], strict=True))
            troubles = tuple((self.troubles[n],) for n in members)
            suspects.append(Suspect(troubles, tuple(members), sum(mass[n] for n in members) / whole, effects))
        for (_, one, two, effect), share in zip(doubles, pairs, strict=True):
            suspects.append(Suspect(((self.troubles[one], self.troubles[two]),), (), share / whole, [(1.0, effect)]))
        suspects.sort(key=lambda s: -s.probability)
        for suspect in suspects[:40]:
            spread = max(t.spread for t in suspect.troubles[0])
            best = max(suspect.effects, key=lambda pair: pair[0])[1]
            good = {n: all(self.fits(t, best.get(n, healthy[n]), spread) for t in group)
                    for n, group in by_number.items()}  # fmt: skip
            suspect.explains = tuple(n for n in wrong if good[n])
            suspect.contradicts = tuple(n for n in by_number if not good[n])
        return Ranking(
            suspects, wrong, nothing / whole, hidden / whole, tuple(self.troubles[n] for n in unshown[:3]),
            unknown / whole, (len(self.troubles), len(doubles)),
        )  # fmt: skip


def _normal(off: float, wide: float) -> float:
    return math.exp(-0.5 * (off / wide) ** 2) / (wide * 2.5066282746310002)
