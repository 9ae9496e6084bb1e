"""Which loads have no stable voltage, so that one collapsed feed does not take the answers of the others with it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from harnesscheck.electrics.network import Branch, Load, NoSolutionError, solve


def collapsed(
    count: int,
    branches: Sequence[Branch],
    loads: Sequence[Load],
    fixed: Mapping[int, float],
    ways: Sequence[tuple[int | None, int | None]],
) -> frozenset[int]:
    """The loads of feeds that the wiring cannot carry even alone, else of all that share a way back.

    ``ways`` gives for each load the piece of the network that it is fed from and the piece that it returns by.
    """

    def fails(some: set[int]) -> bool:
        try:
            solve(count, branches, [load for number, load in enumerate(loads) if number in some], fixed)
        except NoSolutionError:
            return True
        return False

    group = list(range(len(loads)))
    first: dict[int, int] = {}
    for number, way in enumerate(ways):
        for part in way:
            if part is not None:
                other = group[first.setdefault(part, number)]
                group = [other if g == group[number] else g for g in group]
    down: set[int] = set()
    for name in sorted(set(group)):
        mine = {number for number, g in enumerate(group) if g == name}
        if fails(mine):
            feeds: dict[int | None, set[int]] = {}
            for number in mine:
                feeds.setdefault(ways[number][0], set()).add(number)
            alone = {number for feed in feeds.values() if fails(feed) for number in feed}
            down |= alone if alone and not fails(mine - alone) else mine
    return frozenset(down)
