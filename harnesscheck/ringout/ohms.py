"""What a meter shows between two sets of points: the network resistance, and its least and greatest right value.

R = (e_a - e_b)^T L+ (e_a - e_b) with L the weighted Laplacian; solved here by putting 1 A through. A resistance of the
whole grows with that of every part (Rayleigh), so the limits of the parts give the limits of the reading.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Container, Iterable, Mapping, Sequence

from harnesscheck.circuit import label_components
from harnesscheck.electrics.network import Branch, Load, solve
from harnesscheck.place import Point
from harnesscheck.ringout.link import Link, by_node
from harnesscheck.ringout.rest import Rest
from harnesscheck.source import Source, Status

LEADS = 0.3
"""Ohms of a pair of test leads that is not nulled."""
LEADS_SOURCE = Source("meter maker's note on low resistance", Status.CONFIRMED,
                      paragraph="test leads have 0.2 to 0.5 ohm; replace them above 1 ohm")  # fmt: skip
UNKNOWN_LIMIT = 2.0
"""Ohms below which a line counts as through where its resistance cannot be worked out."""
UNKNOWN_LIMIT_SOURCE = Source("IPC/WHMA-A-620", Status.MEMORY, paragraph="2 ohm, or 1 ohm and the wire, the greater")


def resistance(
    links: Iterable[Link],
    a: Sequence[Point],
    b: Sequence[Point],
    which: str = "ohms",
    near: Mapping[Point, Sequence[Link]] | None = None,
) -> float | None:
    """Ohms between the points of ``a`` tied together and those of ``b``; infinity when nothing joins them.

    ``which`` is ``ohms``, ``low`` or ``high``; ``near`` the links by node, where the caller has them. None: a piece on
    the way has no value. A loose end plays no part.
    """
    values: Callable[[Link], float | None] = {
        "ohms": lambda link: link.ohms, "low": lambda link: link.low, "high": lambda link: link.high,
    }[which]  # fmt: skip
    other = b if isinstance(b, Rest) else frozenset(b)
    if any(point in other for point in a):
        return 0.0
    near = by_node(links) if near is None else near
    kept = _between(near, a, other)
    if not kept:
        return math.inf
    index: dict[Point, int] = dict.fromkeys(a, 0)
    index.update((point, 1) for link in kept for point in (link.a, link.b) if point in other)
    count = 2
    branches = []
    for link in kept:
        ohms = values(link)
        if ohms is None:
            return None
        ends = []
        for point in (link.a, link.b):
            if point not in index:
                index[point], count = count, count + 1
            ends.append(index[point])
        branches.append(Branch(ends[0], ends[1], ohms))
    joined = _joined(count, branches)
    if joined[0] != joined[1]:
        return math.inf
    if _short(count, branches):
        return 0.0
    return solve(count, branches, [Load(1, 0, "current", 1.0)], {1: 0.0}).volts[0]


def piece(
    near: Mapping[Point, Sequence[Link]], a: Iterable[Point], cut: Link | None = None
) -> tuple[dict[Point, None], dict[int, Link]]:
    """The points and links that hang together with ``a``, as if the link ``cut`` were not there."""
    seen: dict[Point, None] = dict.fromkeys(a)
    waiting = list(seen)
    found: dict[int, Link] = {}
    while waiting:
        here = waiting.pop()
        for link in near.get(here, ()):
            if link is cut:
                continue
            found[id(link)] = link
            there = link.b if link.a == here else link.a
            if there not in seen:
                seen[there] = None
                waiting.append(there)
    return seen, found


def _between(near: Mapping[Point, Sequence[Link]], a: Sequence[Point], b: Container[Point]) -> list[Link]:
    """The links of the piece of network at ``a``, without loose ends; empty when ``b`` is not in it."""
    seen, found = piece(near, a)
    if not any(point in b for point in seen):
        return []
    degree = {point: len(near.get(point, ())) for point in seen}
    held = {*a, *(point for point in seen if point in b)}
    loose = [point for point, count in degree.items() if count == 1 and point not in held]
    while loose:
        point = loose.pop()
        for link in near[point]:
            if found.pop(id(link), None) is not None:
                there = link.b if link.a == point else link.a
                degree[there] -= 1
                if degree[there] == 1 and there not in held:
                    loose.append(there)
    return list(found.values())


def _joined(count: int, branches: Sequence[Branch]) -> list[int]:
    return label_components(count, [b.a for b in branches], [b.b for b in branches])


def _short(count: int, branches: Sequence[Branch]) -> bool:
    """True when joints without resistance alone join the two leads."""
    joints = _joined(count, [b for b in branches if b.ohms == 0])
    return joints[0] == joints[1]
