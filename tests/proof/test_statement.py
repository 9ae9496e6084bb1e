"""The do-no-harm statement: its claims against the oracle, its numbers against hand sums, and what it says of gaps."""

from __future__ import annotations

import csv
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck.electrics.wiring import wiring
from harnesscheck.job import Job
from harnesscheck.proof.copper import copper
from harnesscheck.proof.effects import Way
from harnesscheck.proof.statement import CLAIMS, Statement, statement
from harnesscheck.report import CAUTIONS
from harnesscheck.sheets import do_no_harm
from tests.proof import run, small

HARNESSES = Path(__file__).parents[2] / "harnesses"
CLEAN = sorted(path.parent.name for path in HARNESSES.glob("*/jumper.yaml"))
FAULTY = sorted(path.parent.name for path in HARNESSES.glob("faulty/*/jumper.yaml"))
BROKEN = {
    "broken-through-circuit", "drain-on-wrong-contact", "dropped-shield", "mirrored-pin-map", "pin-collision",
    "ribbon-order-pin-map", "shifted-pin-map",
}  # fmt: skip
"""Faulty jobs that part or join circuits of the aircraft, as their own stories tell."""
OTHERWISE = {
    "breaker-overloaded": "limits", "dead-end-wire": "taps", "pair-apart": "taps", "pin-map-mismatch": "taps",
    "unknown-cavity": "taps",
}  # fmt: skip
"""Faulty jobs in which another claim fails: too much load, and taps that are not as declared."""


def proven(texts: dict[str, str]) -> Statement:
    """A job given as text; its files are there while it is proven."""
    with run.folder(texts) as file:
        return statement(hc.load(file))


def way(of: Statement, name: str) -> Way:
    """The way of one circuit."""
    return next(one for one in of.effects.ways if name in one.circuits)


# -- claims against the oracle ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", CLEAN)
def test_clean_jobs_are_proven(name: str) -> None:
    outcome = run.judge(name, HARNESSES / name / "jumper.yaml")
    assert outcome.holds
    assert not outcome.wrong


def test_faulty_jobs_that_break_a_circuit_have_no_proof() -> None:
    """The lists are written from the stories in the faulty files; oracle and re-checker agree on every one."""
    failed: dict[str, str] = {}
    for name in FAULTY:
        outcome = run.judge(name, HARNESSES / "faulty" / name / "jumper.yaml")
        assert not outcome.wrong, (name, outcome.wrong)
        if not outcome.holds:
            failed[name] = next(claim for claim, value in outcome.claims.items() if value is False)
    assert {name for name, claim in failed.items() if claim in ("nets", "ways")} == BROKEN
    assert {name: claim for name, claim in failed.items() if name not in BROKEN} == OTHERWISE


def test_random_jobs_agree_with_the_oracle() -> None:
    """A sample; ``python -m tests.proof --whole 2000`` is the whole run."""
    seen, wrong = run.whole(24)
    assert not wrong, wrong
    assert seen["clean proven"] == seen["clean"] == 8
    assert seen["faulty"] >= 10


# -- numbers by hand -------------------------------------------------------------------------------------------------


def test_resistance_and_drops_by_hand() -> None:
    """Own arithmetic from AC 43.13-1B Table 11-9 (20 AWG: 9.88 ohm per 1000 ft), 1 ft = 0.3048 m.

    Way: 300 mm of wire, one splice of 1 mohm, two contacts of 15 mohm (of which nothing is known). Aircraft: 2 m of
    wire and 40 mohm in the breaker; 1 m and 2 mohm to the stud. Currents: 1 A at peak there already, 2 A at peak new.
    """
    metre = 9.88 / 1000 / 0.3048
    kit = 0.3 * metre + 0.001 + 2 * 0.015
    found = proven(small.TEXTS)
    power, back = way(found, "PWR"), way(found, "RTN")
    assert power.ohms == pytest.approx(kit, rel=1e-12)
    assert power.kit_volts == pytest.approx(kit * 3, rel=1e-12)
    assert power.aircraft_ohms == pytest.approx(2 * metre + 0.04, rel=1e-12)
    assert power.aircraft_volts == pytest.approx((2 * metre + 0.04) * 2, rel=1e-12)
    assert back.aircraft_volts == pytest.approx((metre + 0.002) * 2, rel=1e-12)
    (fed,) = found.effects.breakers
    assert (fed.before, fed.after, fed.share, fed.peak) == (0.5, 1.0, 0.2, 3.0)
    (stub,) = found.effects.stubs
    assert stub.metres == pytest.approx(0.4)
    assert (stub.receivers, stub.receivers_after, stub.most) == (1, 2, 2)


