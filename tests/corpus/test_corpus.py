"""The sampled corpus: every fault in three shapes of job, and clean jobs of every shape and size.

The whole corpus takes some minutes: ``python -m tests.corpus --whole``.
"""

from __future__ import annotations

import pytest

from harnesscheck import checks
from tests.corpus import faults, run
from tests.corpus.masks import OPEN
from tests.corpus.topologies import TOPOLOGIES

SHAPES = 3
"""A fault must have a place in so many topologies."""


def _sample(name: str) -> list[faults.Seeded]:
    """The fault in the first topologies that have a place for it; every fault starts at another topology."""
    order = list(TOPOLOGIES)
    turn = sum(map(ord, name)) % len(order)
    found: dict[str, faults.Seeded] = {}
    for number in range(6):
        for topology in order[turn:] + order[:turn]:
            if topology not in found and len(found) < SHAPES:
                seeded = faults.seed(name, run.job_of(topology, 1 if number % 2 == 0 else 0, number))
                if seeded is not None:
                    found[topology] = seeded
    return list(found.values())


@pytest.mark.parametrize("name", sorted(faults.every()))
def test_a_seeded_fault_is_caught(name: str) -> None:
    sample = _sample(name)
    assert len(sample) >= SHAPES, "the fault has a place in too few topologies"
    for seeded in sample:
        verdict = run.judge(seeded)
        if verdict.state != "caught" and name in OPEN:
            pytest.xfail(OPEN[name])
        assert verdict.state == "caught", verdict


@pytest.mark.parametrize("topology", TOPOLOGIES)
@pytest.mark.parametrize("size", (0, 1, 2))
def test_a_clean_job_has_no_finding_and_nothing_unexplained(topology: str, size: int) -> None:
    for number in (size + 1, size + 11):
        assert run.false_alarms(run.job_of(topology, size, number)) == []


def test_every_check_has_a_fault() -> None:
    seeded = {s.check for name in faults.every() for s in _sample(name)[:1]}
    assert set(checks.names()) - seeded == set()


def test_there_are_enough_faults_and_topologies() -> None:
    assert len(faults.every()) >= 50
    assert len(TOPOLOGIES) >= 12
