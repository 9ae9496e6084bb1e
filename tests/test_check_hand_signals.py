"""What hangs on a signal line, worked out by hand from small jobs (invented for the demo) and from bare records."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import check_cases
import pytest
from check_cases import AIR, BOX, KIT, Case, Swap

import harnesscheck as hc
from harnesscheck.checks import _signals
from harnesscheck.checks._signals import Bus, Line, Missing, Unit
from harnesscheck.checks._supply import Copper
from harnesscheck.circuit import Circuit
from harnesscheck.connector import Origin
from harnesscheck.device import Pin
from harnesscheck.harness import Harness
from harnesscheck.place import Place, Point
from harnesscheck.wire import Wire


def circuit(name: str, signal: str = "can", **more: Any) -> Circuit:
    return Circuit(name, Place(name), signal, **more)


def pin(cavity: str, ref: str = "A9J1", **more: Any) -> Pin:
    point = Point(ref, cavity)
    return Pin(point, Place(str(point)), f"PIN {cavity}", more.pop("signal", "can"), **more)


def line(*circuits: Circuit, pins: tuple[Pin, ...] = ()) -> Line:
    return Line(Copper(), circuits, "can", pins)


def bus(*circuits: Circuit, pins: tuple[Pin, ...] = ()) -> Bus:
    return Bus("can", (line(*circuits, pins=pins),), (Unit("A9", pins),) if pins else ())


def installed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *swaps: Swap) -> Harness:
    """The job of the page long-stub: one CAN pair led through, and a branch of each conductor to A9J1."""
    monkeypatch.chdir(tmp_path)
    for name, text in check_cases.files(Case("long-stub", swaps, "")).items():
        Path(name).write_text(text, encoding="utf-8")
    return hc.load(KIT).subject


# -- bare records --------------------------------------------------------------------------------------------------


def test_a_line_stands_where_its_circuit_is_typed_else_at_its_first_pin() -> None:
    one, two, p, q = circuit("ONE"), circuit("TWO"), pin("1"), pin("2")
    assert line(one, two, pins=(p, q)).place.label == "ONE"
    assert line(one, two).circuit is one
    assert line(pins=(p, q)).place.label == "A9J1-1"
    assert line(pins=(p, q)).circuit is None


@pytest.mark.parametrize(("directions", "talks", "listens"), [
    ((), None, True),
    ((None,), None, True),
    (("in",), False, True),
    (("out",), True, False),
    (("both",), True, True),
    (("in", "out"), True, True),
    (("in", "in"), False, True),
    (("out", "out"), True, False),
    (("out", None), True, False),
    (("in", None), False, True),
])  # fmt: skip
def test_who_talks_and_who_listens(directions: tuple[str | None, ...], talks: bool | None, listens: bool) -> None:
    unit = Unit("A9", tuple(pin(str(n), direction=said) for n, said in enumerate(directions)))
    assert unit.talks is talks
    assert unit.listens is listens


def test_what_a_unit_and_a_bus_are_called() -> None:
    two = (pin("1"), pin("2"))
    assert str(Unit("A9", two)) == "A9 (A9J1-1 and A9J1-2)"
    assert Unit("A9", two).place.label == "A9J1-1"
    both = Bus("can", (line(circuit("H"), circuit("H2")), line(circuit("L"))), ())
    assert (both.name, both.place.label, [c.name for c in both.circuits]) == ("H/H2/L", "H", ["H", "H2", "L"])
    assert bus(pins=two).name == "the line of A9J1-1 and A9J1-2"


@pytest.mark.parametrize(("said", "agreed", "count"), [
    ((), None, 0),  # between two new units nothing of the aircraft hangs on it
    ((None,), None, None),
    ((2,), 2, 2),
    ((2, 2), 2, 2),
    ((2, None), 2, 2),
    ((2, 3), None, None),
    ((0,), 0, 0),
])  # fmt: skip
def test_what_the_circuits_of_a_bus_agree_on(
    said: tuple[int | None, ...], agreed: int | None, count: int | None
) -> None:
    one = bus(*(circuit(f"C{n}", receivers=value) for n, value in enumerate(said)), pins=(pin("1"),))
    assert one.said("receivers") == agreed
    assert one.count("receivers") == count
    missing = Missing(one)
    assert missing.count("receivers") == (count if said else 0)
    assert bool(missing) is (bool(said) and agreed is None)


SPELLED = {
    "most_receivers": "most receivers", "input_resistance": "input resistance",
    "source_resistance": "source resistance",
    "driver_current": "driver current", "unit_load": "unit load", "bus_length": "bus length",
    "stub_length": "stub length", "pull_up": "pull-up", "pull_up_supply": "pull-up supply", "receivers": "receivers",
    "rate": "rate", "terminators": "terminators",
}  # fmt: skip
"""Field of a circuit to the key that a person writes into the airframe file."""


@pytest.mark.parametrize("key", SPELLED)
def test_what_is_missing_is_asked_for_by_the_key_of_the_file(key: str) -> None:
    missing = Missing(bus(circuit("H"), circuit("L")))
    assert missing.circuit(key) is None
    assert missing.circuit(key) is None  # asked twice, said once
    answer = missing.answer("the load")
    assert (answer.missing, answer.remedy) == (f"the load: not stated: {SPELLED[key]} of H", f"give {SPELLED[key]}:")
    assert answer.place.label == "H"


def test_a_terminator_of_a_unit_is_asked_for_by_the_key_of_the_file() -> None:
    one = bus(circuit("H"), pins=(pin("1"), pin("2")))
    missing = Missing(one)
    assert not missing
    assert missing.unit(one.units[0], "terminator_state") is None
    missing.note("terminated", "P1-1")
    answer = missing.answer("the ends")
    assert answer.missing == "the ends: not stated: terminator state of A9J1-1; terminated of P1-1"
    assert answer.remedy == "give terminator state: and terminated:"


@pytest.mark.parametrize("values", [(2, 3), (2, 3, None), (None, 3, 2)])
def test_what_is_stated_in_two_ways_is_said(values: tuple[int | None, ...]) -> None:
    missing = Missing(bus(*(circuit(f"C{n}", receivers=value) for n, value in enumerate(values))))
    assert missing.circuit("receivers") is None
    answer = missing.answer("the load")
    assert answer.missing == "the load: stated in two ways: receivers at C0 and its partner"
    assert answer.remedy == "state it once"


def test_missing_and_stated_in_two_ways_are_said_together() -> None:
    missing = Missing(bus(circuit("H", receivers=1), circuit("L", receivers=2)))
    missing.circuit("rate")
    missing.circuit("receivers")
    assert missing.answer("x").missing == "x: not stated: rate of H; stated in two ways: receivers at H and its partner"


@pytest.mark.parametrize(("value", "words"), [
    (120.0, "120 ohm"), (0.5, "0.5 ohm"), (999.0, "999 ohm"), (1000.0, "1 kohm"), (1050.0, "1.05 kohm"),
    (19900.0, "19.9 kohm"), (1e6, "1 Mohm"), (1.05e6, "1.05 Mohm"), (2.2e6, "2.2 Mohm"),
])  # fmt: skip
def test_ohms_in_words(value: float, words: str) -> None:
    assert _signals.ohms(value) == words


@pytest.mark.parametrize(("value", "words"), [
    (9600.0, "9600 bit/s"), (9999.0, "9999 bit/s"), (10000.0, "10 kbit/s"), (10500.0, "10.5 kbit/s"),
    (500e3, "500 kbit/s"), (1e6, "1 Mbit/s"), (1.05e6, "1.05 Mbit/s"),
])  # fmt: skip
def test_bits_in_words(value: float, words: str) -> None:
    assert _signals.bits(value) == words


# -- one piece of copper, several names ----------------------------------------------------------------------------


@pytest.mark.parametrize(("signals", "nets", "one"), [
    (("can",), {"A": 5, "B": 7}, True),  # B is the cavity of another circuit
    (("can", "can"), {"A": 5, "B": 5, "C": 6}, True),
    (("can", "can"), {"A": 5, "B": 6, "C": 6}, False),
    (("can", "discrete"), {"A": 5, "B": 5, "C": 6}, False),
    (("can", "can", "can"), {"A": 5, "B": 5, "C": 5}, True),
])  # fmt: skip
def test_several_names_of_what_was_one_piece_before(signals: tuple[str, ...], nets: dict[str, int], one: bool) -> None:
    """Circuits A, B, C stand on cavity P1-A, P1-B, P1-C, each in the net of that number before the kit came."""
    cavities = [(None, SimpleNamespace(circuit=name, point=Point("P1", name))) for name in nets]
    before = SimpleNamespace(cavities=lambda: cavities, nets=SimpleNamespace(of=lambda point: nets[point.cavity]))
    copper = Copper(circuits={name: circuit(name, said) for name, said in zip("ABC", signals, strict=False)})
    harness: Any = SimpleNamespace(before=before)
    assert _signals._one_before(harness, copper) is one
    harness.before = None
    assert _signals._one_before(harness, copper) is False


AIRCRAFT, NEW = SimpleNamespace(origin=Origin.AIRFRAME), SimpleNamespace(origin=Origin.JUMPER)


@pytest.mark.parametrize(("ends", "more", "touches"), [
    ((("P5", "1"), ("P6", "1")), {}, False),  # from one half of the kit to another, and nothing plugged in
    ((("P5", "1"), ("J1", "1")), {}, True),
    ((("J1", "1"), ("P5", "1")), {}, True),
    ((("P5", "1"), ("P7", "1")), {}, True),  # J7 of the aircraft is plugged into P7
    ((("P5", "1"), ("SP1", "")), {}, False),
    ((("P5", "1"), ("SP1", "")), {"grounds": [1]}, True),
    ((("P5", "1"), ("SP1", "")), {"buses": ["BUS1"]}, True),
    ((("P5", "1"), ("SP1", "")), {"loads": [1]}, True),
    ((("P5", "1"), ("SP1", "")), {"named": [1]}, True),
])  # fmt: skip
def test_copper_that_leads_into_the_aircraft(
    ends: tuple[tuple[str, str], tuple[str, str]], more: dict[str, Any], touches: bool
) -> None:
    harness: Any = SimpleNamespace(
        connectors={"J1": AIRCRAFT, "J7": AIRCRAFT, "P5": NEW, "P6": NEW, "P7": NEW},
        mate_of={"P7": "J7", "J7": "P7"}.get,
    )
    wire = Wire("W1", Point(*ends[0]), Point(*ends[1]), Origin.JUMPER)
    assert _signals._touches_aircraft(harness, Copper(wires=[wire], **more)) is touches


# -- the buses of a job --------------------------------------------------------------------------------------------

NO_PAIR: Swap = (AIR, ", pair: BUS", "")
NO_H: Swap = (AIR, "line: H, ", "")
NO_L: Swap = (AIR, "line: L, ", "")
NO_LINES: list[Swap] = [(AIR, "signal: can, line: H", "signal: can"), (AIR, "signal: can, line: L", "signal: can")]
JOINED: Swap = (KIT, "wires:\n", "wires:\n  W9: {from: SP1, to: SP2, length: 50 mm}\n")
TWO_NAMES: Swap = (
    AIR,
    "  J1:\n    insert: DE-9\n    cavities:\n      1: CAN H",
    "  J1:\n    cavities:\n      1: CAN HI",
)
HI: Swap = (AIR, "  CAN L: {", "  CAN HI: {signal: can, line: H, pair: BUS}\n  CAN L: {")


@pytest.mark.parametrize(("swaps", "names"), [
    ([], ["CAN H/CAN L"]),
    ([NO_PAIR], ["CAN H/CAN L"]),  # lines H and L leave no doubt
    (NO_LINES, ["CAN H/CAN L"]),  # the pair is named
    ([NO_PAIR, *NO_LINES], ["CAN H", "CAN L"]),  # nobody knows
    ([NO_PAIR, (AIR, "line: L", "line: H")], ["CAN H", "CAN L"]),  # two conductors H are no pair
    ([JOINED], []),  # one piece of copper now: other checks say so
    ([TWO_NAMES, HI], ["CAN H/CAN HI/CAN L"]),  # one piece of copper with two names, as in the aircraft before
    ([(AIR, "signal: can", "signal: ground")], []),
])  # fmt: skip
def test_the_buses_of_a_job(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, swaps: list[Swap], names: list[str]
) -> None:
    found = _signals.buses(installed(tmp_path, monkeypatch, *swaps))
    assert [one.name for one in found] == names
    assert [[unit.ref for unit in one.units] for one in found] == [["A9"]] * len(names)


def test_a_pin_that_is_to_stay_open_is_no_pin_of_the_bus(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    no: Swap = (BOX, "line: L}", "line: L, connect: no}")
    found = _signals.buses(installed(tmp_path, monkeypatch, no))
    assert [str(unit) for one in found for unit in one.units] == ["A9 (A9J1-1)"]
    ground: Swap = (BOX, "signal: can, line: L}", "signal: ground}")
    found = _signals.buses(installed(tmp_path, monkeypatch, ground))
    assert [str(unit) for one in found for unit in one.units] == ["A9 (A9J1-1)"]


def test_copper_of_several_circuits_is_said_once_where_a_signal_pin_hangs_on_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    joined = installed(tmp_path, monkeypatch, JOINED)
    said = list(_signals.mixed(joined, {"can"}))
    assert [answer.place.label for answer in said] == ["CAN H"]
    assert said[0].missing.startswith("CAN H and CAN L are one piece of copper")
    assert list(_signals.mixed(joined, {"rs485"})) == []
    assert list(_signals.mixed(installed(tmp_path, monkeypatch), {"can"})) == []
    assert list(_signals.mixed(installed(tmp_path, monkeypatch, TWO_NAMES, HI), {"can"})) == []
    for pins in (("signal: can, line", "signal: ground, line"), ("direction: both}", "direction: both, connect: no}")):
        no_pin: list[Swap] = [JOINED, (BOX, *pins), (KIT, "  W2C: {from: SP2, to: P102-2, length: 260 mm}\n", "")]
        assert list(_signals.mixed(installed(tmp_path, monkeypatch, *no_pin), {"can"})) == []


def of(harness: Harness, name: str) -> Line:
    return next(one for found in _signals.buses(harness) for one in found.lines if one.circuits[0].name == name)


def test_the_trunk_and_the_stub_of_a_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """P1-1, J101-1, SP1, P101-1, J1-1 is the trunk; W1C of 250 mm is the stub."""
    harness = installed(tmp_path, monkeypatch)
    high = of(harness, "CAN H")
    (trunk,) = _signals.trunks(harness, high)
    assert ([w.id for w in trunk.wires], trunk.unknown) == (["W1A", "W1B"], [])
    assert trunk.length == pytest.approx(0.4)
    assert _signals.on_trunk(harness, high) == {Point("J101", "1"), Point("SP1"), Point("P101", "1")}
    branch = _signals.stub(harness, high, high.pins[0])
    assert branch is not None
    assert ([w.id for w in branch.wires], branch.end) == (["W1C"], Point("SP1"))
    assert branch.length == pytest.approx(0.25)


def test_a_line_that_is_not_led_through_has_no_trunk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for wire in (
        "  W1A: {from: J101-1, to: SP1, length: 200 mm}\n",
        "  W1B: {from: SP1, to: P101-1, length: 200 mm}\n",
    ):
        harness = installed(tmp_path, monkeypatch, (KIT, wire, ""))
        high = of(harness, "CAN H")
        assert _signals.trunks(harness, high) == []
        assert _signals.stub(harness, high, high.pins[0]) is None


def test_wiring_of_the_aircraft_is_trunk_all_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """X1 is a splice of the aircraft behind J1: from there on nothing is a stub, for the aircraft had it before."""
    own: Swap = (AIR, "title: One bus\n", "title: One bus\nsplices: {X1: {}}\nwires: {X2: {from: J1-1, to: X1}}\n")
    tapped: Swap = (KIT, "W1C: {from: SP1, to: P102-1, length: 250 mm}", "W1C: {from: X1, to: P102-1}")
    harness = installed(tmp_path, monkeypatch, own, tapped)
    high = of(harness, "CAN H")
    trunk = {Point("J101", "1"), Point("SP1"), Point("P101", "1"), Point("J1", "1"), Point("X1")}
    assert _signals.on_trunk(harness, high) == trunk
    branch = _signals.stub(harness, high, high.pins[0])
    assert branch is not None
    assert (branch.end, branch.unknown, branch.length) == (Point("X1"), ["W1C"], 0.0)
