"""The conductors of a pair run untwisted for too long at an end.

What
    The longest untwisted end that is stated for a core of a twisted pair (untwisted: at the wire) against the limit:
    25 mm, and 13 mm for Ethernet.

Why it matters
    Where the two conductors part, each of them stands alone in the field of its neighbours. A few centimetres at each
    of four ends in a short jumper are more than the cable has lost on the whole length of the wing.

Source
    25 mm (1 in): house rule, from memory. Sources disagree: a vehicle manual allows 100 mm on CAN, a network cable
    manual 13 mm (1/2 in) on Ethernet (both confirmed in those manuals, which are no aircraft documents).

What to do
    Fan the cores out later, or twist the ends again by hand up to the contacts. State what you have built.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck import units
from harnesscheck.checks._limits import Limit, limit
from harnesscheck.checks._pairs import pairs
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Place
from harnesscheck.source import Source, Status
from harnesscheck.wire import Wire

SEVERITY = Severity.CAUTION
LIMIT = Limit(0.025, "25 mm", Source("house rule (a vehicle manual allows 100 mm on CAN)", Status.MEMORY), units.length)
ETHERNET = Limit(0.013, "13 mm", Source("network cable manual", Status.CONFIRMED, paragraph="1/2 in"), units.length)
SOURCE = LIMIT.source


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every new core of a pair, and at every other new core whose untwisted end is stated."""
    signals: dict[str, str | None] = {}
    for pair in pairs(harness)[0]:
        for member in pair.members:
            signals.update({w.id: pair.signal for w in member.reach.new if w.cable and not w.is_shield})
    good = 0
    unsaid: dict[str, list[Wire]] = {}
    over: dict[tuple[str, str], list[Wire]] = {}
    for wire in harness.wires.values():
        if wire.origin != "jumper" or wire.is_shield or wire.cable is None:
            continue
        if wire.untwisted is None:
            if wire.id in signals:
                unsaid.setdefault(wire.cable, []).append(wire)
            continue
        most = _most(harness, signals.get(wire.id))
        if wire.untwisted <= most.value * (1 + 1e-9):
            good += 1
        else:
            over.setdefault((wire.cable, most.text), []).append(wire)
    for cable, wires in unsaid.items():
        yield NotChecked(
            place=harness.cables[cable].place,
            missing=f"how long {several(w.id for w in wires)} run untwisted at their ends is not stated",
            remedy="write untwisted: with the longest end of each core",
        )
    for (cable, _), wires in over.items():
        yield _finding(cable, wires, _most(harness, signals.get(wires[0].id)))
    yield Passed(good, "cores of twisted pairs")


def _most(harness: Harness, signal: str | None) -> Limit:
    return limit(harness, "untwisted-length", ETHERNET if signal == "ethernet" else LIMIT)


def _finding(cable: str, wires: list[Wire], most: Limit) -> Finding:
    longest = max(w.untwisted or 0 for w in wires)
    verb = "runs" if len(wires) == 1 else "run"
    place = wires[0].place
    return Finding(
        headline=f"{several(w.id for w in wires)} of {cable} {verb} untwisted for {longest * 1000:g} mm, "
        f"the limit is {most.text}",
        place=place,
        others=(*(w.place for w in wires[1:]), Place(cable)),
        value=f"{longest * 1000:g} mm",
        limit=most.text,
        source=most.source,
        remedy="fan the cores out later, or twist the ends again up to the contacts",
    )
