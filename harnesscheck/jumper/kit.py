"""The kit on paper: what a jumper file is made of, in whole millimetres, each thing with the reason why it is so."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from harnesscheck.place import Point
from harnesscheck.units import Gauge

STEP = 5
"""Planned places and lengths are multiples of this, millimetres. Common practice: what a bench rule is read to."""


def up(metres: float, step: int = STEP) -> int:
    """Metres to whole millimetres, rounded up to a multiple of ``step``.

    >>> up(0.3048), up(0.02794), up(0.3)          # 12 in, a splice sleeve of 27.94 mm; own arithmetic
    (305, 30, 300)
    """
    millimetres = round(metres * 1e6)
    return -(-millimetres // (step * 1000)) * step


@dataclass(frozen=True, slots=True)
class Half:
    """One connector half that the kit brings."""

    ref: str
    name: str
    mates: str
    part: str | None = None
    facts: Mapping[str, str] = field(default_factory=dict)
    """family, insert, gender ... in place of a part number that nobody knows."""
    contacts: str | None = None
    own: Mapping[str, str] = field(default_factory=dict)
    """Cavity to its contact, where it is another than ``contacts``."""
    plugs: str | None = None
    zone: str | None = None
    fitted: str = "bench"
    route: str | None = None
    note: str = ""
    why: tuple[str, ...] = ()

    def contact(self, cavity: str) -> str | None:
        """The contact in a cavity."""
        return self.own.get(cavity, self.contacts)


@dataclass(frozen=True, slots=True)
class Joint:
    """One splice."""

    ref: str
    part: str | None
    at: int
    """Millimetres from the rear face of ``at_ref``."""
    at_ref: str
    zone: str | None
    why: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Sheath:
    """One cable."""

    id: str
    type: str | None
    length: int
    bundle: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Lead:
    """One wire, or one core, shield or drain of a cable."""

    id: str
    a: Point
    b: Point
    length: int
    bundle: str
    gauge: Gauge | None = None
    type: str | None = None
    colour: str | None = None
    cable: str | None = None
    core: str | None = None
    untwisted: int | None = None
    alloy: str | None = None
    state_gauge: bool = False
    """True when the type does not say the gauge, so the file has to."""


@dataclass(frozen=True, slots=True)
class Section:
    """Wires that belong together in the file, under a line that says what they are and why."""

    title: str
    leads: tuple[Lead, ...]
    why: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Kit:
    """A whole jumper."""

    opened: tuple[str, str]
    halves: tuple[Half, ...]
    joints: tuple[Joint, ...]
    sheaths: tuple[Sheath, ...]
    sections: tuple[Section, ...]
    taps: Mapping[Point, str]
    tap_reasons: Mapping[Point, tuple[str, ...]] = field(default_factory=dict)
    spare_contacts: Mapping[str, int] = field(default_factory=dict)
    site_tools: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    """What is missing to say more, in words."""
    remarks: tuple[str, ...] = ()
    """What the reader of the whole plan must know."""

    def leads(self) -> Iterator[Lead]:
        """Every wire, in file order."""
        for section in self.sections:
            yield from section.leads
