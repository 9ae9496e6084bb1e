"""The plan and the coverage that it states, against every fault simulated on the independent model."""

from __future__ import annotations

import tempfile
from collections import Counter
from pathlib import Path
from random import Random

import harnesscheck as hc
from harnesscheck.job import Job
from harnesscheck.ringout.article import article, articles
from harnesscheck.ringout.coverage import coverage
from harnesscheck.ringout.plan import plan
from tests.properties.random_jobs import airframe_text, draw_job, kit_text
from tests.ringout import model

HARNESSES = Path(__file__).parents[2] / "harnesses"
VARIANTS = (("first article", False), ("first article", True), ("field", False), ("field", True))


def random_job(seed: int) -> Job:
    """One of the random jobs: some as they should be, some with up to three random changes of the kit."""
    job = draw_job(Random(seed), seed % 4)
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "airframe.yaml").write_text(airframe_text(job), encoding="utf-8")
        (Path(folder) / "jumper.yaml").write_text(kit_text(job), encoding="utf-8")
        return hc.load(Path(folder) / "jumper.yaml")


def invented() -> list[Job]:
    """Every job under harnesses/ that has something to ring out."""
    files = sorted(HARNESSES.rglob("*.yaml"))
    loaded = [hc.load(f) for f in files if "kind: parts" not in f.read_text(encoding="utf-8")]
    return [job for job in loaded if articles(job)]


def compare(job: Job, variants: tuple[tuple[str, bool], ...] = VARIANTS) -> Counter[str]:
    """Simulate every fault of every article. Returns how many cases of each class; raises ``AssertionError``.

    Every other unit counts as unplugged, so that every reading has a limit. Each case must be refused by some reading,
    or leave the probes joined exactly as they should be, so that no reading whatever could refuse it.
    """
    total: Counter[str] = Counter()
    for name in articles(job):
        under = article(job, name, staying=False)
        copper = model.of(under.harness, under.terminals, name == "bench", job.jumper is None)
        if name == "bench":
            assert job.jumper is not None
            assert set(under.terminals) == model.bench_probes(job.jumper)
        sound = model.parts(copper.graph())
        right = model.at_probes(sound, copper.probes)
        assert {frozenset(net) for net in under.nets} == right
        faulty = [(kind, what, model.parts(graph)) for kind, what, graph in model.cases(copper)]
        hidden = [model.at_probes(part, copper.probes) == right for _, _, part in faulty]
        for mode, tied in variants:
            made = plan(under, mode, tied)
            assert len({r.id for r in made.readings}) == len(made.readings)
            terminals, nets = len(under.terminals), len(under.nets)
            through, apart = made.of_kind("continuity"), made.of_kind("isolation")
            if mode == "first article":
                assert len(through) == terminals - nets
            assert len(apart) == (_bits(nets) if tied else max(0, nets - 1))
            readings = [(r.kind, r.a, r.b) for r in made.readings if r.judged]
            assert len(readings) == len(made.readings)
            assert not model.refused(sound, readings), "a sound harness is refused"
            stated = coverage(made)
            counted: Counter[str] = Counter()
            seen: Counter[str] = Counter()
            for (kind, what, part), nothing in zip(faulty, hidden, strict=True):
                shown = model.refused(part, readings)
                if mode == "first article":
                    assert shown != nothing, f"{name}, {mode}: {kind} {what}"
                assert not (shown and nothing), f"{name}, {mode}: {kind} {what} is refused though nothing changed"
                counted[kind] += 1
                seen[kind] += shown
            for kind, found in stated.items():
                if kind == "mirror":
                    continue  # the sheet tries every face in the drawer, this model those of D-sub rows
                mine = (counted[kind], seen[kind])
                assert (found.cases, found.seen) == mine, f"{name}, {mode}, bussed {tied}: {kind}, {found} not {mine}"
                assert sum(len(names) for names in found.unseen.values()) == found.cases - found.seen
                if mode == "first article":
                    assert found.seen == found.visible, f"{name}: {kind}"
            for kind, count in counted.items():
                total[f"{mode} {kind}"] += count
                total[f"{mode} {kind} shown"] += seen[kind]
    return total


def _bits(nets: int) -> int:
    """The least b with 2**b >= nets, counted up."""
    bits = 0
    while 2**bits < nets:
        bits += 1
    return bits
