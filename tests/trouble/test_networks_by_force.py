"""Conductances, predictions and volts against the whole network solved anew with numpy for every fault and reading."""

from __future__ import annotations

import math
from itertools import pairwise
from random import Random

import networkx as nx
import numpy as np
import pytest

from harnesscheck.place import Point
from harnesscheck.trouble.copper import OPEN, Wire, bilinear, conductances, joined, reduced
from harnesscheck.trouble.network import Network
from harnesscheck.trouble.powered import volts_at
from harnesscheck.trouble.predict import Edit, Predictor
from tests.trouble.probes import Lines, Probes


def solved(wires: list[Wire], one: set[int], two: set[int], count: int) -> float:
    """Ohms between two groups of tied nodes: Kirchhoff's current law for 1 A in at the first and out at the second."""
    tied: nx.Graph = nx.Graph()
    tied.add_nodes_from(range(count))
    for group in (one, two):
        listed = sorted(group)
        tied.add_edges_from(pairwise(listed))
    tied.add_edges_from((a, b) for a, b, ohms in wires if ohms == 0)
    name = {node: n for n, nodes in enumerate(nx.connected_components(tied)) for node in nodes}
    red, black = name[min(one)], name[min(two)]
    if red == black:
        return 0.0
    real = [(name[a], name[b], 1 / r) for a, b, r in wires if 0 < r < OPEN and name[a] != name[b]]
    graph: nx.Graph = nx.Graph([(a, b) for a, b, _ in real])
    graph.add_nodes_from((red, black))
    if not nx.has_path(graph, red, black):
        return OPEN
    live = sorted(nx.node_connected_component(graph, red) - {black})
    place = {node: n for n, node in enumerate(live)}
    flow, put = np.zeros((len(live), len(live))), np.zeros(len(live))
    for a, b, g in real:
        for i, j in ((a, b), (b, a)):
            if i in place:
                flow[place[i], place[i]] += g
                if j in place:
                    flow[place[i], place[j]] -= g
    put[place[red]] = 1.0
    return float(np.linalg.solve(flow, put)[place[red]])


def held(wires: list[Wire], fixed: dict[int, float], count: int) -> dict[int, float]:
    """Volts of the nodes that a supply reaches."""
    graph: nx.Graph = nx.Graph([(a, b) for a, b, r in wires if r < OPEN])
    graph.add_nodes_from(fixed)
    live = [n for nodes in nx.connected_components(graph) if nodes & fixed.keys() for n in sorted(nodes)]
    place = {node: n for n, node in enumerate(live)}
    flow, put = np.zeros((len(live), len(live))), np.zeros(len(live))
    for node in live:
        if node in fixed:
            flow[place[node], place[node]], put[place[node]] = 1.0, fixed[node]
    for a, b, r in wires:
        for i, j in ((a, b), (b, a)):
            if r < OPEN and i in place and i not in fixed:
                flow[place[i], place[i]] += 1 / r
                flow[place[i], place[j]] -= 1 / r
    return dict(zip(live, np.linalg.solve(flow, put).tolist(), strict=True))


def made(chance: Random, least: float) -> Network:
    """Three pieces of copper of 3 to 6 nodes, one of them a tree; ``least`` 0: some joints have no resistance."""
    net = Network()
    for part in range(3):
        nodes = [Point(f"N{part}", str(n)) for n in range(chance.randint(3, 6))]
        for n in range(1, len(nodes)):
            net.add("wire", "w", nodes[chance.randrange(n)], nodes[n], chance.choice((least, 0.3, 2.0, 120.0)))
        for _ in range(2 if part else 0):
            a, b = chance.sample(nodes, 2)
            net.add("wire", "w", a, b, chance.choice((0.3, 5.0, 47.0)))
    net.node(Point("ALONE"))
    return net


