"""Wires, halves and harnesses made up for tests by hand."""

from __future__ import annotations

from typing import Any

from harnesscheck.connector import Cavity, Connector, Origin
from harnesscheck.harness import Harness, Kind
from harnesscheck.parts import open_drawer
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status
from harnesscheck.wire import Wire

NEW, OLD, BOXED = Origin.JUMPER, Origin.AIRFRAME, Origin.EQUIPMENT
FIRM, SHEET = Source("a", Status.STATED), Source("b", Status.CONFIRMED)
SOFT = Source("c", Status.MEMORY)


def point(name: str) -> Point:
    return Point(*name.split("-"))


def wire(name: str, a: str, b: str, origin: Origin = NEW, **more: Any) -> Wire:
    return Wire(name, point(a), point(b), origin, **more)


def half(ref: str, origin: Origin, *cavities: Cavity, **more: Any) -> Connector:
    return Connector(ref, Place(ref), origin, cavities={c.point.cavity: c for c in cavities}, **more)


def cavity(name: str, **more: Any) -> Cavity:
    return Cavity(point(name), Place(name), **more)


def harness(*wires: Wire, halves: tuple[Connector, ...] = (), **more: Any) -> Harness:
    return Harness(
        Kind.INSTALLED, "t", open_drawer(), wires={w.id: w for w in wires},
        connectors={c.ref: c for c in halves}, **more,
    )  # fmt: skip