def test_drops_bound_what_the_network_gives() -> None:
    """Independent route: the DC solve of both harnesses. Nothing is hot in this job, so both reckon at 20 C."""
    found = proven(small.TEXTS)
    after, before = wiring(found.copper.harness), wiring(found.copper.airframe)
    load = next(c for c in after.consumers if c.circuit is not None)
    same = next(c for c in before.consumers if c.circuit is not None)
    was, now = before.across(same, "most"), after.across(load, "most")
    assert was is not None
    assert now is not None
    ways = (way(found, "PWR"), way(found, "RTN"))
    bound = sum((one.kit_volts or 0.0) + (one.aircraft_volts or 0.0) for one in ways)
    assert 0 < was - now <= bound
    assert was - now > bound - 3 * 2 * 0.015 - 0.02  # the parted contacts, and what constant power draws more


# -- what is not known, and what speaks against it -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("file", "old", "new", "said"),
    [
        ("jumper.yaml", "to: P3-3, gauge: 22 AWG, length: 200 mm", "to: P3-3, gauge: 22 AWG", "length of K3B"),
        ("jumper.yaml", "from: J3-2, to: SP2, gauge: 20 AWG,", "from: J3-2, to: SP2,", "gauge or resistance of K2A"),
        ("jumper.yaml", "to: P4-3, gauge: 22 AWG, length: 400 mm", "to: P4-3, gauge: 22 AWG", "length of K3C"),
        ("airframe.yaml", "load: 0.5 A, peak: 1 A, ", "", "the current of PWR"),
        ("airframe.yaml", "returns: RTN", "note: x", "which loads come back by RTN"),
        ("airframe.yaml", "rating: 5 A, ", "", "the rating of CB1"),
        ("airframe.yaml", ", resistance: 40 mohm", "", "the resistance of CB1"),
        ("airframe.yaml", "to: J1-1, gauge: 20 AWG, length: 2 m", "to: J1-1, gauge: 20 AWG", "length of P10A20"),
        ("airframe.yaml", "receivers: 1, ", "", "how many receivers hang on DATA already"),
        ("airframe.yaml", "DATA: {signal: rs232, ", "DATA: {", "what DATA is for"),
        ("unit.yaml", "signal: rs232, direction: in", "signal: rs232", "whether A1J1-3 listens or talks"),
        ("unit.yaml", ", returns: 2", "", ""),
        ("unit.yaml", "current: 0.5 A, peak: 2 A, ", "", "the current of A1J1-1"),
    ],
)  # fmt: skip
def test_missing_data_is_said_and_never_reckoned(file: str, old: str, new: str, said: str) -> None:
    texts = small.changed(file, (old, new))
    found = proven(texts)
    assert not said or said in " ".join(found.unknown)
    with run.folder(texts) as folder:
        assert not run.judge(said, folder).wrong
    assert "not known" in "\n".join(do_no_harm.text(found))


def test_a_length_that_is_missing_takes_away_the_number_of_its_circuit_only() -> None:
    found = proven(small.changed("jumper.yaml", ("to: P3-1, gauge: 20 AWG, length: 200 mm", "to: P3-1, gauge: 20 AWG")))
    assert way(found, "PWR").ohms is None
    assert way(found, "PWR").kit_volts is None
    assert way(found, "RTN").ohms is not None
    assert found.holds


def test_limits_that_are_exceeded_take_away_the_proof() -> None:
    small_breaker = proven(small.changed("airframe.yaml", ("rating: 5 A", "rating: 0.9 A")))
    assert small_breaker.claims["limits"] is False
    assert not small_breaker.holds
    assert any("CB1 gets 1 A, and is rated 0.9 A" in line for line in small_breaker.against)
    full = proven(small.changed("airframe.yaml", ("most receivers: 2", "most receivers: 1")))
    assert full.claims["limits"] is False


def test_spares_may_end_at_the_kit_and_are_named() -> None:
    found = proven(small.changed("jumper.yaml", ("  K4: {from: J3-4, to: P3-4, gauge: 22 AWG, length: 300 mm}\n", "")))
    assert found.holds
    assert any("P1-4" in line for block in do_no_harm.blocks(found) for line in block.lines)


