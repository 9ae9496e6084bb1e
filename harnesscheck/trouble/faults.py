"""The universe of faults of a harness: what can be wrong with its copper, as edits of the network, with priors.

Every prior is opinion (relative weights for a new kit, to be tuned from support data), split evenly over the places
where the fault can be. A harness that cannot have a fault (no pairs: no pair exchanged) gives its weight to nobody.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import pairwise

from harnesscheck.place import Point
from harnesscheck.source import Source, Status
from harnesscheck.trouble.copper import OPEN
from harnesscheck.trouble.network import Network, Piece
from harnesscheck.trouble.predict import Edit

PRIORS: Mapping[str, float] = {
    "contact open": 4.0,
    "ground contact open": 3.0,
    "swapped contacts": 2.0,
    "wrong cavity": 1.4,
    "shifted row": 0.3,
    "mirrored": 0.2,
    "wrong way round": 0.1,
    "pair exchanged": 3.0,
    "terminator missing": 1.0,
    "terminator extra": 1.0,
    "high resistance": 2.0,
    "short between neighbours": 0.6,
    "short to ground": 0.25,
    "short to power": 0.15,
    "wire open": 0.5,
    "splice leg open": 0.5,
    "line loaded": 0.5,
    "nothing": 1.0,
    "something else": 0.1,
}
"""Relative weights. ``nothing``: the wiring is as designed, the unit itself is dead. The rest of what is not listed
(three faults at once, a drawing that is wrong) is ``something else``."""
PRIORS_SOURCE = Source("", Status.MEMORY, paragraph="opinion: relative weights of faults of a new kit, editable")
BY_CONTACT = frozenset({"swapped contacts", "wrong cavity", "shifted row"})
"""Kinds whose weight is meant for a connector where every contact has such a neighbour; with fewer it is less."""
EXISTING = 0.2
"""Weight of a fault in wiring that was there before, beside the same one in the kit: opinion."""
ADDED = (0.7, 1.5, 3.3, 7.0, 15.0, 33.0, 70.0, 150.0, 330.0)
"""Ohms that a bad crimp may add: three steps a decade, for nobody knows which."""
LOADS = (15.0, 33.0, 70.0, 150.0, 330.0, 700.0, 1500.0, 3300.0, 7000.0, 15000.0, 33000.0)
"""Ohms to ground of a unit that loads a line: a dead input at one end, a healthy receiver at the other."""
BRIDGE = 0.05
"""Ohms of a short: a strand across two contacts. From memory."""
TERMINATOR = 120.0
"""Ohms of a terminator nobody has stated (ISO 11898-2 bus: 120 ohm)."""
TERMINATED = frozenset({"can", "rs485", "rs422"})


@dataclass(frozen=True, slots=True)
class Trouble:
    """One fault at one place."""

    kind: str
    says: str
    """What is wrong: ``wire P501A20 is open``."""
    look: str
    """Where to look and for what, in trade words."""
    edits: tuple[Edit, ...] = ()
    """The change of the network, once for every strength that it may have."""
    weight: float = 1.0
    points: tuple[Point, ...] = ()
    """Where it sits, for symptoms and for the face view."""
    wires: tuple[str, ...] = ()
    spread: float = 0.0
    """Relative spread of what is read, where the strength is not known."""
    comes_and_goes: float = 0.0
    """Share of the readings that come out good in spite of the fault."""


@dataclass(frozen=True, slots=True)
class Plan:
    """What the universe needs to know of the article beside its network."""

    signals: Mapping[Point, str]
    """Signal class of a cavity, by what its circuit or the unit's pin says."""
    names: Mapping[Point, str]
    """Circuit name of a cavity."""
    pairs: tuple[tuple[Point, Point], ...] = ()
    """Cavities of one connector that belong to a pair, or that talk and listen (TX, RX)."""
    near: tuple[tuple[Point, Point], ...] = ()
    """Neighbouring cavities of one connector."""
    mirrors: tuple[Mapping[Point, Point], ...] = ()
    """Cavity to the cavity that a reader of the wrong face takes it for, one table a connector."""
    orders: tuple[tuple[Point, ...], ...] = ()
    """Cavities of each connector in the order of their numbers."""
    halves: tuple[tuple[str, str], ...] = ()
    """The two halves of the kit that face each opened pair."""
    terminator: float = TERMINATOR
    kit: frozenset[Point] = frozenset()
    """Cavities of the kit: of two mated contacts the new one is named first."""
    wires: Mapping[str, tuple[Point, ...]] = field(default_factory=dict)
    """Wire to the cavities that its copper reaches."""

    def reached(self, trouble: Trouble) -> tuple[Point, ...]:
        """The cavities where a fault sits; of a wire or a splice, those that its copper reaches."""
        named = tuple(point for point in trouble.points if point in self.signals)
        return named or tuple(point for wire in trouble.wires for point in self.wires.get(wire, ()))


