"""What each kind of reading sees, on a jumper of five wires: the table found by brute force, all single faults."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from harnesscheck.place import Point
from harnesscheck.ringout.article import article
from harnesscheck.ringout.coverage import coverage
from harnesscheck.ringout.plan import plan
from tests.ringout import model
from tests.ringout.text import kit, straight

CASES = {"open": 5, "short": 10, "swap": 10, "open and short": 20, "mirror": 1, "shift": 1}
THROUGH = {"open": 5, "short": 0, "swap": 10, "open and short": 20, "mirror": 1, "shift": 1}
ONE_END = {"open": 0, "short": 10, "swap": 0, "open and short": 20, "mirror": 0, "shift": 0}
BOTH_ENDS = {"open": 0, "short": 10, "swap": 10, "open and short": 20, "mirror": 1, "shift": 1}
LOOP = {"open": 5, "short": 0, "swap": 0, "open and short": 10, "mirror": 0, "shift": 1}
"""Class to cases shown; independent brute force over five straight wires, faults at one of the two connectors."""


@pytest.mark.parametrize("tied", [False, True])
@pytest.mark.parametrize(("which", "expected"), [("continuity", THROUGH), ("isolation", ONE_END), ("both", CASES)])
def test_what_each_kind_of_reading_sees(which: str, expected: dict[str, int], tied: bool) -> None:
    made = plan(article(kit(straight(5), insert="DE-9"), "bench"), "first article", tied)
    readings = [(r.kind, r.a, r.b) for r in made.readings if which in (r.kind, "both")]
    found = _count(made.article, readings)
    assert found == {kind: (CASES[kind], count) for kind, count in expected.items()}


def test_nets_bussed_at_both_ends_see_a_swap() -> None:
    made = plan(article(kit(straight(5), insert="DE-9"), "bench"))
    readings = [
        (r.kind, tuple(q for p in r.a for q in made.article.nets[made.article.net_of[p]]),
         tuple(q for p in r.b for q in made.article.nets[made.article.net_of[p]]))
        for r in made.of_kind("isolation")
    ]  # fmt: skip
    assert _count(made.article, readings) == {kind: (CASES[kind], count) for kind, count in BOTH_ENDS.items()}


def loop(count: int) -> tuple[list[tuple[Point, Point]], tuple[Point, Point]]:
    """Loop-back leads that put straight wires in series, in turn at P3 and J3, and the two ends that are read."""
    leads = [(Point(ref, str(n)), Point(ref, str(n + 1))) for n in range(1, count) for ref in [("J3", "P3")[n % 2]]]
    return leads, (Point("J3", "1"), Point("P3" if count % 2 else "J3", str(count)))


def test_the_beep_through_a_loop_misses_swaps() -> None:
    """One reading through all five wires in series sees every open and nothing else for sure: no short, no swap."""
    made = plan(article(kit(straight(5), insert="DE-9"), "bench"))
    leads, (a, b) = loop(5)
    found = _count(made.article, [("continuity", (a,), (b,))], leads)
    assert found == {kind: (CASES[kind], count) for kind, count in LOOP.items()}


def test_the_loop_and_nets_bussed_at_both_ends_see_all() -> None:
    made = plan(article(kit(straight(5), insert="DE-9"), "bench"), "first article", True)
    both = [
        (r.kind, tuple(q for p in r.a for q in made.article.nets[made.article.net_of[p]]),
         tuple(q for p in r.b for q in made.article.nets[made.article.net_of[p]]))
        for r in made.of_kind("isolation")
    ]  # fmt: skip
    leads, (a, b) = loop(5)
    missed = _missed(made.article, [("continuity", (a,), (b,))], leads) & _missed(made.article, both)
    assert not missed
    assert len(_missed(made.article, both)) == 5  # the opens, which only the loop sees


def _missed(under, readings, leads=()) -> set[tuple[str, str]]:  # type: ignore[no-untyped-def]
    return {(kind, name) for kind, name, shown in _tried(under, readings, leads) if not shown}


def _count(under, readings, leads=()) -> dict[str, tuple[int, int]]:  # type: ignore[no-untyped-def]
    """Cases and refusals by class."""
    found: dict[str, tuple[int, int]] = {}
    for kind, _, shown in _tried(under, readings, leads):
        cases, seen = found.get(kind, (0, 0))
        found[kind] = (cases + 1, seen + shown)
    return found


def _tried(under, readings, leads=()) -> Iterator[tuple[str, str, bool]]:  # type: ignore[no-untyped-def]
    """Wires open, and what may be wrong at the plug P3; of the shifts, all its contacts one cavity up."""
    copper = model.of(under.harness, under.terminals, True)
    shifts = 0
    for kind, name, graph in model.cases(copper):
        if kind == "open" and not name.startswith("wire"):
            continue
        if kind in ("swap", "mirror", "shift") and not name.startswith("P3"):
            continue
        shifts += kind == "shift"
        if kind == "shift" and shifts > 1:
            continue
        graph.add_edges_from(leads)
        yield kind, name, model.refused(model.parts(graph), readings)


def test_coverage_says_what_the_simulation_finds() -> None:
    """All classes at both connectors: swaps 2 x 10, mirrors 2, every wire and contact open 5 + 10, shifts 2 x 2 x 5."""
    made = plan(article(kit(straight(5), insert="DE-9"), "bench"))
    found = {kind: (entry.cases, entry.seen) for kind, entry in coverage(made).items()}
    assert found == {"open": (15, 15), "short": (10, 10), "swap": (20, 20), "shift": (20, 20), "mirror": (2, 2),
                     "open and short": (20, 20)}  # fmt: skip
