"""What a person asks for, how pins become slots, how a choice is put together, and what its parts weigh."""

from __future__ import annotations

from collections.abc import Iterable
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck.connector import Use
from harnesscheck.device import Pin
from harnesscheck.jumper import choice, demand, rules, score
from harnesscheck.jumper.choice import Chosen, Refusal, Tapped, choose
from harnesscheck.jumper.demand import Group, Want
from harnesscheck.jumper.score import NOTHING, PARTS, Scale, part_behind, plus
from harnesscheck.jumper.slots import Candidate, Slot
from harnesscheck.place import Place, Point


def pin(cavity: str, unit: str = "A1") -> Point:
    return Point(f"{unit}J1", cavity)


def want(cavity: str, signal: str = "power", unit: str = "A1", **more: Any) -> Want:
    return Want(unit, Pin(pin(cavity, unit), Place(cavity), f"PIN {cavity}", signal, **more))


SPARE, LIVE, UNKNOWN = (SimpleNamespace(use=use) for use in (Use.SPARE, Use.LIVE, Use.UNKNOWN))
LISTED = {
    ("P14", "8"): SPARE, ("J14", "8"): SPARE, ("P14", "9"): SPARE, ("J14", "9"): UNKNOWN, ("J14", "10"): SPARE,
    ("P14", "11"): LIVE,
}  # fmt: skip


def at(**cavities: str) -> Any:
    """Circuit (``_`` for a blank) to its cavities."""
    craft: Any = SimpleNamespace(cavity=lambda point: LISTED.get((point.ref, point.cavity)))
    return rules.Site(craft, ("P14", "J14"), {n.replace("_", " "): said.split() for n, said in cavities.items()})


# -- what a person asks for -----------------------------------------------------------------------------------------

NONE = "{} is asked for it, but "


@pytest.mark.parametrize(
    ("said", "name", "cavity", "why"),
    [
        ("CAN H", "CAN H", "", ""), ("can_h", "CAN H", "", ""), ("PWR", "PWR", "", ""), ("CANH2", "", "", "run"),
        ("P14-3", "PWR", "3", ""), ("J14-4", "PWR", "4", ""), ("P14-1", "CAN H", "1", ""),
        ("P15-3", "", "", "run"), ("P14", "", "", "P14 has no such cavity that is listed"),
        ("P14-77", "", "", "P14 has no such cavity that is listed"), ("no point", "", "", "run"),
        ("P14-8", "", "", "it is a spare and carries nothing"), ("J14-10", "", "", "it is a spare and carries nothing"),
        ("P14-10", "", "", "it is a spare and carries nothing"), ("P14-9", "", "", "nobody has said what it carries"),
        ("J14-11", "", "", "nobody has said what it carries"),
    ],
)  # fmt: skip
def test_the_circuit_that_a_person_means(said: str, name: str, cavity: str, why: str) -> None:
    """By name as it is typed, else by a cavity of either half; a spare is one where both halves say so."""
    run = "no circuit of that name runs through P14/J14"
    words = f"{said} is asked for it, but {run if why == 'run' else why}" if why else ""
    assert choice._circuit(at(CAN_H="1", PWR="3 4"), said) == (name, cavity, words)


def test_the_name_as_it_is_typed_comes_before_one_that_reads_alike() -> None:
    site = at()
    site.cavities = {"GPS TX": ["1"], "gps_tx": ["2"], "P14-1": ["3"]}
    for said, name in (("gps_tx", "gps_tx"), ("GPS TX", "GPS TX"), ("GPSTX", "GPS TX"), ("P14-1", "P14-1")):
        assert choice._circuit(site, said) == (name, "", ""), said


