"""Volts at every pin of the new plug before it is mated: what the supply gives there, and what must be nothing.

The installed wiring is solved with the loads that are known and without the new unit: lowest bus with every load at its
peak, highest bus with none. Where a load or a length is missing there is no lower limit, and the reading says why.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from harnesscheck.connector import Origin
from harnesscheck.device import Pin
from harnesscheck.electrics.consumers import Consumer, is_supply
from harnesscheck.electrics.wiring import Wiring, wiring
from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.place import Point
from harnesscheck.ringout.article import Article, article
from harnesscheck.ringout.link import STRUCTURE
from harnesscheck.ringout.reading import Reading, limit
from harnesscheck.source import Source, Status

MARGIN = 0.1
"""Volts that a hand-held meter, its leads and a ground lead may be off."""
MARGIN_SOURCE = Source("", Status.COMMON, paragraph="0.1 V for meter, leads and ground lead")
CAN_IDLE = (2.0, 3.0)
"""Volts of both conductors to structure while nobody sends, where the units hold the bus at half of 5 V."""
CAN_IDLE_SOURCE = Source("ISO 11898-2", Status.MEMORY, paragraph="recessive level 2.0 to 3.0 V; traffic moves the mean")


def plugs(job: Job) -> list[tuple[str, str]]:
    """The kit's halves that new units are plugged into, each with the half of the unit."""
    harness = job.subject
    found = []
    for ref, half in harness.connectors.items():
        other = harness.mate_of(ref)
        box = harness.connectors.get(other or "")
        if half.origin is Origin.JUMPER and box is not None and box.origin is Origin.EQUIPMENT:
            found.append((ref, box.ref))
    return found


def volts(job: Job) -> list[Reading]:
    """One reading for each pin of each new plug, unmated, breakers closed. Empty for a job without a kit."""
    if job.jumper is None or job.airframe is None:
        return []
    under = article(job, "installed")
    net = wiring(replace(under.harness, devices={}))
    found: list[Reading] = []
    for ref, box in plugs(job):
        for point in under.terminals:
            if point.ref == ref:
                pin = next((p for p in job.subject.pins() if p.point == Point(box, point.cavity)), None)
                found.append(_reading(under, net, point, ref, pin, len(found) + 1))
    return found


def _reading(under: Article, net: Wiring, point: Point, ref: str, pin: Pin | None, number: int) -> Reading:
    back = STRUCTURE
    if pin is not None and is_supply(pin) and pin.returns is not None:
        back = Point(ref, pin.returns.cavity)
    expected, low, high, why, unknown = _expected(under, net, point, pin)
    function = pin.function if pin is not None else "no pin of the unit"
    return Reading(
        id=f"IV{number}", article="installed", kind="volts", a=(point,), b=(back,), expected=expected,
        low=limit(low, "V", False), high=limit(high, "V", True), unit="V",
        why=f"{function}: {why}" if why else function, unknown=unknown,
    )  # fmt: skip


Expected = tuple[float | None, float | None, float | None, str, str]


def _expected(under: Article, net: Wiring, point: Point, pin: Pin | None) -> Expected:
    harness, own = under.harness, under.labels[point]
    nothing: tuple[float, float, float] = (0.0, -MARGIN, MARGIN)
    if own == under.labels[STRUCTURE]:
        return (*nothing, "on the structure", "")
    if not harness.wires_at(point):
        return (*nothing, "no wire", "")
    fed = [ref for ref in harness.breakers if under.labels.get(Point(ref, "load")) == own]
    circuit = under.circuit(under.net_of[point])
    if fed:
        return _supplied(net, point, fed[0], circuit)
    known = [harness.circuits[name] for name in circuit.split(", ") if name in harness.circuits]
    kind = next((c for c in known if c.signal), None)
    if kind is None:
        if pin is not None and not pin.connect:
            return (*nothing, "nothing may be connected", "")
        spare = circuit == "spare"
        return (*nothing, circuit, "") if spare else (None, None, None, circuit, "its circuit is not stated")
    if kind.signal == "can":
        return (sum(CAN_IDLE) / 2, *CAN_IDLE, f"{circuit}, bus awake and quiet", "")
    if kind.signal in ("power", "lighting"):
        breaker = harness.breakers.get(kind.breaker or "")
        bus = breaker.bus if breaker is not None else None
        high = net.bus_volts(bus, "high") if bus is not None and bus in harness.buses else None
        why = f"the wire from {kind.breaker or 'its breaker'} is not listed, so its drop is not computed"
        return (kind.supply, None, None if high is None else high + MARGIN, circuit, why)
    if kind.signal in ("ground", "shield"):
        return (0.0, -MARGIN, MARGIN, f"{circuit}, a return", "")
    return (None, None, None, circuit, f"a {kind.signal} line depends on what its units do: write the value down")


def _supplied(net: Wiring, point: Point, breaker: str, circuit: str) -> Expected:
    """A pin fed from a listed breaker."""
    harness: Harness = net.harness
    bus = harness.breakers[breaker].bus
    why = f"{circuit or 'supply'} from {breaker}"
    if bus is None or bus not in harness.buses:
        return (None, None, None, why, f"the bus of {breaker} is not stated")
    nominal, lowest, highest = (net.bus_volts(bus, level) for level in ("nominal", "low", "high"))
    if nominal is None:
        return (None, None, None, why, f"the volts of {bus} are not stated")
    high = None if highest is None else highest + MARGIN
    if not net.consumers:
        return (nominal, None if lowest is None else lowest - MARGIN, high, why, "")
    place = harness.connectors[point.ref].place
    probe = Consumer(str(point), place, point, None, "current", 0.0, None, "continuous")
    missing = net.supply_gaps(probe)
    if missing:
        return (nominal, None, high, why, f"{missing[0].missing}, so the drop is not computed")
    node = net.index[point]
    seen = [_at(net, node, mode, level) for mode, level in (("on", "nominal"), ("most", "low"))]
    low = None if lowest is None or seen[1] is None else seen[1] - MARGIN
    return (seen[0], low, high, why, "" if lowest is not None else f"the lowest volts of {bus} are not stated")


def _at(net: Wiring, node: int, mode: str, level: str) -> float | None:
    flow = net.flow(mode, level)
    return flow.volts[node] if flow.volts and not flow.failed else None


def breakers(job: Job) -> Iterator[str]:
    """The breakers that feed what the kit touches, in file order: pulled first, closed one by one."""
    under = article(job, "installed")
    touched = {under.labels[p] for p in under.terminals}
    named = {c.breaker for n in range(len(under.nets)) for name in under.circuit(n).split(", ")
             if (c := under.harness.circuits.get(name)) is not None}  # fmt: skip
    inside = {under.labels[link.a] for link in under.links}
    for ref in under.harness.breakers:
        label = under.labels.get(Point(ref, "load"))
        if ref in named or (label is not None and label in touched | inside):
            yield ref
