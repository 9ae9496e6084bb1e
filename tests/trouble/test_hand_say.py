"""Sentences at their edges: lists that just fit, shares that just count, the first reading beside the list."""

from __future__ import annotations

import pytest

from harnesscheck.place import Point
from harnesscheck.trouble.ask import Groups
from harnesscheck.trouble.desk import Desk
from harnesscheck.trouble.faults import Plan, Trouble
from harnesscheck.trouble.rank import Ranking, Suspect, Taken
from harnesscheck.trouble.say import asked, data, ending, name, remarks, text
from harnesscheck.trouble.symptoms import factors, named, understood
from tests.trouble.small import OPEN, desk, fault, ranker, reading

A, B, C, D = (fault(letter, 0.1) for letter in "ABCD")
READINGS = [reading("BC1"), reading("BC2")]


def made() -> Desk:
    """Two readings of the list, and two that were offered beside it."""
    here = desk(ranker(READINGS, [0.1, 0.1], {A: [{0: OPEN}], B: [{0: OPEN}], C: [{0: OPEN}], D: [{1: OPEN}]}))
    here.ranker.predictor.hot += [False, False]
    here.ranker.predictor.healthy += [0.3, OPEN]
    here.ranker.bands += [(0.0, 2.3), (1e6, OPEN)]
    return here


def suspect(share: float, *faults: Trouble, explains: tuple[int, ...] = ()) -> Suspect:
    return Suspect(tuple((one,) for one in faults), (), share, [(1.0, {})], explains)


def ranking(*suspects: Suspect, wrong: tuple[int, ...] = (), nothing: float = 0.0, hidden: float = 0.0,
            unknown: float = 0.0) -> Ranking:  # fmt: skip
    return Ranking(list(suspects), wrong, nothing, hidden, (), unknown)


def test_the_first_reading_beside_the_list() -> None:
    """Two of the list: number 2 is the first one beside it."""
    here = made()
    here.taken = [Taken(1, OPEN), Taken(2, 5.0)]
    said = text(here, ranking(wrong=(1, 2)), None).splitlines()
    assert said[0].endswith(": 1 of 2 readings taken, 1 beside the list, 2 wrong")
    assert said[1:3] == ["  wrong: BC2 open (at most 0.50 ohm)", "  wrong: extra 1 5.00 ohm (extra reading)"]
    assert (name(here, 1), name(here, 2), name(here, 3)) == ("BC2", "extra 1", "extra 2")


@pytest.mark.parametrize(("count", "more"), [(99, ""), (100, " and 1 more")])
def test_every_point_of_a_group_is_named_up_to_99(count: int, more: str) -> None:
    here = made()
    many, one = tuple(Point("J1", str(n)) for n in range(count)), (Point("P1", "7"),)
    here.ranker.predictor.readings += [Groups(many, one), Groups(one, many)]
    every = "J1-0" + "".join(f", -{n}" for n in range(1, 99)) + more
    assert asked(here, 2).startswith(f"two groups: ohms, to be open: tie together {every}. Tie together P1-7. ")
    assert asked(here, 3).startswith(f"two groups: ohms, to be open: tie together P1-7. Tie together {every}. ")


@pytest.mark.parametrize(
    ("faults", "line"),
    [
        ((A, B), "        or, no reading tells it apart: B is bad"),
        ((A, B, C), "        or one of these 2, no reading tells it apart: B is bad; C is bad"),
        ((A, B, C, D), "        or one of these 3, no reading tells it apart: B is bad; C is bad; D is bad"),
    ],
)  # fmt: skip
def test_one_other_or_one_of_several(faults: tuple[Trouble, ...], line: str) -> None:
    assert line in text(made(), ranking(suspect(0.9, *faults)), None).splitlines()


@pytest.mark.parametrize(("share", "said"), [(0.0051, True), (0.005, False)])
def test_half_a_percent_speaks_for_a_suspect(share: float, said: bool) -> None:
    here = made()
    here.taken = [Taken(1, OPEN)]
    found = list(remarks(here, ranking(suspect(share, A), wrong=(1,))))
    assert found == (
        ["No single or double fault explains all readings: BC2 does not fit the likeliest suspect; read it again"]
        if said else []
    )  # fmt: skip


def test_a_fault_that_is_no_likelier_than_none_is_not_the_one_that_is_left() -> None:
    """96 of 100 for either: that no fault is shown is the end of it."""
    assert list(ending(made(), ranking(suspect(0.96, A), nothing=0.96), None)) == ["These readings show no fault."]
    assert list(ending(made(), ranking(suspect(0.97, A), nothing=0.96), None)) == [
        "One suspect is left: no further reading is needed."
    ]


def test_shares_as_data_have_six_places() -> None:
    said = data(made(), ranking(nothing=0.12345678, hidden=0.23456789, unknown=0.34567891), None)
    assert (said["as designed"], said["shows in no reading"], said["something else"]) == (0.123457, 0.234568, 0.345679)


J = [Point("J1", str(n)) for n in range(4)]
P = Point("P9", "1")
PLAN = Plan(signals={J[1]: "power", J[2]: "can", P: "power"}, names={J[1]: "WING PWR", J[2]: "CAN H", P: "STALL"})


def test_one_end_at_the_new_unit_is_enough() -> None:
    """A short from the stub J1 to the line P9: it is on the stub, so nothing that was there before."""
    faults = [Trouble("x", "", "", points=points) for points in ((J[1], P), (P,), (J[1],), (J[2],))]
    stubs = frozenset({"J1"})
    assert factors("new unit dead", faults, PLAN, stubs) == {0: 8.0, 2: 8.0}
    assert factors("old radio quit", faults, PLAN, stubs) == {1: 8.0}
    assert factors("hello", faults, PLAN, stubs) == {} and factors("wing", faults, PLAN, stubs) == {0: 8.0, 2: 8.0}
    assert factors("new unit dead, wing", faults, PLAN, stubs) == {0: 64.0, 2: 64.0}


def test_a_slip_is_near_enough_or_not() -> None:
    """0.75 is wanted: brekaer 2 x 6 / 14 = 0.86; brooker 2 x 5 / 14 = 0.71, tropes 2 x 4 / 11 = 0.73 are not near."""
    assert [s.says for s in understood("brekaer trips")] == ["a breaker trips"]
    assert understood("brooker tropes") == []
    # A circuit's word wants 0.85: one letter of five left out is 2 x 4 / 9 = 0.89, one exchanged 2 x 4 / 10 = 0.8.
    assert named("stal", PLAN) == ["STALL"] and named("stoll", PLAN) == []
