"""The fewest operations from one set of wires to another: which old wire becomes which new one, which are made anew.

A mixed-integer program (HiGHS through ``scipy.optimize.milp``): one variable for each old wire that could become a new
one, either way round, and one for each splice that could be left untouched. Every new wire is one old one or made anew,
every old wire is used at most once. A splice may count as untouched only when all its wires stay in it and no wire
joins them. Operations are counted equally; marks only decide between ways that are otherwise as short.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from harnesscheck.rework.ends import CUT, MARK, SPLICE, End, Piece, changed, fresh, scrapped, stays_in_splice

SAME = 0.0005
"""Metres within which two laid lengths are one."""
WEIGHT = 1000
"""One operation against one mark."""
MANY = 150
"""With more wires than this, those that are the same in both revisions are kept without asking: the program stays
small."""
NODES = 20_000


@dataclass(frozen=True, slots=True)
class Move:
    """What becomes of one wire. ``old`` is None for a wire made anew, ``new`` for one thrown away."""

    old: Piece | None
    new: Piece | None
    turned: bool = False
    """End A of the old wire becomes end B of the new one."""

    @property
    def ends(self) -> tuple[tuple[End, End], tuple[End, End]] | None:
        """Old and new end, for both ends; None when the wire is made anew or thrown away."""
        if self.old is None or self.new is None:
            return None
        a, b = (self.old.b, self.old.a) if self.turned else (self.old.a, self.old.b)
        return (a, self.new.a), (b, self.new.b)


@dataclass(frozen=True, slots=True)
class Rework:
    """All moves, and the splices left untouched."""

    moves: tuple[Move, ...]
    untouched: frozenset[str]
    proved: bool
    """False when the solver was stopped before it could prove that nothing shorter exists."""

    def operations(self, move: Move) -> Counter[str]:
        """The operations of one move."""
        return operations(move, self.untouched)

    @property
    def total(self) -> Counter[str]:
        """The operations of all moves; the cores of a new cable are one cut."""
        count: Counter[str] = Counter()
        cables: set[str] = set()
        for move in self.moves:
            own = self.operations(move)
            if move.old is None and move.new is not None and move.new.cable:
                if move.new.cable in cables:
                    own[CUT] -= 1
                cables.add(move.new.cable)
            count += own
        return count


def operations(move: Move, untouched: frozenset[str]) -> Counter[str]:
    """The operations of one move, given the splices that are left untouched."""
    if move.old is None and move.new is not None:
        return Counter([CUT]) + fresh(move.new.a) + fresh(move.new.b)
    if move.new is None and move.old is not None:
        return scrapped(move.old.a) + scrapped(move.old.b)
    count: Counter[str] = Counter()
    for old, new in move.ends or ():
        if not (stays_in_splice(old, new) and old.point in untouched):
            count += changed(old, new)
    if move.old is not None and move.new is not None and move.old.mark != move.new.mark:
        count += Counter([MARK])
    return count


def possible(old: Piece, new: Piece, turned: bool) -> bool:
    """True when the old wire can become the new one: same make, and as long, or longer with an end cut anyway."""
    if old.made_of != new.made_of:
        return False
    if old.length is None or new.length is None:
        return old.length == new.length and old.id == new.id
    if abs(old.length - new.length) <= SAME:
        return True
    ends = Move(old, new, turned).ends or ()
    cut = any(CUT in changed(a, b) and not stays_in_splice(a, b) for a, b in ends)
    return not old.cable and old.length > new.length and cut


def fewest(old: Sequence[Piece], new: Sequence[Piece]) -> Rework:
    """The rework with the fewest operations. Raises ``RuntimeError`` when the solver finds none, which cannot be."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_matrix

    moves = _candidates(old, new)
    splices = _splices(old, new)
    cost = [_weight(operations(move, frozenset())) for move in moves]
    rows: list[dict[int, float]] = []
    low: list[float] = []
    high: list[float] = []

    def add(row: dict[int, float], least: float, most: float) -> None:
        rows.append(row)
        low.append(least)
        high.append(most)

    for wire in old:
        add({i: 1.0 for i, m in enumerate(moves) if m.old is wire}, 1.0, 1.0)
    for wire in new:
        add({i: 1.0 for i, m in enumerate(moves) if m.new is wire}, 1.0, 1.0)
    for number, (ref, olds, news) in enumerate(splices, len(moves)):
        # Every wire that stays in an untouched splice saves its cut and its crimp.
        cost.append(-2.0 * WEIGHT * len(olds))
        for wire, end, is_old in [*((w, e, True) for w, e in olds), *((w, e, False) for w, e in news)]:
            keep = [i for i, m in enumerate(moves) if _keeps(m, wire, end, ref, is_old)]
            add({number: 1.0, **dict.fromkeys(keep, -1.0)}, -np.inf, 0.0)
    _cables(moves, new, add, cost)
    matrix = csr_matrix(_triplets(rows), shape=(len(rows), len(cost))) if rows else None
    if matrix is None:
        return Rework((), frozenset(), True)
    solved: Any = milp(
        np.array(cost),
        integrality=np.ones(len(cost)),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint(matrix, low, high),
        options={"mip_rel_gap": 0.0, "node_limit": NODES},
    )
    if solved.x is None:
        raise RuntimeError(f"no rework found: {solved.message}")
    taken = [m for m, x in zip(moves, solved.x, strict=False) if x > 0.5]
    kept = frozenset(ref for (ref, _, _), x in zip(splices, solved.x[len(moves) :], strict=False) if x > 0.5)
    order = {id(wire): i for i, wire in enumerate((*new, *old))}
    taken.sort(key=lambda m: order[id(m.new if m.new is not None else m.old)])
    return Rework(tuple(taken), kept, solved.status == 0)


