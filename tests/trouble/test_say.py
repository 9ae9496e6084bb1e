"""What is read out on the telephone: each sentence from a ranking written down by hand."""

from __future__ import annotations

import pytest

from harnesscheck.place import Point
from harnesscheck.trouble.ask import Groups, Question, Series
from harnesscheck.trouble.desk import Desk
from harnesscheck.trouble.faults import Trouble
from harnesscheck.trouble.rank import Ranking, Suspect, Taken
from harnesscheck.trouble.say import CAUTION, asked, data, ending, name, points, remarks, text, value
from tests.trouble.small import OPEN, desk, fault, ranker, reading


@pytest.mark.parametrize(
    ("number", "unit", "said"),
    [
        (OPEN, "ohm", "open"), (13.9, "V", "13.90 V"), (2000.0, "V", "2000.00 V"), (0.025, "ohm", "0.03 ohm"),
        (9.99, "ohm", "9.99 ohm"), (10.0, "ohm", "10.0 ohm"), (999.9, "ohm", "999.9 ohm"), (1000.0, "ohm", "1 kohm"),
        (12100.0, "ohm", "12.1 kohm"), (999e3, "ohm", "999 kohm"), (1e6, "ohm", "1 Mohm"), (2.5e6, "ohm", "2.5 Mohm"),
        (OPEN, "V", "open"),
    ],
)  # fmt: skip
def test_values(number: float, unit: str, said: str) -> None:
    assert value(number, unit) == said


J, P = [Point("J1", str(n)) for n in range(20)], [Point("P1", str(n)) for n in range(20)]


@pytest.mark.parametrize(
    ("listed", "most", "said"),
    [
        ([J[1]], 12, "J1-1"), ([J[1], J[3], P[2]], 12, "J1-1, -3; P1-2"), ([J[1], P[2], J[3]], 12, "J1-1, -3; P1-2"),
        (J[1:4], 3, "J1-1, -2, -3"), (J[1:4], 2, "J1-1, -2 and 1 more"),
        (J[:14], 12, "J1-0, -1, -2, -3, -4, -5, -6, -7, -8, -9, -10, -11 and 2 more"),
    ],
)  # fmt: skip
def test_points_of_one_connector_stand_together(listed: list[Point], most: int, said: str) -> None:
    assert points(listed, most) == said
    if most == 12:
        assert points(listed) == said


READINGS = [
    reading("BC1"), reading("BC2"), reading("BS3", "isolation"), reading("BV4", "volts"), reading("BR5", "ohms"),
]  # fmt: skip
A, B, C = fault("A", 0.2), fault("B", 0.1), fault("C", 0.05)
U = fault("U", 0.05)


def made(name: str = "bench", heard: tuple[str, ...] = (), hidden: bool = True) -> Desk:
    faults = {A: [{0: OPEN}], B: [{0: OPEN}], C: [{1: OPEN}]}
    return desk(ranker(READINGS, [0.1, 0.1, OPEN, 14.0, 60.0], faults | ({U: [{}]} if hidden else {})), name, heard)


def ranking(*suspects: Suspect, wrong: tuple[int, ...] = (), nothing: float = 0.0, hidden: float = 0.0,
            unknown: float = 0.0) -> Ranking:  # fmt: skip
    return Ranking(list(suspects), wrong, nothing, hidden, (U,), unknown)


def suspect(p: float, *troubles: tuple[Trouble, ...], explains: tuple[int, ...] = (), against: tuple[int, ...] = ()
            ) -> Suspect:  # fmt: skip
    return Suspect(troubles, (), p, [(1.0, {})], explains, against)


