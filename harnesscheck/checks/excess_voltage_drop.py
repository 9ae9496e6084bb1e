"""A load gets too little: more volts are lost between bus and ground than the table allows.

What
    The installed harness is solved as a network: wires by length and gauge, hot from the zones they run through, mated
    contacts and splices at their worst, go and return. What is lost between the bus and each load (the pins of the new
    equipment, and the loads that hang on the opened connector already) is compared with the continuous limit for the
    loads that are always on, and with the intermittent limit for all of them at their peak together.
    A limit that is passed by the wires alone is a stop; by contacts and splices, whose resistance nobody has confirmed,
    a caution. What was too much before the jumper already is a note. Loads on one feeder are one finding.

Why it matters
    The unit resets when its heater switches on, or works on the bench and not in the aircraft. The existing unit on
    the same feeder sags with it.

Source
    AC 43.13-1B Chg 1, Table 11-6: 0.5 V of 14 V, 1 V of 28 V, 4 V of 115 V, 7 V of 200 V under continuous load
    (confirmed by Tables 11-7 and 11-8, whose lengths include the ground wire); twice that for two minutes (from
    memory). Wire resistance from Table 11-9, at temperature by the formula on p. 11-22.

What to do
    Make the longest thin wire thicker or shorter, feed the unit by a run of its own, or tap nearer to the bus.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from harnesscheck.checks._power import CAUSES, buses_of, live, named, unknown, volts
from harnesscheck.checks._words import several
from harnesscheck.electrics.consumers import Consumer
from harnesscheck.electrics.doubt import counted_zero, no_peak
from harnesscheck.electrics.elements import Gap
from harnesscheck.electrics.wiring import Wiring, wiring
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.formulas.voltage_drop import CONTINUOUS_SOURCE, INTERMITTENT_SOURCE, allowed
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = CONTINUOUS_SOURCE
FOLLOWS = (*CAUSES, "breaker-overloaded", "double-feed")
SOFT = Source("", Status.DERIVED, paragraph="worst-case resistance of contacts and splices, most of it not confirmed")


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every load of the installed harness; one finding for each."""
    net = live(harness)
    if net is None:
        return
    good = 0
    missing: dict[Gap, list[str]] = {}
    counted: dict[Gap, list[tuple[float, str]]] = {}
    wrong: dict[int | None, list[tuple[float, Finding]]] = {}
    for consumer in net.consumers:
        gaps = net.gaps(consumer)
        bus = next(iter(buses_of(harness, consumer)), None)
        system = harness.buses[bus].volts if bus is not None else None
        if not gaps and (system is None or allowed(system) is None):
            place = harness.buses[bus].place if bus is not None else consumer.place
            said = (
                f"Table 11-6 of AC 43.13-1B has no {system:g} V system"
                if system
                else "the system voltage is not stated"
            )
            remedy = "give supply: 14 V, 28 V, 115 V or 200 V at the bus, or judge the drop on the volts sheet"
            gaps = [Gap(place, said, remedy)]
        for gap in gaps:
            missing.setdefault(gap, []).append(consumer.name)
        if gaps:
            continue
        assert system is not None
        found = _finding(net, consumer, system)
        if found is not None:
            wrong.setdefault(_where(net, consumer), []).append(found)
            continue
        zeros = counted_zero(net, consumer)
        for gap in zeros:
            counted.setdefault(gap, []).append((_left(net, consumer, system), consumer.name))
        doubts = no_peak(consumer)
        for gap in doubts:
            missing.setdefault(gap, []).append(consumer.name)
        good += not zeros and not doubts
    for gap, names in missing.items():
        yield from unknown([gap], f"drop to {several(names)}")
    for gap, loads in counted.items():
        words = (
            f"with 0 ohm the drop to {several(name for _, name in loads)} would pass, with {volts(min(loads)[0])} left"
        )
        yield NotChecked(place=gap.place, missing=f"{gap.missing}: {words}", remedy=gap.remedy)
    for group in wrong.values():
        yield _together([finding for _, finding in sorted(group, key=lambda each: -each[0])])
    yield Passed(good, "loads, with contacts and splices at their worst")


