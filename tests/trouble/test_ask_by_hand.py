"""The next reading: mutual information worked out from the joint table of suspect and outcome, reading by reading."""

from __future__ import annotations

import math
from collections.abc import Mapping

import pytest

from harnesscheck.place import Point
from harnesscheck.trouble.ask import Asker, Groups, Series, entropy, gain, groups
from harnesscheck.trouble.network import Network
from harnesscheck.trouble.predict import Edit, Predictor
from harnesscheck.trouble.rank import Ranker, Ranking, Suspect, Taken
from tests.trouble.small import OPEN, fault, ranker, reading

MINUTES = {"continuity": 0.7, "isolation": 0.8, "volts": 1.0, "ohms": 0.8}
"""As the module says them: opinion, so the test states them again."""


def bits(rows: list[tuple[object, float, object]]) -> float:
    """Mutual information of suspect and outcome: sum of p(s, o) log2(p(s, o) / p(s) / p(o))."""
    whole = sum(p for _, p, _ in rows)
    both: dict[tuple[object, object], float] = {}
    one: dict[object, float] = {}
    two: dict[object, float] = {}
    for s, p, o in rows:
        both[s, o] = both.get((s, o), 0.0) + p / whole
        one[s] = one.get(s, 0.0) + p / whole
        two[o] = two.get(o, 0.0) + p / whole
    return sum(p * math.log2(p / one[s] / two[o]) for (s, o), p in both.items() if p > 0)


@pytest.mark.parametrize(
    ("rows", "hot"),
    [
        ([(0, 0.5, 60.0), (1, 0.5, 120.0)], False), ([(0, 0.2, 60.0), (1, 0.3, 120.0), (2, 0.1, OPEN)], False),
        ([(0, 0.2, 1.0), (0, 0.2, 9.0), (1, 0.4, 1.0)], False), ([(0, 0.2, 0.0), (1, 0.3, 14.0), (1, 0.1, 0.0)], True),
        ([(0, 0.1, 5.0), (0, 0.3, 20.0), (0, 0.2, 90.0)], False), ([(0, 0.4, 5.0), (1, 0.6, 5.0)], False),
    ],
)  # fmt: skip
def test_bits_of_a_reading(rows: list[tuple[int, float, float]], hot: bool) -> None:
    assert gain(rows, hot) == pytest.approx(bits(rows), abs=1e-12)  # type: ignore[arg-type]


def test_outcomes_are_joined_from_the_least_on() -> None:
    """0.0 and 0.3 are one outcome; 0.6 is told from 0.0, so it begins the next, with 0.9."""
    rows = [(0, 0.25, 0.0), (1, 0.25, 0.3), (2, 0.25, 0.6), (3, 0.25, 0.9)]
    assert gain(rows) == pytest.approx(1.0)
    assert gain(rows[::-1]) == pytest.approx(1.0)
    assert gain([(0, 0.5, 0.0), (1, 0.5, 0.5)], hot=True) == pytest.approx(1.0)
    assert gain([(0, 0.5, 13.0), (1, 0.5, 13.5)], hot=False) == 0.0
    assert len(groups([[Point("J", str(n))] for n in range(200)])) == 28, "no more than a support desk would offer"
    assert gain([]) == 0.0 and gain([(0, 0.0, 1.0)]) == 0.0 and entropy([]) == 0.0
    assert entropy([2.0, 2.0]) == 1.0


def test_nets_tied_in_two_groups() -> None:
    nets = [[Point("J1", str(n))] for n in range(4)]
    one, two, three = ("".join(p.cavity for p in g.a) + "|" + "".join(p.cavity for p in g.b) for g in groups(nets))
    assert (one, two, three) == ("13|02", "23|01", "12|03")  # lowest bit, next bit, both
    assert all(isinstance(g, Groups) and g.kind == "isolation" for g in groups(nets))
    assert [[p.cavity for p in (*g.a, *g.b)] for g in groups(nets[:2])] == [["1", "0"]]
    assert groups(nets[:1]) == [] and groups([]) == []
    assert len(groups(nets, most=2)) == 2
    many = groups([[Point("J", str(n)), Point("P", str(n))] for n in range(9)])
    assert len(many) == 4 + 6 and len(many[0].a) == 2 * 4 and len(many[0].b) == 2 * 5
    for i in range(9):
        for j in range(i):
            assert any((Point("J", str(i)) in g.a) != (Point("J", str(j)) in g.a) for g in many[:4])


