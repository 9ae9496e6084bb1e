"""Wires of different circuits end in one cavity.

What
    More than one wire is listed for the same cavity of a connector, and the wires serve different circuits, or it is
    not known what they serve (wires of one and the same circuit are two-wires-in-one-contact); or a wire of the kit
    ends in a cavity that is taken already: one of the aircraft's own connectors that carries a circuit, or a pin of
    the equipment itself.

Why it matters
    A cavity takes one contact, and a crimp contact takes one wire. On the bench the second wire is either left over,
    or crimped together with the first into a barrel that was not made for two: a joint that works on the day it is
    tested and opens later. Often one of the two entries is simply a slip of the keyboard, and then two circuits
    that should never meet are joined.

Source
    Common practice: one wire in one contact, unless the contact is rated for two. Multi-wire joints belong in a splice.

What to do
    Correct the entry that is wrong. If both wires belong there, join them in a splice and lead one wire to the cavity.
    A wire of the kit ends in a connector of the kit, which mates with the aircraft's or the equipment's half.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._sides import shared_circuit
from harnesscheck.checks._words import at, several
from harnesscheck.connector import Origin, Use
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.source import Source, Status
from harnesscheck.wire import Wire

SEVERITY = Severity.STOP
SOURCE = Source("one wire in one contact", Status.COMMON)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every cavity where wires end."""
    ends: dict[Point, list[Wire]] = {}
    for wire in harness.wires.values():
        for point in (wire.a, wire.b):
            if point.ref in harness.connectors:
                ends.setdefault(point, []).append(wire)
    good = 0
    for point, wires in ends.items():
        if len(wires) > 1:
            if not shared_circuit(harness, point, wires):  # else two-wires-in-one-contact says so
                yield _two(point, wires)
            continue
        answer = _taken(harness, point, wires[0])
        if answer is None:
            good += 1
        else:
            yield answer
    yield Passed(good, "cavities with one wire")


def _two(point: Point, wires: list[Wire]) -> Finding:
    return Finding(
        headline=f"{point} holds {len(wires)} wires: {several(w.id for w in wires)}",
        place=at(point, wires[-1].place),
        others=tuple(wire.place for wire in wires),
        value=f"{len(wires)} wires",
        limit="1 wire in a cavity",
        remedy=f"give each wire its own cavity, or splice them and lead one wire to {point}",
    )


def _taken(harness: Harness, point: Point, wire: Wire) -> Answer | None:
    """A wire of the kit in a half that is not the kit's; None when the cavity is free."""
    connector = harness.connectors[point.ref]
    if wire.origin is not Origin.JUMPER or connector.origin is Origin.JUMPER:
        return None
    mate = harness.mate_of(point.ref)
    instead = f"end {wire.id} in {mate or 'a connector of the kit'}, which is plugged into {point.ref}"
    if connector.origin is Origin.EQUIPMENT:
        return Finding(
            headline=f"wire {wire.id} ends in {point} itself, which is wired inside the equipment",
            place=at(point, wire.place),
            others=(wire.place, connector.place),
            value="a wire of the kit in the equipment's own half",
            limit="1 wire in a cavity, and this one is the maker's",
            remedy=instead,
        )
    uses = _uses(harness, point)
    if Use.LIVE in uses:
        cavity = harness.cavity(point)
        return Finding(
            headline=f"{point} already carries an existing wire, and wire {wire.id} of the kit ends there too",
            place=at(point, wire.place),
            others=(wire.place, cavity.place if cavity else connector.place),
            value="the existing wire and a wire of the kit",
            limit="1 wire in a cavity",
            remedy=instead,
        )
    if Use.UNKNOWN in uses:
        return NotChecked(
            place=at(point, wire.place),
            missing=f"nobody has said whether {point}, a cavity of the aircraft's own connector, is free",
            remedy="call it spare, or end the wire in a connector of the kit",
        )
    return None


def _uses(harness: Harness, point: Point) -> set[Use]:
    """What is known of an airframe cavity: its own use, and that of the cavity it was mated with."""
    airframe = harness.before or harness
    mate = airframe.mate_of(point.ref)
    uses: set[Use] = set()
    for here in (point, Point(mate or "", point.cavity)):
        cavity = airframe.cavity(here)
        uses.add(cavity.use if cavity else Use.UNKNOWN)
    return {Use.SPARE} if uses == {Use.SPARE, Use.UNKNOWN} else uses
