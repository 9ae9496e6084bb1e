"""What draws current: pins of the new equipment, and what hangs on the circuits of the airframe already."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from harnesscheck.circuit import Circuit
from harnesscheck.device import Device, Pin
from harnesscheck.electrics.elements import Gap
from harnesscheck.harness import Harness, view
from harnesscheck.place import Place, Point

FED = frozenset({"power", "lighting"})
"""Signal classes that carry supply current."""


@dataclass(frozen=True, slots=True)
class Consumer:
    """One load: where its current enters the harness and where it leaves it."""

    name: str
    place: Place
    at: Point | None
    """None: which side of the opened pair it hangs on is not known."""
    back: Point | None
    """None: not known (then ``gaps`` says so)."""
    kind: str
    current: float | None
    peak: float | None
    duty: str
    gaps: tuple[Gap, ...] = ()
    pin: Pin | None = None
    circuit: Circuit | None = None

    @property
    def new(self) -> bool:
        """True for the new equipment."""
        return self.pin is not None

    @property
    def steady(self) -> float:
        """Continuous current; nothing for a load that is on for two minutes at the most."""
        return 0.0 if self.duty == "intermittent" else self.current or 0.0

    @property
    def on(self) -> float:
        """Current while it is on."""
        return self.current or 0.0

    @property
    def most(self) -> float:
        """Highest current."""
        return max(self.peak or 0.0, self.current or 0.0)


def consumers(harness: Harness) -> Iterator[Consumer]:
    """Every load whose wiring is in the harness, the new ones first."""
    for device in harness.devices.values():
        for pin in device.pins:
            if is_supply(pin):
                yield _of_pin(device, pin)
    for circuit in harness.circuits.values():
        if circuit.load or circuit.peak:
            yield _of_circuit(harness, circuit)


def is_supply(pin: Pin) -> bool:
    """True for a pin by which the equipment draws its supply."""
    return pin.signal in FED and pin.direction != "out" and pin.connect


def return_pins(device: Device, pin: Pin) -> list[Pin]:
    """The pins by which the current of a supply pin may come back: the one stated, else every ground pin."""
    if pin.returns is not None:
        return [other for other in device.pins if other.point == pin.returns]
    return [other for other in device.pins if other.signal == "ground" and other.connect]


def _of_pin(device: Device, pin: Pin) -> Consumer:
    backs = return_pins(device, pin)
    gaps = []
    if pin.current is None and pin.peak is None:
        gaps.append(Gap(pin.place, f"the current of {pin.point} is not stated", "give current: and peak:"))
    if len(backs) != 1:
        what = "it has no ground pin" if not backs else "it has several ground pins"
        gaps.append(Gap(pin.place, f"by which pin the current of {pin.point} comes back is not stated: {what}",
                        "give returns: at the pin"))  # fmt: skip
    return Consumer(
        name=str(pin.point), place=Place(str(pin.point), pin.place.document, pin.place.line, pin.place.column),
        at=pin.point, back=backs[0].point if len(backs) == 1 else None, kind=pin.load or "power",
        current=pin.current if pin.current is not None else pin.peak, peak=pin.peak,
        duty=pin.duty or "continuous", gaps=tuple(gaps), pin=pin,
    )  # fmt: skip


def _of_circuit(harness: Harness, circuit: Circuit) -> Consumer:
    at = far_cavity(harness, circuit)
    back: Point | None = None
    gaps = []
    if at is None:
        gaps.append(Gap(circuit.place, f"which side of the disconnect {circuit.name} is fed from is not known",
                        "list the wire from its breaker"))  # fmt: skip
    if circuit.returns is None:
        gaps.append(Gap(circuit.place, f"how the load of {circuit.name} returns is not stated", "give returns:"))
    elif circuit.returns in harness.grounds:
        back = Point(circuit.returns)
    elif at is not None:
        back = next((p for p in _carrying(harness, circuit.returns) if p.ref == at.ref), None)
    if circuit.returns in harness.circuits and at is not None and back is None:
        gaps.append(Gap(circuit.place, f"{circuit.returns} is on no cavity of {at.ref}", "correct returns:"))
    return Consumer(
        name=f"load of {circuit.name}", place=circuit.place, at=at, back=back, kind="power",
        current=circuit.load if circuit.load is not None else circuit.peak, peak=circuit.peak,
        duty=circuit.duty or "continuous", gaps=tuple(gaps), circuit=circuit,
    )  # fmt: skip


def _pair(harness: Harness) -> tuple[str, ...]:
    if harness.opens:
        return harness.opened
    return tuple(ref for mate in harness.mates for ref in (mate.a, mate.b))


def _carrying(harness: Harness, name: str) -> list[Point]:
    """The cavities of the opened pair that carry a circuit in the airframe as found, both halves."""
    return list(_carriers(harness).get(name, ()))


@view
def _carriers(harness: Harness) -> dict[str, dict[Point, None]]:
    """The same for all circuits at once: every load asks."""
    found = harness.before or harness
    points: dict[str, dict[Point, None]] = {}
    for ref in _pair(harness):
        connector = harness.connectors.get(ref)
        other = found.mate_of(ref)
        for cavity in connector.cavities.values() if connector else ():
            if cavity.circuit is not None:
                carrying = points.setdefault(cavity.circuit, {})
                carrying[cavity.point] = None
                if other is not None:
                    carrying[Point(other, cavity.point.cavity)] = None
    return points


def far_cavity(harness: Harness, circuit: Circuit) -> Point | None:
    """The cavity of the opened pair on the side away from the supply; None when the supply side is not known."""
    found = harness.before or harness
    pair = frozenset(_pair(harness))
    near: list[Point] = []
    far: list[Point] = []
    for point in _carrying(harness, circuit.name):
        parted = frozenset((point.ref, found.mate_of(point.ref) or "")) if pair else pair
        (near if _fed(found, point, parted) else far).append(point)
    return far[0] if near and far else None


def _fed(harness: Harness, start: Point, parted: frozenset[str]) -> bool:
    """True when the copper leads from ``start`` to a breaker or a bus without crossing the pair."""
    seen, stack = {start}, [start]
    while stack:
        here = stack.pop()
        if here.ref in harness.breakers or here.ref in harness.buses or here.ref in harness.sources:
            return True
        for through, there in harness.neighbours(here):
            if there not in seen and not (through == "mate" and parted == {here.ref, there.ref}):
                seen.add(there)
                stack.append(there)
    return False