def _where(net: Wiring, consumer: Consumer) -> int | None:
    """The part of the network where a load loses most, its feed or its return: loads that share it have one fault."""
    if any(net.failed(consumer, net.flow(mode)) for mode in ("steady", "most")):
        return net.part_of(consumer.back)
    shares = net.shares(consumer, "most")
    return net.element_part(shares[0][1]) if shares else net.part_of(consumer.at)


def _together(group: list[Finding]) -> Finding:
    """Loads on one feeder or return have one fault: that of the worst off; the others are named with it."""
    grave = [each for each in group if each.severity is not Severity.NOTE] or group
    first = next((each for each in grave if each.source is not None and each.source.may_stop), grave[0])
    rest = [each.place for each in group if each is not first]
    also = f"; too much also for {several(place.label for place in rest)}" if rest else ""
    return replace(first, others=(*first.others, *rest), value=first.value + also)


def _finding(net: Wiring, consumer: Consumer, system: float) -> tuple[float, Finding] | None:
    for mode, continuous, source in (("steady", True, CONTINUOUS_SOURCE), ("most", False, INTERMITTENT_SOURCE)):
        limit = allowed(system, continuous=continuous)
        lost = _lost(net, consumer, mode)
        assert limit is not None
        if lost is not None and lost <= limit + 1e-9:
            continue
        bare = _lost(net, consumer, mode, bare=True)
        by_contacts = bare is not None and bare <= limit + 1e-9
        found = _worded(net, consumer, mode, lost, limit, system, SOFT if by_contacts else source)
        return (lost / limit if lost is not None else float("inf")), found
    return None


def _left(net: Wiring, consumer: Consumer, system: float) -> float:
    """Volts that are left for what is not known: the least of both limits."""
    spare = [
        limit - lost
        for mode, continuous in (("steady", True), ("most", False))
        if (limit := allowed(system, continuous=continuous)) and (lost := _lost(net, consumer, mode)) is not None
    ]
    return min(spare)


def _lost(net: Wiring, consumer: Consumer, mode: str, bare: bool = False) -> float | None:
    """Volts lost between bus and load; None when the loads find no stable voltage."""
    seen = net.across(consumer, mode, bare=bare)
    nominal = net.nominal(consumer)
    return None if seen is None or nominal is None else nominal - seen


def _worded(
    net: Wiring, consumer: Consumer, mode: str, lost: float | None, limit: float, system: float, source: Source
) -> Finding:
    when = "continuous load" if mode == "steady" else "every load at its peak"
    right = f"{limit:g} V or less of {system:g} V for {'a continuous' if mode == 'steady' else 'an intermittent'} load"
    if lost is None:
        wires, headline, value = (
            [],
            f"the supply of {named(consumer)} collapses: the wiring cannot carry its load",
            when,
        )
    else:
        worst = [(drop, e.wire) for drop, e in net.shares(consumer, mode)[:8] if e.wire is not None and drop > 0][:3]
        wires = [wire for _, wire in worst]
        headline = f"{named(consumer)} loses {volts(lost)} on its way, and {limit:g} V are allowed"
        value = f"{volts(lost)} lost at {when}; most of it in " + several(f"{w.id} ({volts(d)})" for d, w in worst)
    earlier = _before(net, consumer, mode, limit)
    return Finding(
        headline=headline + (", as it did before the jumper" if earlier else ""),
        place=consumer.place,
        others=tuple(wire.place for wire in wires),
        value=value,
        limit=right,
        source=source,
        severity=Severity.NOTE if earlier else None,
        remedy=f"make {wires[0].id} thicker or shorter, or feed the unit by a run of its own" if wires
        else "make the run thicker or shorter, or feed the unit by a run of its own",
    )  # fmt: skip


def _before(net: Wiring, consumer: Consumer, mode: str, limit: float) -> bool:
    """True when the load lost too much already in the airframe as found."""
    if consumer.new or net.harness.before is None:
        return False
    old = wiring(net.harness.before)
    same = next((other for other in old.consumers if other.name == consumer.name), None)
    lost = _lost(old, same, mode) if same is not None and not old.gaps(same) else None
    return lost is not None and lost > limit + 1e-9
