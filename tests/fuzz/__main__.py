"""``python -m tests.fuzz [READER...] --minutes N``: spoil inputs and look what the program makes of them, for hours.

Readers: job, paths, tap, format, found, parts, lists, maps, exported, readings, diagnose, symptoms, previous, evidence,
pack, command; none named: all. Every input must give a result, or faults with place and remedy, exit 2 and nothing
written; within ten seconds and a set amount of memory. What fails is made small and kept in ``--out``; put it into
``tests/fuzz/corpus/`` with the cure. ``--again FILE...`` runs kept cases. Ends with status 1 when anything failed.
"""

from __future__ import annotations

import argparse
import faulthandler
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.fuzz.case import kept, run
from tests.fuzz.readers import READERS

HUNG = 300.0
"""Wall seconds after which a run that no signal can end is given up."""


def main() -> int:
    """Read the command line. Returns the exit status."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    parser.add_argument("readers", nargs="*", metavar="READER", help=f"one of: {', '.join(READERS)}")
    parser.add_argument("--minutes", type=float, default=1.0, help="CPU minutes")
    parser.add_argument("--seed", type=int, help="default: another one each time")
    parser.add_argument("--out", type=Path, help="folder for what fails (default: a new one)")
    parser.add_argument("--again", nargs="+", type=Path, metavar="FILE", help="run these cases and show their answers")
    parser.add_argument("--inside", action="store_true", help=argparse.SUPPRESS)
    said = parser.parse_args()
    if strange := sorted(set(said.readers) - set(READERS)):
        parser.error(f"no reader {', '.join(strange)}; there are: {', '.join(READERS)}")
    if said.again:
        return again(said.again)
    out = said.out or Path(tempfile.mkdtemp(prefix="fuzz-"))
    out.mkdir(parents=True, exist_ok=True)
    seed = time.time_ns() % 10**9 if said.seed is None else said.seed
    if said.inside:
        return inside(said.readers or list(READERS), said.minutes, seed, out)
    return outside(said.readers, said.minutes, seed, out)


def again(files: list[Path]) -> int:
    """Run kept cases."""
    bad = 0
    with tempfile.TemporaryDirectory() as folder:
        for file in files:
            answer = run(kept(file), Path(folder, "job"), twice=True)
            bad += bool(answer.wrong)
            print(f"{file.name}: status {answer.status}: {answer.wrong or 'nothing wrong'}\n{answer.err[:2000]}")
    return int(bad > 0)


def outside(readers: list[str], minutes: float, seed: int, out: Path) -> int:
    """Start a process, and another where one dies, until the time is used up; a case that killed one is kept."""
    left, bad = minutes, 0
    while left > 0:
        argv = [
            "-m",
            "tests.fuzz",
            *readers,
            "--inside",
            "--minutes",
            f"{left:.3f}",
            "--seed",
            str(seed),
            "--out",
            str(out),
        ]
        start = time.time()
        status = subprocess.run([sys.executable, *argv], check=False).returncode
        if status in (0, 1):
            return int(bad > 0 or status == 1)
        killer = out / f"killed-{seed}.json"
        shutil.copy(out / "running.json", killer)
        print(f"the process died with status {status} on {killer.name}", flush=True)
        bad, seed = bad + 1, seed + 1
        left -= (time.time() - start) / 60
    return 1


def inside(readers: list[str], minutes: float, seed: int, out: Path) -> int:
    """Fuzz in this process until so much CPU time is used."""
    from tests.fuzz.run import Fuzz, limit_memory

    with tempfile.TemporaryDirectory() as scratch:
        fuzz = Fuzz(readers, seed, Path(scratch, "job"), out)
        for name in readers:  # loads what the commands load, before memory is limited
            run(READERS[name](fuzz.rng), fuzz.folder)
        limit_memory()
        print(f"seed {seed}, failures go to {out}", flush=True)
        told = start = time.process_time()
        while time.process_time() - start < minutes * 60:
            faulthandler.dump_traceback_later(HUNG, exit=True)
            fuzz.step()
            if time.process_time() - told > 60:
                told = time.process_time()
                print(f"{(told - start) / 60:.1f} min CPU: {summary(fuzz)}", flush=True)
        faulthandler.cancel_dump_traceback_later()
        print(summary(fuzz), flush=True)
        return int(bool(fuzz.failures))


def summary(fuzz: object) -> str:
    """Figures of a run in one line."""
    from tests.fuzz.run import Fuzz

    assert isinstance(fuzz, Fuzz)
    by = ", ".join(f"{name} {count}" for name, count in sorted(fuzz.ran.items()))
    exits = ", ".join(f"exit {status}: {count}" for status, count in sorted(fuzz.statuses.items()))
    return f"{sum(fuzz.ran.values())} runs ({by}); {exits}; {len(fuzz.seen)} shapes; {len(fuzz.failures)} failures"


if __name__ == "__main__":
    sys.exit(main())
