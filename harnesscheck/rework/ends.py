"""Ends of wires as the bench sees them, and the operations that turn one end into another.

Operations: *remove* (a contact out of its cavity, a terminal off its stud), *insert* (the reverse), *cut* (a fitting or
splice off, and strip anew), *crimp*, *mark* (another mark on the wire). A splice is permanent: it is left untouched
with all its wires, or every wire that stays in it is cut and crimped again.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.wire import Wire

REMOVE, INSERT, CUT, CRIMP, MARK = "remove", "insert", "cut", "crimp", "mark"
CAVITY, SPLICE, STUD, STOWED = "cavity", "splice", "stud", "stowed"


@dataclass(frozen=True, slots=True)
class End:
    """One end of a wire: where it is, and what is crimped to it."""

    kind: str
    point: str
    """The cavity, splice or stud; empty when stowed."""
    part: str = ""
    """Contact part; with another one the end is crimped anew."""
    shell: str = ""
    """Part number of the connector: in another connector the contact sits in another cavity."""

    @property
    def seat(self) -> tuple[str, str, str]:
        """Ends with the same seat are in the same place."""
        return self.kind, self.point, self.shell


@dataclass(frozen=True, slots=True)
class Piece:
    """A wire as a thing on the bench."""

    id: str
    made_of: tuple[str, ...]
    """Type, gauge, colour; for a core also its cable, the type of the cable, and which core."""
    length: float | None
    """Laid length, metres."""
    a: End
    b: End
    mark: str
    cable: str = ""


def piece(harness: Harness, wire: Wire) -> Piece:
    """A wire of the kit as a thing on the bench."""
    made: tuple[str, ...] = (wire.type or "", str(wire.gauge or ""), wire.colour or "")
    cable = harness.cables.get(wire.cable) if wire.cable else None
    length = wire.length
    if cable is not None:
        made = (*made, cable.id, cable.type or "", wire.core or "")
        length = cable.length
    mark = wire.mark if wire.mark is not None else wire.id
    return Piece(wire.id, made, length, _end(harness, wire.a), _end(harness, wire.b), mark, wire.cable or "")


def _end(harness: Harness, point: Point) -> End:
    if not point.ref:
        return End(STOWED, "")
    connector = harness.connectors.get(point.ref)
    if connector is not None:
        cavity = connector.cavities.get(point.cavity)
        return End(CAVITY, str(point), (cavity.contact if cavity else None) or "", connector.part or "")
    if point.ref in harness.splices:
        return End(SPLICE, point.ref, harness.splices[point.ref].part or "")
    return End(STUD, str(point))


def scrapped(end: End) -> Counter[str]:
    """Operations that free an end of a wire that is thrown away."""
    return Counter({CAVITY: [REMOVE], STUD: [REMOVE], SPLICE: [CUT], STOWED: []}[end.kind])


def fresh(end: End) -> Counter[str]:
    """Operations that fit an end of a wire newly cut."""
    return Counter({CAVITY: [CRIMP, INSERT], STUD: [CRIMP, INSERT], SPLICE: [CRIMP], STOWED: []}[end.kind])


def stays_in_splice(old: End, new: End) -> bool:
    """True for an end that stays in its splice, which may be left untouched then."""
    return old.kind == new.kind == SPLICE and old.point == new.point and old.part == new.part


def changed(old: End, new: End) -> Counter[str]:
    """Operations that turn one end into the other; an end that stays in a splice is counted as cut and crimped.

    >>> one, other = End(CAVITY, "P1-1", "M39029/64-369"), End(CAVITY, "P1-2", "M39029/64-369")
    >>> sorted(changed(one, other))
    ['insert', 'remove']
    >>> sorted(changed(one, End(SPLICE, "SP1")).elements())
    ['crimp', 'cut', 'remove']
    """
    if old.kind != SPLICE and old == new:
        return Counter()
    if old.kind == new.kind and old.kind in (CAVITY, STUD) and old.part == new.part:
        return Counter([REMOVE, INSERT])
    if new.kind == STOWED:
        return Counter([REMOVE, CUT] if old.kind in (CAVITY, STUD) else [CUT])
    leave = {CAVITY: [REMOVE, CUT], STUD: [REMOVE, CUT], SPLICE: [CUT], STOWED: []}[old.kind]
    return Counter([*leave, CRIMP, *([INSERT] if new.kind in (CAVITY, STUD) else [])])
