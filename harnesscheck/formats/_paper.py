"""Blocks of the files that only the papers need: the aircraft, stock, rates, revisions, settings of the equipment."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pydantic import BaseModel, ConfigDict, Field

from harnesscheck.formats._types import Duration, Length, Mass, Part, Prose, Station, Task
from harnesscheck.paperwork import Aircraft, Revision, Setting, Stock

if TYPE_CHECKING:
    from harnesscheck.formats._build import Builder

_STRICT = ConfigDict(extra="forbid", frozen=True)


class AircraftEntry(BaseModel):
    """The aircraft the papers are for."""

    model_config = _STRICT
    type: Prose = Field("", description="type and model")
    serials: Prose = Field("", description="serial numbers of the airframes the papers hold for")
    mass: Mass | None = Field(None, description="empty, as last weighed")
    arm: Station | None = Field(None, description="of its centre of gravity from the datum, aft positive")


class StockEntry(BaseModel):
    """What lies on the shelf of one type of wire or cable."""

    model_config = _STRICT
    reel: Length | None = Field(None, description="length of a full reel; reels are bought as needed")
    remnants: list[Length] = Field(default_factory=list, description="each piece left over")


class RevisionEntry(BaseModel):
    """One line of the revision list."""

    model_config = _STRICT
    letter: Prose = Field(description="revision letter")
    text: Prose = Field(description="what changed")
    date: Prose = Field(description="when, as 2026-11-20")
    by: Prose = Field(description="who made the change")


class SettingEntry(BaseModel):
    """One thing to set when the equipment is put into use."""

    model_config = _STRICT
    set: Prose = Field(description="the value it is set to")
    how: Prose = Field("", description="where and how")


StockTable = dict[Part, StockEntry]
RateTable = dict[Task, Duration]


def aircraft(build: Builder, entry: AircraftEntry | None) -> Aircraft | None:
    """The aircraft, when the file says something of it."""
    if entry is None:
        return None
    return Aircraft(build.place("aircraft", "aircraft"), entry.type, entry.serials, entry.mass, entry.arm)


def kit(build: Builder, file: Any) -> dict[str, Any]:
    """What the jumper file states for the papers."""
    return {
        "stock": {
            name: Stock(name, build.place(name, "stock", name), s.reel, tuple(s.remnants))
            for name, s in file.stock.items()
        },
        "labour": dict(file.labour),
        "revisions": tuple(Revision(r.letter, r.text, r.date, r.by) for r in file.revisions),
        "effectivity": file.effectivity,
        "mass": file.mass,
    }


def settings(build: Builder, file: Any) -> tuple[Setting, ...]:
    """What is to be set on the equipment."""
    return tuple(
        Setting(name, s.set, s.how, build.place(name, "commissioning", name)) for name, s in file.commissioning.items()
    )
