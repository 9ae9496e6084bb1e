"""What hangs on a signal line: the circuit as the airframe file states it, and the new units whose pins join it.

A bus here is one signal: a single conductor, or the conductors of one pair. Nets where several circuits are joined are
left out (``mixed`` says so for each check), and so are pins of another signal class than the circuit:
broken-through-circuit, pin-collision and pin-map-mismatch say what is wrong with them.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Container, Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from harnesscheck.checks._pairs import LINES
from harnesscheck.checks._pairs import PAIRED as _TWISTED
from harnesscheck.checks._supply import Copper, coppers
from harnesscheck.checks._words import several
from harnesscheck.circuit import Circuit
from harnesscheck.connector import Origin
from harnesscheck.device import Pin
from harnesscheck.finding import NotChecked
from harnesscheck.harness import Harness, Kind, view
from harnesscheck.place import Place, Point
from harnesscheck.wire import Wire

NOT_SIGNALS = frozenset({"power", "ground", "shield", "signal ground", "none"})
PAIRED = _TWISTED | {"thermocouple"}
KEYS = {
    "most_receivers": "most receivers",
    "input_resistance": "input resistance",
    "source_resistance": "source resistance",
    "driver_current": "driver current",
    "unit_load": "unit load",
    "bus_length": "bus length",
    "stub_length": "stub length",
    "pull_up": "pull-up",
    "pull_up_supply": "pull-up supply",
    "terminator_state": "terminator state",
}
"""Keys of the files that are spelled otherwise than the field of the record."""


@dataclass(frozen=True, slots=True)
class Line:
    """One conductor: its copper, the circuit that it is, and the new pins on it."""

    copper: Copper
    circuits: tuple[Circuit, ...]
    """Its circuit; several when the aircraft gives one piece of copper several names; none between new units."""
    signal: str
    pins: tuple[Pin, ...]

    @property
    def circuit(self) -> Circuit | None:
        """The first name of it."""
        return self.circuits[0] if self.circuits else None

    @property
    def place(self) -> Place:
        """The line of the circuit, else of the first pin."""
        return self.circuits[0].place if self.circuits else self.pins[0].place


@dataclass(frozen=True, slots=True)
class Unit:
    """One new unit on a bus, with its pins there."""

    ref: str
    pins: tuple[Pin, ...]

    def __str__(self) -> str:
        """``A12 (A12J1-3 and A12J1-4)``."""
        return f"{self.ref} ({several(str(p.point) for p in self.pins)})"

    @property
    def place(self) -> Place:
        """The line of its first pin."""
        return self.pins[0].place

    def said(self, key: str) -> Any:
        """What its pins state; None when they state nothing, or different things."""
        return _agreed(self.pins, key)

    @property
    def talks(self) -> bool | None:
        """True when a pin drives the line; None when no pin states a direction."""
        said = [pin.direction for pin in self.pins if pin.direction]
        return any(one != "in" for one in said) if said else None

    @property
    def listens(self) -> bool:
        """False only when every pin that states a direction drives."""
        said = [pin.direction for pin in self.pins if pin.direction]
        return not said or any(one != "out" for one in said)


@dataclass(frozen=True, slots=True)
class Bus:
    """One signal with everything that is known to hang on it."""

    signal: str
    lines: tuple[Line, ...]
    units: tuple[Unit, ...]

    @property
    def circuits(self) -> tuple[Circuit, ...]:
        """The circuits of the airframe that it is; none between two new units."""
        return tuple(circuit for line in self.lines for circuit in line.circuits)

    @property
    def name(self) -> str:
        """``CAN H/CAN L``: the circuit names, else the pins."""
        if self.circuits:
            return "/".join(circuit.name for circuit in self.circuits)
        return f"the line of {several(str(pin.point) for pin in self.lines[0].pins)}"

    @property
    def place(self) -> Place:
        """The line of its first circuit."""
        return self.lines[0].place

    @property
    def places(self) -> tuple[Place, ...]:
        """Circuits, pins and new wires, for a finding's others."""
        pins = (pin.place for unit in self.units for pin in unit.pins)
        wires = (wire.place for line in self.lines for wire in line.copper.new)
        return (*(line.place for line in self.lines), *pins, *wires)

    def said(self, key: str) -> Any:
        """What its circuits state; None when they state nothing, or different things."""
        return _agreed(self.circuits, key)

    def count(self, key: str) -> int | None:
        """A number of things in the aircraft: 0 where the bus does not run through the aircraft."""
        found = self.said(key) if self.circuits else 0
        return None if found is None else int(found)


def _agreed(things: Iterable[object], key: str) -> Any:
    found = {value for thing in things if (value := getattr(thing, key)) is not None}
    return found.pop() if len(found) == 1 else None


