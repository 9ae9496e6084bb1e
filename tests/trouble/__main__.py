"""``python -m tests.trouble --whole 200``: every single fault of so many random harnesses, found from its readings.

``--ask 18`` instead: how many readings are asked for until it is found, against log2 of the suspects, and 2.
"""

from __future__ import annotations

import argparse
import time
from pathlib import Path

from harnesscheck import load
from tests.trouble.asking import asked
from tests.trouble.run import Score, of_job, whole

HARNESSES = Path(__file__).parents[2] / "harnesses"


def ask(count: int, runs: int, sizes: tuple[int, ...]) -> None:
    """Print readings asked for, with faults drawn by their weights, and with every class as often as any other."""
    for even in (False, True):
        found = [one for number in range(count) if (one := asked(number, runs, sizes, even)) is not None]
        over = sum(one.readings - one.bound for one in found) / len(found)
        within = sum(one.readings <= one.bound for one in found)
        print(
            f"{'all classes alike' if even else 'faults by weight'}: {within} of {len(found)} harnesses within the "
            f"bound, on average {over:+.2f} readings from it; true fault named first "
            f"{sum(one.found for one in found) / len(found):.1%}",
            flush=True,
        )


def main() -> None:
    """Read the command line."""
    parser = argparse.ArgumentParser(prog="python -m tests.trouble", description=__doc__)
    parser.add_argument("--whole", type=int, default=8, metavar="N", help="random harnesses")
    parser.add_argument("--faults", type=int, metavar="K", help="only K faults of each, drawn at random; default: all")
    parser.add_argument("--sizes", type=int, nargs="+", default=[0, 1], help="sizes of the corpus, 0 to 2")
    parser.add_argument("--article", default="bench", choices=("bench", "installed", "aircraft"), help="what is read")
    parser.add_argument("--jobs", action="store_true", help="the invented jobs under harnesses/ instead")
    parser.add_argument("--first", type=int, default=0, metavar="N", help="number of the first, to go on from there")
    parser.add_argument("--ask", type=int, metavar="N", help="ask for one reading after the other in N harnesses")
    said = parser.parse_args()
    if said.ask:
        ask(said.ask, said.faults or 10, tuple(said.sizes))
        return
    total, start = Score(), time.monotonic()
    for path in sorted(HARNESSES.glob("*/jumper.yaml")) if said.jobs else ():
        total.add(of_job(path.parent.name, load(path), said.faults, said.article))
    for number in range(said.first, said.first + (0 if said.jobs else said.whole)):
        total.add(whole(number, said.faults, tuple(said.sizes), said.article))
        if number % 10 == 9:
            print(f"to number {number}, {time.monotonic() - start:.0f} s: {total}", flush=True)
    print(total)
    for kind, count in total.kinds.most_common():
        print(f"  {count:6} {kind}")
    for line in (*total.misses[:60], *total.coarse[:20]):
        print(" ", line)


if __name__ == "__main__":
    main()
