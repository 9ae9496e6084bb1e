"""A bundle goes through a hole with too little room around it.

What
    For each passage of a route that the kit uses: the diameter of the bundle, estimated from its wires and cables,
    against the clear hole. Less than 3/8 in left all around asks for a grommet or a clamp; a bundle thicker than
    the hole does not go through. Wires of the aircraft count where the airframe file states their route.

Why it matters
    A bundle that lies on the edge of a rib is sawn through by vibration; it takes a few hundred hours, and the first
    sign is smoke or a popped breaker.

Source
    AC 43.13-1B par. 11-115: 3/8 in clearance where a bundle passes structure and cannot be clamped clear, else a
    grommet. The diameter is an estimate: packing of equal circles and a handbook rule from memory.

What to do
    Fit a grommet and say so as a limit of this job with the reason, or clamp the bundle clear of the edge, or lead
    it through a larger hole. Never drill a rib larger without the type's own data.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._along import millimetres
from harnesscheck.checks._limits import Limit, limit
from harnesscheck.checks._routes import Strand, bundle, on_routes, strands
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status
from harnesscheck.units import length
from harnesscheck.zone import Route

SEVERITY = Severity.CAUTION
SOURCE = Source("AC 43.13-1B", Status.CONFIRMED, "Chg 1", "par. 11-115")
FOLLOWS = ("plug-larger-than-passage",)
LIMIT = Limit(0.009525, "0.375 in", SOURCE, length)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every passage of every route that the kit uses, one finding per route."""
    room = limit(harness, "bundle-tight-in-passage", LIMIT)
    good = 0
    for route, wires in on_routes(harness):
        if not route.passages:
            continue
        listed = strands(harness, wires)
        known = [strand for strand in listed if strand.diameter is not None]
        whole, source = bundle(known) if known else (0.0, None)
        # What is known already decides when it is too much alone; else every strand must be known.
        blocked = {name: hole for name, hole in route.passages.items() if known and hole < whole * (1 - 1e-9)}
        tight = {name: hole for name, hole in route.passages.items() if known and hole < whole + 2 * room.value - 1e-9}
        unknown = [f"{strand.name} ({strand.kind})" for strand in listed if strand.diameter is None]
        if blocked:
            yield _blocked(route, known, whole, blocked, source)
        elif tight:
            yield _tight(route, known, whole, tight, room)
        if unknown:
            missing = f"the diameter of {several(unknown)} is not known"
            yield NotChecked(place=route.place, missing=missing, remedy="confirm it in the shop's parts file")
        else:
            good += len(route.passages) - len(tight)
    yield Passed(good, "passages")


def _narrowest(holes: dict[str, float]) -> tuple[str, float]:
    return min(holes.items(), key=lambda item: item[1])


def _holes(holes: dict[str, float]) -> str:
    return ", ".join(f"{name} {millimetres(hole)}" for name, hole in holes.items())


def _blocked(
    route: Route, known: list[Strand], whole: float, holes: dict[str, float], source: Source | None
) -> Finding:
    name, hole = _narrowest(holes)
    return Finding(
        headline=f"the bundle of route {route.name} (about {millimetres(whole)}) is thicker than the hole "
        f"{name} ({millimetres(hole)})",
        place=route.place,
        others=tuple(strand.place for strand in known),
        severity=Severity.STOP,
        value=f"{several(strand.name for strand in known)}: about {millimetres(whole)}",
        limit=_holes(holes),
        source=source,
        remedy="divide the bundle between two ways, or take another route",
    )


def _tight(route: Route, known: list[Strand], whole: float, holes: dict[str, float], room: Limit) -> Finding:
    name, hole = _narrowest(holes)
    least = whole + 2 * room.value
    return Finding(
        headline=f"the bundle of route {route.name} has {millimetres((hole - whole) / 2)} around it in {name}, "
        f"less than {room.text}",
        place=route.place,
        others=tuple(strand.place for strand in known),
        value=f"bundle about {millimetres(whole)}; holes: {_holes(holes)}",
        limit=f"{room.text} all around: a hole of {millimetres(least)}, or a grommet",
        source=room.source,
        remedy="fit a grommet and state it as a limit of this job, or clamp the bundle clear of the edge",
    )
