"""The jumper delivers something else to a pin of the equipment than the equipment wants there.

What
    Each pin of the new equipment is followed through the jumper to the airframe circuit it ends on. The signal class,
    the conductor of the pair (H or L, A or B, + or -), the supply voltage and the circuit named under taps: must agree
    with what the maker wants on that pin. A pin the equipment cannot do without must reach a circuit; a pin that must
    stay open must reach none. Pins that are exchanged among themselves are reported as one finding. Circuit names that
    are typed twice, on two halves that mate or at a cavity of the kit, are compared as well.

Why it matters
    The unit is silent or its bus is dead if it goes well; supply stands on a data pin if it does not.

Source
    The equipment file (the maker's pin table) against the airframe's circuits.

What to do
    Follow the pin with harnesscheck trace, correct the cavity at one end of the tap wire, and check again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from harnesscheck.checks._labels import compare_labels, named_by_net, names_at
from harnesscheck.checks._pins import Wrong, findings, wires_facing
from harnesscheck.checks._words import several
from harnesscheck.circuit import Circuit
from harnesscheck.connector import Origin
from harnesscheck.device import Pin
from harnesscheck.finding import Answer, NotChecked, Passed, Severity
from harnesscheck.harness import Harness, Kind
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("pin table of the equipment against the airframe's circuits", Status.STATED)
FOLLOWS = (
    "unknown-cavity",
    "pin-collision",
    "two-wires-in-one-contact",
    "dead-end-wire",
    "wrong-mate",
    "mirrored-pin-map",
    "shifted-pin-map",
    "ribbon-order-pin-map",
    "drain-on-wrong-contact",
    "broken-through-circuit",
    "shared-sensor-return",
)

PAIRED = frozenset({"can", "rs422", "rs485", "arinc429", "thermocouple"})
"""Signal classes where the two conductors must not be exchanged, so that both files have to say which is which."""


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every pin of every equipment unit of an installed harness, and at names that are typed twice."""
    named = named_by_net(harness)
    yield from compare_labels(harness, named)
    if harness.kind is not Kind.INSTALLED:
        return
    pins = list(harness.pins())
    for ref, connector in harness.connectors.items():
        if connector.origin is Origin.EQUIPMENT and not any(pin.point.ref == ref for pin in pins):
            yield NotChecked(place=connector.place, missing="no pin of it is listed", remedy="list pins:")
    good = 0
    wrong: list[Wrong] = []
    for pin in pins:
        verdict = list(_compare(harness, pin, names_at(harness, named, pin.point)))
        wrong += [answer for answer in verdict if isinstance(answer, Wrong)]
        yield from (answer for answer in verdict if isinstance(answer, NotChecked))
        good += not verdict
    yield from findings(harness, wrong, named)
    yield Passed(good, "equipment pins")


