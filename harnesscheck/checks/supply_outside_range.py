"""The new equipment gets more or fewer volts than its maker allows.

What
    The highest volts of the bus in normal running stand at the pin when everything else is off; the lowest volts of the
    bus, less what is lost on the way with every load at its peak, are what is left at worst. Both must lie in the
    range that the equipment states (supply:). Volts in abnormal running (starting, a regulator at fault) must lie in
    the range that it stands (abnormal:), when the source states them.

Why it matters
    Too much destroys the unit at the first start. Too little, and it resets, or a heater stays cold in ice.

Source
    The supply range of the equipment maker against the volts of the sources, both as stated in the files; the drop from
    the DC solve of the installed harness.

What to do
    Feed it from a bus that fits, fit a regulator, or shorten the way. Do not apply power before.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._power import CAUSES, at, buses_of, live, named, unknown, volts
from harnesscheck.electrics.consumers import Consumer
from harnesscheck.electrics.doubt import counted_zero, no_peak
from harnesscheck.electrics.wiring import Wiring
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Place
from harnesscheck.source import Source, Status
from harnesscheck.units import Range

SEVERITY = Severity.STOP
SOURCE = Source("supply range of the equipment, against the volts of the sources", Status.STATED)
FOLLOWS = (*CAUSES, "excess-voltage-drop", "double-feed")
SOFT = Source("", Status.DERIVED, paragraph="worst-case resistance of contacts and splices, most of it not confirmed")


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every supply pin of the new equipment; one finding for each."""
    net = live(harness)
    if net is None:
        return
    good = 0
    for consumer in net.consumers:
        pin = consumer.pin
        if pin is None:
            continue
        place = at(pin.point, pin.place)
        if pin.supply is None:
            yield NotChecked(
                place=place, missing=f"the volts between which {named(consumer)} works are not stated",
                remedy="give supply: at the pin",
            )  # fmt: skip
            continue
        buses = buses_of(harness, consumer)
        if not buses:
            yield NotChecked(
                place=place, missing=f"which bus feeds {named(consumer)} is not known",
                remedy="list the wire from its breaker, and give bus: at the breaker",
            )  # fmt: skip
            continue
        answers = list(_one(net, consumer, place, buses, pin.supply))
        findings = [answer for answer in answers if isinstance(answer, Finding)]
        yield from findings[:1] or answers
        good += not answers
    yield Passed(good, "supply pins")


def _one(net: Wiring, consumer: Consumer, place: Place, buses: list[str], supply: Range) -> Iterator[Answer]:
    harness = net.harness
    for bus in buses:
        nominal, high = net.bus_volts(bus), net.bus_volts(bus, "high")
        others = (harness.buses[bus].place, *(s.place for s in harness.sources.values() if s.bus == bus))
        top = high if high is not None else nominal
        if top is not None and top > supply.high:
            yield _finding(consumer, place, others, f"up to {volts(top)} on {bus}", supply, SOURCE)
        if high is None:
            yield NotChecked(
                place=harness.buses[bus].place, remedy="give high: under sources:",
                missing=f"the highest volts of {bus} in normal running are not stated ({named(consumer)})",
            )  # fmt: skip
        for source in (source for source in harness.sources.values() if source.bus == bus):
            for key, word in (("high", "highest"), ("low", "lowest")):
                if getattr(source, key) is None and net.bus_volts(bus, key) is not None:
                    words = f"the {word} volts of {source.ref} in normal running are not stated ({named(consumer)})"
                    yield NotChecked(place=source.place, missing=words, remedy=f"give {key}: under sources:")
        yield from _low(net, consumer, place, others, bus, supply)
        yield from _abnormal(net, consumer, place, others, bus, supply)


def _low(
    net: Wiring, consumer: Consumer, place: Place, others: tuple[Place, ...], bus: str, supply: Range
) -> Iterator[Answer]:
    low, nominal = net.bus_volts(bus, "low"), net.bus_volts(bus)
    bottom = low if low is not None else nominal
    if bottom is not None and bottom < supply.low:
        yield _finding(consumer, place, others, f"down to {volts(bottom)} on {bus} itself", supply, SOURCE)
        return
    gaps = net.gaps(consumer)
    if gaps:
        yield from unknown(gaps, f"lowest volts at {consumer.name}")
        return
    level = "low" if low is not None else "nominal"
    left, bare = net.across(consumer, "most", level), net.across(consumer, "most", level, bare=True)
    if left is None or left < supply.low:
        firm = bare is None or bare < supply.low
        value = "no stable voltage" if left is None else f"down to {volts(left)}"
        words = f"{value} with {volts(bottom or 0.0)} on {bus} and every load at its peak"
        yield _finding(consumer, place, others, words, supply, SOURCE if firm else SOFT)
    elif low is None:
        yield NotChecked(
            place=net.harness.buses[bus].place, remedy="give low: under sources:",
            missing=f"the lowest volts of {bus} in normal running are not stated ({named(consumer)})",
        )  # fmt: skip
    else:
        yield from unknown(no_peak(consumer), f"lowest volts at {consumer.name}")
        for gap in counted_zero(net, consumer) if supply.low > 0 else ():
            words = f"with 0 ohm {consumer.name} gets {volts(left)}, and {supply.low:g} V are the least"
            yield NotChecked(place=gap.place, missing=f"{gap.missing}: {words}", remedy=gap.remedy)


def _abnormal(
    net: Wiring, consumer: Consumer, place: Place, others: tuple[Place, ...], bus: str, supply: Range
) -> Iterator[Answer]:
    assert consumer.pin is not None
    for source in net.harness.sources.values():
        said = source.abnormal
        if source.bus != bus or said is None or (said.low in supply and said.high in supply):
            continue
        stands = consumer.pin.abnormal
        if stands is None:
            yield NotChecked(
                place=place, remedy="give abnormal: at the pin",
                missing=f"whether {named(consumer)} stands {said.low:g} V to {said.high:g} V, which {source.ref} may "
                "give in abnormal running, is not stated",
            )  # fmt: skip
        elif said.low < stands.low or said.high > stands.high:
            words = f"{said.low:g} V to {said.high:g} V from {source.ref} in abnormal running"
            yield _finding(consumer, place, others, words, stands, SOURCE, Severity.CAUTION)


def _finding(
    consumer: Consumer, place: Place, others: tuple[Place, ...], value: str, right: Range, source: Source,
    severity: Severity | None = None,
) -> Finding:  # fmt: skip
    word = "stands" if severity else "works on"
    return Finding(
        headline=f"{named(consumer)} {word} {right.low:g} V to {right.high:g} V, and gets {value}",
        place=place,
        others=others,
        value=value,
        limit=f"{right.low:g} V to {right.high:g} V",
        source=source,
        severity=severity,
        remedy="do not apply power; feed it from a bus that fits, or shorten the way to it",
    )
