"""Small networks whose every resistance is a sum, or a sum of reciprocals, written out beside it."""

from __future__ import annotations

import math

import pytest

from harnesscheck.place import Point
from harnesscheck.trouble import powered
from harnesscheck.trouble.copper import OPEN, Wire, _Tree, joined
from harnesscheck.trouble.network import Network
from harnesscheck.trouble.powered import volts_at
from harnesscheck.trouble.predict import Edit, Predictor, _Half
from tests.trouble.probes import Lines, Probes

A, B, C, D, E, F, G = (Point(name) for name in "ABCDEFG")


def two_wires() -> Network:
    """A 1 ohm B 2 ohm C, and D 4 ohm E; nothing at F. Nodes are numbered A 0 to F 5, pieces 0 to 2."""
    net = Network()
    for name, a, b, ohms in (("W1", A, B, 1.0), ("W2", B, C, 2.0), ("W3", D, E, 4.0)):
        net.add("wire", name, a, b, ohms)
    net.node(F)
    return net


def half(net: Network) -> _Half:
    count = len(net.index)
    return _Half(net, [p for p in net.pieces if p.kind != "breaker"], [0] * count, [0] * count)


def test_components_of_a_network() -> None:
    net = two_wires()
    net.add("breaker", "CB1", C, D, 0.02)
    cold = half(net)
    assert cold.comp == [0, 0, 0, 1, 1, 2]
    assert cold.members == [
        ([0, 1, 2], [(0, 1, 1.0), (1, 2, 2.0)]),
        ([3, 4], [(3, 4, 4.0)]),
        ([5], []),
    ]
    assert cold.numbers == [[0, 1], [2], []]
    assert cold.found == [{}, {}, {}]


@pytest.mark.parametrize(
    ("edit", "touched"),
    [
        (Edit(), set()), (Edit(((0, 0, 1, OPEN),)), {0}), (Edit(add=((4, 5, 9.0),)), {1, 2}),
        # The end of piece 1 from C to D: where it was, and where it is now.
        (Edit(((1, 1, 3, 2.0),)), {0, 1}), (Edit(((2, 5, 5, 4.0),)), {1, 2}),
        # Of a breaker nothing is felt with the power off, wherever it is put.
        (Edit(((3, 2, 5, 0.02),)), set()), (Edit(((3, 2, 5, 0.02),), ((0, 5, 1.0),)), {0, 2}),
    ],
)  # fmt: skip
def test_components_that_a_fault_touches(edit: Edit, touched: set[int]) -> None:
    net = two_wires()
    net.add("breaker", "CB1", C, D, 0.02)
    assert half(net).touched(edit) == touched


@pytest.mark.parametrize(
    ("edit", "parts"),
    [
        (Edit(), []), (Edit(((0, 0, 1, OPEN),)), [([0], []), ([1, 2], [(1, 2, 2.0)])]),
        (Edit(((1, 1, 2, 7.0),)), [([0, 1, 2], [(0, 1, 1.0), (1, 2, 7.0)])]),
        (Edit(add=((2, 4, 0.5),)), [([0, 1, 2, 4, 3], [(0, 1, 1.0), (1, 2, 2.0), (2, 4, 0.5), (3, 4, 4.0)])]),
        (Edit(((1, 1, 3, 2.0),)), [([0, 1, 3, 4], [(0, 1, 1.0), (1, 3, 2.0), (3, 4, 4.0)]), ([2], [])]),
        # A resistance whose both ends are one node, and two side by side.
        (Edit(((2, 3, 3, 4.0),)), [([3], [(3, 3, 4.0)]), ([4], [])]),
        (Edit(add=((3, 4, 4.0),)), [([3, 4], [(3, 4, 4.0), (3, 4, 4.0)])]),
    ],
)  # fmt: skip
def test_what_a_fault_leaves(edit: Edit, parts: list[tuple[list[int], list[Wire]]]) -> None:
    found = half(two_wires()).parts(edit)
    assert [(nodes, sorted(wires)) for nodes, wires in found] == parts


READINGS = [Probes((A,), (C,)), Probes((D,), (E,)), Probes((A,), (E,)), Probes((A, D), (C, E)), Probes((F,), (A,))]


