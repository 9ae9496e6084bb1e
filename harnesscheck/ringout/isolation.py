"""Which sets of nets to read against each other so that no two can be joined unseen.

Walking: all nets tied together, one lifted off and read against the rest, then left off: q - 1 readings, and no fewer
of that kind. Bussed: net n carries the binary number n, and for each bit those with 1 are read against those with 0,
tied by two shorting plugs: two nets differ in some bit, so ceil(log2 q) readings find any joint. Quick: two probes on
cavities that are neighbours, nothing tied; it sees what a crimp or a drop of water joins, and not a swapped wire.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import accumulate

from harnesscheck.faces import NEAR, face
from harnesscheck.place import Point
from harnesscheck.ringout.article import Article
from harnesscheck.ringout.rest import Rest, T, Whole

Groups = tuple[tuple[int, ...], tuple[int, ...]]
"""Nets of one lead, nets of the other."""


def walking(nets: Iterable[tuple[T, ...]]) -> list[tuple[tuple[T, ...], Rest[T]]]:
    """The points of each net against those of all that follow it.

    >>> walking([(0,), (1,), (2, 3)])
    [((0,), (1, 2, 3)), ((1,), (2, 3))]
    """
    nets = list(nets)
    whole = Whole([point for net in nets for point in net])
    starts = accumulate(map(len, nets))
    return [(net, Rest(whole, start)) for net, start in zip(nets[:-1], starts, strict=False)]


def bussed(nets: Sequence[int]) -> list[Groups]:
    """For each bit of their position: the nets that have it against those that have not.

    >>> len(bussed(range(25))), len(bussed(range(26)))
    (5, 5)
    """
    bits = (len(nets) - 1).bit_length() if nets else 0
    return [
        (
            tuple(net for number, net in enumerate(nets) if number >> bit & 1),
            tuple(net for number, net in enumerate(nets) if not number >> bit & 1),
        )
        for bit in range(bits)
    ]


def adjacent(article: Article, nets: Sequence[int]) -> tuple[list[tuple[Point, Point]], list[str]]:
    """One pair of neighbouring cavities for each two nets that have one, and the connectors whose face is not known."""
    wanted = set(nets)
    found: dict[tuple[int, int], tuple[Point, Point]] = {}
    blind = []
    by_ref: dict[str, list[Point]] = {}
    for point in article.terminals:
        if point.ref in article.harness.connectors and article.harness.cavity(point) is not None:
            by_ref.setdefault(point.ref, []).append(point)
    for ref, points in by_ref.items():
        seen = face(article.harness, article.harness.connectors[ref])
        if seen is None:
            blind.append(ref)
            continue
        pitch = seen.pitch
        for number, a in enumerate(points):
            for b in points[number + 1 :]:
                one, two = sorted((article.net_of[a], article.net_of[b]))
                if one == two or not {one, two} <= wanted or (one, two) in found:
                    continue
                apart = seen.apart(a.cavity, b.cavity) if pitch else None
                if apart is not None and apart <= NEAR:
                    found[one, two] = (a, b)
    return list(found.values()), blind
