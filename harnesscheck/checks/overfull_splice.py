"""A splice gets more copper than its barrel takes, or too little.

What
    The conductor areas of the wires in a splice are added and compared with the circular mils that one end of its
    barrel takes. The wires may be divided between the two ends in any way; when no way keeps both ends in the range,
    the splice does not suit. A stub splice has one end for all wires. Where only a wire range is known, each of two
    wires is compared with it; where the greatest number of wires is known, the wires are counted.

Why it matters
    Strands that do not go in are cut away, or the barrel splits when it is crimped; a tap of three wires is the usual
    case, because the splice was chosen for the gauge of one. With too little copper the crimp closes on nothing, holds
    by luck and warms up under load.

Source
    NASA-STD-8739.4 par. 19.11: more than one wire in a barrel is sized by the sum of the circular mil areas. Conductor
    areas: AC 43.13-1B Table 11-9. The range of each splice as the parts drawer gives it, with its source.

What to do
    Take the splice size whose range suits both ends, or tap with a smaller wire if its breaker allows it. Never cut
    strands away. A thin wire may be folded back only where the splice's own sheet allows it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from harnesscheck.checks._areas import CMIL, copper, weakest
from harnesscheck.checks._ours import our_splices
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.formulas.gauge import compare
from harnesscheck.harness import Harness
from harnesscheck.parts import Part
from harnesscheck.place import Point
from harnesscheck.source import Source, Status
from harnesscheck.splice import Splice
from harnesscheck.units import Range
from harnesscheck.wire import Wire

SEVERITY = Severity.STOP
SOURCE = Source("NASA-STD-8739.4", Status.CONFIRMED, "Change 6", "19.11: sum of the circular mil areas")
FOLLOWS = (
    "dead-end-wire",
    "broken-through-circuit",
)

MOST_DIVIDED = 12
"""Up to this many wires are divided between the two ends in every way (2,047 ways); no splice here takes as many."""


@dataclass(frozen=True, slots=True)
class _End:
    """The wires in one end of a barrel, and their areas added, square metres."""

    wires: tuple[str, ...]
    area: float


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every splice that the kit brings or leads a wire into, and that joins at least two wires."""
    good = 0
    for splice in our_splices(harness):
        wires = harness.wires_at(Point(splice.ref))
        if len(wires) < 2:
            continue
        answer = _judged(harness, splice, wires)
        good += answer is None
        if answer is not None:
            yield answer
    yield Passed(good, "splices")


def _judged(harness: Harness, splice: Splice, wires: Sequence[Wire]) -> Answer | None:
    record = harness.part("splice", splice.part)
    if record is None:
        missing = f"splice {splice.part} is not in the parts drawer" if splice.part else "the splice part is not stated"
        return NotChecked(place=splice.place, missing=missing, remedy="give its part number and circular mil range")
    most = record.whole("most wires")
    if most is not None and len(wires) > most:
        return Finding(
            headline=f"splice {splice.ref} ({splice.part}) joins {len(wires)} wires and takes {most}",
            place=splice.place,
            others=tuple(wire.place for wire in wires),
            value=f"{len(wires)} wires: {several(w.id for w in wires)}",
            limit=f"at most {most} wires",
            source=record.source("most wires"),
            remedy="take a splice for that many wires, or divide the wires between two splices",
        )
    unsized = [wire.id for wire in wires if wire.gauge is None]
    if unsized:
        return NotChecked(
            place=splice.place, missing=f"the gauge of {several(unsized)} is not stated", remedy="give gauge:"
        )
    span = record.span("cma")
    if span is not None:
        return _by_area(harness, splice, record, wires, span)
    if record.fact("gauge"):
        answer = _by_gauge(splice, record, wires)
        if answer is not None or (len(wires) == 2 and not _stub(record)):
            return answer
    missing = f"how many circular mils splice {splice.part} takes is not known"
    return NotChecked(place=splice.place, missing=missing, remedy="look it up and confirm it in the shop's parts file")