def _weight(count: Counter[str]) -> float:
    return float(sum(n * (1 if name == MARK else WEIGHT) for name, n in count.items()))


def _candidates(old: Sequence[Piece], new: Sequence[Piece]) -> list[Move]:
    by_make: dict[tuple[str, ...], list[Piece]] = {}
    for wire in old:
        by_make.setdefault(wire.made_of, []).append(wire)
    fixed: dict[str, Piece] = {}
    if len(old) > MANY:
        same = {wire.id: wire for wire in old}
        fixed = {w.id: w for w in new if w.id in same and same[w.id] == w}
    moves: list[Move] = []
    for wire in new:
        if wire.id in fixed:
            moves.append(Move(next(w for w in by_make[wire.made_of] if w.id == wire.id), wire))
            continue
        moves.append(Move(None, wire))
        for other in by_make.get(wire.made_of, []):
            if other.id not in fixed:
                moves += [Move(other, wire, turned) for turned in (False, True) if possible(other, wire, turned)]
    return moves + [Move(wire, None) for wire in old if wire.id not in fixed]


_Member = tuple[Piece, str]


def _splices(old: Sequence[Piece], new: Sequence[Piece]) -> list[tuple[str, list[_Member], list[_Member]]]:
    """Splices of both revisions, with the wire ends (``a`` or ``b``) in them."""
    found: dict[str, tuple[list[_Member], list[_Member]]] = {}
    for side, wires in enumerate((old, new)):
        for wire in wires:
            for name, end in (("a", wire.a), ("b", wire.b)):
                if end.kind == SPLICE:
                    found.setdefault(end.point, ([], []))[side].append((wire, name))
    return [(ref, olds, news) for ref, (olds, news) in found.items() if olds and len(olds) == len(news)]


def _keeps(move: Move, wire: Piece, end: str, ref: str, is_old: bool) -> bool:
    """True when the move leaves this end of this wire in the splice."""
    if move.ends is None or (move.old if is_old else move.new) is not wire:
        return False
    at = 0 if end == "a" else 1
    if is_old and move.turned:
        at = 1 - at
    before, after = move.ends[at]
    return stays_in_splice(before, after) and before.point == ref


def _cables(moves: Sequence[Move], new: Sequence[Piece], add: Any, cost: list[float]) -> None:
    """No core can be put into a cable that is there: all are kept, or the cable is made anew and cut once."""
    for cable in dict.fromkeys(wire.cable for wire in new if wire.cable):
        made = [i for i, m in enumerate(moves) if m.old is None and m.new is not None and m.new.cable == cable]
        for first, other in pairwise(made):
            add({first: 1.0, other: -1.0}, 0.0, 0.0)
        for other in made[1:]:
            cost[other] -= WEIGHT


def _triplets(rows: Sequence[dict[int, float]]) -> tuple[list[float], tuple[list[int], list[int]]]:
    values = [v for row in rows for v in row.values()]
    at = [i for i, row in enumerate(rows) for _ in row]
    columns = [c for row in rows for c in row]
    return values, (at, columns)
