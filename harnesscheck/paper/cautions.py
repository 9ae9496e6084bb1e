"""The cautions and the written decisions that every sheet carries."""

from __future__ import annotations

from harnesscheck.harness import Harness
from harnesscheck.report import CAUTIONS

__all__ = ["CAUTIONS", "decisions"]


def decisions(harness: Harness) -> list[str]:
    """What somebody has decided in writing for this job, and what rests on the shop's own word: one line each."""
    return [str(said) for said in (*harness.overrides.values(), *harness.waivers)]
