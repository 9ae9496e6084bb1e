"""What the readings of a plan prove: every fault of the universe tried against them, and what none can see.

A reading that is only written down proves nothing here. Detection is worked out on the terminals: a continuity reading
shows a fault that parts its two ends, an isolation reading one that joins its two leads; readings through a terminator
are computed anew.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from harnesscheck.place import Point
from harnesscheck.ringout.article import Article
from harnesscheck.ringout.link import Link, by_node
from harnesscheck.ringout.ohms import piece, resistance
from harnesscheck.ringout.pairs import Names, counted
from harnesscheck.ringout.plan import Plan
from harnesscheck.ringout.reading import Reading
from harnesscheck.ringout.rest import Rest, Whole
from harnesscheck.ringout.universe import CLASSES, Block, Fault, faults, mirror

BLIND = (
    ("split pair (each conductor on the right pin, the wrong two twisted)", "look at the twist, or measure crosstalk"),
    ("some strands of a wire broken at the crimp", "pull test, inspection of a crimp, or drop at rated current"),
    ("wrong gauge or wrong wire type", "read the print on the wire against the cut list"),
    ("wrong label or sleeve", "read the label at both ends while its wire is rung out"),
    ("contact not locked in its cavity", "push and pull each contact from the rear; look at the face for depth"),
    ("joint that opens only when it moves", "flex the bundle at each splice and backshell while the meter is on"),
    ("insulation that holds the meter's volts and fails at more", "insulation test of the bare jumper"),
)
"""What no ohmmeter on the terminals can see, and what does."""


@dataclass
class Class:
    """One class of faults: how many cases, how many the readings show, and why the others are not shown."""

    kind: str
    cases: int = 0
    seen: int = 0
    first: dict[str, int] = field(default_factory=dict)
    """Kind of the first reading that shows a case, and how many cases."""
    unseen: dict[str, Names] = field(default_factory=dict)
    """Reason to the names of cases that no reading of the plan shows."""

    @property
    def hidden(self) -> int:
        """Cases that leave every terminal joined to what it should be: no reading whatever could show them."""
        return sum(len(names) for reason, names in self.unseen.items() if reason in HIDDEN)

    @property
    def visible(self) -> int:
        """Cases that change what is joined to what at the terminals."""
        return self.cases - self.hidden


NO_PROBE = "no probe reaches beyond it"
SECOND_WAY = "a second way stays"
SAME_NET = "both lead to the same net"
ALONE = "no second point of these nets can be probed"
HIDDEN = frozenset({NO_PROBE, SECOND_WAY, SAME_NET, ALONE})
NOT_JUDGED = "what hangs there is not listed, so its reading has no limit"
NOT_READ = "not read in this mode"
MOST_TRIED = 300
"""Nets beyond which the faults that join two of them are counted row by row and not tried one by one."""


def coverage(plan: Plan) -> dict[str, Class]:
    """Every class of the universe, in order."""
    sight = Sight(plan)
    found = {kind: Class(kind) for kind in CLASSES}
    many = len(plan.article.nets) > MOST_TRIED
    for kind, (cases, first, unseen) in counted(plan.article, sight).items() if many else ():
        found[kind] = Class(kind, cases, sum(first.values()), first, unseen)
    for fault in faults(plan.article, not many):
        entry = found[fault.kind]
        entry.cases += 1
        reading = sight.shows(fault)
        if reading is None:
            entry.unseen.setdefault(sight.reason(fault), Names()).add(fault.name)
        else:
            entry.seen += 1
            entry.first[reading.kind] = entry.first.get(reading.kind, 0) + 1
    return found


def mirrored(article: Article, ref: str) -> bool:
    """True when a connector's mirror image is known, so that it was tried."""
    return bool(mirror(article, ref))


