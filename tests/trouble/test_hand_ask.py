"""The next reading, step by step: shares, the table of outcomes, and where lines in series are cut."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

import pytest

from harnesscheck.place import Point
from harnesscheck.trouble.ask import LEAST_GAIN, LEAST_SHARE, Asker, Series, entropy, gain, groups
from harnesscheck.trouble.network import Network
from harnesscheck.trouble.predict import Edit, Predictor
from harnesscheck.trouble.rank import Ranker, Ranking, Suspect, Taken
from tests.trouble.small import OPEN, fault, ranker, reading

A, B, C = fault("A", 0.1), fault("B", 0.2), fault("C", 0.3)
WIRES = [reading(f"BC{n}") for n in range(6)]
SOUND = [0.1] * 6


def suspect(number: int | None, share: float, *effects: tuple[float, dict[int, float]]) -> Suspect:
    """One fault by its number, or a pair (None)."""
    return Suspect(((A,),), () if number is None else (number,), share, list(effects))


def ranking(nothing: float, hidden: float, *suspects: Suspect) -> Ranking:
    return Ranking(list(suspects), (), nothing, hidden, (), 0.0)


def asker() -> Asker:
    """Three faults of weight 0.1, 0.2 and 0.3, each on a reading of its own."""
    return Asker(ranker(WIRES, SOUND, {A: [{0: OPEN}], B: [{1: OPEN}], C: [{2: OPEN}]}), range(6), plugs=False)


def test_bits() -> None:
    assert entropy([0.0, 1.0]) == 0.0 and entropy([0.0]) == 0.0 and entropy([0.0, 0.5, 0.5]) == 1.0
    assert entropy([3.0, 1.0]) == pytest.approx(0.811278, abs=1e-6)
    # One suspect twice at 1 ohm: four tenths of it there, two tenths at 9. H(8:2) less 0.6 H(4:2).
    rows = [(0, 0.2, 1.0), (0, 0.2, 1.2), (0, 0.2, 9.0), (1, 0.4, 1.1)]
    assert gain(rows) == pytest.approx(0.721928 - 0.6 * 0.918296, abs=1e-6)
    # The same with shares that sum to 2.
    assert gain([(s, 2 * p, v) for s, p, v in rows]) == pytest.approx(0.721928 - 0.6 * 0.918296, abs=1e-6)
    # Twice at 9 as well: H(6:4) of what is read, less 1.0 H(6:4) of the only suspect.
    assert gain([(0, 0.3, 1.0), (0, 0.3, 1.0), (0, 0.2, 9.0), (0, 0.2, 9.0)]) == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("count", [2, 3, 5, 8, 9, 17])
def test_groups_by_bits_of_the_number(count: int) -> None:
    """Sides by the parity of the bits that a mask has: each a way of its own, with nets on both sides."""
    nets = [[Point("J", str(n))] for n in range(count)]
    bits = math.ceil(math.log2(count))
    masks = [1 << n for n in range(bits)] + [(1 << n) + (1 << m) for n in range(bits) for m in range(n)]
    found = groups(nets)
    assert len(found) == bits + bits * (bits - 1) // 2
    for mask, one in zip(masks, found, strict=True):
        odd = [str(n) for n in range(count) if bin(n & mask).count("1") % 2]
        assert [p.cavity for p in one.a] == odd
        assert [p.cavity for p in one.b] == [str(n) for n in range(count) if str(n) not in odd]
        assert one.a and one.b


def test_half_of_a_share_is_its_own_and_half_as_if_all_were_alike() -> None:
    """Weights 0.1, 0.2, 0.3 of three: p (0.5 + 0.5 / 3 / weight). A pair of faults keeps its share."""
    here = asker()
    given = ranking(0.1, 0.0, suspect(1, 0.4), suspect(None, 0.3), suspect(0, 0.2), suspect(2, 0.1))
    assert here._shares(given) == pytest.approx(
        [0.4 * (0.5 + 0.5 / 0.6), 0.3, 0.2 * (0.5 + 0.5 / 0.3), 0.1 * (0.5 + 0.5 / 0.9)]
    )
    one = Asker(ranker(WIRES, SOUND, {A: [{0: OPEN}]}), range(6), plugs=False)
    assert one._shares(ranking(0.5, 0.0, suspect(0, 0.5))) == pytest.approx([0.5 * (0.5 + 0.5 / 0.1)])


def test_the_table_of_outcomes() -> None:
    """Reading 0: suspect 0 with 0.3 at 5 ohm and 0.1 at 9, its other 0.1 as healthy; suspect 2 open; the rest healthy.

    Suspect 1 has next to no share, and of suspect 3 one strength: neither counts, what stands behind them does.
    """
    given = ranking(
        0.2, 0.1, suspect(0, 0.5, (0.6, {0: 5.0}), (0.2, {0: 9.0}), (0.2, {1: 7.0})), suspect(1, 9e-7, (1.0, {0: 3.0})),
        suspect(2, 0.15, (1.0, {0: OPEN, 2: OPEN})), suspect(None, 0.05, (1e-6, {0: 4.0}), (1.0, {1: 8.0})),
    )  # fmt: skip
    table = asker()._table(given, [0.5, 9e-7, 0.15, 0.05])
    rows = {number: [(s, round(p, 9), v) for s, p, v in found] for number, found in table.items()}
    assert rows == {
        0: [(0, 0.3, 5.0), (0, 0.1, 9.0), (2, 0.15, OPEN), (0, 0.1, 0.1), (-1, 0.35, 0.1)],
        1: [(0, 0.1, 7.0), (3, 0.05, 8.0), (0, 0.4, 0.1), (-1, 0.45, 0.1)],
        2: [(2, 0.15, OPEN), (-1, 0.85, 0.1)],
    }
    # What rounding leaves below zero is nothing.
    small = asker()._table(ranking(0.0, 0.0), [])
    assert small == {}
    tight = asker()._table(ranking(-0.1, 0.0, suspect(0, 0.5, (1.0, {0: 5.0}))), [0.5])
    assert tight == {0: [(0, 0.5, 5.0), (-1, 0.0, 0.1)]}


@pytest.mark.parametrize(("probability", "asked"), [(0.0006, True), (0.00055, False)])
def test_two_hundredths_of_a_bit_are_asked_for(probability: float, asked: bool) -> None:
    """3 p beside 0.9: of 0.0018 to 0.9018 H is 0.0208 bit, of 0.00165 to 0.90165 it is 0.0194."""
    ranked = ranker(WIRES, SOUND, {A: [{0: OPEN}], fault("B", 0.1): [{1: OPEN}]})
    given = ranking(0.9, 0.0, suspect(0, probability, (1.0, {0: OPEN})))
    question = Asker(ranked, [0], plugs=False).next(given, [])
    assert (question is not None) is asked and LEAST_GAIN == 0.02
    if question is not None:
        assert question.gain == pytest.approx(0.0208, abs=1e-4) and question.number == 0


def test_what_tells_nothing_or_was_read_stands_in_no_way() -> None:
    """Readings 0 and 1 tell next to nothing, 2 was taken, 3 is in no table: 4 is asked for."""
    given = ranking(0.5, 0.0, suspect(0, 1e-5, (1.0, {0: OPEN, 1: OPEN})), suspect(1, 0.4, (1.0, {2: OPEN, 4: OPEN})))
    question = asker().next(given, [Taken(2, 0.1)])
    assert question is not None and question.number == 4 and question.minutes == 0.7


@pytest.mark.parametrize(
    ("nothing", "hidden", "shares", "settled"),
    [(0.5, 0.45, [0.05], True), (0.5, 0.44, [0.06], False), (0.05, 0.0, [0.95], True), (0.06, 0.0, [0.94], False),
     (0.95, 0.0, [], True), (0.0, 0.94, [], False)],
)  # fmt: skip
def test_when_it_is_settled(nothing: float, hidden: float, shares: list[float], settled: bool) -> None:
    given = ranking(nothing, hidden, *(suspect(n, p) for n, p in enumerate(shares)))
    assert asker().settled(given) is settled


class Offers:
    """Stands in for a ranker's ``offer``: what was offered, and for whom."""

    def __init__(self, here: Asker) -> None:
        self.said: list[tuple[Series, list[int]]] = []
        here.ranker.offer = self  # type: ignore[method-assign,assignment]

    def __call__(self, asked: Series, wanted: Iterable[int]) -> int:
        self.said.append((asked, list(wanted)))
        return 99


