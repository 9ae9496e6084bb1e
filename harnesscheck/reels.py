"""Which piece is cut from which reel or remnant: one-dimensional cutting stock, fewest full reels opened.

Best-fit decreasing gives a plan at once (remnants first). Where it opens more reels than the bound says are needed,
cutting patterns are made by column generation and combined by a mixed-integer solver (HiGHS, through
``scipy.optimize``; Gilmore and Gomory, Operations Research 9, 1961, and 11, 1963). The bound is that of the linear
program over all patterns, rounded up: no plan can open fewer reels.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from harnesscheck.source import Source, Status

TRIM = 0.020
"""Metres lost at the end of each reel or remnant: the first end is cut square."""
LOSS = 0.001
"""Metres lost at each cut."""
LOSS_SOURCE = Source("", Status.COMMON, paragraph="20 mm trimmed off each reel or remnant, 1 mm a cut")
UNIT = 1e-4
"""Metres: lengths are counted in tenths of a millimetre, so that sums are exact."""
NODES = 20_000
"""Branches the solver may look at; a clock would make two runs differ."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece to cut, metres."""

    name: str
    length: float


@dataclass(frozen=True, slots=True)
class Bar:
    """One reel or remnant and the pieces cut from it, longest first."""

    label: str
    length: float
    pieces: tuple[Piece, ...]

    @property
    def left(self) -> float:
        """Metres left over."""
        return self.length - TRIM - math.fsum(piece.length + LOSS for piece in self.pieces)


@dataclass(frozen=True, slots=True)
class Plan:
    """Which piece comes from where."""

    bars: tuple[Bar, ...]
    reels: int
    """Full reels opened."""
    bound: int
    """No plan opens fewer."""
    unfit: tuple[Piece, ...] = ()
    """Pieces longer than any reel or remnant: they are in no bar."""


_Pattern = tuple[int, ...]
"""How many of each length, in the order of the lengths."""


def plan(pieces: Iterable[Piece], reel: float | None, remnants: Sequence[float] = ()) -> Plan:
    """A plan for pieces of one type of wire; ``reel`` and ``remnants`` in metres, full reels as many as are needed.

    Without ``reel`` only the remnants are cut, and what does not fit in them is ``unfit``.

    >>> found = plan([Piece("a", 6.0), Piece("b", 5.0), Piece("c", 4.5), Piece("d", 4.0)], 10.0)
    >>> found.reels, found.bound          # by hand: 19.5 m need two reels, 6 + 4 - with the trim - does not fit one
    (3, 3)
    """
    order = sorted(pieces, key=lambda p: (-p.length, p.name))
    longest = max((reel or 0.0, *remnants))
    fits = [p for p in order if _size(p.length) <= _room(longest)]
    unfit = [p for p in order if _size(p.length) > _room(longest)]
    rooms = sorted((_room(r), r) for r in remnants)
    bars, left = _best_fit(fits, rooms, reel)
    used = sum(1 for label, _, _ in bars if label == "reel")
    bound = used
    if reel is not None and used:
        spare = math.fsum(room for room, _ in rooms)
        total = sum(_size(p.length) for p in fits)
        bound = max(0, math.ceil((total - spare) / _room(reel)))
        if bound < used:
            bars, used, bound = _improved(fits, rooms, reel, bars, used)
    made = [Bar(label, length, tuple(inside)) for label, length, inside in bars if inside]
    return Plan(tuple(made), used, bound, (*unfit, *left))


def _size(length: float) -> int:
    return round((length + LOSS) / UNIT)


def _room(length: float) -> int:
    return round((length - TRIM) / UNIT)


_Filled = list[tuple[str, float, list[Piece]]]


