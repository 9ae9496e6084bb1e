"""Bayes' rule written out: absolute probabilities of every hypothesis, multiplied reading by reading with scipy.

The program adds logarithms relative to the sound wiring, fault by fault; here nothing is relative. The numbers of the
meter model stand here as they are documented: 0.1 ohm of leads (0.25 spread), 2 %, 0.2 V, a slip in a hundred spread
evenly over the logarithm of 0.5 ohm to some 10 Mohm (17 natural logarithms), over 40 V, or a third of it for an open.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import pytest
from scipy.stats import norm

from harnesscheck.trouble.faults import PRIORS, Trouble
from harnesscheck.trouble.rank import Ranker, Taken, same, update
from tests.trouble.small import OPEN, fault, ranker, reading


def like(value: float, predicted: float, healthy: float = 0.1, spread: float = 0.0, hot: bool = False) -> float:
    """Density of a value when so much is predicted."""
    if hot:
        return 0.99 * norm.pdf(value, predicted, math.sqrt(0.2**2 + (0.02 * predicted) ** 2)) + 0.01 / 40
    if value >= 1e7:
        return 0.99 if predicted >= 1e6 else 0.01 / 3
    slip = 0.01 / (17 * (value + 0.5))
    if predicted >= 1e6:
        return slip
    own = spread * (predicted - (0.0 if healthy >= 1e6 else healthy))
    return 0.99 * norm.pdf(value, predicted + 0.1, math.sqrt(0.25**2 + (0.02 * predicted) ** 2 + own**2)) + slip


READINGS = [
    reading("BC1"),
    reading("BC2"),
    reading("BS3", "isolation"),
    reading("BV4", "volts"),
    reading("BR5", "ohms"),
]
HEALTHY = [0.1, 0.1, OPEN, 14.0, 60.0]
EMPTY = ranker(READINGS, HEALTHY, {})


@pytest.mark.parametrize(
    ("number", "value", "predicted", "spread"),
    [
        (0, 0.2, 0.1, 0.0), (0, 0.2, 5.0, 0.4), (0, 5.5, 5.0, 0.4), (0, OPEN, OPEN, 0.0), (0, OPEN, 0.1, 0.0),
        (0, 3.0, OPEN, 0.0), (2, 0.3, 0.05, 0.3), (2, 500.0, 450.0, 0.4), (2, 2e7, OPEN, 0.0), (4, 61.0, 60.0, 0.0),
        (4, 120.0, 118.0, 0.4), (4, 0.0, 60.0, 0.0),
    ],
)  # fmt: skip
def test_how_likely_one_reading_is(number: int, value: float, predicted: float, spread: float) -> None:
    mine = EMPTY.likelihood(Taken(number, value), predicted, spread)
    assert mine == pytest.approx(like(value, predicted, HEALTHY[number], spread), rel=1e-9)


def test_how_likely_volts_are() -> None:
    for value, predicted in ((13.9, 14.0), (0.0, 14.0), (0.1, 0.0), (28.0, 28.5)):
        mine = EMPTY.likelihood(Taken(3, value), predicted)
        assert mine == pytest.approx(like(value, predicted, hot=True), rel=1e-9)


@pytest.mark.parametrize(
    ("number", "predicted", "inside"),
    [(0, 0.1, True), (0, 0.5, True), (0, 0.52, False), (0, 0.45, True), (0, 2.0, False), (2, 1e7, True),
     (2, OPEN, True), (2, 9e5, False), (4, 55.0, True), (4, 52.0, False), (4, 65.0, True), (4, 68.0, False),
     (3, 12.0, True), (3, 11.0, False)],
)  # fmt: skip
def test_a_verdict_is_right_99_times_of_100(number: int, predicted: float, inside: bool) -> None:
    """Limits: 0.5 ohm, 10 Mohm, 55 to 65 ohm, 12 to 15 V; what reads like the healthy value is good."""
    if (number, predicted) == (0, 0.52):
        predicted = 0.1 + 0.4 / 0.97 + 0.01  # 0.5224: just beyond what a meter takes for 0.1 ohm
    for good in (True, False):
        taken = Taken(number, None, good)
        assert EMPTY.likelihood(taken, predicted) == pytest.approx(0.99 if good is inside else 0.01)
        assert EMPTY.fits(taken, predicted) is (good is inside)


@pytest.mark.parametrize(
    ("number", "value", "predicted", "spread", "fits"),
    [
        # 4 x hypot(0.25, 0.02 x 1) = 1.0032 around 1.1 ohm
        (0, 2.10, 1.0, 0.0, True), (0, 2.11, 1.0, 0.0, False), (0, 0.10, 1.0, 0.0, True), (0, 0.09, 1.0, 0.0, False),
        # 4 x hypot(0.25, 0.02 x 10.1, 0.4 x 10) = 16.05 around 10.2 ohm
        (0, 26.24, 10.1, 0.4, True), (0, 26.27, 10.1, 0.4, False),
        # nothing is healthy on an open line: the whole is spread, 4 x hypot(0.25, 0.2, 4) = 16.05 around 10.1
        (2, 26.14, 10.0, 0.4, True), (2, 26.17, 10.0, 0.4, False),
        (0, OPEN, OPEN, 0.0, True), (0, OPEN, 1.0, 0.0, False), (0, 1.0, OPEN, 0.0, False), (0, 1e6, 1e6, 0.0, True),
        # the list wants 10 Mohm: less is no open line
        (2, 1e7, OPEN, 0.0, True), (2, 9.9e6, OPEN, 0.0, False),
        # 4 x hypot(0.2, 0.02 x 14) = 1.3764 around 14 V
        (3, 12.63, 14.0, 0.0, True), (3, 12.62, 14.0, 0.0, False), (3, 15.37, 14.0, 0.0, True),
        (3, 15.38, 14.0, 0.0, False),
    ],
)  # fmt: skip
def test_four_times_the_spread_fits(number: int, value: float, predicted: float, spread: float, fits: bool) -> None:
    assert EMPTY.fits(Taken(number, value), predicted, spread) is fits


@pytest.mark.parametrize(
    ("a", "b", "hot", "alike"),
    [
        (10.0, 10.72, False, True), (10.0, 10.73, False, False), (10.73, 10.0, False, False), (0.0, 0.41, False, True),
        (0.0, 0.42, False, False), (1e6, OPEN, False, True), (OPEN, 1e6, False, True), (999_999.0, OPEN, False, False),
        (5.0, 1e6, False, False), (0.0, 0.4, True, True), (14.0, 14.41, True, False), (-0.3, 0.2, True, False),
        (1e6, 1e6 + 1, True, False), (0.0, 0.4, False, True),
    ],
)  # fmt: skip
def test_what_a_meter_cannot_tell_apart(a: float, b: float, hot: bool, alike: bool) -> None:
    """0.4 ohm and 3 % of the larger; 0.4 V; from 1 Mohm on all is open."""
    assert same(a, b, hot) is alike


A = fault("A", 0.10)
B = fault("B", 0.20, comes_and_goes=0.05)
C = fault("C", 0.05, 3, kind="high resistance", spread=0.4, comes_and_goes=0.15)
D = fault("D", 0.08)
LIKE_A = fault("E", 0.03)
UNSEEN = fault("U", 0.06)
EFFECTS: Mapping[Trouble, Sequence[Mapping[int, float]]] = {
    A: [{0: OPEN}],
    B: [{0: OPEN, 1: OPEN, 3: 0.0}],
    C: [{1: 3.1}, {1: 10.1}, {1: 100.1}],
    D: [{2: 0.05, 4: 118.0}],
    LIKE_A: [{0: 3e6, 1: 0.2}],
    UNSEEN: [{0: 0.15, 3: 14.2}],
}


def joint(ranked: Mapping[Trouble, float], taken: Sequence[Taken], nothing: float, other: float) -> dict[object, float]:
    """Posterior of every hypothesis but pairs of faults."""

    def given(effect: Mapping[int, float], trouble: Trouble | None) -> float:
        whole = 1.0
        for one in taken:
            n, value = one.number, one.value
            assert value is not None
            sound = like(value, HEALTHY[n], HEALTHY[n], hot=n == 3)
            bad = sound
            if n in effect and trouble is not None:
                bad = like(value, effect[n], HEALTHY[n], trouble.spread, n == 3)
                bad = (1 - trouble.comes_and_goes) * bad + trouble.comes_and_goes * sound
            whole *= bad
        return whole

    found: dict[object, float] = {"nothing": nothing * given({}, None)}
    for trouble, weight in ranked.items():
        found[trouble] = weight * sum(given(e, trouble) for e in EFFECTS[trouble]) / len(EFFECTS[trouble])
    odd = 1.0
    for n in {one.number for one in taken}:
        group = [one.value or 0.0 for one in taken if one.number == n]
        wrong = any(not EMPTY.fits(Taken(n, v), HEALTHY[n]) for v in group)
        for v in group:
            odd *= (0.1 / 3 if v >= 1e7 else 0.1 / (17 * (v + 0.5))) if wrong else like(v, HEALTHY[n], hot=n == 3)
    found["other"] = other * odd
    whole = sum(found.values())
    return {key: value / whole for key, value in found.items()}


SETS: dict[str, list[tuple[int, float]]] = {
    "nothing read": [],
    "all good": [(0, 0.2), (1, 0.2), (2, OPEN), (3, 14.0)],
    "line 1 open": [(0, OPEN), (1, 0.2)],
    "line 1 open, read twice": [(0, OPEN), (0, OPEN), (3, 13.9)],
    "no volts": [(3, 0.0)],
    "a bad crimp": [(1, 9.0), (0, 0.15)],
    "a bad crimp that read well once": [(1, 9.0), (1, 0.2)],
    "a short": [(2, 0.2)],
}
ANSWERS = {
    "nothing read": (set(), "B"), "all good": (set(), "U"), "line 1 open": ({0}, "A"),
    "line 1 open, read twice": ({0}, "A"), "no volts": ({3}, "B"), "a bad crimp": ({1}, "C"),
    "a bad crimp that read well once": ({1}, "C"), "a short": ({2}, "D"),
}  # fmt: skip
"""What is wrong, and the fault that is likeliest, by looking at the table of effects."""


@pytest.mark.parametrize("name", SETS)
@pytest.mark.parametrize("factors", [{}, {0: 8.0, 5: 3.0}], ids=["plain", "heard"])
def test_every_probability(name: str, factors: dict[int, float]) -> None:
    taken = [Taken(number, value) for number, value in SETS[name]]
    ranking = ranker(READINGS, HEALTHY, EFFECTS, factors).rank(taken)
    weights = {t: t.weight * factors.get(n, 1.0) for n, t in enumerate(EFFECTS)}
    left = 1.0 - 0.52
    whole = left + sum(weights.values())
    share = PRIORS["nothing"] / (PRIORS["nothing"] + PRIORS["something else"])
    true = joint({t: w / whole for t, w in weights.items()}, taken, left * share / whole, left * (1 - share) / whole)
    assert ranking.nothing == pytest.approx(true["nothing"])
    assert ranking.unknown == pytest.approx(true["other"])
    assert ranking.hidden == pytest.approx(true[UNSEEN])
    assert ranking.hidden_first == (UNSEEN,)
    expected = {(A,): true[A] + true[LIKE_A], (B,): true[B], (C,): true[C], (D,): true[D]}
    found = {frozenset(t for one in s.troubles for t in one): s.probability for s in ranking.suspects}
    for (leader,), probability in expected.items():
        members = frozenset({A, LIKE_A}) if leader is A else frozenset({leader})
        assert found[members] == pytest.approx(probability), leader.says
    assert [s.probability for s in ranking.suspects] == sorted(found.values(), reverse=True)
    wrong, first = ANSWERS[name]
    assert set(ranking.wrong) == wrong
    if first == "U":
        assert ranking.nothing > 0.5
    elif not factors:
        assert ranking.suspects[0].troubles[0][0].says[0] == first
    assert ranking.tried == (6, 0)


def test_what_is_explained_and_what_speaks_against_it() -> None:
    """Line 1 open, line 2 open, 14 V all the same: B explains both and would take the volts away."""
    ranking = ranker(READINGS, HEALTHY, EFFECTS).rank([Taken(0, OPEN), Taken(1, OPEN), Taken(3, 14.0)])
    by_name = {s.troubles[0][0].says[0]: s for s in ranking.suspects if len(s.troubles[0]) == 1}
    assert by_name["B"].explains == (0, 1) and by_name["B"].contradicts == (3,)
    assert by_name["A"].explains == (0,) and by_name["A"].contradicts == (1,)
    assert by_name["C"].explains == () and by_name["C"].contradicts == (0, 1)


def test_faults_alike_stand_together_with_the_likeliest_first() -> None:
    swapped = ranker(READINGS, HEALTHY, {LIKE_A: EFFECTS[LIKE_A], A: EFFECTS[A], C: EFFECTS[C], UNSEEN: [{}]})
    assert swapped.classes == [0, 0, 2, -1]
    assert swapped.priors == {0: pytest.approx(0.13), 2: pytest.approx(0.05)}
    first = swapped.rank([Taken(0, OPEN)]).suspects[0]
    assert first.troubles == ((A,), (LIKE_A,)) and first.numbers == (1, 0)
    # Of C the strength that gives 10 ohm is the likeliest when 10 ohm are read.
    shares = swapped.rank([Taken(1, 10.2)]).suspects[0].effects
    assert max(shares)[1] == {1: 10.1} and sum(share for share, _ in shares) == pytest.approx(1.0)


def test_strengths_and_a_coarse_bin_do_not_join_what_differs() -> None:
    """One strength against three; open against 0.9 Mohm; volts 0.5 apart."""
    three = fault("F", 0.1, 3)
    faults = {
        A: [{0: OPEN}],
        three: [{0: OPEN}] * 3,
        B: [{0: 9e5}],
        D: [{3: 0.0}],
        LIKE_A: [{3: 0.5}],
        C: [{3: 0.3}] * 3,
    }
    faults[UNSEEN] = [{3: 0.3}]
    assert ranker(READINGS, HEALTHY, faults).classes == [0, 1, 2, 3, 4, 5, 3]


PAIR_A, PAIR_D = fault("A", 0.10), fault("D", 0.08)


def test_a_pair_when_no_single_fault_explains_all() -> None:
    """Line 1 open and a short at reading 3: A and D, whose readings are not the same, so likelihoods multiply."""
    faults = {PAIR_A: [{0: OPEN}], LIKE_A: [{0: OPEN}], PAIR_D: [{2: 0.05}]}
    ranking = ranker(READINGS, HEALTHY, faults).rank([Taken(0, OPEN), Taken(2, 0.15)])
    sound = like(OPEN, 0.1) * like(0.15, OPEN, OPEN)
    left = 1 - 0.21
    share = PRIORS["nothing"] / (PRIORS["nothing"] + PRIORS["something else"])
    mass = {
        "nothing": left * share * sound,
        "A": (0.10 + 0.03) * 0.99 * like(0.15, OPEN, OPEN),
        "D": 0.08 * like(OPEN, 0.1) * like(0.15, 0.05, OPEN),
        "A and D": (0.10 + 0.03) * 0.08 * 0.99 * like(0.15, 0.05, OPEN),
        "other": left * (1 - share) * 0.1 / 3 * 0.1 / (17 * 0.65),
    }
    whole = sum(mass.values())
    best = ranking.suspects[0]
    # D first: a density of 1.5 where 0.0009 was expected; of A 0.99 where 0.0033 was.
    assert best.troubles == ((PAIR_D, PAIR_A),) and best.numbers == ()
    assert best.probability == pytest.approx(mass["A and D"] / whole)
    assert ranking.unknown == pytest.approx(mass["other"] / whole)
    assert ranking.nothing == pytest.approx(mass["nothing"] / whole)
    assert best.explains == (0, 2) and best.contradicts == ()
    assert best.effects == [(1.0, {0: OPEN, 2: 0.05})]
    assert ranking.tried == (3, 1)


def test_a_pair_on_the_same_copper_is_predicted_together() -> None:
    """Each of two bad crimps adds 5 ohm to line 1; together 10, which neither gives alone. D shorts line 3."""
    one, two = fault("X", 0.1, spread=0.01, comes_and_goes=0.02), fault("Y", 0.1, spread=0.02, comes_and_goes=0.04)
    faults = {one: [{0: 5.1, 1: 5.1}], two: [{0: 5.1, 2: 5.1}], D: [{4: 118.0}]}
    also = {(one, two): {0: 10.1, 1: 5.1, 2: 5.1}}
    ranked = ranker(READINGS, HEALTHY, faults, also=also)
    taken = [Taken(0, 10.2), Taken(1, 5.2), Taken(2, 5.2)]
    ranking = ranked.rank(taken)
    best = ranking.suspects[0]
    assert set(best.troubles[0]) == {one, two} and best.effects == [(1.0, {0: 10.1, 1: 5.1, 2: 5.1})]
    # The looser of the two speaks for both: spread 2 %, good in spite of it 4 % of the time.
    mass = 0.1 * 0.1
    for n, value, predicted in ((0, 10.2, 10.1), (1, 5.2, 5.1), (2, 5.2, 5.1)):
        healthy = HEALTHY[n]
        mass *= 0.96 * like(value, predicted, healthy, 0.02) + 0.04 * like(value, healthy, healthy)
    single = 0.1
    for n, value, predicted in ((0, 10.2, 5.1), (1, 5.2, 5.1), (2, 5.2, OPEN)):
        healthy = HEALTHY[n]
        bad = like(value, predicted, healthy, 0.01)
        single *= (0.98 * bad + 0.02 * like(value, healthy, healthy)) if n < 2 else bad
    found = next(s for s in ranking.suspects if s.troubles == ((one,),))
    assert best.probability / found.probability == pytest.approx(mass / single)


def test_no_pair_is_tried_where_one_fault_explains_everything() -> None:
    ranking = ranker(READINGS, HEALTHY, EFFECTS).rank([Taken(0, OPEN), Taken(1, OPEN)])
    assert ranking.tried == (6, 0) and ranking.suspects[0].troubles == ((B,),)
    assert all(len(s.troubles[0]) == 1 for s in ranking.suspects)


def test_bayes_rule_keeps_what_nothing_explains() -> None:
    assert update([0.3, 0.7], [0.0, 0.0]) == [0.3, 0.7]
    assert update([0.5, 0.5], [0.2, 0.6]) == pytest.approx([0.25, 0.75])


def test_weights_that_leave_nothing_over() -> None:
    """Weights of one and more leave a millionth for the wiring as designed and for something else."""
    full: Ranker = ranker(READINGS, HEALTHY, {fault("A", 0.7): [{0: OPEN}], fault("B", 0.5): [{1: OPEN}]})
    assert full.left == 1e-6
    assert sum(full.weights) + full.designed + full.other == pytest.approx(1.0)
    assert full.weights == pytest.approx([0.7 / 1.200001, 0.5 / 1.200001])
    assert full.designed / full.other == pytest.approx(PRIORS["nothing"] / PRIORS["something else"])


def test_a_fault_of_no_weight_is_no_suspect_and_no_half_of_a_pair() -> None:
    """Its prior is nothing: so is its probability; with the two that have weight there is one pair."""
    never = fault("N", 0.0)
    ranked = ranker(READINGS, HEALTHY, {PAIR_A: [{0: OPEN}], PAIR_D: [{2: 0.05}], never: [{1: OPEN}], UNSEEN: [{}]})
    ranking = ranked.rank([Taken(0, OPEN), Taken(2, 0.15), Taken(1, OPEN)])
    assert ranking.tried == (4, 1)
    assert [s.probability for s in ranking.suspects if s.troubles == ((never,),)] == [0.0]


def test_a_pair_fits_as_loosely_as_the_looser_of_its_faults() -> None:
    """Reading 2 is 20 ohm where 10 are predicted: 4 x 0.4 x 9.9 = 15.8 off is allowed for C, and 1.3 for A."""
    loose = fault("C", 0.05, spread=0.4)
    ranked = ranker(READINGS, HEALTHY, {loose: [{1: 10.0}], PAIR_A: [{0: OPEN}]})
    ranking = ranked.rank([Taken(0, OPEN), Taken(1, 20.0)])
    pair = next(s for s in ranking.suspects if len(s.troubles[0]) == 2)
    assert pair.explains == (0, 1) and pair.contradicts == ()
