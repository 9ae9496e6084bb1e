"""broken-through-circuit against a brute-force oracle, and jumpers that come and go without a trace.

Oracle: ``random_jobs.changes``, a breadth-first search over the text of the job that shares no code with the product.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest
import random_jobs as rj
from hypothesis import given, settings
from hypothesis import strategies as st

import harnesscheck as hc
from harnesscheck.connector import Mate, Origin
from harnesscheck.finding import Report, Severity
from harnesscheck.harness import Harness, Kind
from harnesscheck.place import Place

CHECK = "broken-through-circuit"
EXAMPLES = 1200
"""No miss in 1,200 independent trials would put the miss rate below 0.25 % at 95 % confidence (ln 0.05 / ln(1 - p))."""


def load(job: rj.Job, folder: Path) -> hc.Job:
    """The job by way of its files, as a person gives it."""
    (folder / "airframe.yaml").write_text(rj.airframe_text(job))
    (folder / "kit.yaml").write_text(rj.kit_text(job))
    return hc.load(folder / "kit.yaml")


def answers(job: rj.Job, folder: Path) -> Report:
    return hc.check(load(job, folder), [CHECK])


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("jobs")


def test_finds_exactly_what_changes(folder: Path) -> None:
    seen: Counter[str] = Counter()

    @settings(max_examples=EXAMPLES)
    @given(chance=st.randoms(use_true_random=False), faults=st.integers(0, 3))
    def trial(chance: Random, faults: int) -> None:
        job = rj.draw_job(chance, faults)
        loaded = load(job, folder)
        assert loaded.airframe is not None
        assert {str(p) for p in loaded.airframe.points} == set(rj.points(job))
        changes = rj.changes(job)
        judge(changes, hc.check(loaded, [CHECK]))
        seen.update(["examples", *(f"parted {kind}" for kind in changes.parted)])
        seen.update(f"joined {kind}" for kind in changes.joined)
        seen["unchanged"] += not changes.parted and not changes.joined

    trial()
    assert seen["examples"] >= EXAMPLES
    # A generator that never makes a fault, or never a clean job, would prove nothing.
    often = (
        "unchanged, parted live, parted spare, parted unknown, joined live live, joined live spare, joined live unknown"
    )
    for kind in often.split(", "):
        assert seen[kind] >= 20, (kind, seen)


def judge(changes: rj.Changes, report: Report) -> None:
    """The definition of the check, in terms of pairs of points of the aircraft.

    A live pair that is parted, or joined to anything that is not known to be spare, is STOP or CAUTION and never less;
    spares alone are at most a caution; a parted pair of which nobody has said what it carries is NotChecked.
    """
    # The aircraft may join by itself what the kit leaves apart: no pair changes its state, and the check says so apart.
    detour = [f for f in report.findings if f.headline.startswith("only the aircraft's own wiring keeps ")]
    assert all(f.severity is Severity.CAUTION for f in detour)
    severe = [f for f in report.findings if f.severity is not Severity.NOTE and f not in detour]
    stops = [f for f in report.findings if f.severity is Severity.STOP]
    parted, joined = changes.parted, changes.joined
    heavy = "live" in parted or any("live" in pair or "unknown" in pair for pair in joined)
    assert bool(severe) == heavy, (changes, report.findings)
    if "live" in parted or "live unknown" in joined:
        assert stops, (changes, report.findings)
    if not heavy and not any(k in joined for k in ("live spare", "unknown spare", "unknown unknown")):
        assert not severe
    others = [f for f in report.findings if f not in detour]
    assert bool(others) == bool(heavy or joined or "spare" in parted), (changes, report.findings)
    if "unknown" in parted:
        assert report.not_checked or joined, (changes, report.not_checked)
    if not parted and not joined:
        assert not others
    if heavy:
        assert not report.clear
    # The points that a live change is about are named in the findings.
    for pairs in (
        *(v for k, v in parted.items() if k == "live"),
        *(v for k, v in joined.items() if k != "spare spare"),
    ):
        named = {place.label for f in severe for place in (f.place, *f.others)}
        for pair in pairs:
            assert set(pair) <= named, (pair, severe)


@settings(max_examples=300)
@given(chance=st.randoms(use_true_random=False), faults=st.integers(0, 3))
def test_taking_the_jumper_out_gives_the_aircraft_back(chance: Random, faults: int, folder: Path) -> None:
    job = rj.draw_job(chance, faults)
    loaded = load(job, folder)
    installed, airframe = loaded.subject, loaded.airframe
    assert airframe is not None and installed.before is airframe
    ((one, two),) = installed.opens
    kept = [m for m in installed.mates if {installed.connectors[r].origin for r in m.refs} == {Origin.AIRFRAME}]
    assert frozenset((one, two)) not in {m.refs for m in kept}
    parted = Harness(
        kind=Kind.AIRFRAME,
        title="",
        drawer=installed.drawer,
        connectors={r: c for r, c in installed.connectors.items() if c.origin is Origin.AIRFRAME},
        wires={n: w for n, w in installed.wires.items() if w.origin is Origin.AIRFRAME},
        splices={r: s for r, s in installed.splices.items() if s.origin is Origin.AIRFRAME},
        grounds=installed.grounds,
        breakers=installed.breakers,
        buses=installed.buses,
        mates=(*kept, Mate(one, two, Place("again"))),
    )
    assert partition(parted) == partition(airframe)
    # Independent route: the breadth-first search over the text.
    was = rj.before(job)
    assert partition(airframe) == frozenset(
        frozenset(p for p in rj.points(job) if was.get(p, p) == net) for net in {was.get(p, p) for p in rj.points(job)}
    )


def partition(harness: Harness) -> frozenset[frozenset[str]]:
    return frozenset(frozenset(map(str, net)) for net in harness.nets.members())


@settings(max_examples=250)
@given(chance=st.randoms(use_true_random=False), faults=st.integers(0, 3))
def test_order_direction_and_ids_of_wires_do_not_matter(chance: Random, faults: int, folder: Path) -> None:
    job = rj.draw_job(chance, faults)
    plain = hc.check(load(job, folder))
    renamed = {
        w[0]: f"Z{n}" for n, w in enumerate(chance.sample([*job.wires, *job.kit_wires], len(job.wires + job.kit_wires)))
    }
    changed = replace(job, wires=mixed(job.wires, renamed, chance), kit_wires=mixed(job.kit_wires, renamed, chance))
    back = {new: old for old, new in renamed.items()}
    assert told(hc.check(load(changed, folder)), back) == told(plain, {})


def mixed(wires: list[rj.Wire], renamed: dict[str, str], chance: Random) -> list[rj.Wire]:
    found = [(renamed[n], b, a) if chance.random() < 0.5 else (renamed[n], a, b) for n, a, b in wires]
    chance.shuffle(found)
    return found


def told(report: Report, back: dict[str, str]) -> tuple[object, ...]:
    """What a report says, with the ids translated back, and without the order in which it is said.

    The places of a finding are compared as names: their lines move with the wires.
    """

    def words(text: str) -> tuple[str, ...]:
        return tuple(sorted(back.get(word, word) for word in text.replace(",", " ").replace(":", " ").split()))

    findings = Counter((f.check, f.severity, bool(f.follows)) for f in report.findings)
    labels = Counter(
        (f.check, f.severity, frozenset(back.get(p.label, p.label) for p in (f.place, *f.others)))
        for f in report.findings
    )
    said = Counter((n.check, words(n.place.label), words(n.missing)) for n in report.not_checked)
    passed = {name: sum(p.count for p in group) for name, group in report.passed.items()}
    return findings, labels, said, passed
