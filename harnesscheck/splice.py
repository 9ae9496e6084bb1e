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
    at: str = ""
    """Where along the bundle, as typed (``90 mm from J114``)."""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Ground:
    """A ground stud or ground bus; all its terminals are one net."""

    ref: str
    place: Place
    origin: Origin
    name: str = ""
    note: str = ""
