"""Load sheet: what hangs on each bus and breaker, before and after, by phase of flight, with margin and battery time.

A rule of thumb made of what the files state, and no approved load analysis: a load nobody has listed is not in it. What
is not stated is shown as such, never as zero.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import fsum

from harnesscheck.device import PHASES
from harnesscheck.electrics.budget import Line, lines, phase_totals
from harnesscheck.formulas.load_analysis import (
    BATTERY_MINUTES,
    BATTERY_SOURCE,
    CONTINUOUS_SHARE,
    CONTINUOUS_SOURCE,
    battery_minutes,
    margin,
)
from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Cell, Column, Content, Heading, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.sheets import Wish
from harnesscheck.sheets._say import UNSAID

PART, ORDER = 8, 50
COLUMNS = (
    *(Column(title) for title in ("bus", "breaker", "load", "state", "duty")),
    *(Column(title, right=True) for title in ("current A", "peak A", *(f"{phase} A" for phase in PHASES))),
)
BREAKERS = (
    Column("breaker"),
    *(Column(title, right=True) for title in ("rating A", "before A", "new A", "total A", "of rating", "highest A")),
)


def content(job: Job, wish: Wish) -> Content:
    """The load sheet of a job."""
    found = lines(job.subject)
    return Content("load-sheet", "Load sheet", tuple(_blocks(job.subject, found)), True, tuple(decisions(job.subject)))


def _cells(line: Line) -> list[str]:
    current = UNSAID if line.current is None else f"{line.current:g}"
    phases = [
        current if line.in_phase(phase) and line.steady else "short" if line.in_phase(phase) else "off"
        for phase in PHASES
    ]
    peak = "" if line.peak is None else f"{line.peak:g}"
    state = "new" if line.new else "existing"
    return [line.bus or UNSAID, line.breaker or UNSAID, line.name, state, line.duty, current, peak, *phases]


def _blocks(harness: Harness, listed: list[Line]) -> Iterator[Block]:
    if not listed:
        yield Words("No load is stated: give load: at circuits, loads: in the airframe file, current: at pins.")
    for number, bus in enumerate(dict.fromkeys([*harness.buses, *(line.bus for line in listed)]), 1):
        own = [line for line in listed if line.bus == bus]
        if own:
            yield Heading(f"Bus {bus}" if bus is not None else "Bus not stated")
            yield from _bus(f"bus-{number}", own)
            if bus is not None:
                yield from (Words(text) for text in _sources(harness, bus, own))
    yield from _breakers(harness, listed)
    yield from (Words(text) for text in _footer())


def _bus(name: str, own: list[Line]) -> Iterator[Block]:
    body: list[tuple[str | Cell, ...]] = [tuple(_cells(line)) for line in own]
    old, new = phase_totals(line for line in own if not line.new), phase_totals(line for line in own if line.new)
    for word, total in (("before", old), ("new", new), ("total", {p: old[p] + new[p] for p in PHASES})):
        amps = [f"{total[phase]:.4g}" for phase in PHASES]
        body.append(("", "", Cell(word, strong=True), "", "", "", "", *amps))
    yield Table(name, COLUMNS, tuple(body), totals=3)
    short = [line for line in own if not line.steady]
    if short:
        names = ", ".join(line.name for line in short)
        yield Words(f"short: on for two minutes at the most, not in the totals: {names}")
    unsaid = [line.name for line in own if line.current is None]
    if unsaid:
        yield Words(f"NOT STATED, and so not in the totals: {', '.join(unsaid)}", strong=True)


def _sources(harness: Harness, bus: str, own: list[Line]) -> Iterator[str]:
    total = phase_totals(own)
    feeding = [source for source in harness.sources.values() if source.bus == bus]
    if not feeding:
        yield f"no source is stated for {bus}: margin and battery minutes are not known"
    turning = [source for source in feeding if source.kind != "battery"]
    if turning:
        names = ", ".join(source.ref for source in turning)
        unrated = [source.ref for source in turning if source.rating is None]
        worst = max(PHASES, key=lambda phase: total[phase])
        if unrated:
            yield f"{names}: rating of {', '.join(unrated)} {UNSAID}; margin not known"
        else:
            rating = fsum(source.rating or 0.0 for source in turning)
            left = margin(total[worst], rating)
            word = "left" if left >= 0 else "too much"
            yield (
                f"{names}: {rating:g} A, {100 * CONTINUOUS_SHARE:.0f} % are {rating * CONTINUOUS_SHARE:g} A; most in "
                f"{worst}: {total[worst]:.4g} A, {100 * total[worst] / rating:.0f} %; {abs(left):.4g} A {word}"
            )
    for battery in feeding:
        if battery.kind == "battery":
            yield f"{battery.ref}: {_battery(battery.capacity, battery.usable, total['emergency'])}"


def _battery(capacity: float | None, usable: float | None, load: float) -> str:
    if capacity is None or usable is None:
        return f"capacity or usable share {UNSAID}; minutes not known"
    if load <= 0:
        return f"{capacity:g} Ah; no load is stated for emergency"
    minutes = battery_minutes(capacity, usable, load)
    short = "" if minutes >= BATTERY_MINUTES else f", LESS than {BATTERY_MINUTES:g} min"
    return f"{capacity:g} Ah, {100 * usable:g} % usable, {load:.4g} A in emergency: {minutes:.0f} min on battery{short}"


def _breakers(harness: Harness, listed: list[Line]) -> Iterator[Block]:
    table: list[tuple[str | Cell, ...]] = []
    for ref, breaker in harness.breakers.items():
        own = [line for line in listed if line.breaker == ref]
        if not own:
            continue
        old = fsum(line.current or 0.0 for line in own if line.steady and not line.new)
        new = fsum(line.current or 0.0 for line in own if line.steady and line.new)
        share = f"{100 * (old + new) / breaker.rating:.0f} %" if breaker.rating else UNSAID
        rating = UNSAID if breaker.rating is None else f"{breaker.rating:g}"
        mark = " +?" if any(line.current is None for line in own) else ""
        peak = fsum(line.most for line in own)
        table.append((ref, rating, f"{old:.4g}{mark}", f"{new:.4g}", f"{old + new:.4g}{mark}", share, f"{peak:.4g}"))
    if table:
        yield Heading("Breakers")
        yield Table("breakers", BREAKERS, tuple(table), "Continuous; +? more that nobody has stated")


def _footer() -> Iterator[str]:
    yield f"80 %: {CONTINUOUS_SOURCE}."
    yield f"{BATTERY_MINUTES:g} minutes: {BATTERY_SOURCE}; the discharge rate and cold lower what a battery gives."
    yield "Only what the files list is in the sums. Battery charging current is not."