def test_what_of_it_cannot_be() -> None:
    use = {pin("1"): "PWR", pin("2"): "P14-4", pin("3"): "NO SUCH", pin("4"): "PWR", pin("9"): "PWR"}
    wanted, stays = {pin(n) for n in "123"}, {pin("4"): "TEST: it stays off"}
    asked, places, bad = choice._asked(at(PWR="3 4"), use, wanted, stays)
    assert asked == {pin("1"): "PWR", pin("2"): "PWR"} and places == {pin("2"): "4"}
    assert bad == [
        Refusal(pin("3"), "NO SUCH is asked for it, but no circuit of that name runs through P14/J14",
                "name a cavity of P14/J14 or a circuit that it carries"),
        Refusal(pin("4"), "PWR is asked for it, but TEST: it stays off", "leave it open"),
        Refusal(pin("9"), "the equipment has no such pin", "name a pin that the equipment file lists"),
    ]  # fmt: skip
    assert choice._asked(at(), {}, set(), {}) == ({}, {}, [])


# -- slots ----------------------------------------------------------------------------------------------------------


def test_pins_become_slots() -> None:
    """A pair is one slot, and so are pins that are joined inside; one must be served where one of its pins must."""
    h, low = want("1", "can", line="H", required=False), want("3", "can", line="L", required=False)
    one, two = want("2", required=False), want("4", "ground")
    joined = want("5", "rf", loops=pin("2"), required=False)
    other = want("1", "can", "A2", line="L")
    group = Group((h, one, low, two))
    slots = choice._slots(7, group, [h, one, low, two, joined, other], {})
    assert [[w.point.cavity for w in slot.wants] for slot in slots] == [["1", "3"], ["2", "5"], ["4"]]
    assert [(slot.required, slot.group) for slot in slots] == [(False, 7), (False, 7), (True, 7)]
    assert all(slot.candidates == [] == slot.barred for slot in slots)
    asked = choice._slots(0, group, [h, one, low, two], {pin("3"): "X", pin("9"): "X"})
    assert [slot.required for slot in asked] == [True, False, True]


# -- a whole choice -------------------------------------------------------------------------------------------------


class Told:
    """Stands in for the words of a choice."""

    def __init__(self, site: Any, court: Any, chosen: Any, asked: Any) -> None:
        self.given, self.chosen = (site, court, asked), chosen

    def others(self, slot: Slot, one: Candidate, number: int) -> tuple[tuple[str, str], ...]:
        return ((one.circuits[number], f"other {number}"),)

    def reasons(self, slot: Slot, one: Candidate, number: int) -> tuple[str, ...]:
        return (f"because of {slot.wants[number].point.cavity}",)

    def refusal(self, slot: Slot, number: int) -> tuple[str, str, tuple[tuple[str, str], ...]]:
        return f"no {slot.wants[number].point.cavity}", "do", (("X", "full"),)


