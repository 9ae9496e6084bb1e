"""``python -m tests.proof --whole 2000``: the proof against its oracle and the re-checker, over random jobs.

``--folders DIR`` takes every folder below DIR that holds a jumper.yaml instead, such as planned jumpers.
"""

from __future__ import annotations

import argparse
import sys
import time
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import harnesscheck as hc
from tests.proof import run


def folders(root: Path) -> int:
    """Every job below a folder. Returns the exit status."""
    found, wrong = 0, []
    for file in sorted(root.rglob("jumper.yaml")):
        try:
            outcome = run.judge(str(file.parent), file)
        except hc.InputError as error:
            print(f"{file}: {str(error).splitlines()[0]}")
            continue
        found += 1
        wrong += [f"{outcome.name}: {line}" for line in outcome.wrong]
        if not outcome.holds:
            print(f"{outcome.name}: no proof: {outcome.claims}")
    print(f"{found} jobs, {len(wrong)} disagreements", *wrong[:40], sep="\n")
    return 1 if wrong else 0


def main() -> int:
    """Read the command line."""
    parser = argparse.ArgumentParser(prog="python -m tests.proof", description=__doc__)
    parser.add_argument("--whole", type=int, default=2000, metavar="N", help="random jobs (default: 2000)")
    parser.add_argument("--first", type=int, default=0, help="number of the first of them")
    parser.add_argument("--folders", type=Path, metavar="DIR")
    parser.add_argument("--processes", type=int, default=1)
    said = parser.parse_args()
    if said.folders:
        return folders(said.folders)
    started, share = time.monotonic(), 50
    starts = list(range(said.first, said.first + said.whole, share))
    counts = [min(share, said.first + said.whole - start) for start in starts]
    seen: dict[str, int] = {}
    wrong: list[str] = []
    with ProcessPoolExecutor(said.processes) as pool:
        for some, bad in pool.map(run.whole, counts, starts):
            wrong += bad
            seen = {key: seen.get(key, 0) + value for key, value in some.items()}
    print(f"{seen} in {time.monotonic() - started:.0f} s; {len(wrong)} disagreements")
    print("\n".join(wrong[:40]))
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
