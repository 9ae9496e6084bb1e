"""A breaker or fuse gets more load than it is rated for, or than is left for it.

What
    For every breaker that feeds the new equipment the loads are added up: the new ones, those of the circuits it feeds
    (load: at the circuit) and those listed under loads:. The sum of what is on continuously must stay below the rating
    (stop) and below 80 % of it (caution); the sum of all peaks must stay below the rating (caution).

Why it matters
    The breaker opens in flight, and takes what was there before along with the new unit. Reset in a hurry, it opens
    again.

Source
    AC 43.13-1B Chg 1, par. 11-47 and 11-48: the protector matches the summed load of its wires. The 80 % of a single
    breaker is common practice (par. 11-35 says so of the generator), and can be set for the job.

What to do
    Move a load to another breaker, or give the new unit its own. A larger breaker needs thicker wire behind all of it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

from harnesscheck.checks._limits import Limit, limit
from harnesscheck.checks._power import CAUSES, amps, breakers_of, live, named, share, unknown
from harnesscheck.checks._words import several
from harnesscheck.device import Breaker
from harnesscheck.electrics.consumers import FED, Consumer
from harnesscheck.electrics.doubt import no_peak
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Place
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("AC 43.13-1B", Status.CONFIRMED, "Chg 1", "par. 11-47 and 11-48")
LIMIT = Limit(0.80, "80 %", Source("", Status.COMMON, paragraph="a breaker is loaded to 80 % of its rating"), share)
FOLLOWS = (*CAUSES, "double-feed")


@dataclass(slots=True)
class _Sum:
    steady: float = 0.0
    peak: float = 0.0
    parts: list[str] = field(default_factory=list)
    places: list[Place] = field(default_factory=list)
    missing: list[NotChecked] = field(default_factory=list)

    def add(self, name: str, place: Place, steady: float, peak: float) -> None:
        self.steady += steady
        self.peak += peak
        self.parts.append(f"{name} {amps(max(steady, peak))}")
        self.places.append(place)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every breaker that feeds the new equipment; one finding for each."""
    net = live(harness)
    if net is None:
        return
    most = limit(harness, "breaker-overloaded", LIMIT)
    groups: dict[tuple[str, ...], list[Consumer]] = {}
    for consumer in net.consumers:
        if consumer.new:
            fed = tuple(breaker.ref for breaker in breakers_of(harness, consumer))
            if fed:
                groups.setdefault(fed, []).append(consumer)
            else:
                yield NotChecked(
                    place=consumer.place,
                    missing=f"which breaker feeds {named(consumer)} is not known",
                    remedy="give breaker: at the circuit, or list the wire from the breaker",
                )
    good = 0
    for refs, new in groups.items():
        breakers = [harness.breakers[ref] for ref in refs]
        unrated = [breaker for breaker in breakers if breaker.rating is None]
        for breaker in unrated:
            yield NotChecked(
                place=breaker.place, missing=f"the rating of {breaker.ref} is not stated", remedy="give rating:"
            )
        if unrated:
            continue
        total = _sum(harness, breakers, new)
        found = _finding(breakers, total, new, most)
        if found is not None:
            yield found
        elif not total.missing:
            good += 1
        if found is None or found.severity is Severity.CAUTION:
            yield from total.missing
    yield Passed(good, "breakers that feed the new equipment")


def _sum(harness: Harness, breakers: list[Breaker], new: list[Consumer]) -> _Sum:
    total = _Sum()
    refs = {breaker.ref for breaker in breakers}
    for consumer in new:
        if consumer.current is None:
            total.missing.append(
                NotChecked(
                    place=consumer.place,
                    missing=f"the current of {named(consumer)} is not stated",
                    remedy="give current: and peak:",
                )
            )
        total.missing += unknown(no_peak(consumer), f"load of {several(sorted(refs))} at peak")
        total.add(consumer.name, consumer.place, consumer.steady, consumer.most)
    for circuit in harness.circuits.values():
        if circuit.breaker not in refs:
            continue
        if circuit.load is None and circuit.peak is None:
            if circuit.signal in FED:
                total.missing.append(
                    NotChecked(
                        place=circuit.place,
                        remedy="give load: (0 A if nothing)",
                        missing=f"what hangs on {circuit.name} already is not stated",
                    )
                )
            continue
        load = circuit.load if circuit.load is not None else circuit.peak or 0.0
        steady = 0.0 if circuit.duty == "intermittent" else load
        total.add(circuit.name, circuit.place, steady, max(load, circuit.peak or 0.0))
    for known in harness.loads.values():
        if known.breaker in refs:
            if known.current is None and known.peak is None:
                total.missing.append(
                    NotChecked(
                        place=known.place, missing=f"the current of {known.name} is not stated", remedy="give current:"
                    )
                )
            load = known.current if known.current is not None else known.peak or 0.0
            steady = 0.0 if known.duty == "intermittent" else load
            total.add(known.name, known.place, steady, max(load, known.peak or 0.0))
    return total


def _finding(breakers: list[Breaker], total: _Sum, new: list[Consumer], most: Limit) -> Finding | None:
    rating = math.fsum(breaker.rating or 0.0 for breaker in breakers)
    names = several(f"{b.ref} ({b.rating:g} A)" for b in breakers)
    tiny = 1e-9
    if total.steady > rating + tiny:
        words, right, severity, source = f"{amps(total.steady)} continuously", f"{rating:g} A", None, SOURCE
    elif total.peak > rating + tiny:
        words, right, severity = f"{amps(total.peak)} at peak", f"{rating:g} A", Severity.CAUTION
        source = SOURCE
    elif total.steady > most.value * rating + tiny:
        words = f"{amps(total.steady)} continuously, {100 * total.steady / rating:.0f} % of its rating"
        right, severity, source = (
            f"{amps(most.value * rating)} ({most.text} of {rating:g} A)",
            Severity.CAUTION,
            most.source,
        )
    else:
        return None
    return Finding(
        headline=f"{names} would carry {words}, and {right} is its limit",
        place=new[0].place,
        others=(*(b.place for b in breakers), *total.places[1:]),
        value=f"{words}: {several(total.parts)}",
        limit=f"{right} or less",
        source=source,
        severity=severity,
        remedy="give the new unit a breaker of its own, or move a load to another one",
    )
