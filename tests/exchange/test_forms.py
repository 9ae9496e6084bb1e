"""GraphML, SPICE and JSON, each read by a program that is not ours: networkx, ngspice, jsonschema.

Without ngspice the comparison is skipped and says so.
"""

from __future__ import annotations

import io
import json
import math
import re
from pathlib import Path
from typing import Any

import jsonschema
import networkx
import pytest

import harnesscheck as hc
from harnesscheck import exchange
from harnesscheck.electrics.wiring import wiring
from tests.electrics import spice
from tests.exchange import trips

HARNESSES = Path(__file__).parents[2] / "harnesses"
DEMO = HARNESSES / "ice-probe" / "jumper.yaml"
FAULTY = sorted(path.name for path in (HARNESSES / "faulty").iterdir() if path.is_dir())
NEEDED = 1e-6
"""Demanded of the comparison with ngspice, as a share of the highest volts."""


def loaded(folder: Path, number: int) -> hc.Job:
    files = trips.random_files(number)
    for name, text in files.items():
        (folder / name).write_text(text, encoding="utf-8")
    return hc.load(folder / ("jumper.yaml" if "jumper.yaml" in files else "airframe.yaml"))


# -- GraphML -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("number", range(6))
def test_graphml_as_networkx_reads_it(number: int, tmp_path: Path) -> None:
    harness = (job := loaded(tmp_path, number)).subject
    data = exchange.write(job, "a.graphml")
    graph: Any = networkx.read_graphml(io.BytesIO(data), force_multigraph=True)
    assert set(graph) == {str(p) for p in harness.points}
    wires = {d["id"]: (a, b, d) for a, b, d in graph.edges(data=True) if d["kind"] != "mate"}
    assert {w: {a, b} for w, (a, b, _) in wires.items()} == {w.id: {str(w.a), str(w.b)} for w in harness.wires.values()}
    for wire in harness.wires.values():
        said = wires[wire.id][2]
        assert said.get("length") == wire.length and said.get("gauge") == (str(wire.gauge) if wire.gauge else None)
        assert (said["kind"] == "splice leg") == (wire.a.ref in harness.splices or wire.b.ref in harness.splices)
    mates = sorted(sorted((a, b)) for a, b, d in graph.edges(data=True) if d["kind"] == "mate")
    assert mates == sorted(sorted(map(str, pair)) for pair in harness.mated_points)
    # networkx finds the nets by itself; the file says their numbers.
    for piece in networkx.connected_components(graph):
        assert len({graph.nodes[point]["net"] for point in piece}) == 1
    assert len({d["net"] for _, d in graph.nodes(data=True)}) == networkx.number_connected_components(graph)


# -- SPICE -------------------------------------------------------------------------------------------------------------

LOADS = """\
kind: airframe
title: |-
  three sorts of load
  .end
buses: {BUS1: {supply: 28 V}, BUS2: {supply: 14 V}}
breakers: {CB1: {rating: 10 A, bus: BUS1, resistance: 10 mohm}, CB2: {rating: 5 A, bus: BUS2}, CB3: {bus: BUS2}}
grounds: {GS1: {bond: 2 mohm}}
circuits:
  FEED: {signal: power, breaker: CB1, load: 2 A, returns: BACK}
  BACK: {signal: ground}
  A: {signal: power, breaker: CB2, load: 1.5 A, returns: GS1}
  a: {signal: power, breaker: CB3, load: 0.5 A, returns: GS1}
connectors:
  P1: {mates: J1, cavities: {+28V: FEED, '2': BACK, A: A, a: a, '=1': spare}}
  J1: {}
splices: {SP1: {}}
wires:
  W1: {from: CB1-load, to: SP1, gauge: 20 AWG, length: 10 ft}
  W2: {from: SP1, to: J1-+28V, gauge: 22 AWG, length: 5 ft}
  W3: {from: J1-2, to: GS1, gauge: 20 AWG, length: 10 ft}
  W4: {from: CB2-load, to: J1-A, gauge: 22 AWG, length: 3 m}
  W5: {from: CB3-load, to: J1-a, gauge: 24 AWG, length: 3 m}
  W6: {from: SP1, to: J1-9}
"""