@pytest.mark.parametrize(
    ("edit", "values"),
    [
        # 1 + 2; 4; open; 3 beside 4: 12 / 7; open
        (Edit(), [3.0, 4.0, OPEN, 12 / 7, OPEN]),
        (Edit(((1, 1, 2, 7.0),)), [8.0, 4.0, OPEN, 8 * 4 / 12, OPEN]),
        (Edit(((0, 0, 1, OPEN),)), [OPEN, 4.0, OPEN, 4.0, OPEN]),
        # C to D: A to E is 3 + 0.5 + 4. Tied A D against C E: 3, 0.5 and 4 side by side, 1 / (1/3 + 2 + 1/4) = 12 / 31.
        (Edit(add=((2, 3, 0.5),)), [3.0, 4.0, 7.5, 12 / 31, OPEN]),
        # A second 4 ohm beside the 4: 2 ohm; with 3 beside it 6 / 5.
        (Edit(add=((3, 4, 4.0),)), [3.0, 2.0, OPEN, 6 / 5, OPEN]),
        # F to B through 5: F to A is 5 + 1.
        (Edit(add=((5, 1, 5.0),)), [3.0, 4.0, OPEN, 12 / 7, 6.0]),
        # Without resistance from A to C.
        (Edit(add=((0, 2, 0.0),)), [0.0, 4.0, OPEN, 0.0, OPEN]),
        (Edit(((0, 0, 1, OPEN), (2, 3, 4, OPEN))), [OPEN, OPEN, OPEN, OPEN, OPEN]),
        # The end of the 2 ohm at D: A to E is 1 + 2 + 4. A and D tied: 1 and 2 lie between tied points, 4 is left.
        (Edit(((1, 1, 3, 2.0),)), [OPEN, 4.0, 7.0, 4.0, OPEN]),
    ],
)  # fmt: skip
def test_ohms_of_two_wires(edit: Edit, values: list[float]) -> None:
    predictor = Predictor(two_wires(), READINGS)
    effect = predictor.effect(edit)
    assert [effect.get(n, ohms) for n, ohms in enumerate(predictor.healthy)] == pytest.approx(values)
    assert predictor.effect(edit) is effect, "worked out once"


@pytest.mark.parametrize("first", [0, 1])
def test_two_resistors_alike_side_by_side_are_two(first: int) -> None:
    """Two of 120 ohm are 60; one open leaves 120. The order of the questions does not matter."""
    net = Network()
    net.add("terminator", "left", A, B, 120.0)
    net.add("terminator", "right", A, B, 120.0)
    predictor = Predictor(net, [Probes((A,), (B,))])
    asked = [(Edit(((0, 0, 1, 120.0),)), 60.0), (Edit(((1, 0, 1, OPEN),)), 120.0)]
    for edit, ohms in asked if first else asked[::-1]:
        assert predictor.effect(edit) == {0: pytest.approx(ohms)}


def test_readings_that_share_a_point() -> None:
    """Leads at A and B against B and C: they touch at B, whatever else is broken; without B they do not."""
    predictor = Predictor(two_wires(), [Probes((A, B), (B, C)), Probes((A, D), (C, E))])
    assert predictor.healthy[0] == 0.0
    effect = predictor.effect(Edit(((0, 0, 1, OPEN),)))
    assert effect[0] == 0.0 and effect[1] == pytest.approx(4.0)


def counted(predictor: Predictor) -> list[Edit]:
    """The edits that are worked out one by one from now on."""
    asked: list[Edit] = []
    whole = predictor.effect

    def effect(edit: Edit) -> dict[int, float]:
        asked.append(edit)
        return whole(edit)

    predictor.effect = effect  # type: ignore[method-assign]
    return asked


