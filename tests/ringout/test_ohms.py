"""What a meter should show: networks worked out by hand, a bus simulated apart, and the limit of a wire."""

from __future__ import annotations

import math

import numpy as np
import pytest

from harnesscheck.place import Point
from harnesscheck.ringout.article import article
from harnesscheck.ringout.link import Link
from harnesscheck.ringout.ohms import resistance
from harnesscheck.ringout.plan import plan
from tests.ringout.text import kit


def link(a: str, b: str, ohms: float | None, kind: str = "wire") -> Link:
    return Link(kind, f"{a}{b}", Point(a), Point(b), ohms, ohms, ohms)


def between(links: list[Link], a: str, b: str) -> float | None:
    return resistance(links, [Point(a)], [Point(b)])


def test_triangle_and_bridge() -> None:
    """Triangle 1k, 2k, 3k: 833.33, 1333.33, 1500.00; bridge: 148.387 (Laplacian worked out by hand)."""
    triangle = [link("A", "B", 1000), link("B", "C", 2000), link("A", "C", 3000)]
    assert between(triangle, "A", "B") == pytest.approx(833.333, abs=1e-3)
    assert between(triangle, "B", "C") == pytest.approx(1333.333, abs=1e-3)
    assert between(triangle, "A", "C") == pytest.approx(1500.0)
    bridge = [link("A", "B", 100), link("A", "C", 200), link("B", "D", 300), link("C", "D", 100), link("B", "C", 50)]
    assert between(bridge, "A", "D") == pytest.approx(148.387, abs=5e-4)


def test_random_networks_against_the_pseudo_inverse() -> None:
    """R = (e_a - e_b)^T L+ (e_a - e_b), by numpy, on 60 random networks with ties and loose ends."""
    chance = np.random.default_rng(3)
    for _ in range(60):
        count = int(chance.integers(3, 9))
        ends = [(int(chance.integers(n)), n) for n in range(1, count)]
        ends += [(int(a), int(b)) for a, b in chance.integers(0, count, (int(chance.integers(0, 6)), 2)) if a != b]
        ohms = chance.uniform(0.01, 200, len(ends))
        laplacian = np.zeros((count, count))
        for (a, b), value in zip(ends, ohms, strict=True):
            laplacian[[a, b], [a, b]] += 1 / value
            laplacian[[a, b], [b, a]] -= 1 / value
        inverse = np.linalg.pinv(laplacian)
        one, two = (int(n) for n in chance.choice(count, 2, replace=False))
        expected = inverse[one, one] + inverse[two, two] - 2 * inverse[one, two]
        links = [link(f"N{a}", f"N{b}", float(v)) for (a, b), v in zip(ends, ohms, strict=True)]
        assert between(links, f"N{one}", f"N{two}") == pytest.approx(expected, rel=1e-9)


def test_open_joined_and_unknown() -> None:
    assert between([link("A", "B", 1.0)], "A", "C") == math.inf
    assert between([link("A", "B", 0.0)], "A", "B") == 0.0
    assert between([link("A", "B", 1.0)], "A", "A") == 0.0
    assert between([link("A", "B", 1.0), link("B", "C", None)], "A", "C") is None
    assert between([link("A", "B", 1.0), link("B", "C", None)], "A", "B") == 1.0, "a loose end plays no part"


def bus(terminators: list[int], *skip: str, third: float | None = None) -> list[Link]:
    """Five stations 4 m apart, 0.28 ohm a wire a span, 120 ohm at some stations; ``skip``: conductors that are open."""
    links = [link(f"{wire}{n}", f"{wire}{n + 1}", 0.28) for wire in "HL" for n in range(4)]
    links = [each for each in links if each.name not in skip]
    return links + [link(f"H{n}", f"L{n}", third or 120.0, "terminator") for n in terminators]


