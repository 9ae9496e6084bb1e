"""Diagnosis against a plant of its own (``tests/trouble/plant.py``): the faults are built in by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck.trouble.desk import Desk, desk
from harnesscheck.trouble.powered import volts_at
from harnesscheck.trouble.predict import OPEN
from harnesscheck.trouble.rank import Taken
from harnesscheck.trouble.say import text
from harnesscheck.trouble.symptoms import understood

DEMO = Path(__file__).parents[2] / "harnesses" / "ice-probe" / "jumper.yaml"


@pytest.fixture(scope="module")
def job() -> hc.Job:
    return hc.load(DEMO)


@pytest.fixture
def here(job: hc.Job) -> Desk:
    return desk(job, "bench")


def test_a_breaker_opens_on_a_dead_short() -> None:
    """14 V through 0.05 + 0.05 ohm is 140 A: a 5 A breaker has opened, a conductor without one goes on (Ohm's law)."""
    wires = [(0, 1, 0.05), (1, 2, 0.05)]
    assert volts_at([0, 1, 2], wires, {0: 14.0, 2: 0.0}, {})[1] == pytest.approx(7.0)
    assert volts_at([0, 1, 2], wires, {0: 14.0, 2: 0.0}, {wires[0]: 10.0})[1] == pytest.approx(0.0)
    assert volts_at([0, 1], [wires[0]], {0: 14.0}, {wires[0]: 10.0})[1] == pytest.approx(14.0)


def take(here: Desk, values: dict[str, float]) -> None:
    """All readings good, but for those given."""
    for number, reading in enumerate(here.readings):
        good = OPEN if reading.kind == "isolation" else 0.1
        here.taken.append(Taken(number, values.get(reading.id, good)))


def test_nothing_wrong_is_said_to_be_nothing_wrong(here: Desk) -> None:
    take(here, {})
    ranking = here.rank()
    assert not ranking.wrong
    assert ranking.nothing > 0.5 > 5 * ranking.suspects[0].probability


def by_points(here: Desk, a: str, b: str) -> str:
    return next(r.id for r in here.readings if {str(p) for p in (*r.a, *r.b)} == {a, b})


def test_two_faults_on_separate_copper_are_a_pair(here: Desk) -> None:
    """Neither fault explains the other's reading; the pair explains both."""
    one, two = by_points(here, "J114-8", "P114-8"), by_points(here, "J114-10", "P114-10")
    take(here, {one: OPEN, two: OPEN})
    ranking = here.rank()
    best = ranking.suspects[0]
    assert len(best.troubles[0]) == 2
    said = " ".join(t.says for t in best.troubles[0])
    assert "-8" in said or "W508A22" in said
    assert "-10" in said or "D510A22" in said
    assert {here.readings[n].id for n in best.explains} == {one, two}
    assert "or, no reading tells it apart:" in text(here, ranking, None)


def test_readings_that_contradict_are_named(here: Desk) -> None:
    """Three separate open lines at once: no single or double fault has all of them."""
    three = [by_points(here, f"J114-{n}", f"P114-{n}") for n in (8, 10, 13)]
    take(here, dict.fromkeys(three, OPEN))
    ranking = here.rank()
    said = text(here, ranking, None)
    assert "No single or double fault explains all readings" in said


def test_a_leak_below_the_limit_is_not_called_good(here: Desk) -> None:
    """2 Mohm where the list wants 10: wrong, though an ohmmeter's user would call it open."""
    leak = next(r for r in here.readings if r.kind == "isolation")
    take(here, {leak.id: 2e6})
    assert [here.readings[n].id for n in here.rank().wrong] == [leak.id]


def test_a_reading_taken_twice_with_two_results_is_said(here: Desk) -> None:
    one = by_points(here, "J114-8", "P114-8")
    take(here, {one: OPEN})
    here.taken.append(Taken(here.number(one), 0.1))  # type: ignore[arg-type]
    assert f"{one} was read well and badly" in text(here, here.rank(), None)


def test_partial_readings_leave_more_suspects(here: Desk) -> None:
    one = by_points(here, "J114-3", "P114-3")
    here.taken = [Taken(here.number(one), OPEN)]  # type: ignore[arg-type]
    few = here.rank()
    assert few.suspects[0].probability < 0.6
    question = here.asker.next(few, here.taken)
    assert question is not None and question.gain > 0.3
    take(here, {one: OPEN, by_points(here, "J114-3", "P115-3"): OPEN})
    assert here.rank().suspects[0].probability > 0.9


def test_a_verdict_without_a_value_counts(here: Desk) -> None:
    one = by_points(here, "J114-8", "P114-8")
    for number, reading in enumerate(here.readings):
        here.taken.append(Taken(number, None, reading.id != one))
    best = here.rank().suspects[0]
    assert "J114-8" in " ".join(t.says + t.look for group in best.troubles for t in group)


@pytest.mark.parametrize(
    ("words", "first"),
    [
        ("new unit dead", {"power", "ground"}),
        ("nwe unit deda", {"power", "ground"}),
        ("can bus erors after install", {"can"}),
    ],
)
def test_symptoms_move_the_right_faults_up(job: hc.Job, words: str, first: set[str]) -> None:
    plain, moved = desk(job, "bench"), desk(job, "bench", symptom=words)
    assert moved.heard

    def share(at: Desk) -> float:
        return sum(
            weight
            for weight, t in zip(at.ranker.weights, at.troubles, strict=True)
            if any(at.plan.signals.get(p) in first for p in at.plan.reached(t))
        )

    assert share(moved) > 1.5 * share(plain)


def test_an_existing_unit_that_quit_points_at_the_lines_led_through(job: hc.Job) -> None:
    heard = desk(job, "bench", symptom="the old AOA display quit")
    assert heard.heard == [
        "something that worked before has quit", "it is about AOA TX", "it is about AOA SIG GND",
    ]  # fmt: skip
    top = heard.rank().suspects[0].troubles[0][0]
    assert not any(p.ref == "P115" for p in top.points)


def test_an_old_unit_is_not_the_new_one() -> None:
    said = {
        words: [s.says for s in understood(words)] for words in ("old display dead", "new display dead, old one ok")
    }
    assert "the new unit is dead" not in said["old display dead"]
    assert "the new unit is dead" in said["new display dead, old one ok"]


def test_what_is_left_is_said_when_nothing_more_can_be_read(job: hc.Job) -> None:
    """An open feed reads the same at its nine places; a line led through shows in no reading with the kit in."""
    here = installed(job, {"IC1": OPEN, "IV1": 0.0})
    count = len(here.rank().suspects[0].troubles)
    assert count > 5 and f"one of {count} faults that no reading of this list tells apart" in text(
        here, here.rank(), None
    )
    here = desk(job, "installed", symptom="old AOA display quit")
    here.taken = installed(job, {}).taken
    said = text(here, here.rank(), None)
    assert "show in none of them: go and look, or read the kit on the bench (--article bench)" in said
    assert "J114-6 (AOA TX)" in said


def installed(job: hc.Job, values: dict[str, float]) -> Desk:
    """The aircraft with the jumper in: what is expected everywhere, but for those given."""
    here = desk(job, "installed")
    for number, reading in enumerate(here.readings):
        expected = reading.expected if reading.expected is not None else 0.1
        here.taken.append(Taken(number, values.get(reading.id, expected)))
    return here


def test_120_ohm_means_a_terminator_or_an_open_trunk(job: hc.Job) -> None:
    """Two of 120 ohm in parallel are 60; one of them gone, or the trunk open, leaves 120."""
    here = installed(job, {"IR1": 120.3})
    assert {r.id for r in here.readings if r.kind == "ohms"} == {"IR1"}
    said = {t.kind for s in here.rank().suspects[:2] for group in s.troubles for t in group}
    assert {"terminator missing", "contact open"} <= said


def test_40_ohm_means_a_third_terminator(job: hc.Job) -> None:
    best = installed(job, {"IR1": 40.2}).rank().suspects[0]
    assert best.troubles[0][0].kind == "terminator extra" and best.probability > 0.5


def test_no_volts_at_the_new_plug_points_at_the_feed(job: hc.Job) -> None:
    """The first volts reading is supply to return at the plug; all else is good."""
    here = installed(job, {"IV1": 0.0})
    ranking = here.rank()
    assert [here.readings[n].id for n in ranking.wrong] == ["IV1"]
    for trouble in (t for group in ranking.suspects[0].troubles for t in group):
        assert {here.plan.signals.get(p) for p in here.plan.reached(trouble)} & {"power", "ground"}, trouble.says


def test_what_no_reading_shows_is_counted_and_named(job: hc.Job) -> None:
    """The pair exchanged at the new plug reads 60 ohm and the same volts: never passed over in silence."""
    here = desk(job, "installed")
    assert any(t.kind == "pair exchanged" for t in here.unseen)
    said = text(here, here.rank(), None)
    assert f"a fault that shows in no reading here ({len(here.unseen)} such)" in said
