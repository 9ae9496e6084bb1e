"""The loads of a bus come to more than 80 % of its alternator or generator.

What
    For every bus that feeds the new equipment, in every phase of flight, the continuous loads that the files list are
    added up: those of circuits (load:), those under loads:, and the new ones. The sum is compared with 80 % of the
    ratings of the alternators and generators of the bus. Loads nobody has listed are not in the sum.

Why it matters
    The alternator runs hot and fails early, or the battery is drained in flight with every light still on.

Source
    AC 43.13-1B Chg 1, par. 11-35 (a rule of thumb, without monitor or placard). It can be set for the job.

What to do
    Take a load off in that phase, by a placard if need be, or measure: harnesscheck load prints the sheet.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from harnesscheck.checks._limits import Limit, limit
from harnesscheck.checks._power import amps, buses_of, live, named, share
from harnesscheck.checks._words import several
from harnesscheck.electrics.budget import Line, lines, phase_totals
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.formulas.load_analysis import CONTINUOUS_SHARE, CONTINUOUS_SOURCE
from harnesscheck.harness import Harness

SEVERITY = Severity.CAUTION
SOURCE = CONTINUOUS_SOURCE
LIMIT = Limit(CONTINUOUS_SHARE, "80 %", CONTINUOUS_SOURCE, share)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every bus that feeds the new equipment; one finding for each, in its worst phase."""
    net = live(harness)
    if net is None:
        return
    most = limit(harness, "source-overloaded", LIMIT)
    good = 0
    seen: set[str] = set()
    for consumer in net.consumers:
        if not consumer.new:
            continue
        buses = buses_of(harness, consumer)
        if not buses:
            yield NotChecked(
                place=consumer.place,
                missing=f"which bus feeds {named(consumer)} is not known (load of the source)",
                remedy="list the wire from its breaker, and give bus: at the breaker",
            )
        for bus in buses:
            if bus not in seen:
                seen.add(bus)
                answers = list(_bus(harness, bus, most))
                yield from answers
                good += not answers
    yield Passed(good, "buses, with the loads that are listed")


def _bus(harness: Harness, bus: str, most: Limit) -> Iterator[Answer]:
    place = harness.buses[bus].place
    turning = [s for s in harness.sources.values() if s.bus == bus and s.kind != "battery"]
    rating = math.fsum(source.rating or 0.0 for source in turning)
    every = [line for line in lines(harness) if line.bus == bus]
    unsaid = [line for line in every if line.current is None]
    if not turning:
        yield NotChecked(
            place=place, missing=f"which alternator or generator feeds {bus} is not stated", remedy="give sources:"
        )
    for source in turning:
        if source.rating is None:
            yield NotChecked(
                place=source.place, missing=f"the rating of {source.ref} is not stated", remedy="give rating:"
            )
    if not any(line.listed for line in every):
        yield NotChecked(
            place=place,
            missing=f"what else hangs on {bus} is not stated",
            remedy="list its loads under loads: in the airframe file",
        )
    for line in unsaid:
        yield NotChecked(place=line.place, missing=f"the current of {line.name} is not stated", remedy=line.remedy)
    if rating <= 0 or any(source.rating is None for source in turning):
        return
    phase, total = max(phase_totals(every).items(), key=lambda each: each[1])
    if total > most.value * rating + 1e-9:
        yield _finding(harness, bus, every, phase, total, rating, most)


def _finding(
    harness: Harness, bus: str, every: list[Line], phase: str, total: float, rating: float, most: Limit
) -> Finding:
    new = [line for line in every if line.new]
    old = total - math.fsum(line.current or 0.0 for line in new if line.in_phase(phase) and line.steady)
    tail = ", as it was before" if old > most.value * rating + 1e-9 else ""
    sources = [s for s in harness.sources.values() if s.bus == bus and s.kind != "battery"]
    names = several(source.ref for source in sources)
    return Finding(
        headline=f"{amps(total)} hang on {bus} in {phase}, {100 * total / rating:.0f} % of {names}"
        f" ({rating:g} A){tail}",
        place=new[0].place if new else harness.buses[bus].place,
        others=(harness.buses[bus].place, *(s.place for s in sources)),
        value=f"{amps(total)} continuously in {phase}: {amps(old)} before, {amps(total - old)} new",
        limit=f"{amps(most.value * rating)} ({most.text} of {rating:g} A)",
        source=most.source,
        remedy="take a load off in that phase, or have the source measured and say so in limits:",
    )
