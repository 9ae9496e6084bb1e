"""What a list says and the airframe file made of it does not hold: kept in the file until a person settles it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal

from pydantic import BaseModel, ConfigDict, Field

from harnesscheck.formats._types import Prose
from harnesscheck.unread import Unread

if TYPE_CHECKING:
    from harnesscheck.formats._build import Builder

KEY = "not understood"
LABEL = 60
"""Most characters of the words of the list that name the place in a report."""


class UnreadEntry(BaseModel):
    """A row or a value of the list the file was made of that is not in the file; delete it once it is settled."""

    model_config = ConfigDict(extra="forbid", frozen=True)
    at: Prose = Field(description="the cell or line of the list, like list.xlsx!Sheet1!C14")
    what: Literal["row", "value"] = Field(description="row: none of it was taken; value: the row was, without this")
    words: Prose = Field("", description="what stands there")
    why: Prose = Field(description="why it was not taken")
    remedy: Prose = Field("", description="what to do in the list; or write it into this file and delete the entry")


def unread(build: Builder, listed: Sequence[UnreadEntry]) -> tuple[Unread, ...]:
    """The entries, each with its place in the file, or in the list itself when that is what was read."""
    marks = build.document.root[KEY].marks if listed else []
    return tuple(
        Unread(build.at(e.words[:LABEL], mark), e.why, e.remedy, e.what == "row", e.at)
        for e, mark in zip(listed, marks, strict=True)
    )
