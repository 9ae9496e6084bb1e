"""Fuzzing in one process: random cases, what is new kept to go on from, what breaks made small and kept."""

from __future__ import annotations

import gc
import random
import re
import resource
import time
from collections import Counter
from dataclasses import replace
from pathlib import Path

from tests.fuzz import mutate
from tests.fuzz.case import Answer, Case, run
from tests.fuzz.readers import READERS, WEIGHTS

MEGABYTES = 768
"""Memory that a run may take above what the loaded program has, MB, common practice."""
POOL = 150
"""Cases of a reader that are kept to go on from."""


def limit_memory() -> None:
    """Memory above what is taken now and ``MEGABYTES`` is refused to this process, and shows as a crash.

    What counts is memory that is written to; address space that libraries only set aside does not.
    """
    status = Path("/proc/self/status").read_text()
    taken = int(status.partition("VmData:")[2].split()[0]) * 1024
    most = taken + MEGABYTES * 2**20
    resource.setrlimit(resource.RLIMIT_DATA, (most, most))


class Fuzz:
    """Fuzz the named readers; ``folder`` is scratch, failures go to ``out`` (None: nowhere)."""

    def __init__(self, readers: list[str], seed: int, folder: Path, out: Path | None) -> None:
        self.rng = random.Random(seed)
        self.readers = readers
        self.folder, self.out = folder, out
        self.ran: Counter[str] = Counter()
        self.statuses: Counter[int] = Counter()
        self.seen: set[str] = set()
        self.pool: dict[str, list[Case]] = {name: [] for name in readers}
        self.failures: dict[str, Case] = {}

    def case(self, name: str) -> Case:
        """A new case of a reader, or one more slip in a case that showed something new."""
        pool = self.pool[name]
        if not pool or self.rng.random() < 0.6:
            return READERS[name](self.rng)
        old = self.rng.choice(pool)
        if not old.files:
            return READERS[name](self.rng)
        file = self.rng.choice(sorted(old.files))
        data = old.files[file]
        if file.endswith((".xlsx", ".ods")):
            try:
                data = mutate.archive(self.rng, data)
            except Exception:  # an archive too broken to be opened: its bytes can still be spoilt
                data = mutate.raw(self.rng, data)
        else:
            data = mutate.text(self.rng, data.decode("utf-8", "replace")).encode("utf-8", "replace")
        return replace(old, files={**old.files, file: data})

    def step(self) -> None:
        """One case."""
        weights = [WEIGHTS.get(name, 2) for name in self.readers]
        name = self.rng.choices(self.readers, weights)[0]
        case = self.case(name)
        if self.out is not None:
            (self.out / "running.json").write_text(case.as_json(), "utf-8")
        if sum(self.ran.values()) % 25 == 0:
            gc.collect()  # a command expects to be the only one of its process and leaves this to its end
        answer = run(case, self.folder, twice=self.rng.random() < 0.05)
        self.ran[name] += 1
        self.statuses[answer.status] += 1
        if answer.wrong:
            self.failed(case, answer)
        new = {f"{name} {shape}" for shape in answer.shapes} - self.seen
        if new:
            self.seen |= new
            self.pool[name] = [*self.pool[name], case][-POOL:]

    def failed(self, case: Case, answer: Answer) -> None:
        """Keep the first case of each failure, made small."""
        key = kind(answer.wrong)
        if key in self.failures:
            return
        self.failures[key] = case
        small = smaller(case, key, self.folder)
        self.failures[key] = small
        if self.out is not None:
            path = self.out / f"{case.reader}-{small.name}.json"
            path.write_text(small.as_json(), "utf-8")
            print(f"{time.strftime('%H:%M:%S')} {path.name}: {answer.wrong[:300]}", flush=True)


def kind(wrong: str) -> str:
    """The same for the same failure."""
    said = re.sub(r"'[^']*'|0x[0-9a-f]+", "", wrong)
    where = re.search(r"in (\w+\.py) line (\d+)", said)
    return f"{said.split(':')[0]} {where[0]}" if where else re.sub(r"\d+", "", said)[:60]


def smaller(case: Case, key: str, folder: Path, most: int = 120) -> Case:
    """The case with as few lines as still fail the same way, within so many runs."""
    tries = 0
    for name in sorted(case.files):
        if name.endswith((".xlsx", ".ods")):
            continue
        size = max(1, len(case.files[name].split(b"\n")) // 2)
        while size and tries < most:
            lines, at, shorter = case.files[name].split(b"\n"), 0, False
            while at < len(lines) and tries < most:
                trial = replace(case, files={**case.files, name: b"\n".join(lines[:at] + lines[at + size :])})
                tries += 1
                wrong = run(trial, folder).wrong
                if wrong and kind(wrong) == key:
                    case, lines, shorter = trial, trial.files[name].split(b"\n"), True
                else:
                    at += size
            size = size if shorter and size == 1 else size // 2
    return case
