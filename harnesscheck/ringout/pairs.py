"""The faults that join two nets, counted net by net: a thousand nets have a million of them.

What a reading shows of two nets that are joined depends on which leads touch which of them, and that is looked at for a
whole row of cases at once: all nets that a walk lifts off one by one are shown against each other, and a net that no
judged reading touches is shown against none. Whatever is neither is tried one by one. ``tests/ringout`` compares the
counts with those of trying every case.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from itertools import islice
from typing import Protocol

from harnesscheck.place import Point
from harnesscheck.ringout.article import Article
from harnesscheck.ringout.link import Link, by_node
from harnesscheck.ringout.reading import Reading
from harnesscheck.ringout.universe import reached

SHOWN = 3
"""Names that are kept of the cases that no reading shows; the others are counted."""


class Names:
    """How many cases, and the names of the first."""

    def __init__(self) -> None:
        self.count = 0
        self.first: list[str] = []

    def __len__(self) -> int:
        return self.count

    def add(self, name: str) -> None:
        """One case more."""
        self.some(1, [name])

    def some(self, count: int, names: Iterable[str]) -> None:
        """So many cases more, and their names in order."""
        self.count += count
        self.first += islice(names, SHOWN - len(self.first))


class Sight(Protocol):
    """What is asked of the readings of a plan."""

    apart: list[Reading]
    end: dict[Point, int]
    red: dict[Point, int]
    black: dict[Point, int]

    def unread(self, nets: Iterable[int]) -> str: ...  # noqa: D102
    def unreached(self, cut: Link) -> str: ...  # noqa: D102


Counts = tuple[int, dict[str, int], dict[str, Names]]
"""Cases, kind of the first reading that shows one to how many, reason to those that none shows."""


Side = tuple[int, int, int]
"""A net, the readings whose one lead touches it or the part of it that is meant, and those whose other lead does."""
Row = tuple[Counter[str], Counter[str]]


class Pairs:
    """Which reading shows that two nets are joined."""

    def __init__(self, article: Article, sight: Sight) -> None:
        self.article, self.sight = article, sight
        self.red = [_any(sight.red, net) for net in article.nets]
        self.black = [_any(sight.black, net) for net in article.nets]
        self.kinds = [reading.kind for reading in sight.apart]

    def bits(self, points: Iterable[Point]) -> tuple[int, int]:
        """The readings whose one lead, and those whose other lead, touches any of the points."""
        points = tuple(points)
        return _any(self.sight.red, points), _any(self.sight.black, points)

    def side(self, net: int) -> Side:
        """A whole net."""
        return net, self.red[net], self.black[net]

    def kind(self, side: Side, other: int, apart: int = 0) -> str:
        """Kind of the first reading that shows a net, or a part of one, joined to another; empty when none does.

        ``apart`` are the readings that show something whatever the other net is.
        """
        _, red, black = side
        bits = (red | self.red[other]) & (black | self.black[other]) | apart
        return self.kinds[(bits & -bits).bit_length() - 1] if bits else ""

    @cached_property
    def blank(self) -> frozenset[int]:
        """Nets that no judged reading touches: nothing shows that one of them is joined to another net."""
        return frozenset(n for n, (red, black) in enumerate(zip(self.red, self.black, strict=True)) if not red | black)

    @cached_property
    def selves(self) -> bool:
        """True when a reading has both leads on one net: then nothing here is told by rows."""
        return any(red & black for red, black in zip(self.red, self.black, strict=True))

    @cached_property
    def walked(self) -> frozenset[int]:
        """Nets of which any two are shown by an isolation reading, and by no other kind before it.

        They are lifted off in the order of the readings: each must be on the other lead in all readings before its own.
        """
        tests = sum(1 << number for number, kind in enumerate(self.kinds) if kind == "isolation")
        if any(kind != "isolation" for kind in self.kinds[: tests.bit_length()]):
            return frozenset()
        lifted = {n: red & tests for n, red in enumerate(self.red) if red & tests}
        order = sorted(lifted, key=lambda n: (lifted[n] & -lifted[n]).bit_length())
        order += [n for n, black in enumerate(self.black) if n not in lifted and black & tests][:1]
        found, before = set(), 0
        for net in order:
            if self.black[net] & before == before:
                found.add(net)
                own = lifted.get(net, 0)
                before |= own & -own
        return frozenset(found)

    @cached_property
    def _odd(self) -> list[int]:
        return [n for n in range(len(self.red)) if n not in self.walked and n not in self.blank]

    def row(self, net: int) -> Row:
        """Of a net joined to each other one: kind of reading to cases shown, reason to cases not shown."""
        if self.selves or not (net in self.walked or net in self.blank):
            return self.tried(self.side(net), range(len(self.red)))
        if net in self.blank:
            return Counter(), self._untouched(net, len(self.red), len(self.article.open_nets))
        shown, unseen = self.tried(self.side(net), self._odd)
        shown["isolation"] += len(self.walked) - 1
        return shown, unseen + self._untouched(net, len(self.blank), len(self.article.open_nets & self.blank))

    def _untouched(self, net: int, count: int, opened: int) -> Counter[str]:
        """Reasons for a net and ``count`` others, perhaps itself among them, ``opened`` of these open nets."""
        own, every = net in self.article.open_nets, self.article.open_nets
        among = count == len(self.red) or net in self.blank
        count, opened = count - among, opened - (among and own)
        unseen: Counter[str] = Counter()
        if opened:
            unseen[self.sight.unread((net, next(iter(every))))] += opened
        if count - opened:
            unseen[self.sight.unread((net,))] += count - opened
        return unseen

    def tried(self, side: Side, others: Iterable[int], rest: tuple[int, int] = (0, 0)) -> Row:
        """The same, one net after the other; ``rest`` are the readings at what is left of a net that is parted."""
        shown: Counter[str] = Counter()
        unseen: Counter[str] = Counter()
        for other in others:
            if other != side[0]:
                kind = self.kind(side, other, rest[0] & rest[1])
                if kind:
                    shown[kind] += 1
                else:
                    unseen[self.sight.unread((side[0], other))] += 1
        return shown, unseen


def counted(article: Article, sight: Sight) -> dict[str, Counts]:
    """The classes of ``universe.PAIRS``: the same counts, kinds, reasons and names as of trying every case."""
    pairs = Pairs(article, sight)
    return {"short": _shorts(pairs), "open and short": _opens(pairs)}


def _shorts(pairs: Pairs) -> Counts:
    nets, sight = pairs.article.nets, pairs.sight
    shown: Counter[str] = Counter()
    unseen: Counter[str] = Counter()
    names: dict[str, Names] = {}
    for net in range(len(nets)):
        seen, missed = pairs.row(net)
        shown += seen
        unseen += missed
        if any(reason not in names or len(names[reason].first) < SHOWN for reason in missed):
            for other in range(net + 1, len(nets)):
                if not pairs.kind(pairs.side(net), other):
                    names.setdefault(sight.unread((net, other)), Names()).some(
                        0, [f"{nets[net][0]} to {nets[other][0]}"]
                    )
    for reason, listed in names.items():
        listed.count = unseen[reason] // 2  # each pair stands in two rows
    return len(nets) * (len(nets) - 1) // 2, {kind: number // 2 for kind, number in shown.items()}, names


def _opens(pairs: Pairs) -> Counts:
    """A wire that is open while its end A touches another net."""
    article, sight = pairs.article, pairs.sight
    nets = article.nets
    cases = 0
    shown: Counter[str] = Counter()
    names: dict[str, Names] = {}
    for number in range(len(nets)) if len(nets) > 1 else ():
        for link, one, two, joined in _cuts(article, number):
            cases += len(nets) - 1
            name = f"wire {link.name} open, its end A on the net of "
            if not joined and _parted(sight, one) | _parted(sight, two):
                shown["continuity"] += len(nets) - 1
                continue
            if not joined and not one:
                listed = names.setdefault(sight.unreached(link), Names())
                listed.some(len(nets) - 1, (f"{name}{net[0]}" for n, net in enumerate(nets) if n != number))
                continue
            side = (number, *pairs.bits(one)) if two and not joined else (number, *pairs.bits(nets[number]))
            whole = joined or not two
            seen, missed = pairs.row(number) if whole else pairs.tried(side, range(len(nets)), pairs.bits(two))
            shown += seen
            for reason, count in missed.items():
                listed = names.setdefault(reason, Names())
                listed.some(count, _unseen_names(pairs, side, reason, name))
    return cases, dict(shown), names


def _unseen_names(pairs: Pairs, side: Side, reason: str, name: str) -> Iterator[str]:
    for other, net in enumerate(pairs.article.nets):
        if other != side[0] and not pairs.kind(side, other) and pairs.sight.unread((side[0], other)) == reason:
            yield f"{name}{net[0]}"


def _any(table: Mapping[Point, int], points: Iterable[Point]) -> int:
    bits = 0
    for point in points:
        bits |= table.get(point, 0)
    return bits


def _parted(sight: Sight, points: Iterable[Point]) -> int:
    bits = 0
    for point in points:
        bits ^= sight.end.get(point, 0)
    return bits


def _cuts(article: Article, number: int) -> Iterator[tuple[Link, tuple[Point, ...], tuple[Point, ...], bool]]:
    """Every wire of a net, the terminals at its end A and at its end B, and whether another way joins these."""
    near = by_node(article.inside(number))
    for link in article.inside(number):
        if link.kind == "wire":
            side = reached(near, link)
            here = tuple(p for p in article.nets[number] if p in side)
            there = tuple(p for p in article.nets[number] if p not in side)
            yield link, here, there, link.b in side
