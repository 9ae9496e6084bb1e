"""Look at many aircraft with one kit, on any ``concurrent.futures.Executor``.

The kit, its equipment, its parts files and the type's airframe file are read once in each worker. Work goes out in
chunks. A file that cannot be read, or on which a worker dies, costs its own row and no other: that row says so.
"""

from __future__ import annotations

import os
from collections import OrderedDict
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import BrokenExecutor, Executor, Future, ProcessPoolExecutor, as_completed
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from threading import Lock

from harnesscheck.fleet.judging import Bench
from harnesscheck.fleet.look import look
from harnesscheck.fleet.verdicts import Row, Verdict

CHUNK = 100
"""Aircraft handed to a worker at a time, at the most. Measured with ``tests/bench/fleet.py`` on 1,000 aircraft and two
processes: from 10 to 100 no difference beyond what other work on the machine makes; 1 costs the caller ten times the
work; 200 leaves one worker with half as much again as the other."""
Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Token:
    """What a worker needs to lay out the kit; ``digest`` tells it whether its files are still the same."""

    path: str
    name: str
    digest: str


@dataclass(frozen=True, slots=True)
class Fleet:
    """The verdicts, one row an aircraft, in the order in which the files were named."""

    kit: str
    """The jumper file, as typed."""
    title: str
    own: Row
    """The kit in the airframe that it was made for."""
    rows: tuple[Row, ...]

    def count(self, verdict: Verdict) -> int:
        """Number of aircraft with one verdict."""
        return sum(row.verdict is verdict for row in self.rows)

    @property
    def twice(self) -> tuple[str, ...]:
        """Aircraft that more than one file speaks of."""
        names = [row.aircraft for row in self.rows if row.aircraft]
        return tuple(sorted({name for name in names if names.count(name) > 1})) if len(set(names)) < len(names) else ()


