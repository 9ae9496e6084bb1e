"""The shape of an as-found file: what differs in one aircraft from the file of its type.

Only the head is typed here. The differences are laid over the type's file and the whole is then typed as an airframe
file, so that one schema serves both.
"""

from __future__ import annotations

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from harnesscheck.formats._types import Prose

_STRICT = ConfigDict(extra="forbid", frozen=True)


class _Sections(BaseModel):
    """The sections of an airframe file by name; the entries are typed after they are laid over the type's file."""

    model_config = _STRICT
    zones: dict[str, Any] = Field(default_factory=dict, description="zone name to what differs")
    routes: dict[str, Any] = Field(default_factory=dict, description="route name to what differs, like its length")
    circuits: dict[str, Any] = Field(default_factory=dict, description="circuit name to what differs")
    connectors: dict[str, Any] = Field(
        default_factory=dict, description="reference to what differs; under `cavities:` only those that differ"
    )
    wires: dict[str, Any] = Field(default_factory=dict, description="wire id to what differs, like its length")
    cables: dict[str, Any] = Field(default_factory=dict, description="cable id to what differs")
    splices: dict[str, Any] = Field(default_factory=dict, description="reference to what differs")
    grounds: dict[str, Any] = Field(default_factory=dict, description="reference to what differs, like the bond")
    breakers: dict[str, Any] = Field(default_factory=dict, description="reference to what differs, like the rating")
    buses: dict[str, Any] = Field(default_factory=dict, description="reference to what differs")
    sources: dict[str, Any] = Field(default_factory=dict, description="reference to what differs")
    loads: dict[str, Any] = Field(default_factory=dict, description="load name to what differs")


class AddedEntry(_Sections):
    """What the aircraft has and the type's file has not; written in full, as in an airframe file."""


class _Head(BaseModel):
    model_config = _STRICT
    kind: Literal["as-found"] = Field(description="says what this file is")
    airframe: Prose = Field(description="path of the type's airframe file; it may lie one folder up")
    aircraft: Prose = Field(description="which aircraft: its registration or serial number")
    by: Prose = Field(description="who looked")
    date: Prose = Field(description="when, as 2026-11-20")
    note: Prose = Field("", description="free text, printed on the sheets")


class AsFoundFile(_Sections, _Head):
    """One aircraft: what somebody found there that differs from the file of its type."""

    limits: dict[str, Any] = Field(default_factory=dict, description="check name to another limit on this aircraft")
    waivers: list[Any] = Field(
        default_factory=list, description="findings on this aircraft that somebody has decided to live with"
    )
    added: AddedEntry = Field(
        default_factory=AddedEntry, description="sections with what this aircraft has besides what its type has"
    )


SECTIONS = tuple(_Sections.model_fields)
"""The sections that hold named entries, each of which may be changed, taken away or added."""