def universe(net: Network, plan: Plan, priors: Mapping[str, float] = PRIORS) -> list[Trouble]:
    """Every single fault, each once, with weights that sum to 1 together with ``nothing`` and ``something else``."""
    merged: dict[tuple[Edit, ...], Trouble] = {}
    for trouble in _all(net, plan):
        if trouble.edits in merged:
            held = merged[trouble.edits]
            if priors.get(held.kind, 0) >= priors.get(trouble.kind, 0):
                continue
        merged[trouble.edits] = trouble
    found = list(merged.values())
    counts: dict[str, float] = {}
    for trouble in found:
        counts[trouble.kind] = counts.get(trouble.kind, 0.0) + trouble.weight
    contacts = max(len(net.contacts), 1)
    own = {kind: priors.get(kind, 0.0) for kind in counts}
    for kind in BY_CONTACT & own.keys():
        own[kind] *= min(1.0, counts[kind] / contacts)
    whole = sum(own.values()) + priors["nothing"] + priors["something else"]
    return [replace(t, weight=own[t.kind] * t.weight / counts[t.kind] / whole) for t in found]


def _all(net: Network, plan: Plan) -> Iterator[Trouble]:
    for number, piece in enumerate(net.pieces):
        yield from _breaks(number, piece, plan)
    yield from _moved(net, plan)
    yield from _shorts(net, plan)
    yield from _terminators(net, plan)


def _worth(piece: Piece) -> float:
    return 1.0 if piece.new else EXISTING


def _named(plan: Plan, point: Point) -> str:
    name = plan.names.get(point)
    return f"{point} ({name})" if name else str(point)


def _breaks(number: int, piece: Piece, plan: Plan) -> Iterator[Trouble]:
    gone = (Edit(((number, piece.a, piece.b, OPEN),)),)
    worth = _worth(piece)
    if piece.kind == "contact" and piece.wire:
        at = next((p for p in piece.at if p in plan.kit), piece.at[0])
        where = _named(plan, at) + "".join(f", mated with {p}" for p in piece.at if p != at)
        ground = plan.signals.get(at) == "ground"
        look = f"{at.ref}, cavity {at.cavity}: pull on wire {piece.wire}; contact locked in? crimp holding?"
        kind = "ground contact open" if ground else "contact open"
        yield Trouble(kind, f"the contact at {where} is open", look, gone, worth, piece.at, (piece.wire,), 0.0, 0.05)
        more = tuple(Edit(((number, piece.a, piece.b, piece.ohms + ohms),)) for ohms in ADDED)
        look = f"{at.ref}, cavity {at.cavity}: crimp of wire {piece.wire}, strands cut, dirt on the contact; wiggle it"
        yield Trouble("high resistance", f"the contact at {where} has a high resistance", look, more, worth, piece.at,
                      (piece.wire,), 0.4, 0.15)  # fmt: skip
    elif piece.kind == "wire":
        look = f"wire {piece.name} along its whole length: nicked, pinched, broken at a crimp"
        yield Trouble("wire open", f"wire {piece.name} is open", look, gone, worth, (), (piece.wire,), 0.0, 0.02)
    elif piece.kind == "leg":
        splice = piece.at[0].ref
        look = f"splice {splice}: is wire {piece.wire} in it, and does it hold?"
        yield Trouble("splice leg open", f"wire {piece.wire} is missing from splice {splice}", look, gone, worth,
                      piece.at, (piece.wire,))  # fmt: skip
    elif piece.kind == "terminator":
        look = f"{piece.name}: fitted, switched on, and its own plug mated?"
        yield Trouble("terminator missing", f"{piece.name} is missing", look, gone)


