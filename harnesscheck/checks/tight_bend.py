"""A route bends more sharply than its wires and cables allow.

What
    The smallest bend radius of each route that the kit uses, against ten times the diameter of its thickest wire or
    cable (a caution), and against ten times the diameter of the whole bundle (a note, because the sources disagree
    about which of the two counts). The bundle is estimated from the diameters of its strands.

Why it matters
    Insulation that is bent too sharply creeps thin on the outside and cracks in the cold; the screen of a cable opens,
    and the pair in it is squeezed off its impedance. Nothing shows on the day it is tied down.

Source
    Army TM 1-1500-204-23-4 item 27: ten times the largest wire or cable; from memory AC 43.13-1B par. 11-117 says the
    same. Two third-party pages say ten times the bundle. NASA workmanship book 4, 7.3.21, allows six times for
    multi-conductor cable and recommends ten for the long term.

What to do
    Lead the bundle in a wider bend, or divide it. Where a cable maker gives a smaller radius, state it as a limit
    with the reason.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._along import millimetres
from harnesscheck.checks._limits import Limit, limit, times
from harnesscheck.checks._routes import Strand, bundle, on_routes, strands
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status
from harnesscheck.zone import Route

SEVERITY = Severity.CAUTION
SOURCE = Source("Army TM 1-1500-204-23-4", Status.CONFIRMED, paragraph="item 27")
LIMIT = Limit(10.0, "10 x", SOURCE, times)
OTHERS = "NASA book 4, 7.3.21 allows 6 x for a cable and recommends 10 x"


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every route that the kit uses, one finding per route."""
    ratio = limit(harness, "tight-bend", LIMIT)
    good = 0
    for route, wires in on_routes(harness):
        if route.bend is None:
            yield NotChecked(place=route.place, missing="the smallest bend radius is not stated", remedy="give bend:")
            continue
        listed = strands(harness, wires)
        known = [strand for strand in listed if strand.diameter is not None]
        answer = _judged(route, route.bend, known, ratio) if known else None
        if answer is not None:
            yield answer
        unknown = [f"{strand.name} ({strand.kind})" for strand in listed if strand.diameter is None]
        if unknown:
            missing = f"the diameter of {several(unknown)} is not known"
            yield NotChecked(place=route.place, missing=missing, remedy="confirm it in the shop's parts file")
        elif answer is None:
            good += 1
    yield Passed(good, "routes with their bends")


def _judged(route: Route, bend: float, known: list[Strand], ratio: Limit) -> Finding | None:
    thick = max(known, key=lambda strand: strand.diameter or 0.0)
    assert thick.diameter is not None
    whole, source = bundle(known)
    most = millimetres(ratio.value * whole)
    spread = f"{ratio.text} the whole bundle of {len(known)} (about {millimetres(whole)}) is {most}"
    differ = f"; {spread}, for the sources disagree; {OTHERS}" if len(known) > 1 else f"; {OTHERS}"
    if ratio.value * thick.diameter > bend * (1 + 1e-9):
        least = ratio.value * thick.diameter
        return Finding(
            headline=f"the bend of route {route.name} ({millimetres(bend)}) is tighter than {ratio.text} {thick.name} "
            f"({thick.kind}, {millimetres(thick.diameter, 2)}): {millimetres(least)}",
            place=route.place,
            others=(thick.place,),
            value=f"{millimetres(bend)} radius",
            limit=f"{millimetres(least)}, {ratio.text} the thickest wire or cable{differ}",
            source=thick.source if thick.source is not None and not thick.source.firm else ratio.source,
            remedy=f"lead the bundle in a bend of {millimetres(least)} radius or more",
        )
    if ratio.value * whole > bend * (1 + 1e-9):
        return Finding(
            headline=f"the bend of route {route.name} ({millimetres(bend)}) is tighter than {ratio.text} the bundle "
            f"(about {millimetres(whole)}), though not than {ratio.text} its thickest wire",
            place=route.place,
            others=tuple(strand.place for strand in known),
            severity=Severity.NOTE,
            value=f"{millimetres(bend)} radius",
            limit=f"{spread}; {ratio.text} the thickest, {thick.name}, is {millimetres(ratio.value * thick.diameter)}: "
            "the sources disagree, the thickest wire or cable is the one a government text names",
            source=source,
            remedy="lead the bundle in a wider bend where there is room; tie it so that no wire is pulled across",
        )
    return None