class Missing:
    """Collects what a check would need to know about one bus, and says it in one answer."""

    def __init__(self, bus: Bus) -> None:
        self.bus = bus
        self.asked: dict[str, list[str]] = {}
        self.differ: list[str] = []

    def circuit(self, key: str) -> Any:
        """What the circuits state under a key; noted as missing when they do not."""
        found = self.bus.said(key)
        if found is None and self.bus.circuits:
            self._ask(KEYS.get(key, key), self.bus.circuits[0].name, self.bus.circuits, key)
        return found

    def count(self, key: str) -> int | None:
        """A number of things; noted as missing when the circuits do not state it."""
        return self.circuit(key) if self.bus.circuits else 0

    def unit(self, unit: Unit, key: str) -> Any:
        """What a unit states under a key; noted as missing when it does not."""
        found = unit.said(key)
        if found is None:
            self._ask(KEYS.get(key, key), str(unit.pins[0].point), unit.pins, key)
        return found

    def note(self, key: str, where: str) -> None:
        """Something that is missing at a place, in words."""
        self.asked.setdefault(where, []).append(key)

    def _ask(self, key: str, where: str, things: Iterable[object], field: str) -> None:
        if any(getattr(thing, field) is not None for thing in things):
            self.differ.append(f"{key} at {where} and its partner")
        elif key not in self.asked.setdefault(where, []):
            self.asked[where].append(key)

    def __bool__(self) -> bool:
        """True when something is missing."""
        return bool(self.asked or self.differ)

    def answer(self, what: str) -> NotChecked:
        """One answer: ``what`` is what could not be looked at."""
        words = [f"{several(keys)} of {where}" for where, keys in self.asked.items()]
        said = f"not stated: {'; '.join(words)}" if words else ""
        if self.differ:
            said += f"{'; ' if said else ''}stated in two ways: {several(self.differ)}"
        keys = several(f"{key}:" for keys in self.asked.values() for key in keys)
        remedy = f"give {keys}" if keys else "state it once"
        return NotChecked(place=self.bus.place, missing=f"{what}: {said}", remedy=remedy)


def ohms(value: float) -> str:
    """``120 ohm``, ``19.9 kohm``, ``1 Mohm``."""
    for size, unit in ((1e6, "Mohm"), (1e3, "kohm")):
        if value >= size:
            return f"{value / size:.3g} {unit}"
    return f"{value:.3g} ohm"


def bits(rate: float) -> str:
    """``9600 bit/s``, ``500 kbit/s``, ``1 Mbit/s``."""
    for least, size, unit in ((1e6, 1e6, "Mbit/s"), (1e4, 1e3, "kbit/s")):
        if rate >= least:
            return f"{rate / size:g} {unit}"
    return f"{rate:g} bit/s"


@view
def buses(harness: Harness) -> list[Bus]:
    """Every signal that the kit touches, in the order of its circuits, then of its pins."""
    return _buses(harness) if harness.kind is Kind.INSTALLED else []


def tapped(harness: Harness) -> list[Bus]:
    """The signals that a new unit joins."""
    return [bus for bus in buses(harness) if bus.units]


def _buses(harness: Harness) -> list[Bus]:
    together: dict[tuple[str, str], list[Line]] = {}
    open_: dict[str, list[Line]] = {}
    order = {name: number for number, name in enumerate(harness.circuits)}
    for line in sorted(_lines(harness), key=lambda one: order.get(one.circuit.name if one.circuit else "", len(order))):
        if line.circuit and line.circuit.pair:
            together.setdefault((line.signal, line.circuit.pair), []).append(line)
        elif line.signal in PAIRED and line.circuit:
            open_.setdefault(line.signal, []).append(line)
        else:
            together[line.signal, f"line {id(line)}"] = [line]
    for signal, lines in open_.items():
        # Two conductors with lines H and L leave no doubt that they are a pair; of more nobody has said which.
        couple = len(lines) == 2 and frozenset(one.circuit.line or "" for one in lines if one.circuit) in LINES
        for number, group in enumerate([lines] if couple else [[line] for line in lines]):
            together[signal, f"open {number}"] = group
    of = {pin.point: device.ref for device in harness.devices.values() for pin in device.pins}
    found = []
    for (signal, _), lines in together.items():
        units: dict[str, list[Pin]] = {}
        for pin in (pin for line in lines for pin in line.pins):
            units.setdefault(of[pin.point], []).append(pin)
        found.append(Bus(signal, tuple(lines), tuple(Unit(ref, tuple(pins)) for ref, pins in units.items())))
    return found


def _lines(harness: Harness) -> list[Line]:
    found = []
    for copper in coppers(harness):
        if not copper.new or (len(copper.circuits) > 1 and not _one_before(harness, copper)):
            continue
        circuits = tuple(copper.circuits.values())
        circuit = circuits[0] if circuits else None
        pins = [pin for pin in copper.pins if pin.connect and pin.signal not in NOT_SIGNALS]
        signal = circuit.signal if circuit else pins[0].signal if pins else None
        if signal is None or signal in NOT_SIGNALS or (circuit is None and _touches_aircraft(harness, copper)):
            continue
        found.append(Line(copper, circuits, signal, tuple(pin for pin in pins if pin.signal == signal)))
    return found