def test_readings_as_instructions() -> None:
    here = made()
    assert asked(here, 0) == "BC1: ohms: J1-1 to P1-1 (at most 0.50 ohm; line 1)"
    assert asked(here, 2) == "BS3: ohms, to be open: J1-3 to P1-3 (at least 10 Mohm; line 3)"
    assert asked(here, 3) == "BV4: volts, power on: J1-4 to P1-4 (12.0 to 15.0 V; line 4)"
    predictor = here.ranker.predictor
    predictor.readings += [Series(((J[1], P[1]), (P[2], J[2]), (J[3], P[3]))), Groups(tuple(J[1:15]), (P[1],))]
    predictor.healthy += [0.3, OPEN]
    assert asked(here, 5) == (
        "in series: ohms: J1-1 to P1-3 (about 0.30 ohm), with loop-back leads P1-1 to P1-2; J1-2 to J1-3"
    )
    said = asked(here, 6)
    assert said.startswith("two groups: ohms, to be open: tie together J1-1, -2") and "more" not in said
    assert "Tie together P1-1. Read one group to the other" in said and "--probes" in said
    assert (name(here, 4), name(here, 5), name(here, 6)) == ("BR5", "extra 1", "extra 2")


def lines(here: Desk, ranked: Ranking, question: Question | None = None) -> list[str]:
    return text(here, ranked, question).splitlines()


def test_the_head_counts_readings_once() -> None:
    here = made(heard=("the new unit is dead", "it is about AOA"))
    here.taken = [Taken(0, OPEN), Taken(0, 0.2), Taken(3, 0.0), Taken(2, None, False), Taken(7, 4.0)]
    said = lines(here, ranking(wrong=(0, 3, 2, 7)))
    assert said[0].endswith(": 3 of 5 readings taken, 1 beside the list, 4 wrong")
    assert said[1] == "understood: the new unit is dead; it is about AOA"
    assert said[2:7] == [
        "  wrong: BC1 open (at most 0.50 ohm)", "  wrong: BC1 0.20 ohm (at most 0.50 ohm)",
        "  wrong: BV4 0.00 V (12.0 to 15.0 V)", "  wrong: BS3 called wrong by hand (at least 10 Mohm)",
        "  wrong: extra 3 4.00 ohm (extra reading)",
    ]  # fmt: skip
    assert said[-1] == CAUTION
    plain = lines(made(), ranking())
    assert plain[0].endswith(": 0 of 5 readings taken, 0 wrong") and plain[1] == ""


@pytest.fixture(autouse=True)
def seven(monkeypatch: pytest.MonkeyPatch) -> None:
    """Seven readings are known to the meter of the desk; two of them are beside the list."""
    import tests.trouble.small as small

    whole = small.desk

    def longer(*given: object, **more: object) -> Desk:
        here = whole(*given, **more)  # type: ignore[arg-type]
        here.ranker.predictor.hot += [False] * 3
        here.ranker.predictor.healthy += [0.3] * 3
        here.ranker.bands += [(0.0, 2.3)] * 3
        return here

    monkeypatch.setitem(globals(), "desk", longer)


def test_suspects_come_with_their_place_and_what_they_explain() -> None:
    here = made()
    said = lines(here, ranking(
        suspect(0.7, (A,), (B,), explains=(0,), against=(1, 2)), suspect(0.2, (A, C)), suspect(0.004, (C,)),
        wrong=(0,), nothing=0.06, hidden=0.03, unknown=0.008,
    ))  # fmt: skip
    start = said.index("") + 1
    assert said[start : start + 12] == [
        "  70 %  A is bad", "        look at the cavity of A", "        or, no reading tells it apart: B is bad",
        "        explains BC1", "        against it: BC2, BS3",
        "  20 %  A is bad AND C is bad", "        look at the cavity of A",
        "          or, no reading tells it apart: B is bad", "        look at the cavity of C",
        "        explains no wrong reading",
        "   6 %  the wiring under test is as designed: look at the unit, its configuration, the drawing",
        "   3 %  a fault that shows in no reading here (1 such): U is bad",
    ]  # fmt: skip
    assert said[start + 12] == " < 1 %  something else: three faults or more, or a drawing that is wrong"
    assert said[start + 13] != " < 1 %  C is bad"


def test_shares_below_half_a_percent_are_left_out_and_no_more_than_five_are_shown() -> None:
    here = made(hidden=False)
    said = lines(
        here, ranking(*(suspect(0.1, (fault(f"T{n}", 0.1),)) for n in range(7)), nothing=0.005, unknown=0.0049)
    )
    assert [line for line in said if line.startswith("  10 %")] == [f"  10 %  T{n} is bad" for n in range(5)]
    assert any(line.startswith(" < 1 %  the wiring") for line in said)
    assert not any("something else" in line or "explains" in line or "shows in no reading" in line for line in said)


