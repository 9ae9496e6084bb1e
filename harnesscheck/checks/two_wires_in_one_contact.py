"""Two wires of one circuit are put into one contact instead of a splice.

What
    More than one wire is listed for one cavity, and the wires belong to the same circuit: their far ends are one piece
    of copper without this cavity, or serve the same circuit. Wires of different or unknown circuits in one cavity
    are pin-collision, which finds them also where it is not known what they serve.

Why it matters
    The tap looks finished on the drawing, and the ring-out is good. At the bench two wires go into a barrel made for
    one: the crimp holds one of them and pinches the other, or does not close. In a sealed connector the two wires
    leave a gap in the grommet through which water creeps in.

Source
    Common practice: one wire in one contact, unless the contact is rated for two. MIL-S-17000N par. 3.6.10.1, written
    for ships, says the same: one wire to a contact except stated double-wire contacts.

What to do
    Join the wires in a splice and lead one wire to the cavity.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._sides import shared_circuit
from harnesscheck.checks._words import at, several
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.source import Source, Status
from harnesscheck.wire import Wire

SEVERITY = Severity.STOP
SOURCE = Source("one wire in one contact", Status.COMMON)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every cavity where wires end; those with wires of different circuits are left to pin-collision."""
    ends: dict[Point, list[Wire]] = {}
    for wire in harness.wires.values():
        for point in (wire.a, wire.b):
            if point.ref in harness.connectors:
                ends.setdefault(point, []).append(wire)
    good = 0
    shared: dict[tuple[str, ...], tuple[str, list[Point]]] = {}
    for point, wires in ends.items():
        circuit = shared_circuit(harness, point, wires) if len(wires) > 1 else None
        if len(wires) == 1:
            good += 1
        elif circuit:
            # A wire doubled over its whole length shares the contact at both ends: one fault.
            key = tuple(sorted(w.id for w in wires))
            shared.setdefault(key, (circuit, []))[1].append(point)
        elif circuit is not None:
            yield NotChecked(
                place=at(point, wires[-1].place),
                missing=f"whether {several(w.id for w in wires)} belong to one circuit is not known",
                remedy="name the circuit at the cavity they lead to, or under taps:",
            )
    for circuit, points in shared.values():
        yield _finding(harness, points, ends[points[0]], circuit)
    yield Passed(good, "contacts with one wire")


def _finding(harness: Harness, points: list[Point], wires: list[Wire], circuit: str) -> Finding:
    sealed = any(harness.connectors[point.ref].says("sealed") == "yes" for point in points)
    where = several(str(point) for point in points)
    leak = "; the grommet cannot seal around two wires" if sealed else ""
    return Finding(
        headline=f"{len(wires)} wires of {circuit} share the contact at {where}: {several(w.id for w in wires)}{leak}",
        place=at(points[0], wires[-1].place),
        others=(*(at(point, wires[-1].place) for point in points[1:]), *(wire.place for wire in wires)),
        value=f"{len(wires)} wires",
        limit="1 wire in a contact",
        remedy=f"join {several(w.id for w in wires)} in a splice and lead one wire from it to {where}",
    )
