"""Connector faces

Every half the kit touches as it looks in the hand: WIRE SIDE for pinning, MATING FACE for probing, with the master key
or the wide side up, and what belongs in every cavity.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from harnesscheck.connector import NONE, Connector, Origin, Use
from harnesscheck.faces import Side
from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Cell, Column, Content, Heading, NewPage, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.paper.svg import identifier
from harnesscheck.place import Point
from harnesscheck.sheets import Wish
from harnesscheck.sheets._faces_draw import Mark, faces, why_unknown
from harnesscheck.sheets._labels import Labels
from harnesscheck.wire import Wire

PART = 4
"""Where the sheet stands in the book of a pack."""
RULE = (
    "WIRE SIDE is what you see when you insert contacts from the rear; MATING FACE is what you see when you probe the "
    "open connector from the front. One is the mirror image of the other: look which one you hold before you count."
)
RINGS = (
    "Heavy ring: new wire. Dash-dot ring: existing wire. Double ring: sealing plug. Thin ring: no wire. Broken ring: "
    "nobody has said. Square instead of ring: first cavity of the insert."
)
COLUMNS = (
    Column("Cavity"),
    Column("Wire"),
    Column("Circuit or function"),
    Column("Contact"),
    Column("Gauge"),
    Column("Colour"),
    Column("Goes to"),
)


def content(job: Job, wish: Wish) -> Content:
    """New halves first, then the opened pair, then the equipment; one half a page."""
    harness = job.subject
    labels = Labels(harness)
    blocks: list[Block] = [Words(RULE, strong=True), Words(RINGS)]
    for number, half in enumerate(shown(harness)):
        blocks += [NewPage()] if number else []
        blocks += _half(harness, labels, half)
    return Content("faces", "Connector faces", tuple(blocks), decisions=tuple(decisions(harness)))


def shown(harness: Harness) -> list[Connector]:
    """The halves that somebody pins or probes for this job; all of them when there is no kit."""
    halves = harness.connectors
    new = [half for half in halves.values() if half.origin is Origin.JUMPER]
    opened = [halves[ref] for ref in harness.opened if ref in halves]
    theirs = [half for half in halves.values() if half.origin is Origin.EQUIPMENT]
    return [*new, *opened, *theirs] if new else list(halves.values())


def _half(harness: Harness, labels: Labels, half: Connector) -> Iterator[Block]:
    owner = {Origin.JUMPER: "new", Origin.AIRFRAME: "existing", Origin.EQUIPMENT: "equipment"}[half.origin]
    said = [half.part or "part number not stated", half.name, owner]
    yield Heading(f"{half.ref}   {', '.join(word for word in said if word)}")
    # Nobody sees the wires behind the receptacle of a unit: they are inside its box.
    sides = (Side.MATING,) if half.origin is Origin.EQUIPMENT else (Side.WIRE, Side.MATING)
    figure = faces(harness, half, sides, {name: _mark(harness, labels, half, name) for name in half.cavities})
    yield figure if figure is not None else Words(why_unknown(harness, half), strong=True)
    yield Table(f"cavities-{half.ref}", COLUMNS, tuple(_row(harness, labels, half, name) for name in half.cavities))


def _mark(harness: Harness, labels: Labels, half: Connector, name: str) -> Mark:
    cavity, wires = half.cavities[name], harness.wires_at(Point(half.ref, name))
    if wires:
        kind = "new" if any(wire.origin is Origin.JUMPER for wire in wires) else "existing"
        return Mark(wires[0].id if len(wires) == 1 else f"{len(wires)} wires", kind)
    pin = labels.pin(Point(half.ref, name))
    if pin is not None:
        return Mark(pin.function if pin.connect else "leave open", "existing" if pin.connect else "empty")
    if half.origin is not Origin.JUMPER and (labels.is_live(half.ref, name)):
        return Mark(labels.circuit(half.ref, name) or "in use", "existing")
    if cavity.plug not in (None, NONE):
        return Mark("plug", "plug")
    if labels.is_empty(half.ref, name):
        return Mark("spare" if cavity.use is Use.SPARE else "empty", "empty")
    return Mark("?", "unknown")


def _row(harness: Harness, labels: Labels, half: Connector, name: str) -> tuple[str | Cell, ...]:
    point = Point(half.ref, name)
    wires = harness.wires_at(point)
    cavity = half.cavities[name]
    contact = {None: "?", NONE: "none"}.get(cavity.contact, cavity.contact or "?")
    return (
        Cell(name, link=identifier("cavity", str(point))),
        _wires(labels, half, name, wires),
        _circuit(harness, labels, half, name),
        contact if wires or half.origin is not Origin.JUMPER else "none",
        _each(wires, lambda wire: str(wire.gauge) if wire.gauge is not None else "?"),
        _each(wires, labels.colour),
        _each(wires, lambda wire: str(wire.other(point))),
    )


def _wires(labels: Labels, half: Connector, name: str, wires: tuple[Wire, ...]) -> str | Cell:
    """The wires in a cavity, or why there is none."""
    if len(wires) == 1:
        return Cell(wires[0].id, link=identifier("wire", wires[0].id), strong=True)
    if wires:
        return Cell(" + ".join(wire.id for wire in wires), strong=True)
    plug = half.cavities[name].plug
    if plug not in (None, NONE):
        return f"none; plug {plug}"
    if labels.pin(Point(half.ref, name)) is None and labels.is_empty(half.ref, name):
        return "none"
    return "not listed"


def _circuit(harness: Harness, labels: Labels, half: Connector, name: str) -> str:
    """What the cavity carries: its circuit, that of the copper it is part of, or the pin of the equipment."""
    point = Point(half.ref, name)
    if not harness.wires_at(point) or labels.pin(point) is not None or labels.circuit(half.ref, name):
        return labels.beyond(half.ref, name)
    ends = [step.end for step in harness.trace(point)]
    named = [*harness.circuits_at(ends), *(pin.function for end in ends if (pin := labels.pin(end)) is not None)]
    if not named and any((found := harness.cavity(end)) and found.use is Use.SPARE for end in ends):
        return "spare, led through"
    return ", ".join(dict.fromkeys(named)) or "circuit not stated"


def _each(wires: tuple[Wire, ...], said: Callable[[Wire], str]) -> str:
    return " + ".join(said(wire) for wire in wires)
