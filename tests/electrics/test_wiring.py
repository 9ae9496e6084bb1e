"""A harness as a network: a job solved on paper, random jobs against ngspice, and what is missing is named.

The netlist of the random jobs is written from the drawn numbers themselves; it shares no code with the wiring model.
"""

from __future__ import annotations

import random
from pathlib import Path

import pytest
import spice

import harnesscheck as hc
from harnesscheck.electrics.network import Branch, Load
from harnesscheck.electrics.wiring import wiring

PER_METRE = {24: 28.40, 22: 16.20, 20: 9.88, 18: 6.23, 16: 4.81, 14: 3.06, 12: 2.02}
"""AC 43.13-1B Table 11-9, ohm per 1000 ft."""


def ohms(gauge: int, metres: float) -> float:
    return PER_METRE[gauge] / 1000 / 0.3048 * metres


AIRFRAME = """\
kind: airframe
title: On paper
buses: {BUS1: {supply: 28 V}}
breakers: {CB1: {rating: 10 A, bus: BUS1, resistance: 10 mohm}}
grounds: {GS1: {bond: 2 mohm}}
circuits:
  FEED: {signal: power, breaker: CB1, load: 2 A, returns: BACK}
  BACK: {signal: ground}
connectors:
  P1: {insert: DE-9, mates: J1, cavities: {1: FEED, 2: BACK}}
  J1: {insert: DE-9}
splices: {SP1: {}}
wires:
  W1: {from: CB1-load, to: SP1, gauge: 20 AWG, length: 10 ft}
  W2: {from: SP1, to: J1-1, gauge: 22 AWG, length: 5 ft}
  W3: {from: J1-2, to: GS1, gauge: 20 AWG, length: 10 ft}
"""


def job(folder: Path, text: str) -> hc.Job:
    (folder / "airframe.yaml").write_text(text)
    return hc.load(folder / "airframe.yaml")


def test_a_feed_on_paper(tmp_path: Path) -> None:
    """28 V, 56 W at the load. R = 10 m + 0.0988 + 2 x 0.5 m + 0.081 + 15 m + 15 m + 0.0988 + 2 m ohm (two contacts of
    unknown kind, a splice of 1 mohm); V (28 - V) = 56 R. Own arithmetic with Table 11-9: 9.88 and 16.2 ohm/1000 ft."""
    net = wiring(job(tmp_path, AIRFRAME).subject)
    (load,) = net.consumers
    assert not net.gaps(load)
    total = 0.010 + 0.0988 + 0.001 + 0.081 + 2 * 0.015 + 0.0988 + 0.002
    expected = (28 + (28**2 - 4 * 56 * total) ** 0.5) / 2
    assert net.across(load) == pytest.approx(expected, rel=1e-9)
    assert net.amps("steady")["W1"] == pytest.approx(56 / expected, rel=1e-9)
    bare = total - 0.001 - 2 * 0.015
    assert net.across(load, bare=True) == pytest.approx((28 + (28**2 - 4 * 56 * bare) ** 0.5) / 2, rel=1e-9)


def test_hot_wire(tmp_path: Path) -> None:
    """At 70 C copper has (234.5 + 70) / 254.5 times its resistance (AC 43.13-1B p. 11-22)."""
    text = AIRFRAME.replace("buses:", "zones: {hot: {ambient: 0 C to 70 C}}\nbuses:").replace(
        "J1: {insert: DE-9}", "J1: {insert: DE-9, zone: hot}"
    )
    net = wiring(job(tmp_path, text).subject)
    by_name = {e.name: e.ohms for e in net.elements if e.kind == "wire"}
    assert by_name["W2"] == pytest.approx(0.081 * (234.5 + 70) / 254.5, rel=1e-12)
    assert by_name["W1"] == pytest.approx(0.0988, rel=1e-12)


@pytest.mark.parametrize(
    ("old", "new", "missing"),
    [
        ("gauge: 22 AWG, length: 5 ft", "gauge: 22 AWG", "the length of W2 is not stated"),
        ("gauge: 22 AWG, length: 5 ft", "length: 5 ft", "the gauge of W2 is not stated"),
        ("{supply: 28 V}", "{}", "the volts of BUS1 are not stated"),
        (", bus: BUS1", "", "the bus that feeds CB1 is not stated"),
        (", returns: BACK", "", "how the load of FEED returns is not stated"),
        (
            "  W3: {from: J1-2, to: GS1, gauge: 20 AWG, length: 10 ft}\n",
            "",
            "no wire is listed that leads the return at P1-2 to a ground stud",
        ),
        (
            "  W1: {from: CB1-load, to: SP1, gauge: 20 AWG, length: 10 ft}\n",
            "",
            "which side of the disconnect FEED is fed from is not known",
        ),
    ],
)
def test_what_is_missing_is_named(old: str, new: str, missing: str, tmp_path: Path) -> None:
    assert AIRFRAME.count(old) == 1
    net = wiring(job(tmp_path, AIRFRAME.replace(old, new)).subject)
    (load,) = net.consumers
    assert missing in [gap.missing for gap in net.gaps(load)]
    assert net.across(load) is None


