"""What a job states for its papers only: the aircraft, revisions, stock on the shelf, settings of the equipment."""

from __future__ import annotations

from dataclasses import dataclass

from harnesscheck.place import Place


@dataclass(frozen=True, slots=True)
class Aircraft:
    """The aircraft the kit is for; None is unknown."""

    place: Place
    type: str = ""
    serials: str = ""
    """Serial numbers of the airframes that the papers hold for, as typed."""
    mass: float | None = None
    """Kilograms, empty, as last weighed."""
    arm: float | None = None
    """Metres from the datum to its centre of gravity, aft positive."""


@dataclass(frozen=True, slots=True)
class Revision:
    """One line of the revision list, as typed."""

    letter: str
    text: str
    date: str
    by: str


@dataclass(frozen=True, slots=True)
class Stock:
    """What lies on the shelf of one type of wire or cable."""

    type: str
    place: Place
    reel: float | None = None
    """Metres on a full reel; None: nobody has said. Full reels are bought as needed."""
    remnants: tuple[float, ...] = ()
    """Metres of each piece left over."""


@dataclass(frozen=True, slots=True)
class Setting:
    """One thing that the maker of the equipment wants set when it is put into use."""

    name: str
    value: str
    how: str
    place: Place
