"""What is counted in a kit: contacts, sealing plugs, splices, marks. Every sheet counts here, so that no two differ."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from harnesscheck.connector import NONE, Cavity, Connector, Origin
from harnesscheck.harness import Harness, new_wires
from harnesscheck.place import Point
from harnesscheck.splice import Splice
from harnesscheck.wire import Wire

INCH = 0.0254
UNMARKED = 3 * INCH
"""Metres under which a wire needs no mark: AC 43.13-1B par. 11-208."""
ONE_MARK = 7 * INCH
"""Metres up to which one mark near the centre will do: AC 43.13-1B par. 11-208."""
INTERVAL = 15 * INCH
"""Metres between marks at most: AC 43.13-1B par. 11-208."""
FROM_END = 0.050
"""Metres from each end to the first mark: inside the 3 in of handbook copies and of MIL-W-5088L par. 3.9."""


@dataclass(frozen=True, slots=True)
class Seat:
    """A cavity that gets a contact with this kit."""

    connector: Connector
    point: Point
    part: str | None
    """Contact part number; None: nobody has said."""
    wires: tuple[Wire, ...]
    """The new wires crimped into it; none for a contact put in to fill its cavity."""
    on_site: bool
    """The contact is inserted in the aircraft."""


@dataclass(frozen=True, slots=True)
class Plugged:
    """An unused cavity of a new connector and what closes it."""

    cavity: Cavity
    part: str | None
    """Sealing plug; ``none`` when none belongs there; None: nobody has said."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One mark on a wire or cable."""

    wire: str
    text: str
    at: float | None
    """Metres from end A; None where the length is not stated."""
    where: str


@dataclass(frozen=True, slots=True)
class Kit:
    """The counts of one kit."""

    contacts: dict[str | None, int]
    """Contact part to contacts used; the key None holds those without a part number."""
    spares: dict[str, int]
    plugs: dict[str | None, int]
    splices: dict[str | None, int]

    @property
    def pieces(self) -> int:
        """Contacts, spares, plugs and splices together."""
        return sum(sum(table.values()) for table in (self.contacts, self.spares, self.plugs, self.splices))


def seats(harness: Harness) -> Iterator[Seat]:
    """Every cavity that gets a contact with this kit, connector by connector, cavity by cavity."""
    for connector in harness.connectors.values():
        yield from seats_of(harness, connector)


def seats_of(harness: Harness, connector: Connector) -> Iterator[Seat]:
    """Those of one connector."""
    for cavity in connector.cavities.values():
        wires = tuple(w for w in harness.wires_at(cavity.point) if w.origin is Origin.JUMPER)
        unwired = not wires and connector.origin is Origin.JUMPER and cavity.contact not in (None, NONE)
        if (wires and cavity.contact != NONE) or unwired:
            on_site = connector.origin is not Origin.JUMPER or connector.fitted == "aircraft"
            yield Seat(connector, cavity.point, cavity.contact, wires, on_site)


def plugged(harness: Harness) -> Iterator[Plugged]:
    """Every cavity of a new connector without a wire, and its sealing plug."""
    for connector in harness.connectors.values():
        yield from plugged_of(harness, connector)


def plugged_of(harness: Harness, connector: Connector) -> Iterator[Plugged]:
    """Those of one connector; none of one that is not new."""
    for cavity in connector.cavities.values() if connector.origin is Origin.JUMPER else ():
        if not harness.wires_at(cavity.point):
            unsealed = cavity.plug is None and connector.says("sealed") == "no"
            yield Plugged(cavity, NONE if unsealed else cavity.plug)


def splices(harness: Harness) -> Iterator[tuple[Splice, tuple[Wire, ...]]]:
    """Every splice of the kit, with the wires in it."""
    for splice in harness.splices.values():
        if splice.origin is Origin.JUMPER:
            yield splice, harness.wires_at(Point(splice.ref))


def terminals(harness: Harness) -> Iterator[tuple[Point, Wire]]:
    """Every end of a new wire that is neither in a connector nor in a splice nor stowed: a terminal on a stud or so."""
    for wire in new_wires(harness):
        for point in (wire.a, wire.b):
            if point.ref and point.ref not in harness.connectors and point.ref not in harness.splices:
                yield point, wire


def kit(harness: Harness) -> Kit:
    """The counts of one kit; multiply for several."""
    return Kit(
        dict(Counter(seat.part for seat in seats(harness))),
        dict(harness.spare_contacts),
        dict(Counter(plug.part for plug in plugged(harness) if plug.part != NONE)),
        dict(Counter(splice.part for splice, _ in splices(harness))),
    )


def marks(harness: Harness) -> Iterator[Mark]:
    """Every mark of one kit: wires and cables by AC 43.13-1B par. 11-208, the cores of a cable near both ends."""
    done: set[str] = set()
    wires = list(new_wires(harness))
    for wire in wires:
        if wire.cable is None:
            text = mark_text(wire)
            if text is not None:
                yield from _along(wire.id, text, wire.length)
        elif wire.cable not in done:
            done.add(wire.cable)
            cable = harness.cables[wire.cable]
            yield from _along(cable.id, cable.id, cable.length)
            for core in wires:
                text = mark_text(core) if core.cable == wire.cable else None
                if text is not None:
                    # Within 3 in of the end, so on the part that stands out of the jacket.
                    yield Mark(core.id, text, 0.0, "end A, on the core")
                    yield Mark(core.id, text, core.length, "end B, on the core")


def mark_text(wire: Wire) -> str | None:
    """What is printed on a wire of the kit; None when the file says ``none`` or ``unknown``."""
    typed = wire.id if wire.mark is None else " ".join(wire.mark.split())
    return None if typed.casefold() in (NONE, "unknown", "") else typed


def _along(wire: str, text: str, length: float | None) -> Iterator[Mark]:
    if length is None:
        yield Mark(wire, text, None, "end A")
        yield Mark(wire, text, None, "end B; length not stated: more marks, at most 15 in apart")
    elif length < UNMARKED:
        return
    elif length <= ONE_MARK:
        yield Mark(wire, text, length / 2, "centre")
    else:
        # From near one end to near the other, in equal steps of 15 in at most.
        span = length - 2 * FROM_END
        steps = max(1, math.ceil(span / INTERVAL - 1e-9))
        for number in range(steps + 1):
            where = "end A" if number == 0 else "end B" if number == steps else "between"
            yield Mark(wire, text, FROM_END + span * number / steps, where)