def test_a_choice_is_put_together(monkeypatch: pytest.MonkeyPatch) -> None:
    """Taps, open pins and refusals in the order of the pins; what the equipment does not have comes first."""
    listed = [want("0", "rf"), want("1"), want("2", "ground"), want("3", "rs232"), want("4", "audio"),
              want("5", "pulse", required=False),
              want("6", "can", line="H"), want("7", "can", line="L"), want("8", "none"),
              want("9", "video", required=False)]  # fmt: skip
    device = SimpleNamespace(ref="A1", pins=tuple(each.pin for each in listed))
    boxes: Any = [SimpleNamespace(devices={"A1": device}, pins=lambda: iter(device.pins))]
    cavities = {"PWR": ["1", "7"], "RTN": ["2"], "CH": ["3"], "CL": ["4"]}
    courts: list[Any] = []

    def court(*said: Any) -> Any:
        courts.append(said)
        return SimpleNamespace(cavities=cavities)

    filled: list[Any] = []
    names = {"1": ("PWR",), "2": ("RTN",), "6": ("CH", "CL")}

    def search(slots: list[Slot], site: Any, asked_court: Any, asked: Any) -> list[Any]:
        assert site.cavities is cavities and [slot for slot, *_ in filled] == slots
        assert all(rest == (site, asked_court, asked) for _, *rest_ in filled for rest in [tuple(rest_)])
        assert asked == {pin("1"): "PWR"}
        found = [(slot, names.get(slot.wants[0].point.cavity)) for slot in reversed(slots)]
        return [(slot, Candidate(name, 0, 0.0, ("",)) if name else None) for slot, name in found]

    monkeypatch.setattr(choice, "Court", court)
    monkeypatch.setattr(choice, "fill", lambda *said: filled.append(said))
    monkeypatch.setattr(choice, "search", search)
    monkeypatch.setattr(choice, "Story", Told)
    craft: Any = SimpleNamespace(cavity=lambda point: None)
    use = {pin("1"): "P14-7", pin("4"): "LOST", pin("99"): "PWR", pin("8"): "PWR"}
    found = choose(craft, boxes, ("P14", "J14"), use)
    assert courts == [(craft, boxes, ("P14", "J14"), {})]
    assert found == Chosen(
        (
            Tapped(pin("1"), "PWR", "7", ("because of 1",), (("PWR", "other 0"),)),
            Tapped(pin("2"), "RTN", "2", ("because of 2",), (("RTN", "other 0"),)),
            Tapped(pin("6"), "CH", "3", ("because of 6",), (("CH", "other 0"),)),
            Tapped(pin("7"), "CL", "4", ("because of 7",), (("CL", "other 1"),)),
        ),
        (
            (pin("5"), "PIN 5 is not required, and no 5"),
            (pin("8"), "PIN 8: the pin carries nothing (signal: none)"),
            (pin("9"), "PIN 9 is not required, and no 9"),
        ),
        (
            Refusal(pin("99"), "the equipment has no such pin", "name a pin that the equipment file lists"),
            Refusal(pin("0"), "no 0", "do", (("X", "full"),)), Refusal(pin("3"), "no 3", "do", (("X", "full"),)),
            Refusal(pin("4"), "LOST is asked for it, but no circuit of that name runs through P14/J14",
                    "name a cavity of P14/J14 or a circuit that it carries"),
            Refusal(pin("8"), "PWR is asked for it, but PIN 8: the pin carries nothing (signal: none)",
                    "leave it open"),
        ),
    )  # fmt: skip
    groups = [[w.point for w in slot.wants] for slot, *_ in filled]
    assert groups.pop(0) == [pin("0")]
    assert groups == [[pin("1")], [pin("2")], [pin("3")], [pin("4")], [pin("5")], [pin("6"), pin("7")], [pin("9")]]
    assert [slot.group for slot, *_ in filled] == [0, 1, 1, 2, 3, 4, 5, 6], "a supply with its return"
    monkeypatch.setattr(choice, "search", lambda *said: [])
    assert choose(craft, boxes, ("P14", "J14"), None, {"a": "b"}).taps == ()  # type: ignore[dict-item]
    assert courts[-1][3] == {"a": "b"}


# -- what it weighs -------------------------------------------------------------------------------------------------


def circuit(name: str, signal: str = "power", **more: Any) -> Any:
    return SimpleNamespace(**{"name": name, "signal": signal, "returns": None, "pair": None, "shields": None} | more)


CIRCUITS = [
    circuit("A", returns="RA"),
    circuit("OIL B"),
    circuit("C"),
    circuit("RA", "ground"),
    circuit("OIL R", "ground"),
]


def scale() -> Scale:
    listed = {each.name: each for each in CIRCUITS}
    craft: Any = SimpleNamespace(circuits=listed, nets=SimpleNamespace(of=lambda point: None))
    return Scale(rules.Site(craft, ("P14", "J14"), {name: [] for name in listed}))


def wanted(cavity: str, unit: str = "A1", serves: Iterable[str] = ()) -> Any:
    return SimpleNamespace(point=pin(cavity, unit), unit=unit, serves=frozenset(pin(each, unit) for each in serves))


def held(*names: str, inexact: int = 0, burden: float = 0.0, gaps: int = 0) -> Any:
    return Candidate(names, inexact, burden, (), tuple(range(gaps)))  # type: ignore[arg-type]