class Sight:
    """The readings of a plan as bits, so that a fault is looked up without running them."""

    def __init__(self, plan: Plan) -> None:
        self.article: Article = plan.article
        self.through = [r for r in plan.readings if r.kind == "continuity" and r.judged]
        self.apart = [r for r in plan.readings if r.kind != "continuity" and r.low is not None]
        self.banded = [r for r in plan.readings if r.kind == "ohms" and r.judged]
        self.near = by_node(link for link in self.article.links if link.copper)
        self.end: dict[Point, int] = {}
        self.red: dict[Point, int] = {}
        self.black: dict[Point, int] = {}
        for number, reading in enumerate(self.through):
            for point in (*reading.a, *reading.b):
                self.end[point] = self.end.get(point, 0) ^ 1 << number
        walks: dict[int, tuple[Whole[Point], list[tuple[int, int]]]] = {}
        for number, reading in enumerate(self.apart):
            for point in reading.a:
                self.red[point] = self.red.get(point, 0) | 1 << number
            if isinstance(reading.b, Rest):
                whole = reading.b.whole
                walks.setdefault(id(whole), (whole, []))[1].append((reading.b.start, number))
                continue
            for point in reading.b:
                self.black[point] = self.black.get(point, 0) | 1 << number
        for whole, begun in walks.values():
            bits = 0
            begun.sort(reverse=True)
            for place, point in enumerate(whole.listed):
                while begun and begun[-1][0] <= place:
                    bits |= 1 << begun.pop()[1]
                self.black[point] = self.black.get(point, 0) | bits

    def shows(self, fault: Fault) -> Reading | None:
        """The first reading that comes out wrong; None when none does."""
        parted = joined = 0
        for block in fault.blocks:
            ends = red = black = 0
            for point in block:
                ends ^= self.end.get(point, 0)
                red |= self.red.get(point, 0)
                black |= self.black.get(point, 0)
            parted |= ends
            joined |= red & black
        if parted:
            return self.through[_lowest(parted)]
        if joined:
            return self.apart[_lowest(joined)]
        return self._by_value(fault)

    def _by_value(self, fault: Fault) -> Reading | None:
        """A reading through a terminator that leaves its band: the bus is open between it and the probe."""
        if fault.kind not in ("open", "swap", "shift", "mirror"):
            return None
        if not self.banded:
            return None
        links: list[Link] = []
        touched = {p for net in fault.nets for p in self.article.nets[net]}
        for reading in self.banded:
            ends = [*reading.a, *reading.b]
            if not touched & set(ends):
                continue
            a, b = ([fault.moved.get(p, p) for p in side] for side in (reading.a, reading.b))
            if None in (*a, *b):
                return reading
            links = links or [link for link in self.article.links if link is not fault.cut]
            value = resistance(links, [p for p in a if p], [p for p in b if p])
            if value is not None and reading.accepts(value) is False:
                return reading
        return None

    def reason(self, fault: Fault) -> str:
        """Why no reading shows a fault."""
        if _same(fault.blocks, (self.article.nets[net] for net in fault.nets)):
            if fault.kind in ("swap", "shift", "mirror"):
                return SAME_NET if len(fault.nets) == 1 else ALONE
            assert fault.cut is not None
            return self.unreached(fault.cut)
        return self.unread(fault.nets)

    def unread(self, nets: Iterable[int]) -> str:
        """Why no reading shows a fault that changes what is joined."""
        return NOT_READ if self.article.open_nets.isdisjoint(nets) else NOT_JUDGED

    def unreached(self, cut: Link) -> str:
        """Why an open piece leaves every terminal joined to what it should be."""
        return SECOND_WAY if self._second_way(cut) else NO_PROBE

    def _second_way(self, cut: Link) -> bool:
        """True when the ends of an open piece are joined all the same. Only what hangs at the piece is gone through."""
        seen, found = piece(self.near, [cut.a], cut)
        if cut.b not in seen:
            return False
        ohms = resistance(found.values(), [cut.a], [cut.b])
        return ohms is None or ohms < float("inf")


def _same(one: Iterable[Block], two: Iterable[Block]) -> bool:
    return {frozenset(block) for block in one} == {frozenset(block) for block in two}


def _lowest(bits: int) -> int:
    return (bits & -bits).bit_length() - 1
