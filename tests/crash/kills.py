"""SIGKILL at random instants and before every single step; what is then there must be whole."""

from __future__ import annotations

import os
import random
import shutil
import signal
import time
from collections import Counter
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from unittest import mock

from harnesscheck import output, pack
from harnesscheck.pack import folder as writing
from tests.crash import steps

Files = dict[str, bytes]


def child(work: Callable[[], object]) -> int:
    """Run ``work`` in a process of its own. Returns its number."""
    number = os.fork()
    if number:
        return number
    status = 1
    try:
        work()
        status = 0
    finally:
        os._exit(status)
    raise AssertionError


def killed(work: Callable[[], object], after: float) -> bool:
    """Run ``work``, kill it after so many seconds. True when it was killed, False when it had ended."""
    number = child(work)
    time.sleep(after)
    with suppress(ProcessLookupError):
        os.kill(number, signal.SIGKILL)
    return os.WIFSIGNALED(os.waitpid(number, 0)[1])


def duration(work: Callable[[], object], times: int = 5) -> float:
    """How long ``work`` takes in a process of its own, seconds, the middle one of some runs."""
    taken = []
    for _ in range(times):
        begun = time.monotonic()
        os.waitpid(child(work), 0)
        taken.append(time.monotonic() - begun)
    return sorted(taken)[times // 2]


def content(place: Path) -> Files:
    """Every file of a folder."""
    return {p.relative_to(place).as_posix(): p.read_bytes() for p in sorted(place.rglob("*")) if p.is_file()}


def state(place: Path, old: Files, new: Files) -> str:
    """``old``, ``new``, ``none`` or ``torn``, and by ``verify`` whether it calls it whole."""
    if not place.exists():
        return "none"
    found = content(place)
    if found not in (old, new):
        return "torn"
    if pack.verify(place).faults:
        return "whole, but verify does not say so"
    return "old" if found == old else "new"


def put(place: Path, files: Files, *, exchange: bool = True) -> None:
    """Write a pack folder, in one move or in two."""
    if exchange:
        writing.put(place, files)
        return
    with mock.patch.object(writing, "exchange", steps.two_moves):
        writing.put(place, files)


def hidden(room: Path) -> list[str]:
    """What lies there under a name of ours."""
    return [entry.name for entry in room.iterdir() if entry.name.startswith(".harnesscheck-")]


def random_file_kills(room: Path, number: int, rng: random.Random, size: int = 3_000_000) -> Counter[str]:
    """Kill so many runs that write one file over another. Counts what was found afterwards."""
    target, seen = room / "target.csv", Counter[str]()
    texts = [bytes([letter]) * size for letter in b"on"]
    output.write_whole(target, texts[0])
    now = 0
    span = duration(lambda: output.write_whole(target, texts[0]))
    while seen["killed"] < number:
        new = 1 - now
        was_killed = killed(lambda new=new: output.write_whole(target, texts[new]), rng.uniform(0, 1.1 * span))
        data = target.read_bytes()
        found = next((name for name, text in ((now, texts[now]), (new, texts[new])) if data == text), None)
        seen["killed" if was_killed else "had ended"] += 1
        seen["torn" if found is None else "old" if found == now else "new"] += 1
        seen["temporary files left"] += len(hidden(room))
        output.write_whole(target, texts[now if found is None else found])
        seen["not cleared away by the next run"] += len(hidden(room))
        now = now if found is None else found
    return seen


def random_pack_kills(room: Path, packs: tuple[Files, Files], number: int, rng: random.Random) -> Counter[str]:
    """Kill so many runs that write one pack over another. Counts what was found afterwards."""
    place, seen, now = room / "kit", Counter[str](), 0
    put(place, packs[0])
    span = duration(lambda: put(place, packs[0]), 3)
    while seen["killed"] < number:
        new = 1 - now
        was_killed = killed(lambda new=new: put(place, packs[new]), rng.uniform(0, 1.1 * span))
        found = state(place, packs[now], packs[new])
        seen["killed" if was_killed else "had ended"] += 1
        seen[found] += 1
        seen["temporary folders left"] += len(hidden(room))
        now = new if found == "new" else now
        if found not in ("old", "new"):
            shutil.rmtree(place, ignore_errors=True)
        put(place, packs[now])
        seen["not cleared away by the next run"] += len(hidden(room))
    return seen


def kill_at_every_step(room: Path, old: Files, new: Files, *, exchange: bool) -> Counter[str]:
    """Kill before the first step, before the second, and so on, until a run comes through."""
    place, seen = room / "kit", Counter[str]()
    for at in range(1, 100_000):
        shutil.rmtree(place, ignore_errors=True)
        put(place, old)

        def work(at: int = at) -> None:
            moves = writing.exchange if exchange else steps.two_moves
            with mock.patch.object(writing, "exchange", moves), steps.at_step(at, steps.die):
                writing.put(place, new)

        ended = os.waitpid(child(work), 0)[1]
        if ended == 0:
            break
        assert os.WIFSIGNALED(ended), f"step {at}: the run broke down by itself"
        found = state(place, old, new)
        seen["steps"] += 1
        seen[found] += 1
        put(place, new, exchange=exchange)
        after = state(place, old, new)
        seen["mended by the next run" if after == "new" else f"then {after}"] += 1
        seen["not cleared away by the next run"] += len(hidden(room))
    return seen