def _compare(harness: Harness, pin: Pin, names: Sequence[str]) -> Iterator[Wrong | NotChecked]:
    """What is wrong with one pin, or not known about it; nothing when it is right."""
    tap = harness.taps.get(pin.point)
    wires = wires_facing(harness, pin)
    got = names[0] if names else ""
    gets = several(names) or (f"wire {wires[0].id}" if wires else "")
    if not pin.connect:
        if gets:
            yield Wrong(pin, f"must stay open, but {gets} is led to it", got, gets, "nothing connected")
        elif tap:
            words, remedy = f"must stay open, but taps: names {tap.circuit} for it", "remove its line under taps:"
            yield Wrong(pin, words, "", "a tap", "no tap", remedy)
        return
    if not names:
        yield from _unreached(harness, pin, bool(wires))
        return
    circuits = [harness.circuits[name] for name in names if name in harness.circuits]
    if tap is not None and tap.circuit not in names:
        words = f"({pin.function}) is led to {gets}, while taps: names {tap.circuit}"
        remedy = f"correct one end of {several(w.id for w in wires)}, or the line under taps:" if wires else ""
        yield Wrong(pin, words, got, gets, f"{tap.circuit}, as taps: says", remedy)
        return
    unlike = next((c for c in circuits if c.signal not in (None, pin.signal)), None)
    if unlike is not None:
        words = f"wants {pin.function} ({pin.signal}), but gets {unlike.name} ({unlike.signal})"
        yield Wrong(pin, words, unlike.name, f"{unlike.name} ({unlike.signal})", f"{pin.function} ({pin.signal})")
        return
    unsaid = next((c for c in circuits if c.signal is None), None)
    if unsaid is not None:
        missing = f"the signal class of circuit {unsaid.name} is not stated"
        yield NotChecked(place=pin.place, missing=missing, remedy="give signal: for the circuit")
        return
    crossed = next((c for c in circuits if c.line and pin.line and c.line != pin.line), None)
    if crossed is not None:
        words = f"wants {pin.function} ({pin.line}), but gets {crossed.name} ({crossed.line})"
        yield Wrong(pin, words, crossed.name, f"{crossed.name} ({crossed.line})", f"{pin.function} ({pin.line})")
        return
    if pin.signal in PAIRED and (pin.line is None or any(c.line is None for c in circuits)):
        which = f"pin {pin.point}" if pin.line is None else got
        missing = f"which conductor of the pair {which} is, is not stated"
        yield NotChecked(place=pin.place, missing=missing, remedy="give line: for the pin and for the circuit")
        return
    yield from _supply(harness, pin, circuits)
    if tap is None:
        yield NotChecked(
            place=pin.place,
            missing=f"this pin gets {got}, but no circuit is declared for it under taps:",
            remedy="declare it, so that what is meant can be compared with what is wired",
        )


def _unreached(harness: Harness, pin: Pin, wired: bool) -> Iterator[Wrong | NotChecked]:
    tap = harness.taps.get(pin.point)
    ends = [step.end.ref for step in harness.trace(pin.point)]
    stud = next((ref for ref in ends if ref in harness.grounds or ref in harness.buses), "")
    if stud in harness.grounds and pin.signal == "ground" and tap is None:
        return  # a ground wire of its own to a stud: nothing that could be declared under taps:
    if pin.required or tap or stud:
        words = f"wants {pin.function}, but " + (f"is led to {stud}" if stud else "reaches no circuit of the aircraft")
        yield Wrong(pin, words, "", stud or "no circuit", tap.circuit if tap else pin.function)
    elif wired:
        missing = "the wire on this pin reaches no circuit whose name is known"
        yield NotChecked(place=pin.place, missing=missing, remedy="name the circuit in the airframe file")


def _supply(harness: Harness, pin: Pin, circuits: Sequence[Circuit]) -> Iterator[Wrong | NotChecked]:
    """The voltage of the circuit, and that of the bus its breaker hangs on, against what the equipment works from."""
    if pin.signal != "power":
        return
    volts = {c.name: c.supply for c in circuits if c.supply is not None}
    for circuit in circuits:
        breaker = harness.breakers.get(circuit.breaker or "")
        bus = harness.buses.get(breaker.bus or "") if breaker else None
        if bus is not None and bus.volts is not None:
            volts[f"{bus.ref}, which feeds {circuit.name}," if circuit.name in volts else circuit.name] = bus.volts
    if pin.supply is None or not volts:
        what = f"the supply range of {pin.point}" if pin.supply is None else f"the voltage of {circuits[0].name}"
        yield NotChecked(place=pin.place, missing=f"{what} is not stated", remedy="give supply:")
        return
    for name, value in volts.items():
        if value not in pin.supply:
            span = f"{pin.supply.low:g} V to {pin.supply.high:g} V"
            words = f"works from {span}, but {name} has {value:g} V"
            remedy = "feed it from another circuit, or through a converter; correct supply: where it is typed wrong"
            yield Wrong(pin, words, circuits[0].name, f"{value:g} V", span, remedy)
            return
