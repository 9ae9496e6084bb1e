"""Equipment boxes and their pins, breakers and buses."""

from __future__ import annotations

from dataclasses import dataclass

from harnesscheck.connector import Origin
from harnesscheck.place import Place, Point
from harnesscheck.units import Range


@dataclass(frozen=True, slots=True)
class Pin:
    """What the equipment wants on one pin of its receptacle."""

    point: Point
    place: Place
    function: str
    signal: str
    """Signal class: see ``circuit.SIGNALS``."""
    line: str | None = None
    """Which conductor of a pair: ``H``, ``L``, ``A``, ``B``, ``+``, ``-``."""
    direction: str | None = None
    supply: Range | None = None
    """Volts between which the equipment works."""
    current: float | None = None
    """Typical current, amperes."""
    peak: float | None = None
    """Highest current, amperes."""
    required: bool = True
    connect: bool = True
    """False: the maker says nothing may be connected."""
    grounded: bool | None = None
    """For a shield pin: whether the box grounds it inside; None: nobody has said."""


@dataclass(frozen=True, slots=True)
class Device:
    """One equipment unit (``A12``) with its pins."""

    ref: str
    place: Place
    origin: Origin
    name: str = ""
    pins: tuple[Pin, ...] = ()


@dataclass(frozen=True, slots=True)
class Breaker:
    """A circuit breaker or fuse with the points ``-line`` (bus side) and ``-load``."""

    ref: str
    place: Place
    origin: Origin
    name: str = ""
    rating: float | None = None
    """Amperes."""
    bus: str | None = None


@dataclass(frozen=True, slots=True)
class Bus:
    """A supply bus; all its terminals are one net."""

    ref: str
    place: Place
    origin: Origin
    name: str = ""
    volts: float | None = None