def compared(job: hc.Job, folder: Path) -> tuple[float, int]:
    """Greatest difference of a node's volts as a share of the highest, and how many nodes were compared."""
    text = exchange.write(job, "a.cir").decode()
    control = ".control\nset numdgt=15\nop\nprint all\nquit\n.endc\n.end\n"
    found = spice.volts(re.sub(r"(?m)^\.op\n\.end\n\Z", control, text), folder)
    flow = wiring(job.subject).flow("on")
    known = {node: volts for node, volts in enumerate(flow.volts) if volts is not None and node in found}
    highest = max(map(abs, known.values()))
    alive = {int(n) for line in text.splitlines() if line[:1] in "RVBI" for n in re.findall(r"\bn(\d+)\b", line)}
    assert alive <= set(found) and alive <= set(known)
    return max(abs(known[node] - found[node]) for node in known) / highest, len(known)


@pytest.mark.skipif(spice.NGSPICE is None, reason=spice.WHY_NOT)
def test_the_netlist_as_ngspice_solves_it(tmp_path: Path) -> None:
    (tmp_path / "airframe.yaml").write_text(LOADS)
    error, count = compared(hc.load(tmp_path / "airframe.yaml"), tmp_path)
    assert error < NEEDED and count >= 20
    error, count = compared(hc.load(DEMO), tmp_path)
    assert error < NEEDED and count >= 30


@pytest.mark.skipif(spice.NGSPICE is None, reason=spice.WHY_NOT)
@pytest.mark.parametrize("number", [2, 5, 8, 11, 14, 17])
def test_random_netlists_as_ngspice_solves_them(number: int, tmp_path: Path) -> None:
    job = loaded(tmp_path, number)
    if not wiring(job.subject).consumers:
        pytest.skip("no load in this job")
    error, _ = compared(job, tmp_path)
    assert error < NEEDED


def test_the_netlist_names_what_is_not_in_it(tmp_path: Path) -> None:
    (tmp_path / "airframe.yaml").write_text(LOADS)
    text = exchange.write(hc.load(tmp_path / "airframe.yaml"), "a.cir").decode()
    assert "* wire W6: " in text and "not in the model: the gauge of W6 is not stated" in text
    assert "not approved data" in text and text.endswith(".op\n.end\n") and text.count("\n.end\n") == 1


# -- JSON --------------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def rules() -> jsonschema.Draft202012Validator:
    from harnesscheck.exchange.model_json import schema_text

    schema = json.loads(schema_text())
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def test_json_keeps_to_its_schema(rules: jsonschema.Draft202012Validator, tmp_path: Path) -> None:
    jobs = [hc.load(HARNESSES / "faulty" / name / "jumper.yaml") for name in FAULTY[::16]
            if (HARNESSES / "faulty" / name / "jumper.yaml").is_file()]  # fmt: skip
    jobs += [loaded(tmp_path, number) for number in range(3)]
    jobs += [hc.load(DEMO), hc.load(DEMO.parent / "ice-probe.yaml")]
    assert len(jobs) >= 8
    for job in jobs:
        rules.validate(json.loads(exchange.write(job, "a.json")))


def test_json_says_what_the_model_holds(rules: jsonschema.Draft202012Validator) -> None:
    harness = (job := hc.load(DEMO)).subject
    said = json.loads(exchange.write(job, "a.json"))
    assert said["wires"]["P501A20"] | {"place": ""} == {
        "id": "P501A20", "a": "J114-1", "b": "SP1", "origin": "jumper", "type": "M22759/16-20-9", "gauge": "20 AWG",
        "colour": "9", "length": 0.06, "cable": None, "core": None, "note": "", "mark": None, "bundle": "trunk",
        "route": None, "untwisted": None, "alloy": None, "place": "",
    }  # fmt: skip
    assert said["wires"]["P501A20"]["place"].startswith(str(DEMO)) and said["opens"] == [["P14", "J14"]]
    for table in ("connectors", "wires", "splices", "circuits", "devices", "breakers", "grounds", "cables"):
        assert list(said[table]) == list(getattr(harness, table)), table
    assert [set(net) for net in said["nets"]] == [{str(p) for p in net} for net in harness.nets.members()]
    for spoil in (
        lambda d: d["wires"]["P501A20"].pop("length"),
        lambda d: d["wires"]["P501A20"].update(length="60 mm"),
        lambda d: d["wires"]["P501A20"].update(more=1),
        lambda d: d.pop("nets"),
        lambda d: d.update(format="2"),
    ):
        wrong = json.loads(json.dumps(said))
        spoil(wrong)
        with pytest.raises(jsonschema.ValidationError):
            rules.validate(wrong)


def test_infinite_and_unknown_in_json() -> None:
    """A pull-up stated to be none is infinite ohms in the model; JSON has no such number."""
    from harnesscheck.exchange.model_json import _value

    assert _value(math.inf) == "none" and _value(None) is None
