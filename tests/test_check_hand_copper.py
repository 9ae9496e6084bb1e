"""What the checks ask of one piece of copper, of pairs and of pins: bare records, answers worked out by hand."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from made_up import FIRM, NEW, OLD, SHEET, SOFT, cavity, half, harness, point, wire

from harnesscheck.checks import _pairs, _pinmap, _pins, _power, _supply, _through
from harnesscheck.checks._shields import Reach
from harnesscheck.checks._supply import Copper, coppers
from harnesscheck.circuit import Circuit, Tap
from harnesscheck.connector import Use
from harnesscheck.device import Breaker, Bus, Pin
from harnesscheck.parts import Fact
from harnesscheck.place import Place, Point
from harnesscheck.source import Source
from harnesscheck.splice import Ground
from harnesscheck.units import Gauge
from harnesscheck.wire import Cable

# -- one piece of copper -------------------------------------------------------------------------------------------


def test_supply_what_a_piece_of_copper_is_made_of() -> None:
    """Two nets: breaker, wire, cavity J1-1 with its wire size; and a stud with J1-2. B1 feeds CB1, B2 nothing."""
    halves = (half("J1", OLD, cavity("J1-1", circuit="LAMP", gauge=Gauge(awg=20), use=Use.LIVE), cavity("J1-2"),
                   cavity("J1-3", use=Use.SPARE)),
              half("P1", NEW, cavity("P1-7"), cavity("P1-8", gauge=Gauge(awg=24), use=Use.LIVE)))  # fmt: skip
    one = harness(
        wire("L1", "CB1-load", "J1-1", OLD), wire("W1", "J1-2", "GS1"), wire("W2", "B1", "P1-7"),
        halves=halves,
        circuits={"LAMP": Circuit("LAMP", Place("LAMP"), "power", breaker="CB2")},
        breakers={name: Breaker(name, Place(name), OLD, bus="B1") for name in ("CB1", "CB2")},
        buses={"B1": Bus("B1", Place("B1"), OLD, volts=14.0), "B2": Bus("B2", Place("B2"), OLD)},
        grounds={"GS1": Ground("GS1", Place("GS1"), OLD)},
    )  # fmt: skip
    found = {str(p): coppers(one)[one.nets.of(p) or 0] for p in one.points}
    lamp, stud, bus, spare = (found[name] for name in ("J1-1", "J1-2", "P1-7", "J1-3"))
    assert ([w.id for w in lamp.wires], list(lamp.circuits), lamp.new) == (["L1"], ["LAMP"], [])
    assert [b.ref for b in lamp.loads] == ["CB1"]  # by copper
    assert [b.ref for b in lamp.named] == ["CB2"]  # by name
    assert [b.ref for b in lamp.breakers] == ["CB1"]
    assert (lamp.volts, lamp.buses, lamp.grounds, lamp.is_supply) == ([14.0], [], [], True)
    assert [(label, str(gauge)) for label, gauge, _ in lamp.gauges] == [("the wire at J1-1", "20 AWG")]
    assert (lamp.unsaid, stud.unsaid, spare.unsaid, bus.unsaid) == ([], [Point("J1", "2")], [], [])
    assert ([g.ref for g in stud.grounds], stud.volts, stud.is_supply, stud.breakers) == (["GS1"], [], False, [])
    assert (bus.buses, bus.volts, bus.gauges, [w.id for w in bus.new]) == (["B1"], [14.0], [], ["W2"])
    assert found["P1-8"].gauges == []  # a size at a cavity of the kit is no existing wire
    assert (found["B2"].buses, found["B2"].volts) == (["B2"], [])
    assert (found["CB2-load"].loads[0].ref, found["CB2-line"].loads) == ("CB2", [])
    assert (lamp.called(), stud.called()) == ("LAMP", "the circuit of W1")
    both = Copper(wires=[wire("W8", "A", "B"), wire("W9", "A", "B")])
    assert both.called() == "the circuit of W8"


@pytest.mark.parametrize(("signal", "supply"), [("power", True), ("lighting", True), ("ground", False), (None, False)])
def test_supply_by_the_class_of_a_circuit(signal: str | None, supply: bool) -> None:
    other, mine = Circuit("A", Place("A"), "ground"), Circuit("B", Place("B"), signal)
    assert Copper(circuits={"A": other, "B": mine}).is_supply is supply


def rated(number: str, value: float, source: Source) -> _supply.Rated:
    return _supply.Rated(number, value, source)


@pytest.mark.parametrize(("ratings", "words", "value", "source"), [
    ([rated("X", 150, FIRM)], "wire X is rated 150 C", 150, FIRM),
    ([rated("X", 150, SOFT)], "wire X is rated 150 C", 150, SOFT),
    ([rated("X", 150, FIRM), rated("X", 150, FIRM)], "wire X is rated 150 C", 150, FIRM),
    ([rated("Y", 200, FIRM), rated("X", 150, FIRM)], "wires X and Y are rated 150 C or more", 150, FIRM),
    ([rated("Y", 150, FIRM), rated("X", 150, FIRM)], "wires Y and X are rated 150 C", 150, FIRM),
    ([rated("Y", 200, FIRM), rated("X", 150, SOFT)], "wires X and Y are rated 150 C or more", 200, FIRM),
    ([rated("Y", 200, SOFT), rated("X", 150, SOFT)], "wires X and Y are rated 150 C or more", 150, SOFT),
    ([rated("Z", 200, FIRM), rated("Y", 150, SHEET), rated("X", 150, FIRM)], "wires Y, X and Z are rated 150 C or more",
     150, SHEET),
])  # fmt: skip
def test_supply_the_lowest_rating(ratings: list[_supply.Rated], words: str, value: float, source: Source) -> None:
    assert _supply.lowest(ratings, "C") == (words, value, source)


@pytest.mark.parametrize(("first", "second", "weaker"), [
    (None, SHEET, SHEET), (FIRM, SHEET, SHEET), (SOFT, SHEET, SOFT), (FIRM, SOFT, SOFT),
])  # fmt: skip
def test_supply_the_weaker_of_two_facts(first: Source | None, second: Source, weaker: Source) -> None:
    assert _supply._weaker(Fact("1", first) if first else None, Fact("2", second)) is weaker


@pytest.mark.parametrize(("kind", "cable", "missing"), [
    (None, None, "the wire type is not stated"),
    (None, Cable("C1", Place("C1"), NEW), "the type of cable C1 is not stated"),
    (None, Cable("C1", Place("C1"), NEW, type="XYZ"), "which wire cable XYZ is made of is not known"),
    ("XYZ", None, "the heat of wire XYZ is not known"),
])  # fmt: skip
def test_supply_what_is_missing_for_a_rating(kind: str | None, cable: Cable | None, missing: str) -> None:
    one = wire("W1", "A", "B", type=kind, cable="C1" if cable else None)
    found = _supply.rating(harness(one, cables={"C1": cable} if cable else {}), one, "temperature", "heat")
    assert isinstance(found, _supply.Unrated)
    assert found.missing == missing
    known = _supply.rating(harness(one), wire("W1", "A", "B", type="M22759/16-22-9"), "temperature", "heat")
    assert isinstance(known, _supply.Rated)
    assert (known.number, known.value) == ("M22759/16-22-9", 150.0)  # SAE AS22759/16, title block


@pytest.mark.parametrize(("ones", "named", "breakers", "buses"), [
    (["CB1"], None, ["CB1"], ["B1"]),
    (["CB1"], "CB2", ["CB1"], ["B1"]),  # copper before names
    ([], "CB2", ["CB2"], ["B2"]),
    ([], "CB9", [], []),
    ([], None, [], []),
])  # fmt: skip
def test_power_breakers_and_buses_of_a_load(
    ones: list[str], named: str | None, breakers: list[str], buses: list[str]
) -> None:
    known = {f"CB{n}": Breaker(f"CB{n}", Place(""), OLD, bus=f"B{n}") for n in (1, 2, 3)}
    one = Copper(loads=[known[name] for name in ones])
    stub: Any = SimpleNamespace(
        breakers=known, buses={"B1": 1, "B2": 1}, views={coppers.__wrapped__: [one]},  # type: ignore[attr-defined]
        nets=SimpleNamespace(of=lambda _: 0),
    )  # fmt: skip
    load: Any = SimpleNamespace(at=Point("J1", "1"), circuit=Circuit("C", Place("C"), breaker=named) if named else None)
    assert [b.ref for b in _power.breakers_of(stub, load)] == breakers
    assert _power.buses_of(stub, load) == buses
    one.buses.append("B0")
    assert _power.buses_of(stub, load) == ["B0", *buses]
    load.at = None  # nobody knows where it hangs: its name tells
    assert [b.ref for b in _power.breakers_of(stub, load)] == (["CB2"] if named == "CB2" else [])


# -- pairs ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("reaches", "joined"), [
    ((["J1-1", "SP1"], ["J1-2", "SP2"]), False),
    ((["J1-1", "SP1"], ["J1-2", "J1-1"]), True),
    ((["J1-1", "GS1"], ["J1-2", "GS1"]), False),  # a stud joins nothing here
    ((["J1-1"], ["J1-2"], ["J1-1"]), True),
    ((["J1-1"], ["J1-2"], ["J1-2"]), True),
    ((["J1-1"], ["J1-2"], ["J1-3"]), False),
])  # fmt: skip
def test_pairs_that_are_one_piece_of_copper(reaches: tuple[list[str], ...], joined: bool) -> None:
    members = [_pairs.Member("m", Place("m"), Reach(tuple(map(point, points)), ())) for points in reaches]
    assert _pairs.Pair("p", "can", tuple(members)).joined is joined


@pytest.mark.parametrize(("circuits", "led", "found", "asked"), [
    ({"H": ("can", "H", "BUS"), "L": ("can", "L", "BUS")}, "HL", ["BUS"], 0),
    ({"H": ("can", "H", "BUS"), "L": ("can", "L", "BUS")}, "L", ["BUS"], 0),  # the kit has one conductor of it
    ({"H": ("can", "H", "BUS"), "L": ("can", "L", "BUS")}, "", [], 0),
    ({"H": ("can", "H", "BUS"), "X": ("can", "L", None)}, "H", [], 1),  # its partner is not named
    ({"H": ("can", "H", None), "L": ("can", "L", None)}, "HL", ["can"], 0),
    ({"H": ("can", "H", None), "L": ("can", "H", None)}, "HL", [], 1),
    ({"H": ("can", "H", None), "L": ("can", "L", None), "M": ("can", "L", None)}, "HLM", [], 1),
    ({"H": ("can", "H", None), "L": ("can", "L", None)}, "H", [], 1),
    ({"H": ("discrete", "H", None), "L": ("discrete", "L", None)}, "HL", [], 0),  # no class of pairs
    ({"H": ("discrete", None, "TW"), "L": ("discrete", None, "TW")}, "HL", ["TW"], 0),
    ({"H": ("shield", None, "TW"), "L": ("can", None, "TW"), "M": ("can", None, "TW")}, "HLM", ["TW"], 0),
    ({"A": ("can", "H", "AIR"), "B": ("can", "L", "AIR"), "H": ("can", "H", "BUS"), "L": ("can", "L", "BUS")}, "HL",
     ["BUS"], 0),
])  # fmt: skip
def test_pairs_of_circuits_that_the_kit_touches(
    circuits: dict[str, tuple[str, str | None, str | None]], led: str, found: list[str], asked: int
) -> None:
    """Circuit H stands on J1-H and so on; the kit leads those of ``led`` on."""
    halves = (half("J1", OLD, *(cavity(f"J1-{name}", circuit=name, use=Use.LIVE) for name in circuits)),)
    kinds = {name: Circuit(name, Place(name), s, line=n, pair=p) for name, (s, n, p) in circuits.items()}
    one = harness(*(wire(f"W{name}", f"J1-{name}", f"P9-{name}") for name in led), halves=halves, circuits=kinds)
    known, missing = _pairs.pairs(one)
    assert [pair.name for pair in known] == found
    assert len(missing) == asked
    if found:
        assert [m.name for m in known[0].members] == [n for n in circuits if n in "HLM" and circuits[n][0] != "shield"]
        assert known[0].signal == next(s for n, (s, *_) in circuits.items() if n in "HLM" and s != "shield")


# -- pins ----------------------------------------------------------------------------------------------------------

CIRCUITS = {
    name: Circuit(name, Place(name), signal, line=line)
    for name, signal, line in (("LAMP", "power", None), ("FAN", "power", None), ("H", "can", "H"), ("L", "can", "L"))
}


def pin(number: str, signal: str = "power", line: str | None = None, **more: Any) -> Pin:
    return Pin(Point("A9J1", number), Place(f"A9J1-{number}"), "PIN", signal, line, **more)


@pytest.mark.parametrize(("one", "tap", "wanted"), [
    (pin("1", "can", "H"), None, "H"),  # the only circuit that suits it
    (pin("1", "can", "L"), "H", "L"),
    (pin("1", "power"), None, ""),  # two suit it
    (pin("1", "power"), "FAN", "FAN"),
    (pin("1", "video"), None, ""),
    (pin("1", "video"), "H", "H"),
    (pin("1", "can", "H", connect=False), "H", ""),
])  # fmt: skip
def test_pins_the_circuit_that_is_meant(one: Pin, tap: str | None, wanted: str) -> None:
    taps = {one.point: Tap(one.point, tap, Place("t"))} if tap else {}
    stub: Any = SimpleNamespace(circuits=CIRCUITS, taps=taps)
    assert _pins._wanted(stub, one) == wanted


@pytest.mark.parametrize(("got", "astray"), [("L", True), ("H", False), ("", False), ("FAN", False)])
def test_pins_that_got_what_another_wants(got: str, astray: bool) -> None:
    """One wants H, the other L: only who got L is led astray to the other."""
    stub: Any = SimpleNamespace(circuits=CIRCUITS, taps={})
    one, two = _pins.Wrong(pin("1", "can", "H"), "w", got), _pins.Wrong(pin("2", "can", "L"), "w", "FAN")
    assert _pins._astray(stub, one, two) is astray
    nobody = _pins.Wrong(pin("3", "video"), "w", "x")
    assert _pins._astray(stub, _pins.Wrong(pin("1", "can", "H"), "w", ""), nobody) is False


def test_pins_the_wires_that_face_one() -> None:
    """P102 is plugged into A9J1: W1 of the kit and X1 of the aircraft end there."""
    stub: Any = SimpleNamespace(
        mate_of={"A9J1": "P102"}.get,
        wires_at=lambda p: {"P102-1": (wire("X1", "P102-1", "B", OLD), wire("W1", "P102-1", "B"))}.get(str(p), ()),
    )
    assert [w.id for w in _pins.wires_facing(stub, pin("1"))] == ["W1"]
    assert _pins.wires_facing(stub, pin("2")) == []
    assert _pins.wires_facing(stub, Pin(Point("A8J1", "1"), Place("p"), "PIN", "power")) == []


# -- pin maps ------------------------------------------------------------------------------------------------------


def pins(goes: str) -> _pinmap.PinMap:
    """``12 21``: cavity 1 leads to 2, cavity 2 to 1."""
    led = {pair[0]: pair[1] for pair in goes.split()}
    return _pinmap.PinMap("P1", "J1", half("P1", OLD), ("J101",), led, {})


@pytest.mark.parametrize(("goes", "layout", "fit"), [
    ("14 23 32 41", "14 23 32 41", ["1", "2", "3", "4"]),
    ("13 23 32 41", "14 23 32 41", None),  # three of four are too few to name it
    ("11 24 33 42 55", "15 24 33 42 51", None),
    ("14 23 32 41 56", "14 23 32 41", ["1", "2", "3", "4"]),  # four of five
    ("14 23 32 41 56 65", "14 23 32 41", ["1", "2", "3", "4"]),  # four of six are two thirds
    ("14 23 32 41 56 67 75", "14 23 32 41", None),  # four of seven are less
    ("14 23 32 41 55", "14 23 32 41 55", ["1", "2", "3", "4"]),  # what is not moved does not count
])  # fmt: skip
def test_pinmap_how_many_cavities_have_to_fit(goes: str, layout: str, fit: list[str] | None) -> None:
    assert _pinmap.fitting(pins(goes), {pair[0]: pair[1] for pair in layout.split()}) == fit


@pytest.mark.parametrize(("shift", "found"), [(0.0, "2"), (0.149, "2"), (0.15, "2"), (0.151, None)])
def test_pinmap_how_near_a_mirror_cavity_has_to_be(shift: float, found: str | None) -> None:
    """Faces are read from a drawing: 0.15 of the insert radius is near enough."""
    assert _pinmap._nearest({"1": (0.0, 0.0), "2": (1.0, 0.0)}, 1.0, shift) == found


@pytest.mark.parametrize(("names", "counts", "words", "twin"), [
    (("1", "2", "3"), ("3",), "one row", {"1": "3", "2": "2", "3": "1"}),
    (("1", "2", "3"), ("2", "1"), "rows of 2 and 1", {"1": "2", "2": "1", "3": "3"}),
])  # fmt: skip
def test_pinmap_what_a_mirror_image_was_read_from(
    names: tuple[str, ...], counts: tuple[str, ...], words: str, twin: dict[str, str]
) -> None:
    record = SimpleNamespace(value=lambda _: counts, items=lambda _: counts)
    stub: Any = SimpleNamespace(part=lambda *_: record)
    half: Any = SimpleNamespace(connector=SimpleNamespace(says=lambda _: "X", names=names))
    assert _pinmap.mirrored(stub, half) == (twin, words)


@pytest.mark.parametrize(("rest", "words"), [
    (["3"], "pin 3 does"), (["3", "4"], "pins 3 and 4 do"),
])  # fmt: skip
def test_pinmap_what_does_not_fit(rest: list[str], words: str) -> None:
    assert _pinmap._counted(rest, "pin") == words
    assert _pinmap._counted(rest, "cavity") == words.replace("pins", "cavities").replace("pin ", "cavity ")


# -- through a jumper ----------------------------------------------------------------------------------------------


def test_through_the_points_at_the_opened_pair() -> None:
    stub: Any = SimpleNamespace(opened=("P1", "J1"))
    assert _through.opened(stub, [Point("X", "1"), Point("J1", "1")]) == [Point("J1", "1")]
    assert _through.opened(stub, [Point("X", "1"), Point("Y", "1")]) == [Point("X", "1"), Point("Y", "1")]


def test_through_where_the_cavities_lead() -> None:
    """P1-1 and J1-1 are one net; P1-2 leads to J1-3, P1-3 to J1-2 and J1-4, P1-5 nowhere; Y1 is no opened half."""
    nets = {"P1-1": 1, "J1-1": 1, "P1-2": 2, "J1-3": 2, "P1-3": 3, "J1-2": 3, "J1-4": 3, "P1-5": 5, "Y1-1": 2}
    stub: Any = SimpleNamespace(opens=(("P1", "J1"),), nets=SimpleNamespace(of=lambda p: nets[str(p)]))
    assert _through.led(stub, [point(name) for name in ("Y1-1", *nets)]) == [
        "P1-2 leads to J1-3", "P1-3 leads to J1-2 and J1-4",
    ]  # fmt: skip


@pytest.mark.parametrize(("ends", "crosses"), [
    (("J101-1", "P101-2"), True), (("P101-1", "J101-2"), True), (("J101-1", "P101-1"), False),
    (("J101-1", "P102-2"), False), (("J201-1", "P201-2"), True), (("J101-1", "P201-2"), False),
])  # fmt: skip
def test_through_a_wire_that_crosses_over(ends: tuple[str, str], crosses: bool) -> None:
    mates = {"J101": "P1", "P101": "J1", "P102": "A9J1", "J201": "P2", "P201": "J2"}
    stub: Any = SimpleNamespace(opens=(("P1", "J1"), ("P2", "J2")), mate_of=mates.get)
    assert _through._crosses(stub, wire("W1", *ends)) is crosses
