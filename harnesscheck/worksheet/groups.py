"""The readings of a worksheet in groups, as ring-out and power-up list them."""

from __future__ import annotations

from dataclasses import dataclass

from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.ringout import live
from harnesscheck.ringout.reading import Reading
from harnesscheck.sheets import Wish, ring_out
from harnesscheck.sheets._readings import points

LIVE = (
    "Begun when the ring-out is signed. Stop at the first value that is not accepted.",
    "The new plug stays UNMATED. Battery on, breakers closed one at a time; 0 V at every contact before that.",
    "Red lead at A, black lead at B. The meter stands on volts before a lead touches anything.",
)


@dataclass(frozen=True)
class Group:
    """Readings that are taken in one go."""

    name: str
    title: str
    words: tuple[str, ...]
    readings: tuple[Reading, ...]
    harness: Harness
    walking: bool = False
    """True: isolation by lifting one net after the other off the rest."""


def groups(job: Job, wish: Wish) -> list[Group]:
    """Every group of the job, in the order of the sheets. Raises ``InputError`` for a mode that ring-out has not."""
    found: list[Group] = []
    for made in ring_out.plans(job, wish):
        name = made.article.name
        words = [*ring_out.BEFORE] if not found else []
        words += ring_out.IN_AIRCRAFT if name != "bench" else ()
        judged = [r for r in made.of_kind("isolation") if r.judged]
        walking = bool(judged) and not made.tied and made.mode != "quick"
        if walking:
            words.append(
                f"Apart: tie together {points((*judged[0].a, *judged[0].b))}. Take the nets off one by one in this "
                "order, read each against all that are still tied, and leave it off."
            )
        title = made.title[0].upper() + made.title[1:]
        found.append(Group(name, title, (*words, *made.notes), made.readings, made.article.harness, walking))
    volts = live.volts(job) if any(group.name == "installed" for group in found) else []
    if volts:
        at = ", ".join(dict.fromkeys(reading.a[0].ref for reading in volts))
        found.append(Group("volts", f"Volts at {at}, not mated", LIVE, tuple(volts), job.subject))
    return found
