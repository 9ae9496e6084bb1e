"""An independent model of the copper: edges from the records of a harness, faults as edits of edges, networkx for what
is joined. Nothing of ``harnesscheck.ringout`` is used here but the readings under test, as plain points.

The universe is the one that ``ringout/universe.py`` states in words, written down a second time.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import combinations
from typing import Any

import networkx as nx

from harnesscheck.connector import Origin
from harnesscheck.harness import Harness
from harnesscheck.place import Point

ROWS = {"DE-9": (5, 4), "DA-15": (8, 7), "DB-25": (13, 12), "DC-37": (19, 18)}
"""D-sub rows: common knowledge of the trade."""
BARE = Point("bare structure")


@dataclass
class Copper:
    """Named edges between nodes; ``probes`` are the points that a test lead reaches."""

    edges: list[tuple[str, str, Any, Any]] = field(default_factory=list)
    """Kind, name, and the two nodes."""
    probes: list[Point] = field(default_factory=list)
    halves: dict[str, list[str]] = field(default_factory=dict)
    """Connectors that a probe reaches, and all their cavity names in the order of the insert."""
    wired: set[Point] = field(default_factory=set)
    inserts: dict[str, str] = field(default_factory=dict)

    def graph(self) -> nx.Graph[Any]:
        """Everything that is joined."""
        graph: nx.Graph[Any] = nx.Graph()
        graph.add_nodes_from(self.probes)
        graph.add_edges_from((a, b) for _, _, a, b in self.edges)
        return graph


def parts(graph: nx.Graph[Any]) -> dict[Any, int]:
    """Number of the piece of copper of every node."""
    return {node: n for n, nodes in enumerate(nx.connected_components(graph)) for node in nodes}


def of(harness: Harness, probes: tuple[Point, ...], bench: bool, whole: bool = False) -> Copper:
    """The copper of an article. On the bench every end that is not the kit's own hangs free.

    ``whole``: an airframe without a kit, of which everything is under test.
    """
    found = Copper(probes=list(probes))
    reached = set(probes)
    ends: dict[Point, list[str]] = {}
    for wire in harness.wires.values():
        for end in {wire.a, wire.b}:
            ends.setdefault(end, []).append(wire.id)
    for wire in harness.wires.values():
        nodes: list[Any] = []
        for end in (wire.a, wire.b):
            splice = harness.splices.get(end.ref)
            own = end.ref in harness.connectors or end.ref in harness.grounds
            free = bench and end.ref and (splice.fitted != "bench" if splice else not own)
            if free:
                alone = len(ends[end]) == 1
                nodes.append(end if alone else Point(end.ref, f"{end.cavity} (end of {wire.id})".strip()))
            elif splice:
                nodes.append(("leg", end, wire.id, len(nodes)))
                found.edges.append(("splice", f"{end} {wire.id}", end, nodes[-1]))
            elif end in reached and end.ref in harness.connectors:
                nodes.append(("rear", end))
            else:
                nodes.append(end)
        found.edges.append(("wire", wire.id, nodes[0], nodes[1]))
    for point in probes:
        if harness.cavity(point) is not None:
            found.edges.append(("contact", str(point), point, ("rear", point)))
            connector = harness.connectors[point.ref]
            found.halves[point.ref] = list(connector.cavities)
            found.inserts[point.ref] = connector.says("insert") or ""
            if point in ends:
                found.wired.add(point)
    for a, b in harness.mated_points:
        found.edges.append(("contact", f"{a}/{b}", a, b))
    return found if bench else _grounded(found, harness, ends, whole)


def _grounded(found: Copper, harness: Harness, ends: dict[Point, list[str]], whole: bool) -> Copper:
    """Studs and grounded cavities that the kit or a probe reaches lead on to the structure."""
    part = parts(found.graph())
    new = [end for wire in harness.wires.values() if wire.origin is Origin.JUMPER for end in (wire.a, wire.b)]
    touched = {part[p] for p in (*found.probes, *new, *(part if whole else ())) if p != BARE and p in part}
    for ref in harness.grounds:
        if part.get(Point(ref)) in touched:
            found.edges.append(("bond", ref, Point(ref), BARE))
    for _, cavity in harness.cavities():
        if cavity.grounded and cavity.point not in ends and part.get(cavity.point) in touched:
            node = ("rear", cavity.point) if cavity.point in found.probes else cavity.point
            found.edges.append(("ground lead", str(cavity.point), node, BARE))
    return found


def bench_probes(jumper: Harness) -> set[Point]:
    """What a probe reaches on the bench, from the meaning of the files: contacts, studs of the kit, free ends."""
    ends: dict[Point, list[str]] = {}
    for wire in jumper.wires.values():
        for end in {wire.a, wire.b}:
            ends.setdefault(end, []).append(wire.id)
    found = {Point(ref) for ref in jumper.grounds}
    for _, cavity in jumper.cavities():
        if cavity.contact != "none" and (cavity.contact is not None or cavity.point in ends):
            found.add(cavity.point)
    for end, wires in ends.items():
        splice = jumper.splices.get(end.ref)
        own = end.ref in jumper.connectors or end.ref in jumper.grounds
        if end.ref and (splice.fitted != "bench" if splice else not own):
            many = [Point(end.ref, f"{end.cavity} (end of {name})".strip()) for name in wires]
            found |= {end} if len(wires) == 1 else set(many)
    return found


Case = tuple[str, str, "nx.Graph[Any]"]


def cases(copper: Copper, touched: set[int] | None = None) -> Iterator[Case]:
    """Class, name and faulty graph of every case of the universe."""
    sound = copper.graph()
    part = parts(sound)
    nets: dict[int, list[Point]] = {}
    for point in copper.probes:
        nets.setdefault(part[point], []).append(point)
    for number, (kind, name, a, b) in enumerate(copper.edges):
        if part[a] not in nets:
            continue
        rest = copper.edges[:number] + copper.edges[number + 1 :]
        opened = Copper(rest, copper.probes).graph()
        opened.add_nodes_from((a, b))
        yield "open", f"{kind} {name}", opened
        for net, points in nets.items():
            if kind == "wire" and net != part[a]:
                worse = opened.copy()
                worse.add_edge(a, points[0])
                yield "open and short", name, worse
    for one, two in combinations(nets.values(), 2):
        shorted = sound.copy()
        shorted.add_edge(one[0], two[0])
        yield "short", f"{one[0]} {two[0]}", shorted
    for ref, names in copper.halves.items():
        for one, two in combinations([p for p in copper.probes if p.ref == ref and p in copper.wired], 2):
            yield "swap", f"{one} {two}", _moved(copper, {one: two, two: one})
        yield from _shifts(copper, ref, names)
        rows = ROWS.get(copper.inserts[ref])
        if rows:
            first, second = rows
            other = {str(k): str(first + 1 - k) for k in range(1, first + 1)}
            other |= {str(first + k): str(first + second + 1 - k) for k in range(1, second + 1)}
            yield "mirror", ref, _moved(copper, {Point(ref, a): Point(ref, b) for a, b in other.items() if a != b})


def _shifts(copper: Copper, ref: str, names: list[str]) -> Iterator[Case]:
    for way in (names, names[::-1]):
        for start, name in enumerate(way):
            if Point(ref, name) not in copper.wired:
                continue
            run = start
            while run < len(way) and Point(ref, way[run]) in copper.wired:
                run += 1
            to: dict[Point, Point | None] = {}
            for here in range(start, run):
                to[Point(ref, way[here])] = Point(ref, way[here + 1]) if here + 1 < len(way) else None
            yield "shift", f"{ref} from {name}", _moved(copper, to)


def _moved(copper: Copper, to: dict[Point, Point] | dict[Point, Point | None]) -> nx.Graph[Any]:
    """Wires taken out of their contact and put into another one; None: into nothing."""
    reached = set(copper.probes)
    edges = []
    for kind, name, a, b in copper.edges:
        if kind == "contact" and isinstance(b, tuple) and b == ("rear", a) and a in copper.wired and a in to:
            there = to[a]
            if there is not None and there in reached:
                edges.append((kind, name, there, b))
        else:
            edges.append((kind, name, a, b))
    return Copper(edges, copper.probes).graph()


def refused(part: dict[Any, int], readings: list[tuple[str, tuple[Point, ...], tuple[Point, ...]]]) -> bool:
    """True when some reading comes out wrong: a continuity reading that is open, an isolation reading that is not."""
    for kind, a, b in readings:
        joined = bool({part[p] for p in a} & {part[p] for p in b})
        if joined != (kind == "continuity"):
            return True
    return False


def at_probes(part: dict[Any, int], probes: list[Point]) -> frozenset[frozenset[Point]]:
    """How the probes are joined: what any reading whatever can find out."""
    found: dict[int, set[Point]] = {}
    for point in probes:
        found.setdefault(part[point], set()).add(point)
    return frozenset(frozenset(points) for points in found.values())
