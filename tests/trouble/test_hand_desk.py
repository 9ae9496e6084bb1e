"""What the support desk makes of an article: which readings count, what is offered beside them, what holds a line."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

import harnesscheck as hc
from harnesscheck.connector import Origin
from harnesscheck.place import Point
from harnesscheck.ringout.link import STRUCTURE
from harnesscheck.trouble import desk as module
from harnesscheck.trouble.ask import Groups
from harnesscheck.trouble.desk import _buses, _idle, _stubs, best_article, desk, listed, verdict
from harnesscheck.trouble.network import Network
from harnesscheck.trouble.readings import Row
from tests.trouble.small import OPEN, reading

DEMO = Path(__file__).parents[2] / "harnesses" / "ice-probe" / "jumper.yaml"


@pytest.fixture(scope="module")
def job() -> hc.Job:
    return hc.load(DEMO)


@pytest.fixture(scope="module")
def bench(job: hc.Job) -> Any:
    return listed(job, "bench")


def test_readings_that_can_be_right_or_wrong(job: hc.Job, bench: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """A value, limits, both or neither: only the last is no reading to judge by."""
    under, every = bench
    both = every[0]
    assert both.expected is not None and both.low is None and both.high is not None
    rows = [
        both, replace(both, id="BX1", expected=None), replace(both, id="BX2", high=None),
        replace(both, id="BX3", expected=None, high=None), replace(both, id="BX4", expected=None, low=0.1, high=None),
    ]  # fmt: skip
    monkeypatch.setattr(module, "listed", lambda *given: (under, rows))
    here = desk(job, "bench", plugs=False)
    assert here.readings == [rows[0], rows[1], rows[2], rows[4]] and here.unused == [rows[3]]
    assert here.ranker.bands == [(-OPEN, both.high), (-OPEN, both.high), (-OPEN, OPEN), (0.1, OPEN)]
    assert list(here.ranker.predictor.readings) == here.readings and here.asker.layers == []
    assert here.heard == [] and here.taken == []
    assert here.number("BX4") == 3 and here.number("BX3") is None


def test_groups_are_offered_where_plugs_are_at_hand(job: hc.Job, bench: Any) -> None:
    """Nets tied in two groups, which are to be open: 1 Mohm and more."""
    under, _ = bench
    here = desk(job, "bench")
    count = len(here.readings)
    offered = here.ranker.predictor.readings[count:]
    bits = (len(under.nets) - 1).bit_length()
    assert len(offered) == bits + bits * (bits - 1) // 2
    assert all(isinstance(one, Groups) for one in offered)
    assert here.ranker.bands[count:] == [(1e6, OPEN)] * len(offered)
    assert here.asker.numbers == list(range(count + len(offered))) and here.asker.layers
    assert here.asked(0) is here.readings[0] and here.asked(count) is offered[0]


def test_nets_that_lead_out_of_the_listed_wiring_are_tied_to_nothing(job: hc.Job) -> None:
    here = desk(job, "aircraft")
    under, _ = listed(job, "aircraft")
    points = {p for one in here.ranker.predictor.readings[len(here.readings) :] for p in (*one.a, *one.b)}
    shut = {p for n, net in enumerate(under.nets) if n not in under.open_nets for p in net}
    assert under.open_nets and points == shut


def test_what_is_said_moves_the_weights(job: hc.Job) -> None:
    plain, said = desk(job, "bench", plugs=False), desk(job, "bench", plugs=False, symptom="new unit dead, aoa")
    assert plain.heard == []
    assert said.heard == ["the new unit is dead", "it is about AOA TX", "it is about AOA SIG GND"]
    assert plain.ranker.weights == pytest.approx([t.weight for t in plain.troubles])
    ratios = {round(b / a, 6) for a, b in zip(plain.ranker.weights, said.ranker.weights, strict=True)}
    assert len(ratios) > 1


def ids(found: tuple[Any, list[Any]]) -> list[tuple[str, Any, Any]]:
    return [(r.id, r.a, r.b) for r in found[1]]


@pytest.mark.parametrize("name", ["bench", "installed", "aircraft"])
def test_readings_unless_something_else_is_said(job: hc.Job, name: str) -> None:
    """The first article, one probe on one cavity, other units plugged in; volts with the kit in the aircraft only."""
    plain = listed(job, name)
    assert plain[0].staying is (name != "bench")
    assert ids(plain) == ids(listed(job, name, "first article", False, True))
    assert ids(plain) != ids(listed(job, name, "quick")) and ids(plain) != ids(listed(job, name, "field"))
    assert (ids(plain) == ids(listed(job, name, "first article", True))) is (name == "installed")
    assert any(r.kind == "volts" for r in plain[1]) is (name == "installed")
    here = desk(job, name)
    assert here.name == name
    assert here.readings + here.unused == [r for r in plain[1] if r.judged] + [r for r in plain[1] if not r.judged]
    net, predictor = here.ranker.predictor.net, here.ranker.predictor
    assert predictor.powered is (name == "installed") and bool(net.fixed) is (name == "installed")
    assert {Point(bus) for bus in _buses(job)} <= net.index.keys() or name != "installed"
    for number, one in enumerate(here.readings):
        if one.kind == "volts":  # worked out twice: by the power-up's list, and by the network of the diagnosis
            assert one.accepts(predictor.healthy[number]), one.id
    # The breakers, and what holds the two CAN lines of the aircraft at 2.5 V: with the power on only.
    on = {*job.subject.breakers, "what holds P14-3", "what holds P14-4"} if name == "installed" else set()
    assert {p.name for p in net.pieces if p.kind == "breaker"} == on
    shut = len(plain[0].nets) - len(plain[0].open_nets)
    assert any(isinstance(one, Groups) for one in here.ranker.predictor.readings) is (shut > 1)


def test_new_units_hang_on_the_halves_of_the_kit() -> None:
    """Of the kit and mated with a unit: not with the aircraft, with nothing, or a unit on the aircraft's own half."""
    halves = {"K1": Origin.JUMPER, "K2": Origin.JUMPER, "K3": Origin.JUMPER, "A1": Origin.AIRFRAME,
              "A2": Origin.AIRFRAME, "U1": Origin.EQUIPMENT, "U2": Origin.EQUIPMENT}  # fmt: skip
    mates = {"K1": "U1", "U1": "K1", "K2": "A1", "A1": "K2", "A2": "U2", "U2": "A2"}
    harness = SimpleNamespace(
        connectors={ref: SimpleNamespace(origin=origin) for ref, origin in halves.items()}, mate_of=mates.get
    )
    assert _stubs(SimpleNamespace(subject=harness)) == {"K1"}  # type: ignore[arg-type]