@pytest.mark.parametrize(
    ("links", "expected"),
    [
        (bus([0, 4]), [60.6, 60.6, 60.6, 60.6, 60.6]),
        (bus([4]), [122.2, 121.7, 121.1, 120.6, 120.0]),
        (bus([0, 2, 4]), [40.6, 40.4, 40.2, 40.4, 40.6]),
        (bus([0, 1, 2, 4]), [30.5, 30.2, 30.2, 30.5, 30.8]),
        (bus([0, 4], "H1H2"), [120.0, 120.6, 121.1, 120.6, 120.0]),
        (bus([0, 4], "L1L2"), [120.0, 120.6, 121.1, 120.6, 120.0]),
        (bus([0, 4], "H1H2", "L1L2"), [120.0, 120.6, 121.1, 120.6, 120.0]),
        ([*bus([0, 4], "H1H2"), link("H1", "H2", 5.28)], [61.8] * 5),
        (bus([0, 2, 4], "H1H2"), [120.0, 120.6, 60.3, 60.3, 60.3]),
        ([*bus([0, 4]), link("H3", "L3", 0.0)], [1.7, 1.1, 0.6, 0.0, 0.6]),
        (bus([2], third=60.0), [61.1, 60.6, 60.0, 60.6, 61.1]),
        (bus([0, 0]), [60.0, 60.6, 61.1, 61.7, 62.2]),
        (bus([]), [math.inf] * 5),
    ],
)
def test_a_bus_read_at_each_station(links: list[Link], expected: list[float]) -> None:
    """H to L at stations 0 to 4 of a simulated trunk: 60, 120, 40, 30 ohm and what cables add (own arithmetic)."""
    found = [between(links, f"H{n}", f"L{n}") for n in range(5)]
    assert found == pytest.approx(expected, abs=0.06)


@pytest.mark.parametrize(
    ("more", "high", "low"),
    [([], math.inf, math.inf), ([link("H3", "GND", 0.0)], 0.3, 60.6), ([link("L3", "GND", 0.0)], 60.6, 0.3),
     ([link("H3", "L3", 0.0)], math.inf, math.inf)],
)  # fmt: skip
def test_a_bus_read_to_ground(more: list[Link], high: float, low: float) -> None:
    """H to L stays at 60.6 ohm when one of them is grounded at station 3; to ground one reads 0.3, the other 60.6.

    Read one span away, at stations 2 and 4 (own arithmetic: 0.28 ohm, and 120.56 beside 121.68 with the way back).
    """
    links = [*bus([0, 4]), *more]
    if more and more[0].b != Point("L3"):
        assert [between(links, f"H{n}", f"L{n}") for n in range(5)] == pytest.approx([60.6] * 5, abs=0.06)
    for station in (2, 4):
        to_ground = [between(links, f"{wire}{station}", "GND") for wire in "HL"]
        assert to_ground == pytest.approx([high, low], abs=0.06)


def test_the_limit_of_one_wire() -> None:
    """10 ft of 22 AWG, 16.2 ohm per 1000 ft: 1.2 x 0.162 + 2 x 0.02, and 0.1 ohm for nulled leads: 0.334, so 0.34."""
    job = kit([("W1", "J3-1", "P3-1")], more=", gauge: 22 AWG, length: 10 ft")
    reading = plan(article(job, "bench")).readings[0]
    assert reading.high == 0.34
    assert reading.expected == pytest.approx(0.162 + 2 * 0.015, abs=0.003)
    assert reading.accepts(0.3) is True
    assert reading.accepts(0.4) is False
    assert reading.accepts(math.inf) is False


def test_a_length_that_nobody_states() -> None:
    """The reading is still listed, with the limit for a line of unknown resistance, and says what is missing."""
    reading = plan(article(kit([("W1", "J3-1", "P3-1")], more=", gauge: 22 AWG"), "bench")).readings[0]
    assert (reading.expected, reading.high) == (None, 2.0)
    assert reading.unknown == "the length of W1 is not stated"
