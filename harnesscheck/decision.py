"""What a person decides against a check, in writing: another limit, or a finding waived. Both are always printed."""

from __future__ import annotations

from dataclasses import dataclass

from harnesscheck.place import Place


@dataclass(frozen=True, slots=True)
class Override:
    """Another limit for one check in this job, with the written reason."""

    check: str
    value: str
    """The limit as typed, with its unit."""
    reason: str
    by: str
    place: Place

    def __str__(self) -> str:
        """One line for reports and sheets."""
        return f"limit of {self.check} set to {self.value} by {self.by}: {self.reason}"


@dataclass(frozen=True, slots=True)
class Waiver:
    """A finding that a person has decided to live with: it stays listed, with who decided and why."""

    check: str
    at: str
    """The cavity, wire or reference the finding is about."""
    reason: str
    by: str
    date: str
    place: Place

    def __str__(self) -> str:
        """One line for reports and sheets."""
        return f"{self.check} at {self.at} waived by {self.by}, {self.date}: {self.reason}"
