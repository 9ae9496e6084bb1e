"""From pins that are wrong to one finding for each mistake: part of the check pin-map-mismatch."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from harnesscheck.checks._labels import names_at
from harnesscheck.checks._words import at, several
from harnesscheck.connector import Origin
from harnesscheck.device import Pin
from harnesscheck.finding import Finding
from harnesscheck.harness import Harness
from harnesscheck.place import Place, Point
from harnesscheck.wire import Wire


@dataclass(frozen=True, slots=True)
class Wrong:
    """What is wrong with one pin; ``words`` are the headline without the pin in front."""

    pin: Pin
    words: str
    got: str = ""
    """The circuit that reaches the pin; empty when none does."""
    value: str = ""
    limit: str = ""
    remedy: str = ""
    """What to do when this stands alone; empty: correct the tap wire."""


def wires_facing(harness: Harness, pin: Pin) -> list[Wire]:
    """The kit's wires at the cavity that the pin mates with."""
    mate = harness.mate_of(pin.point.ref)
    wires = harness.wires_at(Point(mate, pin.point.cavity)) if mate else ()
    return [wire for wire in wires if wire.origin is Origin.JUMPER]


def findings(harness: Harness, wrong: list[Wrong], named: dict[int, list[str]]) -> Iterator[Finding]:
    """One finding a fault: pins of a half with no mate are one, and so are pins that got each other's circuits."""
    loose: dict[str, list[Wrong]] = {}
    left: list[Wrong] = []
    for entry in wrong:
        ref = entry.pin.point.ref
        (left if entry.got or harness.mate_of(ref) else loose.setdefault(ref, [])).append(entry)
    for ref, entries in loose.items():
        place = harness.connectors[ref].place
        yield Finding(
            headline=f"nothing is plugged into {ref}, so it gets no {several(e.pin.function for e in entries)}",
            place=place,
            others=tuple(e.pin.place for e in entries),
            value="not mated",
            limit="a connector of the kit, mated with it",
            remedy=f"say mates: {ref} at the plug of the kit",
        )
    while left:
        group = _together(harness, left)
        left = [entry for entry in left if entry not in group]
        yield _finding(harness, group, named)


def _together(harness: Harness, left: list[Wrong]) -> list[Wrong]:
    """The first entry and those that belong to the same mistake: one got what another wants."""
    group = left[:1]
    for entry in group:  # grows while it is walked
        for other in left:
            if other not in group and (_astray(harness, entry, other) or _astray(harness, other, entry)):
                group.append(other)
    return sorted(group, key=left.index)


def _astray(harness: Harness, one: Wrong, two: Wrong) -> bool:
    """True when ``one`` got the circuit that ``two`` wants, and does not want it itself."""
    return bool(one.got) and one.got == _wanted(harness, two.pin) != _wanted(harness, one.pin)


def _wanted(harness: Harness, pin: Pin) -> str:
    """The circuit meant for a pin: the only one that suits it, else the one named under taps:."""
    if not pin.connect:
        return ""
    tap = harness.taps.get(pin.point)
    suits = [c.name for c in harness.circuits.values() if (c.signal, c.line) == (pin.signal, pin.line)]
    if len(suits) == 1 or tap is None:
        return suits[0] if len(suits) == 1 else ""
    return tap.circuit


def _finding(harness: Harness, group: list[Wrong], named: dict[int, list[str]]) -> Finding:
    first = group[0]
    pins = [entry.pin for entry in group]
    empty = [entry for entry in group if not entry.got]
    names = several(f"{p.point} ({p.function})" for p in pins)
    if len(group) == 1:
        headline = f"{first.pin.point} {first.words}"
    elif not empty:
        headline = f"the circuits of {names} are exchanged"
    elif len(group) == 2:
        astray = next(entry for entry in group if entry.got)
        there, meant = (f"{e.pin.point} ({e.pin.function})" for e in (astray, empty[0]))
        headline = f"{astray.got} is led to {there} instead of {meant}"
    else:
        headline = f"the circuits of {names} are led to the wrong pins"
    entry = next((e for e in group if e.got), first)
    facing = Point(harness.mate_of(entry.pin.point.ref) or "", entry.pin.point.cavity)
    wires = wires_facing(harness, entry.pin)
    wanted = _wanted(harness, entry.pin)
    if len(group) == 1 and first.remedy:
        remedy = first.remedy
    elif wires:
        ends = several(wire.id for e in group for wire in wires_facing(harness, e.pin))
        remedy = f"exchange {ends} at one end" if len(group) > 1 and not empty else f"correct one end of {ends}"
        remedy += f"; see: harnesscheck trace {harness.place.file} {entry.pin.point}"
    else:
        remedy = (
            f"add the wire from {wanted or 'its circuit'} to {facing}, or correct the wire that was meant to go there"
        )
    many = len(group) > 1
    return Finding(
        headline=headline,
        place=at(entry.pin.point, wires[0].place) if wires else entry.pin.place,
        others=(
            *(wire.place for e in group for wire in wires_facing(harness, e.pin)),
            *(p.place for p in pins),
            *(place for e in group for place in _about(harness, e, named)),
        ),
        value="; ".join(f"{e.pin.point}: {e.got or 'no circuit'}" for e in group) if many else first.value,
        limit="; ".join(f"{p.point}: {p.function if p.connect else 'open'}" for p in pins) if many else first.limit,
        remedy=remedy,
    )


def _about(harness: Harness, entry: Wrong, named: dict[int, list[str]]) -> Iterator[Place]:
    """What else a pin's fault may follow from: the wires on its way, its cavity, and wires meant for it."""
    pin = entry.pin
    mate = harness.mate_of(pin.point.ref) or ""
    for step in harness.trace(pin.point):
        wire = harness.wires.get(step.through)
        if wire is not None and wire.origin is Origin.JUMPER:
            yield wire.place
    yield at(Point(mate, pin.point.cavity), pin.place)
    known = harness.connectors[mate].names if mate in harness.connectors else None
    if known is not None and pin.point.cavity not in known:
        yield from (harness.connectors[ref].place for ref in (pin.point.ref, mate))
    if entry.got:
        return
    wanted = _wanted(harness, pin)
    for wire in harness.wires.values():
        if wire.origin is Origin.JUMPER and wanted in names_at(harness, named, wire.a):
            yield wire.place
