"""A plant of its own: the harness as a graph of resistors, with a fault built in by hand, read by a simulated meter.

It is made from the harness records alone and shares nothing with the program's networks and predictions: a fault is
what its kind and places say in words, and resistances are solved with numpy's pseudo-inverse of the Laplacian.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from random import Random

import networkx as nx
import numpy as np

from harnesscheck.connector import Origin
from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.place import Point
from harnesscheck.ringout.reading import Reading
from harnesscheck.trouble.faults import Trouble

OPEN = math.inf


@dataclass
class Plant:
    """Resistors by key: (end, end, ohms). An end is any hashable; the face of a cavity is its ``Point``."""

    parts: dict[object, tuple[object, object, float]] = field(default_factory=dict)

    def copy(self) -> Plant:
        return Plant(dict(self.parts))

    def reading(self, reading: Reading) -> float:
        """Ohms between the two groups of a reading."""
        graph: nx.Graph = nx.Graph()
        name = dict.fromkeys(reading.a, "red") | dict.fromkeys(reading.b, "black")
        graph.add_nodes_from(("red", "black"))
        for a, b, ohms in self.parts.values():
            one, two = name.get(a, a), name.get(b, b)
            if one != two and not math.isinf(ohms):
                more = graph[one][two]["g"] if graph.has_edge(one, two) else 0.0
                graph.add_edge(one, two, g=more + 1 / max(ohms, 1e-6))
        if not nx.has_path(graph, "red", "black"):
            return OPEN
        nodes = list(nx.node_connected_component(graph, "red"))
        place = {node: n for n, node in enumerate(nodes)}
        laplacian = np.zeros((len(nodes), len(nodes)))
        for a, b, said in graph.subgraph(nodes).edges(data=True):
            i, j = place[a], place[b]
            laplacian[i, i] += said["g"]
            laplacian[j, j] += said["g"]
            laplacian[i, j] -= said["g"]
            laplacian[j, i] -= said["g"]
        put = np.zeros(len(nodes))
        put[place["red"]], put[place["black"]] = 1.0, -1.0
        return float(put @ np.linalg.pinv(laplacian) @ put)


def bench(jumper: Harness) -> Plant:
    """The kit alone: face, contact, wire, splice leg."""
    plant = Plant()
    for ref, half in jumper.connectors.items():
        if half.origin is Origin.JUMPER:
            for name in half.cavities:
                plant.parts["contact", Point(ref, name)] = (Point(ref, name), ("rear", ref, name), 0.008)
    for wire in jumper.wires.values():
        ends: list[object] = []
        for end in (wire.a, wire.b):
            if end.ref in jumper.connectors:
                ends.append(("rear", end.ref, end.cavity))
            elif end.ref in jumper.splices:
                ends.append(("leg", end.ref, wire.id))
                plant.parts["leg", end.ref, wire.id] = (("splice", end.ref), ("leg", end.ref, wire.id), 0.001)
            else:
                ends.append(end)
        # 22 AWG: 16.2 ohm a 1000 ft (from memory), 0.053 ohm/m; the gauge hardly matters to a meter with leads.
        plant.parts["wire", wire.id] = (ends[0], ends[1], 0.053 * (wire.length or 0.5))
    return plant


def broken(job: Job, plant: Plant, trouble: Trouble, chance: Random) -> Plant:
    """The plant with a fault, as its kind and places say. Raises ``KeyError`` for a kind it does not know."""
    out = plant.copy()
    parts, at = out.parts, trouble.points

    def raised(key: object, ohms: float) -> None:
        a, b, was = parts[key]
        parts[key] = (a, b, was + ohms)

    def seat(moves: dict[Point, Point]) -> None:
        """Contacts in other cavities: what is at the rear of one comes out at the face of another."""
        for home, there in moves.items():
            _, rear, ohms = plant.parts["contact", home]
            parts["contact", home] = (there, rear, ohms)

    kind = trouble.kind
    if kind in ("contact open", "ground contact open"):
        raised(("contact", at[0]), OPEN)
    elif kind == "high resistance":
        raised(("contact", at[0]), math.exp(chance.uniform(math.log(1.0), math.log(300.0))))
    elif kind == "wire open":
        raised(("wire", trouble.wires[0]), OPEN)
    elif kind == "splice leg open":
        raised(("leg", at[0].ref, trouble.wires[0]), OPEN)
    elif kind in ("short between neighbours", "short to ground", "short to power"):
        parts["short"] = (at[0], at[1], chance.uniform(0.005, 0.2))
    elif kind == "line loaded":
        ground = next(p for p in faces(plant) if grounds(job, p))
        parts["load"] = (at[0], ground, math.exp(chance.uniform(math.log(30.0), math.log(20000.0))))
    elif kind in ("swapped contacts", "pair exchanged"):
        seat({at[0]: at[1], at[1]: at[0]})
    elif kind == "wrong cavity":
        seat({at[0]: at[1]})
    elif kind == "terminator extra":
        parts["terminator"] = (at[0], at[1], chance.gauss(120.0, 1.2))
    elif kind == "shifted row":
        ref, names = at[0].ref, [p.cavity for p in at]
        order = list(job.subject.connectors[ref].names or ())
        step = 1 if len(names) < 2 or order.index(names[1]) - order.index(names[0]) in (1, 1 - len(order)) else -1
        seat({p: Point(ref, order[(order.index(p.cavity) + step) % len(order)]) for p in at})
    elif kind == "mirrored":
        ref = at[0].ref
        order = list(job.subject.connectors[ref].names or ())
        rows, done = _rows(order), 0
        table = {}
        for count in rows:
            row = order[done : done + count]
            table.update(zip(row, reversed(row), strict=True))
            done += count
        seat({p: Point(ref, table[p.cavity]) for p in at})
    elif kind == "wrong way round":
        one, two = dict.fromkeys(p.ref for p in at)
        seat({p: Point(two if p.ref == one else one, p.cavity) for p in at})
    else:
        raise KeyError(kind)
    return out


def _rows(order: list[str]) -> list[int]:
    """Rows of a D-sub: two as a rule, three in a 50-way (layouts of the shells, from memory)."""
    table = {9: [5, 4], 15: [8, 7], 25: [13, 12], 37: [19, 18], 50: [17, 16, 17]}
    if len(order) not in table or order != [str(n) for n in range(1, len(order) + 1)]:
        raise KeyError("mirror of a face that the plant does not know")
    return table[len(order)]


def faces(plant: Plant) -> list[Point]:
    """Every cavity."""
    return [key[1] for key in plant.parts if isinstance(key, tuple) and key[0] == "contact"]


def grounds(job: Job, point: Point) -> bool:
    """True when the aircraft's circuit at a cavity is a supply return."""
    for cavity_point in (point, *(step.end for step in job.subject.trace(point))):
        cavity = job.subject.cavity(cavity_point)
        circuit = job.subject.circuits.get(cavity.circuit or "") if cavity else None
        if circuit is not None:
            return circuit.signal == "ground"
    return False


def metered(ohms: float, chance: Random) -> float:
    """What a meter shows: leads of up to 0.3 ohm, 1 % off, tenths of an ohm; open above 40 Mohm."""
    if ohms > 40e6:
        return OPEN
    return round(ohms * chance.gauss(1.0, 0.005) + chance.uniform(0.05, 0.25), 2)


def alike(one: list[float], two: list[float]) -> bool:
    """True when a meter with leads cannot tell two sets of readings apart."""
    return all(
        (a > 1e6) == (b > 1e6) and (a > 1e6 or abs(a - b) <= 0.4 + 0.03 * max(a, b))
        for a, b in zip(one, two, strict=True)
    )
