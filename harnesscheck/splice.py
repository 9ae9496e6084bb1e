"""Splices and ground studs: places where several wires become one piece of copper."""

from __future__ import annotations

from dataclasses import dataclass

from harnesscheck.connector import Origin
from harnesscheck.place import Place


@dataclass(frozen=True, slots=True)
class Splice:
    """A permanent crimp splice; all its wires are one net."""

    ref: str
    place: Place
    origin: Origin
    part: str | None = None
    zone: str | None = None
    fitted: str = "bench"
    at: float | None = None
    """Distance along the bundle from the rear face of ``at_ref``, metres."""
    at_ref: str | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Ground:
    """A ground stud or ground bus; all its terminals are one net."""

    ref: str
    place: Place
    origin: Origin
    name: str = ""
    note: str = ""
    returns: str | None = None
    """Ground class: ``dc``, ``ac`` or ``signal`` (AC 43.13-1B 11-186a keeps them apart)."""
    terminals: int | None = None
    """Terminals on the stud that are not listed as wires; None: nobody has counted."""
    bond: float | None = None
    """Ohms from the stud to the ground point of the generator or battery, as measured; None is unknown."""
