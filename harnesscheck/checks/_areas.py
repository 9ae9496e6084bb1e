"""Conductor areas of wires, with the weakest source they rest on."""

from __future__ import annotations

from collections.abc import Iterable

from harnesscheck.formulas.gauge import number
from harnesscheck.harness import Harness
from harnesscheck.parts.values import MILS
from harnesscheck.source import Source, Status
from harnesscheck.units import Gauge
from harnesscheck.wire import Wire

CMIL = MILS["cmil"]
"""Square metres in a circular mil."""


def weakest(sources: Iterable[Source | None]) -> Source | None:
    """The first source that may not stop a job, else the first one: a finding is as firm as what it rests on."""
    known = [source for source in sources if source is not None]
    return next((source for source in known if not source.firm), known[0] if known else None)


def copper(harness: Harness, wire: Wire) -> tuple[float, Source] | str:
    """Conductor area in square metres and its source; or what is missing, as a phrase.

    AWG sizes are those of stranded aircraft conductors in the drawer, not the solid areas of the AWG series.
    """
    assert wire.gauge is not None  # the caller has asked for it
    awg = number(wire.gauge)
    if awg is None and wire.gauge.mm2 is not None:
        return wire.gauge.mm2 * 1e-6, Source(wire.place.file, Status.STATED, paragraph=f"gauge of {wire.id}")
    record = harness.drawer.get("conductor", str(Gauge(awg=awg)))
    area = record.quantity("area") if record else None
    if record is None or area is None:
        return f"the conductor area of {wire.gauge} is not in the parts drawer"
    source = weakest((record.source("area"), _gauge_source(harness, wire)))
    assert source is not None
    return area, source


def _gauge_source(harness: Harness, wire: Wire) -> Source | None:
    """Where the gauge comes from when a part number says it: the meaning of a code may be from memory."""
    cable = harness.cables.get(wire.cable or "")
    for kind, part in (("wire", wire.type), ("cable", cable.type if cable and not wire.is_shield else None)):
        record = harness.part(kind, part)
        if record is not None and record.fact("gauge"):
            return record.source("gauge")
    return None
