"""Who else is on a piece of copper: pins, loads, breakers, studs, buses, and what the pin map says of its circuits."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import isfinite

from harnesscheck.circuit import Circuit
from harnesscheck.device import Breaker, Pin
from harnesscheck.harness import Harness
from harnesscheck.place import Point


@dataclass(frozen=True, slots=True)
class Other:
    """One thing that is on the copper. ``kind`` is the trade's word for it."""

    kind: str
    name: str
    words: str


def others(harness: Harness, points: list[Point]) -> list[Other]:
    """Everything that is known to be on the copper of ``points``, in the order of the files."""
    on, named = set(points), harness.circuits_at(points)
    refs = {point.ref for point in points}
    found = [Other("pin", str(pin.point), _pin(pin)) for pin in harness.pins() if pin.point in on]
    found += [
        Other("tap", str(point), f"declared as a tap of {tap.circuit}")
        for point, tap in harness.taps.items()
        if point in on
    ]
    fed = _breakers(harness, on, named)
    for breaker, told in fed.items():
        found.append(Other("breaker", breaker, told))
    for load in harness.loads.values():
        if load.breaker in fed or (load.bus in refs and load.bus in harness.buses):
            found.append(Other("load", load.name, _amperes(load.current, load.peak, load.duty)))
    for name in named:
        circuit = harness.circuits.get(name)
        if circuit is None:
            found.append(Other("circuit", name, "nothing more is said of it"))
            continue
        if circuit.load is not None or circuit.peak is not None:
            words = _amperes(circuit.load, circuit.peak, circuit.duty or "")
            back = f", returns by {circuit.returns}" if circuit.returns else ""
            found.append(Other("load", f"of {name}", words + back))
        found += _circuit(harness, circuit)
    for point in points:
        cavity = harness.cavity(point)
        if cavity is not None and cavity.grounded:
            found.append(Other("ground", str(point), "the wiring behind it grounds the shield"))
    for stud in harness.grounds.values():
        if stud.ref in refs:
            found.append(Other("ground stud", stud.ref, stud.name or "joins the structure"))
    for bus in harness.buses.values():
        if bus.ref in refs:
            found.append(Other("bus", bus.ref, ", ".join(w for w in (bus.name, _volts(bus.volts)) if w)))
    return found


def _pin(pin: Pin) -> str:
    words = [pin.function, pin.signal, f"line {pin.line}" if pin.line else "", pin.direction or ""]
    if pin.current is not None or pin.peak is not None:
        words.append(_amperes(pin.current, pin.peak, pin.duty or ""))
    if pin.terminator is not None and isfinite(pin.terminator):
        state = f", {pin.terminator_state}" if pin.terminator_state else ", whether it is on is not stated"
        words.append(f"terminator of {pin.terminator:g} ohm inside{state}")
    if not pin.connect:
        words.append("nothing may be connected")
    return ", ".join(word for word in words if word)


def _breakers(harness: Harness, on: set[Point], named: dict[str, Point]) -> dict[str, str]:
    """Breakers at an end of the copper, then those that only the pin map names."""
    found: dict[str, str] = {}
    for breaker in harness.breakers.values():
        for end, side in (("load", "load side"), ("line", "line side")):
            if Point(breaker.ref, end) in on:
                found[breaker.ref] = _breaker(breaker, side)
    stated = [harness.circuits[name].breaker for name in named if name in harness.circuits]
    stated += [cavity.breaker for point in sorted(on, key=str) if (cavity := harness.cavity(point)) is not None]
    for ref in stated:
        if ref and ref not in found:
            record = harness.breakers.get(ref)
            side = "by the pin map; its wire is not listed"
            found[ref] = _breaker(record, side) if record is not None else side
    return found


def _breaker(breaker: Breaker, side: str) -> str:
    rating = f"{breaker.rating:g} A" if breaker.rating is not None else "rating not stated"
    fed = f"fed from {breaker.bus}" if breaker.bus else "its bus is not stated"
    return ", ".join(word for word in (breaker.name, rating, fed, side) if word)


def _circuit(harness: Harness, circuit: Circuit) -> Iterator[Other]:
    counted = (
        (circuit.drivers, "driver"),
        (circuit.receivers, "receiver"),
        (circuit.terminators, "terminator"),
    )
    words = [f"{n} {what}{'' if n == 1 else 's'} in the aircraft" for n, what in counted if n is not None]
    if circuit.terminators and circuit.terminator is not None:
        words[-1] += f" of {circuit.terminator:g} ohm"
    partners = [c.name for c in harness.circuits.values() if circuit.pair and c.pair == circuit.pair and c != circuit]
    words += [f"pair with {name}" for name in partners]
    covers = [c.name for c in harness.circuits.values() if c.shields in (circuit.name, circuit.pair) and c.shields]
    words += [f"shield: {name}" for name in covers]
    if circuit.shields:
        words.append(f"shields {circuit.shields}, grounded at {circuit.shield_ends or 'ends not stated'}")
    if circuit.supply is not None:
        words.append(_volts(circuit.supply))
    if circuit.note:
        words.append(circuit.note)
    said = ", ".join([circuit.signal or "signal not stated", *words])
    yield Other("circuit", circuit.name, said)


def _amperes(current: float | None, peak: float | None, duty: str) -> str:
    words = [f"{current:g} A" if current is not None else "current not stated"]
    words += [f"most {peak:g} A"] if peak is not None else []
    return ", ".join([*words, *([duty] if duty == "intermittent" else [])])


def _volts(volts: float | None) -> str:
    return f"{volts:g} V" if volts is not None else ""
