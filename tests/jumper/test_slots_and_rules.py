"""Merits of circuits by hand, what a slot may take, what stands against a tap, and what a person has fixed."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck.document import parse
from harnesscheck.jumper import rules, slots
from harnesscheck.jumper.keeping import kept
from harnesscheck.jumper.rules import audio, bus, ground, lighting, power, sensor, serial
from harnesscheck.jumper.score import Scale
from harnesscheck.jumper.slots import Candidate, Slot, against, spoken, twice
from harnesscheck.place import Point


def want(cavity: str = "1", signal: str = "power", unit: str = "A1", drives: bool = False, **more: Any) -> Any:
    said = {"current": None, "peak": None, "duty": None, "direction": "in", "input_resistance": None, "pull_up": None,
            "line": None, "loops": None, "function": f"PIN {cavity}"}  # fmt: skip
    point = Point(f"{unit}J1", cavity)
    return SimpleNamespace(
        point=point, signal=signal, unit=unit, drives=drives, serves=(), pin=SimpleNamespace(**said | more)
    )


def circuit(name: str = "X", signal: str = "power", **more: Any) -> Any:
    said = {"breaker": None, "source_resistance": None, "most_receivers": None, "receivers": None, "rating": None,
            "load": None, "returns": None, "line": None, "pair": None, "shields": None}  # fmt: skip
    return SimpleNamespace(name=name, signal=signal, **said | more)


def load(name: str, current: float | None, breaker: str = "CB1", steady: bool = True) -> Any:
    return SimpleNamespace(name=name, current=current, breaker=breaker, steady=steady)


def site(*lines: Any, circuits: dict[str, Any] | None = None, rating: float | None = 5.0) -> Any:
    breakers = {"CB1": SimpleNamespace(ref="CB1", rating=rating), "CB2": SimpleNamespace(ref="CB2", rating=None)}
    airframe = SimpleNamespace(breakers=breakers, circuits=circuits or {})
    made = rules.Site(airframe, ("P1", "J1"))  # type: ignore[arg-type]
    made.__dict__["lines"] = list(lines)
    return made


LINES = (load("X", 2.0), load("Y", 0.5), load("Z", 9.0, "CB2"), load("START", 9.0, steady=False))


@pytest.mark.parametrize(
    ("pin", "burden", "words"),
    [
        ({"current": 1.0}, 0.7, "CB1 (5 A) carries 2.5 A, with 1 A more 3.5 A, 70% of its rating"),
        ({"current": 1.0, "peak": 4.0}, 0.7, "CB1 (5 A) carries 2.5 A, with 1 A more 3.5 A, 70% of its rating"),
        ({"peak": 2.0}, 0.9, "CB1 (5 A) carries 2.5 A, with 2 A more 4.5 A, 90% of its rating"),
        ({"current": 1.0, "duty": "intermittent"}, 0.5,
         "CB1 (5 A) carries 2.5 A, with 1 A more 2.5 A, 50% of its rating"),
        ({}, 0.5, "CB1 (5 A) carries 2.5 A, with 0 A more 2.5 A, 50% of its rating; not known: the current of A1J1-1"),
    ],
)  # fmt: skip
def test_the_share_of_a_breaker(pin: dict[str, Any], burden: float, words: str) -> None:
    found = power.merit(site(*LINES), want(**pin), circuit(breaker="CB1"))
    assert found.burden == pytest.approx(burden) and found.words == words


def test_breakers_of_which_little_is_known() -> None:
    one = want(current=1.0)
    found = power.merit(site(load("X", None), load("Y", 1.0)), one, circuit())
    assert found.burden == pytest.approx(0.4) and found.words.endswith("; not known: what hangs on X")
    for lines, named, words in (
        ((load("X", 1.0, "CB2"),), circuit(breaker="CB1"), "not known: the rating of CB2"),
        ((), circuit(breaker="CB2"), "not known: the rating of CB2"), ((), circuit(), "not known: the breaker of X"),
    ):  # fmt: skip
        merit = power.merit(site(*lines), one, named)
        if named.breaker == "CB1":
            assert merit.words.startswith("CB1"), "what the circuit itself says comes first"
        else:
            assert (merit.burden, merit.words) == (1.0, words)


def test_dimmers_and_returns() -> None:
    dim = circuit(rating=2.0, load=0.5)
    found = lighting.merit(site(), want(current=0.3, peak=9.0), dim)
    assert found.burden == pytest.approx(0.4)
    assert found.words == "its dimmer (2 A) carries 0.5 A, with 0.3 A more 0.8 A"
    assert lighting.merit(site(), want(peak=0.5), dim).burden == pytest.approx(0.5)
    for pin, one in ((want(), dim), (want(current=1.0), circuit(load=1.0)), (want(current=1.0), circuit(rating=1.0))):
        assert (lighting.merit(site(), pin, one).burden, lighting.merit(site(), pin, one).words) == (1.0, "")
    back = {
        n: circuit(n, returns=r, load=a)
        for n, r, a in (("A", "R", 2.0), ("B", "R", 0.5), ("C", "R", None), ("D", "S", 3.0))
    }
    merit = ground.merit(site(circuits=back), want(), circuit("R", "ground"))
    assert merit.burden == pytest.approx(0.0025) and merit.words == "2.5 A come back on R already"
    empty = ground.merit(site(circuits=back), want(), circuit("Q", "ground"))
    assert (empty.burden, empty.words) == (0.0, "")


@pytest.mark.parametrize(
    ("pin", "source", "burden"),
    [
        # loading error Rs / (Rs + Rload): 1 k and 99 k: 1 %; 198 k in parallel with a pull-up of 198 k is 99 k
        ({"input_resistance": 99e3}, 1e3, 0.01), ({"input_resistance": 198e3, "pull_up": 198e3}, 1e3, 0.01),
        ({"input_resistance": 99e3, "direction": "out"}, 1e3, 0.0), ({}, 1e3, 0.0),
        ({"input_resistance": 99e3}, None, 0.0),
    ],
)  # fmt: skip
def test_the_shift_of_a_reading(pin: dict[str, Any], source: float | None, burden: float) -> None:
    found = sensor.merit(site(), want(signal="analogue", **pin), circuit(source_resistance=source))
    assert found.burden == pytest.approx(burden)
    assert found.words == ("the reading shifts by 1.000% at most" if burden else "")
    other = sensor.merit(site(), want(signal="discrete", **pin), circuit(source_resistance=source))
    assert (other.burden, other.words) == (0.0, "")


@pytest.mark.parametrize(
    ("module", "signal", "direction", "most", "receivers", "burden", "words"),
    [
        # TIA-422: ten receivers; ARINC 429: five that units guarantee; TIA-232: three, as a manual grants;
        # CAN (ISO 11898-2): thirty nodes; TIA-485: thirty-two unit loads
        (serial, "rs422", "in", None, 4, 0.5, "4 listen to it, 10 may"),
        (serial, "rs422", "out", None, 5, 0.5, "5 listen to it, 10 may"),
        (serial, "arinc429", "in", None, 4, 1.0, "4 listen to it, 5 may"),
        (serial, "rs232", "in", None, 2, 1.0, "2 listen to it, 3 may"),
        (serial, "rs422", "in", 8, 3, 0.5, "3 listen to it, 8 may"),
        (serial, "rs422", "in", None, None, 0.5, ""),
        (bus, "can", "both", None, 14, 0.5, "14 units are on it, 30 may be"),
        (bus, "rs485", "both", None, 15, 0.5, "15 units are on it, 32 may be"),
        (bus, "can", "both", 10, 4, 0.5, "4 units are on it, 10 may be"),
        (bus, "can", "both", None, None, 0.5, ""),
    ],
)  # fmt: skip
def test_the_share_of_the_receivers(
    module: Any, signal: str, direction: str, most: int | None, receivers: int | None, burden: float, words: str
) -> None:
    one = circuit(most_receivers=most, receivers=receivers)
    found = module.merit(site(), want(signal=signal, direction=direction), one)
    assert (found.burden, found.words) == (pytest.approx(burden), words)


def test_every_class_says_what_would_do_instead() -> None:
    assert audio.SIGNALS and all(rules.of(signal).OWN for signal in rules.signals())
    for signal in rules.signals():
        assert set(rules.of(signal).INSTEAD) <= set(rules.names(signal)), signal


# -- slots ----------------------------------------------------------------------------------------------------------


def slot(*wants: Any, **more: Any) -> Slot:
    return Slot(wants, True, **more)


H, L = want("1", "can", line="H"), want("2", "can", line="L")
CIRCUITS = {
    c.name: c
    for c in (
        circuit("AH", "can", line="H", pair="A"), circuit("AL", "can", line="L", pair="A"),
        circuit("BH", "can", line="H", pair="B"), circuit("BL", "can", line="L", pair="B"), circuit("PWR", "power"),
        circuit("U", "can"),
    )
}  # fmt: skip


def at(*names: str) -> Any:
    made = site(circuits=CIRCUITS)
    made.cavities = {name: [str(n)] for n, name in enumerate(names, 1)}
    return made


@pytest.mark.parametrize(
    ("wants", "names", "use", "found"),
    [
        ((H, L), ("AH", "AL", "BH", "BL", "PWR"), {}, [("AH", "AL"), ("BH", "BL")]),
        ((H,), ("AH", "AL", "PWR"), {}, [("AH",)]), ((want("1", "can"),), ("AH", "AL"), {}, [("AH",), ("AL",)]),
        ((H,), ("U", "AL"), {}, [("U",)]), ((H, L), ("AH", "BL"), {}, []), ((H, L), ("AH", "U"), {}, []),
        ((H,), ("AH", "PWR"), {"1": "PWR"}, [("PWR",)]), ((H,), ("AH",), {"1": "BH"}, []),
        ((H, L), ("AH", "AL", "BH", "BL"), {"1": "BH"}, [("BH", "BL")]),
    ],
)  # fmt: skip
def test_circuits_that_a_slot_may_take(
    wants: Any, names: tuple[str, ...], use: dict[str, str], found: list[Any]
) -> None:
    asked = {Point("A1J1", pin): name for pin, name in use.items()}
    assert list(slots._possible(slot(*wants), at(*names), asked)) == found


def test_pins_that_are_joined_inside_take_the_same_circuit() -> None:
    one, two = want("1", "can", line="H"), want("3", "can", line="H", loops=Point("A1J1", "1"))
    assert list(slots._possible(slot(one, two), at("AH", "BH"), {})) == [("AH", "AH"), ("BH", "BH")]
    lone = want("3", "can", line="H", loops=Point("A1J1", "9"))
    assert list(slots._possible(slot(lone), at("AH"), {})) == [("AH",)]


def finding(check: str, headline: str = "h", value: str = "", remedy: str = "r") -> Any:
    return SimpleNamespace(check=check, headline=headline, value=value, remedy=remedy, missing=headline)


def test_what_stands_against_a_tap() -> None:
    """A return, a talker or a terminator may still come; two statements, and a line whose driver is unknown, bar."""
    verdict: Any = SimpleNamespace(
        faults=[finding("no-return"), finding("wrong-terminator-count"), finding("driver-without-listener"),
                finding("long-bus")],
        gaps=[finding("long-bus", "the rate is stated in two ways"), finding("two-drivers", "who drives AH"),
              finding("x")],
    )  # fmt: skip
    silent, talks = {Point("A1J1", "1"): want()}, {Point("A1J1", "1"): want(), Point("A1J1", "2"): want(drives=True)}
    names = [check for check, _, _ in against(verdict, silent)]
    assert names == ["no-return", "wrong-terminator-count", "driver-without-listener", "long-bus", "long-bus"]
    assert [(c, w) for c, w, _ in against(verdict, talks, curable=True)] == [
        ("long-bus", "h"), ("long-bus", "the rate is stated in two ways"),
        ("two-drivers", "it would drive a line of which is not known who drives it: who drives AH"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("headline", "value", "said"),
    [
        ("the drop is too large", "1.2 V", "the drop is too large (1.2 V)"),
        ("it drops 1.2 V", "1.3 V", "it drops 1.2 V"),
        ("the drop is too large", "", "the drop is too large"), ("three of two", "three", "three of two"),
        ("87 % of it", "9 A", "87 % of it"), ("P14 is full", "5 m", "P14 is full (5 m)"),
    ],
)  # fmt: skip
def test_a_finding_in_one_breath(headline: str, value: str, said: str) -> None:
    assert spoken(finding("x", headline, value)) == said


def candidate(*names: str, inexact: int = 0, burden: float = 0.0, gaps: int = 0) -> Candidate:
    return Candidate(names, inexact, burden, (), tuple(range(gaps)))  # type: ignore[arg-type]


def test_one_line_twice_in_a_unit() -> None:
    one, two = slot(want("1", "rs232")), slot(want("2", "rs232"))
    a, b = candidate("AH"), candidate("AH", "AL")
    assert twice(one, a, two, b, {}) == "AH" and twice(one, a, two, candidate("AL"), {}) == ""
    assert twice(one, None, two, b, {}) == twice(one, a, two, None, {}) == ""
    assert twice(one, a, slot(want("2", "rs232", unit="A2")), b, {}) == "", "another unit"
    for asked in ("1", "2"):
        assert twice(one, a, two, b, {Point("A1J1", asked): "AH"}) == "", "a person asks for it"
    for signal in ("power", "ground", "signal ground", "shield"):
        assert twice(slot(want("1", signal)), a, slot(want("2", signal)), b, {}) == ""


def test_the_score_of_a_choice() -> None:
    """Open pins, names, gaps, strangers, burden, distance within a group, position: in that order."""
    scale = Scale(at("PWR", "AH", "AL", "BH", "BL"))
    first, second = slot(H, L, group=1), slot(want("3", "can"), group=1)
    a, b = candidate("AL", "AH", inexact=2, burden=0.25, gaps=1), candidate("BL")
    assert scale.own(first, a) == (0.0, 2, 1, 0.0, 0.25, 0.0, 1) and scale.own(first, None) == (2.0, 0, 0, 0, 0, 0, 0)
    assert scale.between(first, a, second, b) == (0, 0, 0, 0, 0, 2, 0) == scale.between(second, b, first, a)
    assert scale.between(first, a, slot(want("3", "can"), group=2), b) == (0,) * 7
    assert scale.between(first, None, second, b) == scale.between(first, a, second, None) == (0,) * 7
    assert scale.between(first, a, slot(want("3", "can", unit="A2"), group=1), b) == (0,) * 7
    assert scale.whole([(first, a), (second, b)]) == (0, 2, 1, 0, 0.25, 2, 5)
    assert scale.whole([(first, a), (second, None)]) == (1, 2, 1, 0, 0.25, 0, 1)
    line, back = want("1", "can"), want("2", "ground")
    back.serves = (line.point,)
    for pair in (((back, "PWR"), (line, "AH")), ((line, "AH"), (back, "PWR"))):
        assert scale.strange(*pair) == 2.0
    assert scale.strange((line, "AH"), (want("3"), "PWR")) == 0.0
    assert scale.between(slot(back), candidate("PWR"), slot(line), candidate("AH"))[3] == 2.0


# -- what a person has fixed ----------------------------------------------------------------------------------------

PLAN = """kind: jumper
title: my own  # fixed
revision: A
equipment:
  A12: box.yaml
  A13: [odd]
