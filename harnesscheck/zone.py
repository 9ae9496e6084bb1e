"""Zones of the airframe and the routes through it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from harnesscheck.place import Place
from harnesscheck.units import Range


@dataclass(frozen=True, slots=True)
class Zone:
    """A part of the airframe with its own climate; None is unknown."""

    name: str
    place: Place
    wet: bool | None = None
    ambient: Range | None = None
    """Degrees Celsius."""
    altitude: float | None = None
    """Metres."""
    arm: float | None = None
    """Metres from the datum, aft positive."""


@dataclass(frozen=True, slots=True)
class Route:
    """A way through the airframe that wires and perhaps a plug must take; None is unknown."""

    name: str
    place: Place
    length: float | None = None
    """Metres from rear face to rear face, slack included."""
    passages: Mapping[str, float] = field(default_factory=dict)
    """Passage name to its clear hole diameter, metres."""
    bend: float | None = None
    """Smallest bend radius on the way, metres."""
    zone: str | None = None
