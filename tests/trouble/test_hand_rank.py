"""Rankings whose every step is worked out beside the test; likelihoods are those of ``test_rank_by_hand.py``.

Of a reading near 6.2 ohm on a line of 0.1 ohm a slip has a density of 0.01 / (6.7 x 17) = 8.78e-5; a prediction that
is off by s standard deviations of w ohm has 0.99 exp(-s s / 2) / (w sqrt(2 pi)) more.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest

from harnesscheck.trouble.ask import Series
from harnesscheck.trouble.faults import Trouble
from harnesscheck.trouble.network import Network
from harnesscheck.trouble.predict import Edit, Predictor
from harnesscheck.trouble.rank import Ranker, Ranking, Taken, same
from tests.trouble.small import OPEN, fault, ranker, reading
from tests.trouble.test_rank_by_hand import EMPTY, like

WIRES = [reading("BC1"), reading("BC2"), reading("BC3"), reading("BV4", "volts")]
SOUND = [0.1, 0.1, 0.1, 14.0]


@pytest.mark.parametrize(
    ("a", "b", "alike"),
    [
        # at the limit itself: 0.4 + 0.03 x 20 = 1.0
        (19.0, 20.0, True), (20.0, 19.0, True), (18.99, 20.0, False),
        # from 1 Mohm on a line is open, and nothing below it is
        (1e6, 999_999.0, False), (999_999.0, 1e6, False), (1e6, 1e6, True), (999_999.0, 999_000.0, True),
        (10.0, 10.7, True),
    ],
)  # fmt: skip
def test_ohms_are_compared_unless_volts_are_meant(a: float, b: float, alike: bool) -> None:
    assert same(a, b) is alike
    assert same(0.0, 0.4, True) and not same(10.0, 10.7, True)


def test_without_a_word_a_fault_has_one_strength_and_a_plain_weight() -> None:
    """A reading spreads by leads and tolerances alone; nothing was tried yet; a piece is new unless said otherwise."""
    assert EMPTY.likelihood(Taken(0, 5.5), 5.0) == pytest.approx(like(5.5, 5.0, 0.1, 0.0))
    assert not EMPTY.fits(Taken(0, 6.2), 5.0), "4 x hypot(0.25, 0.1) = 1.08 around 5.1"
    assert Ranking([], (), 1.0, 0.0, (), 0.0).tried == (0, 0)
    plain = Trouble("x", "", "")
    assert (plain.weight, plain.spread, plain.comes_and_goes) == (1.0, 0.0, 0.0)
    net = Network()
    net.add("wire", "W1", reading("BC1").a[0], reading("BC1").b[0], 0.1)
    assert net.pieces[0].new is True and net.pieces[0].trips == OPEN


def test_at_exactly_one_megohm_a_line_is_open() -> None:
    assert EMPTY.likelihood(Taken(0, OPEN), 1e6) == pytest.approx(0.99)
    assert EMPTY.likelihood(Taken(0, OPEN), 999_999.0) == pytest.approx(0.01 / 3)
    assert EMPTY.likelihood(Taken(0, 3.0), 1e6) == pytest.approx(0.01 / (17 * 3.5))
    assert EMPTY.likelihood(Taken(0, 999_000.0), 1e6) == pytest.approx(0.01 / (17 * 999_000.5))
    assert EMPTY.fits(Taken(0, OPEN), 1e6) and not EMPTY.fits(Taken(0, 999_000.0), 1e6)
    # A line whose healthy value is 1 Mohm has none of its own: 4 x hypot(0.25, 0.2, 0.4 x 10) = 16.05 around 10.1.
    open_line = ranker([reading("BC1", high=None)], [1e6], {})
    assert open_line.fits(Taken(0, 26.14), 10.0, 0.4) and not open_line.fits(Taken(0, 26.17), 10.0, 0.4)
    assert open_line.likelihood(Taken(0, 12.0), 10.0, 0.4) == pytest.approx(like(12.0, 10.0, 1e6, 0.4))


def test_four_times_the_spread_itself_fits() -> None:
    """4 x 0.2 V around 0 V, 4 x 0.25 ohm around 0.1 ohm."""
    assert EMPTY.fits(Taken(3, 0.8), 0.0) and not EMPTY.fits(Taken(3, 0.801), 0.0)
    assert EMPTY.fits(Taken(0, 1.1), 0.0) and not EMPTY.fits(Taken(0, 1.101), 0.0)


def test_a_value_counts_as_open_beyond_the_limit_of_its_reading() -> None:
    """The isolation reading wants 10 Mohm, the resistance 55 ohm: that one is open from 1 Mohm on."""
    assert [EMPTY._open(Taken(2, value)) for value in (9.9e6, 1e7)] == [False, True]
    assert [EMPTY._open(Taken(4, value)) for value in (999_999.0, 1e6)] == [False, True]
    assert [EMPTY._open(Taken(0, value)) for value in (999_999.0, 1e6)] == [False, True]
    assert not EMPTY._open(Taken(0, None, False))


ONE, TWO, THREE = fault("A", 0.1), fault("B", 0.05), fault("C", 0.02)


@pytest.mark.parametrize(
    ("effects", "classes"),
    [
        # exactly 1 Mohm reads like an open line, 0.9 Mohm does not
        ([[{0: 1e6}], [{0: OPEN}], [{0: 9e5}]], [0, 0, 2]),
        ([[{0: OPEN}], [{1: OPEN}], [{0: OPEN, 1: OPEN}]], [0, 1, 2]),
        # 5.3 is told neither from 5 nor from 5.55, nor 5.55 from 5 (0.55 of 0.4 + 0.1665): all three are one
        ([[{0: 5.0}], [{0: 5.3}], [{0: 5.55}]], [0, 0, 0]), ([[{0: 5.0}], [{0: 5.6}], [{0: 5.3}]], [0, 1, 0]),
        ([[{0: 0.5}], [{0: 0.52}], [{}]], [-1, 1, -1]), ([[{3: 13.7}], [{3: 13.5}], [{3: 13.2}]], [-1, 1, 1]),
    ],
)  # fmt: skip
def test_what_no_reading_tells_apart(effects: list[list[dict[int, float]]], classes: list[int]) -> None:
    """0.5 ohm is not told from the healthy 0.1 (0.4 of 0.415), 0.52 is (0.42 of 0.4156); 13.7 V not from 14."""
    assert ranker(WIRES, SOUND, dict(zip((ONE, TWO, THREE), effects, strict=True))).classes == classes


def test_strengths_are_compared_one_by_one() -> None:
    """The same values at the other strength are another fault; one strength that shows is enough to be seen."""
    faults = {
        fault("A", 0.1, 2): [{0: 5.0}, {1: 5.0}],
        fault("B", 0.1, 2): [{1: 5.0}, {0: 5.0}],
        fault("C", 0.1, 2): [{0: 0.2}, {0: 5.0}],
        fault("D", 0.1, 2): [{0: 0.15}, {0: 5.1}],
        fault("E", 0.1, 2): [{0: 0.15}, {0: 0.2}],
    }
    assert ranker(WIRES, SOUND, faults).classes == [0, 1, 2, 2, -1]


def test_what_shows_in_no_reading_is_named_likeliest_first() -> None:
    """Weights 0.01 to 0.04; the first three are named, all count. Order of the list: an unseen one comes first."""
    unseen = [fault(name, w) for name, w in (("Q", 0.02), ("R", 0.01), ("S", 0.04), ("T", 0.03))]
    ranked = ranker(WIRES, SOUND, {unseen[0]: [{}], ONE: [{0: OPEN}], **{f: [{}] for f in unseen[1:]}})
    ranking = ranked.rank([])
    assert [t.says[0] for t in ranking.hidden_first] == ["S", "T", "Q"]
    assert ranking.hidden == pytest.approx(0.1) and [s.troubles for s in ranking.suspects] == [((ONE,),)]
    assert ranking.suspects[0].probability == pytest.approx(0.1)
    seen = ranker(WIRES, SOUND, {ONE: [{0: OPEN}]}).rank([])
    assert seen.hidden == 0.0 and seen.hidden_first == ()
    assert seen.nothing + seen.unknown == pytest.approx(0.9)


def test_many_readings_do_not_overflow() -> None:
    """400 open readings: exp(400 x 5.7) is no number. The strength that fits has all of the weight."""
    two = fault("A", 0.1, 2)
    ranking = ranker(WIRES, SOUND, {two: [{0: OPEN}, {0: 5.0}]}).rank([Taken(0, OPEN)] * 400)
    assert ranking.suspects[0].probability == pytest.approx(1.0)
    assert [share for share, _ in ranking.suspects[0].effects] == pytest.approx([1.0, 0.0])


LOOSE = fault("L", 0.05, 3, spread=0.4)
STRONG = [{1: 3.1}, {1: 10.1}, {1: 100.1}]


def test_the_likeliest_strength_explains() -> None:
    """10.2 ohm: 10.1 and the leads. At 3.1 it would be 7.0 off, 5.8 standard deviations of 1.2 ohm."""
    ranking = ranker(WIRES, SOUND, {LOOSE: STRONG, fault("Z", 1e-4): [{1: 10.1}]}).rank([Taken(1, 10.2)])
    first = ranking.suspects[0]
    assert first.troubles == ((LOOSE,),) and first.explains == (1,) and first.contradicts == ()
    assert ranking.tried == (2, 0), "what one fault explains is not explained by two"


def test_the_likeliest_strength_stands_in_a_pair() -> None:
    ranking = ranker(WIRES, SOUND, {LOOSE: STRONG, ONE: [{0: OPEN}]}).rank([Taken(0, OPEN), Taken(1, 10.2)])
    pair = ranking.suspects[0]
    assert set(pair.troubles[0]) == {LOOSE, ONE} and pair.effects == [(1.0, {0: OPEN, 1: 10.1})]
    assert pair.explains == (0, 1) and ranking.tried == (2, 1)


def test_a_reading_taken_twice_is_explained_when_both_are() -> None:
    """Open, and then 3 ohm: an open line explains the first of them only."""
    also = {(ONE, TWO): {0: OPEN}}
    ranked = ranker(WIRES, SOUND, {ONE: [{0: OPEN}], TWO: [{0: 2.9}]}, also=also)
    ranking = ranked.rank([Taken(0, OPEN), Taken(0, 3.0)])
    assert ranking.wrong == (0,) and ranking.tried == (2, 1)
    for suspect in ranking.suspects:
        assert suspect.explains == () and suspect.contradicts == (0,)
    good = ranked.rank([Taken(0, OPEN), Taken(0, OPEN)]).suspects[0]
    assert good.troubles == ((ONE,),) and good.explains == (0,)


@pytest.mark.parametrize(
    ("faults", "values", "pairs"),
    [
        # A fits 6.2 ohm. B, at 5.0, is off by 1.1 of 0.27 and fits no more; that it is rare does not make it the best.
        ({ONE: [{0: 6.1}], fault("B", 1e-9): [{0: 5.0}]}, {0: 6.2}, 0),
        # A, at 5.05, just fits both (3.9 of 0.27); B fits one of them far better, and is far rarer.
        ({fault("A", 0.5): [{0: 5.05, 1: 5.05}], fault("B", 1e-6): [{0: 6.1}]}, {0: 6.2, 1: 6.2}, 0),
        # A at 4.88 is off by 1.22, 4.5 of 0.268: 4.8e-5 beside a slip of 8.8e-5 makes 6.2 ohm likelier by half.
        ({ONE: [{0: 4.88}], TWO: [{1: 6.1}]}, {0: 6.2, 1: 6.2}, 1),
        # At 3.0 it is off by more than 10: no likelier than a slip, so not tried in a pair.
        ({ONE: [{0: 3.0}], TWO: [{1: 6.1}]}, {0: 6.2, 1: 6.2}, 0),
        # One fault of two that are alike is enough.
        ({ONE: [{0: OPEN}], THREE: [{0: OPEN}], TWO: [{1: 6.1}]}, {0: OPEN, 1: 6.2}, 1),
        # Nothing wrong, nothing to explain.
        ({ONE: [{0: OPEN}], TWO: [{1: 6.1}]}, {2: 0.2}, 0), ({}, {0: 6.2}, 0), ({ONE: [{0: 6.1}]}, {1: 6.2}, 0),
    ],
)  # fmt: skip
def test_when_pairs_are_tried(faults: dict, values: dict[int, float], pairs: int) -> None:  # type: ignore[type-arg]
    also = {pair: {0: 6.0} for pair in combinations(faults, 2)}
    ranked = ranker(WIRES, SOUND, faults, also=also)
    ranking = ranked.rank([Taken(n, value) for n, value in values.items()])
    assert ranking.tried == (len(faults), pairs)
    assert sum(len(s.troubles[0]) == 2 for s in ranking.suspects) == pairs


def test_the_forty_likeliest_pairs_are_kept() -> None:
    """Ten lines open, a fault for each: of 45 pairs the forty with the greatest product of weights."""
    weights = [0.0001, 0.0011, 0.0013, 0.0017, 0.0023, 0.0031, 0.0041, 0.0053, 0.0067, 0.0083]
    faults = {fault(f"F{n}", w): [{n: OPEN}] for n, w in enumerate(weights)}
    ranked = ranker([reading(f"BC{n}") for n in range(10)], [0.1] * 10, faults)
    ranking = ranked.rank([Taken(n, OPEN) for n in range(10)])
    assert ranking.tried == (10, 40)
    best = sorted(combinations(faults, 2), key=lambda pair: -pair[0].weight * pair[1].weight)[:40]
    found = [frozenset(s.troubles[0]) for s in ranking.suspects if len(s.troubles[0]) == 2]
    assert found == [frozenset(pair) for pair in best]


def test_a_reading_that_was_offered_is_predicted_once() -> None:
    """Offered again for the same fault nothing is worked out; for another one it is."""
    net = Network()
    for n in (1, 2, 3):
        net.add("wire", f"W{n}", reading(f"BC{n}").a[0], reading(f"BC{n}").b[0], 0.1)
    listed = [reading(f"BC{n}") for n in (1, 2, 3)]
    lines = Series(((listed[0].a[0], listed[0].b[0]), (listed[1].b[0], listed[1].a[0])))
    faults = [
        replace(fault(f"W{n}", 0.1), edits=(Edit(((n, p.a, p.b, OPEN),)),)) for n, p in enumerate(net.pieces)
    ]  # fmt: skip
    predictor = Predictor(net, listed)
    ranked = Ranker(predictor, faults, [(-OPEN, 0.5)] * 3)
    asked: list[Edit] = []
    whole = predictor.series
    predictor.series = lambda number, edits: asked.extend(edits) or whole(number, edits)  # type: ignore[method-assign,func-returns-value]
    assert ranked.first_extra == 3
    assert [ranked.offer(lines, wanted) for wanted in ([0], [0], [1, 2], [0, 1, 2])] == [3, 3, 3, 3]
    assert asked == [faults[0].edits[0], faults[1].edits[0]], "the third line is in no series"
    assert ranked.bands[3:] == [(0.0, pytest.approx(2.2))] and predictor.healthy[3] == pytest.approx(0.2)


def test_a_verdict_on_a_line_of_the_wiring_as_designed() -> None:
    """Called wrong by hand: 0.99 where it would be wrong, 0.01 where not; A has 0.1, the rest shares 0.9."""
    ranking = ranker(WIRES, SOUND, {ONE: [{0: OPEN}]}).rank([Taken(0, None, False)])
    # the sound wiring 0.9 x 10 / 11, something else 0.9 / 11 that gives any verdict a thirtieth
    sound, bad, other = 0.9 * 10 / 11 * 0.01, 0.1 * 0.99, 0.9 / 11 * 0.1 / 3
    whole = sound + bad + other
    assert ranking.suspects[0].probability == pytest.approx(bad / whole)
    assert ranking.nothing == pytest.approx(sound / whole) and ranking.unknown == pytest.approx(other / whole)
    assert ranking.wrong == (0,)
