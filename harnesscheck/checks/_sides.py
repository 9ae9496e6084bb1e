"""Following copper with a part of it taken away, for checks that ask what lies on one side of a joint."""

from __future__ import annotations

from collections.abc import Iterable

from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.wire import Wire

NO_PAIR: frozenset[str] = frozenset()


def reached(
    harness: Harness, start: Point, without: Point | None = None, parted: frozenset[str] = NO_PAIR
) -> set[Point]:
    """Every point joined to ``start`` with the point ``without`` taken away, or the mated pair ``parted`` open."""
    seen = {start}
    stack = [start]
    while stack:
        here = stack.pop()
        for through, there in harness.neighbours(here):
            if there in seen or there == without or (through == "mate" and parted == {here.ref, there.ref}):
                continue
            seen.add(there)
            stack.append(there)
    return seen


def names_by_net(harness: Harness) -> dict[int, set[str]]:
    """The circuit names that the pin maps give to each net."""
    names: dict[int, set[str]] = {}
    for _, cavity in harness.cavities():
        net = harness.nets.of(cavity.point)
        if cavity.circuit and net is not None:
            names.setdefault(net, set()).add(cavity.circuit)
    return names


def circuits_meant(harness: Harness, points: Iterable[Point]) -> set[str]:
    """Names of the circuits that the points serve by declaration, whatever the jumper does to them.

    A point of the airframe serves the circuits of its own copper as found; an equipment pin the circuit of its tap.
    """
    before = harness.before
    known = names_by_net(before) if before else {}
    named: set[str] = set()
    for point in points:
        tap = harness.taps.get(point)
        cavity = harness.cavity(point)
        named |= {tap.circuit} if tap else set()
        named |= {cavity.circuit} if cavity and cavity.circuit else set()
        net = before.nets.of(point) if before else None
        named |= known.get(net, set()) if net is not None else set()
    return named


def shared_circuit(harness: Harness, point: Point, wires: Iterable[Wire]) -> str | None:
    """The circuit that the wires in one cavity have in common; None when they do not belong together.

    Empty when nobody can say, for one of them serves no circuit that has a name. They belong together when their far
    ends serve one circuit each and the same, or are one piece of copper without
    this cavity; and what mates with the cavity must not serve another circuit.
    """
    far = [wire.other(point) for wire in wires]
    groups = [reached(harness, end, without=point) for end in far]
    meant = [circuits_meant(harness, group) for group in groups]
    facing = {
        p for through, end in harness.neighbours(point) if through == "mate" for p in reached(harness, end, point)
    }
    common = set[str]().union(*meant)
    if common and circuits_meant(harness, facing) - common:
        return None
    if all(len(names) == 1 and names == common for names in meant):
        return next(iter(common))
    if all(end in groups[0] for end in far):
        return " and ".join(sorted(common)) or "one piece of copper"
    return "" if len(common) < 2 else None
