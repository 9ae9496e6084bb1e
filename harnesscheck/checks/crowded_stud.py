"""Too many terminals on one ground stud.

What
    The wires listed at every stud or ground bus that the jumper uses are counted, one terminal a wire, and the
    terminals that are on it already but not listed (terminals: at the stud) are added. The jumper uses a stud when a
    new wire ends on it, and when a return or a ground of the new unit reaches it through existing wires.

Why it matters
    In a tall stack the nut does not hold every terminal, the current runs through the thread instead of from face to
    face, and the joint warms, corrodes and lets go. Everything on the stud loses its ground at once.

Source
    AC 43.13-1B Chg 1, par. 11-174b: where more than four terminals are to be joined, a small metal bus is fitted across
    two or more adjacent studs.

What to do
    Take another stud of the same class of ground, or fit a bus across two studs. Count the terminals that are there
    with your own eyes.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._limits import Limit, limit, whole_number
from harnesscheck.checks._words import several
from harnesscheck.connector import Origin
from harnesscheck.device import Pin
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.source import Source, Status

SEVERITY = Severity.CAUTION
SOURCE = Source("AC 43.13-1B", Status.CONFIRMED, "Chg 1", "par. 11-174b")
LIMIT = Limit(4, "4", SOURCE, whole_number)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every stud where a new wire ends, or which a ground of the new unit reaches."""
    most = limit(harness, "crowded-stud", LIMIT)
    good = 0
    pins: dict[int | None, list[Pin]] = {}
    for pin in harness.pins():
        if pin.signal in ("ground", "signal ground"):
            pins.setdefault(harness.nets.of(pin.point), []).append(pin)
    for ref, stud in harness.grounds.items():
        wires = harness.wires_at(Point(ref))
        new = [wire for wire in wires if wire.origin is Origin.JUMPER]
        through = pins.get(harness.nets.of(Point(ref)), [])
        if not new and not through:
            continue
        count = len(wires) + (stud.terminals or 0)
        if count > most.value:
            more = "" if stud.terminals is not None else " or more"
            unlisted = f" and {stud.terminals} not listed" if stud.terminals else ""
            said = f"would hold {count}{more} terminals with {several(w.id for w in new)}"
            if not new:
                units = several(f"{pin.point} ({pin.function})" for pin in through)
                said = f"holds {count}{more} terminals, and {units} will hang on it too"
            yield Finding(
                headline=f"ground stud {ref} {said}",
                place=new[0].place if new else stud.place,
                others=(stud.place, *(w.place for w in wires if w not in new[:1])),
                value=f"{count}{more} terminals: {several((w.id for w in wires), 8)}{unlisted}",
                limit=f"{most.value:g} terminals on a stud",
                source=most.source,
                remedy="take another stud of the same class, or fit a small bus across two studs"
                if new
                else "fit a small bus across two studs before the new unit hangs on it as well",
            )
        elif stud.terminals is None:
            yield NotChecked(
                place=stud.place,
                missing="how many terminals are on it already is not stated",
                remedy="count those that are not listed as wires, and give terminals:",
            )
        else:
            good += 1
    yield Passed(good, "studs that the jumper uses")
