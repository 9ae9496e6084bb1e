"""Nets and traces against independent graph libraries, on random harnesses built through the model.

Oracles: ``scipy.sparse.csgraph.connected_components`` (compressed adjacency matrix, another algorithm in another
language) and ``networkx.connected_components``. The joins are written out here from the model's records, not taken from
the product's own list of joins.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Any

import networkx
import numpy
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from harnesscheck.circuit import label_components
from harnesscheck.connector import Cavity, Connector, Mate, Origin
from harnesscheck.device import Breaker, Bus
from harnesscheck.harness import Harness, Kind
from harnesscheck.parts import open_drawer
from harnesscheck.place import Place, Point
from harnesscheck.splice import Ground, Splice
from harnesscheck.wire import Wire

NOWHERE = Place("test")
NAMES = ("1", "2", "3", "A", "a", "+28V", "1-2")
REFS = ("P1", "J1", "P2", "J2", "P3", "J3")
SINGLE = ("SP1", "SP2", "GS1", "BUS1")


def partition(things: Sequence[Any], labels: Iterable[int]) -> frozenset[frozenset[Any]]:
    """Labels as a partition: which number a group has is of no meaning."""
    groups: dict[int, set[Any]] = {}
    for thing, label in zip(things, labels, strict=True):
        groups.setdefault(int(label), set()).add(thing)
    return frozenset(frozenset(group) for group in groups.values())


def components(count: int, joins: Sequence[tuple[int, int]]) -> list[int]:
    """The oracle."""
    starts, ends = [a for a, _ in joins], [b for _, b in joins]
    matrix = coo_array((numpy.ones(len(joins)), (starts, ends)), shape=(count, count))
    return [int(label) for label in connected_components(matrix, directed=False)[1]]


@settings(max_examples=1000)
@given(data=st.data(), count=st.integers(1, 40))
def test_label_components(data: st.DataObject, count: int) -> None:
    point = st.integers(0, count - 1)
    joins = data.draw(st.lists(st.tuples(point, point), max_size=60))
    labels = label_components(count, [a for a, _ in joins], [b for _, b in joins])
    assert partition(range(count), labels) == partition(range(count), components(count, joins))
    # The promise of the docstring: numbers 0, 1, 2 ... in order of the first point.
    firsts = list(dict.fromkeys(labels))
    assert firsts == list(range(len(firsts)))


def test_label_components_of_long_chains_and_stars() -> None:
    for joins in (
        [(i, i + 1) for i in range(4999)],
        [(i + 1, i) for i in reversed(range(4999))],
        [(0, i) for i in range(1, 5000)],
        [(4999, i) for i in range(4999)],
        [(i, 4999 - i) for i in range(5000)],
    ):
        labels = label_components(5000, [a for a, _ in joins], [b for _, b in joins])
        assert partition(range(5000), labels) == partition(range(5000), components(5000, joins))


@st.composite
def harnesses(draw: st.DrawFn) -> Harness:
    """A random harness: wires may end anywhere, at themselves, twice at the same ends, or in cavities nobody listed."""
    connectors = {}
    for ref in draw(st.lists(st.sampled_from(REFS), min_size=1, unique=True)):
        listed = draw(st.lists(st.sampled_from(NAMES), unique=True))
        contact = st.sampled_from([None, None, "none", "M39029/58-360"])
        cavities = {n: Cavity(Point(ref, n), NOWHERE, contact=draw(contact)) for n in listed}
        names = draw(st.sampled_from([None, tuple(listed)]))
        connectors[ref] = Connector(ref, NOWHERE, Origin.AIRFRAME, names=names, cavities=cavities)
    order = draw(st.permutations(sorted(connectors)))
    pairs = zip(order[::2], order[1::2], strict=False)
    mates = tuple(Mate(a, b, NOWHERE) for a, b in pairs if draw(st.booleans()))
    ends = [Point(r) for r in SINGLE] + [Point("CB1", "line"), Point("CB1", "load")]
    ends += [Point(r, n) for r in connectors for n in NAMES]
    chosen = draw(st.lists(st.tuples(st.sampled_from(ends), st.sampled_from(ends)), max_size=25))
    wires = {f"W{i}": Wire(f"W{i}", a, b, Origin.AIRFRAME) for i, (a, b) in enumerate(chosen)}
    return Harness(
        Kind.AIRFRAME,
        "random",
        open_drawer(),
        connectors=connectors,
        mates=mates,
        wires=wires,
        splices={r: Splice(r, NOWHERE, Origin.AIRFRAME) for r in SINGLE[:2]},
        grounds={"GS1": Ground("GS1", NOWHERE, Origin.AIRFRAME)},
        buses={"BUS1": Bus("BUS1", NOWHERE, Origin.AIRFRAME)},
        breakers={"CB1": Breaker("CB1", NOWHERE, Origin.AIRFRAME)},
    )


def joins(harness: Harness) -> list[tuple[Point, Point]]:
    """What touches what, from the records: wires, and cavities of one name of mated halves.

    A half whose names are known has no other cavities; a cavity without contact touches nothing.
    """
    found = [(wire.a, wire.b) for wire in harness.wires.values()]
    for mate in harness.mates:
        halves = [harness.connectors[mate.a], harness.connectors[mate.b]]
        for name in NAMES:
            listed = [half.cavities.get(name) for half in halves]
            if not any(listed) or any(c is None and h.names is not None for c, h in zip(listed, halves, strict=True)):
                continue
            if all(cavity is None or cavity.contact != "none" for cavity in listed):
                found.append((Point(mate.a, name), Point(mate.b, name)))
    return found


def test_nets_are_the_connected_components() -> None:
    sizes: Counter[str] = Counter()

    @settings(max_examples=1000)
    @given(harness=harnesses())
    def trial(harness: Harness) -> None:
        index = {point: i for i, point in enumerate(harness.points)}
        assert len(index) == len(harness.points)
        own = [(index[a], index[b]) for a, b in joins(harness)]
        expected = partition(harness.points, components(len(index), own))
        assert partition(harness.points, harness.nets.label) == expected
        assert harness.nets.count == len(expected)
        assert [len(net) for net in harness.nets.members()] == list(Counter(harness.nets.label).values())
        sizes.update(
            examples=1,
            joined=any(len(net) > 2 for net in expected),
            mated=bool(harness.mated_points),
            loops=any(a == b for a, b in own),
            doubles=len(own) > len(set(own)),
        )

    trial()
    for kind in ("examples", "joined", "mated", "loops", "doubles"):
        assert sizes[kind] >= 100, sizes


@settings(max_examples=200)
@given(harness=harnesses())
def test_the_graph_view_has_the_same_components(harness: Harness) -> None:
    graph = harness.graph()
    assert set(graph.nodes) == set(harness.points)
    assert graph.number_of_edges() == len(harness.wires) + len(harness.mated_points)
    found = frozenset(frozenset(net) for net in networkx.connected_components(graph))
    assert found == partition(harness.points, harness.nets.label)


@settings(max_examples=300)
@given(harness=harnesses(), data=st.data())
def test_a_trace_visits_exactly_the_points_of_the_net(harness: Harness, data: st.DataObject) -> None:
    start = data.draw(st.sampled_from(harness.points))
    steps = harness.trace(start)
    reached = [step.end for step in steps]
    assert len(set(reached)) == len(reached) and start not in reached
    net = harness.nets.of(start)
    assert {start, *reached} == {p for p in harness.points if harness.nets.of(p) == net}
    # Every step starts where the trace has been, one deeper than the step that led there, over a joint that is there.
    depth = {start: 0}
    touching = {frozenset(pair) for pair in joins(harness)}
    for step in steps:
        assert step.depth == depth[step.start] + 1
        depth[step.end] = step.depth
        assert frozenset((step.start, step.end)) in touching
        if step.through != "mate":
            wire = harness.wires[step.through]
            assert {wire.a, wire.b} == {step.start, step.end}
