"""Wires and cables."""

from __future__ import annotations

from dataclasses import dataclass

from harnesscheck.connector import Origin
from harnesscheck.document import Document
from harnesscheck.place import Place, Point
from harnesscheck.units import Gauge


@dataclass(frozen=True, slots=True)
class Wire:
    """One conductor from end A (``from``) to end B (``to``); a shield or drain is a wire whose ``core`` says so."""

    id: str
    a: Point
    b: Point
    origin: Origin
    type: str | None = None
    """Part number as typed, for example ``M22759/16-22-9``."""
    gauge: Gauge | None = None
    colour: str | None = None
    """Colour digits after MIL-STD-681 (``9``, ``96``) or the word as typed."""
    length: float | None = None
    """Laid length between the rear faces of its ends, metres."""
    cable: str | None = None
    core: str | None = None
    """Which conductor of the cable: a colour word, ``shield`` or ``drain``."""
    note: str = ""
    document: Document | None = None
    line: int = 0
    column: int = 0
    mark: str | None = None
    """What is printed on the wire, or ``none``; None: its own id."""
    bundle: str | None = None
    """Name of the bundle it is tied into; None: nobody has said."""
    route: str | None = None
    untwisted: float | None = None
    """Longest untwisted end of a core, metres."""
    alloy: str | None = None
    """Thermocouple conductor: the letter of the type, like ``K``; ``none`` for copper."""

    @property
    def place(self) -> Place:
        """Where the wire was typed. Made on demand: a large harness has 100,000 wires and few findings."""
        return Place(self.id, self.document, self.line, self.column)

    def other(self, point: Point) -> Point:
        """The far end seen from ``point``."""
        return self.b if point == self.a else self.a

    @property
    def is_shield(self) -> bool:
        """True for the shield or the drain wire of a cable."""
        return self.core in ("shield", "drain")


@dataclass(frozen=True, slots=True)
class Cable:
    """A cable or twisted pair whose cores are wires; cut as one piece."""

    id: str
    place: Place
    origin: Origin
    type: str | None = None
    length: float | None = None
    """Laid length between the rear faces of its ends, metres."""
    note: str = ""
    bundle: str | None = None
    route: str | None = None
