"""A wire is too thin for the breaker that protects it.

What
    Every wire that is one piece of copper with the load side of a breaker, or with a cavity whose circuit names the
    breaker, is compared with the largest breaker that its size may have: new wires, and existing ones whose size is
    stated. A tap counts from its splice on: nothing between the breaker and the new wire limits the current. When
    several breakers feed one piece of copper their ratings add up. A reference F1, F2 ... or a name with "fuse" is
    a fuse, and the fuse column counts. Where only existing wires are too thin it is a caution: it was so before.

Why it matters
    A short in the thin wire does not open the breaker in time. The wire becomes the fuse, in a bundle, behind a panel.

Source
    AC 43.13-1B Chg 1, par. 11-47 to 11-49 and Table 11-3 (wire and circuit protector chart): 22 AWG 5 A, 20 AWG
    7.5 A, 18 AWG 10 A ... The table is a guide for wire in a bundle; par. 11-49 lets a single wire in open air have
    the next larger breaker. For 16 to 10 AWG wire of 105 C the table is no proof.

What to do
    Make the new wire as thick as the table asks, or have the breaker changed after looking at its other loads, or fit
    a fuse of the right size where the tap leaves the feeder.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass

from harnesscheck.checks._supply import Copper, coppers
from harnesscheck.checks._words import several
from harnesscheck.connector import Origin
from harnesscheck.device import Breaker
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.formulas.gauge import compare
from harnesscheck.harness import Harness
from harnesscheck.place import Place
from harnesscheck.source import Source, Status
from harnesscheck.units import Gauge

SEVERITY = Severity.STOP
SOURCE = Source("AC 43.13-1B", Status.CONFIRMED, "Chg 1", "par. 11-47 to 11-49, Table 11-3")
FOLLOWS = (
    "pin-collision",
    "mirrored-pin-map",
    "shifted-pin-map",
    "ribbon-order-pin-map",
    "broken-through-circuit",
    "double-feed",
)

_FUSE = re.compile(r"F[0-9]")


@dataclass(frozen=True, slots=True)
class _Conductor:
    name: str
    gauge: Gauge
    place: Place
    new: bool


Table = list[tuple[Gauge, float, Source]]
"""Rows of the protector chart, thinnest wire first: size, largest protector, source."""


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every piece of copper that a breaker feeds; one finding for each."""
    charts = {column: _chart(harness, column) for column in ("breaker", "fuse")}
    good = 0
    for here in coppers(harness):
        if not here.new and not here.breakers:
            continue
        if here.new and here.is_supply:
            yield from _missing(here)
        rated = [breaker for breaker in here.breakers if breaker.rating is not None]
        if not rated:
            continue
        column = "fuse" if any(_FUSE.match(b.ref) or "fuse" in b.name.casefold() for b in rated) else "breaker"
        wrong: list[_Conductor] = []
        for wire in _conductors(here):
            verdict = _verdict(charts[column], wire.gauge, math.fsum(b.rating or 0.0 for b in rated))
            if verdict is None and wire.new:
                yield NotChecked(
                    place=wire.place,
                    missing=f"AC 43.13-1B Table 11-3 has no {column} for {wire.gauge} wire",
                    remedy="ask for the limit of the maker of the wire, or take a size that is in the table",
                )
            elif verdict:
                good += 1
            elif verdict is False:
                wrong.append(wire)
        if wrong:
            yield _finding(here, rated, wrong, charts[column], column)
    yield Passed(good, "wires behind a breaker")


def _missing(here: Copper) -> Iterator[NotChecked]:
    for circuit in here.circuits.values():
        if not here.breakers:
            yield NotChecked(
                place=circuit.place,
                missing=f"its copper leads to {several(here.buses)} and to no breaker"
                if here.buses
                else "no breaker is stated for this supply",
                remedy="give breaker: at the circuit, and the rating of the breaker",
            )
        elif here.loads and here.named and not any(b in here.loads for b in here.named):
            yield NotChecked(
                place=circuit.place,
                missing=f"the circuit names {several(b.ref for b in here.named)}, but its copper leads to "
                f"{several(b.ref for b in here.loads)}, which was taken",
                remedy="find out which breaker feeds it",
            )
    for breaker in here.breakers:
        if breaker.rating is None:
            yield NotChecked(place=breaker.place, missing="its rating is not stated", remedy="give rating:")
    for wire in here.new:
        if wire.gauge is None and here.breakers:
            yield NotChecked(
                place=wire.place,
                missing="the gauge of the wire is not stated",
                remedy="give gauge:, or a type: that says it",
            )


