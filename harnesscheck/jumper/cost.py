"""What a jumper costs: splices, copper, length of wire, kinds of parts, and parts whose data nobody has confirmed.

The weights are ours (common practice: about a quarter of an hour at the bench is 1). They order plans that pass every
check; no weight buys a finding off.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from harnesscheck.connector import NONE, Origin
from harnesscheck.harness import Harness
from harnesscheck.jumper.kit import Kit
from harnesscheck.jumper.splicing import area
from harnesscheck.parts import Drawer
from harnesscheck.units import Gauge

COPPER = 8890.0
"""Kilograms in a cubic metre of annealed copper: IEC 60028 (1925), 8.89 g/cm3 at 20 C (from memory)."""
WEIGHTS = {"splices": 1.0, "mass": 10.0, "length": 0.1, "parts": 0.25, "unconfirmed": 0.5}
"""A splice 1, 100 g of copper 1, 10 m of wire 1, four kinds of parts 1, two unconfirmed parts 1: ours."""
LEAST = ("splices", "mass", "length", "parts")
"""What a person may ask for first; the weighted sum decides among equals."""
LOOKED_AT = {
    "wire": ("temperature", "volts", "od"),
    "cable": ("spec",),
    "splice": ("cma", "sealed"),
    "contact": ("gauge",),
}
"""Fields that decide whether a part suits; a part is unconfirmed when one of them is not firm."""


@dataclass(frozen=True, slots=True)
class Cost:
    """The cost of one kit. ``mass`` is that of the conductors in kilograms, ``length`` of wire and cable in metres."""

    splices: int
    mass: float
    length: float
    parts: int
    unconfirmed: int

    @property
    def total(self) -> float:
        """The weighted sum."""
        return math.fsum(weight * getattr(self, name) for name, weight in WEIGHTS.items())

    def key(self, least: str | None = None) -> tuple[float, ...]:
        """What plans are ordered by: first what a person asks for, then the weighted sum. Rounded, so that the same
        plan costs the same whatever order its wires are added up in.
        """
        first = (round(getattr(self, least), 9),) if least else ()
        return (*first, round(self.total, 9))

    def __str__(self) -> str:
        """``5 splices, 4.2 m of wire, 31 g of copper, 9 kinds of parts (2 unconfirmed): 8.1``."""
        soft = f" ({self.unconfirmed} unconfirmed)" if self.unconfirmed else ""
        return (
            f"{self.splices} {'splice' if self.splices == 1 else 'splices'}, {self.length:.2f} m of wire, "
            f"{self.mass * 1000:.0f} g of copper, {self.parts} kinds of parts{soft}: {self.total:.2f}"
        )


Piece = tuple[float, Gauge | None, int]
"""Length in metres, size, and how many conductors run along it."""


def of_kit(drawer: Drawer, kit: Kit) -> Cost:
    """The cost of a planned kit."""
    cores: dict[str, list[Gauge | None]] = {}
    pieces: list[Piece] = []
    parts: set[tuple[str, str]] = set()
    for lead in kit.leads():
        if lead.cable is not None:
            cores.setdefault(lead.cable, []).extend([lead.gauge] if lead.core not in ("shield", "drain") else [])
        else:
            pieces.append((lead.length / 1000, lead.gauge, 1))
        if lead.type is not None:
            parts.add(("wire", lead.type))
    for sheath in kit.sheaths:
        inside = cores.get(sheath.id, [])
        pieces.append((sheath.length / 1000, inside[0] if inside else None, len(inside)))
        if sheath.type is not None:
            parts.add(("cable", sheath.type))
    parts |= {("splice", joint.part) for joint in kit.joints if joint.part}
    ends = [point for lead in kit.leads() for point in (lead.a, lead.b)]
    for half in kit.halves:
        used = {half.contact(point.cavity) for point in ends if point.ref == half.ref}
        parts |= {("connector", half.part)} if half.part else set()
        parts |= {("contact", number) for number in used if number}
        parts |= {("sealing plug", half.plugs)} if half.plugs else set()
    return _sum(drawer, len(kit.joints), pieces, parts)


def of_harness(jumper: Harness) -> Cost:
    """The cost of a jumper as it was read from a file, whoever wrote it."""
    cores: dict[str, list[Gauge | None]] = {}
    pieces: list[Piece] = []
    parts: set[tuple[str, str]] = set()
    for wire in jumper.wires.values():
        if wire.origin is not Origin.JUMPER:
            continue
        if wire.cable is not None:
            cores.setdefault(wire.cable, []).extend([] if wire.is_shield else [wire.gauge])
        else:
            pieces.append((wire.length or 0.0, wire.gauge, 1))
        if wire.type is not None:
            parts.add(("wire", wire.type))
    for cable in jumper.cables.values():
        inside = cores.get(cable.id, [])
        pieces.append((cable.length or 0.0, inside[0] if inside else None, len(inside)))
        if cable.type is not None:
            parts.add(("cable", cable.type))
    parts |= {("splice", splice.part) for splice in jumper.splices.values() if splice.part}
    for connector in jumper.connectors.values():
        parts |= {("connector", connector.part)} if connector.part else set()
        for cavity in connector.cavities.values():
            if jumper.wires_at(cavity.point) and cavity.contact not in (None, NONE):
                parts.add(("contact", str(cavity.contact)))
            elif cavity.plug not in (None, NONE):
                parts.add(("sealing plug", str(cavity.plug)))
    return _sum(jumper.drawer, len(jumper.splices), pieces, parts)


def _sum(drawer: Drawer, splices: int, pieces: Iterable[Piece], parts: set[tuple[str, str]]) -> Cost:
    listed = list(pieces)
    mass = math.fsum(length * cores * (area(drawer, size) or 0.0) * COPPER for length, size, cores in listed if size)
    length = math.fsum(length for length, _, _ in listed)
    return Cost(splices, mass, length, len(parts), sum(1 for _ in _unconfirmed(drawer, parts)))


def _unconfirmed(drawer: Drawer, parts: Iterable[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    for kind, number in parts:
        record = drawer.get(kind, number) if kind in LOOKED_AT else None
        facts = [record.fact(name) for name in LOOKED_AT.get(kind, ())] if record is not None else [None]
        if kind in LOOKED_AT and not all(fact is not None and fact.firm for fact in facts):
            yield kind, number
