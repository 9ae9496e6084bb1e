"""The seeded faults: a table that the files beside this one fill, and what each entry says.

A fault takes a copy of a clean job, makes one change, and returns the check that must catch it with the names of which
the first finding must carry one; or ``None`` when the job has no place for the fault. It never asks a check.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from random import Random

from tests.corpus.jobs import Job

Answer = tuple[str, list[str]] | None
Injector = Callable[[Job, Random], Answer]
FAULTS: dict[str, Injector] = {}
HOMES = ("copper", "maps", "parts", "fit", "supply", "splices", "shields", "marks", "subtle",
         "signals", "lines", "power")  # fmt: skip


@dataclass(frozen=True)
class Seeded:
    """A job with one fault in it."""

    job: Job
    fault: str
    check: str
    """The check that must catch it."""
    names: tuple[str, ...]
    """The first finding must be about one of these."""


def fault(injector: Injector) -> Injector:
    """Enter an injector into the table under its name."""
    FAULTS[injector.__name__.replace("_", "-")] = injector
    return injector


def every() -> dict[str, Injector]:
    """All faults, from the files of this folder."""
    for home in HOMES:
        import_module(f"tests.corpus.fault_{home}")
    return FAULTS


def seed(name: str, clean: Job, number: int = 0) -> Seeded | None:
    """One fault put into a copy of a clean job; ``None`` when the job has no place for it."""
    job = clean.copy()
    answer = every()[name](job, Random(f"{name}/{clean.name}/{number}"))
    return None if answer is None else Seeded(job, name, answer[0], tuple(answer[1]))
