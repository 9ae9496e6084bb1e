"""Which pieces of a network hang together when it is cut at its sources, and what is not known in each part."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from typing import TYPE_CHECKING

from harnesscheck.electrics.elements import Gap

if TYPE_CHECKING:
    from harnesscheck.electrics.wiring import Element


def parted(
    elements: Sequence[Element], count: int, cut: set[int], ends: set[int]
) -> tuple[list[int], dict[int, list[Gap]], dict[int, set[int]]]:
    """Part of each of ``count`` nodes (-1 for those of ``cut``), gaps by part, sources by part.

    ``ends`` are the nodes where loads hang. A gap in a piece that no current can flow through, because it leads to
    neither a load nor a source, is none.
    """
    sides = [(element.a, element.b) for element in elements]
    near: list[list[int]] = [[] for _ in range(count)]
    for number, (a, b) in enumerate(sides):
        near[a].append(number)
        near[b].append(number)
    alive = [True] * len(elements)
    degree = [len(around) for around in near]
    kept = cut | ends
    loose = deque(node for node, around in enumerate(near) if len(around) == 1 and node not in kept)
    while loose:
        node = loose.popleft()
        for number in near[node]:
            if alive[number]:
                alive[number] = False
                a, b = sides[number]
                other = b if a == node else a
                degree[other] -= 1
                if degree[other] == 1 and other not in kept:
                    loose.append(other)
    part = [-1] * count
    for start in range(count):
        if part[start] >= 0 or start in cut:
            continue
        part[start], stack = start, [start]
        while stack:
            for number in near[stack.pop()]:
                for node in sides[number]:
                    if part[node] < 0 and node not in cut:
                        part[node] = start
                        stack.append(node)
    gaps: dict[int, list[Gap]] = {}
    sources: dict[int, set[int]] = {}
    for element, living in zip(elements, alive, strict=True):
        a, b = element.a, element.b
        first, second = a in cut, b in cut
        if first and second:
            continue
        own = part[b if first else a]
        if first or second:
            sources.setdefault(own, set()).add(a if first else b)
        if element.gap is not None and living:
            gaps.setdefault(own, []).append(element.gap)
    return part, gaps, sources
