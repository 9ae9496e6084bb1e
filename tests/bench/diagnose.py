"""``python tests/bench/diagnose.py``: all single faults of harnesses of about 100 nets, predicted and ranked.

The bound is 2 s from the job in memory to the answer. Prints seconds of this machine; only the ratios carry over.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from harnesscheck.ringout.article import article
from harnesscheck.trouble.desk import desk
from harnesscheck.trouble.predict import OPEN
from harnesscheck.trouble.rank import Taken
from tests.corpus import topologies


def main() -> None:
    """Two shapes: lines led straight through, and every line tapped three times."""
    for topology, size, seed in (("straight", 2, 1), ("multi-branch", 2, 1), ("dense", 1, 1), ("dense", 2, 1)):
        job = topologies.clean(topology, size, seed).load()
        nets = len(article(job, "bench").nets)
        start, cpu = time.perf_counter(), time.process_time()
        here = desk(job, "bench")
        for number, reading in enumerate(here.readings):
            good = OPEN if reading.kind == "isolation" else 0.1
            here.taken.append(Taken(number, OPEN if number == 3 else good))
        ranking = here.rank()
        ranked = time.process_time() - cpu
        question = here.asker.next(ranking, here.taken)
        print(
            f"{topology}/{size}: {nets} nets, {len(job.jumper.wires) if job.jumper else 0} wires, {len(here.troubles)} "
            f"faults, {len(here.readings)} readings: ranked in {ranked:.2f} s, with the next reading "
            f"{time.process_time() - cpu:.2f} s of processor time, {time.perf_counter() - start:.2f} s by the clock; "
            f"first: {ranking.suspects[0].troubles[0][0].says}; next: {'yes' if question else 'none'}"
        )


if __name__ == "__main__":
    main()
