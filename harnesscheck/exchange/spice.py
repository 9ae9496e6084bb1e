"""The DC model of the supply wiring as a SPICE netlist."""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.electrics.network import Load
from harnesscheck.electrics.wiring import Flow, Wiring, wiring
from harnesscheck.job import Job
from harnesscheck.paper.cautions import CAUTIONS

SUFFIX = ".cir"
ABOUT = "DC model as a SPICE netlist: every load on, sources at nominal volts"

MODE, LEVEL = "on", "nominal"
FLOOR = 0.6
"""Share of the volts that a load of constant power sees, below which it keeps its current: a solver passes through
there on its way, and 1/v would throw it off. Common practice."""


def write(job: Job) -> bytes:
    """Netlist with nodes ``n1``, ``n2`` ...; a remark above each element says what it is. Ohms, volts, amperes, watts.

    Node 0 is the structure of the aircraft. What has no place in the model (a wire of unknown length, a load without a
    way back, copper that no source feeds) stands in it as a remark, so that nothing is missing without a word.
    """
    lines = (line.replace("\n", " ") for line in _lines(job, wiring(job.subject)))
    return ("\n".join(lines) + "\n").encode("utf-8")


def _lines(job: Job, model: Wiring) -> Iterator[str]:
    harness = job.subject
    yield f"{harness.title}, DC model by harnesscheck"  # the first line of a netlist is its title, whatever it says
    yield from (f"* {text}" for text in (*CAUTIONS, *(f"counted without being stated: {one}" for one in model.assumed)))
    yield "* every load draws its current; sources at nominal volts; node 0 is the structure of the aircraft"
    yield "* breakers of unknown resistance and studs of unknown bond count as 0 ohm"
    flow = model.flow(MODE, LEVEL)
    count, _, _, loads, fixed = model.state(MODE, LEVEL)
    if not model.consumers:
        yield "* no load is known, so there is nothing to solve"
    yield ".options reltol=1e-10 abstol=1e-13 vntol=1e-11 itl1=500"
    joined = _Joined(max(count, len(model.index)), fixed)
    names = {node: str(point) for point, node in model.index.items()}
    for node, name in sorted(names.items()):
        if node:
            yield f"* n{node} is {name}"
    for node, volts in sorted(fixed.items()):
        if node:
            what = names.get(node) or "the unknown supply of a load, so that its return current counts"
            yield f"* source: {what}"
            yield f"V{node} n{node} 0 DC {volts!r}"
    dead = {node for node, volts in enumerate(flow.volts) if volts is None}
    for number, element in enumerate(model.elements):
        said = f"* {element.kind} {element.name}: {names[element.a]} to {names[element.b]}"
        if element.ohms is None:
            yield f"{said}; not in the model: {element.gap.missing if element.gap else 'unknown'}"
            continue
        ohms = element.ohms
        a, b = _node(element.a), _node(element.b)
        if element.a in dead or not flow.volts:
            yield f"{said}; not in the model: no source feeds it"
        elif ohms:
            yield said
            yield f"R{number} {a} {b} {ohms!r}"
        elif joined.join(element.a, element.b):
            yield f"{said}; 0 ohm"
            yield f"VJ{number} {a} {b} DC 0"
        else:
            yield f"{said}; 0 ohm beside another joint of 0 ohm, left out"
    for number, (consumer, load) in enumerate(zip(model.consumers, loads, strict=True)):
        yield from _of_load(model, flow, number, consumer.name, load, dead)
    yield ".op"
    yield ".end"


def _of_load(model: Wiring, flow: Flow, number: int, name: str, load: Load, dead: set[int]) -> Iterator[str]:
    consumer = model.consumers[number]
    gaps = "; ".join(gap.missing for gap in model.gaps(consumer))
    said = f"* load {name}, constant {load.kind}" + (f"; not known: {gaps}" if gaps else "")
    failed = model.failed(consumer, flow)
    if failed or load.a in dead or load.b in dead or not flow.volts:
        yield f"{said}; not in the model: {failed or 'no source feeds it'}"
        return
    a, b = _node(load.a), _node(load.b)
    yield said
    if load.kind == "current":
        yield f"I{number} {a} {b} DC {load.value!r}"
    elif load.kind == "resistance":
        yield f"RL{number} {a} {b} {load.value!r}"
    else:
        floor = FLOOR * ((flow.volts[load.a] or 0.0) - (flow.volts[load.b] or 0.0))
        yield f"* constant power; below {floor:.6g} V, which it never sees here, it would keep its current"
        yield f"B{number} {a} {b} I={load.value!r}/max(v({a},{b}),{floor!r})"


def _node(node: int) -> str:
    return f"n{node}" if node else "0"


class _Joined:
    """Which nodes hang together without resistance: a ring of such joints has no solution in SPICE."""

    def __init__(self, count: int, fixed: dict[int, float]) -> None:
        self.parent = list(range(count))
        for node in fixed:
            self.parent[node] = 0  # sources fix their nodes against node 0

    def _root(self, node: int) -> int:
        while self.parent[node] != node:
            self.parent[node] = node = self.parent[self.parent[node]]
        return node

    def join(self, a: int, b: int) -> bool:
        """Join two nodes; False when they hang together already."""
        one, two = sorted((self._root(a), self._root(b)))
        self.parent[two] = one
        return one != two
