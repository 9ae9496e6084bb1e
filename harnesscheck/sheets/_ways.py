"""How each pin of a new unit hangs on the aircraft: circuit, feed, return, splice; the facts of the block diagram."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from harnesscheck.circuit import SIGNALS, Circuit
from harnesscheck.device import Pin
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.sheets._labels import Labels


@dataclass(frozen=True, slots=True)
class Way:
    """One pin and what the copper leads to; empty text is unknown or not there."""

    pin: Pin
    circuit: str
    splice: str
    breaker: str
    """Reference of the breaker the copper reaches, or that the circuit is said to hang on."""
    bus: str
    ground: str
    """Reference of the ground stud."""
    known: Circuit | None
    wired: bool
    """True when a wire of the kit ends at the pin's mate."""

    @property
    def rank(self) -> tuple[int, str]:
        """Supply first, then returns, then signals in the order of their classes."""
        names = list(SIGNALS)
        order = {"power": 0, "lighting": 1, "ground": 2, "shield": 3 + len(names)}
        return order.get(self.pin.signal, 3 + names.index(self.pin.signal)), self.known.pair or "" if self.known else ""


def ways(harness: Harness, labels: Labels, ref: str) -> list[Way]:
    """The pins of one unit in the order in which they are drawn."""
    found = [_way(harness, pin) for pin in harness.devices[ref].pins]
    return sorted(found, key=lambda way: (not way.wired, way.rank))


def _way(harness: Harness, pin: Pin) -> Way:
    ends = [pin.point, *(step.end for step in harness.trace(pin.point))]
    named = list(harness.circuits_at(ends))
    known = harness.circuits.get(named[0]) if named else None
    breaker = next((point.ref for point in ends if point.ref in harness.breakers), "")
    breaker = breaker or (known.breaker or "" if known else "")
    bus = next((point.ref for point in ends if point.ref in harness.buses), "")
    if not bus and breaker in harness.breakers:
        bus = harness.breakers[breaker].bus or ""
    ground = next((point.ref for point in ends if point.ref in harness.grounds), "")
    splice = next((point.ref for point in ends if point.ref in harness.splices), "")
    mate = harness.mate_of(pin.point.ref)
    wired = any(point.ref == mate and point.cavity == pin.point.cavity and harness.wires_at(point) for point in ends)
    return Way(pin, ", ".join(named), splice, breaker, bus, ground, known, wired)


def amperes(way: Way) -> str:
    """``0.9 A (peak 2.2 A)``; says so when the maker does not."""
    if way.pin.current is None:
        return "a current that is not stated"
    peak = f" (peak {way.pin.peak:g} A)" if way.pin.peak is not None else ""
    return f"{way.pin.current:g} A{peak}"


def signal(way: Way, short: bool = False) -> str:
    """What is known of a signal line: ``CAN bus (ISO 11898-2), 500 kbit/s, 4 listeners in the aircraft``."""
    said = [SIGNALS[way.pin.signal]]
    known = way.known
    if known is not None and not short:
        said += [f"{known.rate / 1000:g} kbit/s"] if known.rate else []
        said += [f"{known.receivers} listeners in the aircraft"] if known.receivers else []
        said += [known.note] if known.note else []
    return ", ".join(said)


def sentences(harness: Harness, labels: Labels, ref: str, listed: list[Way]) -> Iterator[str]:
    """What the unit does with the aircraft, in sentences; what is not known is said."""
    name = labels.unit(listed[0].pin.point.ref) if listed else ref
    for way in listed:
        pin, circuit = way.pin, way.circuit or "no circuit that is named"
        if not way.wired:
            continue
        if pin.signal in ("power", "lighting") and pin.direction != "out":
            feed = labels.breaker(harness.breakers[way.breaker], "load") if way.breaker in harness.breakers else ""
            bus = labels.bus(way.bus) if way.bus else "a bus that is not stated"
            behind = f"behind {feed} on {bus}" if feed else f"with a protector that is not stated, on {bus}"
            span = f" at {pin.supply.low:g} V to {pin.supply.high:g} V" if pin.supply is not None else ""
            text = f"{name} draws {amperes(way)}{span} at {pin.function} from {circuit}, {behind}."
            if way.known is not None and way.known.load is not None:
                text += f" {way.known.load:g} A is drawn from that circuit already."
            yield " ".join(text.split())
        elif pin.signal == "ground":
            stud = labels.end(Point(way.ground)) if way.ground else "a ground point that is not stated"
            yield " ".join(f"Its current comes back from {pin.function} by {circuit} to {stud}.".split())
    data = [way for way in listed if way.wired and way.pin.signal not in ("power", "lighting", "ground")]
    for way in data:
        verb = {"in": "listens to", "out": "drives", "both": "talks and listens on"}.get(
            way.pin.direction or "", "is joined to"
        )
        yield f"{way.pin.function} {verb} {way.circuit or 'no circuit that is named'}: {signal(way)}."
    shut = [way.pin.function for way in listed if not way.wired]
    if shut:
        yield f"Left without a wire: {', '.join(shut)}."