def test_leads_of_lines_in_series() -> None:
    a, b, c, d = (Point("J1", n) for n in "abcd")
    series = Series(((a, b), (c, d)))
    assert (series.a, series.b, series.leads) == ((a,), (d,), [(b, c)])


READINGS = [
    reading("BC1"),
    reading("BC2"),
    reading("BS3", "isolation"),
    reading("BV4", "volts"),
    reading("BR5", "ohms"),
]
HEALTHY = [0.1, 0.1, OPEN, 14.0, 60.0]
FAULTS = [fault("A", 0.1), fault("B", 0.05), fault("C", 0.2, 2), fault("D", 0.02), fault("U", 0.04)]
EFFECTS: list[list[dict[int, float]]] = [
    [{0: OPEN, 3: 0.0}], [{0: OPEN, 1: OPEN}], [{1: 5.0, 4: 66.0}, {1: 50.0, 4: 110.0}], [{2: 0.1, 4: 118.0}], [{}],
]  # fmt: skip


def small() -> Ranker:
    return ranker(READINGS, HEALTHY, dict(zip(FAULTS, EFFECTS, strict=True)))


def by_force(ranked: Ranker, ranking: Ranking) -> dict[int, float]:
    """Bits of every reading: half of each suspect's share by its prior, half as if all four were alike at first."""
    prior = {0: 0.1, 1: 0.05, 2: 0.2, 3: 0.02}  # of A to D, which all read differently
    scale = 1.0  # the five weights and what is left over sum to one
    suspects = []
    for s in ranking.suspects:
        (number,) = s.numbers
        share = s.probability * (0.5 + 0.5 / 4 / (prior[number] / scale))
        suspects.append((number, [(share * part, effect) for part, effect in s.effects]))
    found = {}
    for n in range(len(READINGS)):
        rows: list[tuple[object, float, object]] = [("sound", ranking.nothing + ranking.hidden, HEALTHY[n])]
        rows += [(name, p, effect.get(n, HEALTHY[n])) for name, parts in suspects for p, effect in parts]
        found[n] = bits(rows)
    return found


@pytest.mark.parametrize("values", [{}, {0: OPEN}, {1: 5.2}, {2: OPEN, 3: 14.0}, {0: 0.2, 1: 0.2}])
@pytest.mark.parametrize("free", [False, True])
def test_the_best_reading_by_force(values: Mapping[int, float], free: bool) -> None:
    ranked = small()
    taken = [Taken(n, v) for n, v in values.items()]
    ranking = ranked.rank(taken)
    true = by_force(ranked, ranking)
    worth = {n: b / (1.0 if free else MINUTES[READINGS[n].kind]) for n, b in true.items() if n not in values}
    best = max(worth, key=worth.__getitem__)
    question = Asker(ranked, range(5), plugs=False).next(ranking, taken, free)
    if true[best] < 0.02:
        assert question is None
        return
    assert question is not None
    assert (question.number, question.asked) == (best, READINGS[best])
    assert question.gain == pytest.approx(true[best], abs=1e-6)
    assert question.minutes == (1.0 if free else MINUTES[READINGS[best].kind])


def test_each_reading_by_force() -> None:
    """One reading at a time may be asked for: the gain of every one, not only of the best."""
    ranked = small()
    ranking = ranked.rank([])
    true = by_force(ranked, ranking)
    for n in range(5):
        question = Asker(ranked, [n], plugs=False).next(ranking, [])
        assert question is not None and question.gain == pytest.approx(true[n], abs=1e-6), n
    assert Asker(ranked, [0], plugs=False).next(ranking, [Taken(0, 0.1)]) is None


