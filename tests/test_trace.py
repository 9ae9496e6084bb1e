"""A trace in full: order and members against networkx, ohms against sums by hand and the Laplacian of the network.

Ohms by hand: AC 43.13-1B Chg 1 Table 11-9 gives 16.20 ohm per 1000 ft for 22 AWG and 9.88 for 20 AWG, tin-plated
copper at 20 C; a contact of size 20 drops 55 mV at 7.5 A (38999 catalogue p18; the parts drawer has three digits of
it); a splice counts as 1 mohm (from memory).
"""

from __future__ import annotations

import itertools
import json
import random
from pathlib import Path

import networkx
import numpy as np
import pytest

from harnesscheck import api, tracing
from harnesscheck.cli import main

ROOT = Path(__file__).parent.parent
J = ROOT / "harnesses" / "ice-probe" / "jumper.yaml"
FOOT = 0.3048
AWG22, AWG20 = 16.20 / 1000 / FOOT, 9.88 / 1000 / FOOT
SIZE20 = 0.055 / 7.5


def data(file: Path, start: str) -> dict:  # type: ignore[type-arg]
    return tracing.trace(api.load(file).subject, start).as_data()


def airframe(tmp_path: Path, wires: dict[str, str], more: str = "") -> Path:
    """An airframe of bare wires; each wire is ``from, to, length`` and 22 AWG."""
    rows = []
    for name, words in wires.items():
        a, b, length = words.split()
        size = "" if length == "-" else f", length: {length}"
        rows.append(f"  {name}: {{from: {a}, to: {b}, gauge: 22 AWG{size}}}")
    file = tmp_path / "airframe.yaml"
    refs = sorted({end.partition("-")[0] for words in wires.values() for end in words.split()[:2]})
    listed = "\n".join(f"  {ref}: {{}}" for ref in refs if ref.startswith(("X", "Y")))
    file.write_text(f"kind: airframe\ntitle: bare\nconnectors:\n{listed}\n{more}\nwires:\n" + "\n".join(rows) + "\n")
    return file


# -- by hand -----------------------------------------------------------------------------------------------------------


def test_the_demo_by_hand() -> None:
    """P14-3 into the jumper, 180 mm to SP3, on through 180 mm to J14-3, or through 290 mm to the probe."""
    steps = {step["to"]: step for step in data(J, "P14-3")["steps"]}
    assert list(steps) == ["J114-3", "SP3", "P114-3", "J14-3", "P115-3", "A12J1-3"]
    near = SIZE20 + 0.180 * AWG22 + 0.0005
    sums = {
        "J114-3": SIZE20,
        "SP3": near,
        "P114-3": near + 0.0005 + 0.180 * AWG22,
        "J14-3": near + 0.0005 + 0.180 * AWG22 + SIZE20,
        "P115-3": near + 0.0005 + 0.290 * AWG22,
    }
    for name, ohms in sums.items():
        assert steps[name]["sum"]["ohms"] == pytest.approx(ohms, abs=2e-5), name  # the drawer has three digits
        assert steps[name]["reads"]["ohms"] == steps[name]["sum"]["ohms"]
    assert steps["SP3"]["length"] == 0.180 and steps["P115-3"]["length"] == 0.290
    assert steps["SP3"]["ohms"] == pytest.approx(0.180 * AWG22, rel=1e-9)


def test_power_by_hand_and_who_else_is_on_it() -> None:
    found = data(J, "P14-1")
    to_breaker = 2 * SIZE20 + 0.001 + (0.060 + 0.240 + 2.6) * AWG20
    step = next(s for s in found["steps"] if s["to"] == "CB7-load")
    assert step["sum"]["ohms"] == pytest.approx(to_breaker, abs=5e-5)
    others = {(one["kind"], one["name"]): one["words"] for one in found["others"]}
    assert others["pin", "A12J1-1"] == "POWER, power, in, 0.9 A, most 2.2 A"
    assert others["breaker", "CB7"] == "WING EQPT, 5 A, fed from BUS1, load side"
    assert others["load", "of WING EQPT PWR"] == "0.6 A, most 1 A, returns by WING EQPT RTN"
    assert set(found["cavities"]) == {"J114-1", "P114-1", "J14-1", "P115-1", "A12J1-1"}
    assert found["not listed behind"] == ["P14-1"]


def test_neighbours_of_the_can_line() -> None:
    """Rows of a DA-15 stand 8 over 7, offset by half a pitch: beside 3 are 2 and 4, below it 10 and 11.

    Two terminators of 120 ohm between CAN H and CAN L read 60 ohm.
    """
    found = data(J, "P14-3")["neighbours"]
    assert found["known"] and not found["certain"], "the wiring behind P14-3 and J14-3 is not listed"
    text = tracing.trace(api.load(J).subject, "P14-3").as_text()
    assert "to P14-4: open in what is listed; 60.0 ohm with terminators fitted" in text
    assert "wiring behind P14-3, J14-3 is not listed: more may read than is said here" in text
    rows = {row["to"]: row for row in found["readings"]}
    assert set(rows) == {"P14-2", "P14-4", "P14-10", "P14-11"}
    assert all(row["reads"] == "open" for row in rows.values())
    assert rows["P14-4"]["connected"]["ohms"] == pytest.approx(60.0, abs=1e-6)
    assert rows["P14-4"]["differs by"] == ["terminator"]
    assert all(row["connected"]["reads"] == "open" for name, row in rows.items() if name != "P14-4")


