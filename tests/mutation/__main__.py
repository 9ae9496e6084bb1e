"""Mutation testing: ``python -m tests.mutation [PACKAGE...] [--sample N --seed S] [--jobs N]``.

Packages: path (from a finding to the exit status), checks, formulas, jumper, trouble, readers. Without ``--sample``
every mutant is tried. Ends with status 1 when a rate is below what is demanded: 100 % on the path, 90 % elsewhere; with
``--sample`` the rate is that of the sample, and the Wilson 95 % lower bound of the rate of all is printed.
"""

from __future__ import annotations

import argparse
import hashlib
import math
import os
import pickle
import random
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from tests.mutation import packages, running, survivors
from tests.mutation.mutants import Mutant, mutants
from tests.mutation.packages import ROOT
from tests.mutation.running import Outcome, Reach

CACHE = ROOT / ".mutation"
KEPT = 24 * 3600.0
"""Seconds after which a record that nobody asked for goes."""
DEMANDED = {"path": 1.0}
Z = 1.959964
"""Two-sided 95 % of the normal distribution (NIST/SEMATECH e-Handbook, section 1.3.6.7.1)."""


def wilson(good: int, of: int) -> float:
    """Lower bound of a proportion with 95 % confidence (Wilson 1927; NIST/SEMATECH e-Handbook, section 7.2.4.1)."""
    if not of:
        return 0.0
    p = good / of
    middle = p + Z * Z / (2 * of)
    spread = Z * math.sqrt(p * (1 - p) / of + Z * Z / (4 * of * of))
    return (middle - spread) / (1 + Z * Z / of)


def every(name: str) -> list[Mutant]:
    """All mutants of a package."""
    found = []
    for file, functions in packages.files(name).items():
        for mutant in mutants(ROOT, file):
            if functions is None or mutant.within.partition(".")[0] in functions:
                found.append(mutant)
    return found


def reach(name: str, jobs: int = 1) -> Reach:
    """What the package's tests reach; a file of tests is run again when it, or what all tests rest on, has changed."""
    CACHE.mkdir(exist_ok=True)
    for old in CACHE.glob("*.reach"):
        if time.time() - old.stat().st_mtime > KEPT:
            old.unlink()
    kept = {test: CACHE / f"{name}-{digest}.reach" for test, digest in _digests(name)}
    _recorded(name, [test for test, file in kept.items() if not file.is_file()], kept, jobs)
    whole = Reach()
    for file in kept.values():
        whole.add(pickle.loads(file.read_bytes()))
        os.utime(file)
    return whole


def _digests(name: str) -> Iterator[tuple[str, str]]:
    """Each file of tests with a number of all it rests on: the program, helpers of the tests, the data beside it."""
    ground = hashlib.sha256(name.encode())
    helpers = [file for file in (ROOT / "tests").rglob("*.py") if not file.name.startswith("test_")]
    for file in sorted([*(ROOT / "harnesscheck").rglob("*.py"), *helpers]):
        ground.update(file.read_bytes())
    for test in packages.test_files(name):
        own = ground.copy()
        own.update(test.encode())
        place = ROOT / test
        beside = [*place.parent.iterdir(), *(ROOT / "tests" / "checks").glob("*.md")] if place.is_file() else []
        for file in sorted(one for one in beside if one == place or one.suffix in (".yaml", ".md", ".csv")):
            own.update(file.read_bytes())
        yield test, own.hexdigest()[:16]


def _recorded(name: str, tests: list[str], kept: dict[str, Path], jobs: int) -> None:
    """Run these files of tests once, dealt out to so many processes. Raises ``SystemExit`` when one of them fails."""
    children = []
    for number in range(min(jobs, len(tests))):
        child = os.fork()
        if child == 0:
            status = 1
            try:
                mine = tests[number::jobs]
                found = running.record(ROOT, mine, packages.files(name))
                for test in mine:
                    new = kept[test].with_suffix(f".{os.getpid()}")
                    new.write_bytes(pickle.dumps(found.only(test)))
                    new.replace(kept[test])
                status = 0
            except RuntimeError as error:
                print(error, file=sys.stderr)
            finally:
                sys.stderr.flush()
                os._exit(status)
        children.append(child)
    if [child for child in children if running.ended(child)]:
        raise SystemExit(f"{name}: the tests do not pass without a change")


