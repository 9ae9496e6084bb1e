"""``python -m tests.corpus``: show one job of the corpus, or run all of it (``--whole``)."""

from __future__ import annotations

import argparse
import sys

import harnesscheck as hc
from tests.corpus import faults, run


def show(name: str, path: str, files: bool) -> None:
    """Print what the checks say of one job."""
    topology, size, number = path.split("/")
    job = run.job_of(topology, int(size), int(number))
    if name != "clean":
        seeded = faults.seed(name, job)
        if seeded is None:
            sys.exit(f"{name} has no place in {path}")
        job = seeded.job
        print(f"expected: {seeded.check} at one of {', '.join(seeded.names[:8])}")
    if files:
        for file, text in job.texts().items():
            print(f"# {file}\n{text}")
    report = hc.check(job.load())
    for f in report.findings:
        tail = f" [follows {f.follows}]" if f.follows else " [waived]" if f.waived else ""
        print(f"{f.severity.word if f.severity else ''} {f.check}: {f.headline} ({f.place.label}){tail}")
    for n in report.not_checked:
        print(f"NOT CHECKED {n.check} {n.place.label}: {n.missing}")


def main() -> None:
    """Read the command line."""
    parser = argparse.ArgumentParser(prog="python -m tests.corpus", description=__doc__)
    parser.add_argument("--show", nargs=2, metavar=("FAULT", "JOB"), help="for example: swap-at-trunk can-shield/0/1")
    parser.add_argument("--files", action="store_true", help="with --show: the files as well")
    parser.add_argument("--whole", action="store_true", help="every fault, topology and seed; some minutes")
    parser.add_argument("--seeds", type=int, default=10)
    parser.add_argument("--clean", type=int, default=1000, help="number of clean jobs")
    parser.add_argument("--pairs", type=int, default=300, help="number of pairs of faults")
    parser.add_argument("--missing", type=int, metavar="N", help="take away N values of each kind in some jobs")
    said = parser.parse_args()
    if said.show:
        show(said.show[0], said.show[1], said.files)
    elif said.whole:
        from tests.corpus.whole import whole

        sys.exit(whole(said.seeds, said.clean, said.pairs))
    elif said.missing:
        from tests.corpus.missing import report

        sys.exit(report(said.missing))
    else:
        parser.print_help()


if __name__ == "__main__":
    main()
