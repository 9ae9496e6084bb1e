"""A harness as a network: what every wire, contact and splice carries, and what every load sees.

The structure of the aircraft is the reference. A breaker of unknown resistance and a stud of unknown bond count as
zero, and whoever shows a result says so (``doubt.counted_zero``). Whatever else is unknown makes a gap: the loads whose
current runs through it, or shares copper with what does, have no answer.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, field
from functools import cached_property
from weakref import ReferenceType, ref

from harnesscheck.circuit import Circuit
from harnesscheck.connector import Origin
from harnesscheck.electrics.collapse import collapsed
from harnesscheck.electrics.consumers import FED, Consumer, consumers
from harnesscheck.electrics.elements import SPLICE, Gap, contact_ohms, wire_ohms
from harnesscheck.electrics.network import Branch, Load, NoSolutionError, solve
from harnesscheck.electrics.parted import parted
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.wire import Wire

STRUCTURE = Point("structure", "(reference)")
LEVELS = ("nominal", "low", "high")
MODES = ("steady", "on", "most")
"""Continuous loads at their current; every load at its current; every load at its highest."""


@dataclass(slots=True)
class Element:
    """One piece of the way: a wire, a mated contact, half a splice, a breaker, a bond."""

    kind: str
    name: str
    a: int
    b: int
    ohms: float | None
    gap: Gap | None = None
    wire: Wire | None = None
    ends: tuple[Point, Point] | None = None


@dataclass(frozen=True, slots=True)
class Flow:
    """The answer for one state: volts by node, amperes by element and by load, or why there is none."""

    volts: tuple[float | None, ...] = ()
    amps: tuple[float, ...] = ()
    drawn: tuple[float, ...] = ()
    failed: str = ""
    collapsed: frozenset[int] = frozenset()
    """Positions of the loads whose supply has no solution; those of other feeds have their answer all the same."""


@dataclass
class Wiring:
    """The network of a harness. Make it with ``wiring(harness)``, which keeps it."""

    harness: Harness
    consumers: list[Consumer] = field(default_factory=list)
    elements: list[Element] = field(default_factory=list)
    assumed: list[str] = field(default_factory=list)
    """What was counted without anybody having said it, one line each."""

    def __post_init__(self) -> None:
        """Collect the elements and the loads."""
        harness = self.harness
        self.index: dict[Point, int] = {STRUCTURE: 0}
        self.consumers = list(consumers(harness))
        if not self.consumers:
            return
        for wire in harness.wires.values():
            if not wire.is_shield:
                self._wire(wire)
        for ends in harness.mated_points:
            a, b = ends
            ohms = contact_ohms(harness, a, b).value
            self.elements.append(Element("contact", f"{a}/{b}", self.node(a), self.node(b), ohms, ends=ends))
        for stud in harness.grounds.values():
            self._add("bond", stud.ref, Point(stud.ref), STRUCTURE, stud.bond or 0.0)
        for breaker in harness.breakers.values():
            line, load = Point(breaker.ref, "line"), Point(breaker.ref, "load")
            self._add("breaker", breaker.ref, line, load, breaker.resistance or 0.0)
            bus = Point(breaker.bus or "")
            if breaker.bus in harness.buses and harness.nets.of(bus) != harness.nets.of(line):
                self._add("joint", breaker.ref, bus, line, 0.0)

    def node(self, point: Point) -> int:
        """The node of a point, made on demand."""
        return self.index.setdefault(point, len(self.index))

    def _add(self, kind: str, name: str, a: Point, b: Point, ohms: float | None, **more: object) -> None:
        self.elements.append(Element(kind, name, self.node(a), self.node(b), ohms, **more))  # type: ignore[arg-type]

    def _wire(self, wire: Wire) -> None:
        ends = []
        for end in (wire.a, wire.b):
            ends.append(end)
            if end.ref in self.harness.splices:
                ends[-1] = Point(end.ref, f"(end of {wire.id})")
                self._add("splice", end.ref, end, ends[-1], SPLICE / 2)
        found = wire_ohms(self.harness, wire)
        ohms, gap = (None, found) if isinstance(found, Gap) else (found.value, None)
        self.elements.append(Element("wire", wire.id, self.node(ends[0]), self.node(ends[1]), ohms, gap, wire))

    # -- what feeds it -----------------------------------------------------------------------------------------

    def bus_volts(self, bus: str, level: str = "nominal") -> float | None:
        """Volts on a bus: nominal, or the lowest or highest in normal running; None when not stated."""
        harness = self.harness
        feeding = [source for source in harness.sources.values() if source.bus == bus]
        if level == "low":
            return min((s.low for s in feeding if s.low is not None), default=None)
        if level == "high":
            return max((s.high for s in feeding if s.high is not None), default=None)
        turning = [source for source in feeding if source.kind != "battery"] or feeding
        stated = [s.supply for s in turning if s.supply is not None]
        if stated:
            return max(stated)
        if harness.buses[bus].volts is not None:
            return harness.buses[bus].volts
        fed = {ref for ref, breaker in harness.breakers.items() if breaker.bus == bus}
        said = {c.supply for c in harness.circuits.values() if c.breaker in fed and c.supply is not None}
        return said.pop() if len(said) == 1 else None

    @cached_property
    def fixed(self) -> dict[int, str]:
        """Node to bus, of the buses whose volts are known; the structure is node 0."""
        return {self.node(Point(bus)): bus for bus in self.harness.buses if self.bus_volts(bus) is not None}

    # -- what is known -----------------------------------------------------------------------------------------

    @cached_property
    def _parts(self) -> tuple[list[int], dict[int, list[Gap]], dict[int, set[int]]]:
        """Part of each node (parts are separated by buses and structure), gaps by part, sources by part."""
        cut = {0, *self.fixed}  # this may add nodes, so it comes first
        ends = {self.index[p] for c in self.consumers for p in (c.at, c.back) if p in self.index}
        return parted(self.elements, len(self.index), cut, ends)

    def part_of(self, point: Point | None) -> int | None:
        """The part of the network that a point is in; None for a point that is not in it, or is a source itself."""
        node = self.index.get(point) if point is not None else None
        part = self._parts[0][node] if node is not None else -1
        return part if part >= 0 else None

    def supply_gaps(self, consumer: Consumer) -> list[Gap]:
        """What is missing between the bus and a load."""
        _, gaps, sources = self._parts
        if consumer.at is None:
            return []
        own = self.part_of(consumer.at)
        if own is None:
            return [Gap(consumer.place, f"{consumer.name} is joined to no wire that is listed", "list its wire")]
        found = list(gaps.get(own, ()))
        if not sources.get(own, set()) - {0}:
            found.append(self._unfed(consumer, own))
        for circuit in self._unsaid.get(own, ()):
            missing = f"what hangs on {circuit.name} already is not stated"
            found.append(Gap(circuit.place, missing, "give load: (0 A if nothing)"))
        for other in self._uncounted.get(own, ()):
            if other is not consumer:
                found += other.gaps[:1]
        return found

    def return_gaps(self, consumer: Consumer) -> list[Gap]:
        """What is missing between a load and the structure."""
        _, gaps, sources = self._parts
        if consumer.back is None:
            return []
        own = self.part_of(consumer.back)
        if own is None:
            return [Gap(consumer.place, f"{consumer.back} is joined to no wire that is listed", "list its wire")]
        found = list(gaps.get(own, ()))
        if 0 not in sources.get(own, set()):
            missing = f"no wire is listed that leads the return at {consumer.back} to a ground stud"
            found.append(Gap(consumer.place, missing, "list the wires to the stud"))
        return found

    def gaps(self, consumer: Consumer) -> list[Gap]:
        """Everything that is missing for the volts at a load, each once."""
        if consumer.name in self._gaps:
            return self._gaps[consumer.name]
        every = [*consumer.gaps, *self.supply_gaps(consumer), *self.return_gaps(consumer)]
        found = self._gaps[consumer.name] = list({gap.missing: gap for gap in every}.values())
        return found

    @cached_property
    def _gaps(self) -> dict[str, list[Gap]]:
        return {}

    @cached_property
    def _unsaid(self) -> dict[int, list[Circuit]]:
        """Supply circuits of the airframe whose load nobody has stated, by part."""
        found: dict[int, dict[str, Circuit]] = {}
        for connector, cavity in self.harness.cavities():
            circuit = self.harness.circuits.get(cavity.circuit or "")
            if circuit is None or circuit.signal not in FED or connector.origin is not Origin.AIRFRAME:
                continue
            own = self.part_of(cavity.point)
            if circuit.load is None and circuit.peak is None and own is not None:
                found.setdefault(own, {})[circuit.name] = circuit
        return {own: list(named.values()) for own, named in found.items()}

    @cached_property
    def _uncounted(self) -> dict[int, list[Consumer]]:
        """Loads whose current nobody has stated, by part."""
        found: dict[int, list[Consumer]] = {}
        for consumer in self.consumers:
            own = self.part_of(consumer.at) if consumer.current is None else None
            if own is not None:
                found.setdefault(own, []).append(consumer)
        return found

    def _unfed(self, consumer: Consumer, own: int) -> Gap:
        harness = self.harness
        inside = {point.ref for point, node in self.index.items() if self._parts[0][node] == own}
        for bus in harness.buses.values():
            if bus.ref in inside:
                return Gap(bus.place, f"the volts of {bus.ref} are not stated", "give supply:")
        for breaker in harness.breakers.values():
            if breaker.ref in inside:
                return Gap(breaker.place, f"the bus that feeds {breaker.ref} is not stated", "give bus:")
        return Gap(consumer.place, f"no wire is listed that leads from a breaker to {consumer.name}",
                   "list the wires from the breaker, with lengths")  # fmt: skip

    # -- the answer --------------------------------------------------------------------------------------------

    def flow(self, mode: str = "steady", level: str = "nominal", bare: bool = False) -> Flow:
        """The solve for one state of the loads and of the sources, kept. ``bare``: contacts and splices without any
        resistance, for it is seldom known for sure.
        """
        kept = self._flows.get((mode, level, bare))
        if kept is None:
            kept = self._flows[mode, level, bare] = self._solve(mode, level, bare)
        return kept

    @cached_property
    def _flows(self) -> dict[tuple[str, str, bool], Flow]:
        return {}

    def state(
        self, mode: str, level: str, bare: bool = False
    ) -> tuple[int, list[int], list[Branch], list[Load], dict[int, float]]:
        """What is solved: nodes, positions of the known elements, their branches, loads by consumer, fixed volts."""
        fixed = {0: 0.0}
        for node, bus in self.fixed.items():
            volts = self.bus_volts(bus, level)
            fixed[node] = volts if volts is not None else self.bus_volts(bus) or 0.0
        known = [number for number, element in enumerate(self.elements) if element.ohms is not None]
        soft = ("contact", "splice") if bare else ()
        branches = [
            Branch(e.a, e.b, 0.0 if e.kind in soft else e.ohms or 0.0) for e in (self.elements[n] for n in known)
        ]
        loads, spare = [], len(self.index)
        for consumer in self.consumers:
            nominal = self.nominal(consumer) or 0.0
            a, b = self.index.get(consumer.at or STRUCTURE, 0), self.index.get(consumer.back or STRUCTURE, 0)
            if consumer.at is None or self.supply_gaps(consumer) or not nominal:
                a, spare = spare, spare + 1  # its way is not known: fed from nowhere, so that its return still counts
                fixed[a] = nominal
            if self.return_gaps(consumer):
                b = 0
            loads.append(_load(consumer.kind, a, b, _drawn(consumer, mode), nominal))
        return spare, known, branches, loads, fixed

    def _solve(self, mode: str, level: str, bare: bool) -> Flow:
        spare, known, branches, loads, fixed = self.state(mode, level, bare)
        failed, down = "", frozenset[int]()
        try:
            found = solve(spare, branches, loads, fixed)
        except NoSolutionError as error:
            ways = [(self.part_of(consumer.at), self.part_of(consumer.back)) for consumer in self.consumers]
            failed, down = str(error), collapsed(spare, branches, loads, fixed, ways)
            still = [
                Load(load.a, load.b, "current", _drawn(self.consumers[n], mode)) if n in down else load
                for n, load in enumerate(loads)
            ]
            try:
                found = solve(spare, branches, still, fixed)
            except NoSolutionError as other:
                return Flow(failed=str(other), collapsed=frozenset(range(len(loads))))
        amps_by = [0.0] * len(self.elements)
        for number, amps in zip(known, found.branches, strict=True):
            amps_by[number] = amps
        return Flow(found.volts, tuple(amps_by), found.loads, failed, down)

    def failed(self, consumer: Consumer, flow: Flow) -> str:
        """Why the supply of a load has no solution; empty when it has one."""
        return flow.failed if self.consumers.index(consumer) in flow.collapsed else ""

    def nominal(self, consumer: Consumer) -> float | None:
        """Nominal volts of the bus that feeds a load, the highest if several do."""
        own = self.part_of(consumer.at)
        feeding = self._parts[2].get(own, set()) if own is not None else set()
        volts = [self.bus_volts(self.fixed[node]) or 0.0 for node in feeding if node in self.fixed]
        if volts:
            return max(volts)
        return consumer.circuit.supply if consumer.circuit else None

    def buses(self, consumer: Consumer) -> list[str]:
        """The buses that feed a load."""
        own = self.part_of(consumer.at)
        feeding = self._parts[2].get(own, set()) if own is not None else set()
        return sorted(self.fixed[node] for node in feeding if node in self.fixed)

    def across(
        self, consumer: Consumer, mode: str = "steady", level: str = "nominal", bare: bool = False
    ) -> float | None:
        """Volts that a load sees; None when it cannot be known (``gaps`` says why) or there is no solution."""
        flow = self.flow(mode, level, bare)
        if self.failed(consumer, flow) or self.gaps(consumer) or consumer.at is None or consumer.back is None:
            return None
        a, b = flow.volts[self.index[consumer.at]], flow.volts[self.index[consumer.back]]
        return None if a is None or b is None else a - b

    def amps(self, mode: str, level: str = "nominal") -> dict[str, float]:
        """Amperes in every wire by its id, without a sign; wires of unknown length or gauge, and those whose feed has
        no solution, are left out.
        """
        flow = self.flow(mode, level)
        down = self.down(flow)
        return {
            e.name: abs(a)
            for e, a in zip(self.elements, flow.amps, strict=False)
            if e.kind == "wire" and e.ohms is not None and not (down and (self.element_part(e) or 0) in down)
        }

    def element_part(self, element: Element) -> int | None:
        """The part of the network that a piece is in; None for a joint between sources."""
        part = self._parts[0]
        return next((part[node] for node in (element.a, element.b) if part[node] >= 0), None)

    def lame(self, element: Element, flow: Flow) -> Consumer | None:
        """The load without a solution that makes the current of a piece unknown; None when it is known."""
        return self.down(flow).get(self.element_part(element) or 0)

    def down(self, flow: Flow) -> dict[int, Consumer]:
        """Part of the network to the first load that it feeds without a solution: what flows in it is not known.

        In the return, which feeds share, the current that such a load states is counted.
        """
        found: dict[int, Consumer] = {}
        for consumer in (self.consumers[number] for number in sorted(flow.collapsed)):
            part = self.part_of(consumer.at)
            if part is not None:
                found.setdefault(part, consumer)
        return found

    def shares(self, consumer: Consumer, mode: str) -> list[tuple[float, Element]]:
        """Volts lost in each wire and contact of the copper that a load hangs on, the greatest first."""
        own = {self.part_of(consumer.at), self.part_of(consumer.back)} - {None}
        flow, part = self.flow(mode), self._parts[0]
        found = [
            (abs(amps * (element.ohms or 0.0)), element)
            for element, amps in zip(self.elements, flow.amps, strict=True)
            if part[element.a] in own or part[element.b] in own
        ]
        return sorted(found, key=lambda each: (-each[0], each[1].name))


def _drawn(consumer: Consumer, mode: str) -> float:
    return {"steady": consumer.steady, "on": consumer.on, "most": consumer.most}[mode]


def _load(kind: str, a: int, b: int, amps: float, nominal: float) -> Load:
    if amps <= 0:
        return Load(a, b, "current", 0.0)
    if kind == "resistance" and nominal:
        return Load(a, b, kind, nominal / amps)
    if kind == "power" and nominal:
        return Load(a, b, kind, nominal * amps)
    return Load(a, b, "current", amps)


_KEPT: deque[tuple[ReferenceType[Harness], Wiring]] = deque(maxlen=3)


def wiring(harness: Harness) -> Wiring:
    """The network of a harness; the last few are kept, for several checks ask for the same one."""
    for kept, found in _KEPT:
        if kept() is harness:
            return found
    found = Wiring(harness)
    _KEPT.append((ref(harness), found))
    return found