def _share(found: Reach, chosen: list[Mutant], seconds: float, record: Path, until: float) -> None:
    """Try mutants in this process, which ends with it."""
    import pytest

    with record.open("w", encoding="utf-8") as out:

        def done(outcome: Outcome) -> None:
            out.write(outcome.row() + "\n")
            out.flush()

        order = running.Order(found)
        warm = [m for m in chosen if not m.anew]
        for mutant in (m for m in chosen if m.anew and time.monotonic() < until):
            tests, of = order.of(mutant, seconds / 2)
            outcome = running.cold(ROOT, mutant, tests, of, sum(found.seconds[t] for t in tests))
            order.note(outcome)
            done(outcome)
        if warm:
            needed = {test for m in warm for test in found.tests(m)}
            files = sorted({test.partition("::")[0] for test in needed})
            loop = running.Loop(ROOT, found, warm, seconds, done, until)
            pytest.main([*running.quiet(), *files], plugins=[loop])


def tried(name: str, chosen: list[Mutant], seconds: float, jobs: int, minutes: float) -> Iterator[Outcome]:
    """What became of each mutant."""
    import json

    found = reach(name, jobs)
    until = time.monotonic() + minutes * 60
    children = []
    for number in range(jobs):
        record = CACHE / f"{name}-{os.getpid()}-{number}.jsonl"
        record.unlink(missing_ok=True)
        child = os.fork()
        if child == 0:
            try:
                null = os.open(os.devnull, os.O_WRONLY)
                os.dup2(null, 1)
                _share(found, chosen[number::jobs], seconds, record, until)
            finally:
                os._exit(0)
        children.append((child, record))
    for child, record in children:
        running.ended(child)
        for line in record.read_text(encoding="utf-8").splitlines():
            row = json.loads(line)
            yield Outcome(Mutant(**row.pop("mutant")), **row)
        record.unlink()


def tell(name: str, outcomes: list[Outcome], of: int, sampled: bool) -> bool:
    """Print the survivors and the rates. Returns whether they are as demanded."""
    known = survivors.listed()
    left = sorted((o for o in outcomes if not o.killed), key=lambda o: (o.mutant.file, o.mutant.line))
    excused = [o for o in left if any(s.fits(o.mutant) for s in known)]
    open_ones = [o for o in left if o not in excused]
    for outcome in open_ones:
        how = outcome.by or (f"{outcome.tests} of {outcome.of} tests" if outcome.tests < outcome.of else "all tests")
        print(f"survives ({how}): {outcome.mutant}")
    killed, counted = len(outcomes) - len(left), len(outcomes) - len(excused)
    raw = killed / len(outcomes) if outcomes else 0.0
    rate = killed / counted if counted else 0.0
    demanded = DEMANDED.get(name, 0.9)
    size = f"a sample of {len(outcomes)} of {of}" if sampled else f"all {of}"
    print(
        f"{name}: {size} mutants, {killed} killed, {len(open_ones)} survive, {len(excused)} listed with reasons; "
        f"killed {rate:.1%} (raw {raw:.1%})"
        + (f", with 95 % confidence at least {wilson(killed, counted):.1%} of all" if sampled else "")
        + f"; demanded {demanded:.0%}",
        flush=True,
    )
    return rate >= demanded


def main() -> int:
    """Read the command line. Returns the exit status."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("packages", nargs="*", metavar="PACKAGE", help=f"of {', '.join(packages.PACKAGES)}")
    parser.add_argument("--sample", type=int, help="so many mutants of each package, drawn at random")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=8.0, help="CPU seconds of tests for one mutant at the most")
    parser.add_argument("--minutes", type=float, help="with --sample: what has been tried then is the sample")
    parser.add_argument("--file", help="only mutants of files with this in their name")
    said = parser.parse_args()
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    os.chdir(ROOT)
    good = True
    for name in said.packages or packages.PACKAGES:
        start = time.monotonic()
        all_of_it = [m for m in every(name) if not said.file or said.file in m.file]
        chosen = all_of_it
        if said.sample and said.sample < len(all_of_it):
            chosen = random.Random(said.seed).sample(all_of_it, said.sample)
        outcomes = list(tried(name, chosen, said.seconds, said.jobs, said.minutes or math.inf))
        missing = 0 if said.minutes and chosen is not all_of_it else len(chosen) - len(outcomes)
        good = tell(name, outcomes, len(all_of_it), len(outcomes) < len(all_of_it)) and not missing and good
        if missing:
            print(f"{name}: {missing} mutants were not tried, the run broke off")
        print(f"  {time.monotonic() - start:.0f} s", flush=True)
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
