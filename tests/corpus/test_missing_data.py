"""Missing data never passes: a sample of every kind of value is taken away and changed (see ``missing``).

More of it: ``python -m tests.corpus --missing 3``.
"""

from __future__ import annotations

from random import Random

import pytest

from harnesscheck import checks
from tests.corpus import missing, run

JOBS = (("can-shield", 1, 1), ("power-heavy", 1, 1), ("multi-branch", 0, 2))


@pytest.mark.parametrize("key", JOBS, ids=lambda key: key[0])
def test_what_a_check_needs_it_misses(key: tuple[str, int, int]) -> None:
    job = run.job_of(*key)
    base = missing.answers(job)
    assert base is not None
    rng = Random(str(key))
    for leaf in missing.sample(job, rng, 1):
        silences, broken = missing.look(job, base, leaf, rng, 4)
        assert not broken, f"{broken} without {leaf}"
        assert [s for s in silences if (s.check, s.kind) not in missing.OPEN] == []


def test_excuses_name_checks_that_exist() -> None:
    for (check, _), (reason, speaker) in missing.EXCUSED.items():
        assert check in checks.names()
        assert reason
        assert not speaker or speaker in checks.names()
