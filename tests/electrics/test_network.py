"""The DC solve against ngspice, scipy, Kirchhoff and networks that can be solved on paper.

``python -m pytest tests/electrics`` compares a sample with ngspice; ``HARNESSCHECK_SPICE=200`` in the environment sets
the number of random harnesses. Without ngspice the comparison is skipped and says so; scipy is compared always.
"""

from __future__ import annotations

import os
from pathlib import Path

import numpy
import pytest
import scipy.sparse
import scipy.sparse.linalg
import spice

from harnesscheck.electrics.network import Branch, Load, NoSolutionError, Solution, solve

SAMPLE = int(os.environ.get("HARNESSCHECK_SPICE", "16"))
RELATIVE = 1e-6
"""Demanded of the comparison with ngspice."""
KIRCHHOFF = 1e-9
"""Amperes that may be missing at a node."""


def size(seed: int) -> int:
    """10 to 2000 wires, evenly on a logarithmic scale; the first two are the ends of the range."""
    return (10, 2000)[seed] if seed < 2 else round(10 * 200 ** ((seed * 0.618034) % 1))


def kirchhoff(count: int, branches: list[Branch], loads: list[Load], fixed: dict[int, float], found: Solution) -> float:
    """Greatest sum of currents into a node that is no source."""
    into = [0.0] * count
    for branch, amps in zip(branches, found.branches, strict=True):
        into[branch.a] -= amps
        into[branch.b] += amps
    for load, amps in zip(loads, found.loads, strict=True):
        into[load.a] -= amps
        into[load.b] += amps
    return max(abs(amps) for node, amps in enumerate(into) if node not in fixed)


@pytest.mark.skipif(spice.NGSPICE is None, reason=spice.WHY_NOT)
@pytest.mark.parametrize("seed", range(SAMPLE))
def test_agrees_with_ngspice(seed: int, tmp_path: Path) -> None:
    count, branches, loads, fixed = spice.harness_like(seed, size(seed))
    found = solve(count, branches, loads, fixed)
    expected = spice.volts(spice.netlist(branches, loads, fixed), tmp_path)
    assert len(expected) == count
    scale = max(fixed.values())
    worst = max(abs(found.volts[node] - volts) for node, volts in expected.items())
    assert worst <= RELATIVE * scale
    for load, amps in zip(loads, found.loads, strict=True):
        across = expected[load.a] - expected[load.b]
        there = {"current": load.value, "resistance": across / load.value, "power": load.value / across}[load.kind]
        assert abs(amps - there) <= RELATIVE * there
    for branch, amps in zip(branches, found.branches, strict=True):
        if branch.ohms:
            there = (expected[branch.a] - expected[branch.b]) / branch.ohms
            assert abs(amps - there) <= RELATIVE * max(1.0, abs(there))
    assert kirchhoff(count, branches, loads, fixed, found) <= KIRCHHOFF


@pytest.mark.parametrize("seed", range(40))
def test_agrees_with_a_sparse_solver(seed: int) -> None:
    """Second route: scipy's LU of the full nodal equations, loads of the solution put in as currents."""
    count, branches, loads, fixed = spice.harness_like(1000 + seed, size(seed + 2))
    branches = [Branch(b.a, b.b, b.ohms or 1e-4) for b in branches]
    found = solve(count, branches, loads, fixed)
    assert kirchhoff(count, branches, loads, fixed, found) <= KIRCHHOFF
    rows, columns, values = [], [], []
    for b in branches:
        rows += [b.a, b.b, b.a, b.b]
        columns += [b.a, b.b, b.b, b.a]
        values += [1 / b.ohms, 1 / b.ohms, -1 / b.ohms, -1 / b.ohms]
    matrix = scipy.sparse.csr_matrix((values, (rows, columns)), shape=(count, count))
    inject = numpy.zeros(count)
    for load, amps in zip(loads, found.loads, strict=True):
        inject[load.a] -= amps
        inject[load.b] += amps
    known = numpy.array(list(fixed))
    free = numpy.setdiff1d(numpy.arange(count), known)
    held = numpy.array(list(fixed.values()))
    right = inject[free] - matrix[free][:, known] @ held
    volts = scipy.sparse.linalg.splu(matrix[free][:, free].tocsc()).solve(right)
    assert max(abs(volts - numpy.array([found.volts[n] for n in free]))) < 1e-9


