"""With the jumper fitted, an existing circuit no longer reaches where it went, or two circuits are joined.

What
    The copper of the aircraft is compared before and after. Every group of cavities, splices, studs and buses that was
    one piece must still be one piece, and two groups that were apart must still be apart. Spare cavities are compared
    as well: a spare that is not led through is a note, a spare that gets a circuit is a caution. A cavity that is one
    piece with its own name only by way of the aircraft (a feed on two cavities, two returns on one stud) is a caution.

Why it matters
    A jumper sits in circuits that have nothing to do with the new equipment. A pass-through wire left out, or led to
    the neighbouring cavity, stops a system that nobody thinks of when the fault shows: the flap motor, the stall
    warning. This is the check that shows that the kit does no harm.

Source
    The airframe file itself, compared with and without the jumper.

What to do
    Lead every cavity of the opened connector through to the cavity of the same name, spares and shields as well.
    Join circuits only inside a declared tap.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from harnesscheck.checks._shields import GROUNDS, named, reach
from harnesscheck.checks._through import astray, blamed, facing_wires, led, opened
from harnesscheck.checks._words import at, cavities, cure, many, no_names, several
from harnesscheck.circuit import label_components
from harnesscheck.connector import NONE, Use
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness, known
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("airframe wiring before and after", Status.STATED)
FOLLOWS = (
    "unknown-cavity",
    "pin-collision",
    "dead-end-wire",
    "wrong-mate",
    "mirrored-pin-map",
    "shifted-pin-map",
    "ribbon-order-pin-map",
    "dropped-shield",
    "drain-on-wrong-contact",
    "two-wires-in-one-contact",
)


@dataclass(frozen=True, slots=True)
class Group:
    """Points of the aircraft that share a net before or after: one group is one thing to report."""

    points: list[Point]
    olds: dict[int, list[Point]]
    """Net before the jumper to its points."""
    news: int
    """Number of nets they are in with the jumper."""


def check(harness: Harness) -> Iterator[Answer]:
    """Compare the nets of the airframe before and after, over the airframe's own points."""
    before = harness.before
    if before is None:
        return
    yield from _unsaid(harness, before)
    good = 0
    spares: list[Point] = []
    for group in _groups(harness, before):
        uses = [known(before, points) for points in group.olds.values()]
        elsewhere = astray(harness, before, group.points) if group.news == 1 else {}
        if elsewhere and (len(group.olds) == 1 or _only_grounded(harness, before.circuits_at(group.points))):
            yield _by_way_of_the_aircraft(harness, before, group, elsewhere)
        elif len(group.olds) == group.news == 1:
            good += uses == [Use.LIVE] and not any(_bare(before, point) for point in group.points)
        elif len(group.olds) > 1 and _only_grounded(harness, before.circuits_at(group.points)):
            good += 1
        elif len(group.olds) > 1:
            yield _joined(harness, before, group, uses)
        elif uses == [Use.LIVE]:
            yield _broken(harness, before, group)
        elif uses == [Use.UNKNOWN]:
            first = group.points[0]
            yield NotChecked(
                place=at(first, _typed(before, first)),
                missing="nobody has said what this cavity carries, and the jumper does not lead it through",
                remedy="state the circuit or call it spare, or lead it through all the same",
            )
        else:
            spares.append(opened(harness, group.points)[0])
    if spares:
        yield _spares(harness, before, spares)
    yield Passed(good, "airframe circuits")


def _unsaid(harness: Harness, before: Harness) -> Iterator[NotChecked]:
    """What the airframe file leaves open about the opened pair."""
    halves = [before.connectors[ref] for ref in harness.opened]
    for one, two in harness.opens:
        half = before.connectors[one]
        if half.names is None and before.connectors[two].names is None:
            yield NotChecked(
                place=half.place,
                missing=f"{no_names(before, half)}; there may be cavities that nobody listed",
                remedy=cure(before, half, "insert:"),
            )
    for half in halves:
        for cavity in half.cavities.values():
            if _bare(before, cavity.point):
                yield NotChecked(
                    place=cavity.place,
                    missing=f"this cavity is said to carry {cavity.circuit or 'a wire'}, and to have no contact",
                    remedy="correct one of the two: the circuit or contact: none",
                )


