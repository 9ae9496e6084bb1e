"""``python -m tests.ringout --whole 500``: every fault of every invented job and of so many random harnesses."""

from __future__ import annotations

import argparse
from collections import Counter

from tests.ringout.compare import compare, invented, random_job
from tests.ringout.staying import compare_staying


def main() -> None:
    """Read the command line."""
    parser = argparse.ArgumentParser(prog="python -m tests.ringout", description=__doc__)
    parser.add_argument("--whole", type=int, default=500, metavar="N", help="number of random harnesses")
    total: Counter[str] = Counter()
    count = parser.parse_args().whole
    jobs = invented()
    for job in jobs:
        total.update(compare(job))
        total.update(compare_staying(job))
    for seed in range(count):
        total.update(compare(random_job(seed)))
        total.update(compare_staying(random_job(seed)))
    print(f"{len(jobs)} invented jobs and {count} random harnesses: coverage as stated")
    for name, number in sorted(total.items()):
        if not name.endswith((" shown", " claimed")):
            print(f"  {name}: {number} cases, {total[f'{name} shown']} shown")


if __name__ == "__main__":
    main()
