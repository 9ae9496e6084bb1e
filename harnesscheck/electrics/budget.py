"""What hangs on each bus and breaker: the lines of an electrical load analysis, and their sums by phase."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import fsum

from harnesscheck.device import PHASES
from harnesscheck.electrics.consumers import FED, consumers
from harnesscheck.harness import Harness
from harnesscheck.place import Place, Point


@dataclass(frozen=True, slots=True)
class Line:
    """One load of the analysis; None is not stated."""

    name: str
    place: Place
    bus: str | None
    breaker: str | None
    current: float | None
    peak: float | None
    duty: str
    phases: tuple[str, ...] | None
    """None: in every phase."""
    new: bool
    listed: bool = False
    """True for an existing load that the files state."""
    remedy: str = ""

    @property
    def steady(self) -> bool:
        """True for a load that is on for more than two minutes."""
        return self.duty != "intermittent"

    def in_phase(self, phase: str) -> bool:
        """True when it is on in a phase of flight."""
        return self.phases is None or phase in self.phases

    @property
    def most(self) -> float:
        """Highest current."""
        return max(self.current or 0.0, self.peak or 0.0)


def lines(harness: Harness) -> list[Line]:
    """Every load with the bus and breaker that feed it: those listed, those of circuits, and the new ones last."""
    found: list[Line] = []
    for load in harness.loads.values():
        bus = load.bus or _bus(harness, load.breaker)
        current = load.current if load.current is not None else load.peak
        found.append(
            Line(
                load.name,
                load.place,
                bus,
                load.breaker,
                current,
                load.peak,
                load.duty,
                load.phases,
                False,
                True,
                "give current:",
            )
        )
    for circuit in harness.circuits.values():
        if circuit.signal not in FED and circuit.load is None and circuit.peak is None:
            continue
        current = circuit.load if circuit.load is not None else circuit.peak
        breaker = circuit.breaker or next(iter(_breakers(harness, circuit.name)), None)
        found.append(
            Line(
                circuit.name,
                circuit.place,
                _bus(harness, breaker),
                breaker,
                current,
                circuit.peak,
                circuit.duty or "continuous",
                circuit.phases,
                False,
                current is not None,
                "give load: (0 A if nothing)",
            )
        )
    for consumer in consumers(harness):
        if consumer.pin is not None:
            breaker = next(iter(_feeding(harness, consumer.pin.point)), None)
            name = f"{consumer.name} {consumer.pin.function}"
            found.append(
                Line(
                    name,
                    consumer.place,
                    _bus(harness, breaker),
                    breaker,
                    consumer.current,
                    consumer.peak,
                    consumer.duty,
                    None,
                    True,
                    False,
                    "give current: and peak:",
                )
            )
    return found


def phase_totals(every: Iterable[Line]) -> dict[str, float]:
    """Continuous current by phase of flight; what is not stated counts nothing, so look for it first.

    Added with ``fsum``: the plain sum of the same numbers is rounded otherwise by another version of Python.
    """
    listed = list(every)
    return {
        phase: fsum(line.current or 0.0 for line in listed if line.steady and line.in_phase(phase)) for phase in PHASES
    }


def _bus(harness: Harness, breaker: str | None) -> str | None:
    found = harness.breakers.get(breaker or "")
    return found.bus if found else None


def _breakers(harness: Harness, circuit: str) -> list[str]:
    """Breakers that the copper of a circuit leads to."""
    nets = harness.nets
    own = {nets.of(cavity.point) for _, cavity in harness.cavities() if cavity.circuit == circuit}
    return [ref for ref in harness.breakers if nets.of(Point(ref, "load")) in own]


def _feeding(harness: Harness, point: Point) -> list[str]:
    """Breakers that feed a point: by its copper, else those that the circuits of its copper name."""
    nets = harness.nets
    own = nets.of(point)
    if own is None:
        return []
    by_copper = [ref for ref in harness.breakers if nets.of(Point(ref, "load")) == own]
    if by_copper:
        return by_copper
    names = {cavity.circuit for _, cavity in harness.cavities() if cavity.circuit and nets.of(cavity.point) == own}
    return [c.breaker for name, c in harness.circuits.items() if name in names and c.breaker]
