"""Blocks of the airframe file on power: breakers, buses, sources and known loads."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict, Field

from harnesscheck.formats._types import (
    Amps,
    Charge,
    Duty,
    Ohms,
    Phase,
    Prose,
    Rating,
    Ref,
    Share,
    Supplies,
    VoltRange,
    Volts,
)

_STRICT = ConfigDict(extra="forbid", frozen=True)


class BreakerEntry(BaseModel):
    """One breaker or fuse."""

    model_config = _STRICT
    name: Prose = Field("", description="what the panel says")
    rating: Rating | None = Field(None, description="rated current")
    bus: Ref | None = Field(None, description="bus that feeds it")
    resistance: Ohms | None = Field(None, description="between its terminals, when closed")
    note: Prose = Field("", description="free text, printed on the sheets")


class BusEntry(BaseModel):
    """One supply bus."""

    model_config = _STRICT
    name: Prose = Field("", description="what it is called")
    supply: Volts | None = Field(None, description="nominal volts")
    note: Prose = Field("", description="free text, printed on the sheets")


class SourceEntry(BaseModel):
    """One alternator, generator or battery."""

    model_config = _STRICT
    kind: Supplies = Field(description="alternator, generator or battery")
    name: Prose = Field("", description="what it is called")
    bus: Ref | None = Field(None, description="bus that it feeds")
    supply: Volts | None = Field(None, description="regulated volts")
    low: Volts | None = Field(None, description="lowest volts in normal running")
    high: Volts | None = Field(None, description="highest volts in normal running")
    abnormal: VoltRange | None = Field(None, description="volts for a short time: starting, or a regulator at fault")
    rating: Rating | None = Field(None, description="greatest continuous current")
    capacity: Charge | None = Field(None, description="of a battery")
    usable: Share | None = Field(None, description="share of the capacity that may be counted on")
    note: Prose = Field("", description="free text, printed on the sheets")


class LoadEntry(BaseModel):
    """One load that hangs on none of the circuits listed, for the load analysis."""

    model_config = _STRICT
    bus: Ref | None = Field(None, description="bus that feeds it")
    breaker: Ref | None = Field(None, description="breaker that feeds it")
    current: Amps | None = Field(None, description="current while it is on; without it, peak")
    peak: Amps | None = Field(None, description="highest current; without it, current")
    duty: Duty = Field("continuous", description="continuous, or intermittent: two minutes at the most")
    phases: list[Phase] | None = Field(None, description="phases of flight in which it is on; without it, all")
    note: Prose = Field("", description="free text, printed on the sheets")