def _bare(before: Harness, point: Point) -> bool:
    cavity = before.cavity(point)
    return cavity is not None and cavity.use is Use.LIVE and cavity.contact == NONE


def _groups(harness: Harness, before: Harness) -> list[Group]:
    points = before.points
    old = [before.nets.of(p) or 0 for p in points]
    new = [n if (n := harness.nets.of(p)) is not None else -1 - i for i, p in enumerate(points)]
    first: dict[tuple[str, int], int] = {}
    starts, ends = [], []
    for i, (was, now) in enumerate(zip(old, new, strict=True)):
        for key in (("old", was), ("new", now)):
            starts.append(first.setdefault(key, i))
            ends.append(i)
    members: dict[int, list[int]] = {}
    for i, label in enumerate(label_components(len(points), starts, ends)):
        members.setdefault(label, []).append(i)
    groups = []
    for indices in members.values():
        olds: dict[int, list[Point]] = {}
        for i in indices:
            olds.setdefault(old[i], []).append(points[i])
        groups.append(Group([points[i] for i in indices], olds, len({new[i] for i in indices})))
    return groups


def _called(before: Harness, points: list[Point], harness: Harness) -> str:
    """What a person calls one net of the aircraft: its circuits, else its cavity."""
    circuits = list(before.circuits_at(points))
    if circuits:
        return several(circuits)
    first = opened(harness, points)[0]
    use = known(before, points)
    if use is Use.SPARE:
        return f"spare {first}"
    return f"{first} (nobody has said what it carries)" if use is Use.UNKNOWN else f"the circuit at {first}"


def _broken(harness: Harness, before: Harness, group: Group) -> Finding:
    called = _called(before, group.points, harness)
    points = opened(harness, group.points)
    lost = next(p for p in [*points, *group.points] if harness.nets.of(p) != harness.nets.of(points[0]))
    instead = led(harness, points)
    return _finding(
        harness,
        before,
        group.points,
        headline=f"{called} is broken by the jumper: {points[0]} no longer reaches {lost}",
        value=several(instead) or f"{group.news} pieces of copper with the jumper",
        limit="one piece of copper, as before",
        remedy=f"lead {called} through the jumper, cavity to cavity of the same name",
    )


def _by_way_of_the_aircraft(
    harness: Harness, before: Harness, group: Group, elsewhere: dict[Point, list[Point]]
) -> Finding:
    """All still one piece, but only because the aircraft joins it: the kit leaves a cavity out or crosses two."""
    called = _called(before, group.points, harness)
    there = dict(harness.opens)
    says = [
        f"{point} leads to {several(map(str, ends))}"
        if ends
        else f"{point} no longer reaches {there[point.ref]}-{point.cavity}"
        for point, ends in elsewhere.items()
    ]
    points = [one for point in elsewhere for one in (point, Point(there[point.ref], point.cavity))]
    return _finding(
        harness,
        before,
        points,
        headline=f"only the aircraft's own wiring keeps {called} whole: {several(says, 4)}",
        value=several(says, 4),
        limit="each cavity led through to the cavity of the same name, also where a circuit stands on several",
        remedy="lead each of these cavities through on its own: together they share the current, or a return its path",
        severity=Severity.CAUTION,
    )


def _only_grounded(harness: Harness, circuits: Iterable[str]) -> bool:
    """True for shields and grounds that meet nowhere but on a stud: wrong-shield-ends counts those."""
    found = [harness.circuits[name] for name in circuits if name in harness.circuits]
    if not any(c.signal == "shield" for c in found) or not all(c.signal in ("shield", *GROUNDS) for c in found):
        return False
    starts = named(harness)
    met = [set(harness.circuits_at(reach(harness, starts[c.name]).points)) - {c.name} for c in found]
    return not any(met)


ONE_BREATH = 140
"""Characters of a headline that can be read out. Own rule of this project."""


