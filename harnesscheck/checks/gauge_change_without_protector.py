"""A new wire on a supply is thinner than the existing wire, and nobody has said what protects it.

What
    For each supply that the jumper touches without a known breaker rating, the new wires are compared with the
    thickest existing wire of the same circuit whose size is stated: in the list of wires, or on the pin map. Circuits
    whose signal class is not stated may be a supply and are compared too. Where the rating is known, the wire is
    judged against it by thin-wire-behind-breaker, and counts as right here.

Why it matters
    The breaker was chosen for the wire that is there. A thinner wire further down may burn before that breaker opens.

Source
    AC 43.13-1B Chg 1, par. 11-47 and 11-48: the protector opens before the rating of the wire is exceeded.

What to do
    Read the rating off the breaker and state it; then the wire is judged against it. Or keep the size of the existing
    wire all the way, or fit a fuse for the thin wire where it leaves the feeder.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._supply import FED, Copper, coppers
from harnesscheck.checks._words import cavities, several
from harnesscheck.connector import Origin
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.formulas.gauge import compare
from harnesscheck.harness import Harness, Kind
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status
from harnesscheck.units import Gauge

SEVERITY = Severity.CAUTION
SOURCE = Source("AC 43.13-1B", Status.CONFIRMED, "Chg 1", "par. 11-47 and 11-48")
FOLLOWS = ("pin-collision", "mirrored-pin-map", "shifted-pin-map", "ribbon-order-pin-map", "broken-through-circuit")


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every supply with new wires and no known breaker rating; one finding for each."""
    if harness.kind is not Kind.INSTALLED:
        return
    good = 0
    unsaid: list[Point] = []
    for here in coppers(harness):
        classes = {circuit.signal for circuit in here.circuits.values()}
        if not here.new:
            continue
        if any(breaker.rating is not None for breaker in here.breakers):
            good += len(here.new)
            continue
        if not here.circuits and not here.breakers:
            unsaid += here.unsaid if not _existing(here) else []
        if not here.is_supply and None not in classes and not (here.unsaid and not here.circuits):
            continue
        existing = _existing(here)
        thick = existing[0] if existing else None
        for other in existing:
            thick = other if thick is None or compare(other[1], thick[1]) > 0 else thick
        if thick is None:
            if here.circuits:
                yield _nothing_known(here, classes)
            continue
        thin = [wire for wire in here.new if wire.gauge is not None and compare(wire.gauge, thick[1]) < 0]
        unknown = [wire for wire in here.new if wire.gauge is None]
        for wire in unknown:
            yield NotChecked(
                place=wire.place,
                missing="the gauge of the wire is not stated",
                remedy="give gauge:, or a type: that says it",
            )
        good += len(here.new) - len(thin) - len(unknown)
        if thin:
            sizes = several(dict.fromkeys(str(wire.gauge) for wire in thin))
            maybe = "" if classes & FED or here.breakers else ", which may be a supply"
            yield Finding(
                headline=f"{several((w.id for w in thin), 4)} ({sizes}): thinner than {thick[0]} ({thick[1]}) on "
                f"{here.called()}{maybe}, and the breaker is not known",
                place=thin[0].place,
                others=(*(w.place for w in thin[1:]), thick[2]),
                value=sizes,
                limit=f"{thick[1]} as the existing wire, or a protector known to suit the thin wire",
                remedy=f"state the breaker of {here.called()} and its rating, or keep {thick[1]}",
            )
    yield from _unsaid(harness, unsaid)
    yield Passed(good, "new wires on a supply, size kept or breaker known")


def _existing(here: Copper) -> list[tuple[str, Gauge, Place]]:
    listed = [
        (f"wire {w.id}", w.gauge, w.place)
        for w in here.wires
        if w.gauge is not None and w.origin is Origin.AIRFRAME and not w.is_shield
    ]
    return [*listed, *here.gauges]


def _nothing_known(here: Copper, classes: set[str | None]) -> NotChecked:
    supply = here.breakers or classes & FED
    return NotChecked(
        place=next(iter(here.circuits.values())).place,
        missing="neither the rating of its breaker nor the size of the existing wire is stated"
        if supply
        else "whether it is a supply is not stated, nor a breaker, nor the size of the existing wire",
        remedy="state the breaker and its rating" if supply else "give signal:",
    )


def _unsaid(harness: Harness, points: list[Point]) -> Iterator[NotChecked]:
    """Cavities that may carry anything: one line a connector, and only the half that comes first in ``opens``."""
    for half, _ in harness.opens:
        listed = [point for point in points if point.ref == half]
        if listed:
            yield NotChecked(
                place=harness.connectors[half].place,
                missing=f"nobody has said what {cavities(listed)} "
                + ("carries, so it may be a supply" if len(listed) == 1 else "carry, so they may be a supply"),
                remedy="state the circuit with its signal, or call it spare",
            )
