"""A plant of its own: wiring as a graph of resistors, with a fault built in by hand, read by a simulated meter.

``bench`` is the kit alone; ``in_place.py`` has the aircraft with the kit in, and the aircraft alone.

It is made from the harness records alone and shares nothing with the program's networks and predictions: a fault is
what its kind and places say in words, and resistances are solved with numpy's pseudo-inverse of the Laplacian.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from random import Random

import networkx as nx
import numpy as np

from harnesscheck.connector import Origin
from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.place import Point
from harnesscheck.ringout.reading import Reading
from harnesscheck.trouble.faults import Trouble
from harnesscheck.wire import Wire

OPEN = math.inf
PER_METRE = {26: 0.137, 24: 0.086, 22: 0.053, 20: 0.0324, 18: 0.0204, 16: 0.0158, 14: 0.0100, 12: 0.0066, 10: 0.0041}
"""Ohms a metre by AWG, tinned copper as aircraft wire has it (from memory)."""


def copper(wire: Wire) -> float:
    """Ohms of a wire; half a metre of 22 AWG where no file says."""
    number = wire.gauge.awg if wire.gauge is not None else 22
    return PER_METRE.get(number or 22, 0.004) * (0.5 if wire.length is None else wire.length)


@dataclass
class Plant:
    """Resistors by key: (end, end, ohms). An end is any hashable; the face of a cavity is its ``Point``."""

    parts: dict[object, tuple[object, object, float]] = field(default_factory=dict)
    mates: dict[str, str] = field(default_factory=dict)
    """Halves that are mated."""
    hot: frozenset[object] = frozenset()
    """Parts that conduct only with the power on: closed breakers, and what holds a line at its volts."""
    held: dict[object, float] = field(default_factory=dict)
    """Volts of the nodes that supplies hold."""
    limits: dict[object, float] = field(default_factory=dict)
    """Amperes at which breakers open."""
    _kept: dict[object, float] | None = None

    def copy(self) -> Plant:
        return replace(self, parts=dict(self.parts), _kept=None)

    def face(self, point: Point) -> object:
        """What a contact that sits in a cavity touches: a probe, or the contact of the mated half."""
        other = self.mates.get(point.ref)
        return point if other is None else ("mate", *sorted((point.ref, other)), point.cavity)

    def reading(self, reading: Reading) -> float:
        """Ohms between the two groups of a reading, power off; or volts from the first to the second, power on."""
        if reading.kind == "volts":
            volts = self.volts()
            one, two = (volts.get(self.face(points[0])) for points in (reading.a, reading.b))
            return 0.0 if one is None or two is None else one - two  # a lead that hangs in the air reads nothing
        graph: nx.Graph = nx.Graph()
        name = dict.fromkeys(reading.a, "red") | dict.fromkeys(reading.b, "black")
        graph.add_nodes_from(("red", "black"))
        for key, (a, b, ohms) in self.parts.items():
            one, two = name.get(a, a), name.get(b, b)
            if key not in self.hot and one != two and not math.isinf(ohms):
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

    def volts(self) -> dict[object, float]:
        """Volts of every node that a supply reaches: Kirchhoff's current law, the held nodes given.

        What carries more than its ``limits`` has opened.
        """
        if self._kept is not None:
            return self._kept
        parts = {key: part for key, part in self.parts.items() if not math.isinf(part[2])}
        while True:
            graph: nx.Graph = nx.Graph([(a, b) for a, b, _ in parts.values()])
            graph.add_nodes_from(self.held)
            live = [n for nodes in nx.connected_components(graph) if nodes & self.held.keys() for n in nodes]
            place = {node: n for n, node in enumerate(live)}
            flow, right = np.zeros((len(live), len(live))), np.zeros(len(live))
            for a, b, ohms in parts.values():
                if a != b and a in place:
                    i, j, g = place[a], place[b], 1 / max(ohms, 1e-5)
                    flow[[i, j], [i, j]] += g
                    flow[[i, j], [j, i]] -= g
            for node, volts in self.held.items():
                flow[place[node]] = 0.0
                flow[place[node], place[node]], right[place[node]] = 1.0, volts
            found = dict(zip(live, np.linalg.solve(flow, right).tolist(), strict=True))
            over = {key: abs(found[parts[key][0]] - found[parts[key][1]]) / max(parts[key][2], 1e-5) / most
                    for key, most in self.limits.items() if key in parts and parts[key][0] in found}  # fmt: skip
            worst = max(over, key=over.__getitem__, default=None)
            if worst is None or over[worst] <= 1:
                self._kept = found
                return found
            del parts[worst]


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
        plant.parts["wire", wire.id] = (ends[0], ends[1], copper(wire))
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
            parts["contact", home] = (plant.face(there), rear, ohms)

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
        parts["short"] = (plant.face(at[0]), plant.face(at[1]), chance.uniform(0.005, 0.2))
    elif kind == "line loaded":
        ground = next(p for p in faces(plant) if grounds(job, p))
        parts["load"] = (
            plant.face(at[0]),
            plant.face(ground),
            math.exp(chance.uniform(math.log(30.0), math.log(20000.0))),
        )
    elif kind in ("swapped contacts", "pair exchanged"):
        seat({at[0]: at[1], at[1]: at[0]})
    elif kind == "wrong cavity":
        seat({at[0]: at[1]})
    elif kind == "terminator extra":
        parts["terminator"] = (plant.face(at[0]), plant.face(at[1]), chance.gauss(120.0, 1.2))
    elif kind == "terminator missing":
        named = re.fullmatch(r"terminator of (.+) beyond (\S+) is missing", trouble.says)
        assert named
        del parts["terminator", named[1], named[2]]
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


def metered(ohms: float, chance: Random, hot: bool = False) -> float:
    """What a meter shows: leads of up to 0.3 ohm, 1 % off, tenths of an ohm; open above 40 Mohm. Volts: 0.05 V off."""
    if hot:
        return round(ohms + chance.gauss(0.0, 0.05), 2)
    if ohms > 40e6:
        return OPEN
    return round(ohms * chance.gauss(1.0, 0.005) + chance.uniform(0.05, 0.25), 2)


def alike(one: list[float], two: list[float], readings: Sequence[Reading] = ()) -> bool:
    """True when a meter with leads cannot tell two sets of readings apart; volts: 0.4 V."""
    kinds = [r.kind for r in readings] or [""] * len(one)
    return all(
        abs(a - b) <= 0.4 if kind == "volts"
        else (a > 1e6) == (b > 1e6) and (a > 1e6 or abs(a - b) <= 0.4 + 0.03 * max(a, b))
        for a, b, kind in zip(one, two, kinds, strict=True)
    )  # fmt: skip