def cut(shares: list[float], effects: list[dict[int, float]], layer: list[int] | None = None) -> int:
    """How many lines of the layer are offered in series; each suspect shows what is said of it."""
    here = asker()
    offers = Offers(here)
    suspects = [suspect(n, p, (1.0, effect)) for n, (p, effect) in enumerate(zip(shares, effects, strict=True))]
    here._halve(list(range(6)) if layer is None else layer, ranking(0.0, 0.0, *suspects), shares)
    return len(offers.said[0][0].lines) if offers.said else 0


@pytest.mark.parametrize(
    ("masses", "lines"),
    [
        # Halves of the sum, eighths: the line in whose middle the half lies is not taken in.
        ((0.125, 0.125, 0.125, 0.125), 2), ((0.125,) * 5, 2), ((0.125,) * 6, 3), ((0.5, 0.25, 0.125, 0.125), 0),
        ((0.125, 0.125, 0.5, 0.125), 2), ((0.125, 0.125, 0.125, 0.5), 3), ((0.0, 0.0, 0.5), 2), ((0.0, 0.5), 0),
        ((0.25, 0.25, 0.0, 0.25, 0.25), 2), ((0.0, 0.0, 0.0), 0), ((0.125, 0.25, 0.0625, 0.25, 0.125), 2),
        ((0.5,), 0),
    ],
)  # fmt: skip
def test_where_lines_in_series_are_cut(masses: tuple[float, ...], lines: int) -> None:
    assert cut(list(masses), [{n: OPEN} for n in range(len(masses))], list(range(len(masses)))) == lines


