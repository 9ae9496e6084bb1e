"""Bundle diameter against closed forms, worked examples and what no bundle can beat."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harnesscheck.formulas.bundle import FACTOR, RATIOS, bundle_diameter, ratio

# Independent route: the packings that have a closed form (two to nine, eleven and nineteen circles).
CLOSED = {
    1: 1.0,
    2: 2.0,
    3: 1 + 2 / math.sqrt(3),
    4: 1 + math.sqrt(2),
    5: 1 + math.sqrt(2 * (1 + 1 / math.sqrt(5))),
    6: 3.0,
    7: 3.0,
    8: 1 + 1 / math.sin(math.pi / 7),
    9: 1 + math.sqrt(2 * (2 + math.sqrt(2))),
    11: 1 + 1 / math.sin(math.pi / 9),
    13: 2 + math.sqrt(5),
    19: 1 + math.sqrt(2) + math.sqrt(6),
}


@pytest.mark.parametrize(("count", "exact"), CLOSED.items())
def test_the_table_agrees_with_the_closed_forms(count: int, exact: float) -> None:
    assert RATIOS[count - 1] == pytest.approx(exact, abs=6e-5)


# Published table of best known packings (n = 10, 12, 14 to 18, 20), three to four digits as printed.
PRINTED = {10: 3.813, 12: 4.029, 14: 4.328, 15: 4.5214, 16: 4.615, 17: 4.792, 18: 4.8637, 20: 5.122}


@pytest.mark.parametrize(("count", "printed"), PRINTED.items())
def test_the_table_agrees_with_the_printed_one(count: int, printed: float) -> None:
    assert RATIOS[count - 1] == pytest.approx(printed, abs=1e-3)


def test_the_table_never_falls_and_never_beats_its_own_area() -> None:
    assert all(a <= b for a, b in pairwise(RATIOS))
    assert all(r * r >= n for n, r in enumerate(RATIOS, 1))  # the circles have n times the area of one


def test_worked_example_of_equal_wires() -> None:
    # Handbook rule as printed on two formula pages: 24 wires of 2.0 mm, factor 1.2: 11.76 mm.
    assert bundle_diameter([2.0] * 24) == pytest.approx(11.757, abs=1e-3)


def test_worked_example_of_mixed_wires() -> None:
    # Own arithmetic on the same rule: ten of 0.060 in and twenty-five of 0.052 in: 0.386 in.
    assert bundle_diameter([0.060] * 10 + [0.052] * 25) == pytest.approx(0.38624, abs=1e-4)


@pytest.mark.parametrize("count", [2, 3, 4, 5, 6])
def test_few_wires_are_never_smaller_than_they_can_be(count: int) -> None:
    # The handbook rule alone gives 0.849, 0.965, 0.994, 0.993 and 0.980 of the least possible circle here.
    assert FACTOR * math.sqrt(count) < RATIOS[count - 1]
    assert bundle_diameter([1.0] * count) == pytest.approx(RATIOS[count - 1])
    assert ratio(count) == pytest.approx(RATIOS[count - 1])


def test_a_third_wire_in_the_gap_beside_two() -> None:
    # Independent route: circles of radius 3 and 2 side by side in one of radius 5 leave a gap for a third of radius
    # 3 x 2 x 5 / (9 + 6 + 4) on either side (twin problem of the arbelos), so the three need exactly a diameter of 10.
    assert bundle_diameter([6.0, 4.0, 2 * 30 / 19]) == pytest.approx(10.0)


def test_three_unlike_wires_against_the_circle_theorem() -> None:
    # Independent route: three circles that touch one another, curvatures k1 to k3, have around them a circle of
    # curvature 2 sqrt(k1 k2 + k2 k3 + k3 k1) - (k1 + k2 + k3) (Descartes). The estimate comes within 8 per cent.
    k1, k2, k3 = 1 / 3, 1 / 2.8, 1 / 2.5
    around = 2 / (2 * math.sqrt(k1 * k2 + k2 * k3 + k3 * k1) - (k1 + k2 + k3))
    assert bundle_diameter([6.0, 5.6, 5.0]) == pytest.approx(around, rel=0.08)


WIRES = st.lists(st.floats(0.5, 20.0), min_size=1, max_size=60)


@given(WIRES)
def test_a_bundle_holds_its_wires(wires: list[float]) -> None:
    found = bundle_diameter(wires)
    assert found >= max(wires)
    assert found**2 >= sum(d * d for d in wires) * (1 - 1e-12)
    assert found == pytest.approx(bundle_diameter(list(reversed(wires))))


@given(WIRES, st.floats(0.5, 20.0), st.floats(0.001, 1000.0))
def test_a_further_wire_never_shrinks_it_and_units_do_not_matter(wires: list[float], more: float, unit: float) -> None:
    assert bundle_diameter([*wires, more]) >= bundle_diameter(wires) * (1 - 1e-12)
    assert bundle_diameter([d * unit for d in wires]) == pytest.approx(bundle_diameter(wires) * unit)


def test_no_wire_and_no_diameter_are_refused() -> None:
    for wires in ([], [1.0, 0.0], [-1.0]):
        with pytest.raises(ValueError, match="at least one wire"):
            bundle_diameter(wires)
    with pytest.raises(ValueError, match="at least one wire"):
        ratio(0)
    assert ratio(38) == pytest.approx(FACTOR * math.sqrt(38))  # beyond the table: the handbook rule
