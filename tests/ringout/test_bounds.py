"""How many readings: bounds of the literature, worked harnesses and brute force."""

from __future__ import annotations

import math
from itertools import combinations
from random import Random

import networkx as nx
import pytest

from harnesscheck.place import Point
from harnesscheck.ringout import isolation
from harnesscheck.ringout.article import article
from harnesscheck.ringout.continuity import leaves, paired
from harnesscheck.ringout.link import Link
from harnesscheck.ringout.plan import Plan, plan
from tests.ringout.text import kit, straight


def bench(
    wires: list[tuple[str, str, str]], splices: list[str], tied: bool = False, mode: str = "first article"
) -> Plan:
    return plan(article(kit(wires, splices), "bench"), mode, tied)


def test_the_worked_harness_of_fifteen_pins() -> None:
    """Nets of 4, 3, 2, 2, 2, 1 and 1 pins: P - q = 8, walking 6, binary 3 (Kautz 1974 and arithmetic)."""
    wires = [("A1", "J3-1", "SP1"), ("A2", "SP1", "P3-1"), ("A3", "SP1", "P4-1"), ("A4", "SP1", "J3-2")]
    wires += [("B1", "J3-3", "SP2"), ("B2", "SP2", "P3-3"), ("B3", "SP2", "P4-2")]
    wires += [(f"C{n}", f"J3-{n}", f"P3-{n}") for n in (4, 5, 6)]
    wires += [("D1", "J3-7", "stowed"), ("D2", "P3-8", "stowed")]
    walked, tied = bench(wires, ["SP1", "SP2"]), bench(wires, ["SP1", "SP2"], True)
    assert sorted(len(net) for net in walked.article.nets) == [1, 1, 2, 2, 2, 3, 4]
    assert len(walked.article.terminals) == 15
    assert (len(walked.of_kind("continuity")), len(walked.of_kind("isolation"))) == (8, 6)
    assert len(tied.of_kind("isolation")) == 3


def test_the_jumper_of_fifty_two_terminals() -> None:
    """23 straight wires and two tapped nets of three: P = 52, q = 25, P - q = 27, walking 24, binary 5 (arithmetic)."""
    wires = straight(23)
    for n in (24, 25):
        wires += [(f"W{n}A", f"J3-{n}", f"SP{n}"), (f"W{n}B", f"SP{n}", f"P3-{n}"), (f"W{n}C", f"SP{n}", f"P4-{n}")]
    walked, tied = bench(wires, ["SP24", "SP25"]), bench(wires, ["SP24", "SP25"], True)
    assert (len(walked.article.terminals), len(walked.article.nets)) == (52, 25)
    assert (len(walked.of_kind("continuity")), len(walked.of_kind("isolation"))) == (27, 24)
    assert len(tied.of_kind("isolation")) == 5


@pytest.mark.parametrize("count", range(2, 70))
def test_groups_part_every_two_nets_with_the_fewest_readings(count: int) -> None:
    """ceil(log2 q): fewer bits cannot give every net a number of its own."""
    groups = isolation.bussed(range(count))
    assert len(groups) == math.ceil(math.log2(count))
    for one, two in combinations(range(count), 2):
        assert any((one in a and two in b) or (two in a and one in b) for a, b in groups)
    walked = isolation.walking([(net,) for net in range(count)])
    assert len(walked) == count - 1
    for one, two in combinations(range(count), 2):
        assert any((one in a and two in b) or (two in a and one in b) for a, b in walked)


def test_walking_takes_no_fewer_readings() -> None:
    """Brute force over every choice of one-net-against-the-rest readings, q = 2 to 6: q - 1 are needed."""
    for count in range(2, 7):
        for size in range(count):
            enough = any(
                all(one in lifted or two in lifted for one, two in combinations(range(count), 2))
                for lifted in combinations(range(count), size)
            )
            assert enough == (size >= count - 1)


def random_tree(chance: Random) -> nx.Graph:
    graph = nx.Graph()
    graph.add_node(0)
    for node in range(1, chance.randint(2, 9)):
        graph.add_edge(node, chance.randrange(node))
    return graph


def fewest(graph: nx.Graph, ends: list[int]) -> int:
    """The least number of end-to-end ways that cover every branch, by trying every choice."""
    ways = [set(map(frozenset, nx.utils.pairwise(nx.shortest_path(graph, a, b)))) for a, b in combinations(ends, 2)]
    whole = set(map(frozenset, graph.edges))
    for size in range(1, len(ways) + 1):
        for some in combinations(ways, size):
            if set().union(*some) == whole:
                return size
    raise AssertionError("no choice covers the tree")


def test_trees_take_half_as_many_readings_as_they_have_ends() -> None:
    """400 random trees of at most 9 nodes: our pairs cover every branch, and brute force finds no fewer (ceil(L/2))."""
    chance = Random(7)
    for _ in range(400):
        graph = random_tree(chance)
        ends = [node for node in graph if graph.degree(node) == 1]
        links = [Link("wire", f"{a}-{b}", Point(f"N{a}"), Point(f"N{b}"), 1.0, 1.0, 1.0) for a, b in graph.edges]
        found = leaves(links, [Point(f"N{n}") for n in ends])
        assert {int(p.ref[1:]) for p in found} == set(ends)
        pairs = [(int(a.ref[1:]), int(b.ref[1:])) for a, b in paired(found)]
        assert len(pairs) == math.ceil(len(ends) / 2)
        covered = {frozenset(e) for a, b in pairs for e in nx.utils.pairwise(nx.shortest_path(graph, a, b))}
        assert covered == set(map(frozenset, graph.edges))
        if len(ends) <= 6:
            assert fewest(graph, ends) == len(pairs)


def test_the_field_reads_less_than_the_first_article() -> None:
    """A star of four ends: two readings instead of three."""
    star = [(f"A{n}", point, "SP1") for n, point in enumerate(("J3-1", "P3-1", "P4-1", "J3-2"))]
    assert len(bench(star, ["SP1"]).of_kind("continuity")) == 3
    assert len(bench(star, ["SP1"], mode="field").of_kind("continuity")) == 2
    parallel = [("A", "J3-1", "P3-1"), ("B", "J3-1", "P3-1")]
    assert len(bench(parallel, [], mode="field").of_kind("continuity")) == 1


@pytest.mark.parametrize(("insert", "count", "pairs"), [("DE-9", 9, 15), ("DB-25", 25, 47)])
def test_neighbours_of_a_d_sub(insert: str, count: int, pairs: int) -> None:
    """Neighbouring pairs: DE-9 15 of 36, DB-25 47 of 300 (counted on the two staggered rows)."""
    made = plan(article(kit(straight(count), insert=insert), "bench"), "quick")
    assert len(made.of_kind("isolation")) == pairs