def test_the_parts_of_a_score() -> None:
    assert PARTS == ("open", "name", "unknown", "kin", "used", "far", "place") and NOTHING == (0.0,) * 7
    assert plus((1, 2, 3, 4, 5, 6, 7), (7, 6, 5, 4, 3, 2, 1)) == (8,) * 7
    for number, name in enumerate(PARTS):
        more = tuple(2.0 if n == number else 1.0 for n in range(7))
        assert part_behind((1.0,) * 7, more) == name and part_behind(more, (1.0,) * 7) == ""
    assert part_behind((1, 0, 0, 0, 0, 0, 0), (0, 5, 9, 0, 0, 0, 0)) == "name", "the first that is worse"


def test_a_candidate_by_itself() -> None:
    one = Slot((wanted("1"), wanted("2")), True)
    assert scale().position == {"A": 0, "OIL B": 1, "C": 2, "RA": 3, "OIL R": 4}
    assert scale().own(one, None) == (2, 0, 0, 0, 0, 0, 0)
    assert scale().own(one, held("RA", "C", inexact=2, burden=0.12345678, gaps=3)) == (0, 2, 3, 0, 0.123457, 0, 2)


def test_two_candidates_beside_each_other() -> None:
    """2 for a return of which nothing is known, 1 where the names share a word, 0 where the file says so."""
    back = Slot((wanted("5", serves="12"),), True, 1)
    line = Slot((wanted("1"), wanted("2")), True, 2)
    at_ = scale().between
    for names, by, strange in (
        (("A", "OIL B"), "RA", 0 + 2), (("A", "OIL B"), "OIL R", 2 + 1), (("OIL B", "C"), "OIL R", 1 + 2),
        (("C", "C"), "RA", 4), (("A", "A"), "RA", 0),
    ):  # fmt: skip
        assert (
            at_(back, held(by), line, held(*names))
            == (0, 0, 0, strange, 0, 0, 0)
            == at_(line, held(*names), back, held(by))
        )
    near = Slot((wanted("1"),), True, 1)
    assert at_(back, held("OIL R"), near, held("A")) == (0, 0, 0, 2, 0, 4, 0), "one group: four cavities apart"
    assert at_(near, held("A"), back, held("OIL R"))[5] == 4
    other = Slot((wanted("1", "A2"),), True, 1)
    assert at_(back, held("RA"), other, held("C")) == NOTHING == at_(back, None, near, held("A"))
    assert at_(back, held("RA"), near, None) == NOTHING


def test_a_whole_choice() -> None:
    """(0,1,0,0,.1,0,0) + (0,0,2,0,.2,0,3) + open + strange 2 of C with RA, and 1 cavity from C to RA."""
    line, back = Slot((wanted("1"),), True, 1), Slot((wanted("5", serves="1"),), True, 1)
    left = Slot((wanted("7"),), False, 2)
    chosen = [(line, held("C", inexact=1, burden=0.1)), (back, held("RA", burden=0.2, gaps=2)), (left, None)]
    assert scale().whole(chosen) == pytest.approx((1, 1, 2, 2, 0.3, 1, 5))
    assert scale().whole(chosen[:1]) == (0, 1, 0, 0, 0.1, 0, 2) and scale().whole([]) == NOTHING


def test_how_sure_a_return_is() -> None:
    site: Any = SimpleNamespace(leads_to=lambda name, stud: stud == "GS1")
    shield, ground = circuit("OIL S", "shield", shields="BUS"), circuit("OIL R", "ground")
    for back, line, sure in (
        (shield, circuit("BUS"), 2), (shield, circuit("X", pair="BUS"), 2), (shield, circuit("OIL X"), 0),
        (circuit("OIL S", "shield"), circuit("OIL X", returns="OIL S"), 1), (ground, circuit("X", returns="OIL R"), 2),
        (ground, circuit("X", returns="GS1"), 2), (ground, circuit("OIL X", returns="GS2"), 0),
        (ground, circuit("OIL X"), 1), (ground, circuit("X"), 0),
        (circuit("OIL R", "ground", shields="X"), circuit("X"), 0),
    ):  # fmt: skip
        assert score.kin(site, back, line) == sure, (back, line)
    assert demand.words("OIL R") == {"oil", "r"}
