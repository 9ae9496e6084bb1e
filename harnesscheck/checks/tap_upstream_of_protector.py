"""The tap of a supply pin is on the bus side of the breaker: nothing protects its wire.

What
    Every supply pin of the new equipment must hang on copper that ends at the load side of a breaker or fuse. Copper
    that reaches a bus, a source, or the line side of a breaker is not protected by anything that is listed.

Why it matters
    A chafed wire takes the whole current of battery and alternator. It glows along its length before anything opens.

Source
    AC 43.13-1B Chg 1, par. 11-47 and 11-48: every wire is protected, close to the bus.

What to do
    Tap behind the breaker, or give the unit a breaker of its own at the bus.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._power import CAUSES, at, copper_of, live, named
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("AC 43.13-1B", Status.CONFIRMED, "Chg 1", "par. 11-47 and 11-48")
FOLLOWS = CAUSES


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every supply pin of the new equipment; one finding for each piece of copper."""
    net = live(harness)
    if net is None:
        return
    good = 0
    said: set[int] = set()
    for consumer in net.consumers:
        point = consumer.at
        here = copper_of(harness, point)
        if consumer.pin is None or point is None or here is None or id(here) in said:
            continue
        said.add(id(here))
        bare = _unprotected(harness, point)
        if bare:
            wires = [wire.place for wire in here.new]
            yield Finding(
                headline=f"{named(consumer)} is joined to {several(bare)} with no breaker between",
                place=at(consumer.pin.point, consumer.pin.place),
                others=(*bare.values(), *wires),
                value=f"one piece of copper with {several(bare)}",
                limit="a breaker or fuse close to the bus",
                remedy="tap behind the breaker, or give the unit a breaker of its own at the bus",
            )
        elif here.breakers:
            good += 1
        else:
            yield NotChecked(
                place=consumer.place,
                missing=f"which breaker {named(consumer)} hangs behind is not known",
                remedy="give breaker: at the circuit, or list the wire from the breaker",
            )
    yield Passed(good, "supply pins behind a breaker")


def _unprotected(harness: Harness, point: Point) -> dict[str, Place]:
    """Buses, sources and line sides of breakers that are one piece of copper with a point."""
    nets = harness.nets
    own = nets.of(point)
    found: dict[str, Place] = {}
    for bus in harness.buses.values():
        if nets.of(Point(bus.ref)) == own:
            found[bus.ref] = bus.place
    for breaker in harness.breakers.values():
        if nets.of(Point(breaker.ref, "line")) == own:
            found[f"the bus side of {breaker.ref}"] = breaker.place
    for source in harness.sources.values():
        if nets.of(Point(source.ref)) == own:
            found[source.ref] = source.place
    return found
