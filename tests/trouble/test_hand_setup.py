"""Pairs, neighbours and mirror images of cavities: positions of a made-up face, worked out by hand."""

from __future__ import annotations

from collections.abc import Sequence
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck.connector import Origin
from harnesscheck.faces import NEAR, Face
from harnesscheck.place import Point
from harnesscheck.source import Source, Status
from harnesscheck.trouble.setup import _labels, _mirror, _near, _pairs, _spots, plan_of

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


def test_neighbours_at_the_limit_itself() -> None:
    """1.35 pitches apart, the pitch being the 1.0 from 2 to 1."""
    edge = face(_1=(0.0, 0.0), _2=(-1.0, 0.0), _3=(NEAR, 0.0))
    assert list(_near(P[1:4], edge)) == [(P[1], P[2]), (P[1], P[3])] and NEAR == 1.35


@pytest.mark.parametrize(
    ("spots", "table"),
    [
        # 2 stands 0.2 right of the middle 12, its image 0.2 left: 0.4 off, a quarter of the pitch 1.8 is 0.45
        ({"_1": (10.0, 0.0), "_2": (12.2, 0.0), "_3": (14.0, 0.0)}, {1: 3, 2: 2, 3: 1}),
        # 0.24: 0.48 off, of the pitch 1.76 a quarter is 0.44
        ({"_1": (10.0, 0.0), "_2": (12.24, 0.0), "_3": (14.0, 0.0)}, {}),
        # the image of 1 is half a unit below 2, a quarter of the pitch 2 from 3 to 4
        ({"_1": (10.0, 0.0), "_2": (14.0, 0.5), "_3": (12.0, 5.0), "_4": (12.0, 7.0)}, {1: 2, 2: 1, 3: 3, 4: 4}),
    ],
)  # fmt: skip
def test_mirror_images_a_quarter_of_a_pitch_off(spots: dict[str, tuple[float, float]], table: dict[int, int]) -> None:
    assert _mirror(P[1 : len(spots) + 1], face(**spots)) == {P[a]: P[b] for a, b in table.items()}


def test_what_is_no_pair_stops_nothing() -> None:
    """H, another class, L; and a line of the same name: the pair beyond them is found."""
    signals = {P[1]: "can", P[2]: "discrete", P[3]: "can", P[4]: "can", P[5]: "can"}
    lines = {P[1]: ("BUS", "H"), P[2]: ("", "WARN"), P[3]: ("BUS", "H"), P[4]: ("BUS", "L"), P[5]: ("", "TX")}
    assert list(_pairs(P[1:6], signals, lines)) == [(P[1], P[4]), (P[3], P[4])]


class Nets:
    """Copper by number, as it is written down."""

    def __init__(self, *nets: tuple[Point, ...]) -> None:
        self.number = {point: n for n, net in enumerate(nets) for point in net}

    def of(self, point: Point) -> int | None:
        return self.number.get(point)


def circuit(name: str, signal: str | None = None, pair: str | None = None, line: str | None = None,
            terminator: float | None = None) -> Any:  # fmt: skip
    return SimpleNamespace(name=name, signal=signal, pair=pair, line=line, terminator=terminator)


def cavity(point: Point, name: str | None) -> tuple[None, Any]:
    return None, SimpleNamespace(point=point, circuit=name)


A, B, M = ([Point(ref, str(n)) for n in range(10)] for ref in ("A1", "B1", "M1"))


def harness(nets: Nets, cavities: Sequence[tuple[None, Any]], **more: Any) -> Any:
    """What ``_labels`` asks of a harness."""
    at = {c.point: c for _, c in cavities}
    said = {
        "nets": nets, "before": None, "mated_points": (), "circuits": {
            "PWR": circuit("PWR", "power"), "CANH": circuit("CANH", "can", "BUS", "H"), "X": circuit("X"),
        },
        "cavities": lambda: cavities, "cavity": at.get, "pins": lambda: (),
    }  # fmt: skip
    return SimpleNamespace(**(said | more))


def half(ref: str, *names: str, origin: Origin = Origin.AIRFRAME, insert: Sequence[str] = ()) -> Any:
    return SimpleNamespace(ref=ref, cavities=dict.fromkeys(names), origin=origin, names=tuple(insert))


def test_cavities_are_called_by_the_circuit_of_their_copper() -> None:
    """Copper A1-1 B1-1, A1-2 B1-2, and so on; only the A side says what it is. 5 and 9 hang on nothing known."""
    nets = Nets(*((A[n], B[n]) for n in range(1, 5)))
    said = [cavity(A[9], "PWR"), cavity(A[1], "PWR"), cavity(A[2], "CANH"), cavity(A[3], "X"), cavity(A[4], "no such"),
            cavity(B[1], "X"), cavity(A[4], None)]  # fmt: skip
    signals, names, lines = _labels(harness(nets, said), [half("B1", "5", "1", "2", "3", "4")])
    assert signals == {B[1]: "power", B[2]: "can", B[3]: ""}
    assert names == {B[1]: "PWR", B[2]: "CANH", B[3]: "X"}, "the first name of a piece of copper stays"
    assert lines == {B[1]: ("", "PWR"), B[2]: ("BUS", "H"), B[3]: ("", "X")}