@pytest.mark.parametrize(("probability", "asked"), [(0.0007, True), (0.0005, False)])
def test_a_reading_that_tells_next_to_nothing_is_not_asked_for(probability: float, asked: bool) -> None:
    """Share p (0.5 + 0.5 / 2 / 0.1) beside 0.9 of none: H(0.0023) = 0.024 bit, H(0.0017) = 0.018 bit; 0.02 asked."""
    ranked = ranker(READINGS, HEALTHY, {fault("A", 0.1): [{0: OPEN}], fault("B", 0.1): [{1: OPEN}]})
    given = ranking(0.9, 0.0, probability)
    assert Asker(ranked, [0], plugs=False).next(given, []) is None
    given.suspects[0].effects = [(1.0, {0: OPEN})]
    assert (Asker(ranked, [0], plugs=False).next(given, []) is not None) is asked


def ranking(nothing: float, hidden: float, *suspects: float) -> Ranking:
    found = [Suspect(((FAULTS[n],),), (n,), p, [(1.0, {})]) for n, p in enumerate(suspects)]
    return Ranking(found, (), nothing, hidden, (), 1 - nothing - hidden - sum(suspects))


@pytest.mark.parametrize(
    ("given", "settled"),
    [(ranking(0, 0, 0.95), True), (ranking(0, 0, 0.94), False), (ranking(0.9, 0.05, 0.01), True),
     (ranking(0.9, 0.04, 0.01), False), (ranking(0.96, 0.0), True), (ranking(0.5, 0.0, 0.4), False)],
)  # fmt: skip
def test_settled_from_95_of_100_on(given: Ranking, settled: bool) -> None:
    assert Asker(small(), range(5), plugs=False).settled(given) is settled


def test_minutes_of_each_kind() -> None:
    asker = Asker(small(), range(5), plugs=False)
    point = (Point("J1", "1"),)
    tied = Groups(point, point)
    series = Series(((point[0], point[0]),))
    said = {r.kind: asker.cost(r) for r in READINGS}
    assert said == MINUTES and asker.cost(tied) == 1.0 and asker.cost(series) == 1.0
    assert Asker(small(), [], {"volts": 3.0}, plugs=False).cost(READINGS[0]) == 0.5


def lines(count: int) -> tuple[Network, list[Edit]]:
    """So many wires side by side, each with its edit that opens it."""
    net = Network()
    for n in range(1, count + 1):
        net.add("wire", f"W{n}", Point("J1", str(n)), Point("P1", str(n)), 0.1)
    return net, [Edit(((n, p.a, p.b, OPEN),)) for n, p in enumerate(net.pieces)]


@pytest.mark.parametrize(
    ("weights", "half"),
    [([0.1] * 8, 4), ([0.1] * 5, 2), ([0.4, 0.05, 0.05, 0.05, 0.05], 0), ([0.05, 0.05, 0.05, 0.05, 0.5], 4)],
)
def test_lines_in_series_split_what_is_suspected(weights: list[float], half: int) -> None:
    """Eight lines of equal suspicion: four in series, every second one read backwards, so that leads are short."""
    net, edits = lines(len(weights))
    readings = [reading(f"BC{n}") for n in range(1, len(weights) + 1)]
    faults = [fault(f"W{n}", w) for n, w in enumerate(weights)]
    from dataclasses import replace

    faults = [replace(f, edits=(edit,)) for f, edit in zip(faults, edits, strict=True)]
    ranked = Ranker(Predictor(net, readings), faults, [(-OPEN, 0.5)] * len(weights))
    asker = Asker(ranked, range(len(weights)), plugs=True)
    assert asker.layers == [list(range(len(weights)))]
    answer = ranked.rank([])
    # Choose by what the ranking says alone: take the even half of the shares away.
    shares = [s.probability for s in answer.suspects]
    asker._halve(asker.layers[0], answer, shares)
    offered = ranked.predictor.readings[len(weights) :]
    if not half:
        assert offered == []
        return
    (series,) = offered
    assert isinstance(series, Series) and len(series.lines) == half
    for n, line in enumerate(series.lines, 1):
        ends = (Point("J1", str(n)), Point("P1", str(n)))
        assert line == (ends if n % 2 else ends[::-1])
    number = len(weights)
    assert ranked.predictor.healthy[number] == pytest.approx(0.1 * half)
    for n, (effect,) in enumerate(ranked.effects):
        assert effect.get(number) == (OPEN if n < half else None)
    assert ranked.bands[number] == (0.0, pytest.approx(0.1 * half + 2.0))
    assert ranked.offer(series, []) == number and len(ranked.predictor.readings) == number + 1
    # Taken as open, one of its lines is it.
    wrong = ranked.rank([Taken(number, OPEN)])
    assert wrong.wrong == (number,)
    assert {s.numbers[0] for s in wrong.suspects if s.explains} == set(range(half))


