"""The faults of two nets counted row by row: the same as trying every case, which the independent model vouches for."""

from __future__ import annotations

from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck.job import Job
from harnesscheck.place import Point
from harnesscheck.ringout import coverage, ohms
from harnesscheck.ringout.article import article, articles
from harnesscheck.ringout.plan import plan
from harnesscheck.ringout.rest import Rest, Whole
from tests.ringout.compare import VARIANTS, random_job

HARNESSES = Path(__file__).parents[2] / "harnesses"


def agree(job: Job, monkeypatch: pytest.MonkeyPatch) -> int:
    """Both ways for every article and mode. Returns the cases not shown, of which reason and names are compared too."""
    unseen = 0
    for name in articles(job):
        for staying in (True, False):
            for mode, tied in (*VARIANTS, ("quick", False)):
                made = plan(article(job, name, staying), mode, tied)
                found = []
                for most in (10**9, -1):
                    monkeypatch.setattr(coverage, "MOST_TRIED", most)
                    said = coverage.coverage(made)
                    found.append({
                        kind: (one.cases, one.seen, one.first, {r: (len(n), n.first) for r, n in one.unseen.items()})
                        for kind, one in said.items()
                    })  # fmt: skip
                assert found[0] == found[1], (name, staying, mode, tied)
                unseen += sum(cases - seen for cases, seen, *_ in found[0].values())
    return unseen


@pytest.mark.parametrize("name", ["ice-probe", "engine-display", "signal-logger"])
def test_counted_as_tried_on_invented_jobs(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    assert agree(hc.load(HARNESSES / name / "jumper.yaml"), monkeypatch) > 0


def test_counted_as_tried_on_random_jobs(monkeypatch: pytest.MonkeyPatch) -> None:
    assert sum(agree(random_job(seed), monkeypatch) for seed in range(12)) > 0


def test_the_rest_of_a_walk_is_the_tuple_of_the_same() -> None:
    whole = Whole("abcde")
    for start in range(7):
        plain, rest = tuple("abcde"[start:]), Rest(whole, start)
        assert rest == plain and len(rest) == len(plain) and [*rest] == [*plain] and rest[:2] == plain[:2]
        assert [one in rest for one in "abcdef"] == [one in plain for one in "abcdef"]
        assert rest != (*plain, "f") and hash(rest) == hash(plain) and repr(rest) == repr(plain)
    with pytest.raises(IndexError):
        _ = Rest(whole, 4)[1]


def test_ohms_against_the_rest_of_a_walk_are_those_against_its_points() -> None:
    """Between any terminal and all that follow it: on the copper of its net, on a terminator, or open."""
    under = article(hc.load(HARNESSES / "engine-display" / "jumper.yaml"), "installed")
    whole = Whole[Point](under.terminals)
    values = set()
    for start, point in enumerate(under.terminals[:-1], 1):
        rest = Rest(whole, start)
        one = ohms.resistance(under.links, [point], rest, near=under.near)
        assert one == ohms.resistance(under.links, [point], tuple(rest))
        values.add(one)
    assert len(values) > 2
