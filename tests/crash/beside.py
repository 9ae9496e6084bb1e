"""Runs beside each other into one place: the result is one of theirs, whole."""

from __future__ import annotations

import os
from collections import Counter
from pathlib import Path

from harnesscheck import output
from tests.crash.kills import Files, child, content, hidden, put


def packs_at_once(room: Path, packs: tuple[Files, Files], runs: int, rounds: int, *, exchange: bool) -> Counter[str]:
    """So many runs at once, several times over."""
    place, seen = room / "kit", Counter[str]()
    for _ in range(rounds):
        started = [child(lambda n=n: put(place, packs[n % 2], exchange=exchange)) for n in range(runs)]
        for number in started:
            seen["ended well" if os.waitpid(number, 0)[1] == 0 else "broke down"] += 1
        seen["whole" if content(place) in packs else "mixed"] += 1
        seen["left behind"] += len(hidden(room))
    return seen


def files_at_once(room: Path, runs: int, rounds: int, size: int = 300_000) -> Counter[str]:
    """The same for one file."""
    target, seen = room / "target.csv", Counter[str]()
    for _ in range(rounds):
        started = [child(lambda n=n: output.write_whole(target, bytes([n]) * size)) for n in range(runs)]
        for number in started:
            seen["ended well" if os.waitpid(number, 0)[1] == 0 else "broke down"] += 1
        data = target.read_bytes()
        seen["whole" if len(data) == size and len(set(data)) == 1 else "mixed"] += 1
        seen["left behind"] += len(hidden(room))
    return seen
