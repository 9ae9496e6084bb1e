"""``python -m tests.trouble --whole 200``: every single fault of so many random harnesses, found from its readings."""

from __future__ import annotations

import argparse
import time

from tests.trouble.run import Score, whole


def main() -> None:
    """Read the command line."""
    parser = argparse.ArgumentParser(prog="python -m tests.trouble", description=__doc__)
    parser.add_argument("--whole", type=int, default=8, metavar="N", help="random harnesses")
    parser.add_argument("--faults", type=int, metavar="K", help="only K faults of each, drawn at random; default: all")
    parser.add_argument("--sizes", type=int, nargs="+", default=[0, 1], help="sizes of the corpus, 0 to 2")
    said = parser.parse_args()
    total, start = Score(), time.monotonic()
    for number in range(said.whole):
        total.add(whole(number, said.faults, tuple(said.sizes)))
        if number % 10 == 9:
            print(f"{number + 1} harnesses, {time.monotonic() - start:.0f} s: {total}", flush=True)
    print(total)
    for kind, count in total.kinds.most_common():
        print(f"  {count:6} {kind}")
    for line in (*total.misses[:60], *total.coarse[:20]):
        print(" ", line)


if __name__ == "__main__":
    main()