def test_what_counts_when_lines_are_cut() -> None:
    """A reading that changes by less than a meter shows, or of another layer, counts for nothing; shares below a
    millionth do not either; of several lines of one suspect the first one counts."""
    eighth = [0.125] * 4
    assert cut(eighth, [{0: OPEN}, {1: OPEN}, {2: OPEN}, {3: OPEN}]) == 2
    assert cut(eighth, [{0: 0.2}, {1: 0.15}, {2: OPEN}, {3: OPEN}]) == 3
    assert cut(eighth, [{0: OPEN}, {1: OPEN}, {2: OPEN}, {3: OPEN}], [4, 5, 2, 3]) == 3
    assert cut([9e-7, *eighth], [{5: OPEN}, {0: OPEN}, {1: OPEN}, {2: OPEN}, {3: OPEN}]) == 2
    assert cut(eighth, [{5: OPEN, 0: OPEN}, {4: OPEN, 1: OPEN}, {2: OPEN, 3: OPEN}, {3: OPEN}]) == 2
    # A quarter of a suspect's share lies on each of its strengths that shows.
    here = asker()
    offers = Offers(here)
    loose = suspect(0, 0.5, (0.25, {0: OPEN}), (0.25, {1: OPEN}), (0.5, {2: OPEN}))
    here._halve(list(range(6)), ranking(0.0, 0.0, loose, suspect(1, 0.5, (1.0, {3: OPEN}))), [0.5, 0.5])
    assert len(offers.said[0][0].lines) == 3


