"""With the jumper fitted, an existing circuit no longer reaches where it went, or two circuits are joined.

What
    The copper of the airframe is compared before and after. Every group of airframe cavities, splices, studs and
    buses that was one piece must still be one piece, and two groups that were apart must still be apart.

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

from harnesscheck.checks._shields import GROUNDS, reach
from harnesscheck.checks._words import several
from harnesscheck.circuit import label_components
from harnesscheck.connector import Use
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("airframe wiring before and after", Status.STATED)
FOLLOWS = (
    "unknown-cavity",
    "pin-collision",
    "two-wires-in-one-contact",
    "dead-end-wire",
    "wrong-mate",
    "mirrored-pin-map",
    "shifted-pin-map",
    "ribbon-order-pin-map",
    "dropped-shield",
    "drain-on-wrong-contact",
)


def check(harness: Harness) -> Iterator[Answer]:
    """Compare the nets of the airframe before and after, over the airframe's own points."""
    before = harness.before
    if before is None:
        return
    known = [p for p in before.points if _counts(before, p)]
    old = [before.nets.of(p) or 0 for p in known]
    after = [harness.nets.of(p) for p in known]
    new = [n if n is not None else -1 - i for i, n in enumerate(after)]
    yield from _unsaid(harness, before)
    good = 0
    for points in _groups(known, old, new):
        olds = {before.nets.of(p) for p in points}
        news = {harness.nets.of(p) for p in points}
        if len(olds) == len(news) == 1:
            good += 1
        else:
            answer = _finding(harness, before, points, len(olds), len(news))
            if answer is not None:
                yield answer
    yield Passed(good, "airframe circuits")


def _counts(before: Harness, point: Point) -> bool:
    """A point belongs to the comparison unless it is an empty cavity: no wire, no circuit, on neither half."""
    cavity = before.cavity(point)
    if cavity is None or cavity.use is Use.LIVE:
        return True
    return any(_live(before, other) for _, other in before.neighbours(point))


def _live(before: Harness, point: Point) -> bool:
    cavity = before.cavity(point)
    return cavity is None or cavity.use is Use.LIVE


def _unsaid(harness: Harness, before: Harness) -> Iterator[NotChecked]:
    """Cavities of the opened pair of which the airframe file says nothing, and which the jumper does not carry on."""
    if harness.opens is None:
        return
    one, two = (before.connectors[ref] for ref in harness.opens)
    for name in dict.fromkeys([*one.cavities, *two.cavities]):
        halves = [half.cavities.get(name) for half in (one, two)]
        points = (Point(one.ref, name), Point(two.ref, name))
        uses = {half.use for half in halves if half is not None}
        apart = harness.nets.of(points[0]) != harness.nets.of(points[1])
        if uses == {Use.UNKNOWN} and apart:
            near = next(half.place for half in halves if half is not None)
            yield NotChecked(
                place=Place(str(points[0]), near.document, near.line, near.column),
                missing="nobody has said what this cavity carries, and the jumper does not lead it through",
                remedy="state the circuit or call it spare, or lead it through all the same",
            )
        if one.names is None and two.names is None:
            yield NotChecked(
                place=one.place,
                missing="the insert arrangement is not known, so there may be cavities that nobody listed",
            )
            return


def _groups(known: list[Point], old: list[int], new: list[int]) -> list[list[Point]]:
    """Points that belong together because they share a net before or after: one group is one thing to report."""
    first: dict[tuple[str, int], int] = {}
    starts, ends = [], []
    for i, (was, now) in enumerate(zip(old, new, strict=True)):
        for key in (("old", was), ("new", now)):
            starts.append(first.setdefault(key, i))
            ends.append(i)
    groups: dict[int, list[Point]] = {}
    for point, label in zip(known, label_components(len(known), starts, ends), strict=True):
        groups.setdefault(label, []).append(point)
    return list(groups.values())


