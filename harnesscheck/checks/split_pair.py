"""The two conductors of a pair are led in different cables, or one of them as a single wire.

What
    For each pair (circuits with the same pair:, or the only two circuits or pins of a bus class with lines H and L, A
    and B or + and -), each new wire of one conductor must share its cable with a new wire of the other, in every part
    of the jumper.

Why it matters
    The twist protects only the two conductors that are twisted with each other. A split pair rings out without a
    fault, because every wire goes where it should; in use each half couples into the other pair, and the bus drops
    messages when its neighbour talks. No continuity test finds it, so it must be found on paper.

Source
    Network test guide (seen, third party): a split pair is wired the same at both ends, continuity is perfect, the
    crosstalk is typically more than 22 dB worse. CAN, RS-422, RS-485, ARINC 429: twisted pair by their standards,
    common practice.

What to do
    Lead both conductors as cores of one twisted pair, from contact to contact and in the stub as well. A pair twisted
    by hand is a cable too: declare it under cables:.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from harnesscheck.checks._pairs import Pair, pairs
from harnesscheck.checks._shields import cores
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status
from harnesscheck.wire import Wire

SEVERITY = Severity.STOP
SOURCE = Source("both conductors of a pair in one twisted cable", Status.COMMON)
FOLLOWS = (
    "drain-on-wrong-contact",
    "unknown-cavity",
    "pin-collision",
    "dead-end-wire",
    "broken-through-circuit",
    "pin-map-mismatch",
)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every new wire of every pair, one finding per pair."""
    known, unsaid = pairs(harness)
    yield from unsaid
    inside = cores(harness)
    owners = {wire.id: pair.name for pair in known for member in pair.members for wire in member.reach.new}
    good = 0
    asked: set[str] = set()
    for pair in known:
        wires = [[w for w in member.reach.new if not w.is_shield] for member in pair.members]
        if not all(wires):
            continue  # one conductor is not in the jumper at all: broken-through-circuit, pin-map-mismatch
        alone: list[Wire] = []
        for number, listed in enumerate(wires):
            partners = [w for other, group in enumerate(wires) if other != number for w in group]
            for wire in listed:
                shared = wire.cable is not None and _all_there(wire.cable, number, wires)
                if not shared:
                    alone.append(wire)
                elif _several_pairs(inside, wire.cable, owners):
                    if wire.cable not in asked:
                        asked.add(wire.cable or "")
                        yield _which_twist(harness, wire, pair)
                else:
                    good += bool(partners)
        if alone:
            yield _finding(harness, pair, alone, inside)
    yield Passed(good, "conductors of pairs")


def _all_there(cable: str, number: int, wires: list[list[Wire]]) -> bool:
    return all(any(w.cable == cable for w in group) for other, group in enumerate(wires) if other != number)


def _several_pairs(inside: Mapping[str, list[Wire]], cable: str | None, owners: Mapping[str, str]) -> bool:
    return len({owners[w.id] for w in inside.get(cable or "", ()) if w.id in owners}) > 1


def _which_twist(harness: Harness, wire: Wire, pair: Pair) -> NotChecked:
    return NotChecked(
        place=harness.cables[wire.cable or ""].place,
        missing=f"the cable carries {pair} and another pair; which cores are twisted with each other is not known",
        remedy="look at the cable; declare each twisted pair of it as a cable of its own",
    )


def _finding(harness: Harness, pair: Pair, alone: list[Wire], inside: Mapping[str, list[Wire]]) -> Finding:
    mine = {w.id for member in pair.members for w in member.reach.new}
    crossed = [w for w in alone if w.cable and any(o.id not in mine for o in inside.get(w.cable, ()))]
    how = several(f"{w.id} is {f'in {w.cable}' if w.cable else 'a single wire'}" for w in alone)
    company = sorted({o.id for w in crossed for o in inside.get(w.cable or "", ()) if o.id not in mine})
    if all(w.cable is None for w in alone) and _each(pair, alone):
        headline = f"{pair} are led as single wires ({several(w.id for w in alone)}), not as a twisted pair"
    else:
        headline = f"{pair} are split: {how}" + (f", beside {several(company)}" if company else "")
    return Finding(
        headline=headline,
        place=alone[0].place,
        others=tuple(w.place for w in alone[1:]),
        severity=Severity.STOP if crossed else Severity.CAUTION,
        value=how,
        limit="both conductors in one twisted cable, in every part of the jumper",
        remedy="lead both as cores of one twisted pair; declare a pair twisted by hand under cables: as well",
    )


def _each(pair: Pair, alone: list[Wire]) -> bool:
    """True when every conductor of the pair has a wire among those found."""
    ids = {w.id for w in alone}
    return all(any(w.id in ids for w in member.reach.new) for member in pair.members)
