"""Splices, places along the trunk, cost, marks and words of a kit: own arithmetic on made-up parts."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck.jumper import marks, reasons, splicing
from harnesscheck.jumper.cost import WEIGHTS, Cost, of_kit
from harnesscheck.jumper.kit import Half, Joint, Kit, Lead, Section, Sheath, up
from harnesscheck.jumper.score import NOTHING, kin, part_behind, plus
from harnesscheck.jumper.stations import TooShortError, stations
from harnesscheck.jumper.terminators import terminators
from harnesscheck.place import Point
from harnesscheck.units import Gauge
from tests.jumper.small import Made, Shelf, conductors

G = {n: Gauge(awg=n) for n in (24, 22, 20, 18, 16)}
SPLICES = [
    Made("BIG", cma=(1.0e-6, 3.0e-6), sealed=True, sleeve_length=0.030),
    Made("SMALL", cma=(0.4e-6, 0.8e-6), sealed=True, sleeve_length=0.028),
    Made("MIDDLE", cma=(0.6e-6, 1.2e-6), sealed=True, sleeve_length=0.020, most_wires=3),
    Made("OPEN", cma=(0.6e-6, 1.0e-6), sealed=False, sleeve_length=0.026),
    Made("SOFT", "cma", cma=(0.3e-6, 0.7e-6), sealed=True),
    Made("STUB", cma=(0.1e-6, 9e-6), sealed=True, style="stub"),
    Made("BANNED", cma=(0.1e-6, 9e-6), sealed=True, restriction="not for aircraft"),
    Made("BLANK", sealed=True),
]
DRAWER: Any = Shelf(conductor=conductors(), splice=SPLICES)


@pytest.mark.parametrize(
    ("sizes", "wet", "numbers"),
    [
        # 0.6 against 0.4: both ends in range; nothing else takes 0.4 but SOFT, which nobody has confirmed
        ((20, 22), True, ["SMALL", "SOFT"]),
        # 0.6 | 0.6 exactly at the lower limit of MIDDLE; OPEN only where it is dry
        ((20, 20), True, ["SMALL", "MIDDLE", "SOFT"]), ((20, 20), False, ["SMALL", "OPEN", "MIDDLE", "SOFT"]),
        ((20, 20), None, ["SMALL", "MIDDLE", "SOFT"]),
        # 1.2 | 0.6 + 0.4: MIDDLE; BIG at its lower limit
        ((16, 20, 22), True, ["MIDDLE", "BIG"]),
        # 0.6 + 0.6 | 0.6 in MIDDLE, three wires; of four it takes none; BIG: 1.2 | 1.2
        ((20, 20, 20), True, ["MIDDLE"]), ((20, 20, 20, 20), True, ["BIG"]),
        ((24, 24), True, []), ((20, 14), True, []), ((18, 18), True, ["MIDDLE", "BIG"]),
        # of three thin ones two go together: 0.4 | 0.2 + 0.2
        ((22, 24, 24), True, ["SMALL", "SOFT"]),
        ((20,), True, []),
    ],
)  # fmt: skip
def test_splices_that_take_these_wires(sizes: tuple[int, ...], wet: bool | None, numbers: list[str]) -> None:
    found = splicing.parts(DRAWER, [Gauge(awg=n) for n in sizes], wet)
    assert [part.number for part in found] == numbers


def test_doubts_and_room_of_a_splice() -> None:
    """SOFT: the range is not firm and no sleeve is known: two doubts, and 25 mm of room; 28 mm are 30 on a rule."""
    by_name = {p.number: p for p in splicing.parts(DRAWER, [G[20], G[20]], False)}
    assert {name: p.doubts for name, p in by_name.items()} == {"SMALL": 0, "OPEN": 0, "MIDDLE": 0, "SOFT": 2}
    assert {name: p.room for name, p in by_name.items()} == {"SMALL": 30, "OPEN": 30, "MIDDLE": 25, "SOFT": 25}


def test_areas() -> None:
    assert splicing.area(DRAWER, G[20]) == 0.6e-6 and splicing.area(DRAWER, Gauge(awg=8)) is None
    assert splicing.area(DRAWER, Gauge(mm2=0.75)) == pytest.approx(0.75e-6)


@pytest.mark.parametrize(
    ("metres", "step", "said"), [(0.0, 5, 0), (0.001, 5, 5), (0.005, 5, 5), (0.0050001, 5, 5), (0.0051, 5, 10),
                                 (0.3048, 10, 310), (0.3048, 1, 305)]
)  # fmt: skip
def test_up_to_the_next_mark_of_the_rule(metres: float, step: int, said: int) -> None:
    assert up(metres, step) == said


# -- places along the trunk -----------------------------------------------------------------------------------------


def draft(
    *blocks: tuple[tuple[str, ...], int | None], margin: int = 300, trunk: int | None = None, way: int = 0
) -> Any:
    """Blocks of so many cavities, each with the longest branch that it stands; one unit, ``way`` off."""
    made = [
        SimpleNamespace(lines=[SimpleNamespace(cavity=c) for c in cavities], reach=reach,
                        taps=lambda line: [Point("A1J1", line.cavity)])
        for cavities, reach in blocks
    ]  # fmt: skip
    return SimpleNamespace(blocks=made, margin=margin, trunk=trunk, ways={"A1J1": SimpleNamespace(length=way)})


ONE, TWO = (("1",), None), (("2", "3"), None)
ROOMS = {(0, "1"): 30, (1, "2"): 25, (1, "3"): 40}


def placed(drafted: Any, order: tuple[int, ...], rooms: dict[tuple[int, str], int] = ROOMS) -> tuple[Any, int, int]:
    found = stations(drafted, SimpleNamespace(order=order), rooms)  # type: ignore[arg-type]
    return found.at, found.trunk, found.margin


def test_splices_keep_the_larger_of_two_rooms() -> None:
    """300, then 30 on (30 against 25), then 40 on (25 against 40), then the margin again."""
    assert placed(draft(ONE, TWO), (0, 1)) == ({(0, "1"): 300, (1, "2"): 330, (1, "3"): 370}, 670, 300)
    assert placed(draft(ONE, TWO), (1, 0)) == ({(1, "2"): 300, (1, "3"): 340, (0, "1"): 380}, 680, 300)


def test_a_trunk_that_is_asked_for() -> None:
    """Long: the splices stay where they are. Short: 270 - 70 = 200 are left, half of it on each side."""
    assert placed(draft(ONE, TWO, trunk=900), (0, 1))[1:] == (900, 300)
    assert placed(draft(ONE, TWO, trunk=270), (0, 1)) == ({(0, "1"): 100, (1, "2"): 130, (1, "3"): 170}, 270, 100)
    assert placed(draft(ONE, TWO, trunk=279), (0, 1))[1:] == (279, 100), "whole fives"
    assert placed(draft(ONE, TWO, trunk=130), (0, 1))[1:] == (130, 30), "30 + 70 + 30"
    with pytest.raises(TooShortError, match="the splices need a trunk of 130 mm") as found:
        placed(draft(ONE, TWO, trunk=129), (0, 1))
    assert found.value.least == 130
    odd = {(0, "1"): 31, (1, "2"): 25, (1, "3"): 31}
    with pytest.raises(TooShortError) as found:
        placed(draft(ONE, TWO, trunk=80), (0, 1), odd)
    assert found.value.least == 125, "31 + 31 + 60 = 122, on the next mark of the rule"


def test_a_trunk_without_splices() -> None:
    assert placed(draft(), ()) == ({}, 200, 300)
    assert placed(draft(trunk=500), ()) == ({}, 500, 250), "a margin is no more than half of the trunk"


def test_a_branch_that_must_stay_short_moves_its_splice_out() -> None:
    """The unit is 1000 mm off and 300 may branch: the splice sits at 700; at 703 mm short of it, on the next mark."""
    assert placed(draft((("1",), 300), way=1000), (0,))[0] == {(0, "1"): 700}
    assert placed(draft((("1",), 298), way=1000), (0,))[0] == {(0, "1"): 705}
    assert placed(draft((("1",), 900), way=1000), (0,))[0] == {(0, "1"): 300}
    assert placed(draft((("1",), 2000), way=1000), (0,))[0] == {(0, "1"): 300}


# -- cost -----------------------------------------------------------------------------------------------------------


def lead(ident: str, a: str, b: str, length: int, **more: Any) -> Lead:
    one, two = (Point(*end.split("-")) if "-" in end else Point(end) for end in (a, b))
    return Lead(ident, one, two, length, "trunk", **more)


def test_the_cost_of_a_kit() -> None:
    """0.5 m of 0.6 mm2, 0.3 m of 0.4 mm2, 2 m of cable with two cores of 0.4 mm2, its shield not weighed; copper
    8890 kg/m3: (0.30 + 0.12 + 1.6) e-6 m3 = 17.96 g. Parts: two wires, one cable, one splice, one connector, two
    contacts, one plug; the soft wire, a splice that the drawer does not have and a contact are unconfirmed."""
    drawer: Any = Shelf(
        conductor=conductors(),
        wire=[Made("FIRM", temperature=200, volts=600, od=1), Made("SOFT", "od", temperature=200, volts=600, od=1)],
        cable=[Made("CABLE", spec="FIRM")], contact=[Made("C20", gauge=(24, 20))],
    )  # fmt: skip
    half = Half("P1", "plug", "J1", part="D38999", contacts="C20", own={"3": "C99"}, plugs="PLUG")
    leads = (
        lead("W1", "P1-1", "SP1", 500, gauge=G[20], type="FIRM"),
        lead("W2", "P1-2", "SP1", 300, gauge=G[22], type="SOFT"),
        lead("W3", "P1-3", "Q1-1", 1900, gauge=G[22], cable="K1", core="white"),
        lead("W4", "P1-4", "Q1-2", 1950, gauge=G[22], cable="K1", core="blue"),
        lead("W5", "P1-5", "GS1", 1950, gauge=G[22], cable="K1", core="shield"),
        lead("W6", "P1-6", "GS1", 100, gauge=G[22], cable="K1", core="drain"),
    )  # fmt: skip
    kit = Kit(("P", "J"), (half, Half("P9", "none", "J9")), (Joint("SP1", "NONE", 300, "P1", None),),
              (Sheath("K1", "CABLE", 2000, "trunk"),), (Section("all", leads),), {})  # fmt: skip
    found = of_kit(drawer, kit)
    assert (found.splices, found.parts, found.unconfirmed) == (1, 8, 3)
    assert found.length == pytest.approx(2.8)
    assert found.mass == pytest.approx((0.5 * 0.6 + 0.3 * 0.4 + 2.0 * 2 * 0.4) * 1e-6 * 8890)
    # 1 a splice, 10 a kilogram, a tenth a metre, a quarter a part, a half an unconfirmed one
    assert found.total == pytest.approx(1 + 10 * found.mass + 0.28 + 8 * 0.25 + 3 * 0.5)
    assert found.key() == (round(found.total, 9),)


def test_what_is_asked_for_comes_first() -> None:
    cost = Cost(2, 0.0310000000004, 4.2, 9, 2)
    assert WEIGHTS == {"splices": 1.0, "mass": 10.0, "length": 0.1, "parts": 0.25, "unconfirmed": 0.5}
    assert cost.total == pytest.approx(2 + 0.31 + 0.42 + 2.25 + 1.0)
    assert cost.key("mass") == (0.031, round(cost.total, 9)) and cost.key("parts")[0] == 9
    assert str(cost) == "2 splices, 4.20 m of wire, 31 g of copper, 9 kinds of parts (2 unconfirmed): 5.98"
    assert str(Cost(1, 0.0, 1.0, 3, 0)) == "1 splice, 1.00 m of wire, 0 g of copper, 3 kinds of parts: 1.85"


# -- scores, marks, words -------------------------------------------------------------------------------------------


def test_scores() -> None:
    assert NOTHING == (0.0,) * 7
    assert plus((1, 2, 3, 4, 5, 6, 7), (1, 1, 1, 1, 1, 1, 1)) == (2, 3, 4, 5, 6, 7, 8)
    best = (0.0, 1.0, 0.0, 0.0, 0.5, 0.0, 3.0)
    assert part_behind(best, best) == "" and part_behind(best, (0.0, 0.0, 0.0, 0.0, 0.6, 0.0, 9.0)) == "used"
    assert part_behind(best, (0.0, 2.0, 0.0, 0.0, 0.5, 0.0, 1.0)) == "name"


def circuit(name: str, signal: str, **more: Any) -> Any:
    said = {"returns": None, "shields": None, "pair": None, "load": None} | more
    return SimpleNamespace(name=name, signal=signal, **said)


@pytest.mark.parametrize(
    ("back", "line", "sure"),
    [
        (circuit("CAN SHLD", "shield", shields="CAN"), circuit("CAN H", "can", pair="CAN"), 2),
        (circuit("CAN SHLD", "shield", shields="CAN H"), circuit("CAN H", "can"), 2),
        (circuit("CAN SHLD", "shield", shields="AUDIO"), circuit("CAN H", "can"), 0),
        (circuit("OAT SHLD", "shield"), circuit("OAT SIG", "analogue"), 1),
        (circuit("OIL SHLD", "shield"), circuit("OAT SIG", "analogue"), 0),
        (circuit("A RTN", "ground"), circuit("X", "power", returns="A RTN"), 2),
        (circuit("A RTN", "ground"), circuit("A PWR", "power", returns="B RTN"), 0),
        (circuit("A RTN", "ground"), circuit("A PWR", "power", returns="GS1"), 2),
        (circuit("OAT RTN", "ground"), circuit("OAT PWR", "power"), 1),
        (circuit("OAT SHLD", "shield"), circuit("OAT PWR", "power", returns="OAT SHLD"), 1),
    ],
)  # fmt: skip
def test_how_sure_a_return_belongs_to_a_line(back: Any, line: Any, sure: int) -> None:
    site: Any = SimpleNamespace(leads_to=lambda name, stud: (name, stud) == ("A RTN", "GS1"))
    assert kin(site, back, line) == sure


def harness(wires: dict[str, str | None] | None = None, refs: tuple[str, ...] = ()) -> Any:
    made = {name: SimpleNamespace(id=name, mark=mark) for name, mark in (wires or {}).items()}
    tables = {t: {} for t in ("splices", "grounds", "breakers", "buses", "sources", "devices", "cables", "circuits")}
    return SimpleNamespace(wires=made, connectors=dict.fromkeys(refs), **tables)


@pytest.mark.parametrize(
    ("used", "cavities", "base", "of"),
    [
        ({"P399A20": None}, ("1", "7"), 400, {"1": 401, "7": 407}), ({"P400A20": None}, ("1",), 500, {"1": 501}),
        ({}, ("1",), 100, {"1": 101}), ({"W1": "P210B22N"}, ("3",), 300, {"3": 303}),
        ({"P210B": None}, ("3",), 100, {"3": 103}),
        # from a hundred cavities on thousands; letters are counted
        ({"P399A20": None}, ("100",), 1000, {"100": 1100}), ({"P399A20": None}, ("99",), 400, {"99": 499}),
        ({}, ("A", "C"), 100, {"A": 101, "C": 102}), ({}, ("0", "1"), 100, {"0": 101, "1": 102}),
    ],
)  # fmt: skip
def test_numbers_of_marks(
    used: dict[str, str | None], cavities: tuple[str, ...], base: int, of: dict[str, int]
) -> None:
    made = marks.Marks(harness(used), [], cavities)
    assert made.base == base and {name: made.number(name) for name in cavities} == of


def test_marks_that_are_taken_move_on() -> None:
    made = marks.Marks(harness({"x1": "p101a20"}), [harness({"P102B20N": None}, ("SP1",))], ("1", "2"))
    assert made.base == 200, "the next free hundred"
    made.base, made._of = 100, {"1": 101, "2": 102}
    other = made.fork()
    assert made.wire("P", "1", 0, G[20]) == "P101B20" and made.wire("P", "1", 0, G[20]) == "P101C20"
    assert made.wire("P", "2", 1, G[20], "N") == "P102C20N" and made.wire("P", "1", 2, None) == "P101C"
    assert made.wire("P", "1", 2, Gauge(mm2=0.5)) == "P101D" and made.cable("2", 0) == "C102A"
    assert made.ref("SP", 1) == "SP2" and made.ref("SP", 1) == "SP3" and made.ref("P", 14, 100) == "P14"
    assert made.ref("P", 14, 100) == "P114"
    assert other.wire("P", "1", 0, G[20]) == "P101B20" and other.ref("SP", 1) == "SP2", "a copy begins again"
    last = marks.Marks(harness(), [], ("1",))
    assert last.wire("P", "1", 25, None) == "P101Z"
    with pytest.raises(ValueError, match="no free mark for cavity 1"):
        last.wire("P", "1", 25, None)


@pytest.mark.parametrize(
    ("circuit_", "existing", "said"),
    [
        (circuit("A", "power"), [], ("P", "")), (circuit("A", "ground"), [], ("P", "N")),
        (circuit("A", "can"), [("W1", None)], ("D", "")), (circuit("A", "can"), [("W1", "T9A22N")], ("T", "N")),
        (circuit("A", "can"), [("K7B20", None)], ("K", "")), (circuit("A", "odd"), [], ("X", "")),
        (circuit("A", None), [], ("X", "")), (None, [], ("S", "")),
    ],
)  # fmt: skip
def test_letters_of_marks(circuit_: Any, existing: list[tuple[str, str | None]], said: tuple[str, str]) -> None:
    wires: Any = [SimpleNamespace(id=ident, mark=mark) for ident, mark in existing]
    assert marks.letter(circuit_, wires) == said


def test_digits_of_a_reference() -> None:
    assert (marks.number_of("P14"), marks.number_of("P14B2"), marks.number_of("PX")) == (14, 14, 0)


def line(cavity: str = "1", **more: Any) -> Any:
    said = {"gauge": None, "breaker": None, "supply": False, "signal": "can", "cavity": cavity}
    return SimpleNamespace(**(said | more))


CB = SimpleNamespace(ref="CB1", rating=7.5)
BARE = SimpleNamespace(ref="CB2", rating=None)
THICKEST = "through wire 20 AWG: the thickest that the contacts take; not known: the existing size"


@pytest.mark.parametrize(
    ("one", "said"),
    [
        (line(gauge=G[18], breaker=CB), "through wire 20 AWG: as thick as the existing 18 AWG"),
        (line(breaker=CB), "through wire 20 AWG: CB1 has 7.5 A (Table 11-3); not known: the existing size"),
        (line(breaker=BARE, supply=True), THICKEST), (line(signal="ground"), THICKEST),
        (line(), "through wire 20 AWG: signal wire; not known: the existing size"),
    ],
)  # fmt: skip
def test_why_a_through_wire_has_its_size(one: Any, said: str) -> None:
    assert reasons.through(one, G[20]) == said


def test_why_a_branch_has_its_size() -> None:
    pin = Point("A1J1", "2")
    assert reasons.branch(line(supply=True, breaker=CB), pin, G[20]) == (
        "branch to A1J1-2: 20 AWG behind CB1 (7.5 A, Table 11-3)"
    )
    for one in (line(supply=True, breaker=BARE), line(supply=True), line(breaker=CB), line()):
        assert reasons.branch(one, pin, G[22]) == "branch to A1J1-2: 22 AWG"
    assert reasons.branch(line(signal="ground"), pin, G[22]) == "branch to A1J1-2: 22 AWG, as thick as its feed"
    known, unknown = line("4", gauge=G[20]), line("5")
    assert reasons.group([known, unknown, line("6")]) == (
        "cavity 4: as thick as the existing wire", "not known: the existing size at cavity 5, 6",
    )  # fmt: skip
    assert reasons.group([known]) == ("cavity 4: as thick as the existing wire",) and reasons.group([]) == ()


@pytest.mark.parametrize(
    ("state", "value", "there", "said"),
    [
        ("none", None, 2, "the aircraft has 2 of 2; A1J1 has none inside"),
        (None, math.inf, 1, "the aircraft has 1 of 2; A1J1 has none inside"),
        ("off", 120.0, 2, "the aircraft has 2 of 2; the one inside A1J1 stays off"),
        ("fitted", 120.0, 1, "the aircraft has 1 of 2; the one inside A1J1 is fitted and counts"),
        (None, 120.0, None, "how many the aircraft has is not known; not known: whether A1J1 has one inside"),
        (None, None, 2, "the aircraft has 2 of 2; not known: whether A1J1 has one inside"),
    ],
)  # fmt: skip
def test_words_about_terminators(state: str | None, value: float | None, there: int | None, said: str) -> None:
    """TIA/EIA and ISO 11898-2: a bus has one at each end, two in all; both lines of the pair are one bus."""
    lines = {name: circuit(name, "can", pair="CAN", terminators=count) for name, count in (("H", None), ("L", there))}
    lines["A"] = circuit("A", "audio", terminators=1)
    pins = [
        SimpleNamespace(point=Point("A1J1", c), signal=s, terminator_state=t, terminator=v)
        for c, s, t, v in (("1", "can", None, None), ("2", "can", state, value), ("3", "audio", "fitted", 600.0))
    ]
    box = SimpleNamespace(pins=lambda: pins)
    taps = [SimpleNamespace(circuit=n, pin=Point("A1J1", c)) for n, c in (("A", "3"), ("H", "1"), ("L", "2"))]
    airframe: Any = SimpleNamespace(circuits=lines)
    found = terminators(airframe, [box], SimpleNamespace(taps=taps))  # type: ignore[arg-type,list-item]
    assert found == (f"terminators of CAN: {said}",)
