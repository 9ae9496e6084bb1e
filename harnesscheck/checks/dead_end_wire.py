"""A new wire leads nowhere.

What
    A wire of the jumper ends at a splice that no other wire reaches, in a cavity that is stated to have no contact, in
    a connector that is plugged into nothing, or opposite a cavity that the other half does not have or the maker of
    the equipment does not list.

Why it matters
    The circuit it should carry is open, and the loose end is live as soon as the other end is.

Source
    Common practice: every wire in a kit has two ends that are used.

What to do
    Correct the end, add the wire that is missing at the splice, or say what the connector mates with.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._words import at, cavities, many, several, weakest
from harnesscheck.connector import NONE, Connector, Origin
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness, Kind, new_wires
from harnesscheck.place import Point
from harnesscheck.source import Source, Status
from harnesscheck.splice import Splice
from harnesscheck.wire import Wire

SEVERITY = Severity.STOP
SOURCE = Source("every wire has two used ends", Status.COMMON)
FOLLOWS = ("unknown-cavity", "pin-collision", "two-wires-in-one-contact", "wrong-mate")


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every splice, and at both ends of every new wire."""
    good = 0
    for splice in harness.splices.values():
        answer = _splice(harness, splice)
        if answer is None:
            good += 1
        else:
            yield answer
    if harness.kind is Kind.INSTALLED:
        pins = {pin.point for pin in harness.pins()}
        listed = {point.ref for point in pins}
        free = [r for r, c in harness.connectors.items() if c.origin is not Origin.JUMPER and _is_free(harness, r)]
        for ref, connector in harness.connectors.items():
            if connector.origin is Origin.JUMPER:
                yield from _unmated(harness, ref, connector, free)
        bare: dict[str, list[tuple[Wire, Point]]] = {}
        for wire in new_wires(harness):
            for point in (wire.a, wire.b):
                cavity = harness.cavity(point)
                if cavity is not None and cavity.contact == NONE:
                    bare.setdefault(point.ref, []).append((wire, point))
                    continue
                answer = _end(harness, wire, point, pins, listed)
                if answer is None:
                    good += 1
                else:
                    yield answer
        yield from (_bare(ends) for ends in bare.values())
    yield Passed(good, "splices and wire ends")


def _bare(ends: list[tuple[Wire, Point]]) -> Finding:
    """Wires that end in cavities of one connector where the file says ``contact: none``."""
    wire, point = ends[0]
    where = cavities(p for _, p in ends)
    names = several(w.id for w, _ in ends)
    return Finding(
        headline=f"{where}: {names} {'end' if len(ends) > 1 else 'ends'} there, but no contact is to be fitted",
        place=at(point, wire.place),
        others=tuple(place for w, p in ends for place in (w.place, at(p, w.place))),
        value="contact: none",
        limit="a contact on every wire end",
        remedy="name the contact, or end the wire elsewhere",
    )


def _splice(harness: Harness, splice: Splice) -> Answer | None:
    point = Point(splice.ref)
    wires = harness.wires_at(point)
    if len(wires) > 1:
        return None
    if splice.origin is not Origin.JUMPER:
        return NotChecked(
            place=splice.place,
            missing=f"only {many(len(wires), 'wire')} of this splice in the aircraft is listed",
            remedy="list the wires that meet there",
        )
    if wires:
        headline = f"wire {wires[0].id} is alone in splice {splice.ref}"
        return _finding(wires[0], point, headline, "1 wire", "at least 2 wires in a splice")
    return Finding(
        headline=f"splice {splice.ref} joins nothing",
        place=splice.place,
        severity=Severity.CAUTION,
        value="0 wires",
        limit="at least 2 wires in a splice",
        remedy=f"remove {splice.ref}, or lead the wires to it",
    )


def _unmated(harness: Harness, ref: str, connector: Connector, free: list[str]) -> Iterator[Answer]:
    ends = [w for c in connector.cavities.values() for w in harness.wires_at(c.point)]
    if harness.mate_of(ref) is None and ends:
        yield Finding(
            headline=f"{ref} is plugged into nothing, so {several(w.id for w in ends)} lead nowhere",
            place=connector.place,
            others=(*(w.place for w in ends), *(harness.connectors[r].place for r in free)),
            value="not mated",
            limit="every connector of the kit mates with something",
            remedy=f"say mates: at {ref}" + (f"; {several(free)} is free" if len(free) == 1 else ""),
        )


def _is_free(harness: Harness, ref: str) -> bool:
    """A half that the kit may be plugged into: a half of the opened pair or of the equipment with no mate."""
    mine = harness.connectors[ref].origin is Origin.EQUIPMENT or ref in harness.opened
    return mine and harness.mate_of(ref) is None


def _end(harness: Harness, wire: Wire, point: Point, pins: set[Point], listed: set[str]) -> Answer | None:
    """What is wrong with one end of a new wire; None when it leads on."""
    other = harness.connectors.get(harness.mate_of(point.ref) or "")
    if other is None:
        return None
    facing = Point(other.ref, point.cavity)
    if other.names is not None and point.cavity not in other.names:
        headline = f"wire {wire.id} leads to {facing}, a cavity that {other.ref} does not have"
        record = harness.part("insert", other.says("insert"))
        source = weakest(other.fact("insert"), record.fact("cavities") if record else None)
        return _finding(wire, point, headline, f"end at {point}", f"a cavity that {other.ref} has", source)
    if other.origin is not Origin.EQUIPMENT or facing in pins:
        return None
    if other.ref not in listed:
        return NotChecked(
            place=wire.place,
            missing=f"the pins of {other.ref} are not listed",
            remedy="list them in the equipment file",
        )
    headline = f"wire {wire.id} leads to {facing}, which {other.ref} does not use"
    return _finding(wire, point, headline, f"end at {point}", "a pin that the equipment file lists")


def _finding(wire: Wire, point: Point, headline: str, value: str, limit: str, source: Source | None = None) -> Finding:
    return Finding(
        headline=headline,
        place=wire.place,
        others=(at(point, wire.place),),
        value=value,
        limit=limit,
        source=source,
        remedy=f"correct the end of {wire.id}, or add what it should meet at {point}",
    )