def _best_fit(
    pieces: Iterable[Piece], rooms: Sequence[tuple[int, float]], reel: float | None
) -> tuple[_Filled, list[Piece]]:
    """Best-fit decreasing: each piece goes where least is left over; a reel is opened only when nothing else does."""
    bars: _Filled = [("remnant", length, []) for _, length in rooms]
    space = [room for room, _ in rooms]
    left: list[Piece] = []
    for piece in pieces:
        size = _size(piece.length)
        # Remnants before reels: what is left of a reel is worth more than what is left of a remnant.
        fitting = [(bars[i][0] == "reel", space[i], i) for i in range(len(bars)) if space[i] >= size]
        if fitting:
            at = min(fitting)[2]
        elif reel is not None and _room(reel) >= size:
            at = len(bars)
            bars.append(("reel", reel, []))
            space.append(_room(reel))
        else:
            left.append(piece)
            continue
        bars[at][2].append(piece)
        space[at] -= size
    return bars, left


def _improved(
    pieces: Sequence[Piece], rooms: Sequence[tuple[int, float]], reel: float, bars: _Filled, used: int
) -> tuple[_Filled, int, int]:
    """Patterns and the solver: a better plan where there is one, and the linear bound."""
    sizes = sorted({_size(p.length) for p in pieces}, reverse=True)
    wanted = Counter(_size(p.length) for p in pieces)
    demand = [wanted[size] for size in sizes]
    kinds = [_room(reel), *sorted({room for room, _ in rooms}, reverse=True)]
    counts = Counter(room for room, _ in rooms)
    patterns: dict[tuple[int, _Pattern], None] = {}
    for label, length, inside in bars:
        number = Counter(_size(p.length) for p in inside)
        if inside:
            patterns[0 if label == "reel" else kinds.index(_room(length), 1), tuple(number[s] for s in sizes)] = None
    bound = 0
    for thorough in (False, True):
        bound = math.ceil(_generated(sizes, demand, kinds, counts, patterns, thorough) - 1e-6)
        if bound >= used:
            break
        chosen = _combined(sizes, demand, kinds, counts, list(patterns), used)
        if chosen is not None:
            bars = _laid_out(chosen, pieces, sizes, rooms, reel, kinds)
            used = sum(times for (kind, _), times in chosen if kind == 0)
    return bars, used, bound


def _rows(patterns: Sequence[tuple[int, _Pattern]], kinds: Sequence[int]) -> tuple[Any, Any, Any]:
    """Cost, pieces made, and remnants used of each pattern, one column each."""
    import numpy as np

    cost = np.array([1.0 if kind == 0 else 0.0 for kind, _ in patterns])
    made = np.array([pattern for _, pattern in patterns], dtype=float).T
    taken = np.array([[1.0 if kind == row else 0.0 for kind, _ in patterns] for row in range(1, len(kinds))])
    return cost, made, taken.reshape(len(kinds) - 1, len(patterns))


