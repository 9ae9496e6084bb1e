"""Sizes and types of wire from a made-up drawer: each limit at its own value and just beyond it."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck.jumper import bodies
from harnesscheck.jumper.conductors import Stock, breaker_of, existing, standard, thicker
from harnesscheck.jumper.kit import Half
from harnesscheck.jumper.lines import Bundle, bundles, through
from harnesscheck.parts.loader import open_drawer
from harnesscheck.place import Point
from harnesscheck.units import Gauge
from tests.jumper.small import Made, Shelf


def awg(number: int) -> Gauge:
    return Gauge(awg=number)


@pytest.mark.parametrize(
    ("sizes", "thickest"),
    [((), None), ((None,), None), ((22, None, 20), 20), ((18, 20), 18), ((20, 20), 20), ((22,), 22)],
)
def test_the_thickest_that_is_known(sizes: tuple[int | None, ...], thickest: int | None) -> None:
    found = thicker(*(None if n is None else awg(n) for n in sizes))
    assert found == (None if thickest is None else awg(thickest))


def test_the_next_standard_size() -> None:
    """Areas by AC 43.13-1B Table 11-9 and IEC 60228: 0.5 mm2 lies between 22 and 20 AWG, 120 mm2 beyond the list."""
    assert standard(awg(21)) == awg(20) and standard(awg(22)) == awg(22) and standard(awg(30)) == awg(28)
    assert standard(Gauge(mm2=0.5)) == awg(20) and standard(Gauge(mm2=120.0)) == Gauge(mm2=120.0)


SIZES = [Made(f"M22759/{s}-{n}") for s in (16, 34, 41, 43) for n in (24, 22, 20, 18)]


def wire(number: str, soft: str = "", **more: Any) -> Made:
    said = {"temperature": 150.0, "volts": 600.0, "od": (0.0014, 0.0015), "weight": 0.007, **more}
    return Made(number, soft, **{name: value for name, value in said.items() if value is not None})


def half(contact: str | None = "C20", sealed: str = "yes") -> Half:
    return Half("P1", "plug", "J1", facts={"sealed": sealed}, contacts=contact)


def stock(airframe_wires: tuple[str | None, ...] = (), hot: float | None = None, cables: tuple[str, ...] = (),
          **kinds: list[Made]) -> Stock:  # fmt: skip
    zone = SimpleNamespace(ambient=None if hot is None else SimpleNamespace(high=hot))
    airframe: Any = SimpleNamespace(
        drawer=Shelf(**({"wire_size": SIZES} | kinds)), zones={"Z": zone, "COOL": SimpleNamespace(ambient=None)},
        wires={str(n): SimpleNamespace(type=t) for n, t in enumerate(airframe_wires)},
        cables={str(n): SimpleNamespace(type=t) for n, t in enumerate(cables)},
    )  # fmt: skip
    return Stock(airframe, ["Z", "COOL", None, "elsewhere"])


@pytest.fixture(autouse=True)
def facts(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bodies, "known", lambda drawer, half, name: half.facts.get(name))


@pytest.mark.parametrize(
    ("wires", "habit"),
    [
        ((), (None, "9")), (("M22759/16-20-9", "M22759/16-22-2", "M22759/34-22-2"), ("M22759/16", "2")),
        (("M22759/34-22", None, "odd"), ("M22759/34", "9")), (("M22759/34-22-93", "M22759/16-22", "M22759/16-20"),
                                                            ("M22759/16", "93")),
    ],
)  # fmt: skip
def test_what_the_aircraft_shows(wires: tuple[str | None, ...], habit: tuple[str | None, str]) -> None:
    assert stock(wires).habit == habit


@pytest.mark.parametrize(
    ("breaker", "fuse", "gauge"),
    [(5.0, False, 22), (5.1, False, 20), (7.5, False, 20), (10.0, False, 18), (15.1, False, None), (None, False, None),
     (5.0, True, 22), (7.5, True, 22), (10.0, True, 20)],
)  # fmt: skip
@pytest.mark.parametrize("by_name", [True, False])
def test_the_thinnest_wire_behind_a_protector(
    breaker: float | None, fuse: bool, gauge: int | None, by_name: bool
) -> None:
    """Made-up rows: breaker 5, 7.5, 15 A, fuse 7.5, 10, 20 A for 22, 20, 18 AWG; at the rating and just above."""
    rows = [
        Made(str(b), breaker=b, fuse=f, gauge=(n, n)) for b, f, n in ((5.0, 7.5, 22), (7.5, 10.0, 20), (15.0, 20.0, 18))
    ]
    one: Any = SimpleNamespace(
        rating=breaker, ref="F3" if fuse and not by_name else "CB1", name="Fuse 3" if fuse and by_name else "radio",
    )  # fmt: skip
    rows.insert(0, Made("blank", fuse=99.0))
    assert stock(wire_protection=rows).chart(one) == (None if gauge is None else awg(gauge))


TABLE_11_3 = {
    22: (5, 5), 20: (7.5, 5), 18: (10, 10), 16: (15, 10), 14: (20, 15), 12: (30, 20), 10: (40, 30), 8: (50, 50),
    6: (80, 70), 4: (100, 70), 2: (125, 100),
}  # fmt: skip
"""AC 43.13-1B Chg 1 Table 11-3, copper cable: amperes of the breaker and of the fuse by gauge."""


@pytest.mark.parametrize("rating", [1, 5, 5.1, 7.5, 10, 15, 20, 25, 30, 35, 50, 60, 80, 100])
def test_the_chart_of_ac_43_13(rating: float) -> None:
    """The thinnest wire whose row reaches the rating."""
    airframe: Any = SimpleNamespace(drawer=open_drawer(), zones={})
    made = Stock(airframe, [])
    for column, name in ((0, "radio"), (1, "radio fuse")):
        one: Any = SimpleNamespace(rating=rating, ref="X1", name=name)
        first = next(n for n, row in TABLE_11_3.items() if row[column] >= rating)
        assert made.chart(one) == awg(first), name


CONTACTS = [Made("C20", gauge=(24, 20)), Made("C16", gauge=(20, 16)), Made("C22", gauge=(26, 22)), Made("CX")]


@pytest.mark.parametrize(
    ("ends", "sizes"),
    [(("C20",), [24, 22, 20]), (("C20", "C16"), [20]), (("C20", "C22"), [24, 22]), (("C16", "C22"), []),
     (("C20", None, "CX", "C99"), [24, 22, 20])],
)  # fmt: skip
def test_sizes_that_all_barrels_take(ends: tuple[str | None, ...], sizes: list[int]) -> None:
    made = stock(contact=CONTACTS)
    assert made.sizes(ends) == [awg(n) for n in sizes] == made.sizes(ends)


@pytest.mark.parametrize(
    ("wanted", "ends", "size"),
    [(22, ("C20",), 22), (26, ("C20",), 24), (16, ("C20",), 20), (18, ("C16",), 18), (21, ("C16",), 20),
     (22, ("C16", "C22"), 22), (21, ("C16", "C22"), 20)],
)  # fmt: skip
def test_the_nearest_size(wanted: int, ends: tuple[str, ...], size: int) -> None:
    assert stock(contact=CONTACTS).nearest(awg(wanted), ends) == awg(size)


WIRES = [wire("M22759/16"), wire("M22759/34"), wire("other")]


def types(
    made: Stock, ends: tuple[tuple[Half, str], ...] = (), volts: float = 0.0, size: int = 20
) -> list[tuple[str, int]]:
    return [(c.number, c.doubts) for c in made.wires(awg(size), ends, volts)]


def sized(*specs: str, size: int = 20, **more: Any) -> list[Made]:
    return [wire(spec, **more) for spec in specs] + [wire(f"{spec}-{size}", **more) for spec in specs]


def test_the_aircrafts_own_specification_comes_first_among_equals() -> None:
    listed = sized("M22759/16", "M22759/34")
    assert types(stock(wire=listed)) == [("M22759/16-20", 0), ("M22759/34-20", 0)]
    own = stock(("M22759/34-22-9",), wire=listed)
    assert own.specs == ["M22759/34", "M22759/16"] and types(own)[0][0] == "M22759/34-20"
    assert stock(("M22759/99-22-9",), wire=listed).specs == ["M22759/16", "M22759/34"]
    assert types(own, size=22) == [] and types(own, size=16) == [], "no such size in the drawer"
    soft = [*sized("M22759/16"), wire("M22759/34"), wire("M22759/34-20", soft="od temperature")]
    assert types(stock(("M22759/34-22-9",), wire=soft)) == [("M22759/16-20", 0), ("M22759/34-20", 2)]
    assert [c.weight for c in own.wires(awg(20), ())] == [0.007, 0.007]
    assert own.wires(Gauge(mm2=0.5), ()) == []


@pytest.mark.parametrize(
    ("more", "hot", "volts", "doubts"),
    [
        ({}, 149.9, 600.0, 0), ({}, 150.0, 0.0, None), ({}, None, 600.1, None), ({}, None, 600.0, 0),
        ({"temperature": None}, 300.0, 0.0, 1), ({"volts": None}, None, 900.0, 1), ({"soft": "volts"}, 70.0, 28.0, 1),
        ({"soft": "volts temperature od"}, 70.0, 28.0, 3), ({"od": None}, 70.0, 28.0, 1),
    ],
)  # fmt: skip
def test_too_hot_or_too_weak(more: dict[str, Any], hot: float | None, volts: float, doubts: int | None) -> None:
    """Rated 150 C and 600 V: the ambient has to stay below, the volts within."""
    made = stock(hot=hot, wire=[wire("M22759/16"), wire("M22759/16-20", **more)])
    assert types(made, volts=volts) == ([] if doubts is None else [("M22759/16-20", doubts)])


@pytest.mark.parametrize(
    ("span", "soft", "doubts"),
    [
        ((0.0014, 0.0015), "", 0), ((0.00141, 0.0016), "", None), ((0.0013, 0.00149), "", None),
        # not confirmed: 5 % either way must fit as well, 1.33 to 1.575 mm
        ((0.00133, 0.001575), "od", 1), ((0.0014, 0.0016), "od", 2), ((0.0013, 0.00157), "od", 2),
    ],
)  # fmt: skip
def test_the_insulation_in_the_seal(span: tuple[float, float], soft: str, doubts: int | None) -> None:
    """Insulation of 1.4 to 1.5 mm; an unconfirmed diameter is a doubt of its own."""
    listed = [wire("M22759/16"), wire("M22759/16-20", soft=soft)]
    for contacts, sizes in (
        ([Made("C20", insulation=span)], []), ([Made("C20", size="20")], [Made("20", insulation=span)]),
    ):  # fmt: skip
        made = stock(wire=listed, contact=contacts, contact_size=sizes)
        assert types(made, ((half(), "1"),)) == ([] if doubts is None else [("M22759/16-20", doubts)])
        assert types(made, ((half(sealed="no"), "1"),)) == [("M22759/16-20", 1 if soft else 0)], "no seal, no question"


def test_a_seal_of_which_nothing_is_known_is_a_doubt() -> None:
    listed = [wire("M22759/16"), wire("M22759/16-20")]
    for contact in (None, "C99", "CX"):
        assert types(stock(wire=listed, contact=CONTACTS), ((half(contact), "1"),)) == [("M22759/16-20", 1)]


def test_thermocouple_wire() -> None:
    listed = [Made("PLAIN", conductor="copper", gauge=(22, 22)),
              Made("TCK", conductor="alloys of type K", gauge=(20, 20)), Made("TCJ", conductor="type J"),
              Made("NONE")]  # fmt: skip
    made = stock(wire=listed)
    assert made.alloy("K") == ("TCK", awg(20)) and made.alloy("J") == ("TCJ", None) and made.alloy("T") is None
    assert made.alloy("") is None


def cable(number: str, spec: str = "M22759/16", gauge: str = "22 AWG", soft: str = "") -> Made:
    return Made(number, soft, spec=spec, gauge=gauge, cores=2)


GIRTH = [Made("M22759/16-22 x 2", od=0.004)]


def test_cables() -> None:
    """M27500 numbers: size, wire, cores, T or U, shield and jacket. Unshielded ones end in 00."""
    core = [wire("M22759/16-22"), wire("M22759/16-20", soft="od"), wire("M22759/16-24")]
    listed = [cable("M27500-22TG2T14", soft="spec"), cable("M27500-22SB2T23"), cable("M27500-22TE2U00"),
              cable("M27500-20TG2T14", gauge="20 AWG"), cable("M27500-24TG2T14", gauge="24 AWG"),
              cable("M27500-22RC2T06", spec="M22759/99")]  # fmt: skip

    def found(
        shielded: bool, contact: str = "C20", own: tuple[str, ...] = (), cores: int = 2, volts: float = 0.0
    ) -> Any:
        made = stock(cables=own, wire=core, cable=listed, contact=CONTACTS, cable_size=GIRTH)
        ends = ((half(contact, "no"), "1"),)
        return [(c.number, c.doubts, size.awg) for c, size in made.cables(cores, shielded, ends, volts)]

    assert found(True) == [("M27500-22SB2T23", 0, 22), ("M27500-22TG2T14", 1, 22)], "22 AWG where the contacts take it"
    assert found(True, own=("M27500-22TG2T14",))[0] == ("M27500-22TG2T14", 1, 22), "as in the aircraft"
    assert found(False) == [("M27500-22TE2U00", 0, 22)] and found(True, cores=3) == []
    # 20 to 16 AWG: the thinnest; its diameter and the girth of the cable are not known: two doubts
    assert found(True, "C16") == [("M27500-20TG2T14", 2, 20)]
    assert found(True, "C22")[0][2] == 22 and found(True, volts=601.0) == []


def test_breakers_and_existing_sizes() -> None:
    airframe: Any = SimpleNamespace(breakers={"CB1": "one", "CB2": "two"})
    said: Any = SimpleNamespace(breaker="CB1")
    nothing: Any = SimpleNamespace(breaker=None)
    cavity: Any = SimpleNamespace(breaker="CB2", gauge=awg(20))
    assert breaker_of(airframe, said, [cavity]) == "one" and breaker_of(airframe, nothing, [None, cavity]) == "two"
    assert breaker_of(airframe, None, [cavity]) == "two" and breaker_of(airframe, None, []) is None
    unknown: Any = SimpleNamespace(breaker="CB9")
    assert breaker_of(airframe, unknown, [cavity]) == "two" and breaker_of(airframe, unknown, []) is None
    wires: Any = [SimpleNamespace(gauge=awg(22)), SimpleNamespace(gauge=None)]
    assert existing(wires, [None, cavity]) == awg(20) and existing(wires, []) == awg(22) and existing([], []) is None


# -- what runs through the pair ------------------------------------------------------------------------------------


def line(cavity: str, name: str, signal: str | None = "can", taps: tuple[str, ...] = (), **more: Any) -> Any:
    said = {"pair": None, "line": None, "shields": None} | more
    circuit = SimpleNamespace(name=name, signal=signal, **said) if signal else None
    return SimpleNamespace(cavity=cavity, circuit=circuit, name=name, taps=taps)


@pytest.mark.parametrize(
    ("lines", "together"),
    [
        ([line("1", "H", pair="CAN"), line("2", "L", pair="CAN")], ["12"]),
        ([line("1", "H", pair="CAN"), line("2", "L", pair="BUS")], []),
        ([line("1", "a", line="H"), line("2", "b", line="L")], ["12"]),
        ([line("1", "a", line="H"), line("2", "b", line="H")], []), ([line("1", "a"), line("2", "b")], []),
        ([line(n, n, line=w) for n, w in (("1", "H"), ("2", "L"), ("3", "H"))], []),
        ([line("1", "a", "power", line="H"), line("2", "b", "power", line="L")], []),
        ([line("1", "H", pair="CAN"), line("2", "L", pair="CAN"), line("3", "S", "shield", shields="CAN")], ["123"]),
        ([line("1", "H", pair="CAN"), line("2", "L", pair="CAN"), line("3", "S", "shield", shields="L")], ["123"]),
        ([line("1", "H", pair="CAN"), line("2", "L", pair="CAN"), line("3", "S", "shield", shields="X")], ["12"]),
        ([line("1", "S", "shield", shields="MIC"), line("2", "MIC", "audio")], ["21"]),
        ([line("1", "S", "shield"), line("2", "MIC", "audio")], []), ([line("1", "x", None), line("2", "y", None)], []),
        ([line("1", "L2", pair="B"), line("2", "A1", pair="A"), line("3", "A2", pair="A"), line("4", "H2", pair="B")],
         ["14", "23"]),
        ([line("2", "MIC", "audio"), line("3", "S", "shield", shields="MIC"), line("4", "T", "shield", shields="MIC2"),
          line("1", "MIC2", "audio")], ["23", "14"]),
    ],
)  # fmt: skip
def test_what_is_led_in_one_cable(lines: list[Any], together: list[str]) -> None:
    found, singles = bundles(lines)
    made = ["".join(one.cavity for one in bundle.lines) for bundle in found]
    assert made == together
    inside = set("".join(together))
    assert [one.cavity for one in singles] == [one.cavity for one in lines if one.cavity not in inside]


def test_a_bundle_in_words() -> None:
    one, two, shield = line("1", "H"), line("2", "L", taps=("A1",)), line("3", "S", "shield")
    assert Bundle((one, two), shield).name == "H and L and S" and Bundle((one, two), None).tapped
    assert not Bundle((one,), None).tapped and Bundle((one,), line("4", "S", "shield", taps=("A1",))).tapped


def test_cavities_that_are_led_through() -> None:
    from harnesscheck.connector import NONE, Use

    def cavity(use: Use = Use.LIVE, contact: str | None = None, circuit: str | None = None) -> Any:
        return SimpleNamespace(use=use, contact=contact, circuit=circuit, gauge=None, breaker=None)

    one = SimpleNamespace(
        cavities={"10": cavity(), "2": cavity(Use.SPARE, circuit="C2"), "3": cavity(contact=NONE)}, names=None
    )
    two = SimpleNamespace(
        cavities={"2": cavity(Use.UNKNOWN), "3": cavity(), "5": cavity(Use.UNKNOWN, circuit="C5")},
        names=("2", "3", "5", "7"),
    )
    airframe: Any = SimpleNamespace(
        connectors={"P1": one, "J1": two}, circuits={"C2": "c2", "C5": "c5"}, breakers={}, wires_at=lambda point: ()
    )
    airframe.circuits = {n: SimpleNamespace(name=n, breaker=None, signal=None) for n in ("C2", "C5")}
    a, b = Point("A1J1", "1"), Point("A1J1", "2")
    found = through(airframe, ("P1", "J1"), {a: "5", b: "2"})
    # 10 is no cavity of J1, whose cavities are listed; 3 has no contact on one side
    assert [(one.cavity, one.name, one.use, one.taps) for one in found] == [
        ("2", "C2", Use.SPARE, (b,)), ("5", "C5", Use.UNKNOWN, (a,)),
    ]  # fmt: skip
    two.names = None
    assert [one.cavity for one in through(airframe, ("P1", "J1"), {})] == ["2", "5", "10"]
