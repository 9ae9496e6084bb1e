"""Every job that was laid out by hand is planned: it passes all checks, and costs no more than the hand-made one."""

from __future__ import annotations

from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck import report
from harnesscheck.jumper import cost
from harnesscheck.jumper.planning import Plan, plan
from tests.jumper.jobs import JOBS, Job


@pytest.fixture(params=JOBS, ids=lambda job: job.name)
def job(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Job:
    """Each job in turn, its copy being the current folder."""
    found: Job = request.param
    monkeypatch.chdir(found.copied(tmp_path))
    return found


def planned(job: Job, least: str | None = None) -> Plan:
    made = plan(job.asked(least))
    assert made.text is not None, made.noes
    assert not Path("plan.yaml").exists(), "planning itself writes nothing"
    return made


def test_the_plan_passes_every_check_and_costs_no_more(job: Job) -> None:
    made = planned(job)
    assert made.text is not None
    Path("plan.yaml").write_text(made.text, encoding="utf-8")
    read = hc.load("plan.yaml")
    found = hc.check(read)
    assert not found.findings, report.as_text(found)
    assert not found.not_checked, report.as_text(found)
    by_hand = hc.load("jumper.yaml")
    assert read.jumper is not None and by_hand.jumper is not None
    assert {p: t.circuit for p, t in read.jumper.taps.items()} == {
        p: t.circuit for p, t in by_hand.jumper.taps.items()
    }, "other circuits than a person chose"
    mine, his = cost.of_harness(read.jumper), cost.of_harness(by_hand.jumper)
    assert mine.total <= his.total, f"{mine} against {his}"
    assert made.result is not None and made.result.best is not None
    assert made.result.best.cost.total == pytest.approx(mine.total, abs=1e-9), "the plan is not what was weighed"


def test_the_same_plan_twice(job: Job) -> None:
    first = planned(job).text
    assert first is not None and planned(job).text == first
    Path("plan.yaml").write_text(first, encoding="utf-8")
    assert plan(job.asked()).text == first, "planning over an untouched plan changes it"


@pytest.mark.parametrize("least", cost.LEAST)
def test_least_of_one_thing_is_no_more_of_it(least: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    job = next(each for each in JOBS if each.name == "engine-display")
    monkeypatch.chdir(job.copied(tmp_path))
    plain, asked = planned(job).result, planned(job, least).result
    assert plain is not None and asked is not None and plain.best is not None and asked.best is not None
    assert getattr(asked.best.cost, least) <= getattr(plain.best.cost, least) + 1e-12
    assert asked.best.cost.total >= plain.best.cost.total - 1e-12


def test_every_cavity_is_led_through(job: Job) -> None:
    """The nets of the opened pair before are the nets after: each cavity of one half meets its own of the other."""
    made = planned(job)
    assert made.text is not None
    Path("plan.yaml").write_text(made.text, encoding="utf-8")
    harness = hc.load("plan.yaml").subject
    assert harness.opened and harness.before is not None
    one, two = (harness.connectors[ref] for ref in harness.opened)
    assert len(one.cavities) >= 9
    for name, cavity in one.cavities.items():
        assert harness.nets.of(cavity.point) == harness.nets.of(two.cavities[name].point), name
    before, after = harness.before.nets, harness.nets
    every = [c.point for half in (one, two) for c in half.cavities.values()]
    for a in every:
        for b in every:
            assert (before.of(a) == before.of(b)) == (after.of(a) == after.of(b)), f"{a} and {b}"
