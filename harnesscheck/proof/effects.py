"""What the kit does to each circuit of the aircraft, in numbers: resistance, drop, load, stubs, receivers.

Every number keeps the pieces it is made of. All resistances are those at 20 C, contacts at their worst; the contact
that is parted is not deducted, so every sum is an upper bound. Along parallel wires the way with the fewest steps
counts: what is beside it only lowers the resistance (Rayleigh's monotonicity law).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from harnesscheck.circuit import Circuit
from harnesscheck.connector import NONE, Use
from harnesscheck.device import Pin
from harnesscheck.electrics.budget import lines
from harnesscheck.electrics.consumers import FED, consumers
from harnesscheck.electrics.elements import CONTACT_SOURCE, SPLICE, contact_ohms, per_metre
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.proof.copper import Copper, Edge

NO_STUB = frozenset({None, "power", "ground", "lighting", "shield", "signal ground", "none"})
"""Signal classes for which the length of a branch means nothing by itself."""


@dataclass(frozen=True, slots=True)
class Load:
    """One current, amperes; None is not stated. On a way the highest, on a breaker continuous and highest."""

    name: str
    new: bool
    amps: float | None
    peak: float | None = None


@dataclass(slots=True)
class Way:
    """One contact of the opened pair, and the way through the kit that takes its place."""

    pair: Edge
    circuits: tuple[str, ...]
    use: Use
    kit: tuple[Edge, ...] | None
    """None: the kit does not lead it through."""
    splices: tuple[str, ...] = ()
    ohms: float | None = None
    carries: str = ""
    """``supply``, ``return``, or empty."""
    loads: list[Load] = field(default_factory=list)
    kit_volts: float | None = None
    """Drop in the kit by all these loads, at most."""
    aircraft: tuple[Edge, ...] | None = None
    """The aircraft's own wiring that the new loads share, from the pair to its breaker, bus or stud."""
    device: str = ""
    device_ohms: float | None = None
    aircraft_splices: tuple[str, ...] = ()
    aircraft_ohms: float | None = None
    aircraft_volts: float | None = None
    """Drop of the new loads there, which the loads of the aircraft see as well."""
    unknown: list[str] = field(default_factory=list)

    @property
    def name(self) -> str:
        """Its circuits, else what is known of it."""
        return " and ".join(self.circuits) or {Use.SPARE: "spare", Use.LIVE: "no name"}.get(self.use, "nobody has said")


@dataclass(slots=True)
class Fed:
    """A breaker that feeds the new equipment."""

    ref: str
    rating: float | None
    loads: list[Load] = field(default_factory=list)
    before: float | None = None
    """Sums of the continuous currents."""
    after: float | None = None
    share: float | None = None
    """Of its rating."""
    peak: float | None = None
    """Sum of all highest currents with the kit."""
    unknown: list[str] = field(default_factory=list)


@dataclass(slots=True)
class Stub:
    """A tap on a signal circuit: the branch from the pin to the way through the kit, and what the unit adds."""

    pin: Point
    circuit: str
    steps: tuple[Edge, ...] | None
    metres: float | None
    listens: bool | None
    receivers: int | None
    """Before."""
    added: int
    """New units on the circuit, those left out of which the maker says that they only talk."""
    receivers_after: int | None
    most: int | None
    unknown: list[str] = field(default_factory=list)

    @property
    def share(self) -> float | None:
        """Of the receivers that its driver allows."""
        return None if self.receivers_after is None or not self.most else self.receivers_after / self.most


@dataclass(frozen=True, slots=True)
class Piece:
    """What a wire or a contact is reckoned with."""

    metres: float | None = None
    ohm_per_metre: float | None = None
    ohms: float | None = None
    source: str = ""


