"""Copper, or another alloy, stands in a thermocouple run.

What
    Each new wire in a thermocouple circuit must be of the alloy of that circuit (alloy: at both), and so should the
    contacts it is led through: a contact whose alloy is in the parts file or drawer is compared, a plain copper alloy
    contact is a note.

Why it matters
    Where alloy meets copper a junction is made. With both ends of the copper at one temperature it adds nothing; with
    the splice in a warm engine bay at 60 C and the instrument at 20 C the reading is 40 C low, and it changes with
    the weather. Contacts are short: 5 C from one side to the other make about 5 C.

Source
    Law of intermediate metals, as explained in builders' forums (second hand). One page says copper is always fine,
    another shows the condition; the condition is the physics. Figures: type K reference polynomial (from memory,
    checked at 100 C and 700 C).

What to do
    Take extension wire of the same type, with contacts of its alloys, positive to positive; or end the jumper's run in
    one isothermal block on both sides and measure the difference.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._signals import Bus, Missing, buses, mixed
from harnesscheck.checks._words import several
from harnesscheck.connector import NONE, Origin
from harnesscheck.finding import Answer, Finding, Passed, Severity
from harnesscheck.formulas import thermocouple
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.wire import Wire

SEVERITY = Severity.CAUTION
SOURCE = thermocouple.METALS_SOURCE
FOLLOWS = ("pin-map-mismatch", "broken-through-circuit")


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every thermocouple circuit that the kit touches."""
    good = 0
    for bus in buses(harness):
        if bus.signal != "thermocouple":
            continue
        missing = Missing(bus)
        alloy = missing.circuit("alloy") if bus.circuits else None
        wires = [wire for line in bus.lines for wire in line.copper.new]
        said = {wire.id: _alloy(harness, wire) for wire in wires}
        for wire in wires:
            if said[wire.id] is None:
                missing.note("alloy", wire.id)
        wrong = [w for w in wires if said[w.id] == NONE or (alloy and said[w.id] not in (None, alloy))]
        plain = [] if wrong else _contacts(harness, bus, alloy, missing)
        if wrong:
            yield _finding(bus, wrong, said, alloy)
        elif plain:
            yield _note(harness, bus, plain)
        if missing and not wrong:
            yield missing.answer(f"whether {bus.name} keeps its alloy")
        elif not (wrong or plain):
            good += len(wires)
    yield from mixed(harness, {"thermocouple"})
    yield Passed(good, "wires of the alloy of their thermocouple")


def _alloy(harness: Harness, wire: Wire) -> str | None:
    """The alloy of a wire: stated, or ``none`` for wire that the drawer knows to be copper; None when unknown."""
    if wire.alloy is not None:
        return wire.alloy
    number = wire.type
    cable = harness.cables.get(wire.cable or "")
    if number is None and cable is not None:
        record = harness.part("cable", cable.type)
        number = f"{record.text('spec')}-{(record.text('gauge') or '').removesuffix(' AWG')}" if record else None
    part = harness.part("wire", number)
    return NONE if part is not None and "copper" in (part.text("conductor") or "") else None


def _contacts(harness: Harness, bus: Bus, alloy: str | None, missing: Missing) -> list[Point]:
    """Cavities of the kit on the run whose contact is of another metal than the run."""
    found: dict[Point, None] = {}
    for wire in (wire for line in bus.lines for wire in line.copper.new):
        for point in (wire.a, wire.b):
            connector, cavity = harness.connectors.get(point.ref), harness.cavity(point)
            if connector is None or connector.origin is not Origin.JUMPER or cavity is None:
                continue
            part = harness.part("contact", cavity.contact)
            fact = part.fact("alloy") if part else None
            if part is None:
                missing.note("contact", str(point))
            elif fact is None or (alloy and str(fact.value) != alloy):
                found[point] = None
    return list(found)


def _finding(bus: Bus, wrong: list[Wire], said: dict[str, str | None], alloy: str | None) -> Finding:
    low = 700 - thermocouple.reading(700, 60, 20)
    metals = several("copper" if said[w.id] == NONE else f"type {said[w.id]}" for w in wrong)
    metals += f": {several(w.id for w in wrong)}"
    wanted = f"type {alloy}" if alloy else "the alloy of the thermocouple"
    return Finding(
        headline=f"{bus.name} (thermocouple) is led on in {metals}",
        place=wrong[0].place,
        others=(*(wire.place for wire in wrong[1:]), *bus.places),
        value=f"{metals}; type K with copper from a splice at 60 C to an instrument at 20 C reads {low:.0f} C low",
        limit=f"{wanted} from the probe to the instrument",
        remedy=f"take extension wire of {wanted} with contacts of its alloys, positive to positive",
    )


def _note(harness: Harness, bus: Bus, plain: list[Point]) -> Finding:
    cavity = harness.cavity(plain[0])
    error = -thermocouple.contact_error(700, 5, 40)
    return Finding(
        headline=f"{bus.name} (thermocouple) runs through copper alloy contacts at {several(map(str, plain))}",
        place=cavity.place if cavity else bus.place,
        others=bus.places,
        severity=Severity.NOTE,
        value=f"5 C from one side of a contact to the other make about {error:.0f} C",
        limit="contacts of the alloy, or both sides at one temperature",
        remedy="fit thermocouple contacts, or keep heat and draught off these connectors",
    )