def test_an_unknown_spur_without_a_load_is_in_nobodys_way(tmp_path: Path) -> None:
    net = wiring(job(tmp_path, AIRFRAME + "  W9: {from: SP1, to: J1-9}\n").subject)
    assert not net.gaps(net.consumers[0])


@pytest.mark.skipif(spice.NGSPICE is None, reason=spice.WHY_NOT)
@pytest.mark.parametrize("seed", range(8))
def test_random_airframes_agree_with_ngspice(seed: int, tmp_path: Path) -> None:
    """Feeders through splices, two wires side by side, disconnects and studs; loads of constant power."""
    draw = random.Random(seed)
    wires: list[str] = []
    branches: list[Branch] = []
    loads: list[Load] = []
    nodes: dict[str, int] = {"ground": 0, "bus": 1}
    circuits, live, connectors, breakers, studs, splices = [], [], [], [], [], []

    def node(name: str) -> int:
        return nodes.setdefault(name, len(nodes))

    def wire(a: str, b: str) -> None:
        gauge, metres = draw.choice(list(PER_METRE)), round(draw.uniform(0.1, 3.0), 3)
        name = f"W{len(wires) + 1}"
        wires.append(f"  {name}: {{from: {a}, to: {b}, gauge: {gauge} AWG, length: {metres} m}}")
        ends = []
        for end in (a, b):
            if end.startswith("SP"):
                ends.append(node(f"{end} at {name}"))
                branches.append(Branch(ends[-1], node(end), 0.0005))
            else:
                ends.append(node(end))
        branches.append(Branch(ends[0], ends[1], ohms(gauge, metres)))

    for i in range(1, (1, 10, 40)[seed % 3] + 1):
        milli = draw.randint(5, 40)
        breakers.append(f"  CB{i}: {{rating: 5 A, bus: BUS1, resistance: {milli} mohm}}")
        branches.append(Branch(1, node(f"CB{i}-load"), milli / 1000))
        here = f"CB{i}-load"
        for _ in range(draw.randint(0, 3)):
            splices.append(f"SP{len(splices) + 1}: {{}}")
            following = f"SP{len(splices)}"
            for _ in range(draw.randint(1, 2)):
                wire(here, following)
            here = following
        wire(here, f"J{i}-1")
        bond = draw.randint(1, 5)
        studs.append(f"GS{i}: {{bond: {bond} mohm}}")
        wire(f"J{i}-2", f"GS{i}")
        branches.append(Branch(node(f"GS{i}"), 0, bond / 1000))
        connectors.append(f"  P{i}: {{insert: DE-9, mates: J{i}, cavities: {{1: F{i}, 2: R{i}}}}}")
        connectors.append(f"  J{i}: {{insert: DE-9}}")
        branches += [Branch(node(f"P{i}-{c}"), node(f"J{i}-{c}"), 0.015) for c in (1, 2)]
        amps = round(draw.uniform(0.1, 2.0), 2)
        circuits.append(f"  F{i}: {{signal: power, breaker: CB{i}, load: {amps} A, returns: R{i}}}")
        circuits.append(f"  R{i}: {{signal: ground}}")
        loads.append(Load(node(f"P{i}-1"), node(f"P{i}-2"), "power", amps * 14))
        live.append(i)
    text = "\n".join(
        ["kind: airframe", "title: random", "buses: {BUS1: {supply: 14 V}}", "breakers:", *breakers,
         f"grounds: {{{', '.join(studs)}}}", "circuits:", *circuits, "connectors:", *connectors,
         f"splices: {{{', '.join(splices)}}}", "wires:", *wires, ""]
    )  # fmt: skip
    net = wiring(job(tmp_path, text).subject)
    expected = spice.volts(spice.netlist(branches, loads, {0: 0.0, 1: 14.0}), tmp_path)
    by_name = {consumer.name: consumer for consumer in net.consumers}
    assert len(by_name) == len(live)
    for i, load in zip(live, loads, strict=True):
        seen = net.across(by_name[f"load of F{i}"])
        assert seen is not None
        assert seen == pytest.approx(expected[load.a] - expected[load.b], rel=1e-6)