def test_two_returns_meet_in_the_structure(tmp_path: Path) -> None:
    """1 m + 2 m of 22 AWG, 1.2 mohm and 1.8 mohm of bond; with one bond unknown the reading has a floor only."""
    more = "grounds:\n  GS1: {bond: 1.2 mohm}\n  GS2: {bond: 1.8 mohm}"
    file = airframe(tmp_path, {"W1": "X1-1 GS1 1m", "W2": "X1-2 GS2 2m"}, more)
    found = data(file, "X1-1")["neighbours"]
    assert not found["known"], "nobody has said what face X1 has"
    assert [row["to"] for row in found["readings"]] == ["X1-2"]
    assert found["readings"][0]["ohms"] == pytest.approx(3 * AWG22 + 0.003)
    file.write_text(file.read_text().replace(": {bond: 1.8 mohm}", ": {}"))
    row = data(file, "X1-1")["neighbours"]["readings"][0]
    assert row["reads"] == "unknown" and row["ohms"] is None and row["most"] is None
    assert row["least"] == pytest.approx(3 * AWG22 + 0.0012)
    assert row["missing"] == ["the bond of GS2 is not stated"]
    assert (
        "to X1-2: at least 0.161 ohm, not known: the bond of GS2"
        in tracing.trace(api.load(file).subject, "X1-1").as_text()
    )


def test_breakers_in_and_out(tmp_path: Path) -> None:
    """Two feeds of one bus: open with the breakers pulled, 2 m of wire and 40 + 60 mohm with both in."""
    more = (
        "buses:\n  BUS1: {supply: 14 V}\nbreakers:\n  CB1: {rating: 5 A, bus: BUS1, resistance: 40 mohm}\n"
        "  CB2: {rating: 5 A, bus: BUS1, resistance: 60 mohm}"
    )
    file = airframe(tmp_path, {"W1": "CB1-load X1-1 1m", "W2": "CB2-load X1-2 1m"}, more)
    row = data(file, "X1-1")["neighbours"]["readings"][0]
    assert row["reads"] == "open" and row["differs by"] == ["breaker"]
    assert row["connected"]["ohms"] == pytest.approx(2 * AWG22 + 0.1)


def test_an_unknown_length_is_said_and_spoils_only_what_runs_through_it(tmp_path: Path) -> None:
    wires = {"W1": "X1-1 X2-1 1m", "W2": "X2-1 X3-1 -", "W3": "X3-1 X1-2 1m", "W4": "X2-1 X1-3 2m"}
    file = airframe(tmp_path, wires)
    found = data(file, "X1-1")
    steps = {step["to"]: step for step in found["steps"]}
    assert steps["X3-1"]["ohms"] is None and steps["X3-1"]["missing"] == "the length of W2 is not stated"
    assert steps["X1-2"]["sum"]["reads"] == "unknown"
    assert steps["X1-2"]["sum"]["least"] == pytest.approx(2 * AWG22)
    assert steps["X1-3"]["sum"]["ohms"] == pytest.approx(3 * AWG22)
    rows = {row["to"]: row for row in found["neighbours"]["readings"]}
    assert rows["X1-2"]["missing"] == ["the length of W2 is not stated"]
    assert rows["X1-3"]["ohms"] == pytest.approx(3 * AWG22), "W2 is no part of this way"
    text = tracing.trace(api.load(file).subject, "X1-1").as_text()
    assert "length not stated, ohms unknown" in text and "sum unknown, at least 0.106" in text


# -- rings -------------------------------------------------------------------------------------------------------------


def test_the_bridge(tmp_path: Path) -> None:
    """Resistances 0-1 100, 0-2 200, 1-3 300, 2-3 100, 1-2 50 give 148.387 between 0 and 3 (solved with numpy)."""
    spans = {"01": 1, "02": 2, "13": 3, "23": 1, "12": 0.5}
    file = airframe(tmp_path, {f"W{k}": f"X1-{k[0]} X1-{k[1]} {m}m" for k, m in spans.items()})
    found = data(file, "X1-0")
    rows = {row["to"]: row["ohms"] for row in found["neighbours"]["readings"]}
    assert rows["X1-3"] == pytest.approx(1.48387 * AWG22, rel=1e-5)
    assert sum(step["closes a ring"] for step in found["steps"]) == 2, "5 wires, 4 points: 3 lead on, 2 close"
    reads = {s["to"]: s["reads"]["ohms"] for s in found["steps"] if not s["closes a ring"]}
    assert reads["X1-3"] == pytest.approx(rows["X1-3"])
    assert "all ways together" in tracing.trace(api.load(file).subject, "X1-0").as_text()


