"""One job through the proof, the oracle and the re-checker; and the random jobs that the runs are made of."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from random import Random

import harnesscheck as hc
from harnesscheck import recheck
from harnesscheck.proof.evidence import as_json, evidence
from harnesscheck.proof.statement import Statement, statement
from tests.corpus import faults
from tests.corpus import run as corpus
from tests.corpus.topologies import TOPOLOGIES
from tests.proof.oracle import Oracle

COPPER = ("nets", "ways", "taps")
ROOM = "/dev/shm" if Path("/dev/shm").is_dir() else None


@dataclass(frozen=True)
class Outcome:
    """What became of one job."""

    name: str
    holds: bool
    claims: dict[str, bool | None]
    wrong: tuple[str, ...]
    """Where proof, oracle and re-checker differ; empty when they agree."""


def judge(name: str, file: Path, proven: Statement | None = None) -> Outcome:
    """One job folder. Raises ``InputError`` when the job cannot be read."""
    proven = proven or statement(hc.load(file))
    wrong = []
    said = {claim: proven.claims[claim] for claim in COPPER}
    if said != (expected := Oracle(file).claims):
        wrong.append(f"proof {said}, oracle {expected}")
    if proven.holds == bool(proven.against):
        wrong.append(f"holds {proven.holds}, and against it: {proven.against}")
    try:
        found = recheck.Recheck(json.loads(as_json(evidence(proven))))
        if (found.verdict()[0] == 0) != proven.holds:
            wrong.append("the re-checker's verdict is another one")
    except recheck.RefusedError as refused:
        wrong.append(f"re-checker: {refused}")
    return Outcome(name, proven.holds, proven.claims, tuple(wrong))


@contextmanager
def folder(texts: dict[str, str]) -> Iterator[Path]:
    """A job as files, in memory where the system has room for that."""
    with tempfile.TemporaryDirectory(dir=ROOM) as name:
        for file, text in texts.items():
            (Path(name) / file).write_text(text, encoding="utf-8")
        yield Path(name) / "jumper.yaml"


def drawn(number: int) -> tuple[str, dict[str, str], str]:
    """Job ``number``: its name, its files, and the fault in it (empty for a clean one, which every third is)."""
    rng = Random(f"proof {number}")
    while True:
        job = corpus.job_of(rng.choice(list(TOPOLOGIES)), rng.choice((0, 0, 1, 2)), rng.randrange(60))
        if number % 3 == 0:
            return job.name, job.texts(), ""
        fault = rng.choice(sorted(faults.every()))
        seeded = faults.seed(fault, job)
        if seeded is not None:
            return f"{job.name} with {fault}", seeded.job.texts(), seeded.check


def one(number: int) -> tuple[Outcome | None, str]:
    """A random job judged, with the check that must catch its fault; None when the job cannot be read."""
    name, texts, check = drawn(number)
    with folder(texts) as file:
        try:
            return judge(name, file), check
        except hc.InputError:
            return None, check


BREAKS = frozenset(
    {
        "swap-at-trunk", "swap-supply-with-signal", "swap-conductors-of-a-pair", "rotate-three", "drop-through-wire",
        "drop-half-of-a-trunk", "short-by-a-bridge", "short-of-supply-to-ground", "trunk-into-wrong-splice",
        "straight-wire-into-splice", "wire-back-into-the-same-half", "mirrored-connector", "shifted-connector",
        "ribbon-connector", "shield-of-a-trunk-cable-not-wired", "returns-of-one-stud-exchanged",
    }
)  # fmt: skip
"""Faults of the corpus that, by their own description, part, cross or join circuits of the aircraft."""


def whole(count: int, first: int = 0) -> tuple[dict[str, int], list[str]]:
    """Many random jobs: counts of what was seen, and every disagreement."""
    seen = dict.fromkeys(("jobs", "clean", "clean proven", "faulty", "copper faults", "refused input", "holds"), 0)
    wrong: list[str] = []
    for number in range(first, first + count):
        outcome, check = one(number)
        seen["jobs"] += 1
        if outcome is None:
            seen["refused input"] += 1
            continue
        wrong += [f"{number} {outcome.name}: {line}" for line in outcome.wrong]
        seen["holds"] += outcome.holds
        seen["faulty" if check else "clean"] += 1
        if not check:
            seen["clean proven"] += outcome.holds
            if not outcome.holds:
                wrong.append(f"{number} {outcome.name}: a clean job is not proven")
        if outcome.name.partition(" with ")[2] in BREAKS:
            seen["copper faults"] += 1
            if outcome.claims["nets"] and outcome.claims["ways"]:
                wrong.append(f"{number} {outcome.name}: a broken circuit is called whole")
    return seen, wrong
