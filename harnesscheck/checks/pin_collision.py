"""Wires of different circuits end in one cavity.

What
    More than one wire is listed for the same cavity of a connector, and the wires serve different circuits, or it is
    not known what they serve. Wires of one and the same circuit in a cavity are two-wires-in-one-contact.

Why it matters
    A cavity takes one contact, and a crimp contact takes one wire. On the bench the second wire is either left over,
    or crimped together with the first into a barrel that was not made for two: a joint that works on the day it is
    tested and opens later. Often one of the two entries is simply a slip of the keyboard, and then two circuits
    that should never meet are joined.

Source
    Common practice: one wire in one contact, unless the contact is rated for two. Multi-wire joints belong in a splice.

What to do
    Correct the entry that is wrong. If both wires belong there, join them in a splice and lead one wire to the cavity.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._sides import shared_circuit
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Place, Point
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
        if len(wires) == 1:
            good += 1
            continue
        if shared_circuit(harness, point, wires) is not None:
            continue  # two-wires-in-one-contact says so
        last = wires[-1].place
        yield Finding(
            headline=f"{point} holds {len(wires)} wires: {several(w.id for w in wires)}",
            place=Place(str(point), last.document, last.line, last.column),
            others=tuple(wire.place for wire in wires),
            value=f"{len(wires)} wires",
            limit="1 wire in a cavity",
            remedy=f"give each wire its own cavity, or splice them and lead one wire to {point}",
        )
    yield Passed(good, "cavities with one wire")
