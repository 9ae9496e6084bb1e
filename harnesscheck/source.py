"""Where a number comes from, and how far it may be trusted."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Status(StrEnum):
    """How far a value may be trusted. Only the first three may raise a finding of severity *stop*."""

    CONFIRMED = "confirmed"
    """Seen in the published document named."""
    SHOP = "shop-confirmed"
    """Looked up by the shop for this job: document, who and date are stated in its own parts file."""
    STATED = "stated in the job file"
    """Typed by the person who made the job file: they looked at the thing itself."""
    SECOND_HAND = "second hand"
    """Seen in a third party's page or list that names no published document."""
    DERIVED = "derived"
    """Computed from other values by a rule given with it."""
    COMMON = "common practice"
    """Done so throughout the trade; no document names it."""
    MEMORY = "from memory"
    """Recalled by the person who wrote it down; nobody has looked it up yet."""
    DEMO = "invented for the demo"
    """Made up so that the demonstration job can run."""


FIRM = frozenset({Status.CONFIRMED, Status.SHOP, Status.STATED})


@dataclass(frozen=True, slots=True)
class Source:
    """Document, edition and paragraph of a value, with its status."""

    document: str
    status: Status
    edition: str = ""
    paragraph: str = ""
    by: str = ""
    """Who confirmed it and when; only for status *shop-confirmed*."""

    @property
    def firm(self) -> bool:
        """True when the value may stop a job: confirmed in its document, by the shop, or stated in the job."""
        return self.status in FIRM

    @property
    def may_stop(self) -> bool:
        """True when a finding resting on this may be *stop*: firm values, and rules of the trade that are no number."""
        return self.firm or self.status is Status.COMMON

    def __str__(self) -> str:
        """For example ``AC 43.13-1B Chg 1, par. 11-234 (confirmed)``."""
        words = " ".join(w for w in (self.document, self.edition) if w)
        words = ", ".join(w for w in (words, self.paragraph) if w)
        tail = f"{self.status}: {self.by}" if self.by else str(self.status)
        return f"{words} ({tail})" if words else f"({tail})"
