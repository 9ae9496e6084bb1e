"""Numbers only: conductance of one component of a network between groups of nodes that are tied together."""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterable, Sequence

OPEN = math.inf
Wire = tuple[int, int, float]
"""Node, node, ohms."""


def conductances(
    nodes: Sequence[int], wires: Sequence[Wire], reds: Sequence[int], blacks: Sequence[int], only: int = -1
) -> dict[int, float]:
    """Siemens between the red and the black probes of every reading that has both on this component.

    Infinite where both probes touch one point. ``only`` restricts the readings (bit mask).
    """
    red = black = 0
    for node in nodes:
        red |= reds[node]
        black |= blacks[node]
    both = red & black & only
    found: dict[int, float] = {}
    if not both:
        return found
    place = joined(nodes, wires)
    tree = _Tree(place, wires)
    known: dict[frozenset[frozenset[int]], float] = {}  # many bussed readings split one component the same way
    while both:
        low = both & -both
        both ^= low
        one = {place[node] for node in nodes if reds[node] & low}
        two = {place[node] for node in nodes if blacks[node] & low}
        if one & two:
            found[low.bit_length() - 1] = OPEN
        elif tree.ok and len(one) == len(two) == 1:
            found[low.bit_length() - 1] = 1 / tree.ohms(one.pop(), two.pop())
        else:
            split = frozenset((frozenset(one), frozenset(two)))
            if split not in known:
                known[split] = reduced(place, wires, one, two)
            found[low.bit_length() - 1] = known[split]
    return found


def joined(nodes: Iterable[int], wires: Iterable[Wire]) -> dict[int, int]:
    """Each node's representative after joining what zero ohms joins."""
    root = {node: node for node in nodes}

    def top(node: int) -> int:
        while root[node] != node:
            node = root[node]
        return node

    for a, b, ohms in wires:
        if ohms <= 0:
            root[top(a)] = top(b)
    return {node: top(node) for node in root}


class _Tree:
    """Resistance along the only way there is; ``ok`` is false when there are several."""

    def __init__(self, place: dict[int, int], wires: Sequence[Wire]) -> None:
        near: dict[int, list[tuple[int, float]]] = {}
        count = 0
        for a, b, ohms in wires:
            if ohms > 0:
                one, two = place[a], place[b]
                near.setdefault(one, []).append((two, ohms))
                near.setdefault(two, []).append((one, ohms))
                count += 1
        self.up: dict[int, int] = {}
        self.far: dict[int, float] = {}
        self.deep: dict[int, int] = {}
        self.ok = count == len(set(place.values())) - 1
        if self.ok and near:
            start = next(iter(near))
            self.up[start], self.far[start], self.deep[start] = start, 0.0, 0
            stack = [start]
            while stack:
                node = stack.pop()
                for other, ohms in near[node]:
                    if other not in self.up:
                        self.up[other] = node
                        self.far[other] = self.far[node] + ohms
                        self.deep[other] = self.deep[node] + 1
                        stack.append(other)

    def ohms(self, a: int, b: int) -> float:
        """Ohms from one node to another."""
        total = self.far[a] + self.far[b]
        while a != b:
            if self.deep[a] >= self.deep[b]:
                a = self.up[a]
            else:
                b = self.up[b]
        return total - 2 * self.far[a]


def reduced(place: dict[int, int], wires: Sequence[Wire], one: set[int], two: set[int]) -> float:
    """Siemens between two groups of tied nodes: all other nodes eliminated, fewest neighbours first (star-mesh)."""
    near: dict[int, dict[int, float]] = {-1: {}}
    name = dict.fromkeys(one, -1) | dict.fromkeys(two, -2)
    for a, b, ohms in wires:
        i, j = name.get(place[a], place[a]), name.get(place[b], place[b])
        if i != j:  # what has no resistance joins its ends to one place
            here, there = near.setdefault(i, {}), near.setdefault(j, {})
            here[j] = there[i] = here.get(j, 0.0) + 1 / ohms
    heap = [(len(around), node) for node, around in near.items() if node >= 0]
    heapq.heapify(heap)
    while heap:
        degree, node = heapq.heappop(heap)
        if node not in near or degree != len(near[node]):
            continue
        around = list(near.pop(node).items())
        total = sum(siemens for _, siemens in around)
        for position, (i, to_i) in enumerate(around):
            del near[i][node]
            for j, to_j in around[:position]:
                near[i][j] = near[j][i] = near[i].get(j, 0.0) + to_i * to_j / total
        for i, _ in around:
            if i >= 0:
                heapq.heappush(heap, (len(near[i]), i))
    return near[-1].get(-2, 0.0)


def bilinear(xs: Sequence[float], values: Sequence[float]) -> tuple[float, ...]:
    """p, q, r of (p + q x) / (1 + r x) through three points; only p when it is constant or infinite."""
    if OPEN in values or max(values) - min(values) <= 1e-9 * values[1]:
        return (values[1],)
    (x, y, z), (u, v, w) = xs, values
    # p + q x - r x u = u, and so on: differences take p out, then q.
    one, two = (v - u) / (y - x), (w - v) / (z - y)
    steep, flat = (y * v - x * u) / (y - x), (z * w - y * v) / (z - y)
    r = (one - two) / (flat - steep) if flat != steep else 0.0
    q = one + r * steep
    return (u - q * x + r * x * u, q, r)
