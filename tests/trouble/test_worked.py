"""Worked examples: the CAN trunk with its faults, one-step choices of a reading, and Bayes' rule.

The CAN readings are those of a ladder of resistors worked out by hand: 5 stations, 0.28 ohm a conductor and span, 120
ohm at each end; for example without the left terminator station 0 reads 120 + 8 x 0.28 = 122.24. The gains are
entropies: H(2/7) = 0.8631 bit, H(5/14) = 0.9403 bit, H(1/4) = 0.8113 bit.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import pytest

from harnesscheck.place import Point
from harnesscheck.trouble.ask import entropy, gain
from harnesscheck.trouble.network import Network
from harnesscheck.trouble.predict import OPEN, Edit, Predictor
from harnesscheck.trouble.rank import update


@dataclass(frozen=True)
class Probes:
    a: tuple[Point, ...]
    b: tuple[Point, ...]
    kind: str = "ohms"


H = [Point("H", str(n)) for n in range(5)]
L = [Point("L", str(n)) for n in range(5)]
GROUND = Point("GND")
LEFT, RIGHT = 8, 9


def trunk() -> Network:
    """Pieces 0 to 7: H and L of each span in turn; 8 and 9: the terminators."""
    net = Network()
    for span in range(4):
        net.add("wire", f"H{span}", H[span], H[span + 1], 0.28)
        net.add("wire", f"L{span}", L[span], L[span + 1], 0.28)
    net.add("terminator", "left", H[0], L[0], 120.0)
    net.add("terminator", "right", H[4], L[4], 120.0)
    net.node(GROUND)
    return net


def gone(*pieces: int) -> Edit:
    return Edit(tuple((number, 0, 0, OPEN) for number in pieces))


def between(one: Point, two: Point, ohms: float) -> Edit:
    index = trunk().index
    return Edit(add=((index[one], index[two], ohms),))


CASES = {
    "healthy": (Edit(), [60.6] * 5),
    "left terminator missing": (gone(LEFT), [122.2, 121.7, 121.1, 120.6, 120.0]),
    "third terminator at 2": (between(H[2], L[2], 120.0), [40.6, 40.4, 40.2, 40.4, 40.6]),
    "no terminator": (gone(LEFT, RIGHT), [OPEN] * 5),
    "H open between 1 and 2": (gone(2), [120.0, 120.6, 121.1, 120.6, 120.0]),
    "H open and a third at 2": (gone(2).plus(between(H[2], L[2], 120.0)), [120.0, 120.6, 60.3, 60.3, 60.3]),
    "H-L short at 3": (between(H[3], L[3], 1e-9), [1.7, 1.1, 0.6, 0.0, 0.6]),
    "one 60 ohm in the middle": (
        gone(LEFT, RIGHT).plus(between(H[2], L[2], 60.0)), [61.1, 60.6, 60.0, 60.6, 61.1],
    ),
    "5 ohm crimp in H between 1 and 2": (Edit(((2, 1, 2, 5.28),)), [61.8] * 5),
}  # fmt: skip
"""Case to ohms between H and L at stations 0 to 4, by hand and by a script that shares nothing with the program."""


@pytest.mark.parametrize("name", CASES)
def test_the_can_trunk(name: str) -> None:
    edit, expected = CASES[name]
    net = trunk()
    if name == "5 ohm crimp in H between 1 and 2":
        span = net.pieces[2]
        edit = Edit(((2, span.a, span.b, 5.28),))
    predictor = Predictor(net, [Probes((H[n],), (L[n],)) for n in range(5)])
    found = predictor.effect(edit)
    for number, ohms in enumerate(expected):
        tolerance = 0.6 if "crimp" in name else 0.06
        assert found.get(number, predictor.healthy[number]) == pytest.approx(ohms, abs=tolerance)


def test_a_line_shorted_to_ground_shows_only_to_ground() -> None:
    predictor = Predictor(trunk(), [Probes((H[0],), (L[0],)), Probes((H[3],), (GROUND,)), Probes((L[3],), (GROUND,))])
    found = predictor.effect(between(H[3], GROUND, 0.3))
    assert 0 not in found or found[0] == pytest.approx(predictor.healthy[0])
    assert found[1] == pytest.approx(0.3) and found[2] == pytest.approx(60.9, abs=0.05)


def test_one_open_in_a_chain_and_where_to_read() -> None:
    """Contact A, wire 1, contact B, wire 2, contact C, one of them open; probabilities .02 .005 .02 .005 .02."""
    net = Network()
    nodes = [Point("N", str(n)) for n in range(6)]
    for number, (a, b) in enumerate(pairwise(nodes)):
        net.add("wire", str(number), a, b, 0.05)
    predictor = Predictor(net, [Probes((nodes[0],), (nodes[n],)) for n in (1, 2, 3, 4)])
    shares = update([0.02, 0.005, 0.02, 0.005, 0.02], [1.0] * 5)
    assert shares == pytest.approx([0.2857, 0.0714, 0.2857, 0.0714, 0.2857], abs=5e-5)
    assert entropy(shares) == pytest.approx(2.0931, abs=5e-5)
    effects = [predictor.effect(gone(n)) for n in range(5)]
    bits = [
        gain([(n, shares[n], effects[n].get(r, predictor.healthy[r])) for n in range(5)]) for r in range(4)
    ]  # fmt: skip
    assert bits == pytest.approx([0.8631, 0.9403, 0.9403, 0.8631], abs=5e-5)
    each = [g / minutes for g, minutes in zip(bits, (10, 3, 3, 1), strict=True)]
    assert each == pytest.approx([0.086, 0.313, 0.313, 0.863], abs=5e-4)
    assert max(range(4), key=each.__getitem__) == 3


def test_a_bus_that_reads_120_and_what_to_do_next() -> None:
    """Left or right terminator missing, H or L open in the jumper left of the tap: a quarter each.

    The jumper is the span 1 to 2, the tap is at station 2; unplugging an end takes its terminator away.
    """
    hypotheses = [gone(LEFT), gone(RIGHT), gone(2), gone(3)]
    predictor = Predictor(trunk(), [Probes((H[2],), (L[2],)), Probes((H[4],), (L[4],)), Probes((H[0],), (H[4],))])

    def outcome(number: int, *also: Edit) -> list[tuple[int, float, float]]:
        found = []
        for n, first in enumerate(hypotheses):
            edit = first
            for more in also:
                edit = edit.plus(more)
            found.append((n, 0.25, predictor.effect(edit).get(number, predictor.healthy[number])))
        return found

    assert all(value == pytest.approx(120.0, abs=1.2) for _, _, value in outcome(0))
    assert gain(outcome(0, gone(LEFT))) == pytest.approx(0.811, abs=5e-4)
    assert gain(outcome(0, gone(RIGHT))) == pytest.approx(0.811, abs=5e-4)
    assert gain(outcome(1)) == 0.0
    continuity = [(n, 0.25, OPEN if n == 2 else 1.12) for n in range(4)]
    assert gain(continuity) == pytest.approx(0.811, abs=5e-4)
    # The jumper out: the halves are read alone, and a pair of readings is one outcome.
    out = gone(2, 3)
    halves = Predictor(trunk(), [Probes((H[1],), (L[1],)), Probes((H[2],), (L[2],))])
    seen = []
    for n, edit in enumerate(hypotheses):
        effect = halves.effect(edit.plus(out))
        seen.append((n, 0.25, sum(2**r * (effect.get(r, halves.healthy[r]) > 1e6) for r in range(2))))
    assert gain([(n, share, 100.0 * value) for n, share, value in seen]) == pytest.approx(1.5)


def test_a_bad_crimp_that_reads_well_stays_a_suspect() -> None:
    """Prior 0.30, reads well 60 % of the time: 0.205 after one good reading, 0.085 after three (Bayes' rule)."""
    shares = [0.3, 0.7]
    after = []
    for _ in range(3):
        shares = update(shares, [0.6, 1.0])
        after.append(shares[0])
    assert after[0] == pytest.approx(0.205, abs=5e-4) and after[2] == pytest.approx(0.085, abs=5e-4)


def test_shares_of_an_entropy() -> None:
    assert (
        entropy([0.25] * 4) == 2.0
        and entropy([1.0]) == 0.0
        and math.isclose(entropy([0.75, 0.25]), 0.8113, abs_tol=5e-5)
    )
