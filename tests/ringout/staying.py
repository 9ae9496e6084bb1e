"""Coverage while the other units stay plugged in, against the independent model with the terminators in it.

Copper counts as no ohms beside a terminator of 120: the pieces of copper that a fault leaves are the nodes, the
terminators the resistances between them (numpy, Laplacian).
"""

from __future__ import annotations

import math
from collections import Counter
from typing import Any

import numpy as np

from harnesscheck.job import Job
from harnesscheck.ringout.article import article, articles
from harnesscheck.ringout.coverage import coverage
from harnesscheck.ringout.plan import plan
from harnesscheck.ringout.reading import Reading
from tests.ringout import model
from tests.trouble.in_place import circuits_of, terminators


def compare_staying(job: Job) -> Counter[str]:
    """Every fault of the two articles in the aircraft. Raises ``AssertionError`` where the sheet claims too much.

    Nothing that the sheet calls shown may pass its readings; what it calls not shown may, in truth, be seen sometimes.
    """
    total: Counter[str] = Counter()
    for name in articles(job):
        if name == "bench":
            continue
        under = article(job, name)
        copper = model.of(under.harness, under.terminals, False, job.jumper is None)
        probes = set(copper.probes)
        ends: list[tuple[Any, Any]] = [
            (("rear", a) if a in probes else a, ("rear", b) if b in probes else b)
            for _, _, a, b in terminators(under.harness, circuits_of(job))
        ]
        made = plan(under)
        judged = [r for r in made.readings if r.judged]
        sound = model.parts(copper.graph())
        assert not _refused(sound, ends, judged), f"{name}: a sound harness is refused"
        counted: Counter[str] = Counter()
        seen: Counter[str] = Counter()
        for kind, _, graph in model.cases(copper):
            counted[kind] += 1
            seen[kind] += _refused(model.parts(graph), ends, judged)
        for kind, found in coverage(made).items():
            if kind == "mirror":
                continue  # the sheet tries every face in the drawer, this model those of D-sub rows
            assert found.cases == counted[kind], f"{name}: {kind}: {found.cases} cases, not {counted[kind]}"
            assert found.seen <= seen[kind], f"{name}: {kind}: {found.seen} claimed, {seen[kind]} seen"
            total[f"staying {kind}"] += counted[kind]
            total[f"staying {kind} shown"] += seen[kind]
            total[f"staying {kind} claimed"] += found.seen
    return total


def _refused(part: dict[Any, int], ends: list[tuple[Any, Any]], readings: list[Reading]) -> bool:
    """True when some reading is outside its limits."""
    links = [(part[a], part[b]) for a, b in ends if a in part and b in part and part[a] != part[b]]
    return any(not _good(part, links, reading) for reading in readings)


def _good(part: dict[Any, int], links: list[tuple[int, int]], reading: Reading) -> bool:
    a, b = ({part[p] for p in points} for points in (reading.a, reading.b))
    if a & b:
        ohms = 0.0
    else:
        name = dict.fromkeys(a, -1) | dict.fromkeys(b, -2)
        ohms = _through([(name.get(x, x), name.get(y, y)) for x, y in links])
    if reading.kind == "continuity":
        return ohms == 0.0
    low, high = (-math.inf if reading.low is None else reading.low, math.inf if reading.high is None else reading.high)
    return low <= ohms <= high


def _through(links: list[tuple[int, int]]) -> float:
    """Ohms from node -1 to node -2 through terminators of 120 ohm."""
    reached, grown = {-1}, True
    while grown:
        more = {n for pair in links if reached & set(pair) for n in pair}
        grown = not more <= reached
        reached |= more
    if -2 not in reached:
        return math.inf
    place = {node: n for n, node in enumerate(sorted(reached))}
    flow = np.zeros((len(place), len(place)))
    for x, y in links:
        if x in place and x != y:
            i, j = place[x], place[y]
            flow[[i, j], [i, j]] += 1 / 120
            flow[[i, j], [j, i]] -= 1 / 120
    inverse = np.linalg.pinv(flow)
    one, two = place[-1], place[-2]
    return float(inverse[one, one] + inverse[two, two] - 2 * inverse[one, two])