def test_for_whom_a_series_is_predicted() -> None:
    """The leaders of suspects with a hundred-thousandth and more; pairs of faults have no number of their own."""
    here = asker()
    offers = Offers(here)
    shares = [LEAST_SHARE, 0.99e-5, 0.25, 0.25, 0.25, 0.25]
    suspects = [
        suspect(2, 1.0, (1.0, {5: OPEN})), suspect(1, 1.0, (1.0, {5: OPEN})), suspect(None, 1.0, (1.0, {0: OPEN})),
        suspect(0, 1.0, (1.0, {1: OPEN})), suspect(None, 1.0, (1.0, {2: OPEN})), suspect(4, 1.0, (1.0, {3: OPEN})),
    ]  # fmt: skip
    here._halve([0, 1, 2, 3], ranking(0.0, 0.0, *suspects), shares)
    ((series, wanted),) = offers.said
    assert wanted == [2, 0, 4] and LEAST_SHARE == 1e-5
    points = [(r.a[0], r.b[0]) for r in WIRES]
    assert series.lines == (points[0], points[1][::-1]) and series.leads == [(points[0][1], points[1][1])]
    assert (series.a, series.b) == ((points[0][0],), (points[1][0],))


def test_ends_of_three_lines_in_series() -> None:
    lines = tuple((Point("J", str(n)), Point("P", str(n))) for n in range(3))
    series = Series(lines)
    assert (series.a, series.b) == ((Point("J", "0"),), (Point("P", "2"),))
    assert series.leads == [(Point("P", "0"), Point("J", "1")), (Point("P", "1"), Point("J", "2"))]


def lines(count: int) -> Ranker:
    """So many wires of 0.1 ohm, each with its continuity reading and a fault that opens it."""
    net = Network()
    for n in range(count):
        net.add("wire", f"W{n}", Point("J1", str(n)), Point("P1", str(n)), 0.1)
    listed = [reading(f"BC{n}") for n in range(count)]
    faults = [replace(fault(f"W{n}", 0.1), edits=(Edit(((n, p.a, p.b, OPEN),)),)) for n, p in enumerate(net.pieces)]
    return Ranker(Predictor(net, listed), faults, [(-OPEN, 0.5)] * count)


def test_a_series_is_asked_for_where_it_tells_more() -> None:
    """Eight open lines alike, and half of it nothing: four in series tell H(1/4) for a minute, one line H(1/16)."""
    ranked = lines(8)
    here = Asker(ranked, range(8))
    answer = ranking(0.5, 0.0, *(suspect(n, 1 / 16, (1.0, ranked.effects[n][0])) for n in range(8)))
    for s in answer.suspects:  # of equal weight 0.1 each: 1/16 (0.5 + 0.5 / 8 / 0.1) = 0.0703
        assert here._shares(answer)[s.numbers[0]] == pytest.approx(0.0703125)
    question = here.next(answer, [])
    assert question is not None and isinstance(question.asked, Series) and len(question.asked.lines) == 4
    share = 4 * 0.0703125 / (0.5 + 8 * 0.0703125)
    assert question.gain == pytest.approx(entropy([share, 1 - share])) and question.minutes == 1.0
    fresh = ranking(0.5, 0.0, *(suspect(n, 1 / 16, (1.0, {n: OPEN})) for n in range(8)))
    plain = Asker(lines(8), range(8), plugs=False).next(fresh, [])
    assert plain is not None and not isinstance(plain.asked, Series)


def test_layers_hold_single_points_of_continuity_alone() -> None:
    """Three nets with an isolation reading and a tied one each, before and after the continuity readings."""
    net = Network()
    for n in range(3):
        net.add("wire", f"W{n}", Point("J1", str(n)), Point("P1", str(n)), 0.1)
    ends = [(Point("J1", str(n)), Point("P1", str(n))) for n in range(3)]
    apart = [reading(f"BS{n}", "isolation") for n in range(3)]
    tied = [reading(f"BC{n}", a=ends[n]) for n in range(3)]
    other = [reading(f"BC{n}", b=ends[n]) for n in range(3)]
    single = [reading(f"BC{n}") for n in (2, 0, 1)]
    listed: list[Any] = [*apart, *tied, *other, *single, *single[:2], single[2], apart[0]]
    here = Asker(Ranker(Predictor(net, listed), [], [(0.0, 1.0)] * 16), range(16))
    assert here.layers == [[9, 10, 11], [12, 13, 14]]
    assert Asker(here.ranker, [9, 10, 12]).layers == [] and Asker(here.ranker, [9, 10, 11, 12, 13]).layers == [
        [9, 10, 11]
    ]
