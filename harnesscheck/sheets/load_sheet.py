"""Load sheet: what hangs on each bus and breaker, before and after, by phase of flight, with margin and battery time.

A rule of thumb made of what the files state, and no approved load analysis: a load nobody has listed is not in it. What
is not stated is shown as such, never as zero.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.device import PHASES
from harnesscheck.electrics.budget import Line, lines, phase_totals
from harnesscheck.fault import quoted
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
from harnesscheck.paper.cautions import CAUTIONS, decisions
from harnesscheck.paper.rows import columns, csv_bytes

FORMS = ("text", "csv")

UNSAID = "not stated"
HEADER = ("bus", "breaker", "load", "state", "duty", "current A", "peak A", *(f"{phase} A" for phase in PHASES))
_LEFT = frozenset(range(5))


def render(job: Job, form: str) -> bytes:
    """The load sheet of a job as ``text`` or ``csv``."""
    listed = lines(job.subject)
    if form == "csv":
        return csv_bytes(HEADER, [_cells(line) for line in listed])
    return "\n".join(quoted(line) for line in _text(job.subject, listed)).encode("utf-8") + b"\n"


def _cells(line: Line) -> list[str]:
    current = UNSAID if line.current is None else f"{line.current:g}"
    phases = [
        current if line.in_phase(phase) and line.steady else "short" if line.in_phase(phase) else "off"
        for phase in PHASES
    ]
    peak = "" if line.peak is None else f"{line.peak:g}"
    state = "new" if line.new else "existing"
    return [line.bus or UNSAID, line.breaker or UNSAID, line.name, state, line.duty, current, peak, *phases]


def _text(harness: Harness, listed: list[Line]) -> Iterator[str]:
    yield f"LOAD SHEET   {harness.title}   revision {harness.revision or UNSAID}"
    if harness.note:
        yield harness.note
    if not listed:
        yield ""
        yield "No load is stated: give load: at circuits, loads: in the airframe file, current: at pins."
    for bus in dict.fromkeys([*harness.buses, *(line.bus for line in listed)]):
        own = [line for line in listed if line.bus == bus]
        if own:
            yield ""
            yield f"BUS {bus}" if bus is not None else "BUS NOT STATED"
            yield from _bus(own)
            if bus is not None:
                yield from _sources(harness, bus, own)
    yield from _breakers(harness, listed)
    yield from _footer(harness)


def _bus(own: list[Line]) -> Iterator[str]:
    table = [["breaker", "load", "state", "duty", "A", "peak", *PHASES]]
    table += [_cells(line)[1:] for line in own]
    old, new = phase_totals(line for line in own if not line.new), phase_totals(line for line in own if line.new)
    for word, total in (("before", old), ("new", new), ("total", {p: old[p] + new[p] for p in PHASES})):
        table.append(["", word, "", "", "", "", *(f"{total[phase]:.4g}" for phase in PHASES)])
    yield from (f"  {line}" for line in columns(table, frozenset(range(4, 6 + len(PHASES)))))
    short = [line for line in own if not line.steady]
    if short:
        yield f"  short: on for two minutes at the most, not in the totals: {', '.join(line.name for line in short)}"
    unsaid = [line.name for line in own if line.current is None]
    if unsaid:
        yield f"  NOT STATED, and so not in the totals: {', '.join(unsaid)}"


def _sources(harness: Harness, bus: str, own: list[Line]) -> Iterator[str]:
    total = phase_totals(own)
    feeding = [source for source in harness.sources.values() if source.bus == bus]
    if not feeding:
        yield f"  no source is stated for {bus}: margin and battery minutes are not known"
    turning = [source for source in feeding if source.kind != "battery"]
    if turning:
        names = ", ".join(source.ref for source in turning)
        unrated = [source.ref for source in turning if source.rating is None]
        worst = max(PHASES, key=lambda phase: total[phase])
        if unrated:
            yield f"  {names}: rating of {', '.join(unrated)} {UNSAID}; margin not known"
        else:
            rating = sum(source.rating or 0.0 for source in turning)
            left = margin(total[worst], rating)
            word = "left" if left >= 0 else "too much"
            yield (
                f"  {names}: {rating:g} A, {100 * CONTINUOUS_SHARE:.0f} % are {rating * CONTINUOUS_SHARE:g} A; most in "
                f"{worst}: {total[worst]:.4g} A, {100 * total[worst] / rating:.0f} %; {abs(left):.4g} A {word}"
            )
    for battery in feeding:
        if battery.kind == "battery":
            yield f"  {battery.ref}: {_battery(battery.capacity, battery.usable, total['emergency'])}"


def _battery(capacity: float | None, usable: float | None, load: float) -> str:
    if capacity is None or usable is None:
        return f"capacity or usable share {UNSAID}; minutes not known"
    if load <= 0:
        return f"{capacity:g} Ah; no load is stated for emergency"
    minutes = battery_minutes(capacity, usable, load)
    short = "" if minutes >= BATTERY_MINUTES else f", LESS than {BATTERY_MINUTES:g} min"
    return f"{capacity:g} Ah, {100 * usable:g} % usable, {load:.4g} A in emergency: {minutes:.0f} min on battery{short}"


def _breakers(harness: Harness, listed: list[Line]) -> Iterator[str]:
    table = [["breaker", "rating A", "before A", "new A", "total A", "of rating", "peak A"]]
    for ref, breaker in harness.breakers.items():
        own = [line for line in listed if line.breaker == ref]
        if not own:
            continue
        old = sum(line.current or 0.0 for line in own if line.steady and not line.new)
        new = sum(line.current or 0.0 for line in own if line.steady and line.new)
        share = f"{100 * (old + new) / breaker.rating:.0f} %" if breaker.rating else UNSAID
        rating = UNSAID if breaker.rating is None else f"{breaker.rating:g}"
        mark = " +?" if any(line.current is None for line in own) else ""
        peak = sum(line.most for line in own)
        table.append([ref, rating, f"{old:.4g}{mark}", f"{new:.4g}", f"{old + new:.4g}{mark}", share, f"{peak:.4g}"])
    if len(table) > 1:
        yield ""
        yield "BREAKERS (continuous; +? more that nobody has stated)"
        yield from (f"  {line}" for line in columns(table, frozenset(range(1, 7))))


def _footer(harness: Harness) -> Iterator[str]:
    yield ""
    decided = decisions(harness)
    if decided:
        yield "Decided in writing for this job:"
        yield from (f"  {line}" for line in decided)
    yield f"80 %: {CONTINUOUS_SOURCE}."
    yield f"{BATTERY_MINUTES:g} minutes: {BATTERY_SOURCE}; the discharge rate and cold lower what a battery gives."
    yield "Only what the files list is in the sums. Battery charging current is not."
    yield ""
    yield from CAUTIONS