def test_buses_of_known_volts(monkeypatch: pytest.MonkeyPatch) -> None:
    volts = {"B1": 28.0, "B2": None, "B3": 0.0}
    monkeypatch.setattr(module, "wiring", lambda subject: SimpleNamespace(bus_volts=volts.get))
    assert _buses(SimpleNamespace(subject=SimpleNamespace(buses=volts))) == {"B1": 28.0, "B3": 0.0}  # type: ignore[arg-type]


H, L, F, G = (Point("P1", name) for name in "HLFG")


def idle(readings: list[Any], unlisted: tuple[Point, ...] = (H, L)) -> Network:
    """Copper 1: H and its twin; 2: L; 3: F, which breaker CB1 feeds; 4: G, which nothing lists."""
    labels = {H: 1, Point("P2", "H"): 1, L: 2, F: 3, Point("CB1", "load"): 3, G: 4}
    under = SimpleNamespace(labels=labels, unlisted=dict.fromkeys(unlisted, ""),
                            harness=SimpleNamespace(breakers={"CB1": None, "CB2": None}))  # fmt: skip
    net = Network()
    _idle(under, net, readings)  # type: ignore[arg-type]
    return net


def volts(at: Point, expected: float | None) -> Any:
    return reading("IV1", "volts", a=(at,), b=(STRUCTURE,), expected=expected)


