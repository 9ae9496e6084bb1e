"""A terminator sits in the middle of the bus, or an end of it has none.

What
    For each CAN, TIA-485 and TIA-422 bus that a new unit joins: a unit that hangs on a stub and has its terminator
    fitted is one in the middle. Where the airframe file says for both halves of the opened pair whether the trunk on
    that side ends in a terminator (terminated:), CAN and TIA-485 need it on both sides, TIA-422 on the side away from
    the driver.

Why it matters
    The count may be right, and 60 ohm be measured, while one end of the trunk is open: reflections come back from
    there, and units near it lose frames.

Source
    EFIS installation manual, terminators at the two extreme ends only (confirmed); TIA-485 reader manual (confirmed);
    TIA-422 data sheet, near the last receiver (confirmed).

What to do
    Switch the terminator of the new unit off and leave those at the ends. Where the new unit becomes the end of the
    trunk, take the old one out.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._signals import Bus, Missing, Unit, mixed, stub, tapped
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, Passed, Severity
from harnesscheck.formulas import can_bus, rs422
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.source import Source

SEVERITY = Severity.CAUTION
SOURCE = can_bus.LINE_SOURCE
FOLLOWS = ("wrong-terminator-count", "pin-map-mismatch", "broken-through-circuit")

SOURCES: dict[str, Source] = {
    "can": SOURCE,
    "rs485": rs422.TERMINATORS_485_SOURCE,
    "rs422": rs422.TERMINATORS_422_SOURCE,
}


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every terminated bus that a new unit joins."""
    good = 0
    for bus in tapped(harness):
        if bus.signal not in SOURCES:
            continue
        missing = Missing(bus)
        inside = [unit for unit in bus.units if _in_the_middle(harness, bus, unit, missing)]
        sides = _sides(harness, bus, missing)
        pairs = ([half for half in pair if sides.get(half) is False] for pair in harness.opens)
        open_ = max(pairs, key=len, default=[])
        wanted = 1 if bus.signal == "rs422" else 2
        if inside:
            yield _finding(
                bus, f"the terminator inside {several(u.ref for u in inside)} sits in the middle of {bus.name} "
                f"({bus.signal}), at the end of a stub", "terminator on a stub", inside[0],
            )  # fmt: skip
        elif len(open_) > 2 - wanted:
            yield _finding(
                bus, f"the trunk of {bus.name} ({bus.signal}) has no terminator on the side of {several(open_)}",
                f"no terminator beyond {several(open_)}", None,
            )  # fmt: skip
        elif missing:
            yield missing.answer(f"whether the ends of {bus.name} have the terminators")
        else:
            good += 1
    yield from mixed(harness, SOURCES)
    yield Passed(good, "buses with terminators at the ends only")


def _in_the_middle(harness: Harness, bus: Bus, unit: Unit, missing: Missing) -> bool:
    none = unit.said("terminator") == float("inf") and unit.said("terminator_state") is None
    if none or missing.unit(unit, "terminator_state") != "fitted":
        return False
    if len(bus.units) > 1 and not bus.circuits:
        return False  # a bus between new units: its ends are units
    lines = [line for line in bus.lines for pin in unit.pins if pin in line.pins]
    ways = [stub(harness, line, pin) for line in lines for pin in unit.pins if pin in line.pins]
    return any(found is not None and found.wires for found in ways)


def _sides(harness: Harness, bus: Bus, missing: Missing) -> dict[str, bool | None]:
    """What each opened half says about the trunk on its side, by reference."""
    if not bus.circuits:
        return {}
    sides: dict[str, bool | None] = {}
    for ref in harness.opened:
        said = set()
        points = []
        for line in bus.lines:
            net = harness.nets.of(line.copper.new[0].a)
            for cavity in harness.connectors[ref].cavities.values():
                if harness.nets.of(cavity.point) == net:
                    points.append(cavity.point)
                    said |= {cavity.terminated} - {None}
        if not points:
            continue  # the bus does not lead to this half
        sides[ref] = said.pop() if len(said) == 1 else None
        if sides[ref] is None:
            missing.note("terminated", _where(points))
    return sides


def _where(points: list[Point]) -> str:
    return several(map(str, points))


def _finding(bus: Bus, headline: str, value: str, unit: Unit | None) -> Finding:
    far = "at the end away from the driver" if bus.signal == "rs422" else "at both ends of the trunk, and nowhere else"
    return Finding(
        headline=headline,
        place=unit.place if unit else bus.place,
        others=bus.places,
        value=value,
        limit=far,
        source=SOURCES[bus.signal],
        remedy="switch the terminator of the new unit off, and see that the ends of the trunk have theirs"
        if unit
        else "fit one at the end of the trunk on that side, or correct terminated:",
    )