def _joined(harness: Harness, before: Harness, group: Group, uses: list[Use]) -> Finding:
    names = list(dict.fromkeys(_called(before, points, harness) for points in group.olds.values()))
    called = several(names)
    astray = led(harness, opened(harness, group.points))
    live, unknown = uses.count(Use.LIVE), uses.count(Use.UNKNOWN)
    lost = any(
        use is Use.LIVE and len({harness.nets.of(p) for p in points}) > 1
        for points, use in zip(group.olds.values(), uses, strict=True)
    )
    severity = Severity.CAUTION if live or unknown else Severity.NOTE
    if live > 1 or (live and unknown) or lost:
        severity = Severity.STOP
    if group.news == 1:
        headline = f"the jumper joins what was apart: {called}"
        limit = f"{len(group.olds)} separate pieces of copper, as before"
        remedy = "separate them: correct the wire or splice that joins them"
        if live == len(uses) and len(names) == 1:
            severity = Severity.CAUTION
            headline = f"the jumper joins branches of {called} that were apart at this connector"
            remedy = "keep the branches apart, unless you know that they are one circuit on both sides"
    else:
        # Every cavity stands in the value; a headline has to be read out in one breath.
        said = [f"the jumper mixes up {several(names, n)}: {several(astray, max(2, n))}" for n in (4, 3, 2, 1)]
        headline = next((each for each in said if len(each) <= ONE_BREATH), said[-1])
        limit = "each cavity led to the cavity of the same name"
        remedy = "correct the wire ends that lead to another cavity"
    pieces = f"{many(group.news, 'piece')} of copper with the jumper"
    return _finding(
        harness,
        before,
        group.points,
        headline=headline,
        value=several(astray) or pieces,
        limit=limit,
        remedy=remedy,
        severity=severity,
    )


def _finding(
    harness: Harness,
    before: Harness,
    points: list[Point],
    *,
    headline: str,
    value: str,
    limit: str,
    remedy: str,
    severity: Severity = Severity.STOP,
) -> Finding:
    first = opened(harness, points)[0]
    guilty = blamed(harness, before, points)
    near = guilty[0].place if guilty else _typed(before, first)
    typed = tuple(_typed(before, point) for point in opened(harness, points))
    wires = tuple(wire.place for wire in (*guilty, *facing_wires(harness, points)))
    reached = tuple(at(point, near) for point in points)
    return Finding(
        headline=headline,
        place=at(first, near),
        others=(*wires[: len(guilty)], *typed, *wires[len(guilty) :], *_ends(harness, points), *reached),
        value=value,
        limit=limit,
        remedy=remedy,
        severity=severity,
    )


def _spares(harness: Harness, before: Harness, spares: list[Point]) -> Finding:
    places = tuple(_typed(before, point) for point in spares)
    wires = tuple(wire.place for wire in facing_wires(harness, spares))
    return Finding(
        headline=f"{cavities(spares)}: spare, and not led through the jumper",
        place=at(spares[0], places[0]),
        others=(*places[1:], *wires, *_ends(harness, spares), *_halves(harness, spares, places[0])),
        severity=Severity.NOTE,
        value=f"{many(len(spares), 'spare')} not led through",
        limit="every cavity led through, spares as well",
        source=Source("spares are led through a jumper so that they stay spares", Status.COMMON),
        remedy="lead the spares through, or write down that they end here",
    )


def _halves(harness: Harness, spares: list[Point], near: Place) -> list[Place]:
    """The cavities on both halves of the opened pair: a person may call a spare by either."""
    return [at(Point(ref, spare.cavity), near) for spare in spares for ref in harness.pair_of(spare.ref) or ()]


def _ends(harness: Harness, points: list[Point]) -> tuple[Place, ...]:
    """The kit's cavities that face the points: findings about them explain findings about the points."""
    found: dict[Point, Place] = {}
    for wire in facing_wires(harness, points):
        for end in (wire.a, wire.b):
            found[end] = at(end, wire.place)
    return tuple(found.values())


def _typed(before: Harness, point: Point) -> Place:
    """Where the airframe file declares a point; its connector or the file when it has no line of its own."""
    cavity = before.cavity(point)
    things = (before.splices.get(point.ref), before.grounds.get(point.ref), before.connectors.get(point.ref))
    return cavity.place if cavity else next((thing.place for thing in things if thing), before.place)
