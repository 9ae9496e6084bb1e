"""Every step fails once, and then once and for ever after."""

from __future__ import annotations

import shutil
from collections import Counter
from pathlib import Path
from unittest import mock

from harnesscheck import output
from harnesscheck.pack import folder as writing
from tests.crash import steps
from tests.crash.kills import Files, hidden, put, state


def file_steps(room: Path, *, forever: bool) -> Counter[str]:
    """Writing one file over another."""
    target, seen = room / "target.csv", Counter[str]()
    for at in range(1, 10_000):
        output.write_whole(target, b"old")
        with steps.at_step(at, steps.fail, forever) as counter:
            try:
                output.write_whole(target, b"new")
                said = "came through"
            except OSError as error:
                said = "said so" if error.filename == str(target) else f"named {error.filename}"
        if not counter.reached:
            assert target.read_bytes() == b"new"
            break
        seen["failed steps"] += 1
        seen[said] += 1
        found = target.read_bytes()
        seen[found.decode() if found in (b"old", b"new") else "torn"] += 1
        seen["came through with the old one"] += said == "came through" and found != b"new"
        output.write_whole(target, b"old")
        seen["not cleared away by the next run"] += len(hidden(room))
    return seen


def pack_steps(room: Path, old: Files, new: Files, *, exchange: bool, forever: bool) -> Counter[str]:
    """Writing one pack over another."""
    place, seen = room / "kit", Counter[str]()
    for at in range(1, 100_000):
        shutil.rmtree(place, ignore_errors=True)
        put(place, old)
        moves = writing.exchange if exchange else steps.two_moves
        with mock.patch.object(writing, "exchange", moves), steps.at_step(at, steps.fail, forever) as counter:
            try:
                writing.put(place, new)
                said = "came through"
            except OSError:
                said = "said so"
        if not counter.reached:
            assert state(place, old, new) == "new"
            break
        found = state(place, old, new)
        seen["failed steps"] += 1
        seen[said] += 1
        seen[found] += 1
        seen["came through with the old one"] += said == "came through" and found != "new"
        put(place, new, exchange=exchange)
        after = state(place, old, new)
        seen["mended by the next run" if after == "new" else f"then {after}"] += 1
        seen["not cleared away by the next run"] += len(hidden(room))
    return seen