def test_a_divider_and_a_ring_on_paper() -> None:
    """10 V over 1 ohm and 4 ohm; a ring of 1 + 1 and 2 ohm shares a current in halves (own arithmetic)."""
    found = solve(3, [Branch(0, 1, 1.0)], [Load(1, 2, "resistance", 4.0)], {0: 10.0, 2: 0.0})
    assert found.volts[1] == pytest.approx(8.0, abs=1e-12)
    ring = [Branch(0, 1, 1.0), Branch(1, 2, 1.0), Branch(0, 2, 2.0)]
    found = solve(4, ring, [Load(2, 3, "current", 3.0)], {0: 12.0, 3: 0.0})
    assert found.branches == pytest.approx((1.5, 1.5, 1.5), abs=1e-12)
    assert found.volts[2] == pytest.approx(9.0, abs=1e-12)


def test_two_sources_share_a_load() -> None:
    """14 V and 13 V by 0.1 ohm each to a load of 5 A: the node stands at 13.25 V (superposition, own arithmetic)."""
    found = solve(4, [Branch(0, 2, 0.1), Branch(1, 2, 0.1)], [Load(2, 3, "current", 5.0)], {0: 14.0, 1: 13.0, 3: 0.0})
    assert found.volts[2] == pytest.approx(13.25, abs=1e-12)
    assert found.branches == pytest.approx((7.5, -2.5), abs=1e-9)


def test_what_joints_carry() -> None:
    """Joints without resistance are no obstacle; what flows through each follows from what hangs behind it."""
    branches = [Branch(0, 1, 0.0), Branch(2, 1, 0.0), Branch(2, 3, 0.5), Branch(1, 4, 0.0)]
    loads = [Load(3, 5, "current", 2.0), Load(4, 5, "current", 1.0)]
    found = solve(6, branches, loads, {0: 14.0, 5: 0.0})
    assert found.branches == pytest.approx((3.0, -2.0, 2.0, 1.0), abs=1e-12)
    assert found.volts[3] == pytest.approx(13.0, abs=1e-12)


def test_what_is_joined_to_no_source_draws_nothing() -> None:
    loads = [Load(1, 2, "power", 5.0), Load(1, 3, "current", 5.0)]
    found = solve(4, [Branch(0, 1, 0.1)], loads, {0: 14.0, 3: 0.0})
    assert found.volts[2] is None
    assert found.across(loads[0]) is None
    assert found.loads == (0.0, 5.0)


@pytest.mark.parametrize("watts", [12.26, 100.0, 1e6])
def test_more_power_than_the_wire_can_carry(watts: float) -> None:
    """7 V behind 1 ohm gives at most 7 x 7 / 4 = 12.25 W (maximum power transfer)."""
    with pytest.raises(NoSolutionError):
        solve(3, [Branch(0, 1, 1.0)], [Load(1, 2, "power", watts)], {0: 7.0, 2: 0.0})


def test_nearly_as_much_power_as_the_wire_can_carry() -> None:
    found = solve(3, [Branch(0, 1, 1.0)], [Load(1, 2, "power", 12.24)], {0: 7.0, 2: 0.0})
    assert found.volts[1] == pytest.approx(3.6, abs=1e-6)  # V (7 - V) = 12.24: V = 3.4 or 3.6, and 3.6 is stable


def test_two_voltages_on_one_joint() -> None:
    with pytest.raises(NoSolutionError):
        solve(2, [Branch(0, 1, 0.0)], [], {0: 14.0, 1: 28.0})


def test_what_cannot_be() -> None:
    with pytest.raises(ValueError, match="zero or above"):
        solve(2, [Branch(0, 1, -1.0)], [], {0: 14.0})