def _finding(harness: Harness, before: Harness, points: list[Point], olds: int, news: int) -> Finding | None:
    circuits = list(before.circuits_at(points))
    called = several(circuits) if circuits else f"the circuit at {points[0]}"
    ends = _ends(harness, points)
    if news > olds == 1:
        headline = f"{called} is broken by the jumper: {_apart(harness, points)}"
        limit, remedy = (
            "one piece of copper, as before",
            f"lead {called} through the jumper, cavity to cavity of the same name",
        )
    elif olds > news:
        if _only_grounded(harness, circuits):
            return None
        if len(circuits) == 1:
            return _joined_twice(harness, points, circuits[0], ends)
        headline = f"the jumper joins circuits that were apart: {called}"
        limit, remedy = (
            f"{olds} separate circuits, as before",
            "separate them: correct the wire or splice that joins them",
        )
    else:
        headline = f"the jumper exchanges circuits: {called}"
        limit, remedy = "each cavity led to the cavity of the same name", "exchange the wire ends that are crossed"
    place = _opened_place(harness, points)
    return Finding(
        headline=headline,
        place=place,
        others=(*ends, *(Place(str(p), place.document, place.line, place.column) for p in points)),
        value=f"{news} {'piece' if news == 1 else 'pieces'} of copper with the jumper",
        limit=limit,
        remedy=remedy,
    )


def _only_grounded(harness: Harness, circuits: Iterable[str]) -> bool:
    """True for shields and grounds that meet nowhere but on a stud: wrong-shield-ends counts those."""
    found = [harness.circuits[name] for name in circuits if name in harness.circuits]
    if not any(c.signal == "shield" for c in found) or not all(c.signal in ("shield", *GROUNDS) for c in found):
        return False
    starts: dict[str, list[Point]] = {}
    for _, cavity in harness.cavities():
        if cavity.circuit:
            starts.setdefault(cavity.circuit, []).append(cavity.point)
    met = [set(harness.circuits_at(reach(harness, starts[c.name]).points)) - {c.name} for c in found]
    return not any(met)


def _joined_twice(harness: Harness, points: list[Point], circuit: str, ends: tuple[Place, ...]) -> Finding:
    return Finding(
        headline=f"the jumper joins branches of {circuit} that were apart at this connector",
        place=_opened_place(harness, points),
        others=ends,
        severity=Severity.CAUTION,
        value="one piece of copper with the jumper",
        limit="separate branches, as before",
        remedy="keep the branches apart, unless you know that they are one circuit on both sides",
    )


def _apart(harness: Harness, points: list[Point]) -> str:
    """``P14-6 no longer reaches J14-6``, naming the points of the opened pair first."""
    opened = [p for p in points if harness.opens and p.ref in harness.opens] or points
    first = opened[0]
    lost = [p for p in [*opened, *points] if harness.nets.of(p) != harness.nets.of(first)]
    return f"{first} no longer reaches {lost[0]}"


def _opened_place(harness: Harness, points: list[Point]) -> Place:
    """Where the airframe file declares the point at the opened connector: that is where a person looks first."""
    opened = [p for p in points if harness.opens and p.ref in harness.opens]
    for point in (*opened, *points):
        cavity = harness.cavity(point)
        if cavity is not None and cavity.place.line:
            return cavity.place
    return harness.place


def _ends(harness: Harness, points: list[Point]) -> tuple[Place, ...]:
    """The jumper's wires and cavities that face the points at the opened pair."""
    found: dict[str, Place] = {}
    for point in points:
        for through, other in harness.neighbours(point):
            if through == "mate":
                for wire in harness.wires_at(other):
                    found[wire.id] = wire.place
                    found[str(other)] = Place(str(other), wire.document, wire.line, wire.column)
                    for far in (wire.a, wire.b):
                        for next_wire in harness.wires_at(far):
                            found[next_wire.id] = next_wire.place
    return tuple(found.values())