def _one_before(harness: Harness, copper: Copper) -> bool:
    """True when the circuits were one piece of copper of one signal class before the kit came."""
    before = harness.before
    if before is None or len({circuit.signal for circuit in copper.circuits.values()}) > 1:
        return False
    named = (cavity for _, cavity in before.cavities() if cavity.circuit in copper.circuits)
    return len({before.nets.of(cavity.point) for cavity in named}) == 1


def mixed(harness: Harness, signals: Container[str]) -> Iterator[NotChecked]:
    """Copper of several circuits, one of these classes among them, that a new unit joins: nobody can say what hangs on
    which of them. That they are joined is a finding of other checks.
    """
    if harness.kind is not Kind.INSTALLED:
        return
    for copper in coppers(harness):
        mine = [circuit for circuit in copper.circuits.values() if circuit.signal in signals]
        pins = any(pin.connect and pin.signal not in NOT_SIGNALS for pin in copper.pins)
        if not mine or not pins or not copper.new or len(copper.circuits) < 2 or _one_before(harness, copper):
            continue
        yield NotChecked(
            place=mine[0].place,
            missing=f"{several(copper.circuits)} are one piece of copper, so what hangs on {mine[0].name} is not known",
            remedy="part them first: see broken-through-circuit and pin-collision",
        )


def _touches_aircraft(harness: Harness, copper: Copper) -> bool:
    """True when copper without a circuit name leads into the aircraft; pin-map-mismatch says that it has no name."""
    refs = {point.ref for wire in copper.wires for point in (wire.a, wire.b)}
    halves = refs | {mate for ref in refs if (mate := harness.mate_of(ref))}
    own = (harness.connectors[half].origin is Origin.AIRFRAME for half in halves if half in harness.connectors)
    return any(own) or bool(copper.grounds or copper.buses or copper.breakers)


@dataclass(frozen=True, slots=True)
class Way:
    """Wires from one point to another, and those of them whose length is not stated."""

    wires: tuple[Wire, ...]
    end: Point

    @property
    def unknown(self) -> list[str]:
        """Ids of the wires without a length."""
        return [wire.id for wire in self.wires if wire.length is None]

    @property
    def length(self) -> float:
        """Sum of the lengths that are known, metres. A core counts with its cable, for it is not longer."""
        return math.fsum(wire.length or 0.0 for wire in self.wires)


def way(harness: Harness, start: Point, ends: Iterable[Point]) -> Way | None:
    """The shortest way (in steps) along the copper from a point to any of the ends; None when there is none."""
    goal = frozenset(ends)
    before: dict[Point, tuple[Point, str] | None] = {start: None}
    waiting = deque([start])
    while waiting:
        point = waiting.popleft()
        if point in goal:
            wires: list[Wire] = []
            here = point
            while (step := before[here]) is not None:
                if step[1] in harness.wires:
                    wires.append(harness.wires[step[1]])
                here = step[0]
            return Way(tuple(reversed(wires)), point)
        for through, other in harness.neighbours(point):
            if other not in before:
                before[other] = (point, through)
                waiting.append(other)
    return None  # pragma: no cover - the callers ask for points of one piece of copper


def trunks(harness: Harness, line: Line) -> list[Way]:
    """The ways of a line through each kit, from one opened half to the other; none when it does not run through."""
    nets = harness.nets
    net = nets.of(line.copper.new[0].a)
    found = []
    for pair in harness.opens:
        # Of one half nothing may be listed: it has the cavities of the other.
        names = dict.fromkeys(name for ref in pair for name in harness.connectors[ref].cavities)
        starts, ends = ([point for name in names if nets.of(point := Point(ref, name)) == net] for ref in pair)
        through = way(harness, starts[0], ends) if starts and ends else None
        found += [through] if through is not None else []
    return found


def on_trunk(harness: Harness, line: Line) -> set[Point]:
    """The points of a line from which a branch is a stub: the way through the kit, and what is the aircraft's own."""
    points = {wire.a for wire in line.copper.wires} | {wire.b for wire in line.copper.wires}
    new = {wire.id for wire in line.copper.new}
    own = {p for p in points if any(w.id not in new for w in harness.wires_at(p)) or p.ref in harness.opened}
    return own | {p for through in trunks(harness, line) for wire in through.wires for p in (wire.a, wire.b)}


def stub(harness: Harness, line: Line, pin: Pin) -> Way | None:
    """The branch from a pin to the trunk; None when there is no trunk."""
    points = on_trunk(harness, line)
    return way(harness, pin.point, points) if points else None