def _moved(net: Network, plan: Plan) -> Iterator[Trouble]:
    """Contacts in cavities where they do not belong."""
    contacts = net.contacts

    def put(where: Iterable[tuple[Point, Point]]) -> tuple[Edit, ...]:
        """Each contact to another cavity: (belongs in, sits in)."""
        moves = []
        for home, seat in where:
            if home in contacts and home != seat:
                number, rear, _ = contacts[home]
                moves.append((number, rear, net.face(seat), net.pieces[number].ohms))
        return (Edit(tuple(sorted(moves))),)

    def worth(*points: Point) -> float:
        return max((_worth(net.pieces[contacts[p][0]]) for p in points if p in contacts), default=EXISTING)

    def swap(kind: str, one: Point, two: Point) -> Trouble:
        says = f"{_named(plan, one)} and {_named(plan, two)} are exchanged"
        look = f"{one.ref}, cavities {one.cavity} and {two.cavity}: read both wire marks"
        wires = tuple(net.pieces[contacts[p][0]].wire for p in (one, two))
        return Trouble(kind, says, look, put([(one, two), (two, one)]), worth(one, two), (one, two), wires)

    for one, two in plan.near:
        if one in contacts and two in contacts:
            yield swap("swapped contacts", one, two)
        for a, b in ((one, two), (two, one)):
            if a in contacts and b not in contacts:
                look = f"{a.ref}, cavities {a.cavity} and {b.cavity}: in which one sits wire {{}}?"
                wire = net.pieces[contacts[a][0]].wire
                yield Trouble("wrong cavity", f"the contact of {_named(plan, a)} sits in cavity {b.cavity}",
                              look.format(wire), put([(a, b)]), worth(a), (a, b), (wire,))  # fmt: skip
    for one, two in plan.pairs:
        if one in contacts and two in contacts:
            yield swap("pair exchanged", one, two)
    for order in plan.orders:
        for way in (order, order[::-1]):
            yield from _shifts(way, contacts, put, worth)
    for table in plan.mirrors:
        wired = [(a, b) for a, b in table.items() if a in contacts]
        if wired:
            ref = next(iter(table)).ref
            look = f"{ref}: was it wired from the mating face instead of the wire side?"
            yield Trouble("mirrored", f"{ref} is wired as its mirror image", look, put(wired),
                          worth(*(a for a, _ in wired)), tuple(a for a, _ in wired))  # fmt: skip
    for one_ref, two_ref in plan.halves:
        both = {one_ref: two_ref, two_ref: one_ref}
        wired = [(p, Point(both[p.ref], p.cavity)) for p in contacts if p.ref in both]
        if not wired:
            continue  # the kit is no part of this article
        look = f"{one_ref} and {two_ref}: which half is plugged where?"
        yield Trouble("wrong way round", f"the jumper is the wrong way round ({one_ref} for {two_ref})", look,
                      put(wired), points=tuple(a for a, _ in wired))  # fmt: skip


def _shifts(
    order: tuple[Point, ...], contacts: Mapping[Point, object],
    put: Callable[[Iterable[tuple[Point, Point]]], tuple[Edit, ...]], worth: Callable[..., float],
) -> Iterator[Trouble]:  # fmt: skip
    """Contacts one cavity on, from any one up to the next empty cavity; without a gap the last goes to the first."""
    for start, point in enumerate(order):
        if point not in contacts:
            continue
        run = [point]
        for other in order[start + 1 :]:
            run.append(other)
            if other not in contacts:
                break
        else:
            if start or len(run) < 3:
                return  # nor is there a gap behind the next one
            run.append(order[0])
        if len(run) > 2:
            moves = list(pairwise(run))
            look = f"{point.ref}, cavities {run[0].cavity} to {run[-1].cavity}: count from the key again"
            says = f"the contacts of {point.ref} sit one cavity off from {run[0].cavity} to {run[-1].cavity}"
            if run[0] == run[-1]:
                says = f"all contacts of {point.ref} sit one cavity on, from {run[0].cavity} in {run[1].cavity}"
            yield Trouble("shifted row", says, look, put(moves), worth(*run), tuple(run[:-1]))