@pytest.mark.parametrize("seed", range(12))
def test_random_nets_against_networkx_and_the_laplacian(seed: int, tmp_path: Path) -> None:
    chance = random.Random(seed)
    names = [f"{ref}-{n}" for ref in ("X1", "X2", "Y3") for n in range(1, 5)]
    wires, graph = {}, networkx.MultiGraph()
    graph.add_nodes_from(names)
    for number in range(chance.randint(6, 14)):
        a, b = chance.sample(names, 2)
        length = chance.randint(1, 40) / 10
        wires[f"W{number}"] = f"{a} {b} {length}m"
        graph.add_edge(a, b, key=f"W{number}", ohms=length * AWG22)
    job = api.load(airframe(tmp_path, wires))
    start = chance.choice([words.split()[0] for words in wires.values()])
    found = tracing.trace(job.subject, start).as_data()
    # Every wire of the piece once, and none of another piece; each begins where the trace has been.
    inside = networkx.node_connected_component(graph, start)
    assert sorted(s["through"] for s in found["steps"]) == sorted(k for *_, k in graph.edges(inside, keys=True))
    been = {start}
    for step in found["steps"]:
        assert step["from"] in been
        assert step["closes a ring"] == (step["to"] in been)
        been.add(step["to"])
        assert set(wires[step["through"]].split()[:2]) == {step["from"], step["to"]}
    assert been == inside
    # R = (e_i - e_j)^T L+ (e_i - e_j)
    order = sorted(inside)
    laplace = np.zeros((len(order), len(order)))
    for a, b, ohms in graph.subgraph(inside).edges(data="ohms"):
        i, k = order.index(a), order.index(b)
        laplace[i, i] += 1 / ohms
        laplace[k, k] += 1 / ohms
        laplace[i, k] -= 1 / ohms
        laplace[k, i] -= 1 / ohms
    inverse = np.linalg.pinv(laplace)

    def reads(name: str) -> float:
        i, k = order.index(start), order.index(name)
        return float(inverse[i, i] + inverse[k, k] - 2 * inverse[i, k])

    for step in found["steps"]:
        assert step["reads"]["ohms"] == pytest.approx(reads(step["to"]), rel=1e-6)
    for row in found["neighbours"]["readings"]:
        if row["to"] in inside:
            assert row["ohms"] == pytest.approx(reads(row["to"]), rel=1e-6)
        else:
            assert row["reads"] == "open"


# -- the picture, the lines, the slips ---------------------------------------------------------------------------------


def test_the_picture_and_its_slips(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "circuit.svg"
    assert main(["trace", str(J), "P14-3", "-o", str(out)]) == 0
    assert capsys.readouterr().out.startswith(f"wrote {out}\nP14-3  (CAN H")
    plain = tmp_path / "plain.svg"
    assert main(["draw", str(J), "-o", str(plain)]) == 0
    assert "circuit picked out" in out.read_text() and "circuit picked out" not in plain.read_text()
    capsys.readouterr()
    assert main(["trace", str(J), "P14-3", "-o", str(out), "--format", "json"]) == 0
    assert json.loads(capsys.readouterr().out)["start"] == "P14-3"
    assert main(["trace", str(J), "P14-3", "-o", str(tmp_path / "x.csv")]) == 2
    shown = capsys.readouterr()
    assert "is not written as '.csv'" in shown.err and not shown.out
    assert not (tmp_path / "x.csv").exists()


def test_a_circuit_that_is_not_drawn_is_said_to_be_missing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The diagram of a jumper leaves out what it does not touch, like the second disconnect of the demo."""
    out = str(tmp_path / "x.svg")
    assert main(["trace", str(J), "P15-1", "-o", out]) == 0
    assert "nothing is heavy in it" in capsys.readouterr().out
    assert main(["trace", str(J), "P14-1", "-o", out]) == 0
    shown = capsys.readouterr().out
    assert "nothing is heavy" not in shown
    assert "wire P107A20 (20 AWG, 9 white, existing) to CB7-load" in shown  # MIL-STD-681: 9 is white


@pytest.mark.parametrize("name", ["ice-probe", "signal-logger"])
def test_every_point_of_the_demos_reads_aloud(name: str) -> None:
    """Each point in short lines; what leads on comes in order, what is on the net is on it from every point."""
    harness = api.load(ROOT / "harnesses" / name / "jumper.yaml").subject
    for start in itertools.islice(harness.points, 0, None, 5):
        found = tracing.trace(harness, str(start))
        text = found.as_text()
        assert all(len(line) <= 125 for line in text.splitlines()), text
        net = harness.nets.of(start)
        assert set(found.points) == {p for p in harness.points if harness.nets.of(p) == net}
        json.dumps(found.as_data(), allow_nan=False)
