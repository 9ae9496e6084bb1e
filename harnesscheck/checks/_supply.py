"""What feeds a net and what it is made of, for the checks on protection, ratings and grounds."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from harnesscheck.checks._words import several
from harnesscheck.circuit import Circuit
from harnesscheck.connector import Origin, Use
from harnesscheck.device import Breaker, Pin
from harnesscheck.harness import Harness, view
from harnesscheck.parts import Fact
from harnesscheck.place import Place, Point
from harnesscheck.source import Source
from harnesscheck.splice import Ground
from harnesscheck.units import Gauge
from harnesscheck.wire import Wire

FED = frozenset({"power", "lighting"})
"""Signal classes that carry supply current."""


@dataclass(slots=True)
class Copper:
    """One net: everything that is one piece of copper, sorted by what it is."""

    wires: list[Wire] = field(default_factory=list)
    circuits: dict[str, Circuit] = field(default_factory=dict)
    loads: list[Breaker] = field(default_factory=list)
    """Breakers whose load side is in the net."""
    named: list[Breaker] = field(default_factory=list)
    """Breakers that a circuit or a cavity of the net is said to be fed from."""
    grounds: list[Ground] = field(default_factory=list)
    buses: list[str] = field(default_factory=list)
    volts: list[float] = field(default_factory=list)
    """Of the buses in the net and of those that feed its breakers."""
    pins: list[Pin] = field(default_factory=list)
    gauges: list[tuple[str, Gauge, Place]] = field(default_factory=list)
    """Existing wires that are not listed: ``the wire at P14-1``, its gauge, where it is stated."""
    unsaid: list[Point] = field(default_factory=list)
    """Cavities of the airframe of which nobody has said what they carry."""

    @property
    def new(self) -> list[Wire]:
        """The conductors that the jumper brings; shields and drains carry no supply and are left out."""
        return [wire for wire in self.wires if wire.origin is Origin.JUMPER and not wire.is_shield]

    @property
    def breakers(self) -> list[Breaker]:
        """The breakers that feed it: those that the copper reaches, else those that are named."""
        return self.loads or self.named

    @property
    def is_supply(self) -> bool:
        """True when a circuit of the net carries supply, or a breaker feeds it."""
        return bool(self.breakers) or any(circuit.signal in FED for circuit in self.circuits.values())

    def called(self) -> str:
        """The circuit names, else the first wire."""
        return " and ".join(self.circuits) or f"the circuit of {self.wires[0].id}"


@view
def coppers(harness: Harness) -> list[Copper]:
    """Every net, in net order. Treat the result as read only: it is kept for the next check."""
    nets = harness.nets
    found = [Copper() for _ in range(nets.count)]

    def at(point: Point) -> Copper:
        return found[nets.at(point)]

    for wire in harness.wires.values():
        at(wire.a).wires.append(wire)
    for connector, cavity in harness.cavities():
        here = at(cavity.point)
        circuit = harness.circuits.get(cavity.circuit or "")
        if circuit is not None:
            here.circuits.setdefault(circuit.name, circuit)
        if connector.origin is Origin.AIRFRAME:
            if cavity.gauge is not None:
                place = replace(cavity.place, label=f"the wire at {cavity.point}")
                here.gauges.append((place.label, cavity.gauge, place))
            if cavity.use is Use.UNKNOWN:
                here.unsaid.append(cavity.point)
        for name in (cavity.breaker, circuit.breaker if circuit else None):
            breaker = harness.breakers.get(name or "")
            if breaker is not None and breaker not in here.named:
                here.named.append(breaker)
    for breaker in harness.breakers.values():
        at(Point(breaker.ref, "load")).loads.append(breaker)
    for name, ground in harness.grounds.items():
        at(Point(name)).grounds.append(ground)
    for pin in harness.pins():
        at(pin.point).pins.append(pin)
    for name, bus in harness.buses.items():
        at(Point(name)).buses.append(name)
        if bus.volts is not None:
            at(Point(name)).volts.append(bus.volts)
    for here in found:
        for breaker in here.breakers:
            feeding = harness.buses.get(breaker.bus or "")
            if feeding is not None and feeding.volts is not None:
                here.volts.append(feeding.volts)
    return found


@dataclass(frozen=True, slots=True)
class Rated:
    """A rating of a wire, with the weakest source it rests on."""

    number: str
    value: float
    source: Source


@dataclass(frozen=True, slots=True)
class Unrated:
    """What is missing for a rating, and what to do about it."""

    missing: str
    remedy: str


def rating(harness: Harness, wire: Wire, name: str, word: str) -> Rated | Unrated:
    """``temperature`` or ``volts`` of a wire or cable core, or what is missing for it."""
    number, through = wire.type, None
    if number is None and wire.cable is not None:
        cable = harness.cables.get(wire.cable)
        kind = cable.type if cable else None
        if kind is None:
            return Unrated(f"the type of cable {wire.cable} is not stated", "give type: for the cable")
        record = harness.part("cable", kind)
        through = record.fact("spec") if record else None
        if through is None:
            return Unrated(f"which wire cable {kind} is made of is not known", "give spec: in the shop's parts file")
        number = str(through.value)
    if number is None:
        return Unrated("the wire type is not stated", "give type:")
    part = harness.part("wire", number)
    fact = part.fact(name) if part else None
    value = part.quantity(name) if part else None
    if fact is None or value is None:
        return Unrated(f"the {word} of wire {number} is not known", f"give {name}: in the shop's parts file")
    return Rated(number, value, _weaker(through, fact))


def _weaker(first: Fact | None, second: Fact) -> Source:
    return first.source if first is not None and not first.firm else second.source


def lowest(rated: Iterable[Rated], unit: str) -> tuple[str, float, Source]:
    """Several ratings in one: ``wire X is rated 150 C``, the lowest value, and the source of the lowest that is firm.

    One firm rating that is too low is enough to stop for; only when all of them are from memory is it lowered.
    """
    ordered = sorted(rated, key=lambda one: one.value)
    first = next((one for one in ordered if one.source.firm), ordered[0])
    numbers = list(dict.fromkeys(one.number for one in ordered))
    if len(numbers) == 1:
        words = f"wire {numbers[0]} is rated {first.value:g} {unit}"
    else:
        least = "" if ordered[0].value == ordered[-1].value else " or more"
        words = f"wires {several(numbers)} are rated {ordered[0].value:g} {unit}{least}"
    return words, first.value, first.source
