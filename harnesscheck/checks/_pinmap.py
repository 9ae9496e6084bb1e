"""The pin map that a jumper makes, cavity by cavity, for the checks that recognise a pattern in it.

Two kinds of map: from one half of the opened pair through the jumper to the other half, and from the pin that wants a
circuit to the pin that gets it, for each connector of the equipment. A cavity that the jumper joins to several, or
leads nowhere, is left out: other checks name it, and it would only blur the pattern.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from math import hypot

from harnesscheck.checks._words import several
from harnesscheck.circuit import follow
from harnesscheck.connector import Connector, Origin
from harnesscheck.finding import Finding
from harnesscheck.harness import Harness, Kind
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status

LEAST_MOVED = 4
"""Moved cavities from which on a mirror image or a ribbon order is named. Two exchanged cavities, or two such
exchanges, happen by themselves and look the same; that four cavities fit one layout by chance is below 1 in 24."""
LEAST_IN_ROW = 3
"""Neighbouring cavities off by one the same way from which on it is called a shift: two may be an exchange."""
FITTING = 2 / 3
"""Share of the moved cavities that must fit, so that one more slip does not hide the pattern."""
_TOLERANCE = 0.15
"""Of the insert radius: face views in the drawer are read from a drawing to about 0.03."""

SOURCE = Source("cavities that the jumper joins, against the cavity of the same name", Status.STATED)


@dataclass(frozen=True, slots=True)
class PinMap:
    """Where each cavity ends up; ``goes[k] == k`` when all is well."""

    start: str
    """Reference whose cavities are the keys."""
    end: str
    """Reference whose cavities are the values; the same as ``start`` for a map of equipment pins."""
    connector: Connector
    """The half that tells the insert."""
    plugs: tuple[str, ...]
    """The new halves that may be wired wrong."""
    goes: Mapping[str, str]
    on_the_way: Mapping[str, tuple[Place, ...]]
    """For each key, the places of everything that it touches, for the reader and for *follows*."""

    @property
    def moved(self) -> dict[str, str]:
        """The cavities that do not end at the cavity of the same name."""
        return {k: to for k, to in self.goes.items() if k != to}

    @property
    def through(self) -> bool:
        """True for the opened pair, False for equipment pins."""
        return self.start != self.end

    def listed(self, cavities: Iterable[str]) -> str:
        """``1 to 8, 2 to 7 and 3 more``."""
        return several((f"{k} to {self.goes[k]}" for k in cavities), 4)


def maps(harness: Harness) -> Iterator[PinMap]:
    """The maps of an installed harness; nothing for any other harness."""
    if harness.kind is not Kind.INSTALLED:
        return
    ways = [through for pair in harness.opens if (through := _through(harness, pair)) is not None]
    yield from (through for through in ways if through.goes)
    # A pin behind a cavity that is led astray gets a wrong circuit for that reason: it says nothing about its own plug.
    astray = {harness.nets.of(Point(through.start, name)) for through in ways for name in through.moved}
    for connector in harness.connectors.values():
        if connector.origin is Origin.EQUIPMENT and any(point.ref == connector.ref for point in harness.taps):
            found = _equipment(harness, connector, astray)
            if found.goes:
                yield found


def _through(harness: Harness, pair: tuple[str, str]) -> PinMap | None:
    """Followed along the jumper's own copper only, so that grounds of the airframe do not join everything."""
    near, far = (harness.connectors.get(harness.mate_of(ref) or "") for ref in pair)
    if near is None or far is None or near.origin is not Origin.JUMPER or far.origin is not Origin.JUMPER:
        return None
    goes: dict[str, str] = {}
    on_the_way: dict[str, tuple[Place, ...]] = {}
    for name in near.cavities:
        steps = follow(Point(near.ref, name), lambda point: _jumper_only(harness, point))
        reached = {step.end for step in steps}
        ends = [p for p in reached if p.ref == far.ref]
        if len(ends) != 1 or any(p.ref == near.ref for p in reached):
            continue
        goes[name] = ends[0].cavity
        wires = {step.through: harness.wires[step.through] for step in steps if step.through in harness.wires}
        wire = next(iter(wires.values())).place
        named = (
            Point(pair[0], name), Point(pair[1], ends[0].cavity), Point(near.ref, name), ends[0],
        )  # fmt: skip
        on_the_way[name] = (
            *(w.place for w in wires.values()),
            *(Place(str(p), wire.document, wire.line, wire.column) for p in named),
        )
    half = harness.connectors[pair[0]]
    known = half if half.fact("insert") else next((c for c in (near, far) if c.fact("insert")), half)
    return PinMap(pair[0], pair[1], known, (near.ref, far.ref), goes, on_the_way)


def _jumper_only(harness: Harness, point: Point) -> Iterator[tuple[str, Point]]:
    """The next points along new wires and new mated pairs; it does not pass a stud, a bus or existing wiring."""
    connector, splice = harness.connectors.get(point.ref), harness.splices.get(point.ref)
    inside = connector or splice
    if inside is None or inside.origin is not Origin.JUMPER:
        return
    for through, other in harness.neighbours(point):
        wire, half = harness.wires.get(through), harness.connectors.get(other.ref)
        if wire.origin is Origin.JUMPER if wire else half is not None and half.origin is Origin.JUMPER:
            yield through, other


