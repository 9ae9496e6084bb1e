"""Following a shield or a pair: copper as far as the ground studs, and what a contact carries in the airframe.

A stud joins everything that is grounded there, so a walk that passed through it would find every shield grounded and
every return on every pair. The walks here end at studs and buses.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from harnesscheck.connector import Origin
from harnesscheck.device import Pin
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.wire import Cable, Wire

GROUNDS = frozenset({"ground", "signal ground"})
"""Signal classes that are a return."""


@dataclass(frozen=True, slots=True)
class Reach:
    """What is joined without passing through a stud or a bus: points and wires in the order of the walk."""

    points: tuple[Point, ...]
    wires: tuple[Wire, ...]

    @property
    def new(self) -> tuple[Wire, ...]:
        """The wires that the jumper brings."""
        return tuple(wire for wire in self.wires if wire.origin is Origin.JUMPER)


def reach(harness: Harness, starts: Iterable[Point], stop: Callable[[Point], bool] = lambda _: False) -> Reach:
    """Everything joined to ``starts``; studs, buses and points where ``stop`` is true are reached and not passed."""
    points = dict.fromkeys(starts)
    first = frozenset(points)
    wires: dict[str, Wire] = {}
    waiting = list(points)
    while waiting:
        following: list[Point] = []
        for point in waiting:
            if point.ref in harness.grounds or point.ref in harness.buses or (point not in first and stop(point)):
                continue
            for through, end in harness.neighbours(point):
                if through in harness.wires:
                    wires[through] = harness.wires[through]
                if end not in points:
                    points[end] = None
                    following.append(end)
        waiting = following
    return Reach(tuple(points), tuple(wires.values()))


def named(harness: Harness) -> dict[str, list[Point]]:
    """The cavities that name each circuit, by circuit."""
    found: dict[str, list[Point]] = {}
    for _, cavity in harness.cavities():
        if cavity.circuit:
            found.setdefault(cavity.circuit, []).append(cavity.point)
    return found


@dataclass(frozen=True, slots=True)
class Carried:
    """What a contact carries: a circuit of the airframe or a pin of the equipment. ``signal`` None: not stated."""

    name: str
    signal: str | None


def facing(harness: Harness, point: Point) -> Point:
    """The contact that touches this one when the halves are mated; the point itself when nothing does."""
    return next((end for through, end in harness.neighbours(point) if through == "mate"), point)


def pin_at(harness: Harness, point: Point) -> Pin | None:
    """The equipment pin at a point."""
    return next((pin for pin in harness.pins() if pin.point == point), None)


def carried(harness: Harness, point: Point) -> Carried | None:
    """What stands on a contact (for one of the kit: on the contact it touches); None when nobody has said.

    For the airframe that is the nearest circuit name along the copper as found, before the kit is fitted.
    """
    half = harness.connectors.get(point.ref)
    if half is not None and half.origin is Origin.JUMPER:
        point = facing(harness, point)
    pin = pin_at(harness, point)
    if pin is not None:
        return Carried(f"{point} ({pin.function})", pin.signal)
    found = harness.before or harness
    for name in found.circuits_at(reach(found, [point]).points) or harness.circuits_at([point]):
        circuit = harness.circuits.get(name)
        return Carried(name, circuit.signal if circuit else None)
    return None


def new_shields(harness: Harness) -> list[tuple[str, Cable | None, list[Wire]]]:
    """Every new cable, and every new shield wire without a cable: its id, the cable, and its shield and drain wires."""
    of: dict[str, list[Wire]] = {}
    for wire in harness.wires.values():
        if wire.origin is Origin.JUMPER and wire.is_shield:
            of.setdefault(wire.cable or wire.id, []).append(wire)
    cables = {c.id: c for c in harness.cables.values() if c.origin is Origin.JUMPER}
    alone = [(name, None, wires) for name, wires in of.items() if name not in cables]
    return [*((name, cable, of.get(name, [])) for name, cable in cables.items()), *alone]


def has_shield(harness: Harness, cable: Cable | None, shields: list[Wire]) -> bool | None:
    """Whether a cable has a shield: a shield is listed, or the drawer knows its type; None when nobody knows."""
    if shields:
        return True
    record = harness.part("cable", cable.type) if cable else None
    said = record.text("shield") if record else None
    return None if said is None else not said.casefold().startswith("no")


def cores(harness: Harness) -> dict[str, list[Wire]]:
    """The conductors of each new cable by its id, without shield and drain."""
    found: dict[str, list[Wire]] = {}
    for wire in harness.wires.values():
        if wire.cable and wire.origin is Origin.JUMPER and not wire.is_shield:
            found.setdefault(wire.cable, []).append(wire)
    return found