def test_cavities_that_only_the_kit_names_count() -> None:
    """A cavity of an opened half that no file of the aircraft lists may carry something."""
    straight = "  K5: {from: J3-5, to: P3-5, gauge: 22 AWG, length: 300 mm}\ntaps:"
    assert proven(small.changed("jumper.yaml", ("taps:", straight))).holds
    crossed = straight.replace("to: P3-5", "to: P3-6")
    assert not proven(small.changed("jumper.yaml", ("taps:", crossed))).holds


def test_two_returns_crossed_behind_one_stud_are_no_proof() -> None:
    """The nets are the same, for both end on one stud; the kit leads them astray all the same."""
    air = small.AIRFRAME.replace("DATA: {signal: rs232, receivers: 1, most receivers: 2}", "DATA: {signal: ground}")
    air += "  P12A20N: {from: GS1, to: J1-3, gauge: 20 AWG, length: 1 m}\n"
    kit = small.JUMPER.replace("from: J3-2, to: SP2", "from: J3-2, to: SP3").replace(
        "from: J3-3, to: SP3", "from: J3-3, to: SP2"
    )
    found = proven({**small.TEXTS, "airframe.yaml": air, "jumper.yaml": kit})
    assert found.claims["nets"] is True
    assert found.claims["ways"] is False


# -- taking it out again ---------------------------------------------------------------------------------------------


def test_a_file_that_was_written_takes_away_the_proof(tmp_path: Path) -> None:
    folder = shutil.copytree(HARNESSES / "ice-probe", tmp_path / "job")
    job = hc.load(folder / "jumper.yaml")
    assert statement(job).claims["files"] is True
    path = folder / "airframe.yaml"
    path.write_bytes(path.read_bytes() + b"\n")
    later = statement(job)
    assert later.claims["files"] is False
    assert not later.holds
    path.unlink()
    gone = statement(job)
    assert gone.claims["files"] is None
    assert gone.holds
    assert any("still the file that was read" in line for line in gone.unknown)


def test_an_aircraft_that_the_kit_changed_is_not_given_back() -> None:
    """Model identity: one length of the aircraft's wiring differs after installation."""
    job = hc.load(HARNESSES / "ice-probe" / "jumper.yaml")
    wires = dict(job.subject.wires)
    wires["P107A20"] = replace(wires["P107A20"], length=2.7)
    spoilt = Job(job.path, job.name, replace(job.subject, wires=wires), job.airframe, job.jumper, job.equipment)
    assert statement(job).claims["removal"] is True
    assert statement(spoilt).claims["removal"] is False
    assert statement(spoilt).claims["files"] is None


def test_only_an_installed_harness_has_a_before_and_an_after() -> None:
    airframe = hc.load(HARNESSES / "ice-probe" / "airframe.yaml")
    with pytest.raises(ValueError, match="before"):
        copper(airframe.subject)
    assert b"name the jumper file" in do_no_harm.render(airframe, "text")


# -- the page ----------------------------------------------------------------------------------------------------------


def test_the_page_carries_claims_circuits_gaps_and_cautions() -> None:
    """As text and as CSV; both are the same for the same input."""
    job = hc.load(HARNESSES / "ice-probe" / "jumper.yaml")
    for form in do_no_harm.FORMS:
        page = do_no_harm.render(job, form)
        assert page == do_no_harm.render(hc.load(HARNESSES / "ice-probe" / "jumper.yaml"), form)
        text = page.decode()
        for said in (*CLAIMS.values(), *CAUTIONS, "not known: the capacitance", "TOW REL OPEN"):
            assert said in text, (form, said)
        assert str(Path(__file__).parents[2]) not in text
    rows = list(csv.reader(do_no_harm.render(job, "csv").decode().splitlines()))
    assert {len(row) for row in rows} == {len(do_no_harm.HEADER)}


def test_a_bus_led_through_a_unit_is_said_to_hang_on_its_plug() -> None:
    page = do_no_harm.render(hc.load(HARNESSES / "data-bus" / "jumper.yaml"), "text").decode()
    assert "DATA CAN H runs through A26J1: with that plug off, the aircraft's circuit is open" in page
    assert "resistance inside the unit, A26J1-2/A26J1-4" in page
