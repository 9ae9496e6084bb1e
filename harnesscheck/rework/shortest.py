"""The shortest rework from one harness to another: the kit's wires, and the aircraft's own when those differ."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from harnesscheck.connector import Origin
from harnesscheck.harness import Harness, Kind
from harnesscheck.place import split_point
from harnesscheck.rework.ends import STOWED, End, Piece, piece
from harnesscheck.rework.moves import Rework, fewest
from harnesscheck.rework.renames import Names
from harnesscheck.rework.things import CABLE, REF
from harnesscheck.wire import Wire


def shortest(old: Harness, new: Harness, names: Names) -> Rework:
    """The fewest operations on the wires of the kit, or on all wires where there is no kit.

    What only has another name since (``names``) needs no work; a wire gets its new mark.
    """
    kit = Kind.AIRFRAME not in (old.kind, new.kind)
    return _fewest(old, new, names, lambda wire: not kit or wire.origin is Origin.JUMPER)


def of_aircraft(old: Harness, new: Harness, names: Names) -> Rework | None:
    """The same for the wires that are in the aircraft already; None where nothing has to be done to them."""
    if Kind.AIRFRAME in (old.kind, new.kind):
        return None
    found = _fewest(old, new, names, lambda wire: wire.origin is Origin.AIRFRAME)
    return found if any(found.operations(move) for move in found.moves) else None


def _fewest(old: Harness, new: Harness, names: Names, wanted: Callable[[Wire], bool]) -> Rework:
    before = [_renamed(piece(old, wire), names) for wire in old.wires.values() if wanted(wire)]
    return fewest(before, [piece(new, wire) for wire in new.wires.values() if wanted(wire)])


def _renamed(own: Piece, names: Names) -> Piece:
    """A wire whose ends and cable are called as in the new revision."""
    made = own.made_of
    cable = names.get((CABLE, own.cable), own.cable)
    if own.cable:
        made = tuple(cable if n == 3 else word for n, word in enumerate(made))  # see ``piece``: the cable's id
    return replace(own, a=_end(own.a, names), b=_end(own.b, names), cable=cable, made_of=made)


def _end(end: End, names: Names) -> End:
    point = None if end.kind == STOWED else split_point(end.point)
    if point is None:
        return end
    return replace(end, point=str(point._replace(ref=names.get((REF, point.ref), point.ref))))
