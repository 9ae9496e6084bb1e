"""The order of readings: connector by connector, and on each face the way that moves the probes least."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from harnesscheck.faces import face
from harnesscheck.place import Point
from harnesscheck.ringout.article import Article

MOST = 150
"""Readings between two connectors beyond which the order found first is not improved any further."""

Pair = tuple[Point, Point]


def ordered(article: Article, pairs: Sequence[Pair]) -> list[Pair]:
    """The same pairs, those between the same two connectors together, each group in the order of least travel.

    Where a face is not known its cavities stay in the order of the insert.
    """
    groups: dict[tuple[str, str], list[Pair]] = {}
    for a, b in pairs:
        groups.setdefault((a.ref, b.ref), []).append((a, b))
    return [pair for group in groups.values() for pair in _shortest(article, group)]


def travel(article: Article, pairs: Sequence[Pair]) -> float | None:
    """How far both probes move on the faces, in smallest pitches; None when no face of these pairs is known."""
    places = _places(article, pairs)
    if not any(spot for each in places for spot in each):
        return None
    return math.fsum(_apart(one, two) for one, two in itertools.pairwise(places))


Spot = tuple[float, float] | None


def _places(article: Article, pairs: Sequence[Pair]) -> list[tuple[Spot, Spot]]:
    spots: dict[str, dict[str, tuple[float, float]]] = {}
    for ref in {p.ref for pair in pairs for p in pair}:
        half = article.harness.connectors.get(ref)
        seen = face(article.harness, half) if half is not None else None
        if seen is not None and seen.pitch:
            spots[ref] = {name: (x / seen.pitch, y / seen.pitch) for name, (x, y) in seen.positions.items()}
    return [(spots.get(a.ref, {}).get(a.cavity), spots.get(b.ref, {}).get(b.cavity)) for a, b in pairs]


def _apart(one: tuple[Spot, Spot], two: tuple[Spot, Spot]) -> float:
    return math.fsum(math.dist(p, q) for p, q in zip(one, two, strict=True) if p is not None and q is not None)


def _shortest(article: Article, group: list[Pair]) -> list[Pair]:
    """From the first pair to the nearest, then parts of the way turned round while that makes it shorter."""
    places = _places(article, group)
    if len(group) < 3 or not any(spot for each in places for spot in each):
        return group
    left, order = list(range(1, len(group))), [0]
    while left:
        here = places[order[-1]]
        nearest = min(left, key=lambda n: (_apart(here, places[n]), n))
        left.remove(nearest)
        order.append(nearest)
    if len(order) <= MOST:
        order = _untangled(order, [[_apart(one, two) for two in places] for one in places])
    given = list(range(len(group)))

    def total(way: list[int]) -> float:
        return math.fsum(_apart(places[a], places[b]) for a, b in itertools.pairwise(way))

    best = order if total(order) < total(given) - 1e-9 else given
    return [group[number] for number in best]


def _untangled(order: list[int], apart: list[list[float]]) -> list[int]:
    """Turn a part of the way round wherever that shortens it; the first stays first."""
    count, better = len(order), True
    rounds = 0
    while better and rounds < 10:
        better, rounds = False, rounds + 1
        for i in range(1, count - 1):
            for j in range(i + 1, count):
                a, b, c = order[i - 1], order[i], order[j]
                saved = apart[a][b] - apart[a][c]
                if j + 1 < count:
                    d = order[j + 1]
                    saved += apart[c][d] - apart[b][d]
                if saved > 1e-9:
                    order[i : j + 1] = reversed(order[i : j + 1])
                    better = True
    return order
