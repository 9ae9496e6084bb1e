"""The network of an article whose links are written down: pieces, faces, breakers, and who is new."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck.connector import Origin
from harnesscheck.place import Point
from harnesscheck.ringout.link import STRUCTURE, Link
from harnesscheck.trouble.network import network

NEW, OLD, SPLICE = Point("J9", "1"), Point("P1", "1"), Point("SP1")
REAR, OWN = Point("J9", "1 rear"), Point("J9", "2")


def link(kind: str, name: str, a: Point, b: Point, ohms: float | None = 0.01) -> Link:
    return Link(kind, name, a, b, ohms, None, None)


def article() -> Any:
    wires = {w: SimpleNamespace(id=w, origin=o) for w, o in (("W1", Origin.JUMPER), ("W2", Origin.AIRFRAME))}
    at = {NEW: ["W1"], OLD: ["W2"], OWN: ["W1"]}
    harness = SimpleNamespace(
        wires=wires, buses={"BUS1": 0},
        connectors={"J9": SimpleNamespace(origin=Origin.JUMPER), "P1": SimpleNamespace(origin=Origin.AIRFRAME)},
        wires_at=lambda point: [wires[w] for w in at.get(point, ())],
        breakers={
            "CB1": SimpleNamespace(ref="CB1", rating=5.0, resistance=0.02, bus="BUS1"),
            "CB2": SimpleNamespace(ref="CB2", rating=None, resistance=None, bus=None),
            "CB3": SimpleNamespace(ref="CB3", rating=3.0, resistance=None, bus="BUS9"),
        },
    )  # fmt: skip
    links = (
        link("wire", "W1", REAR, SPLICE, None), link("wire", "W2", OLD, SPLICE, 0.07),
        link("splice", "SP1 W1", SPLICE, REAR), link("splice", "SP1 W2", SPLICE, OLD),
        link("contact", "mated", OLD, NEW, 0.006), link("contact", "own", OWN, REAR, 0.004),
        link("contact", "empty", Point("P1", "7"), Point("P1", "7 rear")),
        link("terminator", "T", OLD, OWN, 120.0), link("bond", "GS1", Point("GS1"), STRUCTURE, 0.001),
    )  # fmt: skip
    return SimpleNamespace(harness=harness, terminals=(OWN, OLD), links=links)


def test_pieces() -> None:
    net = network(article())
    said = [(p.kind, p.name, p.ohms, p.wire, p.new, p.at) for p in net.pieces]
    assert said == [
        ("wire", "W1", 0.05, "W1", True, ()), ("wire", "W2", 0.07, "W2", False, ()),
        ("leg", "SP1 W1", 0.01, "W1", True, (SPLICE,)), ("leg", "SP1 W2", 0.01, "W2", False, (SPLICE,)),
        ("contact", "mated", 0.006, "W1", True, (OLD, NEW)), ("contact", "own", 0.004, "W1", True, (OWN,)),
        ("contact", "empty", 0.01, "", False, (Point("P1", "7"),)), ("terminator", "T", 120.0, "", False, ()),
        ("bond", "GS1", 0.001, "", False, (Point("GS1"),)),
    ]  # fmt: skip
    assert net.fixed == {} and [net.index[OWN], net.index[OLD]] == [0, 1]
    at = net.index
    assert net.contacts == {
        OLD: (4, at[OLD], at[NEW]), NEW: (4, at[NEW], at[OLD]), OWN: (5, at[REAR], at[OWN]),
    }, "piece, node of the wire, node that the face touches: of a mated contact its mate"  # fmt: skip
    assert net.face(OLD) == at[NEW] and net.face(NEW) == at[OLD] and net.face(OWN) == at[OWN]
    count = len(at)
    assert net.face(Point("Q", "1")) == count == net.index[Point("Q", "1")]


def test_breakers_with_the_power_on() -> None:
    """A breaker has opened at twice its rating: 10 A of 5 A (from memory, as the module says)."""
    net = network(article(), {"BUS1": 28.0})
    found = {(p.name, p.ohms, p.trips, p.new) for p in net.pieces if p.kind == "breaker"}
    assert found == {
        ("CB1", 0.02, 10.0, False), ("CB1", 0.0, math.inf, False), ("CB2", 0.0, math.inf, False),
        ("CB3", 0.0, 6.0, False),
    }  # fmt: skip
    (feed,) = [p for p in net.pieces if p.name == "CB1" and p.ohms == 0.0]
    assert (feed.a, feed.b) == (net.index[Point("BUS1")], net.index[Point("CB1", "line")])
    assert net.fixed == {net.index[Point("BUS1")]: 28.0, net.index[STRUCTURE]: 0.0}
    assert network(article(), {}).fixed == {}


@pytest.mark.parametrize("volts", [None, {}])
def test_no_breaker_with_the_power_off(volts: dict[str, float] | None) -> None:
    assert not [p for p in network(article(), volts).pieces if p.kind == "breaker"]