def _by_area(harness: Harness, splice: Splice, record: Part, wires: Sequence[Wire], span: Range) -> Answer | None:
    areas: list[tuple[Wire, float]] = []
    sources: list[Source | None] = [record.source("cma")]
    for wire in wires:
        found = copper(harness, wire)
        if isinstance(found, str):
            return NotChecked(place=splice.place, missing=found, remedy="add the conductor to the shop's parts file")
        areas.append((wire, found[0]))
        sources.append(found[1])
    ways = [[_End(tuple(w.id for w, _ in areas), math.fsum(a for _, a in areas))]] if _stub(record) else _divided(areas)
    if any(_suits(way, span) for way in ways):
        return None
    if len(wires) > MOST_DIVIDED and sum(end.area for end in ways[0]) <= 2 * span.high:
        missing = f"{len(wires)} wires in one splice are more than this check divides between its ends"
        return NotChecked(place=splice.place, missing=missing, remedy="add up their circular mils by hand")
    roomy = [way for way in ways if all(end.area <= span.high * (1 + 1e-9) for end in way)]
    if roomy:
        best = max(roomy, key=lambda way: min(end.area for end in way))
        end, word = min(best, key=lambda end: end.area), "too little copper for"
    else:
        best = min(ways, key=lambda way: max(end.area for end in way))
        end, word = max(best, key=lambda end: end.area), "too much copper for"
    gauges = {wire.id: str(wire.gauge) for wire in wires}
    inside = several(f"{name} ({gauges[name]})" for name in end.wires)
    range_text = f"{span.low / CMIL:.0f} to {span.high / CMIL:.0f} cmil"
    divided = "all wires enter one end" if _stub(record) else "no other way to divide the wires is better"
    others = _that_suit(harness, areas, splice.part)
    advice = f"take {several(others, 3)} instead" if others else "take a splice whose range suits both ends"
    return Finding(
        headline=f"{word} splice {splice.ref}: {end.area / CMIL:.0f} cmil in one end of {splice.part}, "
        f"which takes {range_text}",
        place=splice.place,
        others=tuple(wire.place for wire in wires),
        value=f"{end.area / CMIL:.0f} cmil: {inside}; {divided}",
        limit=f"{range_text} in each end",
        source=weakest(sources),
        remedy=f"{advice}; never cut strands away",
    )


def _stub(record: Part) -> bool:
    """True when all wires enter from one side."""
    return record.text("style") == "stub"


def _divided(areas: Sequence[tuple[Wire, float]]) -> list[list[_End]]:
    """Every way to divide the wires between the two ends of a barrel, none of them empty; of many wires an even one."""
    if len(areas) > MOST_DIVIDED:
        ends = [_End((), 0.0), _End((), 0.0)]
        for wire, area in sorted(areas, key=lambda pair: -pair[1]):
            ends.sort(key=lambda end: end.area)
            ends[0] = _End((*ends[0].wires, wire.id), ends[0].area + area)
        return [ends]
    ways = []
    for mask in range(1, 2 ** (len(areas) - 1)):
        sides = [[pair for i, pair in enumerate(areas) if bool(mask >> i & 1) is side] for side in (True, False)]
        ways.append([_End(tuple(w.id for w, _ in side), math.fsum(a for _, a in side)) for side in sides])
    return ways


def _suits(way: Sequence[_End], span: Range) -> bool:
    """True when every end lies in the range; a part in a thousand million forgives the arithmetic."""
    return all(span.low * (1 - 1e-9) <= end.area <= span.high * (1 + 1e-9) for end in way)


def _that_suit(harness: Harness, areas: Sequence[tuple[Wire, float]], but: str | None) -> list[str]:
    """Splices of the drawer with two ends whose range takes these wires; a range that is not confirmed says so."""
    ways = _divided(areas)
    found = []
    for number in harness.drawer.numbers("splice"):
        record = harness.part("splice", number)
        span = record.span("cma") if record else None
        source = record.source("cma") if record else None
        if record is None or span is None or source is None or number == but or _stub(record):
            continue
        if any(_suits(way, span) for way in ways):
            found.append(number if source.firm else f"{number} (its range is {source.status})")
    return found


def _by_gauge(splice: Splice, record: Part, wires: Sequence[Wire]) -> Finding | None:
    """Each wire by itself against the wire range; a wire that is too thin may share an end, so it needs a pair."""
    span = record.gauge_range("gauge")
    assert span is not None
    thin, thick = span
    sized = [(wire, wire.gauge) for wire in wires if wire.gauge is not None]
    wrong = [(wire, gauge) for wire, gauge in sized if compare(gauge, thick) > 0]
    too = "thick"
    if not wrong and len(wires) == 2:
        wrong, too = [(wire, gauge) for wire, gauge in sized if compare(gauge, thin) < 0], "thin"
    if not wrong:
        return None
    names = several(f"{wire.id} ({gauge})" for wire, gauge in wrong)
    return Finding(
        headline=f"{names} {'is' if len(wrong) == 1 else 'are'} too {too} for splice {splice.ref} ({splice.part}), "
        f"which takes {thin} to {thick}",
        place=splice.place,
        others=tuple(wire.place for wire, _ in wrong),
        value=names,
        limit=f"{thin} to {thick}",
        source=record.source("gauge"),
        remedy="take a splice made for all its wires; never cut strands away",
    )
