"""Volts of a piece of copper with the power on: a breaker that a short overloads opens, and what it fed is dead."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from harnesscheck.electrics.network import Branch, solve
from harnesscheck.source import Source, Status
from harnesscheck.trouble.copper import Wire

TRIPS = 2.0
"""Times its rating at which a breaker has opened before a meter has settled."""
TRIPS_SOURCE = Source(
    "", Status.MEMORY, paragraph="thermal breakers open within seconds to a minute at twice the rating"
)
LEAST = 1e-4
"""Ohms counted for a joint without resistance."""


def volts_at(
    nodes: Sequence[int], wires: Sequence[Wire], held: Mapping[int, float], trips: Mapping[Wire, float]
) -> dict[int, float | None]:
    """Volts of every node; None where nothing holds it. ``trips``: amperes at which a resistance opens for good."""
    place = {node: number for number, node in enumerate(nodes)}
    fixed = {place[node]: volts for node, volts in held.items() if node in place}
    if not fixed:
        return dict.fromkeys(nodes)
    left = list(wires)
    while True:
        branches = [Branch(place[a], place[b], max(ohms, LEAST)) for a, b, ohms in left]
        volts = solve(len(nodes), branches, (), fixed).volts
        worst, over = None, 1.0
        for number, (wire, branch) in enumerate(zip(left, branches, strict=True)):
            one, two = volts[branch.a], volts[branch.b]
            if wire in trips and one is not None and two is not None:
                share = abs(one - two) / branch.ohms / trips[wire]
                if share > over:
                    worst, over = number, share
        if worst is None:
            return dict(zip(nodes, volts, strict=True))
        del left[worst]