@pytest.mark.parametrize(
    ("strengths", "worked"),
    [((1.0,), (0,)), ((1.0, 5.0), (0, 1)), ((1.0, 5.0, 9.0), (0, 1, 2)), ((1.0, 5.0, 9.0, 30.0), (0, 2, 3)),
     ((1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0), (0, 3, 6))],
)  # fmt: skip
@pytest.mark.parametrize("added", [False, True])
def test_three_strengths_say_all(strengths: tuple[float, ...], worked: tuple[int, ...], added: bool) -> None:
    """A crimp of x ohm in the 1 ohm: A to C reads 3 + x. A load of x from C to A: 3 x / (3 + x)."""
    predictor = Predictor(two_wires(), READINGS[:2])
    asked = counted(predictor)
    if added:
        edits = [Edit(add=((2, 0, x),)) for x in strengths]
        true = [3 * x / (3 + x) for x in strengths]
    else:
        edits = [Edit(((0, 0, 1, 1 + x),)) for x in strengths]
        true = [3 + x for x in strengths]
    found = predictor.family(edits)
    assert [effect[0] for effect in found] == pytest.approx(true)
    assert all(set(effect) == {0} for effect in found)
    assert asked == [edits[n] for n in worked]


@pytest.mark.parametrize("count", [1, 2, 3, 4, 5])
def test_three_strengths_say_all_of_a_line_in_series(count: int) -> None:
    """A to C and on from D to E: 3 + 4, and x more in the 1 ohm."""
    predictor = Predictor(two_wires(), [])
    number = predictor.extend(Lines(((A, C), (D, E))))
    assert number == 0 and predictor.healthy == [pytest.approx(7.0)]
    chain, asked = predictor._chains[0], []
    whole = chain.ohms
    chain.ohms = lambda edit: asked.append(edit) or whole(edit)  # type: ignore[method-assign,func-returns-value]
    edits = [Edit(((0, 0, 1, 1.0 + x),)) for x in range(1, count + 1)]
    assert predictor.series(0, edits) == pytest.approx([7.0 + x for x in range(1, count + 1)])
    assert len(asked) == min(count, 3)


@pytest.mark.parametrize(
    ("edit", "reaches", "ohms"),
    [
        (Edit(), False, 7.0), (Edit(((0, 0, 1, 6.0),)), True, 12.0), (Edit(((0, 0, 1, OPEN),)), True, OPEN),
        (Edit(((2, 3, 4, 5.0),)), True, 8.0), (Edit(add=((5, 6, 1.0),)), False, 7.0),
        (Edit(((3, 6, 7, OPEN),)), False, 7.0),
        # A short from C to D lies beside the lead between them; one from A to E beside the whole of it.
        (Edit(add=((2, 3, 1.0),)), True, 7.0), (Edit(add=((0, 4, 7.0),)), True, 3.5),
        # Without resistance from the first end to the last.
        (Edit(add=((0, 4, 0.0),)), True, 0.0),
        # From A to D: 1 + 2 lie between tied ends, 4 is left.
        (Edit(add=((0, 3, 0.0),)), True, 4.0),
    ],
)  # fmt: skip
def test_lines_in_series(edit: Edit, reaches: bool, ohms: float) -> None:
    """A to C (3 ohm), a lead from C to D, D to E (4 ohm). F and G hold a wire of their own."""
    net = two_wires()
    net.node(G)
    net.add("wire", "W4", G, Point("H"), 1.0)
    predictor = Predictor(net, [])
    number = predictor.extend(Lines(((A, C), (D, E))))
    assert predictor.reaches(edit, number) is reaches
    assert predictor.series(number, [edit]) == [pytest.approx(ohms)]


def test_a_touched_line_among_others() -> None:
    """Three lines of 1, 2 and 4 ohm with leads between; the second and then the outer two are touched."""
    net = Network()
    for name, a, b, ohms in (("W1", A, B, 1.0), ("W2", C, D, 2.0), ("W3", E, F, 4.0)):
        net.add("wire", name, a, b, ohms)
    predictor = Predictor(net, [])
    number = predictor.extend(Lines(((A, B), (C, D), (E, F))))
    assert predictor.healthy == [pytest.approx(7.0)]
    asked = {
        Edit(((1, 2, 3, 12.0),)): 17.0,
        Edit(((0, 0, 1, 2.0), (2, 4, 5, 8.0))): 12.0,
        # B to E: the 2 ohm between them has it beside it, 2 x 2 / 4 = 1.
        Edit(add=((1, 4, 2.0),)): 6.0,
        Edit(((1, 2, 3, OPEN),), ((1, 4, 2.0),)): 7.0,
        Edit(((0, 0, 1, OPEN),)): OPEN,
    }
    for edit, ohms in asked.items():
        assert predictor.series(number, [edit]) == [pytest.approx(ohms)], edit