def test_long_lists_are_cut_with_their_count() -> None:
    here = made()
    group = [(fault(f"T{n}", 0.1),) for n in range(9)]
    said = "\n".join(lines(here, ranking(suspect(0.9, *group, explains=tuple(range(5))), wrong=(0,))))
    six = "; ".join(f"T{n} is bad" for n in range(1, 7))
    assert f"        or one of these 8, no reading tells it apart: {six}, and 2 more" in said
    said = "\n".join(lines(here, ranking(suspect(0.9, *group[:7]), wrong=(0,))))
    assert f"or one of these 6, no reading tells it apart: {six}\n" in said
    many = {fault(f"T{n}", 0.01): [{0: OPEN}] for n in range(6)}
    here = desk(ranker(READINGS, [0.1, 0.1, OPEN, 14.0, 60.0], many | {C: [{1: OPEN}]}))
    said = "\n".join(lines(here, ranking(suspect(0.9, (here.troubles[0], C), against=(*range(5), *range(5, 13))))))
    assert "or, no reading tells it apart: T1 is bad; T2 is bad; T3 is bad, and 2 more" in said
    ids = "BC1, BC2, BS3, BV4, BR5, " + ", ".join(f"extra {n}" for n in range(1, 8))
    assert f"against it: {ids} and 1 more" in said


def test_what_does_not_fit_together() -> None:
    here = made()
    here.taken = [Taken(0, OPEN), Taken(0, 0.2), Taken(1, OPEN)]
    best = suspect(0.5, (A,), explains=(0,), against=(1, 2))
    assert list(remarks(here, ranking(best, wrong=(0, 1)))) == [
        "BC1 was read well and badly: it comes and goes; move the bundle while reading",
        "No single or double fault explains all readings: BC2 does not fit the likeliest suspect; read it again",
        "BS3 would be wrong with the likeliest suspect, and was read as good: read it again",
    ]
    assert "BC2, BS3 do not fit the likeliest suspect; read them again" in list(
        remarks(here, ranking(best, wrong=(0, 1, 2)))
    )[1]  # fmt: skip
    # A suspect of no weight speaks for nothing; with half and more on something else that is said instead.
    here.taken = [Taken(1, OPEN)]
    weak = suspect(0.005, (A,))
    compare = "No single or double fault explains all readings: take them again, then compare the drawing"
    assert list(remarks(here, ranking(weak, wrong=(1,), unknown=0.51))) == [compare]
    assert list(remarks(here, ranking(weak, wrong=(1,), unknown=0.5))) == []
    assert "BC2 does not fit" in next(remarks(here, ranking(suspect(0.006, (A,)), wrong=(1,), unknown=0.9)))
    assert list(remarks(here, ranking(suspect(0.4, (A,), explains=(1,)), wrong=(1,), unknown=0.51))) == [compare]
    assert list(remarks(here, ranking(best))) == [] and list(remarks(here, ranking(wrong=(1,)))) == []


BENCH = ", or read the kit on the bench (--article bench)"
NONE_LEFT = "No further reading tells the suspects apart: go and look, likeliest first."


@pytest.mark.parametrize("article", ["bench", "installed"])
@pytest.mark.parametrize(
    ("given", "said"),
    [
        (ranking(suspect(0.96, (A,))), "One suspect is left: no further reading is needed."),
        (ranking(suspect(0.96, (A,), (B,))),
         "What is left is one of 2 faults that no reading of this list tells apart: look at them in this order{}."),
        (ranking(nothing=0.9, hidden=0.08), "These readings show no fault."),
        (ranking(suspect(0.01, (A,)), nothing=0.48, hidden=0.48), "These readings show no fault."),
        (ranking(nothing=0.4, hidden=0.58),
         "These readings show no fault, and the likelier ones left show in none of them: go and look{}."),
        (ranking(suspect(0.5, (A,)), nothing=0.5), NONE_LEFT),
    ],
)  # fmt: skip
def test_the_end(article: str, given: Ranking, said: str) -> None:
    (found,) = ending(made(article), given, None)
    assert found == said.format(BENCH if article == "installed" else "")


