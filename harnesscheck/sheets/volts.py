"""Volts sheet: volts and amps at each load, the worst case named, and what every wire, contact and splice carries.

The installed harness solved as a network, beside the airframe as found. What cannot be computed is listed with exactly
what is missing; nothing is guessed but what stands under "counted without anybody having said it".
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from harnesscheck.electrics.consumers import Consumer
from harnesscheck.electrics.elements import CONTACT_SOURCE, SPLICE_SOURCE, Gap
from harnesscheck.electrics.wiring import Element, Wiring, wiring
from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Cell, Column, Content, Facts, Heading, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.sheets import Wish
from harnesscheck.sheets._say import wire_link

PART, ORDER = 8, 60
LOADS = (
    Column("kind"),
    Column("name"),
    Column("bus"),
    *(
        Column(title, right=True)
        for title in (
            "continuous A", "peak A", "before V", "continuous V", "peak V", "lowest V",
            "drop continuous V", "drop peak V", "watts at peak",
        )
    ),
    Column("missing"),
)  # fmt: skip
PIECES = (
    Column("kind"),
    Column("name"),
    Column("gauge"),
    *(
        Column(title, right=True)
        for title in ("continuous A", "peak A", "drop continuous V", "drop peak V", "watts at peak")
    ),
)
LEAST = 0.001
"""Amperes below which a piece is left out."""
_ORDER = {"wire": 0, "contact": 1, "splice": 2, "breaker": 3, "bond": 4}


def content(job: Job, wish: Wish) -> Content:
    """The volts sheet of a job."""
    net = wiring(job.subject)
    return Content("volts", "Volts sheet", tuple(_blocks(job.subject, net)), True, tuple(decisions(job.subject)))


def _number(value: float | None, unit: str = "") -> str:
    return "" if value is None else f"{value:.3f}{unit}"


def _before(net: Wiring, consumer: Consumer) -> float | None:
    """Volts at an existing load in the airframe as found, continuous."""
    if net.harness.before is None or consumer.new:
        return None
    old = wiring(net.harness.before)
    same = next((other for other in old.consumers if other.name == consumer.name), None)
    return old.across(same) if same is not None else None


def _amps(net: Wiring, consumer: Consumer, mode: str) -> float | None:
    flow = net.flow(mode)
    return None if net.failed(consumer, flow) or net.gaps(consumer) else flow.drawn[net.consumers.index(consumer)]


def _lowest(net: Wiring, consumer: Consumer) -> float | None:
    """Volts at every peak together and the buses at their lowest; None when a bus does not say its lowest."""
    buses = net.buses(consumer)
    if not buses or any(net.bus_volts(bus, "low") is None for bus in buses):
        return None
    return net.across(consumer, "most", "low")


def _load_cells(net: Wiring, consumer: Consumer) -> list[str]:
    nominal = net.nominal(consumer)
    steady, most = net.across(consumer), net.across(consumer, "most")
    lost = [_number(nominal - seen if seen is not None and nominal is not None else None) for seen in (steady, most)]
    watts = _amps(net, consumer, "most")
    return [
        "load", consumer.name, ", ".join(net.buses(consumer)), _number(_amps(net, consumer, "steady")), _number(watts),
        _number(_before(net, consumer)), _number(steady), _number(most), _number(_lowest(net, consumer)), *lost,
        _number(watts * most if watts is not None and most is not None else None),
        "; ".join(gap.missing for gap in net.gaps(consumer)) or net.failed(consumer, net.flow("most")),
    ]  # fmt: skip


def _pieces(net: Wiring) -> list[tuple[str, str, str, float, float, float, float, float]]:
    """Kind, name, gauge, amps and volts lost, continuous and peak, of every piece that carries current."""
    steady, most = net.flow("steady"), net.flow("most")
    found: dict[tuple[str, str], list[tuple[float, float, Element]]] = {}
    for element, one, two in zip(net.elements, steady.amps, most.amps, strict=False):
        lame = net.lame(element, most) or net.lame(element, steady)
        if element.ohms is not None and max(abs(one), abs(two)) >= LEAST and element.kind in _ORDER and not lame:
            found.setdefault((element.kind, element.name), []).append((abs(one), abs(two), element))
    listed = []
    for (kind, name), parts in found.items():
        wire = parts[0][2].wire
        one, two = max(p[0] for p in parts), max(p[1] for p in parts)
        lost = max(amps * (element.ohms or 0.0) for amps, _, element in parts)
        most_lost = max(amps * (element.ohms or 0.0) for _, amps, element in parts)
        watts = math.fsum(two**2 * (element.ohms or 0.0) for _, two, element in parts)
        listed.append((kind, name, str(wire.gauge) if wire else "", one, two, lost, most_lost, watts))
    listed.sort(key=lambda each: (_ORDER[each[0]], each[1]))
    return listed


def _blocks(harness: Harness, net: Wiring) -> Iterator[Block]:
    if not net.consumers:
        yield Words("No load is stated: give load: at circuits and current: at the pins of the equipment.")
    yield from _collapsed(net)
    if net.consumers:
        yield Heading("Loads")
        yield _loads(net)
        yield from _worst(net)
        yield from _carried(net)
    yield from _missing(net)
    yield from _footer(harness, net)


def _collapsed(net: Wiring) -> Iterator[Block]:
    """The loads whose supply collapses, each with the state that does it; the answers of other feeds stand."""
    by: dict[tuple[str, str], list[str]] = {}
    for consumer in net.consumers:
        for mode, words in (("steady", "continuous"), ("most", "every load at its peak")):
            if failed := net.failed(consumer, net.flow(mode)):
                by.setdefault((words, failed), []).append(consumer.name)
                break
    for (words, failed), names in by.items():
        yield Words(f"NO SOLUTION for {', '.join(names)} ({words}): {failed}", strong=True)
    if by:
        yield Words(
            "In a return that they share with other loads their stated current is counted; their feeds are left out."
        )


def _loads(net: Wiring) -> Table:
    rows: list[tuple[str | Cell, ...]] = [
        ("load", Cell(consumer.name, strong=True), *_load_cells(net, consumer)[2:]) for consumer in net.consumers
    ]
    return Table("loads", LOADS, tuple(rows))


def _worst(net: Wiring) -> Iterator[Block]:
    seen = [(low, c.name) for c in net.consumers if (low := _lowest(net, c)) is not None]
    drops = [
        (nominal - most, c.name)
        for c in net.consumers
        if (most := net.across(c, "most")) is not None and (nominal := net.nominal(c)) is not None
    ]
    if drops:
        lost, name = max(drops)
        yield Words(f"worst drop: {lost:.2f} V at {name}, every load at its peak", strong=True)
    if seen:
        low, name = min(seen)
        words = f"lowest volts: {low:.2f} V at {name}, every load at its peak and the bus at its lowest"
        yield Words(words, strong=True)


def _carried(net: Wiring) -> Iterator[Block]:
    rows: list[tuple[str | Cell, ...]] = []
    for kind, name, gauge, *values in _pieces(net):
        shown: str | Cell = wire_link(name) if kind == "wire" else name
        rows.append((kind, shown, gauge, *(_number(value) for value in values)))
    yield Heading("What carries current")
    yield Table("carried", PIECES, tuple(rows))


def _missing(net: Wiring) -> Iterator[Block]:
    by_gap: dict[Gap, list[str]] = {}
    for consumer in net.consumers:
        for gap in net.gaps(consumer):
            by_gap.setdefault(gap, []).append(consumer.name)
    if by_gap:
        yield Heading("NOT COMPUTED")
        for gap, names in by_gap.items():
            yield Words(f"{', '.join(names)}: {gap.missing}; {gap.remedy}")


def _footer(harness: Harness, net: Wiring) -> Iterator[Block]:
    zero = [b.ref for b in harness.breakers.values() if b.resistance is None]
    bonds = [g.ref for g in harness.grounds.values() if g.bond is None]
    if net.consumers:
        pairs = [
            ("contacts and splices of unknown resistance", f"{CONTACT_SOURCE}; {SPLICE_SOURCE}"),
            ("wires", "as hot as the hottest zone they touch, 20 C where none is stated; own heat not added"),
            ("loads that state no kind", "draw constant power"),
            ("existing loads that state no peak", "never draw more"),
        ]
        if zero:
            pairs.append(("breakers without resistance", ", ".join(zero)))
        if bonds:
            pairs.append(("studs without resistance to the generator", ", ".join(bonds)))
        yield Heading("Counted without anybody having said it")
        yield Facts(tuple(pairs))
    yield Words("Wire resistance from AC 43.13-1B Table 11-9, hot by p. 11-22, unless the drawer knows the wire.")
