"""Which pairs of terminals to read so that every net is shown to be whole.

First article: anything may be miswired, so a net of p terminals takes p - 1 readings, P - q in all; with fewer, the
points read fall into two parts and an open between them passes. Field: the routing is proven and wires only break, so
a tree with L ends takes ceil(L / 2) readings whose ways together cover every branch.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Iterable, Mapping, Sequence

from harnesscheck.place import Point
from harnesscheck.ringout.article import Article
from harnesscheck.ringout.link import Link, by_node

Pair = tuple[Point, Point]


def spanning(article: Article) -> list[Pair]:
    """One reading fewer than each net has points, all from one of them, at the connector that most nets meet."""
    busiest = Counter(ref for net in article.nets for ref in dict.fromkeys(p.ref for p in net) if len(net) > 1)
    found = []
    for net in article.nets:
        hub = max(net, key=lambda p: (busiest[p.ref], -net.index(p)))
        found += [(hub, other) for other in net if other != hub]
    return found


def structural(article: Article) -> list[Pair]:
    """ceil(L / 2) readings for each net that is a tree, p - 1 for one that is not."""
    found: list[Pair] = []
    for number, net in enumerate(article.nets):
        if len(net) > 1:
            ends = leaves(article.inside(number), net)
            found += paired(ends) if ends else [(net[0], other) for other in net[1:]]
    return found


def paired(ends: Sequence[Point]) -> list[Pair]:
    """Ends in the order of a walk round the tree, each with the one half way round: no branch holds whole pairs only.

    >>> from harnesscheck.place import Point
    >>> [(a.ref, b.ref) for a, b in paired([Point(r) for r in "ABCDE"])]
    [('A', 'C'), ('B', 'D'), ('E', 'A')]
    """
    half = len(ends) // 2
    pairs = [(ends[i], ends[i + half]) for i in range(half)]
    if len(ends) % 2 and len(ends) > 1:
        pairs.append((ends[-1], ends[0]))
    return pairs


def leaves(links: Sequence[Link], net: Sequence[Point]) -> list[Point]:
    """The ends of a net in the order of a walk round its tree; empty when it is not a tree.

    Branches that end at no terminal are left out: no probe reaches them.
    """
    near = by_node(links)
    if len({*near}) != len([link for link in links if link.a != link.b]) + 1:
        return []
    degree = {point: len(around) for point, around in near.items()}
    held, gone = set(net), set()
    loose = [point for point, count in degree.items() if count == 1 and point not in held]
    while loose:
        point = loose.pop()
        gone.add(point)
        for there in _beyond(near, point):
            if there not in gone:
                degree[there] -= 1
                if degree[there] == 1 and there not in held:
                    loose.append(there)
    root = next((p for p in near if p not in gone and degree[p] > 1), net[0])
    order, seen, stack = [], {root}, [root]
    while stack:
        point = stack.pop()
        if degree[point] == 1:
            order.append(point)
        for there in reversed(_beyond(near, point)):
            if there not in seen and there not in gone:
                seen.add(there)
                stack.append(there)
    return order


def _beyond(near: Mapping[Point, Sequence[Link]], point: Point) -> list[Point]:
    return [link.b if link.a == point else link.a for link in near[point]]


def way(links: Iterable[Link], a: Point, b: Point) -> list[Link]:
    """The links of a shortest way between two points, in order; empty when there is none."""
    near = by_node(links)
    came: dict[Point, tuple[Point, Link] | None] = {a: None}
    waiting = deque([a])
    while waiting and b not in came:
        here = waiting.popleft()
        for link in near.get(here, ()):
            there = link.b if link.a == here else link.a
            if there not in came:
                came[there] = (here, link)
                waiting.append(there)
    found: list[Link] = []
    step = came.get(b)
    while step is not None:
        found.append(step[1])
        step = came[step[0]]
    return found[::-1]


def components(points: Iterable[Point], pairs: Iterable[Pair]) -> list[list[Point]]:
    """The parts into which readings tie the points of a net: one for a first article, perhaps more in the field."""
    part = {point: number for number, point in enumerate(points)}
    for a, b in pairs:
        if a in part and b in part and part[a] != part[b]:
            low, high = sorted((part[a], part[b]))
            part = {p: low if n == high else n for p, n in part.items()}
    found: dict[int, list[Point]] = {}
    for point, number in part.items():
        found.setdefault(number, []).append(point)
    return list(found.values())
