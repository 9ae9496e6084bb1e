"""All stubs of a CAN bus together are too long for its rate.

What
    For each CAN bus that a new unit joins: the stubs that the aircraft has already (stub length:, their sum) and
    those that the kit adds, each by its longer conductor, are compared with the sum that a table allows for the
    rate of the bus. Each of them by itself is long-stub.

Why it matters
    Each stub sends back a little of every edge, and loads the line with its capacitance. A bus with many short
    stubs fails as one with a long one does, and the last unit that was added gets the blame.

Source
    Help of an industrial CAN controller (confirmed): 7.5 m at 1 Mbit/s, 12.5 m at 800, 27.5 m at 500, 55 m at 250,
    110 m at 125 and 275 m at 50 kbit/s. ISO 11898-2 as quoted says nothing of the sum; the table is looser than ISO
    for a single stub, so this is a caution, and what passes here is no proof.

What to do
    Shorten the stubs, lead the trunk in and out at the unit's plug where its maker allows it, or lower the rate of
    the whole bus.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._signals import Missing, bits, mixed, stub, tapped
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.formulas import stub_length
from harnesscheck.harness import Harness

SEVERITY = Severity.CAUTION
SOURCE = stub_length.CAN_BY_RATE_SOURCE
FOLLOWS = ("pin-map-mismatch", "broken-through-circuit", "long-stub")


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every CAN bus that a new unit joins; one finding for each bus."""
    good = 0
    for bus in tapped(harness):
        if bus.signal != "can" or not bus.circuits:
            continue
        missing = Missing(bus)
        rate, old = missing.circuit("rate"), missing.circuit("stub_length")
        most = stub_length.can_sum_by_rate(rate) if rate is not None else None
        if rate is not None and most is None:
            yield NotChecked(
                place=bus.place,
                missing=f"whether the stubs of {bus.name} are too long together: no table reaches {bits(rate)}",
                remedy="ask the maker of the units; 7.5 m are for 1 Mbit/s",
            )
            continue
        new = 0.0
        for unit in bus.units:
            pins = [(line, pin) for line in bus.lines for pin in unit.pins if pin in line.pins]
            ways = [way for line, pin in pins if (way := stub(harness, line, pin)) is not None]
            for wire in dict.fromkeys(name for way in ways for name in way.unknown):
                missing.note("length", wire)
            new += max((way.length for way in ways), default=0.0)
        total = (old or 0.0) + new
        if most is not None and rate is not None and total > most + 1e-9:
            yield Finding(
                headline=f"the stubs of {bus.name} (can) are {total:.3g} m long together, over {most:g} m",
                place=bus.place,
                others=bus.places,
                value=f"{new:.3g} m new, and " + ("not stated" if old is None else f"{old:.3g} m") + " in the aircraft",
                limit=f"{most:g} m at {bits(rate)}, for all stubs together",
                remedy="shorten the stubs, or lead the trunk in and out at the unit's plug if its maker allows it",
            )
        elif missing:
            yield missing.answer(f"whether the stubs of {bus.name} are too long together")
        else:
            good += 1
    yield from mixed(harness, {"can"})
    yield Passed(good, "buses whose stubs are short enough together")