def _shorts(net: Network, plan: Plan) -> Iterator[Trouble]:
    contacts = net.contacts
    copper = _Copper(net)
    for one, two in plan.near:
        if one in contacts and two in contacts and not copper.same(one, two):
            pair = (Edit(add=((net.face(one), net.face(two), BRIDGE),)),)
            look = f"{one.ref}, cavities {one.cavity} and {two.cavity}: stray strand, solder, bent pin, swarf"
            both = (one, two)
            worth = max(_worth(net.pieces[contacts[p][0]]) for p in both)
            yield Trouble("short between neighbours", f"{_named(plan, one)} and {_named(plan, two)} are shorted", look,
                          pair, worth, both, (), 0.0, 0.05)  # fmt: skip
    first: dict[int, Point] = {}
    kinds: dict[str, dict[int, Point]] = {"ground": {}, "power": {}}
    for point in contacts:
        first.setdefault(copper.of(point), point)
        for kind, targets in kinds.items():
            if plan.signals.get(point) == kind:
                targets.setdefault(copper.of(point), point)
    for number, point in first.items():
        for kind, targets in kinds.items():
            for other, target in targets.items():
                if number in targets and other <= number:
                    continue
                link = (Edit(add=((net.node(point), net.node(target), BRIDGE),)),)
                look = (
                    f"where the wires of {_named(plan, point)} and {_named(plan, target)} run together: chafed, pinched"
                )
                yield Trouble(f"short to {kind}", f"{_named(plan, point)} is shorted to {_named(plan, target)}", look,
                              link, _worth(net.pieces[contacts[point][0]]), (point, target), (), 0.0, 0.05)  # fmt: skip
        if plan.signals.get(point) not in ("ground", "power", "shield", None) and kinds["ground"]:
            target = next(iter(kinds["ground"].values()))
            edits = tuple(Edit(add=((net.node(point), net.node(target), ohms),)) for ohms in LOADS)
            look = f"unplug the units on {_named(plan, point)} one by one: which one pulls it down?"
            yield Trouble(
                "line loaded", f"a unit loads {_named(plan, point)}", look, edits, EXISTING, (point,), (), 0.4
            )


def _terminators(net: Network, plan: Plan) -> Iterator[Trouble]:
    copper = _Copper(net)
    seen: set[tuple[int, int]] = set()
    for one, two in plan.pairs:
        if plan.signals.get(one) not in TERMINATED or plan.signals.get(two) != plan.signals.get(one):
            continue
        if one not in net.index or two not in net.index:
            continue  # a line that a pin table names and no copper reaches
        both = (copper.of(one), copper.of(two))
        if both not in seen and both[0] != both[1]:
            seen.add(both)
            edits = (Edit(add=((net.node(one), net.node(two), plan.terminator),)),)
            look = f"every unit on {_named(plan, one)}: which one has its terminator on, and is no end of the trunk?"
            yield Trouble("terminator extra", f"{_named(plan, one)} has one terminator too many", look, edits,
                          points=(one, two))  # fmt: skip


class _Copper:
    """Which nodes are one piece of copper: terminators and open breakers join nothing."""

    def __init__(self, net: Network) -> None:
        self.net = net
        self.root = list(range(len(net.index)))
        for piece in net.pieces:
            if piece.kind not in ("terminator", "load", "breaker"):
                self.root[self._top(piece.a)] = self._top(piece.b)

    def _top(self, node: int) -> int:
        while self.root[node] != node:
            node = self.root[node]
        return node

    def of(self, point: Point) -> int:
        """The piece of copper that a point belongs to."""
        return self._top(self.net.index[point])

    def same(self, one: Point, two: Point) -> bool:
        """True when two points are one piece of copper."""
        return self.of(one) == self.of(two)