def _equipment(harness: Harness, connector: Connector, astray: set[int | None]) -> PinMap:
    """From the pin whose tap names a circuit to the pin that gets it."""
    members = harness.nets.members()
    wants: dict[str, list[str]] = {}
    gets: dict[str, list[str]] = {}
    for point, tap in harness.taps.items():
        if point.ref != connector.ref:
            continue
        wants.setdefault(tap.circuit, []).append(point.cavity)
    for name in connector.cavities:
        net = harness.nets.of(Point(connector.ref, name))
        found = list(harness.circuits_at(members[net])) if net is not None and net not in astray else []
        if len(found) == 1:
            gets.setdefault(found[0], []).append(name)
    goes: dict[str, str] = {}
    on_the_way: dict[str, tuple[Place, ...]] = {}
    for circuit, pins in wants.items():
        arrived = gets.get(circuit, [])
        if len(pins) == len(arrived) == 1:
            goes[pins[0]] = arrived[0]
            near = harness.taps[Point(connector.ref, pins[0])].place
            labels = [Point(connector.ref, pins[0]), Point(connector.ref, arrived[0])]
            typed = [
                wire.place for _, mated in harness.neighbours(labels[1]) for wire in harness.wires_at(mated)
            ]  # the tap wire where it was typed
            on_the_way[pins[0]] = (*typed, *(Place(str(p), near.document, near.line, near.column) for p in labels))
    plug = harness.mate_of(connector.ref)
    return PinMap(connector.ref, connector.ref, connector, (plug,) if plug else (), goes, on_the_way)


# -- layouts -------------------------------------------------------------------------------------------------------


def rows(harness: Harness, pins: PinMap) -> tuple[tuple[str, ...], ...] | None:
    """The cavities of the insert row by row; None when the rows are not known."""
    record = harness.part("insert", pins.connector.says("insert"))
    names = pins.connector.names
    if record is None or names is None or record.value("rows") is None:
        return None
    counts = [int(count) for count in record.items("rows") or ()]
    if sum(counts) != len(names):
        return None
    starts = [sum(counts[:i]) for i in range(len(counts))]
    return tuple(names[start : start + count] for start, count in zip(starts, counts, strict=True))


def mirrored(harness: Harness, pins: PinMap) -> tuple[dict[str, str], str] | None:
    """The mirror cavity of each cavity and what it was read from; None when the layout of the face is not known."""
    lines = rows(harness, pins)
    insert = pins.connector.says("insert")
    if lines is not None:
        twin = {name: other for line in lines for name, other in zip(line, reversed(line), strict=True)}
        return twin, f"rows of {several([str(len(line)) for line in lines], 9)}" if len(lines) > 1 else "one row"
    view = harness.part("face view", insert)
    table = view.table("positions") if view else None
    if view is None or not table:
        return None
    points = {name: view.point("positions", name) or (0.0, 0.0) for name in table}
    axis = sum(x for x, _ in points.values()) / len(points)
    twins = {name: _nearest(points, 2 * axis - x, y) for name, (x, y) in points.items()}
    if any(twins.get(twin or "") != name for name, twin in twins.items()):
        return None  # a face that is not its own mirror image has no mirror cavity
    return {name: str(twin) for name, twin in twins.items()}, f"face view of {insert}, left and right of the key"


def _nearest(points: Mapping[str, tuple[float, float]], x: float, y: float) -> str | None:
    distance, name = min((hypot(px - x, py - y), name) for name, (px, py) in points.items())
    return name if distance <= _TOLERANCE else None


def fitting(pins: PinMap, layout: Mapping[str, str]) -> list[str] | None:
    """The moved cavities that lie where the layout says; None when they are too few to name the pattern."""
    moved = pins.moved
    fit = [name for name, to in moved.items() if layout.get(name) == to]
    return fit if len(fit) >= LEAST_MOVED and len(fit) >= FITTING * len(moved) else None


def pattern(pins: PinMap, fit: list[str], how: str, layout: str, remedy: str, elsewhere: Iterable[str] = ()) -> Finding:
    """One finding for a whole pattern; its places are all cavities and wires that it explains.

    ``elsewhere`` names moved cavities that another finding explains.
    """
    moved = pins.moved
    rest = [name for name in moved if name not in fit and name not in elsewhere]
    kind = "cavity" if pins.through else "pin"
    said = f"the jumper leads {pins.start} to {pins.end}" if pins.through else f"the circuits arrive at {pins.start}"
    also = f"; {_counted(rest, kind)} not fit it, look there as well" if rest else ""
    places = list(dict.fromkeys(place for name in fit for place in pins.on_the_way[name]))
    return Finding(
        headline=f"{said} {how}: {kind} {pins.listed(fit)}",
        place=places[0],
        others=tuple(places[1:]),
        value=f"{len(fit)} of {len(moved)} moved cavities fit {layout}{also}",
        limit="every cavity led to the cavity of the same name"
        if pins.through
        else "each pin gets the circuit declared for it under taps:",
        source=SOURCE,
        remedy=remedy,
    )


def _counted(names: list[str], kind: str) -> str:
    """``pin 3 does`` or ``cavities 3 and 4 do``."""
    if len(names) == 1:
        return f"{kind} {names[0]} does"
    return f"{'cavities' if kind == 'cavity' else 'pins'} {several(names)} do"