def edits(net: Network, chance: Random) -> list[Edit]:
    """Open, stronger, moved, added between any two, and two of these at once."""
    count, found = len(net.index), []
    for number in chance.sample(range(len(net.pieces)), 6):
        p = net.pieces[number]
        found.append(Edit(((number, p.a, p.b, OPEN),)))
        found.append(Edit(((number, p.a, p.b, p.ohms + 7.0),)))
        found.append(Edit(((number, p.a, chance.randrange(count), p.ohms),)))
    found += [Edit(add=((*chance.sample(range(count), 2), chance.choice((0.05, 120.0))),)) for _ in range(8)]
    found += [chance.choice(found).plus(chance.choice(found)) for _ in range(10)]
    return found


def changed(net: Network, edit: Edit, hot: bool) -> list[Wire]:
    wires = {n: (p.a, p.b, p.ohms) for n, p in enumerate(net.pieces) if hot or p.kind != "breaker"}
    for number, a, b, ohms in edit.change:
        if number in wires:
            wires[number] = (a, b, ohms)
    return [*wires.values(), *edit.add]


def groups(net: Network, chance: Random) -> list[Probes]:
    """Readings of one to three points a lead; the last two touch the same point with both, and nothing."""
    points = list(net.index)
    found = []
    for _ in range(10):
        some = chance.sample(points, chance.choice((2, 2, 4, 6)))
        found.append(Probes(tuple(some[: len(some) // 2]), tuple(some[len(some) // 2 :])))
    return [*found, Probes((points[0], points[1]), (points[1], points[2])), Probes((Point("X"),), (points[0],))]


@pytest.mark.parametrize("seed", range(6))
def test_ohms_with_every_fault(seed: int) -> None:
    chance = Random(seed)
    net = made(chance, 0.0)
    # A closed breaker counts with the power on only: for ohms it is not there.
    points = list(net.index)
    net.add("breaker", "CB1", points[0], points[-1], 0.01)
    readings = groups(net, chance)
    predictor = Predictor(net, readings)
    tried = [Edit(), *edits(net, chance)]
    for edit in tried:
        effect = predictor.effect(edit)
        wires = changed(net, edit, False)
        for number, reading in enumerate(readings):
            one, two = ({net.index[p] for p in points if p in net.index} for points in (reading.a, reading.b))
            mine = effect.get(number, predictor.healthy[number])
            true = solved(wires, one, two, len(net.index)) if one and two else OPEN
            assert mine == (OPEN if true == OPEN else pytest.approx(true, rel=1e-6, abs=1e-7)), (edit, reading)


@pytest.mark.parametrize("seed", range(4))
def test_a_family_is_what_each_of_its_strengths_gives(seed: int) -> None:
    chance = Random(seed)
    net = made(chance, 0.1)
    readings = groups(net, chance)
    predictor = Predictor(net, readings)
    number = chance.randrange(len(net.pieces))
    p, (a, b) = net.pieces[number], chance.sample(range(len(net.index)), 2)
    strengths = (0.7, 3.0, 15.0, 70.0, 3000.0)
    crimps = [Edit(((number, p.a, p.b, p.ohms + ohms),)) for ohms in strengths]
    for family in (crimps, [Edit(add=((a, b, ohms),)) for ohms in strengths], crimps[:3]):
        found = predictor.family(family)
        assert len(found) == len(family)
        for edit, effect in zip(family, found, strict=True):
            wires = changed(net, edit, False)
            for place, reading in enumerate(readings[:-1]):
                one, two = {net.index[q] for q in reading.a}, {net.index[q] for q in reading.b}
                true = solved(wires, one, two, len(net.index))
                mine = effect.get(place, predictor.healthy[place])
                assert mine == (OPEN if true == OPEN else pytest.approx(true, rel=1e-5, abs=1e-6)), (edit, reading)


@pytest.mark.parametrize("seed", range(8))
def test_lines_in_series_with_every_fault(seed: int) -> None:
    """Loop-back leads have no resistance; the lines are of separate copper."""
    chance = Random(seed)
    net = made(chance, 0.1)
    predictor = Predictor(net, [])
    lines = []
    for part in chance.sample(range(3), chance.choice((2, 3))):
        nodes = [p for p in net.index if p.ref == f"N{part}"]
        lines.append(tuple(chance.sample(nodes, 2)))
    number = predictor.extend(Lines(tuple(lines)))  # type: ignore[arg-type]
    leads = [(net.index[one[1]], net.index[two[0]], 0.0) for one, two in pairwise(lines)]
    ends = {net.index[lines[0][0]]}, {net.index[lines[-1][1]]}
    assert predictor.healthy[number] == pytest.approx(solved(changed(net, Edit(), False) + leads, *ends, 99))
    assert predictor.hot[number] is False and number == 0
    seen = 0
    for edit in edits(net, chance):
        true = solved(changed(net, edit, False) + leads, *ends, 99)
        mine = predictor.series(number, [edit])[0]
        assert mine == (OPEN if true == OPEN else pytest.approx(true, rel=1e-6)), edit
        if not predictor.reaches(edit, number):
            assert true == pytest.approx(predictor.healthy[number])
            continue
        seen += 1
    assert seen > 3
    p = net.pieces[0]
    family = [Edit(((0, p.a, p.b, p.ohms + ohms),)) for ohms in (1.0, 3.0, 10.0, 30.0, 100.0)]
    true = [solved(changed(net, edit, False) + leads, *ends, 99) for edit in family]
    assert predictor.series(number, family) == pytest.approx(true)


@pytest.mark.parametrize("seed", range(6))
def test_volts_with_every_fault(seed: int) -> None:
    chance = Random(seed)
    net = made(chance, 0.2)
    points = list(net.index)
    net.add("breaker", "CB1", points[0], Point("BUS"), 0.02)
    net.fixed = {net.index[Point("BUS")]: 28.0, net.index[points[2]]: 0.0, net.index[points[-2]]: 5.0}
    pairs = [tuple(chance.sample(points, 2)) for _ in range(8)]
    readings = [Probes((a,), (b,), "volts") for a, b in pairs] + [Probes((a,), (b,)) for a, b in pairs[:3]]
    readings.append(Probes((Point("X"),), (points[0],), "volts"))
    predictor = Predictor(net, readings)
    for edit in [Edit(), *edits(net, chance)]:
        if any(a == b for _, a, b, _ in edit.change):
            continue
        effect = predictor.effect(edit)
        volts = held(changed(net, edit, True), net.fixed, len(net.index))
        for number, reading in enumerate(readings):
            mine = effect.get(number, predictor.healthy[number])
            one, two = (volts.get(net.index.get(points[0], -1)) for points in (reading.a, reading.b))
            if reading.kind == "volts":
                assert mine == pytest.approx(0.0 if one is None or two is None else one - two, abs=1e-6), edit
            else:
                a, b = ({net.index[q] for q in points} for points in (reading.a, reading.b))
                true = solved(changed(net, edit, False), a, b, len(net.index))
                assert mine == (OPEN if true == OPEN else pytest.approx(true)), edit


def test_volts_are_not_known_where_no_supply_is() -> None:
    net = Network()
    net.add("wire", "w", Point("A"), Point("B"), 1.0)
    predictor = Predictor(net, [Probes((Point("A"),), (Point("B"),), "volts"), Probes((Point("A"),), (Point("B"),))])
    assert math.isnan(predictor.healthy[0]) and predictor.healthy[1] == 1.0
    assert predictor.effect(Edit(((0, 0, 1, 3.0),))) == {1: pytest.approx(3.0)}


def test_conductances_by_hand() -> None:
    """A triangle of 1, 2 and 3 ohm: 1 in parallel with 5, and so on. Node 3 hangs at node 2 without resistance."""
    wires = [(0, 1, 1.0), (1, 2, 2.0), (0, 2, 3.0), (2, 3, 0.0)]
    reds, blacks = [0b1011, 0b0100, 0, 0b0], [0b1000, 0b0001, 0b0100, 0b0010]
    # Reading 0: node 0 to 1; 1: node 0 to 3; 2: node 1 to 2; 3: both at node 0.
    found = conductances(range(4), wires, reds, blacks)
    assert found == {
        0: pytest.approx(6 / 5), 1: pytest.approx(2 / 3), 2: pytest.approx(6 / 8), 3: OPEN,
    }  # fmt: skip
    assert list(conductances(range(4), wires, reds, blacks, 0b0010)) == [1]
    assert conductances(range(4), wires, reds, [0] * 4) == {}
    place = joined(range(4), wires)
    assert place[2] == place[3] and len(set(place.values())) == 3
    assert reduced(joined(range(4), wires[:1]), wires[:1], {0}, {3}) == 0.0


def test_a_chain_of_resistors_is_a_tree() -> None:
    """0 -1- 1 -2- 2 -4- 3 with a branch of 8 at 1: sums along the only way."""
    wires = [(0, 1, 1.0), (1, 2, 2.0), (2, 3, 4.0), (1, 4, 8.0)]
    for (a, b), ohms in {(0, 3): 7.0, (4, 3): 14.0, (3, 4): 14.0, (4, 0): 9.0, (2, 0): 3.0}.items():
        reds, blacks = [n == a for n in range(5)], [n == b for n in range(5)]
        assert conductances(range(5), wires, reds, blacks) == {0: pytest.approx(1 / ohms)}


@pytest.mark.parametrize(
    ("pqr", "xs"), [((1.0, 2.0, 0.5), (1, 2, 3)), ((60.0, 0.5, 0.004), (0.7, 15, 330)), ((5.0, 1.0, 0.0), (1, 4, 9))]
)
def test_a_bilinear_function_through_three_points(pqr: tuple[float, ...], xs: tuple[float, ...]) -> None:
    p, q, r = pqr
    assert bilinear(xs, [(p + q * x) / (1 + r * x) for x in xs]) == pytest.approx(pqr)


@pytest.mark.parametrize(
    ("values", "only"), [((3.0, 3.0, 3.0), 3.0), ((OPEN,) * 3, OPEN), ((1.0, OPEN, 2.0), OPEN), ((0.0, 0.0, 0.0), 0.0)]
)
def test_a_constant_or_infinite_reading_has_one_number(values: tuple[float, ...], only: float) -> None:
    assert bilinear((1, 2, 3), values) == (only,)


def test_two_faults_at_one_piece() -> None:
    """The second wins, except that open stays open; what is added is added."""
    open_one, more = Edit(((4, 1, 2, OPEN),), ((0, 1, 9.0),)), Edit(((4, 1, 3, 5.0), (5, 6, 7, 8.0)), ((2, 3, 4.0),))
    assert open_one.plus(more) == Edit(((4, 1, 2, OPEN), (5, 6, 7, 8.0)), ((0, 1, 9.0), (2, 3, 4.0)))
    assert more.plus(Edit(((4, 1, 1, 2.0),))).change == ((4, 1, 1, 2.0), (5, 6, 7, 8.0))


def test_the_most_overloaded_breaker_opens_first() -> None:
    """28 V through 5 A and 10 A breakers in series, short of 1 ohm: 27 A. The 5 A one (trips at 10) opens, then 0 A."""
    wires = [(0, 1, 0.02), (1, 2, 0.02), (2, 3, 1.0)]
    trips = {wires[0]: 20.0, wires[1]: 10.0}
    found = volts_at(range(4), wires, {0: 28.0, 3: 0.0}, trips)
    assert found[1] == pytest.approx(28.0) and found[2] == pytest.approx(0.0)
    # At the limit itself it holds: 10 V over 1 ohm in all is 10 A.
    even = [(0, 1, 0.5), (1, 2, 0.5)]
    assert volts_at(range(3), even, {0: 10.0, 2: 0.0}, {even[0]: 10.0})[1] == pytest.approx(5.0)
    assert volts_at(range(3), even, {0: 10.0, 2: 0.0}, {even[0]: 9.9})[1] == pytest.approx(0.0)
    assert volts_at([7, 8], [(7, 8, 1.0)], {1: 5.0}, {}) == {7: None, 8: None}
    assert volts_at([7, 8, 9], [(7, 8, 0.0)], {7: 5.0}, {}) == {7: 5.0, 8: pytest.approx(5.0), 9: None}
