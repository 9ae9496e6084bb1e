"""The ground path from a stud of the new equipment to the generator has too much resistance.

What
    For every ground stud by which supply current of the new equipment returns, the resistance from the stud to the
    ground point of the generator or battery, as measured (bond: at the stud), is compared with the limit. The wires up
    to the stud are part of the voltage drop and are looked at there.

Why it matters
    A composite airframe, a riveted joint that has corroded, or a stud on an isolated panel lifts the ground of all that
    returns through it. Returns seek another way, through shields and data lines.

Source
    Handbook text of the FAA on voltage drop: 0.005 ohm from the ground point of the generator to the ground terminal of
    a device is satisfactory (second hand). AC 43.13-1B Chg 1, par. 11-188f asks for 2.5 milliohm for one bond.

What to do
    Clean and remake the joint and measure again, lead the return to a better stud, or run a ground wire.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck import units
from harnesscheck.checks._limits import Limit, limit
from harnesscheck.checks._power import at, copper_of, live
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.formulas.voltage_drop import GROUND_PATH, GROUND_PATH_SOURCE
from harnesscheck.harness import Harness
from harnesscheck.source import Source

SEVERITY = Severity.CAUTION
SOURCE: Source = GROUND_PATH_SOURCE
LIMIT = Limit(GROUND_PATH, "5 mohm", GROUND_PATH_SOURCE, units.resistance)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every stud that the new equipment returns by; one finding for each."""
    net = live(harness)
    if net is None:
        return
    most = limit(harness, "long-ground-path", LIMIT)
    studs: dict[str, list[str]] = {}
    for consumer in net.consumers:
        here = copper_of(harness, consumer.back) if consumer.new else None
        for ground in here.grounds if here else ():
            studs.setdefault(ground.ref, []).append(str(consumer.back))
    good = 0
    for name, pins in studs.items():
        ground = harness.grounds[name]
        if ground.bond is None:
            yield NotChecked(
                place=ground.place,
                missing=f"the resistance from {name} to the generator ground is not stated",
                remedy="measure it and give bond:",
            )
        elif ground.bond > most.value * (1 + 1e-9):
            yield Finding(
                headline=f"{name} lies {1000 * ground.bond:.3g} mohm from the ground of the generator, and "
                f"{several(pins)} returns by it",
                place=ground.place,
                others=tuple(at(consumer.back, consumer.place) for consumer in net.consumers
                             if consumer.new and consumer.back is not None and str(consumer.back) in pins),
                value=f"{1000 * ground.bond:.3g} mohm",
                limit=f"{most.text} or less",
                source=most.source,
                remedy="clean and remake the joint and measure again, or lead the return to a better stud",
            )  # fmt: skip
        else:
            good += 1
    yield Passed(good, "studs that the new equipment returns by")
