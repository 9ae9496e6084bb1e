"""Splices sit side by side in one bundle.

What
    Two splices of the same wiring lie nearer to each other along the bundle than the length of a splice. Where they
    sit is taken from ``at:`` and from the lengths of the wires that lead to them; distances from the same connector
    are compared, so two splices that are measured from opposite ends are found as well. Splices in different named
    bundles are not compared.

Why it matters
    Splices side by side make a knot two or three times as thick as the bundle. It does not go through the clamp or
    the hole, a tie over it presses one hard sleeve into the next wire, and two barrels with a pierced sleeve touch.

Source
    Stagger splices so that the bundle does not swell: an FAA handbook text as copied on third-party pages, and from
    memory AC 43.13-1B par. 11-167. The distance is common practice: one sleeve length of the parts drawer, and 25 mm
    where that is not known.

What to do
    Move the splices apart by a sleeve length each and correct the wire lengths. Three splices side by side on purpose
    need a written limit and a bundle that has room for them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations

from harnesscheck.checks._along import Station, millimetres, stations
from harnesscheck.checks._limits import Limit, limit
from harnesscheck.checks._ours import our_splices, ours
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.source import Source, Status
from harnesscheck.splice import Splice
from harnesscheck.units import length

SEVERITY = Severity.CAUTION
SOURCE = Source("", Status.COMMON, paragraph="splices are staggered by a splice length")
LIMIT = Limit(0.025, "25 mm", Source("", Status.COMMON, paragraph="about one sleeve length"), length)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every two splices of the kit that may lie in one bundle; one finding per knot of splices."""
    splices = list(our_splices(harness))
    where = {splice.ref: stations(harness, splice) for splice in splices}
    near: dict[str, set[str]] = {splice.ref: {splice.ref} for splice in splices}
    close: dict[str, tuple[float, float, str]] = {}
    unplaced: dict[str, list[str]] = {}
    good: set[str] = set()
    for one, two in combinations(splices, 2):
        if _apart(harness, one, two):
            continue
        gaps = _gaps(where[one.ref], where[two.ref])
        if not gaps:
            for splice in (one, two):
                if not where[splice.ref]:
                    unplaced.setdefault(splice.ref, [])
            if where[one.ref] and where[two.ref]:
                unplaced.setdefault(two.ref, []).append(one.ref)
            continue
        good |= {one.ref, two.ref}
        widest = max(gaps, key=lambda ref: gaps[ref])
        least = _least(harness, one, two)
        if gaps[widest] < least.value - 1e-9:
            group = near[one.ref] | near[two.ref]
            for ref in group:
                near[ref] = group
            for ref in (one.ref, two.ref):
                close[ref] = min(close.get(ref, (9e9, 0.0, "")), (gaps[widest], least.value, widest))
    for ref, others in unplaced.items():
        yield NotChecked(place=harness.splices[ref].place, missing=_unknown(where, ref, others), remedy="give at:")
    said: set[str] = set()
    for ref in close:
        if ref not in said:
            group = near[ref]
            said |= group
            yield _finding(harness, [s for s in splices if s.ref in group], min(close[r] for r in group if r in close))
    yield Passed(len(good - said - set(unplaced)), "splices")


def _gaps(one: Mapping[str, Station], two: Mapping[str, Station]) -> dict[str, float]:
    """How far two places differ, seen from each connector that both are known from, by the best knowledge alone.

    Two places that differ by so much seen from any connector are at least so far apart, whatever the branches.
    """
    shared = [ref for ref in one if ref in two]
    best = max((one[ref].grade + two[ref].grade for ref in shared), default=0)
    return {
        ref: abs(one[ref].distance - two[ref].distance) for ref in shared if one[ref].grade + two[ref].grade == best
    }


def _apart(harness: Harness, one: Splice, two: Splice) -> bool:
    """True for splices that are not in one bundle: other bundle names, or not brought by the same hand."""
    if not (ours(harness, one) and ours(harness, two)):
        return True
    first, second = (
        {wire.bundle for wire in harness.wires_at(Point(splice.ref)) if wire.bundle} for splice in (one, two)
    )
    return bool(first and second and not first & second)


def _least(harness: Harness, one: Splice, two: Splice) -> Limit:
    """The distance asked for: what the job says, else the longer sleeve, else the default."""
    if "unstaggered-splices" in harness.overrides:
        return limit(harness, "unstaggered-splices", LIMIT)
    known = [
        (found, source)
        for splice in (one, two)
        if (record := harness.part("splice", splice.part)) is not None
        if (found := record.quantity("sleeve length")) is not None and (source := record.source("sleeve length"))
    ]
    longest, source = max(known, key=lambda pair: pair[0], default=(LIMIT.value, LIMIT.source))
    return LIMIT if longest < LIMIT.value else Limit(longest, millimetres(longest), source, LIMIT.read)


def _unknown(where: Mapping[str, Mapping[str, Station]], ref: str, others: list[str]) -> str:
    if not where[ref]:
        return "where along the bundle the splice sits is not stated"
    return f"its place and that of {several(others)} are not known from the same connector"


def _finding(harness: Harness, group: list[Splice], worst: tuple[float, float, str]) -> Finding:
    gap, least, ref = worst
    listed = sorted(group, key=lambda s: round(at.distance, 6) if (at := stations(harness, s).get(ref)) else 0.0)
    places = [f"{s.ref} {millimetres(at.distance)}" if (at := stations(harness, s).get(ref)) else s.ref for s in listed]
    names = several(s.ref for s in listed)
    source = _least(harness, group[0], group[1]).source
    return Finding(
        headline=f"splices {names} are not staggered: {millimetres(gap)} between two of them, "
        f"a splice needs {millimetres(least)}",
        place=group[-1].place,
        others=tuple(splice.place for splice in group[:-1]),
        value=f"from {ref}: {', '.join(places)}",
        limit=f"at least {millimetres(least)} from one splice to the next",
        source=source,
        remedy=f"move the splices apart by {millimetres(least)} or more and correct the wire lengths",
    )
