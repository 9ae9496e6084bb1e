"""A wire is shorter than the way it has to go.

What
    The laid length of each wire and cable of the kit against the length of its route, from rear face to rear face. A
    wire without a route of its own follows the route of the connector of the kit at its end. A wire that ends in a
    splice counts together with the way from there to the connector that the place of the splice is stated from, else
    to the nearest one. A wire between a connector and a splice, or between two splices, must also reach from one to
    the other, as their places (``at:``) say.

Why it matters
    It is found when the kit lies in the aircraft and the plug hangs a hand's breadth short. A wire that just reaches
    carries the pull of the whole bundle, and its contact comes out of the cavity.

Source
    The lengths that the job files state; nothing is assumed.

What to do
    Correct the length of the wire, the route or the place of the splice, whichever is wrong, and cut nothing before.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from harnesscheck.checks._along import Along, millimetres
from harnesscheck.checks._ours import ours
from harnesscheck.checks._routes import routes_of
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Place
from harnesscheck.source import Source, Status
from harnesscheck.wire import Wire
from harnesscheck.zone import Route

SEVERITY = Severity.STOP
SOURCE = Source("the lengths in the job files", Status.STATED)


@dataclass(frozen=True, slots=True)
class _Way:
    """A way that a wire must reach: how far it is, how much wire there is for it, and both in words."""

    need: float
    have: float
    needed: str
    had: str
    far: Place


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every wire of the kit that has a route or a splice of known place, one finding per way."""
    good = 0
    short: dict[str, dict[str, tuple[Place, _Way]]] = {}
    said: set[str] = set()
    along = Along(harness)
    for wire in harness.wires.values():
        if not ours(harness, wire):
            continue
        cable = harness.cables.get(wire.cable or "")
        whole = cable is not None and cable.length == wire.length
        name, place = (cable.id, cable.place) if cable is not None and whole else (wire.id, wire.place)
        routes = [harness.routes[route] for route in routes_of(harness, wire) if route in harness.routes]
        for route in routes:
            if route.length is None and route.name not in said:
                said.add(route.name)
                yield NotChecked(
                    place=route.place, missing="the length of the route is not stated", remedy="give length:"
                )
        placed = _between_places(harness, wire)
        if name in said or not (placed or any(route.length is not None for route in routes)):
            continue
        if wire.length is None:
            said.add(name)
            yield NotChecked(place=place, missing="its length is not stated", remedy="give length:")
            continue
        ways = [*_along_routes(along, wire, wire.length, routes), *placed]
        unknown = next((way for way in ways if isinstance(way, str)), "")
        lacking = next((w for w in ways if not isinstance(w, str) and w.have < w.need - 1e-6), None)
        if lacking is not None:
            said.add(name)
            short.setdefault(lacking.far.label, {})[name] = (place, lacking)
        elif unknown:
            said.add(name)
            yield NotChecked(place=place, missing=unknown, remedy="give at: of the splice")
        else:
            good += 1
    yield from (_finding(found) for found in short.values())
    yield Passed(good, "wires long enough for their way")


def _along_routes(along: Along, wire: Wire, length: float, routes: list[Route]) -> Iterator[_Way | str]:
    """The wire, with the way on from a splice at its end, against each of its routes."""
    total, words, unplaced = length, [f"{wire.id} {millimetres(length)}"], []
    used = {wire.a.ref, wire.b.ref}
    for ref in (wire.a.ref, wire.b.ref):
        splice = along.harness.splices.get(ref)
        if splice is None:
            continue
        on = {far: length for far, length in along.copper(splice).items() if far not in used}
        if not on:
            unplaced.append(ref)
            continue
        nearest = min(on, key=lambda far: (far != splice.at_ref, on[far], far))
        used.add(nearest)
        total += on[nearest]
        words.append(f"{nearest} to {ref} {millimetres(on[nearest])}")
    for route in routes:
        if route.length is None:
            continue
        if unplaced and total < route.length - 1e-6:
            yield f"how far {several(unplaced)} is from the next connector is not known, so the way on is not either"
        else:
            yield _Way(
                route.length,
                total,
                f"route {route.name} is {millimetres(route.length)} long",
                f"{millimetres(total)} from end to end ({' and '.join(words)})" if len(words) > 1 else "",
                route.place,
            )


def _between_places(harness: Harness, wire: Wire) -> list[_Way]:
    """The wire against the stated places of the splices at its ends, where both are on one scale."""
    length = wire.length
    if length is None:
        return []
    found: list[_Way] = []
    ends = [harness.splices.get(point.ref) for point in (wire.a, wire.b)]
    for splice, other in ((ends[0], wire.b.ref), (ends[1], wire.a.ref)):
        if splice is not None and splice.at is not None and splice.at_ref == other:
            need = f"{splice.ref} sits {millimetres(splice.at)} from {other}"
            found.append(_Way(splice.at, length, need, "", splice.place))
    one, two = ends
    if one and two and one.at is not None and two.at is not None and one.at_ref == two.at_ref:
        need = f"{one.ref} and {two.ref} are {millimetres(abs(one.at - two.at))} apart"
        found.append(_Way(abs(one.at - two.at), length, need, "", two.place))
    return found


def _finding(short: dict[str, tuple[Place, _Way]]) -> Finding:
    """One way that wires do not reach: the one that lacks most leads, the others are named with what they have."""
    name = max(short, key=lambda each: short[each][1].need - short[each][1].have)
    place, way = short[name]
    had = way.had or millimetres(way.have)
    lacks = f"{name} does not reach: {way.needed}, there are {had}"
    return Finding(
        headline=lacks
        if len(short) == 1
        else f"{len(short)} wires do not reach, {name} by most: {way.needed}, there are {had}",
        place=place,
        others=(way.far, *(other for each, (other, _) in short.items() if each != name)),
        value=had if len(short) == 1 else ", ".join(f"{each} {millimetres(w.have)}" for each, (_, w) in short.items()),
        limit=f"at least {millimetres(way.need)}: {way.needed}",
        remedy=f"make {name} {millimetres(way.need - way.have)} longer"
        f"{' and the others as well' if len(short) > 1 else ''}, or correct the place or the route",
    )
