"""What each kind of reading sees, on a jumper of five wires: the table found by brute force, all single faults."""

from __future__ import annotations

import pytest

from harnesscheck.ringout.article import article
from harnesscheck.ringout.coverage import coverage
from harnesscheck.ringout.plan import plan
from tests.ringout import model
from tests.ringout.text import kit, straight

CASES = {"open": 5, "short": 10, "swap": 10, "open and short": 20, "mirror": 1}
THROUGH = {"open": 5, "short": 0, "swap": 10, "open and short": 20, "mirror": 1}
ONE_END = {"open": 0, "short": 10, "swap": 0, "open and short": 20, "mirror": 0}
BOTH_ENDS = {"open": 0, "short": 10, "swap": 10, "open and short": 20, "mirror": 1}
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


def _count(under, readings) -> dict[str, tuple[int, int]]:  # type: ignore[no-untyped-def]
    """Cases and refusals by class: wires open, and what may be wrong at the plug P3."""
    copper = model.of(under.harness, under.terminals, True)
    found: dict[str, tuple[int, int]] = {}
    for kind, name, graph in model.cases(copper):
        if (kind == "open" and not name.startswith("wire")) or kind == "shift":
            continue
        if kind in ("swap", "mirror") and not name.startswith("P3"):
            continue
        cases, shown = found.get(kind, (0, 0))
        found[kind] = (cases + 1, shown + model.refused(model.parts(graph), readings))
    return found


def test_coverage_says_what_the_simulation_finds() -> None:
    """All classes at both connectors: swaps 2 x 10, mirrors 2, every wire and contact open 5 + 10, shifts 2 x 2 x 5."""
    made = plan(article(kit(straight(5), insert="DE-9"), "bench"))
    found = {kind: (entry.cases, entry.seen) for kind, entry in coverage(made).items()}
    assert found == {"open": (15, 15), "short": (10, 10), "swap": (20, 20), "shift": (20, 20), "mirror": (2, 2),
                     "open and short": (20, 20)}  # fmt: skip