def test_lines_that_are_open_or_without_resistance_as_designed() -> None:
    net = two_wires()
    net.add("wire", "W4", F, G, 0.0)
    predictor = Predictor(net, [])
    number = predictor.extend(Lines(((F, G), (D, E))))
    assert predictor.healthy[number] == pytest.approx(4.0)
    assert predictor.series(number, [Edit(((2, 3, 4, 9.0),))]) == [pytest.approx(9.0)]
    number = predictor.extend(Lines(((A, D), (D, E))))
    assert (number, predictor.healthy[number]) == (1, OPEN)
    assert predictor.series(number, [Edit(((2, 3, 4, 9.0),))]) == [OPEN]
    assert predictor.hot == [False, False] and len(predictor.readings) == 2


def fed() -> Network:
    """14 V at BUS through a breaker of 0.5 ohm to A, 1 ohm to B, and 12.5 ohm from B to the structure: 1 A."""
    net = Network()
    net.add("breaker", "CB1", Point("BUS"), A, 0.5, trips=10.0)
    net.add("wire", "W1", A, B, 1.0)
    net.add("load", "lamp", B, Point("GND"), 12.5)
    net.add("wire", "W2", C, D, 3.0)
    net.fixed = {net.index[Point("BUS")]: 14.0, net.index[Point("GND")]: 0.0}
    return net


