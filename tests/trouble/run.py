"""Every fault of a harness put into the plant, read by its meter, and looked for."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from random import Random

from harnesscheck.job import Job
from harnesscheck.trouble.desk import Desk, desk
from harnesscheck.trouble.faults import Trouble
from harnesscheck.trouble.rank import Taken
from tests.corpus import topologies
from tests.trouble import plant
from tests.trouble.in_place import in_place


@dataclass
class Score:
    """How many faults were shown by the readings, found first, found among the first three."""

    shown: int = 0
    first: int = 0
    third: int = 0
    silent: int = 0
    """Shown by no reading of the list."""
    strange: int = 0
    """Mirror images of faces that the plant does not know."""
    coarse: list[str] = field(default_factory=list)
    """Faults called alike that the plant's readings tell apart."""
    misses: list[str] = field(default_factory=list)
    kinds: Counter[str] = field(default_factory=Counter)

    def add(self, other: Score) -> None:
        for name in ("shown", "first", "third", "silent", "strange"):
            setattr(self, name, getattr(self, name) + getattr(other, name))
        self.misses += other.misses
        self.coarse += other.coarse
        self.kinds += other.kinds

    def __str__(self) -> str:
        return (
            f"{self.shown} faults shown, true one first {self.first / max(self.shown, 1):.1%}, in first three "
            f"{self.third / max(self.shown, 1):.1%}; {self.silent} shown by no reading, "
            f"{self.strange} left out, {len(self.coarse)} wrongly called alike"
        )


def job_of(number: int, sizes: tuple[int, ...] = (0, 1)) -> tuple[str, Job]:
    """Random harness number so and so."""
    names = list(topologies.TOPOLOGIES)
    topology, size = names[number % len(names)], sizes[number // len(names) % len(sizes)]
    return f"{topology}/{size}/{number}", topologies.clean(topology, size, number).load()


def sound_plant(job: Job, article: str) -> plant.Plant:
    """The plant of an article, nothing wrong with it."""
    if article != "bench":
        return in_place(job, article)
    assert job.jumper is not None
    return plant.bench(job.jumper)


def whole(number: int, most: int | None, sizes: tuple[int, ...] = (0, 1), article: str = "bench") -> Score:
    """All faults of one harness, or ``most`` of them drawn at random."""
    name, job = job_of(number, sizes)
    return of_job(name, job, most, article)


def of_job(name: str, job: Job, most: int | None, article: str = "bench") -> Score:
    """The same for any job."""
    if article != "bench":
        name = f"{name} {article}"
    chance = Random(f"diagnosis {name}")
    here = desk(job, article, plugs=False)
    sound = sound_plant(job, article)
    before = [sound.reading(r) for r in here.readings]
    score = Score()
    chosen = here.troubles if most is None else chance.sample(here.troubles, min(most, len(here.troubles)))
    for trouble in chosen:
        try:
            bad = plant.broken(job, sound, trouble, chance)
        except KeyError:
            score.strange += 1
            continue
        true = [bad.reading(r) for r in here.readings]
        if plant.alike(true, before, here.readings):
            score.silent += 1
            continue
        place = placed(job, here, sound, trouble, true, chance)
        if place < 10 and chance.random() < 0.2:
            odd = unlike(job, here, sound, trouble, true, chance)
            score.coarse += [f"{name}: {trouble.says} / {odd.says}"] if odd else []
        score.shown += 1
        score.first += place == 0
        score.third += place < 3
        score.kinds[trouble.kind] += 1
        if place:
            score.misses.append(f"{name}: {trouble.kind}: {trouble.says}: place {place + 1}")
    return score


LOOSE = ("high resistance", "line loaded", "short between neighbours", "short to ground", "short to power")
"""Kinds whose strength is drawn anew each time, so that two plants need not read alike."""


def unlike(
    job: Job, here: Desk, sound: plant.Plant, trouble: Trouble, true: list[float], chance: Random
) -> Trouble | None:
    """A fault of the same class as the true one that the plant's readings tell from it; None when there is none."""
    classes = here.ranker.classes
    own = classes[here.troubles.index(trouble)]
    others = [t for t, c in zip(here.troubles, classes, strict=True) if c == own and t is not trouble]
    if not others or trouble.kind in LOOSE:
        return None
    other = chance.choice(others)
    try:
        bad = plant.broken(job, sound, other, chance)
    except KeyError:
        return None
    return None if plant.alike([bad.reading(r) for r in here.readings], true, here.readings) else other


def placed(job: Job, here: Desk, sound: plant.Plant, trouble: Trouble, true: list[float], chance: Random) -> int:
    """Position of the true fault among the suspects, from 0; suspects that no reading tells from it count as it."""
    here.taken = [
        Taken(n, plant.metered(shown, chance, r.kind == "volts"))
        for n, (r, shown) in enumerate(zip(here.readings, true, strict=True))
    ]
    for place, suspect in enumerate(here.rank().suspects[:10]):
        for group in suspect.troubles:
            if group == (trouble,):
                return place
        first = suspect.troubles[0]
        if len(first) == 1 and first[0].kind not in ("high resistance", "line loaded"):
            try:
                other = plant.broken(job, sound, first[0], Random(1))
            except KeyError:
                continue
            if plant.alike([other.reading(r) for r in here.readings], true, here.readings):
                return place
    return 99
