"""The faults that a ring-out is tried against, each as what it does to the terminals.

Six classes, every case of each: a wire, contact, splice leg or bond open; two nets shorted; two contacts of one
connector exchanged; the contacts of a connector from one cavity on, up to the next gap, each one cavity up or down; a
connector wired as its mirror image; a wire open whose end A touches another net.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from harnesscheck.faces import face
from harnesscheck.place import Point
from harnesscheck.ringout.article import Article
from harnesscheck.ringout.link import Link, by_node

CLASSES = ("open", "short", "swap", "shift", "mirror", "open and short")

Block = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Fault:
    """One case: its class, its name, and what the terminals of the nets it touches become."""

    kind: str
    name: str
    nets: tuple[int, ...]
    """The nets it changes, or would change if a probe reached both sides."""
    blocks: tuple[Block, ...]
    """The terminals of those nets, those still or newly joined together."""
    cut: Link | None = None
    moved: Mapping[Point, Point | None] = field(default_factory=dict)
    """Terminal to the terminal whose wire now ends there; None: no wire does."""


PAIRS = ("short", "open and short")
"""Classes whose cases are pairs of nets, or of a wire and a net: a hundred times the nets, ten thousand times these."""


def faults(article: Article, pairs: bool = True) -> Iterator[Fault]:
    """Every case, class by class, in the order of the file; without ``pairs`` not those of the classes ``PAIRS``."""
    yield from _opens(article, pairs)
    if pairs:
        yield from _shorts(article)
    yield from _swaps(article)
    yield from _shifts(article)
    yield from _mirrors(article)


def _opens(article: Article, pairs: bool) -> Iterator[Fault]:
    both: list[Fault] = []
    for number, net in enumerate(article.nets):
        inside = article.inside(number)
        near = by_node(inside)
        for link in inside:
            side = reached(near, link)
            one = tuple(p for p in net if p in side)
            two = tuple(p for p in net if p not in side)
            joined = link.b in side
            blocks = (net,) if joined else tuple(block for block in (one, two) if block)
            yield Fault("open", f"{link.kind} {link.name}", (number,), blocks, link)
            if link.kind != "wire" or not pairs:
                continue
            for other, far in enumerate(article.nets):
                if other != number:
                    mixed = (net + far,) if joined else tuple(b for b in (one + far, two) if b)
                    name = f"wire {link.name} open, its end A on the net of {far[0]}"
                    both.append(Fault("open and short", name, (number, other), mixed, link))
    yield from both


def reached(near: Mapping[Point, Sequence[Link]], cut: Link) -> set[Point]:
    """Nodes on the side of end A of a link that is open; end B among them when another way leads there."""
    seen, waiting = {cut.a}, [cut.a]
    while waiting:
        here = waiting.pop()
        for link in near.get(here, ()):
            there = link.b if link.a == here else link.a
            if link is not cut and there not in seen:
                seen.add(there)
                waiting.append(there)
    return seen


def _shorts(article: Article) -> Iterator[Fault]:
    nets = article.nets
    for one in range(len(nets)):
        for two in range(one + 1, len(nets)):
            yield Fault("short", f"{nets[one][0]} to {nets[two][0]}", (one, two), (nets[one] + nets[two],))


def _connectors(article: Article) -> dict[str, list[Point]]:
    """Terminals by connector, in the order of the insert."""
    found: dict[str, list[Point]] = {}
    for point in article.terminals:
        if point.ref in article.harness.connectors and article.harness.cavity(point) is not None:
            found.setdefault(point.ref, []).append(point)
    return found


def _wired(article: Article, point: Point) -> bool:
    return bool(article.harness.wires_at(point))


def _swaps(article: Article) -> Iterator[Fault]:
    for points in _connectors(article).values():
        wired = [p for p in points if _wired(article, p)]
        for number, one in enumerate(wired):
            for two in wired[number + 1 :]:
                yield _permuted(article, "swap", f"{one} and {two}", {one: two, two: one})


def _shifts(article: Article) -> Iterator[Fault]:
    for ref, points in _connectors(article).items():
        reached, wired = set(points), {p for p in points if _wired(article, p)}
        order = [Point(ref, name) for name in article.harness.connectors[ref].cavities]
        for step, word in ((1, "up"), (-1, "down")):
            way = order[::step]
            for number, start in enumerate(way):
                if start not in wired:
                    continue
                moved: dict[Point, Point | None] = {start: None}
                here = number
                while here + 1 < len(way):
                    moved[way[here + 1]] = way[here]
                    here += 1
                    if way[here] not in wired:
                        break
                moved = {p: q for p, q in moved.items() if p in reached}
                yield _permuted(article, "shift", f"{ref} from {start} one cavity {word}", moved)


def _mirrors(article: Article) -> Iterator[Fault]:
    for ref, points in _connectors(article).items():
        other = mirror(article, ref)
        moved: dict[Point, Point | None] = {}
        wired = {p for p in points if _wired(article, p)}
        for point in points:
            name = other.get(point.cavity)
            there = Point(ref, name) if name is not None else None
            if there is not None and there != point:
                moved[point] = there if there in wired else None
        if wired & set(moved):
            yield _permuted(article, "mirror", f"{ref} wired as its mirror image", moved)


def mirror(article: Article, ref: str) -> dict[str, str]:
    """Cavity to the cavity that stands where its mirror image does, left for right; empty when no face is known."""
    seen = face(article.harness, article.harness.connectors[ref])
    if seen is None or not seen.pitch:
        return {}
    spots = seen.positions
    middle = (min(x for x, _ in spots.values()) + max(x for x, _ in spots.values())) / 2
    near = 0.2 * seen.pitch
    found = {}
    for name, (x, y) in spots.items():
        for other, (u, v) in spots.items():
            if abs(2 * middle - x - u) <= near and abs(y - v) <= near:
                found[name] = other
    return found


def _permuted(article: Article, kind: str, name: str, moved: Mapping[Point, Point | None]) -> Fault:
    """Terminals that changed their wires: each takes the place of the other in its net, or stands alone."""
    nets = sorted({article.net_of[p] for p in moved} | {article.net_of[p] for p in moved.values() if p is not None})
    groups: dict[int, list[Point]] = {net: [] for net in nets}
    alone: list[Block] = []
    for net in nets:
        for point in article.nets[net]:
            source = moved.get(point, point)
            if source is None:
                alone.append((point,))
            else:
                groups[article.net_of[source]].append(point)
    blocks = (*(tuple(group) for group in groups.values() if group), *alone)
    return Fault(kind, name, tuple(nets), blocks, None, moved)
