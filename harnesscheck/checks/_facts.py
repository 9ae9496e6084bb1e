"""Helpers that several checks use to weigh facts: the weakest source of an answer, lengths as they are printed."""

from __future__ import annotations

from harnesscheck.parts import Fact
from harnesscheck.source import Source
from harnesscheck.units import Range


def weakest(*facts: Fact | None) -> Source | None:
    """The source an answer rests on: that of the first fact that is not firm, else of the first fact there is."""
    known = [fact for fact in facts if fact is not None]
    return next((fact.source for fact in known if not fact.firm), known[0].source if known else None)


def millimetres(span: Range) -> str:
    """``1.27 mm to 1.37 mm``, or ``1.32 mm`` when both ends are the same."""
    low, high = f"{span.low * 1000:.2f} mm", f"{span.high * 1000:.2f} mm"
    return low if low == high else f"{low} to {high}"
