"""The resistance of the pieces a current runs through: wires, mated contacts, splices. Each with its source."""

from __future__ import annotations

from dataclasses import dataclass

from harnesscheck.connector import Connector
from harnesscheck.formulas import wire_resistance
from harnesscheck.formulas.gauge import area
from harnesscheck.formulas.gauge import number as size_number
from harnesscheck.harness import Harness, view
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status
from harnesscheck.splice import Splice
from harnesscheck.units import Gauge
from harnesscheck.wire import Wire
from harnesscheck.zone import Zone

COLD = 20.0
"""Conductor temperature where no ambient is stated, Celsius: that of AC 43.13-1B Table 11-9."""
RESISTIVITY = 12.65 * 5.067074790974977e-10 / 0.3048
"""Ohm metres: the greatest product of resistance and area in Table 11-9 for 22 to 4/0 AWG (12.65 ohm cmil/ft)."""
BY_AREA = Source("AC 43.13-1B", Status.DERIVED, "Chg 1", "greatest resistance times area in Table 11-9")
CONTACT = 0.015
"""Ohms of a mated contact of unknown kind."""
CONTACT_SOURCE = Source("", Status.MEMORY, paragraph="15 mohm for a mated contact of which nothing is known")
SPLICE = 0.001
"""Ohms of a crimped splice, from one wire to another."""
SPLICE_SOURCE = Source("", Status.MEMORY, paragraph="1 mohm for a crimped splice, from one wire to another")


@dataclass(frozen=True, slots=True)
class Gap:
    """What is not known, in words, and what to do about it."""

    place: Place
    missing: str
    remedy: str


@dataclass(frozen=True, slots=True)
class Ohms:
    """A resistance and what it rests on."""

    value: float
    source: Source
    celsius: float = COLD


def wire_ohms(harness: Harness, wire: Wire) -> Ohms | Gap:
    """Resistance of a wire, hot from its surroundings; or what is missing."""
    if wire.gauge is None:
        return Gap(wire.place, f"the gauge of {wire.id} is not stated", "give gauge:, or a type: that says it")
    if wire.length is None:
        return Gap(wire.place, f"the length of {wire.id} is not stated", "give length:")
    each, source = per_metre(harness, wire.type, wire.gauge)
    hot = [zone.ambient.high for zone in zones(harness, wire) if zone.ambient is not None]
    celsius = max(hot, default=COLD)
    return Ohms(wire_resistance.at_temperature(each * wire.length, min(celsius, 260.0)), source, celsius)


def per_metre(harness: Harness, number: str | None, gauge: Gauge) -> tuple[float, Source]:
    """Ohms per metre at 20 C: what the drawer says of the wire, else Table 11-9, else by its area."""
    kept = _wires_asked(harness)
    found = kept.get((number, gauge))
    if found is None:
        found = kept[number, gauge] = _per_metre(harness, number, gauge)
    return found


@view
def _wires_asked(harness: Harness) -> dict[tuple[str | None, Gauge], tuple[float, Source]]:
    """Ohms per metre of the types and sizes that anybody has asked for: they are few, and the wires are many."""
    return {}


def _per_metre(harness: Harness, number: str | None, gauge: Gauge) -> tuple[float, Source]:
    record = harness.part("wire", number)
    said = record.quantity("resistance") if record else None
    if record is not None and said is not None:
        source = record.source("resistance")
        assert source is not None
        return said, source
    awg = size_number(gauge)
    if awg in wire_resistance.TIN_COPPER:
        return wire_resistance.per_metre(awg), wire_resistance.TABLE_11_9
    return RESISTIVITY / area(gauge), BY_AREA


def zones(harness: Harness, wire: Wire) -> list[Zone]:
    """The zones that a wire touches: those of its ends and of its route."""
    ends, kept = (wire.a.ref, wire.b.ref, wire.route), _zones_asked(harness)
    found = kept.get(ends)
    if found is None:
        found = kept[ends] = _zones(harness, *ends)
    return list(found)


@view
def _zones_asked(harness: Harness) -> dict[tuple[str, str, str | None], list[Zone]]:
    """Two ends and a route to the zones they touch: the wires between two connectors touch the same."""
    return {}


def _zones(harness: Harness, a: str, b: str, by: str | None) -> list[Zone]:
    names: list[str | None] = []
    for ref in (a, b):
        thing: Connector | Splice | None = harness.connectors.get(ref) or harness.splices.get(ref)
        names.append(thing.zone if thing else None)
    route = harness.routes.get(by or "")
    names.append(route.zone if route else None)
    return [harness.zones[name] for name in dict.fromkeys(names) if name is not None and name in harness.zones]


def contact_ohms(harness: Harness, a: Point, b: Point) -> Ohms:
    """Resistance of a mated pair of contacts: the greater that either half is known for, else a common worst case."""
    known = [found for point in (a, b) if (found := _contact(harness, point)) is not None]
    return max(known, key=lambda ohms: ohms.value, default=Ohms(CONTACT, CONTACT_SOURCE))


def _contact(harness: Harness, point: Point) -> Ohms | None:
    cavity = harness.cavity(point)
    number = cavity.contact if cavity else None
    kept = _contacts_asked(harness)
    if number not in kept:
        kept[number] = _of_contact(harness, number)
    return kept[number]


@view
def _contacts_asked(harness: Harness) -> dict[str | None, Ohms | None]:
    """What is known of the contacts that anybody has asked for, by part number."""
    return {}


def _of_contact(harness: Harness, number: str | None) -> Ohms | None:
    contact = harness.part("contact", number)
    said = contact.quantity("resistance") if contact else None
    if contact is not None and said is not None:
        source = contact.source("resistance")
        assert source is not None
        return Ohms(said, source)
    size = contact.text("size") if contact else None
    record = harness.part("contact size", size)
    said = record.quantity("resistance") if record else None
    source = record.source("resistance") if record else None
    return Ohms(said, source) if said is not None and source is not None else None


def contact_rating(harness: Harness, point: Point) -> tuple[float, Source] | None:
    """Rated current of the contact in a cavity; None when it is not known."""
    cavity = harness.cavity(point)
    contact = harness.part("contact", cavity.contact if cavity else None)
    if contact is None:
        return None
    for record in (contact, harness.part("contact size", contact.text("size"))):
        said = record.quantity("rated current") if record else None
        source = record.source("rated current") if record else None
        if said is not None and source is not None:
            return said, source
    return None
