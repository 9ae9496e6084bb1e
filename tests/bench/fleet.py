"""How near ``harnesscheck fleet`` comes to ideal scaling over two processes.

Run it by hand from the checkout; pytest does not collect it::

    python tests/bench/fleet.py                  # 10,000 aircraft, one process and two
    python tests/bench/fleet.py --aircraft 1000  # a quicker look
    python tests/bench/fleet.py --chunks         # other chunk sizes as well, on a tenth of the aircraft

The aircraft are as-found files of the demo's type, drawn with a fixed seed: most have a measured length or a load that
does not matter, some a way that is too long, another plug, an unknown length or a slip of the keyboard.

The ideal is half of what one process takes for the same work; the target is 1.3 times that. It is printed twice:

* by the wall clock, which is right on a machine that nobody else uses;
* by processor time, which waiting for others does not lengthen: what the caller spends, and after it the worker that
  spends most, with starting and importing. That is the longest chain of work, as if the two never overlapped.

The share of the processors that the workers got is printed beside them: far below 100 % the machine was busy, and the
ratio by the wall says how busy. Exit status 1 when both ratios are above 1.3.
"""

from __future__ import annotations

import argparse
import os
import shutil
import sys
import tempfile
import time
from collections.abc import Callable
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context
from pathlib import Path
from random import Random
from typing import Any

from harnesscheck import fleet
from harnesscheck.fleet.working import CHUNK

DEMO = Path(__file__).parents[2] / "harnesses" / "ice-probe"
TARGET = 1.3
"""Wall time over ideal time, the project's own target."""
KINDS: tuple[tuple[int, Callable[[Random], str]], ...] = (
    (30, lambda rng: ""),
    (40, lambda rng: f"wires: {{P107A20: {{length: {rng.randint(2300, 2900)} mm}}}}\n"),
    (15, lambda rng: f"loads: {{RADIO: {{current: 1.{rng.randint(10, 99)} A}}}}\n"),
    (8, lambda rng: f"routes: {{leading edge run: {{length: {rng.randint(415, 480)} mm}}}}\n"),
    (3, lambda rng: "connectors: {P14: {part: M24308/4-3}}\n"),
    (3, lambda rng: "wires: {P107A20: {length: unknown}}\n"),
    (1, lambda rng: "wires: {P107A02: {length: 2 m}}\n"),
)
"""Share of the fleet in percent, and what such an as-found file says."""


def lay_out(folder: Path, count: int) -> list[Path]:
    """Write the demo's kit and ``count`` as-found files; returns their paths."""
    rng = Random(20261120)
    for file in DEMO.glob("*.yaml"):
        shutil.copy(file, folder)
    (folder / "aircraft").mkdir()
    weights, makers = [weight for weight, _ in KINDS], [make for _, make in KINDS]
    files = []
    for number in range(count):
        (make,) = rng.choices(makers, weights)
        path = folder / "aircraft" / f"LN-{number:05}.yaml"
        head = f"kind: as-found\nairframe: ../airframe.yaml\naircraft: LN-{number:05}\nby: bench\ndate: 2026-11-20\n"
        path.write_text(head + make(rng))
        files.append(path)
    return files


def clocked(function: Callable[..., Any], *given: Any) -> tuple[int, float, Any]:
    """In a worker: which it is, its processor time since it was started, and the result."""
    result = function(*given)
    return os.getpid(), time.process_time(), result


class Clocked(Executor):
    """Processes that say how much processor time each of them has spent."""

    def __init__(self, workers: int) -> None:
        self.pool = ProcessPoolExecutor(workers, get_context("spawn"))
        self.spent: dict[int, float] = {}

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        outer: Future[Any] = Future()
        self.pool.submit(clocked, fn, *args, **kwargs).add_done_callback(lambda inner: self._done(inner, outer))
        return outer

    def _done(self, inner: Future[tuple[int, float, Any]], outer: Future[Any]) -> None:
        worker, seconds, result = inner.result()
        self.spent[worker] = max(seconds, self.spent.get(worker, 0.0))
        outer.set_result(result)


@dataclass(frozen=True)
class Taken:
    """Seconds: by the wall clock; of processor, the caller's and each worker's."""

    wall: float
    caller: float
    workers: tuple[float, ...]

    @property
    def chain(self) -> float:
        """The longest chain of work."""
        return self.caller + max(self.workers)


def measure(kit: Path, files: list[Path], workers: int, chunk: int) -> tuple[Taken, fleet.Fleet]:
    """One run, starting and stopping of the processes included."""
    start, own = time.perf_counter(), time.process_time()
    pool = Clocked(workers)
    with pool.pool:
        found = fleet.run(kit, files, pool, chunk)
    return Taken(time.perf_counter() - start, time.process_time() - own, tuple(sorted(pool.spent.values()))), found


def main() -> int:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--aircraft", type=int, default=10_000)
    parser.add_argument("--chunks", action="store_true", help="measure other chunk sizes as well")
    arguments = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        files = lay_out(folder, arguments.aircraft)
        kit = folder / "jumper.yaml"
        print(f"{len(files)} aircraft, {os.cpu_count()} processors, load {os.getloadavg()[0]:.2f}")
        taken = {}
        for workers in (1, 2):
            taken[workers], found = measure(kit, files, workers, CHUNK)
            show(f"{workers} process{'es' if workers > 1 else ''}", taken[workers])
        print(", ".join(f"{found.count(verdict)} {verdict}" for verdict in fleet.Verdict))
        one, two = taken[1], taken[2]
        ratios = two.wall / (one.wall / 2), two.chain / (one.chain / 2)
        print(f"two processes over the ideal: {ratios[0]:.2f} by the wall, {ratios[1]:.2f} by processor time; "
              f"target {TARGET}; load now {os.getloadavg()[0]:.2f}")  # fmt: skip
        if arguments.chunks:
            part = files[: max(1, len(files) // 10)]
            for chunk in (1, 10, 25, 50, 100, 200, 500):
                show(f"chunk {chunk:>4}, {len(part)} aircraft", measure(kit, part, 2, chunk)[0])
    return int(min(ratios) > TARGET)


def show(what: str, taken: Taken) -> None:
    """One line."""
    share = sum(taken.workers) / taken.wall / len(taken.workers)
    workers = " + ".join(f"{seconds:.1f}" for seconds in taken.workers)
    print(f"{what}: wall {taken.wall:.1f} s, processor time {taken.caller:.1f} s caller, {workers} s workers "
          f"({share:.0%} of {len(taken.workers)})", flush=True)  # fmt: skip


if __name__ == "__main__":
    sys.exit(main())
