"""Diagnosis at large: many faults of many harnesses, built into the plant one after the other. Seconds, not moments."""

from __future__ import annotations

from random import Random

import pytest

import harnesscheck as hc
from harnesscheck.trouble.desk import Desk, desk
from harnesscheck.trouble.predict import OPEN
from tests.corpus import topologies
from tests.trouble import plant
from tests.trouble.asking import asked
from tests.trouble.in_place import in_place
from tests.trouble.run import Score, of_job, whole
from tests.trouble.test_diagnosis import DEMO, here, job, take

__all__ = ["here", "job"]


def test_single_faults_are_found_from_all_readings() -> None:
    """Eight random harnesses, ten faults each; ``python -m tests.trouble --whole 200`` takes them all."""
    total = Score()
    for number in range(8):
        total.add(whole(number, 10))
    assert total.shown >= 60
    assert total.first / total.shown >= 0.80, total.misses
    assert total.third / total.shown >= 0.95, total.misses
    assert not total.coarse


@pytest.mark.parametrize("article", ["installed", "aircraft"])
def test_single_faults_are_found_in_the_aircraft(article: str, job: hc.Job) -> None:
    """The demo and four random harnesses; ``python -m tests.trouble --article installed --whole 200`` takes more."""
    total = of_job("demo", job, 40, article)
    for number in range(4):
        total.add(whole(number, 15, article=article))
    assert total.shown >= 30
    assert total.first / total.shown >= 0.80, total.misses
    assert total.third / total.shown >= 0.95, total.misses
    assert not total.coarse


@pytest.mark.parametrize("article", ["installed", "aircraft"])
@pytest.mark.parametrize("name", ["ice-probe", "data-bus", "signal-logger"])
def test_every_judged_reading_is_good_on_the_sound_plant(name: str, article: str) -> None:
    """Values that no file states are the plant's own: no limit may hang on them."""
    job = hc.load(DEMO.parents[1] / name / "jumper.yaml")
    sound = in_place(job, article)
    judged = [r for r in desk(job, article, plugs=False).readings if r.judged]
    assert len(judged) >= 3
    assert [r.id for r in judged if not r.accepts(sound.reading(r))] == []


def test_asking_takes_few_readings() -> None:
    for number in (1, 4):
        found = asked(number, 10)
        assert found is not None and found.runs >= 8
        assert found.readings <= found.bound, found
        assert found.found >= 0.9, found


def test_predictions_agree_with_the_plant(job: hc.Job, here: Desk) -> None:
    """Half of the faults of fixed strength of the demo, every reading; wires differ by gauge, hence 0.05 ohm."""
    sound = plant.bench(job.jumper)  # type: ignore[arg-type]
    chance, seen = Random(1), 0
    for trouble, effects in zip(here.troubles, here.ranker.effects, strict=True):
        if trouble.kind in ("high resistance", "line loaded", "terminator extra") or trouble.kind.startswith("short"):
            continue
        if trouble.kind == "mirrored" and "P115" in trouble.says:
            continue  # the plant knows the rows of D-subs only
        if chance.random() < 0.5:
            continue
        bad = plant.broken(job, sound, trouble, chance)
        for number, reading in enumerate(here.readings):
            mine = effects[0].get(number, here.ranker.predictor.healthy[number])
            true = bad.reading(reading)
            assert (mine == OPEN) == (true == OPEN), (trouble.says, reading.id, mine, true)
            assert mine == OPEN or mine == pytest.approx(true, abs=0.05), (trouble.says, reading.id)
            seen += 1
    assert seen > 1500


def test_a_hundred_nets_are_answered() -> None:
    """100 nets, 472 wires, 3,500 faults; ``tests/bench/diagnose.py`` prints how long it takes."""
    job = topologies.clean("dense", 2, 1).load()
    here = desk(job, "bench")
    take(here, {here.readings[3].id: OPEN})
    question = here.asker.next(here.rank(), here.taken)
    assert question is not None and len(here.troubles) > 3000
