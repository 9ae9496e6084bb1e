"""The half that stays live when the connector is opened has pins.

What
    In each mated pair with a half that the kit brings, each power circuit is followed back to its breaker, its bus or
    the equipment that puts it out, without crossing the pair. The half on that side must have sockets; where the
    equipment takes power in, the live half is the plug at the equipment. A half that was in the aircraft before is
    not held against the kit.

Why it matters
    An open plug with live pins touches the structure, a tool or a hand. A pin that brushes the shell draws an arc that
    a 5 A breaker does not see, and the next mating welds or burns the contact.

Source
    Common practice: sockets on the live side. Seen in a connector glossary only; recalled as wording of AC 43.13-1B
    and AS50881, not looked up. For this reason it is never more than a caution.

What to do
    Exchange pins and sockets of the pair where the kit brings both halves. Where the aircraft or the equipment
    dictates the gender, write into the installation steps that the breaker is pulled before this connector is opened.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._sides import names_by_net, reached
from harnesscheck.checks._words import Tally, at, cavities, cure, several, why_unknown
from harnesscheck.connector import Connector, Mate, Origin
from harnesscheck.finding import Answer, Finding, NotChecked, Severity
from harnesscheck.harness import Harness, Kind
from harnesscheck.place import Point
from harnesscheck.source import Source, Status

SEVERITY = Severity.CAUTION
SOURCE = Source("sockets on the live side", Status.COMMON)
FOLLOWS = ("wrong-mate",)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every power contact of every pair with a new half, one finding per live half."""
    if harness.kind is not Kind.INSTALLED:
        return
    feeds = _feeds(harness)
    fed = {harness.nets.of(point) for point in feeds}
    names = names_by_net(harness)
    inputs = {pin.point for pin in harness.pins() if pin.signal == "power" and pin.direction == "in"}
    pairs: dict[tuple[str, str], list[tuple[Point, Point]]] = {}
    for one, two in harness.mated_points:
        pairs.setdefault((one.ref, two.ref), []).append((one, two))
    good = Tally("live contacts that are sockets")
    for mate in harness.mates:
        halves = [harness.connectors.get(ref) for ref in (mate.a, mate.b)]
        if not any(half is not None and half.origin is Origin.JUMPER for half in halves):
            continue
        live: dict[str, dict[Point, list[str]]] = {}
        dark: list[Point] = []
        for pair in pairs.get((mate.a, mate.b), ()):
            net = harness.nets.of(pair[0])
            power = net is not None and any(_is_power(harness, name) for name in names.get(net, ()))
            if net not in fed and not power:
                continue
            found = [(point, name) for point in pair for name in _sources(harness, feeds, point, mate)]
            found = found or [(there, "the aircraft") for here, there in (pair, pair[::-1]) if here in inputs]
            for point, name in found:
                live.setdefault(point.ref, {}).setdefault(point, []).append(name)
            if not found:
                dark.append(pair[0])
        if dark:
            yield _unsaid(harness, mate, dark)
        for ref, points in live.items():
            answer = _verdict(harness, mate, harness.connectors[ref], points)
            if isinstance(answer, Source):
                good.add(len(points), answer)
            elif not isinstance(answer, bool):
                yield answer
    yield from good.passed()


def _feeds(harness: Harness) -> dict[Point, str]:
    """Every point that puts supply on copper, with its name: breakers, buses, outputs of the equipment."""
    feeds = {Point(ref, "load"): ref for ref in harness.breakers}
    feeds |= {Point(ref, "line"): f"the line side of {ref}" for ref in harness.breakers}
    feeds |= {Point(ref): ref for ref in harness.buses}
    outputs = (pin for pin in harness.pins() if pin.signal == "power" and pin.direction == "out")
    feeds |= {pin.point: f"output {pin.point}" for pin in outputs}
    return {point: name for point, name in feeds.items() if point in harness.nets}


def _sources(harness: Harness, feeds: dict[Point, str], point: Point, mate: Mate) -> list[str]:
    """What feeds a point when the pair is open."""
    return sorted({feeds[p] for p in feeds.keys() & reached(harness, point, parted=mate.refs)})


def _is_power(harness: Harness, name: str) -> bool:
    circuit = harness.circuits.get(name)
    return circuit is not None and circuit.signal == "power"


def _unsaid(harness: Harness, mate: Mate, points: list[Point]) -> NotChecked:
    circuits = several(harness.circuits_at(q for p in points for q in reached(harness, p)))
    return NotChecked(
        place=mate.place,
        missing=f"on which side {circuits} is fed is not known: no wire leads from a breaker or bus to this pair",
        remedy="list the wire from the breaker to the connector in the airframe file",
    )


def _verdict(harness: Harness, mate: Mate, half: Connector, points: dict[Point, list[str]]) -> Answer | Source | bool:
    """The source when the half has sockets, True when it is an old half and not ours to judge."""
    gender = half.fact("gender")
    if gender is not None and half.gender == "socket":
        return gender.source
    if gender is None:
        missing = why_unknown(harness, half, f"whether {half.ref}, which is live, has pins or sockets")
        return NotChecked(place=half.place, missing=missing, remedy=cure(harness, half, "gender:"))
    if half.origin is not Origin.JUMPER:
        return True
    other = harness.connectors[mate.b if half.ref == mate.a else mate.a]
    dictated = other.origin is not Origin.JUMPER
    feeds = several(sorted({feed for names in points.values() for feed in names}))
    return Finding(
        headline=f"{cavities(points)}: live pins when {half.ref} is pulled out of {other.ref}, fed from {feeds}",
        place=half.place,
        others=(*(at(p, half.place) for p in points), other.place),
        value=f"{half.ref} has pins" + (f", because {other.ref} has sockets" if dictated else ""),
        limit="sockets on the live side",
        remedy=f"{other.ref} dictates the pins: write into the installation steps that the supply is off before "
        f"{half.ref} is pulled, and put a cap on the open plug"
        if dictated
        else f"exchange pins and sockets between {half.ref} and {other.ref}",
    )
