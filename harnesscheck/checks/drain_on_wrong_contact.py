"""A shield or drain ends on a contact that is no shield and no ground, or a core ends on the shield contact.

What
    Each end of each shield and drain wire of the kit, and of each core of a new shielded cable, in a connector. A
    shield belongs on a contact whose circuit or equipment pin is a shield or a ground; a core does not belong on a
    shield contact.

Why it matters
    A drain one cavity beside its own puts the braid, and with it every other end of that shield, on a supply or a
    data line. The first touch of braid against structure is a short of that line. On a sensor return the shield
    current adds to the reading.

Source
    Common practice: a shield passes a connector on its own contact and is not tied to a signal return inside a
    jumper (the second half from memory, so a signal return raises a caution only).

What to do
    Exchange the wire ends, or correct the cavity of the drain.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._shields import Carried, carried, cores, has_shield, new_shields
from harnesscheck.checks._words import at, several
from harnesscheck.connector import Use
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.source import Source, Status
from harnesscheck.wire import Wire

SEVERITY = Severity.STOP
SOURCE = Source("a shield on a shield contact or a ground", Status.COMMON)
RETURN = Source("no shield on a signal return inside a jumper", Status.MEMORY)
FOLLOWS = (
    "unknown-cavity",
    "pin-collision",
    "wrong-mate",
    "mirrored-pin-map",
    "shifted-pin-map",
    "ribbon-order-pin-map",
)

Misplaced = tuple[Wire, Point, Carried]


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every end of the shields and cores of new shielded cables; one finding per cable and connector."""
    good = 0
    inside = cores(harness)
    unsaid: dict[str, list[tuple[Wire, Point]]] = {}
    for name, cable, shields in new_shields(harness):
        wrong: dict[str, list[Misplaced]] = {}
        for wire in (*shields, *(inside.get(name, ()) if has_shield(harness, cable, shields) else ())):
            for point in (wire.a, wire.b):
                if point.ref not in harness.connectors:
                    continue
                stands = carried(harness, point)
                if stands is not None and stands.signal is not None:
                    if _belongs(wire, stands.signal):
                        good += 1
                    else:
                        wrong.setdefault(point.ref, []).append((wire, point, stands))
                elif wire.is_shield and not _spare(harness, point):
                    what = f"the signal class of {stands.name}" if stands else f"what {point} meets"
                    unsaid.setdefault(what, []).append((wire, point))
        for ref, listed in wrong.items():
            yield _finding(name, ref, listed)
    for what, ends in unsaid.items():
        wire, point = ends[0]
        verb = "ends" if len(ends) == 1 else "end"
        yield NotChecked(
            place=at(point, wire.place),
            missing=f"{what} is not stated, and {several(w.id for w, _ in ends)} {verb} on it",
            remedy="name the circuit and its signal class",
        )
    yield Passed(good, "ends of shields and cores")


def _belongs(wire: Wire, signal: str) -> bool:
    return signal in ("shield", "ground") if wire.is_shield else signal != "shield"


def _spare(harness: Harness, point: Point) -> bool:
    """True when the contact that this one touches is stated to carry nothing; floating-shield looks at the rest."""
    facing = [end for through, end in harness.neighbours(point) if through == "mate"]
    cavities = [harness.cavity(end) for end in facing]
    return bool(cavities) and all(c is not None and c.use is Use.SPARE for c in cavities)


def _finding(name: str, ref: str, listed: list[Misplaced]) -> Finding:
    drains = [one for one in listed if one[0].is_shield]
    crossed = [one for one in listed if not one[0].is_shield]
    wire, point, stands = (drains or crossed)[0]
    if drains and crossed:
        other, there, _ = crossed[0]
        headline = f"{wire.core} {wire.id} and core {other.id} of {name} are exchanged at {point} and {there}"
        remedy = f"exchange the two ends: {wire.id} belongs on {there}, {other.id} on {point}"
    elif drains:
        headline = f"{wire.core} {wire.id} of {name} ends at {point} on {stands.name}, {_class(stands)}"
        remedy = f"lead {wire.id} to the shield contact of {ref}"
    else:
        headline = f"core {wire.id} of {name} ends at {point} on the shield contact {stands.name}"
        remedy = f"correct the cavity of {wire.id}; the shield contact is for the drain"
    returns = not crossed and all(s.signal == "signal ground" for *_, s in drains)
    return Finding(
        headline=headline,
        place=wire.place,
        others=tuple(place for w, p, _ in listed for place in (w.place, at(p, w.place))),
        value=several(f"{w.id} on {s.name} ({s.signal})" for w, _, s in listed),
        limit="drain on a shield or ground contact, cores on the others",
        source=RETURN if returns else None,
        remedy=remedy,
    )


def _class(stands: Carried) -> str:
    if stands.signal == "none":
        return "which must carry nothing"
    return "which is a signal return" if stands.signal == "signal ground" else f"whose signal is {stands.signal}"