@pytest.mark.parametrize(
    ("readings", "unlisted", "sources"),
    [
        # a quiet bus: each line is held at 2.5 V through 60 ohm, the structure at 0
        ([volts(H, 2.5), volts(L, 2.4)], (H, L), {H: 2.5, L: 2.4}),
        # one source a piece of copper, and one for the reading that comes first
        ([volts(H, 2.5), volts(Point("P2", "H"), 2.4)], (Point("P2", "H"), H), {Point("P2", "H"): 2.5}),
        # expected dead, not known, on no copper, fed by a breaker of the list, on copper that leads nowhere
        ([volts(H, 0.0), volts(L, 2.5)], (H, L), {L: 2.5}), ([volts(H, None)], (H, L), {}),
        ([volts(Point("Z", "1"), 5.0), volts(L, 2.5)], (H, L), {L: 2.5}), ([volts(F, 28.0)], (F,), {}),
        ([volts(G, 5.0)], (H, L), {}), ([], (H, L), {}),
    ],
)  # fmt: skip
def test_what_holds_a_line_beyond_the_listed_wiring(
    readings: list[Any], unlisted: tuple[Point, ...], sources: dict[Point, float]
) -> None:
    net = idle(readings, unlisted)
    assert [(p.kind, p.name, p.ohms, p.new) for p in net.pieces] == [
        ("breaker", f"what holds {point}", 60.0, False) for point in sources
    ]
    held = {net.index[Point("supply", str(point))]: volts for point, volts in sources.items()}
    assert net.fixed == (held | {net.index[STRUCTURE]: 0.0} if held else {})
    for piece, point in zip(net.pieces, sources, strict=True):
        assert (piece.a, piece.b) == (net.index[Point("supply", str(point))], net.index[point])


@pytest.mark.parametrize(
    ("idents", "said"),
    [
        (["AC1", "IC1", "IC2"], "installed"), (["AC1", "AC2", "IC1"], "aircraft"), (["IC1", "BC1"], "bench"),
        (["AC1", "IC1"], "installed"), (["AC1", "BC1"], "bench"), (["", "XC1"], "bench"), (["ic1", "AC1"], "aircraft"),
    ],
)  # fmt: skip
def test_most_rows_name_the_article(idents: list[str], said: str) -> None:
    """As many of one as of the other: the one that is named first."""
    file = SimpleNamespace(head={}, rows=[Row(ident, 1.0, "", "", None) for ident in idents])
    assert best_article(file, ("bench", "installed", "aircraft"), None) == said  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("limits", "value", "word"),
    [
        # a thousandth of 50 is 0.05, a tenth of the limit 0.5; of 49 it is less, and no slip
        ((None, 0.5), 50.0, "a thousandth"), ((None, 0.5), 49.0, ""), ((None, 0.5), 500.0, "a thousandth"),
        ((None, 0.5), 501.0, ""), ((0.001, 0.5), 2.0, "a thousandth"), ((1e7, None), 2e4, "a thousand times"),
        ((1e7, None), 9e3, "a million times"), ((1e7, None), 9.0, ""), ((None, 0.5), math.inf, ""),
        ((55.0, 65.0), 0.0, ""), ((55.0, 65.0), 6e4, "a thousandth"), ((0.1, None), 0.00009, "a million times"),
    ],
)  # fmt: skip
def test_a_unit_slip(limits: tuple[float | None, float | None], value: float, word: str) -> None:
    one = reading("BC1", low=limits[0], high=limits[1])
    said = f"{word} of it would be good: look at the unit of the meter" if word else ""
    assert verdict(one, Row("BC1", value, "", "", None)) == ("wrong", said)
    volts = replace(one, unit="V")
    assert verdict(volts, Row("BC1", value, "", "", None)) == ("wrong", ""), "volts have no kilovolts here"