GND = Point("GND")
VOLTS = [
    Probes((A,), (GND,), "volts"), Probes((B,), (GND,), "volts"), Probes((A,), (B,), "volts"),
    Probes((C,), (GND,), "volts"), Probes((Point("BUS"),), (A,), "volts"), Probes((A,), (B,)),
    Probes((Point("nowhere"),), (GND,), "volts"), Probes((Point("nowhere"), B), (GND,), "volts"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("edit", "values"),
    [
        # 14 V over 0.5 + 1 + 12.5 ohm is 1 A
        (Edit(), [13.5, 12.5, 1.0, 0.0, 0.5, 1.0, 0.0, 12.5]),
        (Edit(((1, 1, 2, OPEN),)), [14.0, 0.0, 14.0, 0.0, 0.0, OPEN, 0.0, 0.0]),
        (Edit(((1, 1, 2, 15.0),)), [13.75, 6.25, 7.5, 0.0, 0.25, 15.0, 0.0, 6.25]),
        # B to the structure through 0.05 ohm: 12.5 beside it is 0.0498, 14 / 1.5498 = 9.0334 A: the breaker holds.
        (Edit(add=((2, 3, 0.05),)), [9.4833, 0.4499, 9.0334, 0.0, 4.5167, 1.0, 0.0, 0.4499]),
        # A to the structure: 14 / 0.55 is 25 A, and the breaker opens. A to B: 1 ohm beside 12.55.
        (Edit(add=((1, 3, 0.05),)), [0.0, 0.0, 0.0, 0.0, 14.0, 12.55 / 13.55, 0.0, 0.0]),
        # A breaker that is missing feeds nothing; ohms do not run through it.
        (Edit(((0, 0, 1, OPEN),)), [0.0, 0.0, 0.0, 0.0, 14.0, 1.0, 0.0, 0.0]),
        # C to B: it has the volts of B.
        (Edit(add=((4, 2, 0.05),)), [13.5, 12.5, 1.0, 12.5, 0.5, 1.0, 0.0, 12.5]),
    ],
)  # fmt: skip
def test_volts_with_the_power_on(edit: Edit, values: list[float]) -> None:
    predictor = Predictor(fed(), VOLTS)
    effect = predictor.effect(edit)
    found = [effect.get(n, value) for n, value in enumerate(predictor.healthy)]
    assert found == pytest.approx(values, abs=2e-4)
    assert predictor.hot == [True] * 5 + [False, True, True]


def test_volts_are_worked_out_strength_by_strength() -> None:
    """Loads of 0.05 to 40 ohm at A: at 0.05 the breaker opens, and no function of three of them says that."""
    predictor = Predictor(fed(), VOLTS[:1])
    edits = [Edit(add=((1, 3, ohms),)) for ohms in (0.05, 5.0, 10.0, 20.0, 40.0)]
    # x beside 13.5 ohm, and 0.5 before it
    true = [0.0] + [14 * p / (p + 0.5) for p in (x * 13.5 / (x + 13.5) for x in (5.0, 10.0, 20.0, 40.0))]
    assert [effect[0] for effect in predictor.family(edits)] == pytest.approx(true)


def test_volts_without_any_supply_are_not_known() -> None:
    net = fed()
    net.fixed = {}
    predictor = Predictor(net, VOLTS[:1])
    assert not predictor.powered and math.isnan(predictor.healthy[0])
    assert not Predictor(fed(), VOLTS[5:6]).powered


def test_a_breaker_opens_the_next_one_holds() -> None:
    """28 V through 0.5 ohm each into 0.4 ohm and, beside it, 100 ohm behind a breaker of its own: 31 A, then 0."""
    wires = [(0, 1, 0.5), (1, 2, 0.4), (1, 3, 0.5), (3, 2, 100.0)]
    found = volts_at(range(4), wires, {0: 28.0, 2: 0.0}, {wires[1]: 20.0, wires[2]: 5.0})
    # The 0.4 ohm is gone: 28 V over 0.5 + 0.5 + 100 ohm.
    amps = 28 / 101.0
    assert found == {0: 28.0, 1: pytest.approx(28 - 0.5 * amps), 2: 0.0, 3: pytest.approx(100 * amps)}
    # Two overloaded: 140 A is 14 times 10 and 7 times 20; the first one opens and saves the second.
    rows = [(0, 1, 0.1), (1, 2, 0.1)]
    for (one, two), volts in {(20.0, 10.0): 28.0, (10.0, 20.0): 0.0}.items():
        found = volts_at(range(3), rows, {0: 28.0, 2: 0.0}, {rows[0]: one, rows[1]: two})
        assert found[1] == pytest.approx(volts)
    assert powered.TRIPS == 2.0, "from memory, as the module says"
    # A joint of no resistance counts as 0.1 milliohm, and so does what a breaker of none lets through.
    joint = [(0, 1, 0.0), (1, 2, 1.0)]
    assert volts_at(range(3), joint, {0: 10.0, 2: 0.0}, {joint[0]: 10.0})[1] == pytest.approx(10 * 1 / 1.0001)
    assert volts_at(range(3), joint, {0: 10.0, 2: 0.0}, {joint[0]: 9.0})[1] == pytest.approx(0.0)


@pytest.mark.parametrize(
    ("wires", "ok"),
    [
        ([(0, 1, 1.0), (1, 2, 2.0), (1, 3, 3.0)], True), ([(0, 1, 1.0), (1, 2, 2.0), (2, 0, 3.0), (1, 3, 1.0)], False),
        ([(0, 1, 1.0), (0, 1, 1.0), (1, 2, 2.0), (2, 3, 1.0)], False),
        # A joint makes two nodes one: a tree with it, a loop with a second way.
        ([(0, 1, 0.0), (1, 2, 2.0), (2, 3, 1.0)], True), ([(0, 1, 0.0), (1, 2, 2.0), (2, 3, 1.0), (0, 2, 1.0)], False),
    ],
)  # fmt: skip
def test_one_way_only(wires: list[Wire], ok: bool) -> None:
    tree = _Tree(joined(range(4), wires), wires)
    assert tree.ok is ok
    if ok:
        # 0 to 3: 1 + 3 on the branch, 2 + 1 behind the joint.
        place = joined(range(4), wires)
        assert tree.ohms(place[0], place[3]) == pytest.approx(4.0 if len(set(place.values())) == 4 else 3.0)
        assert tree.ohms(place[3], place[0]) == tree.ohms(place[0], place[3])
