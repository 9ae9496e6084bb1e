"""Faults found by asking for one reading after the other: how many readings it takes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from random import Random

from harnesscheck.trouble.ask import Series
from harnesscheck.trouble.desk import Desk, desk
from harnesscheck.trouble.rank import Taken
from tests.trouble import plant
from tests.trouble.run import job_of


@dataclass
class Asked:
    """Readings that were needed on average, and the bound: log2 of the suspects that readings can tell apart, and 2."""

    suspects: int
    runs: int
    readings: float
    found: float
    """Share of the runs in which the true fault was among the class named first."""

    @property
    def bound(self) -> float:
        return math.log2(self.suspects) + 2


def asked(number: int, runs: int, sizes: tuple[int, ...] = (0, 1), even: bool = False) -> Asked | None:
    """One harness. Faults are drawn by their weights, or ``even``: every class as often as any other."""
    name, job = job_of(number, sizes)
    chance = Random(f"asking {name}")
    assert job.jumper is not None
    here = desk(job, "bench")
    sound = plant.bench(job.jumper)
    shown = [n for n, leader in enumerate(here.ranker.classes) if leader >= 0]
    leaders = sorted({here.ranker.classes[n] for n in shown})
    if len(leaders) < 2:
        return None
    weights = [here.troubles[n].weight for n in shown]
    total = hits = done = 0
    for _ in range(runs):
        truth = chance.choice(leaders) if even else chance.choices(shown, weights)[0]
        try:
            bad = plant.broken(job, sound, here.troubles[truth], chance)
        except KeyError:
            continue
        count, hit = _one(here, bad, truth, chance)
        total, hits, done = total + count, hits + hit, done + 1
    return Asked(len(leaders), done, total / done, hits / done) if done else None


def _one(here: Desk, bad: plant.Plant, truth: int, chance: Random) -> tuple[int, bool]:
    here.taken = []
    while True:
        ranking = here.rank()
        question = None if here.asker.settled(ranking) else here.asker.next(ranking, here.taken)
        if question is None:
            first = ranking.suspects[0]
            return len(here.taken), any(here.troubles[truth] in group for group in first.troubles)
        plugged = bad.copy()
        if isinstance(question.asked, Series):
            for place, (a, b) in enumerate(question.asked.leads):
                plugged.parts["lead", place] = (a, b, 0.01)
        value = plant.metered(plugged.reading(question.asked), chance)  # type: ignore[arg-type]
        here.taken.append(Taken(question.number, value))
