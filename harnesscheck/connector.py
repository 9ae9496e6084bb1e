"""Connectors, their cavities, and the mating of two halves."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType
from typing import TYPE_CHECKING

from harnesscheck.place import Place, Point
from harnesscheck.units import Gauge

if TYPE_CHECKING:
    from harnesscheck.parts import Fact

NONE = "none"
"""Typed where a person states that nothing is fitted; unlike a missing value, which is unknown."""


class Origin(StrEnum):
    """Whose wiring a thing belongs to; drawings show existing and new wiring apart by it."""

    AIRFRAME = "airframe"
    JUMPER = "jumper"
    EQUIPMENT = "equipment"


class Use(StrEnum):
    """What is known about a cavity."""

    LIVE = "live"
    """A circuit or a wire is stated for it."""
    SPARE = "spare"
    """Stated to carry nothing."""
    UNKNOWN = "unknown"
    """Nobody has said."""


@dataclass(frozen=True, slots=True)
class Cavity:
    """One hole of a connector. ``None`` is unknown; ``"none"`` is stated to be empty."""

    point: Point
    place: Place
    use: Use = Use.UNKNOWN
    circuit: str | None = None
    contact: str | None = None
    """Part number of the contact, or ``none``."""
    plug: str | None = None
    """Part number of the sealing plug, or ``none``."""
    note: str = ""
    gauge: Gauge | None = None
    """Size of the existing wire when the wire itself is not listed."""
    breaker: str | None = None
    grounded: bool | None = None
    """For a shield: whether the wiring on the side of this half grounds it; None: nobody has said."""
    terminated: bool | None = None
    """For a bus: whether the trunk on the side of this half ends in a terminator; None: nobody has said."""


@dataclass(frozen=True, slots=True)
class Connector:
    """One half of a connector pair (P is the movable plug, J the fixed receptacle; ASME Y14.44)."""

    ref: str
    place: Place
    origin: Origin
    part: str | None = None
    name: str = ""
    zone: str | None = None
    names: tuple[str, ...] | None = None
    """All cavity names in the order of the insert; None when the arrangement is unknown."""
    cavities: Mapping[str, Cavity] = field(default_factory=dict)
    """The cavities that the file or a wire mentions, plus all of ``names``."""
    facts: Mapping[str, Fact] = field(default_factory=lambda: MappingProxyType({}))
    """family, insert, gender, key, shell, sealed: each with its source, from the job file or the part number."""
    fitted: str = "bench"
    """``bench``, or ``aircraft`` when the shell is shipped loose and its contacts are inserted on site."""
    mating: str | None = None
    """Part number of the mating half that the maker of the equipment names."""
    note: str = ""
    marking: str | None = None
    """What the identification band on this half says, or ``none``."""
    route: str | None = None
    """The route by which this half reaches its place; its passages must let it through."""

    def fact(self, name: str) -> Fact | None:
        """A property with its source, or None when it is not known."""
        return self.facts.get(name)

    def says(self, name: str) -> str | None:
        """The plain text of a property, or None when it is not known."""
        found = self.facts.get(name)
        return str(found.value) if found is not None and isinstance(found.value, str) else None

    @property
    def gender(self) -> str | None:
        """``pin`` or ``socket``; None when unknown."""
        return self.says("gender")


@dataclass(frozen=True, slots=True)
class Mate:
    """Two connector halves plugged together; ``place`` is where the job file says so."""

    a: str
    b: str
    place: Place

    @property
    def refs(self) -> frozenset[str]:
        """Both references, in no order."""
        return frozenset((self.a, self.b))
