"""The search for the best set of taps, on made-up slots with a made-up court, against every possible choice."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Mapping
from itertools import product
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck.finding import Finding
from harnesscheck.jumper import rules, search
from harnesscheck.jumper.score import NOTHING, Scale
from harnesscheck.jumper.slots import Candidate, Slot, twice
from harnesscheck.jumper.trial import Verdict
from harnesscheck.place import Place, Point

Say = Callable[[Mapping[Point, str], tuple[str, ...]], Iterable[Finding]]


def pin(cavity: str) -> Point:
    return Point("A1J1", cavity)


def want(cavity: str, signal: str = "power", serves: Iterable[str] = ()) -> Any:
    return SimpleNamespace(
        point=pin(cavity), signal=signal, unit="A1", drives=False, serves=frozenset(map(pin, serves)),
        pin=SimpleNamespace(function="IN", line=None),
    )  # fmt: skip


def slot(one: Any, *names: str, required: bool = True, group: int = 0, burdens: Iterable[float] = ()) -> Slot:
    listed = list(burdens) or [0.0] * len(names)
    have = [Candidate((name,), 0, burden, ("",)) for name, burden in zip(names, listed, strict=True)]
    return Slot((one,), required, group, have)


def circuit(name: str, signal: str = "power", breaker: str | None = None, returns: str | None = None) -> Any:
    return SimpleNamespace(name=name, signal=signal, breaker=breaker, returns=returns, pair=None, shields=None)


CIRCUITS = [
    *(circuit(f"X{n}") for n in range(6)), circuit("A", returns="RX"), circuit("B", returns="RB"),
    circuit("OIL C"), *(circuit(name, "ground") for name in ("RA", "RB", "R0", "R1", "OIL R")),
    circuit("SG", "signal ground"),
    circuit("SH", "shield"), circuit("P1", breaker="CB1"), circuit("P2", breaker="CB1"), circuit("P3", breaker="CB2"),
    circuit("P4", breaker="CB3"), circuit("P5", breaker="CB9"), circuit("P6", breaker="CB6"),
    circuit("P7", breaker="CB7"), circuit("L1"), circuit("T1", "rs232"),
]  # fmt: skip


def at() -> Any:
    listed = {each.name: each for each in CIRCUITS}
    buses = {"CB1": "M", "CB2": "M", "CB3": "E", "CB6": None, "CB7": None}
    breakers = {ref: SimpleNamespace(ref=ref, bus=bus) for ref, bus in buses.items()}
    craft: Any = SimpleNamespace(circuits=listed, breakers=breakers, nets=SimpleNamespace(of=lambda point: None))
    made = rules.Site(craft, ("P14", "J14"), {name: [str(n)] for n, name in enumerate(listed, 1)})
    made.__dict__["lines"] = [SimpleNamespace(name="L1", breaker="CB3")]
    return made


def fault(check: str = "x", label: str = "P14") -> Finding:
    return Finding(headline="h", place=Place(label), check=check)


class Court:
    """Answers as told, each question counted once."""

    def __init__(self, say: Say) -> None:
        self.say, self.kept = say, dict[Any, Verdict]()
        self.questions: list[tuple[dict[str, str], tuple[str, ...]]] = []
        self.whole = 0

    @property
    def asked(self) -> int:
        return len(self.kept)

    def verdict(self, taps: Mapping[Point, str], names: tuple[str, ...], all_of_it: bool = True) -> Verdict:
        said = {point.cavity: name for point, name in taps.items()}
        self.questions.append((said, tuple(names)))
        self.whole += all_of_it
        key = (frozenset(taps.items()), tuple(names))
        return self.kept.setdefault(key, Verdict(tuple(self.say(taps, tuple(names)))))


def never(taps: Mapping[Point, str], names: tuple[str, ...]) -> Iterable[Finding]:
    return ()


def clash(*pairs: tuple[str, str], check: str = "x") -> Say:
    """A fault where two taps (``1=X0``) come together."""

    def say(taps: Mapping[Point, str], names: tuple[str, ...]) -> Iterable[Finding]:
        there = {f"{point.cavity}={name}" for point, name in taps.items()}
        return [fault(check) for one, two in pairs if one in there and two in there]

    return say


def made(slots: list[Slot], say: Say = never, asked: Iterable[str] = ()) -> tuple[Any, Court]:
    court = Court(say)
    return search._Search(slots, at(), court, {pin(each): "as asked" for each in asked}), court  # type: ignore[arg-type]


def run(slots: list[Slot], say: Say = never, asked: Iterable[str] = ()) -> dict[str, str | None]:
    """Pin to circuit, in the order of the answer."""
    found = search.search(slots, at(), Court(say), {pin(each): "as asked" for each in asked})  # type: ignore[arg-type]
    return {each.wants[0].point.cavity: one.circuits[0] if one else None for each, one in found}


# -- what is chosen apart -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("slots", "together"),
    [
        ([("1", "X0", 0), ("2", "X1", 1), ("3", "X2", 0)], ["13", "2"]),  # one group
        ([("1", "X0", 0), ("2", "X1", 1), ("3", "X0", 2)], ["13", "2"]),  # one circuit
        ([("1", "P1", 0), ("2", "P2", 1), ("3", "P4", 2)], ["12", "3"]),  # one breaker
        ([("1", "P1", 0), ("2", "P4", 1), ("3", "P3", 2)], ["13", "2"]),  # one bus, two breakers
        ([("1", "L1", 0), ("2", "P4", 1)], ["12"]),  # fed by the copper of a breaker
        ([("1", "P5", 0), ("2", "X0", 1)], ["1", "2"]),  # a breaker that is not listed
        ([("1", "SG", 0), ("2", "SG", 1), ("3", "SH", 2), ("4", "SH", 3)], ["1", "2", "3", "4"]),  # any number
        ([("1", "X0 X1", 0), ("2", "X2", 1), ("3", "X1 X2", 2)], ["123"]),  # by the third
        ([("1", "SG X0", 0), ("2", "SG X0", 1)], ["12"]), ([("1", "", 0), ("2", "", 1)], ["1", "2"]),
        ([("1", "X0", 0), ("2", "X1", 1), ("3", "X1", 2), ("4", "X0", 3), ("5", "X5", 0)], ["145", "23"]),
        ([("1", "X3", 0), ("2", "X1", 1), ("3", "X2", 2), ("4", "X1 X2", 3), ("5", "X3 X2", 4)], ["12345"]),
    ],
)  # fmt: skip
def test_slots_with_nothing_in_common_are_chosen_apart(slots: list[Any], together: list[str]) -> None:
    listed = [slot(want(cavity), *names.split(), group=group) for cavity, names, group in slots]
    found = search._components(listed, at())
    assert ["".join(each.wants[0].point.cavity for each in part) for part in found] == together


def test_a_pair_on_a_free_and_a_common_circuit_has_that_in_common() -> None:
    """A shield is shared by anybody; what comes after it in the same candidate is not."""
    both = [slot(want(cavity), group=n) for n, cavity in enumerate("12")]
    for each in both:
        each.candidates.append(Candidate(("SH", "X0"), 0, 0.0, ("", "")))
    assert search._components(both, at()) == [both]
    breakers = [slot(want("1"), "P6"), slot(want("2"), "P7", group=1)]
    assert len(search._components(breakers, at())) == 1, "two breakers of which no bus is stated"


def test_the_search_goes_part_by_part() -> None:
    slots = [slot(want("1"), "X0"), slot(want("2"), "X1", group=1), slot(want("3"), "X0", group=2)]
    assert run(slots) == {"1": "X0", "3": "X0", "2": "X1"} and list(run(slots)) == ["1", "3", "2"]
    assert search.search([], at(), Court(never), {}) == []  # type: ignore[arg-type]


# -- one part -------------------------------------------------------------------------------------------------------


def test_what_a_part_starts_with() -> None:
    """Supplies before returns, each in file order; nothing is an option only where a pin may stay open."""
    slots = [slot(want("1", "ground"), "RA"), slot(want("2"), "X1", "X0"), slot(want("3", "shield"), required=True),
             slot(want("4", "rs232"), "T1", required=False), slot(want("5", "signal ground"), "SG")]  # fmt: skip
    part, _ = made(slots)
    assert [each.wants[0].point.cavity for each in part.slots] == ["2", "4", "1", "3", "5"]
    names = [name for signal in ("power", "rs232", "ground", "shield", "signal ground") for name in rules.names(signal)]
    assert part.checks == tuple(dict.fromkeys(names))
    assert part.wants == {each.wants[0].point: each.wants[0] for each in slots}
    scale = Scale(at())
    options = [[(score, one.circuits[0] if one else None) for score, one in each] for each in part.options]
    assert options == [
        [((0, 0, 0, 0, 0, 0, 0), "X0"), ((0, 0, 0, 0, 0, 0, 1), "X1")],
        [((0, 0, 0, 0, 0, 0, scale.position["T1"]), "T1"), ((1, 0, 0, 0, 0, 0, 0), None)],
        [((0, 0, 0, 0, 0, 0, scale.position["RA"]), "RA")], [((1, 0, 0, 0, 0, 0, 0), None)],
        [((0, 0, 0, 0, 0, 0, scale.position["SG"]), "SG")],
    ]  # fmt: skip


def brute(slots: list[Slot], say: Say, asked: Mapping[Point, str]) -> tuple[float, ...] | None:
    """The score of the best choice of all; None where none passes."""
    scale = Scale(at())
    found = []
    for choice in product(*([*s.candidates, *([None] if not s.required or not s.candidates else [])] for s in slots)):
        every = list(zip(slots, choice, strict=True))
        taps = {point: name for each, one in every for point, name in each.taps(one).items()}
        double = any(twice(*b, *a, asked) for n, b in enumerate(every) for a in every[:n])
        if not double and not (taps and list(say(taps, ()))):
            found.append(scale.whole(every))
    return min(found, default=None)


@pytest.mark.parametrize("seed", range(40))
def test_the_best_of_every_choice(seed: int) -> None:
    """Three or four pins of up to three circuits, some that clash; the answer is as good as the best of all."""
    draw = random.Random(seed)
    signals = ["power", draw.choice(["power", "rs232"]), draw.choice(["rs232", "ground"]), "ground"]
    names = {"power": ["X0", "X1", "X2", "A", "B"], "rs232": ["X3", "X4", "T1"], "ground": ["RA", "RB", "R0"]}
    slots = []
    for n in range(draw.choice((3, 4))):
        serves = [str(k) for k in range(4) if draw.random() < 0.5] if signals[n] == "ground" else []
        have = draw.sample(names[signals[n]], draw.choice((0, 1, 2, 3, 3)))
        slots.append(slot(want(str(n), signals[n], serves), *have, required=draw.random() < 0.7,
                          group=draw.choice((0, 0, 1)), burdens=[draw.choice((0.1, 0.2)) for _ in have]))  # fmt: skip
    every = [(f"{s.wants[0].point.cavity}={one.circuits[0]}", n) for n, s in enumerate(slots) for one in s.candidates]
    pairs = [(a, b) for a, n in every for b, m in every if n < m and draw.random() < 0.3]
    pairs += [(a, a) for a, _ in every if draw.random() < 0.1]
    asked = {pin("1"): "as asked"} if draw.random() < 0.3 else {}
    best = brute(slots, clash(*pairs), asked)
    part, _ = made(slots, clash(*pairs), [point.cavity for point in asked])
    found = part.run()
    assert sorted(map(id, slots)) == sorted(id(each) for each, _ in found)
    taps = {point: name for each, one in found for point, name in each.taps(one).items()}
    assert not taps or not list(clash(*pairs)(taps, ())), "what is chosen passes"
    if best is None:
        assert part.best is None and any(one is None and s.required and s.candidates for s, one in found)
    else:
        assert part.best == pytest.approx(best) and Scale(at()).whole(found) == pytest.approx(best)


GREEDY = [slot(want("1"), "A", "B", burdens=(0.1, 0.2)), slot(want("2", "ground", "1"), "RA", "RB")]
"""A has more to spare; but only of B a return is known (2 less in the fourth figure), so B with RB is the best."""


def test_a_better_choice_is_looked_for_after_the_first(monkeypatch: pytest.MonkeyPatch) -> None:
    """Sixty questions and no more; the first whole choice is A with RA, found by the fastest way down."""
    assert search.FURTHER == 60
    for further, said in ((60, {"1": "B", "2": "RB"}), (0, {"1": "B", "2": "RB"}), (-1, {"1": "A", "2": "RA"})):
        monkeypatch.setattr(search, "FURTHER", further)
        assert run(GREEDY) == said, further
    part, court = made(GREEDY)
    monkeypatch.setattr(search, "FURTHER", 60)
    part.run()
    near, whole = rules.beside("ground"), part.checks
    assert court.questions == [
        ({"1": "A", "2": "RA"}, near), ({"1": "A", "2": "RA"}, whole), ({"1": "B", "2": "RB"}, near),
        ({"1": "B", "2": "RB"}, whole),
    ], "A with RB cannot be better, and is not asked about"  # fmt: skip
    assert part.until == 2 + 60 and court.whole == 0, "whether it passes is all that is asked"


def test_a_choice_is_given_up_as_soon_as_it_cannot_be_better() -> None:
    """X0 with X2 and RA comes first: after it X3 is not even asked about beside X0, for RA costs the same with it."""
    slots = [
        slot(want("1"), "X0", "X1"),
        slot(want("2"), "X2", "X3", group=1),
        slot(want("3", "ground"), "RA", group=2),
    ]
    part, court = made(slots)
    part.run()
    taps = [said for said, _ in court.questions]
    first = {"1": "X0", "2": "X2"}
    assert taps == [{"2": "X2"}, first, {"3": "RA"}, first | {"3": "RA"}, first | {"3": "RA"}]


def test_what_is_given_up_does_not_end_the_search() -> None:
    """OIL C first (its return is known by name); A is dearer but its return strange; B, dearer still, is the best."""
    slots = [slot(want("1"), "OIL C", "A", "B", burdens=(0.1, 0.2, 0.3)),
             slot(want("2", "ground", "1"), "OIL R", "RB")]  # fmt: skip
    assert run(slots) == {"1": "B", "2": "RB"} and run([*slots[:1], slot(want("2", "ground", "1"), "OIL R")]) == {
        "1": "OIL C", "2": "OIL R",
    }  # fmt: skip


def test_of_choices_that_are_worth_the_same_the_first_stays() -> None:
    """Cavities 0 and 3 or 1 and 2: both sums are three; 0 with 2 would be less, but clashes."""
    slots = [slot(want("1"), "X0", "X1"), slot(want("2"), "X2", "X3", group=1)]
    part, _ = made(slots, clash(("1=X0", "2=X2")))
    assert [one.circuits[0] for _, one in part.run()] == ["X0", "X3"]


def test_the_bound_is_the_best_of_the_others_beside_what_is_chosen() -> None:
    part, _ = made(GREEDY)
    a, b = (one for _, one in part.options[0])
    place = Scale(at()).position
    assert part._least(1, [a], NOTHING)[3] == 2 and part._least(1, [b], NOTHING)[3] == 0
    assert part._least(2, [a, None], (1.0,) * 7) == (1.0,) * 7
    distance = place["RB"] - place["B"]
    assert part._ranked(1, [b], (1.0,) * 7) == [
        ((1, 1, 1, 1, 1, 1 + distance, 1 + place["RB"]), part.options[1][1][1]),
        ((1, 1, 1, 3, 1, distance, 1 + place["RA"]), part.options[1][0][1]),
    ]


def test_the_group_is_asked_alone_first() -> None:
    slots = [slot(want("1"), "X0"), slot(want("2"), "X1", group=1), slot(want("3"), "X2", group=1)]
    part, court = made(slots, clash(("2=X1", "3=X2")))
    one, two, three = (each[0][1] for each in part.options)
    assert part._good([one, two], ("n",)) and court.questions == [
        ({"2": "X1"}, ("n",)),
        ({"1": "X0", "2": "X1"}, ("n",)),
    ]
    court.questions.clear()
    assert part._good([one, two]) and court.questions == [({"1": "X0", "2": "X1"}, part.checks)]
    court.questions.clear()
    assert not part._good([one, two, three], ("n",)) and court.questions == [({"2": "X1", "3": "X2"}, ("n",))]
    court.questions.clear()
    assert part._good([one], ("n",)) and court.questions == [({"1": "X0"}, ("n",))], "one group: one question"
    part, court = made(slots, clash(("1=X0", "1=X0"), check="no-return"))
    assert part._good([one], ("n",)) and not part._good([one]), "a return may still come, until all are chosen"
    part, court = made(slots, lambda taps, names: [fault()])
    assert part._good([None]) and part._good([None, None], ("n",)), "nothing is tapped"
    assert not part._good([one, None], ("n",)), "the other group is asked as well"


def test_a_first_tap_is_not_asked_about_alone() -> None:
    """It has passed by itself before it became a candidate."""
    part, court = made([slot(want("1"), "X0"), slot(want("2"), "X1", required=False)])
    part.run()
    assert court.questions[0] == ({"1": "X0", "2": "X1"}, rules.beside("power")) and len(court.questions) == 2


def test_one_line_is_not_led_to_a_unit_twice() -> None:
    slots = [slot(want("1", "rs232"), "T1"), slot(want("2", "rs232"), "T1", "X3")]
    assert run(slots) == {"1": "T1", "2": "X3"} and run(slots, asked="2") == {"1": "T1", "2": "T1"}
    part, _ = made(slots)
    (one,), (three, two) = ([each for _, each in options] for options in part.options)
    assert part._twice([one, two]) and not part._twice([one, three])
    assert not part._twice([one]) and not part._twice([one, None])


# -- no choice serves all -------------------------------------------------------------------------------------------


def test_group_after_group_is_served_as_far_as_it_can_be() -> None:
    """The two groups share a circuit and clash: the first is served; of the second the pin that does not clash is."""
    slots = [slot(want("1"), "X0"), slot(want("2"), "X0", group=1), slot(want("3"), "X1", group=1)]
    assert run(slots, clash(("1=X0", "2=X0"))) == {"1": "X0", "2": None, "3": "X1"}
    third = [*slots, slot(want("4"), "X0", group=2)]
    assert run(third, clash(("1=X0", "2=X0"))) == {"1": "X0", "2": None, "3": "X1", "4": "X0"}
    other = [slot(want("1"), "X0", "X1"), slot(want("2"), "X0", group=1), slot(want("3"), "X1", group=1)]
    found = run(other, clash(("1=X0", "2=X0"), ("1=X1", "2=X0")))
    assert found == {"1": "X0", "2": None, "3": "X1"}, "the best of the first group stands"


def test_a_group_that_can_be_served_is_served_as_a_whole() -> None:
    """Its first circuits clash; pin after pin X0 would be taken, and pin 2 left open."""
    slots = [slot(want("1"), "X0", "X1"), slot(want("2"), "X2"), slot(want("3"), "X0", group=1)]
    say = clash(("1=X0", "2=X2"), ("1=X1", "3=X0"))
    assert run(slots, say) == {"1": "X1", "2": "X2", "3": None}


def test_the_order_of_the_answer_is_that_of_the_part() -> None:
    """A return comes after the supplies of all groups, whatever group after group was looked at."""
    slots = [slot(want("1", "ground"), "RA"), slot(want("2"), "X0"), slot(want("3"), "X0", group=1)]
    assert list(run(slots, clash(("2=X0", "3=X0"))).items()) == [("2", "X0"), ("3", None), ("1", "RA")]


def test_of_a_group_that_cannot_be_served_what_can_be_is() -> None:
    """Pin after pin takes its first circuit that goes with what is chosen."""
    slots = [slot(want("1"), "X0", "X1"), slot(want("2"), "X2", "X3"), slot(want("3"), "X4")]
    say = clash(("1=X0", "2=X2"), ("1=X0", "3=X4"), ("1=X1", "3=X4"))
    assert run(slots, say) == {"1": "X0", "2": "X3", "3": None}
    lines = [slot(want("1", "rs232"), "T1"), slot(want("2", "rs232"), "T1"), slot(want("3", "rs232"), "X3")]
    assert run(lines) == {"1": "T1", "2": None, "3": "X3"}
    bare = [slot(want("1", "ground")), slot(want("2"), "X0"), slot(want("3"), "X1")]
    assert run(bare, clash(("2=X0", "3=X1"))) == {"2": "X0", "3": None, "1": None}


def late(label: str) -> Say:
    """A fault that only the whole is asked about, and which names this pin; it goes with a tap of pin 2 or 3."""

    def say(taps: Mapping[Point, str], names: tuple[str, ...]) -> Iterable[Finding]:
        there = {point.cavity for point in taps}
        if "pin-map-mismatch" in names and there & {"2", "3"}:
            return [fault("x", label)]
        return ()

    return say


def test_what_the_whole_is_refused_for_is_taken_out_again() -> None:
    """The pins that the fault names, the last first; where it names none, the last that is chosen."""
    slots = [slot(want("1"), "X0"), slot(want("2"), "X1"), slot(want("3"), "X2")]
    assert run(slots, late("A1J1-2")) == {"1": "X0", "2": None, "3": None}, "2 by name, then the last"
    assert run(slots, late("P14")) == {"1": "X0", "2": None, "3": None}
    first = run(slots, late("A1J1-1"))
    assert first == {"1": None, "2": None, "3": None}, "1 by name; it is open already: the last, and the last"

    def one(taps: Mapping[Point, str], names: tuple[str, ...]) -> Iterable[Finding]:
        return [fault("x", "A1J1-1"), fault("x", "A1J1-2")] if {pin("1"), pin("2"), pin("3")} <= set(taps) else ()

    assert run(slots, lambda t, n: one(t, n) if "pin-map-mismatch" in n else ()) == {"1": "X0", "2": None, "3": "X2"}


def test_a_search_with_others_settled() -> None:
    slots = [slot(want("1", "ground"), "RA", "RB"), slot(want("2"), "X0", "X1"), slot(want("3"), "X2", required=False)]
    part, court = made(slots)
    two, one = slots[1].candidates[1], slots[0].candidates[0]
    beside = part._beside([(slots[1], two), (slots[2], None)], [slots[0]])
    assert [each.wants[0].point.cavity for each in beside.slots] == ["2", "3", "1"]
    scale = Scale(at())
    assert beside.options[0] == [(scale.own(slots[1], two), two)] and beside.options[1] == [((1, *NOTHING[1:]), None)]
    assert [each for _, each in beside.options[2]] == [one, slots[0].candidates[1]]
    assert beside.court is court and beside.asked is part.asked
    found = beside.run()
    assert [each.circuits[0] if each else None for _, each in found] == ["X1", None, "RA"]
