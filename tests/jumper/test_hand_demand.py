"""What pins want, whose a return or a shield is, and which pins are chosen together: small pin tables by hand."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck.device import Pin
from harnesscheck.jumper import demand
from harnesscheck.jumper.demand import GROUNDED, PAIRED, Group, Want, bound, couples, groups, owners, plain, words
from harnesscheck.place import Place, Point


def want(name: str, signal: str = "power", function: str = "IN", unit: str = "A1", **more: Any) -> Want:
    """``name`` is a cavity of J1, or ``J2-3``; ``loops`` and ``returns`` are cavities of the same receptacle."""
    ref, _, cavity = name.rpartition("-")
    point = Point(f"{unit}{ref or 'J1'}", cavity)
    for key in ("loops", "returns"):
        if key in more:
            more[key] = Point(point.ref, more[key])
    return Want(unit, Pin(point, Place(str(point)), function, signal, **more))


def box(**units: list[Want]) -> Any:
    devices = {ref: SimpleNamespace(ref=ref, pins=tuple(w.pin for w in listed)) for ref, listed in units.items()}
    return SimpleNamespace(devices=devices)


def short(wanted: Any) -> list[str]:
    return [each.point.cavity for each in wanted]


def served(*listed: Want) -> dict[str, str]:
    """Cavity to the cavities of the lines that it belongs to."""
    found, left = demand.wants([box(A1=list(listed))])
    assert left == []
    return {w.point.cavity: "".join(sorted(p.cavity for p in w.serves)) for w in found if w.serves}


# -- one pin --------------------------------------------------------------------------------------------------------


def test_what_a_pin_says_of_itself() -> None:
    one = want("1", "power", "POWER", direction="in")
    assert (one.point, one.signal, one.supplied, str(one)) == (Point("A1J1", "1"), "power", True, "A1J1-1 (POWER)")
    assert [want("1", "can", direction=way).drives for way in ("out", "both", "in", None)] == [True, True, False, False]
    assert not want("1", "power", direction="out").supplied and not want("1", "can").supplied
    assert Group((one, want("2", "ground", "RTN"))).name == "A1J1-1 (POWER), A1J1-2 (RTN)"


@pytest.mark.parametrize(
    ("name", "said"),
    [("Can_H", "canh"), ("CAN\tH ", "canh"), ("CAN-H", "can-h"), ("", "")],
)
def test_names_as_they_are_compared(name: str, said: str) -> None:
    assert plain(name) == said


def test_words_that_say_whose_it_is() -> None:
    trade = (
        "in out tx rx sig signal gnd ground rtn return hi lo h l a b pwr power supply com common shield shld line no"
    )
    for word in [*trade.split(), "input", "output", "data"]:
        assert words(f"Flap {word.upper()}") == {"flap"}, word
    assert words("oil-P 2_x") == {"oil", "p", "2", "x"} and words("") == frozenset()


def test_pins_that_stay_open() -> None:
    listed = [want("1", connect=False, function="TEST"), want("2", "none", "N/C"), want("3", "none", connect=False),
              want("4", "can")]  # fmt: skip
    found, left = demand.wants([box(A1=listed), box(A2=[want("1", "none", "SPARE", unit="A2"), want("2", unit="A2")])])
    assert [(w.unit, w.point.cavity) for w in found] == [("A1", "4"), ("A2", "2")]
    assert left == [
        (Point("A1J1", "1"), "TEST: the maker says that nothing may be connected"),
        (Point("A1J1", "2"), "N/C: the pin carries nothing (signal: none)"),
        (Point("A1J1", "3"), "IN: the maker says that nothing may be connected"),
        (Point("A2J1", "1"), "SPARE: the pin carries nothing (signal: none)"),
    ]


# -- returns and shields --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("listed", "found"),
    [
        # as stated, of whatever class; of two grounds only the one that is named
        ([want("1", returns="3"), want("2"), want("3", "ground")], {"3": "1"}),
        ([want("1", "can", returns="3"), want("3", "ground")], {"3": "1"}),
        # else every supply of which no return is stated; an output is none
        ([want("1"), want("2", "lighting"), want("4", direction="out"), want("5", "can"), want("3", "ground")],
         {"3": "12"}),
        ([want("1", returns="4"), want("2"), want("3", "ground"), want("4", "ground")], {"3": "2", "4": "1"}),
        ([want("3", "ground")], {}), ([want("3", "power"), want("4", "can")], {}),
    ],
)  # fmt: skip
def test_the_supplies_of_a_return(listed: list[Want], found: dict[str, str]) -> None:
    assert served(*listed) == found


def test_a_return_serves_its_own_unit() -> None:
    listed = box(A1=[want("1"), want("2", "ground")], A2=[want("1", unit="A2"), want("2", "ground", unit="A2")])
    found, _ = demand.wants([listed])
    assert [set(w.serves) for w in found] == [set(), {Point("A1J1", "1")}, set(), {Point("A2J1", "1")}]


RX, SG = "rs232", "signal ground"


@pytest.mark.parametrize(
    ("listed", "lines"),
    [
        # as stated, before any name
        ([want("1", RX, "GPS RX"), want("2", RX, "OIL TX", returns="3"), want("3", SG, "GPS GND")], "2"),
        # by a word in common, wherever it stands; not one of which another return is stated, nor a paired class
        ([want("3", SG, "GPS GND"), want("1", RX, "GPS RX"), want("2", RX, "OIL RX"), want("4", "audio", "GPS A")],
         "14"),
        ([want("1", RX, "GPS RX", returns="9"), want("2", RX, "B RX"), want("3", SG, "GPS GND")], "2"),
        ([want("1", "can", "GPS H"), want("2", RX, "B RX"), want("3", SG, "GPS GND")], "2"),
        # the lines next above it, of one class and within three places
        ([want("1", RX), want("2", RX), want("3", RX), want("4", SG)], "123"),
        ([want("0", RX), want("1", RX), want("2", RX), want("3", RX), want("4", SG)], "123"),
        ([want("1", RX), want("2", "audio"), want("3", RX), want("4", SG)], "13"),
        ([want("1", "audio"), want("2", RX), want("4", SG), want("5", RX)], "2"),
        ([want("1", RX), want("2", "power"), want("3", "power"), want("4", SG)], "1"),
        # none above it: the first below
        ([want("4", SG), want("5", RX), want("6", RX)], "5"), ([want("4", SG), want("5", "power")], ""),
        # of its own receptacle
        ([want("J2-1", RX), want("4", SG), want("5", RX)], "5"),
        ([want("J2-1", RX, "GPS RX"), want("1", RX), want("4", SG, "GPS GND")], "1"),
    ],
)  # fmt: skip
def test_the_lines_of_a_signal_ground(listed: list[Want], lines: str) -> None:
    ground = next(w for w in listed if w.signal == SG)
    assert "".join(short(owners(ground, listed))) == lines
    assert served(*listed).get("4" if ground.point.cavity == "4" else "3", "") == lines


def test_every_single_line_has_a_signal_ground() -> None:
    for signal in ("rs232", "nmea0183", "analogue", "pulse", "audio", "discrete", "video"):
        assert served(want("1", signal), want("2", SG)) == {"2": "1"} and signal in GROUNDED
    for signal in ("power", "can", "rf", "shield"):
        assert "2" not in served(want("1", signal), want("2", SG)), signal


H, L = {"line": "H"}, {"line": "L"}


@pytest.mark.parametrize(
    ("listed", "lines"),
    [
        ([want("1", "can"), want("2", "can"), want("3", "shield")], "12"),
        # the pair of the line next to it; of two as near that of the one above; its neighbour may be further off
        ([want("1", "can", **H), want("2", "can", **L), want("3", "shield"), want("4", "can", **H),
          want("5", "can", **L)], "12"),
        ([want("1", "can", **H), want("2", "can", **L), want("9"), want("3", "shield"), want("4", "can", **L),
          want("5", "can", **H)], "45"),
        ([want("1", "can", **H), want("4", "can", **H), want("2", "can", **L), want("3", "shield")], "12"),
        # where no file says what is a pair: the two next to it
        ([want("1", "can"), want("2", "can"), want("3", "shield"), want("4", "can")], "24"),
        ([want("1", "can"), want("3", "shield"), want("5", "rs232"), want("6", "can"), want("7", "can")], "16"),
        ([want("1", "can"), want("2", "can"), want("3", "shield"), want("4", "can"), want("5", "can")], "24"),
        # by a word in common, however many
        ([want("1", "can", "C1 H"), want("2", "can", "C1 L"), want("3", "shield", "C2 SHLD"), want("6", "can", "C2 H"),
          want("7", "can", "C2 L"), want("8", "can", "C2 X")], "678"),
        ([want("J2-1", "can"), want("1", "rs232"), want("2", "can"), want("3", "shield")], "2"),
        ([want("J2-1", "can", "C2"), want("2", "can", "C1"), want("3", "shield", "C2")], "2"),
        ([want("1", "rs232"), want("3", "shield")], ""),
    ],
)  # fmt: skip
def test_the_lines_under_a_shield(listed: list[Want], lines: str) -> None:
    assert served(*listed).get("3", "") == lines


def test_classes_whose_lines_may_be_under_a_shield_as_a_pair() -> None:
    for signal in ("can", "rs422", "rs485", "arinc429", "ethernet", "thermocouple"):
        assert served(want("1", signal), want("3", "shield")) == {"3": "1"} and signal in PAIRED
        both = couples([want("1", signal, line="+"), want("2", signal, line="-")])
        assert [(a.point.cavity, b.point.cavity) for a, b in both] == [("1", "2")]


# -- pairs and groups -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("listed", "pairs"),
    [
        ([want("1", "can", **H), want("2", "can", **L)], ["12"]),
        ([want("1", "can", **L), want("2", "can", **H)], ["12"]),
        ([want("1", "rs485", line="A"), want("2", "rs485", line="B")], ["12"]),
        ([want("1", "rs422", line="+"), want("2", "rs422", line="-")], ["12"]),
        # not: lines that do not belong together, twice the same line, no line, another class, direction or receptacle
        ([want("1", "can", line="A"), want("2", "can", line="L")], []),
        ([want("1", "can", **H), want("2", "can", **H)], []), ([want("1", "can"), want("2", "can", **L)], []),
        ([want("1", "can", **H), want("2", "can")], []),
        ([want("1", "can", **H), want("2", "rs485", **L)], []), ([want("1", RX, **H), want("2", RX, **L)], []),
        ([want("1", "can", direction="in", **H), want("2", "can", direction="out", **L)], []),
        ([want("1", "can", **H), want("J2-2", "can", **L)], []),
        # two buses: by order where the names are alike, else by name; each conductor once
        ([want(n, "can", line=x) for n, x in (("1", "H"), ("2", "L"), ("3", "H"), ("4", "L"))], ["12", "34"]),
        ([want(n, "can", line=x) for n, x in (("1", "H"), ("2", "H"), ("3", "L"), ("4", "L"))], ["13", "24"]),
        ([want("1", "can", "C1 H", **H), want("2", "can", "C2 H", **H), want("3", "can", "C2 L", **L),
          want("4", "can", "C1 L", **L)], ["23", "14"]),
        ([want("1", "can", "C1 H", **H), want("2", "can", "C2 L", **L), want("3", "can", "C1 L", **L)], ["12"]),
    ],
)  # fmt: skip
def test_the_conductors_of_one_pair(listed: list[Want], pairs: list[str]) -> None:
    assert [a.point.cavity + b.point.cavity for a, b in couples(listed)] == pairs


def test_pins_that_stand_or_fall_together() -> None:
    """A pair, and what the maker has joined inside; a link to a pin that is not there leads nowhere."""
    listed = [want("1", "can", **H), want("3", "can", "Y", loops="1", **H), want("2", "can", **L), want("5"),
              want("6", loops="9")]  # fmt: skip
    found = bound(listed)
    assert {point.cavity: short(each) for point, each in found.items()} == {
        "1": ["1", "3", "2"], "3": ["1", "3", "2"], "2": ["1", "3", "2"], "5": ["5"], "6": ["6"],
    }  # fmt: skip
    assert bound([]) == {}


def test_groups_are_chosen_together_in_file_order() -> None:
    """A supply with its return, a pair with its shield, two pins on one return; every unit for itself."""
    listed = [want("1"), want("2", "can", **H), want("3", "ground"), want("4", "can", **L), want("5", "shield"),
              want("6", RX), want("7", "audio", returns="8"), want("8", SG), want("9", "discrete", "Z"),
              want("J2-1", "rf")]  # fmt: skip
    other = [want("1", unit="A2"), want("2", "can", unit="A2", **H), want("3", "can", unit="A2", **L)]
    found, _ = demand.wants([box(A1=listed), box(A2=other)])
    assert [[f"{w.unit}-{w.point.cavity}" for w in each.wants] for each in groups(found)] == [
        ["A1-1", "A1-3"], ["A1-2", "A1-4", "A1-5"], ["A1-6"], ["A1-7", "A1-8"], ["A1-9"], ["A1-1"], ["A2-1"],
        ["A2-2", "A2-3"],
    ]  # fmt: skip
    assert groups([]) == []
    pair = demand.wants([box(A1=[want("1", "can", **H), want("4"), want("2", "can", **L)])])[0]
    assert [short(each.wants) for each in groups(pair)] == [["1", "2"], ["4"]], "the pair of a unit that is alone"


def test_long_chains_are_one_group() -> None:
    """Joined in turn from the end to the middle, so that every end is found over several steps."""
    listed = [want(str(n), "discrete", f"F{n}") for n in range(6)]
    at = [w.point for w in listed]
    for links in ([(3, 4), (4, 5), (0, 1), (1, 2), (5, 2)], [(0, 5), (1, 5), (2, 5), (3, 4), (4, 2)]):
        found = demand._joined(listed, [(at[a], at[b]) for a, b in links])
        assert {short(each) == list("012345") for each in found.values()} == {True}
    lone = demand._joined(listed, [(at[0], Point("X", "1")), (Point("X", "1"), at[1]), (at[2], at[4])])
    assert ["".join(short(lone[point])) for point in at] == ["0", "1", "24", "3", "24", "5"]
