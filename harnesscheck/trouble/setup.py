"""What can go wrong where: signals, pairs, neighbours and mirror images of the connectors under test."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise

from harnesscheck.connector import Connector, Origin
from harnesscheck.faces import NEAR, Face, face
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.trouble.faults import TERMINATOR, Plan

_TALK = re.compile(r"(?<![A-Z0-9])(TX|TXD|RX|RXD)(?![A-Z0-9])", re.IGNORECASE)
_LINES = (frozenset("HL"), frozenset("AB"), frozenset("+-"))


def plan_of(whole: Harness, refs: Iterable[str]) -> Plan:
    """The plan of the connectors ``refs``; ``whole`` (the installed harness) says which circuit reaches a cavity."""
    connectors = [whole.connectors[ref] for ref in refs if ref in whole.connectors]
    signals, names, lines = _labels(whole, connectors)
    faces = {connector.ref: face(whole, connector) for connector in connectors}
    spots = {connector.ref: list(_spots(whole, connector)) for connector in connectors}
    pairs: list[tuple[Point, Point]] = []
    near: list[tuple[Point, Point]] = []
    for connector in connectors:
        own = spots[connector.ref]
        pairs += _pairs(own, signals, lines)
        near += _near(own, faces[connector.ref])
    said = {c.terminator for c in whole.circuits.values() if c.terminator}
    halves = [tuple(m for ref in pair if (m := whole.mate_of(ref))) for pair in whole.opens]
    return Plan(
        signals, names, tuple(pairs), tuple(near),
        tuple(table for c in connectors if (table := _mirror(spots[c.ref], faces[c.ref]))),
        tuple(tuple(spots[c.ref]) for c in connectors),
        tuple((pair[0], pair[1]) for pair in halves if len(pair) == 2), said.pop() if len(said) == 1 else TERMINATOR,
        kit=frozenset(p for c in connectors if c.origin is Origin.JUMPER for p in spots[c.ref]),
        wires=_of_wires(whole, signals),
    )  # fmt: skip


def _of_wires(whole: Harness, signals: Mapping[Point, str]) -> dict[str, tuple[Point, ...]]:
    """The cavities that each wire's copper reaches."""
    by_net: dict[int | None, list[Point]] = {}
    for point in signals:
        by_net.setdefault(whole.nets.of(point), []).append(point)
    return {wire.id: tuple(by_net.get(whole.nets.of(wire.a), ())) for wire in whole.wires.values()}


def _spots(whole: Harness, connector: Connector) -> Iterator[Point]:
    """All cavities in the order of the insert, else those that are mentioned, in the order of their numbers."""
    names = connector.names or sorted(
        connector.cavities, key=lambda n: (not n.isdigit(), int(n) if n.isdigit() else 0, n)
    )
    return (Point(connector.ref, name) for name in names)


def _labels(
    whole: Harness, connectors: Iterable[Connector]
) -> tuple[dict[Point, str], dict[Point, str], dict[Point, tuple[str, str]]]:
    """Signal class, circuit name, and (pair, line) of each cavity, by the copper that it belongs to."""
    nets = whole.nets
    circuits: dict[int, str] = {}
    pins: dict[int, tuple[str, str, str]] = {}
    for _, cavity in (whole.before or whole).cavities():
        number = nets.of(cavity.point)
        if cavity.circuit in whole.circuits and number is not None:
            circuits.setdefault(number, cavity.circuit or "")
    # Where only the mate of an airframe half carries the name, the copper that met it before says which circuit it is.
    for a, b in (whole.before or whole).mated_points:
        for one, two in ((a, b), (b, a)):
            met = whole.cavity(one)
            number = nets.of(two)
            if met is not None and met.circuit in whole.circuits and number is not None:
                circuits.setdefault(number, met.circuit or "")
    for pin in whole.pins():
        number = nets.of(pin.point)
        if number is not None:
            pins.setdefault(number, (pin.signal, pin.function, pin.line or ""))
    signals: dict[Point, str] = {}
    names: dict[Point, str] = {}
    lines: dict[Point, tuple[str, str]] = {}
    for connector in connectors:
        for cavity_name in connector.cavities:
            point = Point(connector.ref, cavity_name)
            number = nets.of(point)
            if number is None:
                continue
            if number in circuits:
                circuit = whole.circuits[circuits[number]]
                names[point] = circuit.name
                signals[point] = circuit.signal or ""
                lines[point] = (circuit.pair or "", circuit.line or circuit.name)
            elif number in pins:
                signals[point], names[point], line = pins[number]
                lines[point] = ("", line)
    return signals, names, lines


def _pairs(
    own: list[Point], signals: Mapping[Point, str], lines: Mapping[Point, tuple[str, str]]
) -> Iterator[tuple[Point, Point]]:
    """Cavities that are easily exchanged for each other: the two lines of a pair, transmit and receive."""
    known = [point for point in own if point in lines and signals[point] not in ("shield", "power", "ground")]
    for place, one in enumerate(known):
        for two in known[place + 1 :]:
            (pair, line), (other_pair, other) = lines[one], lines[two]
            if signals[one] != signals[two] or line == other:
                continue
            talk = [_TALK.search(word) for word in (line, other)]
            if (
                (pair and pair == other_pair)
                or (not pair and frozenset((line, other)) in _LINES)
                or {m[1][0].upper() for m in talk if m} == {"T", "R"}
            ):
                yield one, two


def _near(own: list[Point], seen: Face | None) -> Iterator[tuple[Point, Point]]:
    """Neighbouring cavities; where the face is not known, those that follow each other in the list."""
    if seen is None:
        yield from pairwise(own)
        return
    reach = NEAR * seen.pitch
    spots = seen.positions
    for place, one in enumerate(own):
        for two in own[place + 1 :]:
            a, b = spots.get(one.cavity), spots.get(two.cavity)
            if a is not None and b is not None and math.dist(a, b) <= reach:
                yield one, two


def _mirror(own: list[Point], seen: Face | None) -> dict[Point, Point]:
    """Cavity to the one that stands in its place on the turned face; empty where the face is no mirror of itself."""
    if seen is None or not own:
        return {}
    middle = (min(x for x, _ in seen.positions.values()) + max(x for x, _ in seen.positions.values())) / 2
    reach = 0.25 * seen.pitch
    table: dict[Point, Point] = {}
    for one in own:
        here = seen.positions.get(one.cavity)
        if here is None:
            return {}
        turned = (2 * middle - here[0], here[1])
        there = next((n for n, spot in seen.positions.items() if math.dist(spot, turned) <= reach), None)
        if there is None:
            return {}
        table[one] = Point(one.ref, there)
    return table
