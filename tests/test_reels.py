"""The reel plan against a bound computed another way, brute force on small orders, and its own promises."""

from __future__ import annotations

import itertools
import math
import random
from functools import cache

import pytest

from harnesscheck.reels import LOSS, TRIM, Bar, Piece, Plan, plan


def order(seed: int) -> tuple[list[Piece], float, list[float]]:
    """A random order: a few lengths, many of each, and a few remnants; long pieces make it hard."""
    rng = random.Random(seed)
    reel = rng.choice([5.0, 10.0, 30.0])
    longest = reel * rng.choice([0.1, 0.35, 0.55])
    lengths = [round(rng.uniform(0.05 * longest, longest), 3) for _ in range(rng.randint(3, 12))]
    pieces = [Piece(f"{i}.{n}", size) for i, size in enumerate(lengths) for n in range(rng.randint(1, 25))]
    return pieces, reel, [round(rng.uniform(0.2, 0.7 * reel), 2) for _ in range(rng.randint(0, 3))]


def promises(found: Plan, pieces: list[Piece], reel: float | None, remnants: list[float]) -> None:
    """Every piece once; nothing longer than what it is cut from; each remnant at most once."""
    cut = [p.name for bar in found.bars for p in bar.pieces]
    assert sorted([*cut, *(p.name for p in found.unfit)]) == sorted(p.name for p in pieces)
    for bar in found.bars:
        assert bar.left > -1e-9
    left = list(remnants)
    for bar in found.bars:
        if bar.label == "remnant":
            left.remove(bar.length)
        else:
            assert bar.length == reel
    assert found.reels == sum(bar.label == "reel" for bar in found.bars)


@pytest.mark.parametrize("block", range(5))
def test_within_one_percent_of_the_linear_bound(block: int) -> None:
    """The goal: at most 1 % above the bound rounded up to whole reels, on 50 random orders.

    The bound is checked from below as well: it is no less than the area bound, which needs no solver."""
    for seed in range(10 * block, 10 * block + 10):
        pieces, reel, remnants = order(seed)
        found = plan(pieces, reel, remnants)
        promises(found, pieces, reel, remnants)
        need = sum(p.length + LOSS for p in pieces) - sum(r - TRIM for r in remnants)
        assert found.bound >= math.ceil(need / (reel - TRIM) - 1e-9), seed
        assert found.reels <= math.ceil(found.bound * 1.01), seed


def fewest(pieces: list[Piece], reel: float, remnants: list[float]) -> int:
    """Brute force: the fewest reels, by trying every subset for the next reel."""
    sizes = tuple(round((p.length + LOSS) * 1e4) for p in pieces)
    rooms = [round((r - TRIM) * 1e4) for r in remnants]
    full = round((reel - TRIM) * 1e4)

    @cache
    def reels(left: frozenset[int]) -> int:
        if not left:
            return 0
        first = max(left)
        best = len(left)
        others = sorted(left - {first})
        for count in range(len(others), -1, -1):
            for chosen in itertools.combinations(others, count):
                if sizes[first] + sum(sizes[i] for i in chosen) <= full:
                    best = min(best, 1 + reels(left - {first, *chosen}))
        return best

    @cache
    def with_remnants(left: frozenset[int], at: int) -> int:
        if at == len(rooms):
            return reels(left)
        return min(
            with_remnants(left - set(chosen), at + 1)
            for count in range(len(left) + 1)
            for chosen in itertools.combinations(sorted(left), count)
            if sum(sizes[i] for i in chosen) <= rooms[at]
        )

    return with_remnants(frozenset(range(len(pieces))), 0)


@pytest.mark.parametrize("seed", range(12))
def test_small_orders_against_brute_force(seed: int) -> None:
    rng = random.Random(seed)
    pieces = [Piece(str(i), round(rng.uniform(1.0, 6.0), 2)) for i in range(7)]
    remnants = [round(rng.uniform(1.0, 6.0), 2) for _ in range(rng.randint(0, 1))]
    found = plan(pieces, 10.0, remnants)
    promises(found, pieces, 10.0, remnants)
    assert found.bound <= found.reels == fewest(pieces, 10.0, remnants)


def test_best_fit_alone_is_not_enough() -> None:
    """The family of orders on which decreasing fits waste two bins of eleven (Johnson 1973): 51, 27, 26 and 23 %."""
    net = [0.51] * 6 + [0.27] * 6 + [0.26] * 6 + [0.23] * 12
    pieces = [Piece(str(i), 10 * size - LOSS) for i, size in enumerate(net)]
    found = plan(pieces, 10 + TRIM)
    # 51+26+23 six times and 27+27+23+23 three times: 9 full reels, 100 % used.
    assert found.reels == 9 == found.bound


def test_too_long_a_piece_is_said() -> None:
    found = plan([Piece("long", 31.0), Piece("short", 1.0)], 30.0)
    assert [p.name for p in found.unfit] == ["long"]
    assert [[p.name for p in b.pieces] for b in found.bars] == [["short"]]


def test_without_a_reel_only_remnants_are_cut() -> None:
    found = plan([Piece("a", 0.9), Piece("b", 0.5)], None, [1.0])
    assert [p.name for p in found.unfit] == ["b"]
    assert found.bars == (Bar("remnant", 1.0, (Piece("a", 0.9),)),)
    assert plan([], 30.0) == Plan((), 0, 0)