def _generated(
    sizes: Sequence[int],
    demand: Sequence[int],
    kinds: Sequence[int],
    counts: Counter[int],
    patterns: dict[tuple[int, _Pattern], None],
    thorough: bool,
) -> float:
    """Column generation: adds patterns until the linear program cannot fall further; returns its value.

    Unless ``thorough``, until its value rounded up cannot: the bound is the same then, the patterns are fewer.
    """
    import numpy as np
    from scipy.optimize import linprog

    for at, size in enumerate(sizes):
        # A start that is always feasible: one length a reel, as often as it fits.
        often = min(demand[at], kinds[0] // size)
        patterns[0, tuple(often if i == at else 0 for i in range(len(sizes)))] = None
    limits = [float(counts[room]) for room in kinds[1:]]
    while True:
        cost, made, taken = _rows(list(patterns), kinds)
        solved = linprog(cost, A_ub=np.vstack([-made, taken]), b_ub=[*(-float(d) for d in demand), *limits])
        prices = -solved.ineqlin.marginals
        worth, rent = prices[: len(sizes)], prices[len(sizes) :]
        added = False
        values = []
        for kind, room in enumerate(kinds):
            price = 1.0 if kind == 0 else rent[kind - 1]
            found, value = _knapsack(sizes, demand, room, worth)
            values.append(value)
            if value > price + 1e-7 and (kind, found) not in patterns:
                patterns[kind, found] = None
                added = True
        # The prices shrunk until no reel is worth more than it costs give a bound from below (Farley, Operations
        # Research 38, 1990); once both bounds round up to the same number of reels, more patterns prove nothing new.
        rents = math.fsum(counts[room] * value for room, value in zip(kinds[1:], values[1:], strict=True))
        below = (float(np.dot(worth, demand)) - rents) / max(1.0, values[0])
        near = math.ceil(below - 1e-6) >= math.ceil(solved.fun - 1e-6)
        if not added or (near and not thorough):
            return float(solved.fun)


def _knapsack(sizes: Sequence[int], demand: Sequence[int], room: int, worth: Any) -> tuple[_Pattern, float]:
    """The pattern of greatest worth that fits, exactly: dynamic programming over the room, lengths in their largest
    common measure, a count taken apart into powers of two (a solver with tolerances printed to the terminal here).
    """
    import numpy as np

    unit = math.gcd(*sizes)
    space = room // unit
    best = np.zeros(space + 1)
    steps: list[tuple[int, int, Any]] = []
    for at, (size, most) in enumerate(zip(sizes, demand, strict=True)):
        left, times = min(most, room // size), 1
        while left > 0 and worth[at] > 0:
            times = min(times, left)
            width = times * size // unit
            taken = best[: space + 1 - width] + times * worth[at]
            better = taken > best[width:]
            best[width:][better] = taken[better]
            steps.append((at, times, better))
            left -= times
            times *= 2
    found = [0] * len(sizes)
    here = space
    for at, times, better in reversed(steps):
        width = times * sizes[at] // unit
        if here >= width and better[here - width]:
            found[at] += times
            here -= width
    return tuple(found), float(best[space])


def _combined(
    sizes: Sequence[int],
    demand: Sequence[int],
    kinds: Sequence[int],
    counts: Counter[int],
    patterns: list[tuple[int, _Pattern]],
    used: int,
) -> list[tuple[tuple[int, _Pattern], int]] | None:
    """The patterns combined in whole numbers; None when that opens no fewer reels than ``used``."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    cost, made, taken = _rows(patterns, kinds)
    limits = [float(counts[room]) for room in kinds[1:]]
    rows = np.vstack([made, taken]) if limits else made
    low = [*(float(d) for d in demand), *(0.0 for _ in limits)]
    high = [*(np.inf for _ in demand), *limits]
    solved = milp(
        cost,
        integrality=np.ones(len(patterns)),
        bounds=Bounds(0, np.inf),
        constraints=LinearConstraint(rows, low, high),
        options={"mip_rel_gap": 0.0, "node_limit": NODES},
    )
    if solved.x is None:
        return None
    times = [round(x) for x in solved.x]
    opened = sum(n for n, (kind, _) in zip(times, patterns, strict=True) if kind == 0)
    return [(p, n) for p, n in zip(patterns, times, strict=True) if n] if opened < used else None


def _laid_out(
    chosen: Sequence[tuple[tuple[int, _Pattern], int]],
    pieces: Sequence[Piece],
    sizes: Sequence[int],
    rooms: Sequence[tuple[int, float]],
    reel: float,
    kinds: Sequence[int],
) -> _Filled:
    """Pieces by name put into the chosen patterns; a pattern may offer more of a length than is wanted."""
    waiting: dict[int, list[Piece]] = {size: [p for p in pieces if _size(p.length) == size] for size in sizes}
    lengths = {room: sorted(length for one, length in rooms if one == room) for room, _ in rooms}
    bars: _Filled = []
    for (kind, pattern), times in sorted(chosen, key=lambda c: (c[0][0] == 0, c[0][0], tuple(-n for n in c[0][1]))):
        for _ in range(times):
            inside = [
                waiting[s].pop(0) for s, n in zip(sizes, pattern, strict=True) for _ in range(min(n, len(waiting[s])))
            ]
            length = reel if kind == 0 else lengths[kinds[kind]].pop()
            bars.append(("reel" if kind == 0 else "remnant", length, inside))
    return bars
