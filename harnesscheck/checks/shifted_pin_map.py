"""From some cavity on, every wire sits one cavity too high or too low.

What
    The cavities that the jumper joins are followed in the order of the insert. Three or more that follow each other and
    are all off by one the same way are a shift: one cavity was skipped or counted twice. Cavities without a wire
    in between do not interrupt it. The same is done for the plug of the equipment. Two in a row may be a plain
    exchange and are left to the checks that name exchanges.

Why it matters
    One slip moves every contact that comes after it. The first few cavities are right, so a spot check passes; power
    and ground further on are wrong.

Source
    The jumper's own wires, in the cavity order of the insert.

What to do
    Look at the first cavity named here: the one before it is right. Move the contacts from there on by one, then ring
    out every cavity.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks import _pinmap
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, NotChecked, Passed, Severity
from harnesscheck.harness import Harness

SEVERITY = Severity.STOP
SOURCE = _pinmap.SOURCE


def check(harness: Harness) -> Iterator[Answer]:
    """Look at the map through the jumper and at the map of each equipment connector; one finding a run."""
    good = 0
    for pins in _pinmap.maps(harness):
        if len(pins.moved) < _pinmap.LEAST_IN_ROW:
            good += 1
            continue
        if pins.connector.names is None:
            yield NotChecked(
                place=pins.connector.place,
                missing=f"{len(pins.moved)} cavities are not led to the same name, but the insert arrangement is not "
                "known, so the order of its cavities is not known either",
                remedy="give part: or insert:",
            )
            continue
        found = list(_runs(pins, pins.connector.names))
        good += not found
        for step, run in found:
            high = "high" if step > 0 else "low"
            remedy = (
                f"look at cavity {run[0]} of {several(pins.plugs) or pins.start}: one was skipped or counted twice "
                "there; move the contacts from there on by one, and ring out all of them"
            )
            how = f"one cavity too {high} from {run[0]} on"
            elsewhere = [name for _, other in found for name in other if other is not run]
            yield _pinmap.pattern(pins, run, how, "a shift by one", remedy, elsewhere)
    yield Passed(good, "pin maps")


def _runs(pins: _pinmap.PinMap, names: tuple[str, ...]) -> Iterator[tuple[int, list[str]]]:
    """Runs of cavities off by one the same way: ``(1 or -1, cavities)``."""
    number = {name: index for index, name in enumerate(names)}
    run: list[str] = []
    last = 0
    for name in [*names, None]:
        if name is not None and name not in pins.goes:
            continue
        step = 0 if name is None or pins.goes[name] not in number else number[pins.goes[name]] - number[name]
        if run and step != last:
            if len(run) >= _pinmap.LEAST_IN_ROW:
                yield last, run
            run = []
        if name is not None and abs(step) == 1:
            run.append(name)
        last = step
