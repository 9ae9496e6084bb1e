"""A new wire leads nowhere.

What
    A wire of the jumper ends at a splice that no other wire reaches, in a connector that is plugged into nothing, or
    against a cavity of the equipment that the maker does not list.

Why it matters
    The circuit it should carry is open, and the loose end is live as soon as the other end is.

Source
    Common practice: every wire in a kit has two ends that are used.

What to do
    Correct the end, add the wire that is missing at the splice, or say what the connector mates with.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._words import several
from harnesscheck.connector import Connector, Origin
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness, Kind, new_wires
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status
from harnesscheck.wire import Wire

SEVERITY = Severity.STOP
SOURCE = Source("every wire has two used ends", Status.COMMON)
FOLLOWS = ("unknown-cavity", "pin-collision", "two-wires-in-one-contact")


def check(harness: Harness) -> Iterator[Answer]:
    """Look at both ends of every new wire, and at every splice."""
    good = 0
    for ref in harness.splices:
        wires = harness.wires_at(Point(ref))
        if len(wires) > 1:
            good += 1
        elif wires:
            yield _finding(
                wires[0], Point(ref), f"wire {wires[0].id} is alone in splice {ref}", "the other wires of the splice"
            )
        else:
            place = harness.splices[ref].place
            yield Finding(
                headline=f"splice {ref} joins nothing",
                place=place,
                severity=Severity.CAUTION,
                value="0 wires",
                limit="at least 2 wires in a splice",
                remedy=f"remove {ref}, or lead the wires to it",
            )
    if harness.kind is Kind.INSTALLED:
        for ref, connector in harness.connectors.items():
            if connector.origin is Origin.JUMPER:
                yield from _unmated(harness, ref, connector)
        for wire in new_wires(harness):
            for point in (wire.a, wire.b):
                answer = _at(harness, wire, point)
                if answer is None:
                    good += 1
                else:
                    yield answer
    yield Passed(good, "splices and wire ends")


def _unmated(harness: Harness, ref: str, connector: Connector) -> Iterator[Answer]:
    ends = [w for c in connector.cavities.values() for w in harness.wires_at(c.point)]
    if harness.mate_of(ref) is None and ends:
        yield Finding(
            headline=f"{ref} is plugged into nothing, so {several(w.id for w in ends)} lead nowhere",
            place=connector.place,
            others=tuple(w.place for w in ends),
            value="not mated",
            limit="every connector of the kit mates with something",
            remedy=f"say mates: at {ref}",
        )


def _at(harness: Harness, wire: Wire, point: Point) -> Answer | None:
    """What is wrong with one end of a new wire; None when it leads on."""
    mated = harness.mate_of(point.ref)
    other = harness.connectors.get(mated or "")
    if other is None or other.origin is not Origin.EQUIPMENT:
        return None
    facing = Point(other.ref, point.cavity)
    if any(pin.point == facing for pin in harness.pins()):
        return None
    if not any(pin.point.ref == other.ref for pin in harness.pins()):
        return NotChecked(
            place=wire.place,
            missing=f"the pins of {other.ref} are not listed",
            remedy="list them in the equipment file",
        )
    return _finding(
        wire,
        point,
        f"wire {wire.id} leads to {facing}, which {other.ref} does not use",
        "a pin that the equipment lists",
    )


def _finding(wire: Wire, point: Point, headline: str, limit: str) -> Finding:
    return Finding(
        headline=headline,
        place=wire.place,
        others=(Place(str(point), wire.document, wire.line, wire.column),),
        value=f"end at {point}",
        limit=limit,
        remedy=f"correct the end of {wire.id}, or add what it should meet at {point}",
    )
