"""Load current of the new equipment flows through the ground of a sensor or data line.

What
    The copper by which the new equipment returns its supply current is followed up to, and not beyond, the ground
    studs. If a signal ground of the aircraft, or a signal ground pin of any unit, hangs on that stretch, the load
    current lifts it. By how much is computed when the wires are known. Wires that only meet on a stud are as they
    should be.

Why it matters
    Seven amperes in three feet of 22 AWG are a third of a volt: ten psi on a sensor that gives 5 V at 150 psi. Nothing
    is broken, the reading is wrong, and it moves with the load.

Source
    AC 43.13-1B Chg 1, par. 11-186e and f (no signal ground through a power return).

What to do
    Give the unit a return wire of its own to the stud, and leave the signal ground alone.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._power import CAUSES, amps, at, live, named
from harnesscheck.checks._words import several
from harnesscheck.electrics.consumers import Consumer
from harnesscheck.electrics.wiring import Wiring
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("AC 43.13-1B", Status.CONFIRMED, "Chg 1", "par. 11-186e and f")
FOLLOWS = tuple(name for name in CAUSES if name != "pin-map-mismatch")
"""That the pin wants another class of ground follows from this one, which says by how much it matters."""


def check(harness: Harness) -> Iterator[Answer]:
    """Look at the return of every load of the new equipment; one finding for each stretch of copper."""
    net = live(harness)
    if net is None:
        return
    good = 0
    done: set[Point] = set()
    for consumer in net.consumers:
        if consumer.pin is None or consumer.back is None or consumer.back in done:
            continue
        stretch = _stretch(harness, consumer.back)
        done |= stretch
        sensors = _sensors(harness, stretch, consumer)
        unsaid = [
            circuit.place
            for name in harness.circuits_at(sorted(stretch, key=str))
            if (circuit := harness.circuits.get(name)) is not None and circuit.signal is None
        ]
        if sensors:
            yield _finding(net, consumer, sensors)
        elif unsaid:
            for place in unsaid:
                yield NotChecked(
                    place=place,
                    missing=f"what kind of circuit {place.label} is, by which {named(consumer)} returns, is not stated",
                    remedy="give signal: ground or signal ground",
                )
        else:
            good += 1
    yield Passed(good, "returns of the new equipment")


def _stretch(harness: Harness, start: Point) -> set[Point]:
    """Every point joined to ``start`` without passing through a ground stud."""
    seen, stack = {start}, [start]
    while stack:
        here = stack.pop()
        if here.ref in harness.grounds:
            continue
        for _, there in harness.neighbours(here):
            if there not in seen:
                seen.add(there)
                stack.append(there)
    return {point for point in seen if point.ref not in harness.grounds}


def _sensors(harness: Harness, stretch: set[Point], consumer: Consumer) -> dict[str, Place]:
    """Signal grounds on the stretch: circuits of the aircraft, and pins of equipment."""
    found: dict[str, Place] = {}
    for name in harness.circuits_at(sorted(stretch, key=str)):
        circuit = harness.circuits.get(name)
        if circuit is not None and circuit.signal == "signal ground":
            found[name] = circuit.place
    for pin in harness.pins():
        if pin.signal == "signal ground" and pin.point in stretch and pin.point != consumer.back:
            found[f"{pin.point} ({pin.function})"] = at(pin.point, pin.place)
    return found


def _finding(net: Wiring, consumer: Consumer, sensors: dict[str, Place]) -> Finding:
    assert consumer.pin is not None and consumer.back is not None
    flow = net.flow("most")
    seen = net.across(consumer, "most")
    lift = flow.volts[net.index[consumer.back]] if seen is not None else None
    value = f"{amps(consumer.most)} through {several(sensors)}" if consumer.current else f"through {several(sensors)}"
    if lift is not None:
        value += f"; up to {1000 * abs(lift):.0f} mV from {consumer.back} to the stud"
    return Finding(
        headline=f"the supply current of {named(consumer)} returns through signal ground {several(sensors)}",
        place=next(at(pin.point, pin.place) for pin in net.harness.pins() if pin.point == consumer.back),
        others=(at(consumer.pin.point, consumer.pin.place), *sensors.values()),
        value=value,
        limit="no load current in a signal ground",
        remedy="give the unit a return wire of its own to the stud of its supply",
    )