def test_a_reading_in_series_that_was_taken_is_predicted_for_every_fault() -> None:
    """Offered for none of the faults; read as open, each of the lines in it explains it."""
    from dataclasses import replace

    net, edits = lines(3)
    faults = [replace(fault(f"W{n}", 0.1), edits=(edit,)) for n, edit in enumerate(edits)]
    readings = [reading(f"BC{n}") for n in (1, 2, 3)]
    ranked = Ranker(Predictor(net, readings), faults, [(-OPEN, 0.5)] * 3)
    ends = [(Point("J1", str(n)), Point("P1", str(n))) for n in (1, 2)]
    number = ranked.offer(Series((ends[0], ends[1][::-1])), [])
    assert [number in effect for (effect,) in ranked.effects] == [False] * 3
    best = ranked.rank([Taken(number, OPEN)]).suspects
    assert {s.numbers[0] for s in best if s.explains} == {0, 1}
    assert [number in effect for (effect,) in ranked.effects] == [True, True, False]


def test_a_line_counts_where_it_comes_first_in_a_layer() -> None:
    """One fault opens lines 1 and 5 of six: its weight lies on line 1, so the rest decides where to cut."""
    readings = [reading(f"BC{n}") for n in range(1, 7)]
    both, third, fourth = fault("A", 0.2), fault("B", 0.1), fault("C", 0.1)
    net, edits = lines(6)
    from dataclasses import replace

    faults = [
        replace(both, edits=(edits[0].plus(edits[4]),)), replace(third, edits=(edits[2],)),
        replace(fourth, edits=(edits[3],)),
    ]  # fmt: skip
    ranked = Ranker(Predictor(net, readings), faults, [(-OPEN, 0.5)] * 6)
    asker = Asker(ranked, range(6))
    answer = ranked.rank([])
    asker._halve(asker.layers[0], answer, [s.probability for s in answer.suspects])
    (series,) = ranked.predictor.readings[6:]
    # 0.2 on line 1, 0.1 on 3 and 4: half of it lies before line 3
    assert isinstance(series, Series) and len(series.lines) == 2


def test_two_lines_are_not_worth_a_lead() -> None:
    net, _ = lines(2)
    ranked = Ranker(Predictor(net, [reading("BC1"), reading("BC2")]), [], [(0.0, 1.0)] * 2)
    assert Asker(ranked, range(2)).layers == []


def test_second_readings_of_a_net_are_a_layer_of_their_own() -> None:
    net, _ = lines(4)
    for n in range(1, 5):
        net.add("wire", f"V{n}", Point("P1", str(n)), Point("Q1", str(n)), 0.1)
    second = [reading(f"BC{n}", b=(Point("Q1", str(n)),)) for n in range(1, 5)]
    tied = reading("BC1", a=(Point("J1", "1"), Point("J1", "2")))
    readings = [*(reading(f"BC{n}") for n in range(1, 5)), *second, reading("BS1", "isolation"), tied]
    ranked = Ranker(Predictor(net, readings), [], [(0.0, 1.0)] * 10)
    assert Asker(ranked, range(10)).layers == [[0, 1, 2, 3], [4, 5, 6, 7]]
