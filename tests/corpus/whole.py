"""The whole run: recall of every fault class, false alarms on clean jobs, pairs of faults; some minutes."""

from __future__ import annotations

import time
from collections import Counter, defaultdict
from collections.abc import Iterable
from concurrent.futures import ProcessPoolExecutor
from random import Random

import harnesscheck as hc
from harnesscheck import checks
from tests.corpus import faults, run
from tests.corpus.masks import MAY_ASK, MAY_HIDE, OPEN
from tests.corpus.topologies import TOPOLOGIES

Key = tuple[str, int, int]
GOOD = ("caught",)


def keys(seeds: int) -> list[Key]:
    """(topology, size, seed): the size goes round with the seed."""
    return [(topology, seed % 3, seed) for seed in range(seeds) for topology in TOPOLOGIES]


def seeded_in(key: Key) -> list[run.Verdict]:
    """Every fault that has a place in one clean job."""
    job = run.job_of(*key)
    found = []
    for name in faults.every():
        seeded = faults.seed(name, job)
        if seeded is not None:
            found.append(run.judge(seeded))
    return found


def alarms_in(some: list[Key]) -> list[tuple[Key, list[str]]]:
    """What is said of clean jobs."""
    return [(key, run.false_alarms(run.job_of(*key))) for key in some]


def pair_in(number: int) -> tuple[str, str, list[str]] | None:
    """Two random faults in one job: names, and what was not reported."""
    rng = Random(f"pair {number}")
    for _ in range(40):
        job = run.job_of(rng.choice(list(TOPOLOGIES)), rng.choice((0, 1, 1)), rng.randrange(100))
        one, two = rng.sample(sorted(faults.every()), 2)
        first = faults.seed(one, job)
        try:
            second = faults.seed(two, first.job, 1) if first else None
        except (KeyError, IndexError, StopIteration):
            continue  # the first fault took away what the second needs
        if first is None or second is None or set(first.names) & set(second.names) or first.check == second.check:
            continue
        try:
            report = hc.check(second.job.load())
        except hc.InputError as error:
            return job.name, f"{one} + {two}", [f"refused: {error}"]
        lost = []
        for mine, other in ((first, second), (second, first)):
            hit = any(f.check in mine.check.split("|") and run.names(f, mine.names) for f in report.findings)
            pair = other.check, mine.check
            asked = pair in MAY_ASK and any(
                n.check == mine.check and n.place.label in mine.names for n in report.not_checked
            )
            if not hit and not asked and pair not in MAY_HIDE and mine.fault not in OPEN:
                lost.append(f"{mine.fault} ({mine.check} at {', '.join(mine.names[:3])})")
        return job.name, f"{one} + {two}", lost
    return None


def _chunks(items: list[Key], size: int) -> list[list[Key]]:
    return [items[i : i + size] for i in range(0, len(items), size)]


def table(verdicts: Iterable[run.Verdict]) -> tuple[list[str], int]:
    """Lines of the recall table, and the number of faults that were not caught."""
    by: dict[str, list[run.Verdict]] = defaultdict(list)
    for verdict in verdicts:
        by[verdict.fault].append(verdict)
    lines, missed = [f"{'fault':42} {'check':36} {'shapes':>6} {'jobs':>5} {'caught':>7} {'extra':>6}"], 0
    for name in faults.every():
        mine = by.get(name, [])
        good = sum(v.state in GOOD for v in mine)
        note = f"  (known: {OPEN[name]})" if name in OPEN else ""
        missed += len(mine) - good
        shapes = len({v.job.partition("/")[0] for v in mine})
        extra = sum(len(v.extra) for v in mine) / max(len(mine), 1)
        check = mine[0].check if mine else ""
        lines.append(f"{name:42} {check:36} {shapes:6} {len(mine):5} {good:7} {extra:6.2f}{note}")
        others = Counter(v.state for v in mine if v.state not in GOOD)
        for state in others:
            example = next(v for v in mine if v.state == state)
            lines.append(f"    {others[state]} {state}: {example.job} {example.said}")
    return lines, missed


def whole(seeds: int, clean: int, pairs: int) -> int:
    """Run it all and print the figures. Returns the exit status."""
    start = time.perf_counter()
    everything = keys(seeds)
    with ProcessPoolExecutor(2) as pool:
        verdicts = [v for found in pool.map(seeded_in, everything, chunksize=4) for v in found]
        lines, missed = table(verdicts)
        print("\n".join(lines))
        told = {v.check for v in verdicts}
        without = ", ".join(sorted(set(checks.names()) - told)) or "none"
        print(f"\n{len(faults.every())} fault classes, {len(TOPOLOGIES)} topologies, {len(verdicts)} seeded jobs: "
              f"{len(verdicts) - missed} caught, {missed} not; {sum(not v.extra for v in verdicts)} with one primary "
              f"finding only; checks without a fault: {without}")  # fmt: skip
        more = [(t, (i // len(TOPOLOGIES)) % 3, 1000 + i) for i, t in
                zip(range(clean), list(TOPOLOGIES) * clean, strict=False)]  # fmt: skip
        loud = [(k, said) for part in pool.map(alarms_in, _chunks(more, 20)) for k, said in part if said]
        for key, said in loud[:20]:
            print(f"false alarm in {key}: {said[0]}")
        print(f"{clean} clean jobs: {len(loud)} with a false alarm")
        both = [found for found in pool.map(pair_in, range(pairs), chunksize=10) if found is not None]
        lost = [(job, two, gone) for job, two, gone in both if gone]
        for job, two, gone in lost:
            print(f"pair {two} in {job}: lost {'; '.join(gone)}")
        print(f"{len(both)} pairs of faults: {len(both) - len(lost)} with both reported")
    print(f"{time.perf_counter() - start:.0f} s")
    return 1 if missed or loud or lost else 0
