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
from dataclasses import dataclass
from itertools import combinations

from harnesscheck.checks._along import Along, Station, millimetres
from harnesscheck.checks._limits import Limit, limit
from harnesscheck.checks._ours import our_splices, ours
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness, Kind
from harnesscheck.place import Point
from harnesscheck.source import Source, Status
from harnesscheck.splice import Splice
from harnesscheck.units import length

SEVERITY = Severity.CAUTION
SOURCE = Source("", Status.COMMON, paragraph="splices are staggered by a splice length")
LIMIT = Limit(0.025, "25 mm", Source("", Status.COMMON, paragraph="about one sleeve length"), length)


@dataclass(frozen=True, slots=True)
class _Gap:
    """Two splices too close: how far apart, seen from which connector, and the limit they break."""

    gap: float
    ref: str
    least: Limit


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every two splices of the kit that may lie in one bundle; one finding per knot of splices."""
    stated = limit(harness, "unstaggered-splices", LIMIT) if "unstaggered-splices" in harness.overrides else None
    along = Along(harness)
    splices = {splice.ref: splice for splice in our_splices(harness) if ours(harness, splice)}
    where = {ref: along.stations(splice) for ref, splice in splices.items()}
    knots = {ref: {ref} for ref in splices}
    worst: dict[str, _Gap] = {}
    unknown: dict[str, list[str]] = {}
    good: set[str] = set()
    for one, two in _pairs(harness, splices):
        gaps = _gaps(where[one.ref], where[two.ref])
        for splice, other in ((one, two), (two, one)):
            if not where[splice.ref]:
                unknown.setdefault(splice.ref, [])
            elif not gaps and where[other.ref] and splice is two:
                unknown.setdefault(splice.ref, []).append(other.ref)
        if not gaps:
            continue
        good |= {one.ref, two.ref}
        seen_from = max(gaps, key=lambda ref: gaps[ref])
        least = stated or _least(harness, one, two)
        if gaps[seen_from] < least.value - 1e-9:
            knot = knots[one.ref] | knots[two.ref]
            knots.update(dict.fromkeys(knot, knot))
            for ref in (one.ref, two.ref):
                found = _Gap(gaps[seen_from], seen_from, least)
                worst[ref] = min(worst.get(ref, found), found, key=lambda each: each.gap)
    for ref, others in unknown.items():
        missing = (
            f"its place and that of {several(others)} are not known from the same connector"
            if others
            else "where along the bundle the splice sits is not stated"
        )
        yield NotChecked(place=splices[ref].place, missing=missing, remedy="give at:")
    said: set[str] = set()
    for ref in worst:
        if ref not in said:
            said |= knots[ref]
            tightest = min((worst[each] for each in knots[ref]), key=lambda each: (each.gap, each.ref))
            yield _finding([splices[each] for each in splices if each in knots[ref]], where, tightest)
    yield Passed(len(good - said - set(unknown)), "splices")


def _pairs(harness: Harness, splices: Mapping[str, Splice]) -> Iterator[tuple[Splice, Splice]]:
    """Two splices that may lie side by side: of a kit any two; else those placed on one scale or bundle.

    Splices whose wires name different bundles are apart.
    """
    bundles = {ref: {wire.bundle for wire in harness.wires_at(Point(ref)) if wire.bundle} for ref in splices}
    groups: dict[str, list[str]] = {}
    for ref, splice in splices.items():
        scales = [""] if harness.kind is Kind.INSTALLED else [splice.at_ref or "", *sorted(bundles[ref])]
        for name in scales:
            if name or harness.kind is Kind.INSTALLED:
                groups.setdefault(name, []).append(ref)
    done: set[tuple[str, str]] = set()
    for refs in groups.values():
        for pair in combinations(refs, 2):
            first, second = bundles[pair[0]], bundles[pair[1]]
            if pair not in done and not (first and second and not first & second):
                done.add(pair)
                yield splices[pair[0]], splices[pair[1]]


def _gaps(one: Mapping[str, Station], two: Mapping[str, Station]) -> dict[str, float]:
    """How far two places differ, seen from each connector that both are known from, by the best knowledge alone.

    Two places that differ by so much seen from any connector are at least so far apart, whatever the branches.
    """
    shared = [ref for ref in one if ref in two]
    best = max((one[ref].grade + two[ref].grade for ref in shared), default=0)
    return {
        ref: abs(one[ref].distance - two[ref].distance) for ref in shared if one[ref].grade + two[ref].grade == best
    }


def _least(harness: Harness, one: Splice, two: Splice) -> Limit:
    """The distance asked for: the longer sleeve, or the default where that is longer or no sleeve is known."""
    limits = [LIMIT]
    for splice in (one, two):
        record = harness.part("splice", splice.part)
        sleeve, source = (record.quantity("sleeve length"), record.source("sleeve length")) if record else (None, None)
        if sleeve is not None and source is not None:
            limits.append(Limit(sleeve, millimetres(sleeve), source, LIMIT.read))
    return max(limits, key=lambda each: each.value)


def _finding(knot: list[Splice], where: Mapping[str, Mapping[str, Station]], tightest: _Gap) -> Finding:
    ref, least = tightest.ref, tightest.least
    known = [(round(at.distance, 6), splice.ref) for splice in knot if (at := where[splice.ref].get(ref))]
    places = [f"{name} {millimetres(distance)}" for distance, name in sorted(known, key=lambda pair: pair[0])]
    return Finding(
        headline=f"splices {several(splice.ref for splice in knot)} are not staggered: "
        f"{millimetres(tightest.gap)} between two of them, a splice needs {least.text}",
        place=knot[-1].place,
        others=tuple(splice.place for splice in knot[:-1]),
        value=f"from {ref}: {', '.join(places)}",
        limit=f"at least {least.text} from one splice to the next",
        source=least.source,
        remedy=f"move the splices apart by {least.text} or more and correct the wire lengths",
    )