def _conductors(here: Copper) -> Iterator[_Conductor]:
    for wire in here.wires:
        if wire.gauge is not None and not wire.is_shield:
            yield _Conductor(wire.id, wire.gauge, wire.place, wire.origin is Origin.JUMPER)
    for name, gauge, place in here.gauges:
        yield _Conductor(name, gauge, place, False)


def _chart(harness: Harness, column: str) -> Table:
    rows: Table = []
    for number in harness.drawer.numbers("wire protection"):
        part = harness.part("wire protection", number)
        size, most = (part.gauge_range("gauge"), part.fact(column)) if part else (None, None)
        amps = part.quantity(column) if part and most else None
        if size is not None and most is not None and amps is not None:
            rows.append((size[0], amps, most.source))
    return rows


def _verdict(chart: Table, gauge: Gauge, amps: float) -> bool | None:
    """True when the wire may have that protector, False when not, None when the chart cannot say."""
    allowed = [most for size, most, _ in chart if compare(size, gauge) <= 0]
    if not allowed:  # thinner than every wire of the chart: certainly not more than its first row
        return False if not chart or amps >= chart[0][1] else None
    if amps <= max(allowed):
        return True
    # Thicker than every wire of the chart and more current than its last row: the chart ends here.
    return False if any(compare(size, gauge) > 0 for size, _, _ in chart) else _at_the_end(chart, gauge)


def _at_the_end(chart: Table, gauge: Gauge) -> bool | None:
    return False if compare(chart[-1][0], gauge) == 0 else None


def _finding(here: Copper, rated: list[Breaker], wrong: list[_Conductor], chart: Table, column: str) -> Finding:
    amps = math.fsum(breaker.rating or 0.0 for breaker in rated)
    thinnest = wrong[0]
    for wire in wrong:
        if compare(wire.gauge, thinnest.gauge) < 0 or (wire.new and not thinnest.new and wire.gauge == thinnest.gauge):
            thinnest = wire
    same = [thinnest, *(w for w in wrong if w.gauge == thinnest.gauge and w is not thinnest)]
    more = [w for w in wrong if w not in same]
    needed = next(((size, source) for size, most, source in chart if most >= amps), None)
    most = max((m for size, m, _ in chart if compare(size, thinnest.gauge) <= 0), default=None)
    protector = several(f"{b.ref} ({b.rating:g} A)" for b in rated) + (f", {amps:g} A together" if rated[1:] else "")
    named = several((w.name for w in same), 4)
    who = f"{named} ({thinnest.gauge}) are" if same[1:] else f"{named} ({thinnest.gauge}) is"
    who = f"wire {who}" if thinnest.new and not same[1:] else who
    what = column if not rated[1:] else "breakers" if column == "breaker" else "fuses"
    limit = f"{needed[0]} or thicker behind {amps:g} A" if needed else f"a {column} that Table 11-3 lists"
    limit += f"; {most:g} A at the most for {thinnest.gauge}" if most else f"; {thinnest.gauge} is not in Table 11-3"
    them = "it" if len(wrong) == 1 else "them"
    thicker = f"make {them} {needed[0]}" if needed else f"make {them} thicker"
    return Finding(
        headline=f"{who} too thin for {what} {protector}",
        place=thinnest.place,
        others=(*(w.place for w in [*same[1:], *more]), *(b.place for b in rated)),
        value=f"{thinnest.gauge} on {here.called()}" + (f"; also too thin: {_sizes(more)}" if more else ""),
        limit=limit,
        source=needed[1] if needed else None,
        severity=None if any(w.new for w in wrong) else Severity.CAUTION,
        remedy=f"{thicker}, or fit a smaller {column} if its other loads allow",
    )


def _sizes(wires: list[_Conductor]) -> str:
    return several((f"{w.name} ({w.gauge})" for w in wires), 4)