def test_the_aircraft_before_the_kit_says_what_its_cavities_carry() -> None:
    """M1 met A1 before the kit went in: what M1 says holds for the copper at A1, and the other way round."""
    nets = Nets((A[1], B[1]), (A[2], B[2]), (M[3], B[3]), (A[4], B[4]), (A[6], B[6]))
    before = SimpleNamespace(
        cavities=lambda: [cavity(A[1], "PWR")],
        mated_points=[(M[1], A[1]), (M[2], A[2]), (M[3], A[3]), (M[4], A[4]), (M[5], A[5]), (M[6], A[6])],
    )
    said = [cavity(M[1], "CANH"), cavity(M[2], "CANH"), cavity(A[3], "X"), cavity(M[4], "no such"),
            cavity(M[5], "X"), cavity(M[6], None)]  # fmt: skip
    here = harness(nets, said, before=before, mated_points=[(A[4], B[1])])
    signals, names, _ = _labels(here, [half("B1", "1", "2", "3", "4", "6")])
    assert names == {B[1]: "PWR", B[2]: "CANH", B[3]: "X"} and signals == {B[1]: "power", B[2]: "can", B[3]: ""}
    # Without a state before, the harness speaks for itself.
    here.before = None
    _, names, _ = _labels(here, [half("B1", "1", "2", "3")])
    assert names == {}, "neither M1 nor A1-3 is copper of B1"
    here.mated_points = before.mated_points
    assert _labels(here, [half("B1", "1", "2", "3")])[1] == {B[1]: "CANH", B[2]: "CANH", B[3]: "X"}


def test_pins_of_units_speak_where_no_circuit_does() -> None:
    nets = Nets((A[1], B[1]), (A[2], B[2]), (A[3], B[3]))

    def pin(point: Point, signal: str, function: str, line: str | None) -> Any:
        return SimpleNamespace(point=point, signal=signal, function=function, line=line)

    pins = [pin(A[9], "can", "lost", "H"), pin(A[1], "can", "bus high", "H"), pin(A[2], "discrete", "warning", None),
            pin(A[3], "can", "bus low", "L"), pin(B[1], "power", "later", None)]  # fmt: skip
    here = harness(nets, [cavity(A[3], "PWR")], pins=lambda: pins)
    signals, names, lines = _labels(here, [half("B1", "1", "2", "3", "8")])
    assert signals == {B[1]: "can", B[2]: "discrete", B[3]: "power"}
    assert names == {B[1]: "bus high", B[2]: "warning", B[3]: "PWR"}
    assert lines == {B[1]: ("", "H"), B[2]: ("", ""), B[3]: ("", "PWR")}


def test_the_plan_of_two_connectors(monkeypatch: pytest.MonkeyPatch) -> None:
    """A1 has a face of three in a row, B1 none; the pair A1 B1 was opened for the kit halves K1 and L1."""
    shown = {"A1": face(_1=(0.0, 0.0), _2=(1.0, 0.0), _3=(2.0, 0.0)), "B1": None}
    monkeypatch.setattr("harnesscheck.trouble.setup.face", lambda whole, connector: shown[connector.ref])
    nets = Nets((A[1], B[1]), (A[2], B[2]), (B[3],))
    halves = {
        "A1": half("A1", "1", "2", "3", insert=("1", "2", "3")),
        "B1": half("B1", "3", "1", "2", origin=Origin.JUMPER), "C1": half("C1", "1"),
    }  # fmt: skip
    circuits = {"H": circuit("H", "can", "BUS", "H"), "L": circuit("L", "can", "BUS", "L")}
    mates = {"A1": "K1", "B1": "L1", "C1": None, "D1": "N1"}
    here = harness(
        nets, [cavity(A[1], "H"), cavity(A[2], "L")], circuits=circuits, connectors=halves, mate_of=mates.get,
        opens=[("A1", "B1"), ("C1", "D1")],
        wires={"W1": SimpleNamespace(id="W1", a=A[1]), "W2": SimpleNamespace(id="W2", a=Point("Z", "1"))},
    )  # fmt: skip
    plan = plan_of(here, ["A1", "gone", "B1"])
    assert plan.signals == {A[1]: "can", A[2]: "can", B[1]: "can", B[2]: "can"}
    assert plan.names[B[2]] == "L"
    assert plan.pairs == ((A[1], A[2]), (B[1], B[2]))
    assert plan.near == ((A[1], A[2]), (A[2], A[3]), (B[1], B[2]), (B[2], B[3]))
    assert plan.mirrors == ({A[1]: A[3], A[2]: A[2], A[3]: A[1]},)
    assert plan.orders == ((A[1], A[2], A[3]), (B[1], B[2], B[3]))
    assert plan.halves == (("K1", "L1"),) and plan.kit == {B[1], B[2], B[3]}
    assert plan.wires == {"W1": (A[1], B[1]), "W2": ()} and plan.terminator == 120.0
    # One value of terminator is believed, two are not.
    for said, ohms in (((100.0, None), 100.0), ((100.0, 100.0), 100.0), ((100.0, 60.0), 120.0)):
        for one, value in zip(circuits.values(), said, strict=True):
            one.terminator = value
        assert plan_of(here, ["A1"]).terminator == ohms