def run(
    kit: str | os.PathLike[str],
    files: Iterable[str | os.PathLike[str]],
    executor: Executor | None = None,
    chunk: int = CHUNK,
    progress: Progress | None = None,
) -> Fleet:
    """Check one kit against many aircraft. ``files`` are as-found and airframe files.

    Without ``executor`` one process a processor is started, and again when one of them dies; a script that calls this
    stands under ``if __name__ == "__main__"``, as for any process pool. An executor of your own is used as it is and
    left open: its workers must see the files under the same absolute paths. ``progress(done, all)`` is called as rows
    come in. Raises ``InputError`` when the kit itself cannot be used, ``ValueError`` for a chunk below 1.
    """
    if chunk < 1:
        raise ValueError("a chunk has at least one aircraft")
    path, name = Path(kit), os.fspath(kit)
    bench = Bench(path, name)
    token = Token(str(path.resolve()), name, _digest(bench))
    listed = [(os.path.abspath(file), os.fspath(file)) for file in files]  # noqa: PTH100 (links are kept)
    if executor is None:  # a small fleet is shared out as well; four chunks each even out what takes longer
        chunk = min(chunk, max(1, len(listed) // (4 * (os.cpu_count() or 1))))
    chunks = [range(at, min(at + chunk, len(listed))) for at in range(0, len(listed), chunk)]
    work = _Work(token, listed, progress)
    if executor is None:
        work.on_own_processes(chunks)
    else:
        work.on(executor, chunks)
    own = look(bench, bench.type_file, bench.type_file.name)
    return Fleet(name, bench.job.subject.title, own, tuple(work.rows[number] for number in range(len(listed))))


class _Work:
    """Rows by number, as they come in."""

    def __init__(self, token: Token, files: Sequence[tuple[str, str]], progress: Progress | None) -> None:
        self.token = token
        self.files = files
        self.rows: dict[int, Row] = {}
        self.progress = progress

    def sent(self, executor: Executor, numbers: Sequence[int]) -> Future[list[Row]]:
        return executor.submit(look_at, self.token, [self.files[number] for number in numbers])

    def done(self, numbers: Sequence[int], rows: Sequence[Row]) -> None:
        self.rows.update(zip(numbers, rows, strict=True))
        if self.progress is not None:
            self.progress(len(self.rows), len(self.files))

    def lost(self, number: int, error: BaseException) -> None:
        why = f"the worker that looked at this file was lost ({type(error).__name__}): look at it alone"
        self.done([number], [Row(file=self.files[number][1], verdict=Verdict.UNKNOWN, missing=(why,))])

    def on(self, executor: Executor, chunks: Iterable[Sequence[int]]) -> None:
        """On somebody's own executor. A chunk that is lost is tried again one aircraft at a time."""
        again: list[int] = []
        for numbers, future in self._all_sent(executor, chunks, again):
            try:
                self.done(numbers, future.result())
            except Exception:
                again.extend(numbers)
        for number in sorted(again):
            try:
                self.done([number], self.sent(executor, [number]).result())
            except Exception as error:
                self.lost(number, error)

    def _all_sent(
        self, executor: Executor, chunks: Iterable[Sequence[int]], again: list[int]
    ) -> Iterator[tuple[Sequence[int], Future[list[Row]]]]:
        futures: dict[Future[list[Row]], Sequence[int]] = {}
        for numbers in chunks:
            try:
                futures[self.sent(executor, numbers)] = numbers
            except Exception:  # an executor that is broken takes nothing more
                again.extend(numbers)
        try:
            for future in _finished(futures):
                yield futures[future], future
        except BaseException:
            for future in futures:
                future.cancel()
            raise

    def on_own_processes(self, chunks: Sequence[Sequence[int]]) -> None:
        """On processes of our own. When one dies all that were at work fall silent, and nobody says which it was:

        their chunks are set aside, the others go on in new processes, and those set aside are then looked at with one
        process and nothing beside it, so that only the aircraft that is the cause loses its row.
        """
        workers = max(1, min(os.cpu_count() or 1, len(chunks)))
        waiting, aside = list(reversed(chunks)), list[Sequence[int]]()
        while waiting:
            with _pool(workers) as pool:
                out: dict[Future[list[Row]], Sequence[int]] = {}
                numbers: Sequence[int] = ()
                try:
                    while waiting or out:
                        while waiting and len(out) < 2 * workers:
                            numbers = waiting.pop()
                            out[self.sent(pool, numbers)] = numbers
                            numbers = ()
                        future = next(iter(as_completed(out)))
                        rows = future.result()
                        self.done(out.pop(future), rows)
                except BrokenExecutor:
                    aside += [*out.values(), *([numbers] if numbers else [])]
                except BaseException:
                    pool.shutdown(wait=False, cancel_futures=True)
                    raise
        self._one_by_one(aside)

    def _one_by_one(self, aside: Sequence[Sequence[int]]) -> None:
        left = list(reversed(aside))
        while left:
            with _pool(1) as pool:
                while left:
                    numbers = left.pop()
                    try:
                        self.done(numbers, self.sent(pool, numbers).result())
                    except BrokenExecutor as error:
                        if len(numbers) == 1:
                            self.lost(numbers[0], error)
                        else:
                            middle = len(numbers) // 2
                            left += [numbers[middle:], numbers[:middle]]
                        break


def _pool(workers: int) -> ProcessPoolExecutor:
    """Processes that start clean: a fork of a process with threads may hang."""
    from multiprocessing import get_all_start_methods, get_context

    methods = get_all_start_methods()
    return ProcessPoolExecutor(workers, get_context("forkserver" if "forkserver" in methods else "spawn"))


def _finished(futures: Iterable[Future[list[Row]]]) -> Iterator[Future[list[Row]]]:
    """Futures as they finish; one that is none of the standard library's is waited for in turn."""
    listed = list(futures)
    if all(isinstance(future, Future) for future in listed):
        yield from as_completed(listed)
    else:
        yield from listed


# -- in the worker ---------------------------------------------------------------------------------------------


_BENCHES: OrderedDict[Token, Bench] = OrderedDict()
_LOCK = Lock()


def look_at(token: Token, files: Sequence[tuple[str, str]]) -> list[Row]:
    """One chunk, in a worker: a row for each file, whatever happens."""
    rows = []
    for path, name in files:
        try:
            rows.append(look(_bench(token), Path(path), name))
        except Exception as error:  # a fault of ours costs this row only, and is never taken for an answer
            why = f"harnesscheck itself broke down on this file ({type(error).__name__}: {error})"
            rows.append(Row(file=name, verdict=Verdict.UNKNOWN, missing=(why,)))
    return rows


def _bench(token: Token) -> Bench:
    with _LOCK:
        if token not in _BENCHES:
            bench = Bench(Path(token.path), token.name)
            if _digest(bench) != token.digest:
                raise RuntimeError("a file of the kit was changed while the fleet was looked at")
            _BENCHES[token] = bench
            while len(_BENCHES) > 4:
                _BENCHES.popitem(last=False)
        return _BENCHES[token]


def _digest(bench: Bench) -> str:
    return sha256("\n".join(bench.texts()).encode()).hexdigest()