wires:
  W1: {from: P1-1, to: J1-1}
  # about the next one
  W2:   # FIXED by hand
    from: P1-2
    to: J1-2

  # about W3
  W3: {from: P1-3, to: J1-3}  # not fixed
taps:
  A12J1-1: PWR  # fixed
  A12J1-2: RTN

# decided
limits:
  long-bus: {value: 5 m , reason: r}
  other: text
waivers:
  - {at: P1}
"""


def test_what_a_person_has_fixed() -> None:
    found = kept(parse(PLAN.encode(), "plan.yaml", Path("plan.yaml")))
    assert [(e.section, e.key) for e in found.entries] == [
        ("title", "title"), ("wires", "W2"), ("taps", "A12J1-1"), ("limits", "limits"), ("waivers", "waivers"),
    ]  # fmt: skip
    assert found.entries[1].lines == ("  W2:   # FIXED by hand", "    from: P1-2", "    to: J1-2")
    assert found.entries[2].lines == ("  A12J1-1: PWR  # fixed",)
    assert found.entries[3].lines == ("limits:", "  long-bus: {value: 5 m , reason: r}", "  other: text")
    assert found.entries[4].lines == ("waivers:", "  - {at: P1}")
    assert found.use == {Point("A12J1", "1"): "PWR"} and found.limits == {"long-bus": "5 m"}
    assert found.units == {"box.yaml": "A12"} and found.fixed == "title, W2, A12J1-1"


def test_many_fixed_entries_and_none() -> None:
    def wires(count: int, mark: str) -> str:
        return "kind: jumper\nwires:\n" + "".join(
            f"  W{n}: {{from: P1-{n}, to: J1-{n}}}{mark}\n" for n in range(1, count + 1)
        )

    said = {n: kept(parse(wires(n, "  # fixed").encode(), "plan.yaml", Path("plan.yaml"))).fixed for n in (6, 8)}
    assert said == {6: "W1, W2, W3, W4, W5, W6", 8: "W1, W2, W3, W4, W5, W6 and 2 more"}
    none = kept(parse(wires(2, "").encode(), "plan.yaml", Path("plan.yaml")))
    assert none.fixed == "" and none.entries == () and none.use == {} == none.limits == none.units
