"""Volts sheet: volts and amps at each load, the worst case named, and what every wire, contact and splice carries.

The installed harness solved as a network, beside the airframe as found. What cannot be computed is listed with exactly
what is missing; nothing is guessed but what stands under "counted without anybody having said it".
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.electrics.consumers import Consumer
from harnesscheck.electrics.elements import CONTACT_SOURCE, SPLICE_SOURCE, Gap
from harnesscheck.electrics.wiring import Element, Wiring, wiring
from harnesscheck.fault import quoted
from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.paper.cautions import CAUTIONS, decisions
from harnesscheck.paper.rows import columns, csv_bytes

FORMS = ("text", "csv")

HEADER = (
    "kind", "name", "gauge", "continuous A", "peak A", "before V", "continuous V", "peak V", "lowest V",
    "drop continuous V", "drop peak V", "watts at peak", "missing",
)  # fmt: skip
LEAST = 0.001
"""Amperes below which a piece is left out."""
_ORDER = {"wire": 0, "contact": 1, "splice": 2, "breaker": 3, "bond": 4}


def render(job: Job, form: str) -> bytes:
    """The volts sheet of a job as ``text`` or ``csv``."""
    net = wiring(job.subject)
    if form == "csv":
        loads = [_load_cells(net, consumer) for consumer in net.consumers]
        return csv_bytes(HEADER, [*loads, *(_piece_cells(*piece) for piece in _pieces(net))])
    return "\n".join(quoted(line) for line in _text(job.subject, net)).encode("utf-8") + b"\n"


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
        "load", consumer.name, "", _number(_amps(net, consumer, "steady")), _number(watts),
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
        watts = sum(two**2 * (element.ohms or 0.0) for _, two, element in parts)
        listed.append((kind, name, str(wire.gauge) if wire else "", one, two, lost, most_lost, watts))
    listed.sort(key=lambda each: (_ORDER[each[0]], each[1]))
    return listed


def _piece_cells(
    kind: str, name: str, gauge: str, one: float, two: float, lost: float, most: float, watts: float
) -> list[str]:
    cells = [kind, name, gauge, _number(one), _number(two), "", "", "", ""]
    return [*cells, _number(lost), _number(most), _number(watts), ""]


def _text(harness: Harness, net: Wiring) -> Iterator[str]:
    yield f"VOLTS SHEET   {harness.title}   revision {harness.revision or 'not stated'}"
    if harness.note:
        yield harness.note
    yield ""
    if not net.consumers:
        yield "No load is stated: give load: at circuits and current: at the pins of the equipment."
    yield from _collapsed(net)
    if net.consumers:
        yield "LOADS"
        yield from (f"  {line}" for line in _loads(net))
        yield from _worst(net)
        yield from _carried(net)
    yield from _missing(net)
    yield from _footer(harness, net)


def _collapsed(net: Wiring) -> Iterator[str]:
    """The loads whose supply collapses, each with the state that does it; the answers of other feeds stand."""
    by: dict[tuple[str, str], list[str]] = {}
    for consumer in net.consumers:
        for mode, words in (("steady", "continuous"), ("most", "every load at its peak")):
            if failed := net.failed(consumer, net.flow(mode)):
                by.setdefault((words, failed), []).append(consumer.name)
                break
    for (words, failed), names in by.items():
        yield f"NO SOLUTION for {', '.join(names)} ({words}): {failed}"
    if by:
        yield "In a return that they share with other loads their stated current is counted; their feeds are left out."
        yield ""


def _loads(net: Wiring) -> list[str]:
    table = [["load", "bus", "A", "peak A", "before V", "V", "V at peak", "lowest V", "lost V", "lost at peak"]]
    for consumer in net.consumers:
        cells = _load_cells(net, consumer)
        shown = [cell or "-" for cell in (cells[3], cells[4], *cells[5:9], cells[9], cells[10])]
        table.append([consumer.name, ",".join(net.buses(consumer)) or "-", *shown])
    return columns(table, frozenset(range(2, 10)))


def _worst(net: Wiring) -> Iterator[str]:
    seen = [(low, c.name) for c in net.consumers if (low := _lowest(net, c)) is not None]
    drops = [
        (nominal - most, c.name)
        for c in net.consumers
        if (most := net.across(c, "most")) is not None and (nominal := net.nominal(c)) is not None
    ]
    if drops:
        lost, name = max(drops)
        yield f"  worst drop: {lost:.2f} V at {name}, every load at its peak"
    if seen:
        low, name = min(seen)
        yield f"  lowest volts: {low:.2f} V at {name}, every load at its peak and the bus at its lowest"


def _carried(net: Wiring) -> Iterator[str]:
    table = [["piece", "name", "gauge", "A", "peak A", "lost V", "lost at peak", "W at peak"]]
    for kind, name, gauge, one, two, lost, most, watts in _pieces(net):
        table.append([kind, name, gauge, *(_number(v) for v in (one, two, lost, most, watts))])
    yield ""
    yield "WHAT CARRIES CURRENT"
    yield from (f"  {line}" for line in columns(table, frozenset(range(3, 8))))


def _missing(net: Wiring) -> Iterator[str]:
    by_gap: dict[Gap, list[str]] = {}
    for consumer in net.consumers:
        for gap in net.gaps(consumer):
            by_gap.setdefault(gap, []).append(consumer.name)
    if by_gap:
        yield ""
        yield "NOT COMPUTED"
        for gap, names in by_gap.items():
            yield f"  {', '.join(names)}: {gap.missing}; {gap.remedy}"


def _footer(harness: Harness, net: Wiring) -> Iterator[str]:
    yield ""
    zero = [b.ref for b in harness.breakers.values() if b.resistance is None]
    bonds = [g.ref for g in harness.grounds.values() if g.bond is None]
    if net.consumers:
        yield "Counted without anybody having said it:"
        yield f"  contacts and splices of unknown resistance: {CONTACT_SOURCE}; {SPLICE_SOURCE}"
        yield "  wires as hot as the hottest zone they touch, 20 C where none is stated; their own heat is not added"
        yield "  loads that state no kind draw constant power; existing loads that state no peak never draw more"
        if zero:
            yield f"  breakers without resistance: {', '.join(zero)}"
        if bonds:
            yield f"  studs without resistance to the generator: {', '.join(bonds)}"
    decided = decisions(harness)
    if decided:
        yield "Decided in writing for this job:"
        yield from (f"  {line}" for line in decided)
    yield "Wire resistance from AC 43.13-1B Table 11-9, hot by p. 11-22, unless the drawer knows the wire."
    yield ""
    yield from CAUTIONS
