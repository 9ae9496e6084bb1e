"""The conductors of a flat cable were counted as cavity numbers, or the other way round.

What
    In a flat cable crimped onto a two-row D-sub the conductors take the cavities 1, 14, 2, 15, 3 ... (for 25 cavities):
    conductor n lies at (n + 1) / 2 when n is odd and in the second row at n / 2 when it is even. The cavities that the
    jumper joins are compared with that order, in both directions; at least four moved cavities must fit, and at least
    two thirds of all that moved.

Why it matters
    Somebody takes the order of the flat cable for the numbering of the connector. Cavity 1 is right, so the first
    look is reassuring; everything else is wrong, and supply lands on outputs.

Source
    The jumper's own wires; the order follows from the two rows of the insert. Rows come from the parts drawer and only
    name the pattern, so a value that is not confirmed does not lower the severity.

What to do
    Count by the numbers moulded next to the cavities, not by the conductors of the cable. Rewire one end.
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
    """Look at the map through the jumper and at the map of each equipment connector."""
    good = 0
    for pins in _pinmap.maps(harness):
        family = pins.connector.says("family")
        if len(pins.moved) < _pinmap.LEAST_MOVED or family not in (None, "D-sub"):
            good += 1
            continue
        lines = _pinmap.rows(harness, pins)
        if lines is None:
            yield NotChecked(
                place=pins.connector.place,
                missing=f"{len(pins.moved)} cavities are not led to the same name, but the rows of the insert are not "
                "known, so ribbon order cannot be told",
                remedy="give part: or insert:",
            )
            continue
        answer = _either(pins, *lines) if len(lines) == 2 else None
        if answer is None:
            good += 1
            continue
        first, second = lines
        order = f"{first[0]}, {second[0]}, {first[1]}, {second[1]} ..."
        halves = several(pins.plugs) or pins.start
        remedy = f"flat cable order ({order}) was taken for cavity numbers at one end: rewire {halves} by number"
        yield _pinmap.pattern(pins, answer, "in the order of a flat cable", f"the order {order}", remedy)
    yield Passed(good, "pin maps")


def _either(pins: _pinmap.PinMap, first: tuple[str, ...], second: tuple[str, ...]) -> list[str] | None:
    """The cavities that fit conductor order to cavity numbers, or the reverse."""
    names = [*first, *second]
    conductors = [(second if n % 2 else first)[n // 2] for n in range(len(names))]
    forth = dict(zip(names, conductors, strict=True))
    back = dict(zip(conductors, names, strict=True))
    return _pinmap.fitting(pins, forth) or _pinmap.fitting(pins, back)