class Effects:
    """Everything that changes for the circuits of the aircraft, with the pieces it is reckoned from."""

    def __init__(self, copper: Copper) -> None:
        self.copper = copper
        self.harness = copper.harness
        self.pieces: dict[str, Piece] = {}
        self.lengths: dict[str, float | None] = {}
        self.ways = [self._way(pair) for pair in copper.pairs]
        self.breakers = list(self._breakers())
        self.stubs = list(self._stubs())

    # -- the way through -------------------------------------------------------------------------------------------

    def _way(self, pair: Edge) -> Way:
        copper = self.copper
        net = copper.before.of(pair.a)
        assert net is not None
        names = tuple(copper.airframe.circuits_at(copper.members[net]))
        way = Way(pair, names, copper.use[net], copper.way(pair.a, lambda point: point == pair.b, kit=True))
        if way.kit is None:
            if way.use is not Use.SPARE:
                way.unknown.append(f"the kit does not lead {pair.a} to {pair.b}")
            return way
        way.splices = self._splices(way.kit)
        way.ohms = self._ohms(way.kit, way.splices, way.unknown)
        if not names and way.use is not Use.SPARE:
            way.unknown.append(f"nobody has said what {pair.a} carries")
        known = self.harness.circuits
        way.unknown += [f"what {name} is for" for name in names if name not in known or known[name].signal is None]
        self._drop(way, [self.harness.circuits[name] for name in names if name in self.harness.circuits])
        return way

    def _splices(self, steps: Iterable[Edge]) -> tuple[str, ...]:
        passed = dict.fromkeys(point.ref for edge in steps for point in (edge.a, edge.b))
        return tuple(ref for ref in passed if ref in self.harness.splices)

    def _ohms(self, steps: Iterable[Edge], splices: tuple[str, ...], unknown: list[str]) -> float | None:
        total: float | None = SPLICE * len(splices)
        for edge in steps:
            piece = self.pieces.get(edge.id) or self.pieces.setdefault(edge.id, self._piece(edge))
            ohms = piece.ohms
            if edge.kind == "wire":
                unknown += [
                    f"{what} of {edge.id}"
                    for what, value in (("length", piece.metres), ("gauge or resistance", piece.ohm_per_metre))
                    if value is None
                ]
                missing = piece.metres is None or piece.ohm_per_metre is None
                ohms = None if missing else (piece.metres or 0.0) * (piece.ohm_per_metre or 0.0)
            elif ohms is None:
                unknown.append(f"resistance inside the unit, {edge.id}")
            total = None if total is None or ohms is None else total + ohms
        return total

    def _piece(self, edge: Edge) -> Piece:
        if edge.kind == "inside":
            return Piece()
        if edge.kind == "mate":
            found = contact_ohms(self.harness, edge.a, edge.b)
            return Piece(ohms=found.value, source=str(found.source))
        wire = self.harness.wires[edge.id]
        if wire.gauge is None or wire.alloy not in (None, NONE):  # the tables are those of copper
            return Piece(metres=wire.length)
        each, source = per_metre(self.harness, wire.type, wire.gauge)
        return Piece(metres=wire.length, ohm_per_metre=each, source=str(source))

    # -- drops ---------------------------------------------------------------------------------------------------

    def _drop(self, way: Way, circuits: list[Circuit]) -> None:
        signals = {circuit.signal for circuit in circuits}
        way.carries = "supply" if signals & FED else "return" if "ground" in signals else ""
        if not way.carries:
            return
        supply = way.carries == "supply"
        names = {circuit.name for circuit in circuits}
        own = [c for c in self.harness.circuits.values() if (c.name in names if supply else c.returns in names)]
        own = [c for c in own if c.signal in FED or c.load is not None or c.peak is not None]
        way.loads = [Load(c.name, False, _most(c.load, c.peak)) for c in own]
        if not own:
            way.unknown.append(f"which loads come back by {way.name}")
        way.loads += self._new_loads(way.pair, supply, way.unknown)
        way.unknown += [f"the current of {load.name}" for load in way.loads if load.amps is None]
        amps = [load.amps for load in way.loads]
        if way.ohms is not None and own and None not in amps:
            way.kit_volts = way.ohms * math.fsum(each or 0.0 for each in amps)
        if any(load.new for load in way.loads):
            self._shared(way, supply)

    def _new_loads(self, pair: Edge, supply: bool, unknown: list[str]) -> list[Load]:
        after, found = self.copper.after, []
        nets = {after.of(pair.a), after.of(pair.b)}
        for consumer in consumers(self.harness):
            point = consumer.at if supply else consumer.back
            if consumer.pin is None:
                continue
            if point is None and not supply:
                unknown.append(f"by which pin the current of {consumer.name} comes back")
            elif point is not None and after.of(point) in nets:
                amps = None if consumer.current is None and consumer.peak is None else consumer.most
                found.append(Load(consumer.name, True, amps))
        return found

    def _shared(self, way: Way, supply: bool) -> None:
        before = self.copper.airframe
        tables = (before.breakers, before.buses) if supply else (before.grounds,)

        def goal(point: Point) -> bool:
            return any(point.ref in table for table in tables)

        ends = (way.pair.a, way.pair.b)
        found = [(end, steps) for end in ends if (steps := self.copper.way(end, goal, kit=False)) is not None]
        if len(found) != 1:
            many = "fed from both sides of" if found else "no wire is listed to a breaker, bus or stud from"
            way.unknown.append(f"the aircraft's own wires that the new load shares: {many} {way.pair.id}")
            return
        end, steps = found[0]
        way.aircraft, way.aircraft_splices = steps, self._splices(steps)
        last = next(p for p in (end, *(q for e in reversed(steps) for q in (e.a, e.b))) if goal(p))
        way.device = last.ref
        if last.ref in before.breakers:
            way.device_ohms = before.breakers[last.ref].resistance
        elif last.ref in before.grounds:
            way.device_ohms = before.grounds[last.ref].bond
        else:
            way.device_ohms = 0.0
        if way.device_ohms is None:
            way.unknown.append(f"the resistance of {last.ref}")
        ohms = self._ohms(steps, way.aircraft_splices, way.unknown)
        if ohms is not None and way.device_ohms is not None:
            way.aircraft_ohms = ohms + way.device_ohms
            amps = [load.amps for load in way.loads if load.new]
            if None not in amps:
                way.aircraft_volts = way.aircraft_ohms * math.fsum(each or 0.0 for each in amps)

    # -- breakers --------------------------------------------------------------------------------------------------

    def _breakers(self) -> Iterator[Fed]:
        every = lines(self.harness)
        for ref in dict.fromkeys(line.breaker for line in every if line.new):
            if ref is None:
                names = ", ".join(line.name for line in every if line.new and line.breaker is None)
                yield Fed("", None, unknown=[f"which breaker feeds {names}"])
                continue
            known = self.harness.breakers.get(ref)
            fed = Fed(ref, known.rating if known else None)
            for line in every:
                if line.breaker == ref:
                    amps = line.current if line.steady or line.current is None else 0.0
                    fed.loads.append(Load(line.name, line.new, amps, None if amps is None else line.most))
            fed.unknown = [f"the current of {load.name}" for load in fed.loads if load.amps is None]
            old = [load.amps for load in fed.loads if not load.new]
            if None not in old:
                fed.before = math.fsum(each or 0.0 for each in old)
            if not fed.unknown:
                fed.after = math.fsum(load.amps or 0.0 for load in fed.loads)
                fed.peak = math.fsum(load.peak or 0.0 for load in fed.loads)
            if fed.rating is None:
                fed.unknown.append(f"the rating of {ref}")
            elif fed.after is not None and fed.rating:
                fed.share = fed.after / fed.rating
            yield fed

    # -- stubs -----------------------------------------------------------------------------------------------------

    def _stubs(self) -> Iterator[Stub]:
        harness = self.harness
        pins = {pin.point: pin for pin in harness.pins()}
        for tap in sorted(harness.taps.values(), key=lambda one: str(one.pin)):
            circuit, pin = harness.circuits.get(tap.circuit), pins.get(tap.pin)
            if circuit is None or pin is None or circuit.signal in NO_STUB or not self.copper.made(tap):
                continue
            yield self._stub(tap.pin, circuit, pin)

    def _stub(self, point: Point, circuit: Circuit, pin: Pin) -> Stub:
        copper, unknown = self.copper, list[str]()
        net = copper.after.of(point)
        trunk = {
            p for way in self.ways if copper.after.of(way.pair.a) == net for e in way.kit or () for p in (e.a, e.b)
        }
        steps = () if point in trunk else copper.way(point, trunk.__contains__, kit=True)
        metres: float | None = None
        if steps is None:
            unknown.append(f"where the branch to {point} leaves the way through the kit")
        else:
            wires = [edge.id for edge in steps if edge.kind == "wire"]
            self.lengths.update((name, self.harness.wires[name].length) for name in wires)
            each = [self.lengths[name] for name in wires]
            unknown += [f"length of {name}" for name in wires if self.lengths[name] is None]
            metres = None if None in each else math.fsum(one or 0.0 for one in each)
        listens = None if pin.direction is None else pin.direction != "out"
        if listens is None:
            unknown.append(f"whether {point} listens or talks")
        receivers, most = (
            _of_pair(self.harness, circuit, "receivers"),
            _of_pair(self.harness, circuit, "most_receivers"),
        )
        if receivers is None:
            unknown.append(f"how many receivers hang on {circuit.name} already")
        unknown.append("the capacitance of the branch and of the unit")
        added = self._listeners(circuit)
        after = None if receivers is None else receivers + added
        return Stub(point, circuit.name, steps, metres, listens, receivers, added, after, most, unknown)

    def _listeners(self, circuit: Circuit) -> int:
        """How many new units listen to a circuit: those of which nobody says that they only talk."""
        pins = {pin.point: (device.ref, pin) for device in self.harness.devices.values() for pin in device.pins}
        taps = [tap for tap in self.harness.taps.values() if tap.circuit == circuit.name and self.copper.made(tap)]
        joined = [pins[tap.pin] for tap in taps if tap.pin in pins]
        return len({ref for ref, pin in joined if pin.direction != "out"})


def _same_pair(one: Circuit, other: Circuit) -> bool:
    return one.pair is not None and (one.pair, one.signal) == (other.pair, other.signal)


def _of_pair(harness: Harness, circuit: Circuit, key: str) -> int | None:
    said = {getattr(c, key) for c in harness.circuits.values() if c is circuit or _same_pair(c, circuit)} - {None}
    return said.pop() if len(said) == 1 else None


def _most(*amps: float | None) -> float | None:
    return max((each for each in amps if each is not None), default=None)


def from_memory(effects: Effects) -> list[str]:
    """Contacts of which nothing is known, which are counted at a common worst case."""
    return sorted(name for name, piece in effects.pieces.items() if piece.source == str(CONTACT_SOURCE))
