"""The words of a choice, on made-up slots and a made-up court: reasons, second places, refusals and what would do."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck.finding import Finding, NotChecked
from harnesscheck.jumper import rules
from harnesscheck.jumper.slots import Candidate, Slot
from harnesscheck.jumper.trial import Verdict
from harnesscheck.jumper.why import Story, kind, once
from harnesscheck.place import Place, Point

Found = list[tuple[Slot, Candidate | None]]


def pin(cavity: str) -> Point:
    return Point("A1J1", cavity)


def want(cavity: str, signal: str = "power", function: str = "IN", unit: str = "A1", line: str | None = None,
         serves: Iterable[str] = (), drives: bool = False) -> Any:  # fmt: skip
    return SimpleNamespace(
        point=Point(f"{unit}J1", cavity), signal=signal, unit=unit, drives=drives, serves=frozenset(map(pin, serves)),
        pin=SimpleNamespace(function=function, line=line),
    )  # fmt: skip


def candidate(*names: str, words: Iterable[str] = ("",), burden: float = 0.0, inexact: int = 0,
              gaps: Iterable[NotChecked] = ()) -> Candidate:  # fmt: skip
    said = tuple(words)
    return Candidate(names, inexact, burden, said * len(names) if len(said) == 1 else said, tuple(gaps))


def slot(*wants: Any, have: Iterable[Candidate] = (), barred: Iterable[tuple[tuple[str, ...], str, str]] = (),
         group: int = 0) -> Slot:  # fmt: skip
    return Slot(wants, True, group, list(have), list(barred))


def circuit(name: str, signal: str | None = "power", **more: Any) -> Any:
    return SimpleNamespace(**{"name": name, "signal": signal, "returns": None, "pair": None, "shields": None} | more)


def fault(check: str, headline: str, remedy: str = "put it right") -> Finding:
    return Finding(headline=headline, place=Place("x"), check=check, remedy=remedy)


def gap(label: str, missing: str, check: str = "c") -> NotChecked:
    return NotChecked(place=Place(label), missing=missing, check=check)


class Court:
    """Answers as told, and remembers what it was asked."""

    def __init__(self, say: Callable[[Mapping[Point, str]], Iterable[Any]]) -> None:
        self.say, self.asked = say, list[tuple[dict[Point, str], tuple[str, ...]]]()

    def verdict(self, taps: Mapping[Point, str], names: Iterable[str]) -> Verdict:
        self.asked.append((dict(taps), tuple(names)))
        found = list(self.say(taps))
        return Verdict(
            tuple(f for f in found if isinstance(f, Finding)), tuple(f for f in found if isinstance(f, NotChecked))
        )


CIRCUITS = [
    circuit("PWR", returns="RTN OIL"), circuit("AUX"), circuit("OLD"), circuit("RTN OIL", "ground"),
    circuit("OIL SIG", "analogue"), circuit("FUEL", "analogue"), circuit("TRIM", "analogue"),
    circuit("CAN H", "can", pair="CAN"), circuit("CAN L", "can", pair="CAN"), circuit("BUS H", "can", pair="BUS"),
    circuit("BUS L", "can", pair="BUS"), circuit("SHLD", "shield", shields="CAN"),
]  # fmt: skip


def story(chosen: Found, say: Callable[[Mapping[Point, str]], Iterable[Any]] = lambda taps: (),
          asked: Iterable[str] = (), circuits: Iterable[Any] = CIRCUITS) -> Any:  # fmt: skip
    listed = {each.name: each for each in circuits}
    craft: Any = SimpleNamespace(circuits=listed, nets=SimpleNamespace(of=lambda point: None))
    site = rules.Site(craft, ("P14", "J14"), {name: [str(n)] for n, name in enumerate(listed, 1)})
    made: Any = Story(site, Court(say), chosen, {pin(each): "as asked" for each in asked})  # type: ignore[arg-type]
    return made


# -- what the choice is ---------------------------------------------------------------------------------------------


def test_pins_taps_and_checks_of_a_choice() -> None:
    one, two, three = slot(want("1")), slot(want("2", "can"), want("3", "can")), slot(want("4", "ground"))
    told = story([(one, candidate("PWR")), (two, candidate("CAN H", "CAN L")), (three, None)])
    assert told.taps == {pin("1"): "PWR", pin("2"): "CAN H", pin("3"): "CAN L"}
    assert told.wants == {want.point: want for each in (one, two, three) for want in each.wants}
    assert list(told.checks) == list(
        dict.fromkeys([*rules.names("power"), *rules.names("can"), *rules.names("ground")])
    )
    # the bus is counted once, by its first conductor: cavities 1 and 8 of the table, from 0; pins 1, none open but 4
    assert told.best == (1, 0, 0, 0, 0, 7, 7), "both in one group: 7 cavities from the supply to the bus"


def test_what_is_not_known_stands_with_the_pin_that_it_is_about() -> None:
    """By the label of its place or by a whole word of its text; what is about no pin stands with the first."""
    gaps = [gap("A1J1-3", "a"), gap("AUX", "b"), gap("P14", "of AUX, c"), gap("P14", "at A1J1-3: d"), gap("P14", "e"),
            gap("P14", "AUX-2 and A1J1-33, XAUX, AUXY"), gap("AUX 2", "of PWR and AUX")]  # fmt: skip
    told = story([(slot(want("1")), candidate("PWR")), (slot(want("3")), candidate("AUX"))], lambda taps: gaps)
    assert told.gaps == {pin("3"): gaps[:4], pin("1"): gaps[4:]}
    assert told.court.asked == [(told.taps, told.checks)]
    assert story([(slot(want("1")), None)], lambda taps: gaps).gaps == {}


# -- why a pin taps its circuit -------------------------------------------------------------------------------------

BARRED = (("OLD",), "it is full", "wait")


@pytest.mark.parametrize(
    ("function", "have", "barred", "asked", "said"),
    [
        ("PWR", ("PWR", "AUX"), (BARRED,), ("1",), "asked for by a person"),
        ("p_w r", ("PWR", "AUX"), (), ("2",), "pin and circuit have the same name"),
        ("IN", ("PWR", "AUX"), (), (), "the best of 2 power circuits at P14/J14 that will do"),
        ("IN", ("PWR", "AUX", "OLD", "AUX"), (), (), "the best of 3 power circuits at P14/J14 that will do"),
        ("IN", ("PWR",), (BARRED,), (), "the only power circuit at P14/J14 that will do"),
        ("IN", ("PWR", "PWR"), (), (), "the only power circuit at P14/J14"),
        ("IN", ("PWR",), ((("PWR",), "x", "y"),), (), "the only power circuit at P14/J14"),
    ],
)  # fmt: skip
def test_why_a_pin_taps_its_circuit(function: str, have: Iterable[str], barred: Any, asked: Any, said: str) -> None:
    one = candidate("PWR", words=("much to spare",))
    made = slot(want("1", function=function), have=[candidate(name) for name in have], barred=barred)
    told = story([(made, one)], lambda taps: [gap("PWR", "its load"), gap("PWR", "its load")], asked)
    assert told.reasons(made, one, 0) == (said, "much to spare", "not known: its load")
    assert story([(made, candidate("PWR"))], asked=asked).reasons(made, candidate("PWR"), 0) == (said,)


def test_why_the_second_conductor_of_a_pair_taps_its_circuit() -> None:
    one = candidate("CAN H", "CAN L", words=("first", "second"))
    pair = slot(want("1", "can", line="H"), want("2", "can", line="L"), have=[one, candidate("BUS H", "BUS L")])
    told = story([(pair, one)])
    assert told.reasons(pair, one, 1) == ("the best of 2 can L circuits at P14/J14 that will do", "second")
    only = slot(*pair.wants, have=[one], barred=[(("BUS H", "CAN L"), "x", "y")])
    assert story([(only, one)]).reasons(only, one, 1)[0] == "the only can L circuit at P14/J14"
    assert story([(only, one)]).reasons(only, one, 0) == ("the only can H circuit at P14/J14 that will do", "first")


def test_whose_a_return_or_a_shield_is() -> None:
    """PWR says so; OIL SIG shares a word with RTN OIL; FUEL and TRIM neither. Pin 9 is not tapped: not named."""
    lines = {"1": "PWR", "2": "TRIM", "10": "FUEL", "3": "OIL SIG"}
    back = slot(want("5", "ground", serves=(*lines, "9")))
    chosen: Found = [(slot(want(p)), candidate(name)) for p, name in lines.items()]
    told = story([*chosen, (back, candidate("RTN OIL"))])
    assert told._kin(back.wants[0], "RTN OIL") == [
        "the return of PWR, as the airframe file says",
        "taken for the return of OIL SIG by its name: no file says so",
        "not known: whether it is the return of FUEL and TRIM; no file says so, and the names do not",
    ]
    assert told._kin(want("1"), "PWR") == []
    assert told.reasons(back, candidate("RTN OIL"), 0)[1] == "the return of PWR, as the airframe file says"
    pair = slot(want("1", "can"), want("2", "can"))
    cover = want("3", "shield", serves=("1", "2"))
    told = story([(pair, candidate("CAN H", "CAN L")), (slot(cover), candidate("SHLD"))])
    assert told._kin(cover, "SHLD") == ["the shield of CAN H and CAN L, as the airframe file says"]


# -- why another circuit came second --------------------------------------------------------------------------------


def test_the_other_circuits_each_once() -> None:
    """Candidates, then what was barred; of each circuit what is said first; nothing of the one that is tapped."""
    one = candidate("PWR")
    barred = [(("OLD",), "it is full", ""), (("AUX",), "not this", ""), (("PWR",), "not that", "")]
    made = slot(want("1"), have=[candidate("AUX"), one], barred=barred)
    told = story([(made, one)])
    assert told.others(made, one, 0) == (
        ("AUX", "would do, but no better, and its cavity comes later"), ("OLD", "it is full"),
    )  # fmt: skip
    assert told.court.asked == [], "what is dearer is not put to the checks"


def test_a_better_one_that_will_not_do_beside_the_others() -> None:
    """Cheaper than the choice by its place: so the checks stand against it, or the search was cut short."""
    one, cheap = candidate("AUX"), candidate("PWR")
    made, other = slot(want("1"), have=[one, cheap]), slot(want("2"), group=1)
    chosen: Found = [(made, one), (other, candidate("OLD"))]
    told = story(chosen, lambda taps: [fault("a", "PWR is full")])
    assert told.others(made, one, 0) == (("PWR", "will not do beside the other taps: PWR is full"),)
    assert told.court.asked == [({pin("1"): "PWR", pin("2"): "OLD"}, told.checks)]
    assert story(chosen).others(made, one, 0) == (("PWR", "would do, but no better"),)


def test_one_that_is_worth_the_same_is_not_put_to_the_checks() -> None:
    one, same = candidate("CAN H", "CAN L"), candidate("CAN H", "BUS L")
    pair = slot(want("1", "can"), want("2", "can"), have=[one, same])
    told = story([(pair, one)], lambda taps: [fault("a", "b")])
    assert told.others(pair, one, 0) == () and told.others(pair, one, 1) == (("BUS L", "would do, but no better"),)


def test_a_line_on_which_the_unit_is_already() -> None:
    one, two = candidate("FUEL"), candidate("TRIM")
    first, second = slot(want("1", "analogue"), have=[one, two]), slot(want("2", "analogue"), have=[two])
    told = story([(first, one), (second, two)])
    assert told.others(first, one, 0) == (("TRIM", "A1J1-2 of the same unit is on it already"),)
    assert told._on(first, one) == "" == told._on(second, two)
    open_ = slot(want("3", "analogue"))
    assert story([(first, one), (second, None), (open_, None)])._on(first, two) == ""
    both = slot(want("2", "can"), want("4", "can"), want("5", "can"))
    told = story([(slot(want("1", "can")), None), (both, candidate("CAN H", "CAN H", "CAN L"))])
    assert told._on(told.chosen[0][0], candidate("CAN H")) == "A1J1-2 and A1J1-4 of the same unit is on it already"
    asked = story([(first, one), (second, two)], asked=("2",))
    assert asked._on(first, two) == "", "a person wants it so"


def test_why_one_comes_after_the_best() -> None:
    back = slot(want("5", "ground", serves=("1", "10", "2", "9")))
    told = story([(slot(want("1")), candidate("PWR")), (slot(want("2")), candidate("AUX")),
                  (slot(want("10")), candidate("OLD")), (back, candidate("RTN OIL"))])  # fmt: skip
    assert told._behind(back, candidate("PWR"), "kin") == "its current comes back by RTN OIL"
    assert told._behind(back, candidate("RTN OIL"), "kin") == "it is less sure that it belongs to PWR, OLD and AUX"
    assert told._behind(slot(want("6", "ground", serves="9")), candidate("AUX"), "kin") == "its return is another one"
    spare = candidate("AUX", "OLD", words=("1 A", ""), gaps=(gap("x", "its load"), gap("x", "more")))
    plain = candidate("AUX")
    for part, one, said in (
        ("name", plain, "its name is not that of the pin"),
        ("unknown", spare, "more is not known of it: its load"), ("unknown", plain, "more is not known of it"),
        ("used", spare, "it has less to spare: 1 A"), ("used", plain, "it has less to spare"),
        ("used", candidate("A", "B", words=("1 A", "2 A")), "it has less to spare: 1 A; 2 A"),
        ("far", plain, "its cavity is further from the others of the group"),
        ("place", plain, "no better, and its cavity comes later"), ("open", plain, "no better"),
        ("", plain, "no better"),
    ):  # fmt: skip
        assert told._behind(back, one, part) == said, part


# -- why a pin is not served ----------------------------------------------------------------------------------------


def test_a_refusal_as_a_whole() -> None:
    """Barred first, then the candidates: one that stands in a way of its own, one on which the unit is already."""
    one = slot(want("1", "analogue"), have=[candidate("FUEL"), candidate("TRIM")],
               barred=[(("OIL SIG",), "it is loud", "mend it")])  # fmt: skip
    other = slot(want("2", "analogue"), group=1)
    told = story([(one, None), (other, candidate("TRIM"))], lambda taps: [fault("a", "FUEL is weak", "buffer it")])
    own = rules.of("analogue").OWN
    reason, remedy, tried = told.refusal(one, 0)
    assert tried == (("OIL SIG", "it is loud"), ("FUEL", "FUEL is weak"),
                     ("TRIM", "A1J1-2 of the same unit is on it already"))  # fmt: skip
    assert reason == "none of the 3 analogue circuits at P14/J14 will do"
    assert remedy == f"mend it; or buffer it; or {own}", "two ways, and the home run last"
    assert told.court.asked == [({pin("2"): "TRIM", pin("1"): "FUEL"}, told.checks)]
    lone = slot(want("1", "analogue"), have=[candidate("TRIM")])
    reason, remedy, tried = story([(lone, None), (other, candidate("TRIM"))]).refusal(lone, 0)
    assert reason == f"TRIM, the only analogue circuit at P14/J14, will not do: {tried[0][1]}"
    assert remedy == f"if it is meant, ask for it: --use A1J1-1=TRIM; or {own}"


def test_what_a_rule_says_instead_comes_before_the_remedy_of_a_check() -> None:
    instead = dict(rules.of("power").INSTEAD)
    check = next(iter(instead))
    made = slot(want("1"), have=[candidate("PWR")])
    _, remedy, tried = story([(made, None)], lambda taps: [fault(check, "PWR is full")]).refusal(made, 0)
    assert tried == (("PWR", "PWR is full"),) and remedy == f"{instead[check]}; or {rules.of('power').OWN}"
    told = story([(made, None)]).refusal(made, 0)
    assert told[1:] == (rules.of("power").OWN, (("PWR", "it does not go together with the other taps"),))


def test_what_stands_against_a_candidate_with_the_rest_of_its_group() -> None:
    """The rest of the group takes each of its candidates in turn; what another tap may cure is told last."""
    line = slot(want("1"))
    back = slot(want("2", "ground"), have=[candidate("RTN OIL"), candidate("OLD")])
    bare, served, far = slot(want("3")), slot(want("4")), slot(want("5"), have=[candidate("AUX")], group=1)

    def wrong(say: Mapping[str, list[Finding]]) -> list[str]:
        told = story([(line, None), (back, None), (bare, None), (served, candidate("AUX")), (far, None)],
                     lambda taps: say[taps[pin("2")]])  # fmt: skip
        found = [headline for _, headline, _ in told._wrong(line, candidate("PWR"))]
        both = {pin("4"): "AUX", pin("1"): "PWR"}
        assert [taps for taps, _ in told.court.asked] == [both | {pin("2"): name} for name in ("RTN OIL", "OLD")]
        assert {names for _, names in told.court.asked} == {told.checks}
        return found

    cure, one, two = fault("no-return", "no return"), fault("a", "one"), fault("b", "two")
    assert wrong({"RTN OIL": [cure], "OLD": [one]}) == ["one"] and wrong({"RTN OIL": [cure], "OLD": []}) == [
        "no return"
    ]
    assert wrong({"RTN OIL": [one], "OLD": [two]}) == ["one"] and wrong({"RTN OIL": [], "OLD": [two]}) == ["two"]
    assert wrong({"RTN OIL": [one, cure], "OLD": [two]}) == ["one", "no return"]
    assert wrong({"RTN OIL": [], "OLD": []}) == []


def test_no_more_than_twelve_ways_are_tried() -> None:
    many = [circuit(f"G{n}", "ground") for n in range(13)]
    line, back = slot(want("1")), slot(want("2", "ground"), have=[candidate(each.name) for each in many])
    told = story([(line, None), (back, None)], lambda taps: [fault("a", "x")] if taps[pin("2")] == "G12" else [],
                 circuits=[*CIRCUITS, *many])  # fmt: skip
    assert told._wrong(line, candidate("PWR")) == [] and len(told.court.asked) == 12


def test_of_what_stands_against_it_what_names_it_is_told() -> None:
    told = story([])
    made, one = slot(want("1"), want("2")), candidate("CAN H", "CAN L")
    a, b, c, d = ("a", "odd", "r"), ("b", "CAN L is odd", "s"), ("c", "A1J1-2 is odd", "t"), ("d", "CAN H", "u")
    assert told._about([a, b, c], made, one) == b and told._about([a, c, d], made, one) == c
    assert told._about([a], made, one) == a
    assert told._about([], made, one) == ("", "it does not go together with the other taps", "")


def test_the_reason_of_a_refusal() -> None:
    made, pair = slot(want("1")), slot(want("1", "can", line="H"), want("2", "can", line="L"))
    two = (("PWR", "full"), ("AUX", "weak"))
    assert (
        story([]).kind
        if False
        else story([])._reason(made, 0, two) == ("none of the 2 power circuits at P14/J14 will do")
    )
    assert story([])._reason(made, 0, two[:1]) == "PWR, the only power circuit at P14/J14, will not do: full"
    assert story([], asked="1")._reason(made, 0, two) == "PWR is asked for, and will not do: full"
    assert story([], asked="2")._reason(made, 0, two[:1]).startswith("PWR, the only")
    lone = story([], circuits=[circuit("X", "analogue")])
    assert lone._reason(made, 0, ()) == "no power circuit runs through P14/J14"
    assert story([], asked="1", circuits=[])._reason(made, 0, ()) == "no power circuit runs through P14/J14"
    assert lone._reason(pair, 1, ()) == "no can L circuit runs through P14/J14"
    half = story([], circuits=[circuit("X", "can")])
    said = "no pair of can circuits runs through P14/J14: a conductor is missing, or pair: differs"
    assert half._reason(pair, 0, ()) == said
    assert half._reason(slot(want("1", "can")), 0, ()) == "no can circuit runs through P14/J14", "no pair is wanted"
    one, more = [circuit("U", None)], [circuit("X", "can"), circuit("U", None), circuit("V", None)]
    assert story([], circuits=one)._reason(made, 0, ()) == (
        "no power circuit runs through P14/J14; not known: what U is (signal: is not given)"
    )
    assert story([], circuits=more)._reason(pair, 0, ()) == (
        f"{said}; not known: what U and V are (signal: is not given)"
    )


def test_what_would_do() -> None:
    ways = story([])._ways
    assert ways([], "lay it", None) == "lay it" == ways(["", ""], "lay it", None)
    assert ways(["a", "", "b", "a", "c"], "lay it", None) == "a; or b; or lay it"


def test_kinds_and_pairs_in_words() -> None:
    assert kind(want("1")) == "power" and kind(want("1", "can", line="H")) == "can H"
    assert once([("A", "1"), ("B", "2"), ("A", "3"), ("C", "4")]) == (("A", "1"), ("B", "2"), ("C", "4"))
    assert once([]) == ()