def test_the_next_reading() -> None:
    here = made()
    question = Question(1, 0.456, 0.7, READINGS[1])
    (found,) = ending(here, ranking(suspect(0.5, (A,)), nothing=0.4), question)
    assert found == "next reading (0.46 bit, 0.7 min): BC2: ohms: J1-2 to P1-2 (at most 0.50 ohm; line 2)"


def test_the_same_as_plain_data() -> None:
    here = made(heard=("the new unit is dead",))
    here.taken = [Taken(0, OPEN), Taken(0, OPEN), Taken(1, 0.2)]
    group = fault("A", 0.2, points=(J[1],), wires=("W1",))
    given = ranking(
        suspect(0.8123456789, (group, C), explains=(0,), against=(1,)), suspect(0.0009, (B,)), suspect(0.001, (B,)),
        wrong=(0,), nothing=0.1000000001, hidden=0.05, unknown=0.02,
    )  # fmt: skip
    said = data(here, given, Question(1, 0.45678, 0.7, READINGS[1]))
    assert said == {
        "article": "bench", "taken": 2, "readings": 5, "wrong": ["BC1"], "understood": ["the new unit is dead"],
        "as designed": 0.1, "shows in no reading": 0.05, "something else": 0.02,
        "suspects": [
            {"probability": 0.812346, "explains": ["BC1"], "against": ["BC2"], "faults": [[
                {"kind": "contact open", "says": "A is bad", "look at": "the cavity of A", "points": ["J1-1"],
                 "wires": ["W1"]},
                {"kind": "contact open", "says": "C is bad", "look at": "the cavity of C", "points": [], "wires": []},
            ]]},
            {"probability": 0.001, "explains": [], "against": [], "faults": [[
                {"kind": "contact open", "says": "B is bad", "look at": "the cavity of B", "points": [], "wires": []},
            ]]},
        ],
        "remarks": ["BC2 would be wrong with the likeliest suspect, and was read as good: read it again"],
        "faults that show in no reading": 1,
        "next": {"reading": "BC2", "bits": 0.457, "minutes": 0.7,
                 "words": "BC2: ohms: J1-2 to P1-2 (at most 0.50 ohm; line 2)"},
        "settled": False, "caution": CAUTION,
    }  # fmt: skip
    many = ranking(*(suspect(0.01, (B,)) for _ in range(23)), nothing=0.99)
    said = data(here, many, None)
    assert len(said["suspects"]) == 20 and said["next"] is None and said["settled"] is True


@pytest.mark.parametrize(("share", "said"), [(0.0101, "   1 %"), (0.01, "   1 %"), (0.0099, " < 1 %")])
def test_shares(share: float, said: str) -> None:
    line = next(line for line in lines(made(), ranking(nothing=share)) if "as designed" in line)
    assert line.startswith(f"{said}  the wiring")


def test_the_answer_ends_with_the_next_step_and_the_caution() -> None:
    said = lines(made(), ranking(nothing=0.97))
    assert said[-3:] == ["", "These readings show no fault.", CAUTION]


def test_exactly_what_fits_is_not_called_more() -> None:
    many = {fault(f"T{n}", 0.01): [{0: OPEN}] for n in range(4)}
    here = desk(ranker(READINGS, [0.1, 0.1, OPEN, 14.0, 60.0], many | {C: [{1: OPEN}]}))
    twelve = tuple(range(5)) + tuple(range(5, 12))
    said = "\n".join(lines(here, ranking(suspect(0.9, (here.troubles[0], C), against=twelve))))
    assert "tells it apart: T1 is bad; T2 is bad; T3 is bad\n" in said and "extra 7\n" in said
    five = {fault(f"T{n}", 0.01): [{0: OPEN}] for n in range(5)}
    here = desk(ranker(READINGS, [0.1, 0.1, OPEN, 14.0, 60.0], five | {C: [{1: OPEN}]}))
    assert "T3 is bad, and 1 more" in "\n".join(lines(here, ranking(suspect(0.9, (here.troubles[0], C)))))
