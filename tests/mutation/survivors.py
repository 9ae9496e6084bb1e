"""The mutants that no test can kill, or need not: place, change and reason, in ``survivors_*.yaml``.

They are found again by the text of their line, not by its number, so that the list outlives edits elsewhere.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from ruamel.yaml import YAML

from tests.mutation.mutants import Mutant

FILES = sorted(Path(__file__).parent.glob("survivors_*.yaml"))
KINDS = ("equivalent", "harmless")
"""``equivalent``: no input can show a difference. ``harmless``: only order, speed or wording differs, no answer."""


@dataclass(frozen=True)
class Survivor:
    """One listed mutant; ``change`` may be ``any`` for all mutants of a line."""

    file: str
    within: str
    text: str
    change: str
    kind: str
    reason: str

    def fits(self, mutant: Mutant) -> bool:
        """Whether this is the mutant that is meant."""
        same = (self.file, self.within, self.text) == (mutant.file, mutant.within, mutant.text)
        return same and self.change in ("any", mutant.change, f"{mutant.change} #{mutant.nth + 1}")


def listed() -> list[Survivor]:
    """The list. Raises ``ValueError`` when an entry is incomplete."""
    raw = [entry for file in FILES for entry in YAML(typ="safe").load(file.read_text(encoding="utf-8")) or []]
    found = [Survivor(**{key: str(value) for key, value in entry.items()}) for entry in raw]
    for one in found:
        if one.kind not in KINDS or len(one.reason.split()) < 4:
            raise ValueError(f"{one.file} {one.text!r}: a kind and a reason are needed")
    return found
