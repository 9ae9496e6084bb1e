"""Pairs, neighbours and mirror images of cavities: positions of a made-up face, worked out by hand."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from harnesscheck.faces import Face
from harnesscheck.place import Point
from harnesscheck.source import Source, Status
from harnesscheck.trouble.setup import _mirror, _near, _pairs, _spots

P = [Point("P1", str(n)) for n in range(10)]
SOURCE = Source("invented for the test", Status.STATED)


def face(**spots: tuple[float, float]) -> Face:
    return Face({name[1:]: spot for name, spot in spots.items()}, SOURCE)


# Two rows as in a small D-sub: pitch 1, the second row half a pitch on and 1.03 below: 1.145 on the slant.
ROWS = face(_1=(0.0, 0.0), _2=(1.0, 0.0), _3=(2.0, 0.0), _4=(0.5, -1.03), _5=(1.5, -1.03))


def test_neighbours_stand_within_a_third_more_than_a_pitch() -> None:
    found = {tuple(p.cavity for p in pair) for pair in _near(P[1:6], ROWS)}
    assert found == {("1", "2"), ("2", "3"), ("1", "4"), ("2", "4"), ("2", "5"), ("3", "5"), ("4", "5")}
    far = face(_1=(0.0, 0.0), _2=(1.0, 0.0), _3=(2.36, 0.0), _4=(3.7, 0.0))  # 1.36 and 1.34 pitches apart
    assert {tuple(p.cavity for p in pair) for pair in _near(P[1:5], far)} == {("1", "2"), ("3", "4")}
    assert list(_near([P[1], P[9], P[2]], ROWS)) == [(P[1], P[2])], "9 is not on the face"


def test_neighbours_by_number_where_the_face_is_not_known() -> None:
    assert list(_near(P[1:4], None)) == [(P[1], P[2]), (P[2], P[3])]


def test_mirror_images() -> None:
    """Turned about the middle of 0 to 2: 1 and 3, 4 and 5 change places, 2 stays."""
    assert _mirror(P[1:6], ROWS) == {P[1]: P[3], P[2]: P[2], P[3]: P[1], P[4]: P[5], P[5]: P[4]}
    assert _mirror(P[1:6], None) == {} and _mirror([], ROWS) == {}
    assert _mirror([P[1], P[9]], ROWS) == {}, "a cavity that the face does not show"
    crooked = face(_1=(0.0, 0.0), _2=(1.3, 0.0), _3=(3.0, 0.0))
    assert _mirror(P[1:4], crooked) == {}, "2 turned would stand at 1.7, 0.4 beside the middle one"
    nearly = face(_1=(0.0, 0.0), _2=(1.0, 0.1), _3=(2.0, 0.2))
    assert _mirror(P[1:4], nearly) == {P[1]: P[3], P[2]: P[2], P[3]: P[1]}


@pytest.mark.parametrize(
    ("names", "cavities", "order"),
    [
        (("B", "A"), {}, ["B", "A"]), (None, {"10": 0, "9": 0, "2": 0}, ["2", "9", "10"]),
        (None, {"B": 0, "10": 0, "A": 0, "2": 0}, ["2", "10", "A", "B"]),
    ],
)  # fmt: skip
def test_cavities_in_the_order_of_their_numbers(names: object, cavities: dict[str, int], order: list[str]) -> None:
    connector = SimpleNamespace(ref="P1", names=names, cavities=cavities)
    found = list(_spots(None, connector))  # type: ignore[arg-type]
    assert found == [Point("P1", name) for name in order]


@pytest.mark.parametrize(
    ("signal", "lines", "pair"),
    [
        ("can", (("BUS", "H"), ("BUS", "L")), True), ("can", (("BUS", "H"), ("OTHER", "L")), False),
        ("can", (("", "H"), ("", "L")), True), ("rs485", (("", "A"), ("", "B")), True),
        ("analogue", (("", "+"), ("", "-")), True), ("can", (("", "H"), ("", "B")), False),
        ("can", (("BUS", "H"), ("", "L")), False), ("audio", (("A", "one"), ("A", "two")), True),
        ("rs232", (("", "AOA TX"), ("", "AOA RX")), True), ("rs232", (("", "TXD"), ("", "rxd 2")), True),
        ("rs232", (("", "TX 1"), ("", "TX 2")), False), ("rs232", (("", "AOATX"), ("", "AOA RX")), False),
        ("rs232", (("", "TX"), ("", "GND")), False), ("can", (("BUS", "H"), ("BUS", "H")), False),
        ("power", (("", "+"), ("", "-")), False), ("ground", (("A", "x"), ("A", "y")), False),
        ("shield", (("A", "x"), ("A", "y")), False),
    ],
)  # fmt: skip
def test_pairs(signal: str, lines: tuple[tuple[str, str], tuple[str, str]], pair: bool) -> None:
    said = dict(zip(P[1:3], lines, strict=True))
    assert list(_pairs(P[1:4], dict.fromkeys(P, signal), said)) == ([(P[1], P[2])] if pair else [])
    mixed = {P[1]: signal, P[2]: "discrete"}
    assert list(_pairs(P[1:3], mixed, said)) == [], "of two classes"
