"""Finding one's way through a jumper: part of the check broken-through-circuit."""

from __future__ import annotations

from harnesscheck.circuit import label_components
from harnesscheck.connector import Origin, Use
from harnesscheck.harness import Harness, known
from harnesscheck.place import Point
from harnesscheck.wire import Wire


def opened(harness: Harness, points: list[Point]) -> list[Point]:
    """The points at the opened pair; all points when there are none."""
    return [p for p in points if p.ref in harness.opened] or points


def led(harness: Harness, points: list[Point]) -> list[str]:
    """``P14-6 leads to J14-7`` for every cavity of a first opened half that leads to another name, or to more."""
    across = dict(harness.opens)
    sentences = []
    for point in points:
        there = across.get(point.ref)
        if there is None:
            continue
        net = harness.nets.of(point)
        ends = [p for p in points if p.ref == there and harness.nets.of(p) == net]
        if ends and ends != [Point(there, point.cavity)]:
            sentences.append(f"{point} leads to {' and '.join(map(str, ends))}")
    return sentences


def astray(harness: Harness, before: Harness, points: list[Point]) -> dict[Point, list[Point]]:
    """Live cavities of a first opened half that the kit's own copper does not lead to the cavity of the same name.

    Each with the cavities of the other half that it leads to instead. Copper of the aircraft does not count: two
    returns that meet at a stud are one net whatever the kit does, and a feed on two cavities is one net through either.
    """
    across = dict(harness.opens)
    present = {point for point in points if point.ref in across.values()}
    found: dict[Point, list[Point]] = {}
    for point in points:
        there = across.get(point.ref)
        if there is None:
            continue
        other = Point(there, point.cavity)
        if other not in present or not before.touches(point):
            continue
        if known(before, [point, other]) != Use.LIVE:
            continue
        ends = [end for end in _own(harness, point) if end.ref == there]
        if other not in ends:
            found[point] = ends
    return found


def _own(harness: Harness, start: Point) -> list[Point]:
    """Everything that the kit's own wires and contacts lead to; the aircraft's points are reached and not passed.

    A bus that is led in and out at a new unit runs on through the pins that its maker has joined.
    """
    reached = {start: None}
    waiting = [start]
    while waiting:
        point = waiting.pop()
        for through, end in harness.neighbours(point):
            new = through not in harness.wires or harness.wires[through].origin is Origin.JUMPER
            if new and end not in reached:
                reached[end] = None
                half, splice = harness.connectors.get(end.ref), harness.splices.get(end.ref)
                if any(thing is not None and thing.origin is not Origin.AIRFRAME for thing in (half, splice)):
                    waiting.append(end)
    return list(reached)


def facing_wires(harness: Harness, points: list[Point]) -> list[Wire]:
    """The kit's wires at the cavities that face the points, and the wires one splice further on; each once."""
    found: dict[str, Wire] = {}
    for point in points:
        for through, other in harness.neighbours(point):
            if through in harness.wires:
                wires = [harness.wires[through]]
            else:
                wires = list(harness.wires_at(other))
                wires += [on for wire in wires for on in harness.wires_at(wire.other(other))]
            found.update((wire.id, wire) for wire in wires if wire.origin is Origin.JUMPER)
    return list(found.values())


def blamed(harness: Harness, before: Harness, points: list[Point]) -> list[Wire]:
    """The kit's wires that are most likely wrong: those that cross over, else those that alone join two nets."""
    wires = facing_wires(harness, points)
    crossing = [w for w in wires if _crosses(harness, w)]
    return crossing or [wire for wire in wires if _bridges(harness, before, points, wire)]


def _crosses(harness: Harness, wire: Wire) -> bool:
    """True for a wire between the two opened halves that leads from one cavity name to another."""
    mates = {harness.mate_of(wire.a.ref), harness.mate_of(wire.b.ref)}
    return any(mates == set(pair) for pair in harness.opens) and wire.a.cavity != wire.b.cavity


def _bridges(harness: Harness, before: Harness, points: list[Point], wire: Wire) -> bool:
    """True when taking this one wire away leaves no two nets of the aircraft joined."""
    numbers: dict[Point, int] = {}
    starts, ends = [], []
    stack = list(points)
    while stack:
        point = stack.pop()
        if point in numbers:
            continue
        numbers[point] = len(numbers)
        stack += [other for _, other in harness.neighbours(point)]
    for point, number in numbers.items():
        for through, other in harness.neighbours(point):
            if through != wire.id:
                starts.append(number)
                ends.append(numbers[other])
    labels = label_components(len(numbers), starts, ends)
    olds: dict[int, set[int | None]] = {}
    for point in points:
        olds.setdefault(labels[numbers[point]], set()).add(before.nets.of(point))
    return all(len(nets) == 1 for nets in olds.values())
