"""Wire and cable from a made-up drawer: what the table of ``test_stock_by_hand`` does not ask, one thing at a time."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck.jumper.conductors import LOOSE, SIGNAL, SIZES, SUPPLY, WHITE, Choice, Stock, standard, thicker
from harnesscheck.jumper.kit import Half
from harnesscheck.units import Gauge
from tests.jumper.small import Made, Shelf

SIZE_RECORDS = [Made(f"M22759/{spec}-{n}") for spec in (16, 34) for n in (24, 22, 20, 18)]
CONTACTS = [Made("C24", gauge=(28, 24)), Made("C22", gauge=(26, 22)), Made("C20", gauge=(24, 20)),
            Made("C16", gauge=(20, 16)), Made("C8", gauge=(8, 8)), Made("BARE")]  # fmt: skip


def awg(number: int) -> Gauge:
    return Gauge(awg=number)


def wire(number: str, soft: str = "", **more: Any) -> Made:
    return Made(number, soft, **{"temperature": 150.0, "volts": 600.0, "od": (0.0014, 0.0015), "weight": 0.007} | more)


def zone(hot: float | None) -> Any:
    return SimpleNamespace(ambient=None if hot is None else SimpleNamespace(high=hot))


def stock(*types: str | None, cables: tuple[str, ...] = (), zones: tuple[float | None, ...] = (),
          **kinds: list[Made]) -> Stock:  # fmt: skip
    craft: Any = SimpleNamespace(
        drawer=Shelf(**({"wire_size": SIZE_RECORDS, "contact": CONTACTS} | kinds)),
        zones={str(n): zone(hot) for n, hot in enumerate(zones)},
        wires={str(n): SimpleNamespace(type=t) for n, t in enumerate(types)},
        cables={str(n): SimpleNamespace(type=t) for n, t in enumerate(cables)},
    )  # fmt: skip
    return Stock(craft, [*craft.zones, None, "elsewhere"])


def half(contact: str | None = "C20", sealed: str = "no") -> Half:
    return Half("P1", "plug", "J1", facts={"sealed": sealed}, contacts=contact)


# -- sizes ----------------------------------------------------------------------------------------------------------


def test_the_sizes_of_aircraft_wire() -> None:
    """Even numbers from 28 up to 2, then 1 and 0: AC 43.13-1B Table 11-9, from 0 AWG down."""
    assert [size.awg for size in SIZES] == [28, 26, 24, 22, 20, 18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0]
    assert awg(22) == SIGNAL and {"power", "lighting"} == SUPPLY and WHITE == "9" and LOOSE == 0.05
    for size in SIZES:
        assert standard(size) == size
    assert [standard(awg(n)).awg for n in (29, 27, 13, 11, 3)] == [28, 26, 12, 10, 2]


def test_of_equals_the_first_is_the_thickest() -> None:
    one, two = awg(20), awg(20)
    assert thicker(one, two) is one and thicker(awg(22), two, one) is two and thicker() is None


@pytest.mark.parametrize(
    ("zones", "hottest"), [((), float("-inf")), ((None,), float("-inf")), ((50.0, None, 85.0, -20.0), 85.0)]
)
def test_the_hottest_zone(zones: tuple[float | None, ...], hottest: float) -> None:
    assert stock(zones=zones).hottest == hottest


def test_the_habit_of_the_aircraft() -> None:
    """Most wires decide; of equals the first that is listed; types of another system say nothing."""
    assert stock().habit == (None, "9") == stock(None, "COAX", "M22759/16").habit
    two = ("M22759/34-20-2", "M22759/16-22", "M22759/16-20-5", "M22759/34-18")
    assert stock(*two).habit == ("M22759/34", "2") and stock(*reversed(two)).habit == ("M22759/34", "5")
    assert stock(*two, "M22759/16-22-5").habit == ("M22759/16", "5")


def test_the_thinnest_wire_behind_a_breaker() -> None:
    table = [Made("1", breaker=5.0, fuse=5.0, gauge=(22, 20)), Made("2", gauge=(20, 20)), Made("3", breaker=10.0),
             Made("4", breaker=10.0, fuse=15.0, gauge=(18, 16))]  # fmt: skip

    def chart(rating: float | None, ref: str = "CB1", name: str = "") -> int | None:
        breaker: Any = SimpleNamespace(rating=rating, ref=ref, name=name)
        found = stock(wire_protection=table).chart(breaker)
        return found.awg if found else None

    assert [chart(amps) for amps in (None, 3.0, 5.0, 5.1, 10.0, 10.1)] == [None, 22, 22, 18, 18, None]
    assert chart(12.0, "F1") == 18 == chart(12.0, "X1", "Main FUSE") and chart(12.0, "FX") is None


def test_sizes_that_the_barrels_take() -> None:
    made = stock()
    assert made.barrel("C20") == (awg(24), awg(20)) and made.barrel("BARE") is made.barrel("NONE") is None
    assert made.barrel(None) is None
    assert [size.awg for size in made.sizes(["C20", "C22", None, "BARE"])] == [24, 22]
    assert made.sizes(["C24", "C16"]) == [] and made.sizes([]) == list(SIZES)
    assert [made.nearest(awg(n), ["C20"]).awg for n in (28, 24, 23, 20, 18)] == [24, 24, 22, 20, 20]
    assert made.nearest(awg(21), ["C24", "C16"]) == awg(20), "no size at all: the standard one"


# -- wire -----------------------------------------------------------------------------------------------------------


def numbers(made: Stock, volts: float | None = None, size: int = 20, *ends: tuple[Half, str]) -> list[tuple[str, int]]:
    found = made.wires(awg(size), ends) if volts is None else made.wires(awg(size), ends, volts)
    return [(each.number, each.doubts) for each in found]


TWO = [wire("M22759/16"), wire("M22759/34")]


def test_the_aircrafts_own_comes_first_among_equals() -> None:
    listed = [*TWO, wire("M22759/16-20"), wire("M22759/34-20"), wire("M22759/34-22", "od"), wire("M22759/16-22")]
    own = stock("M22759/34-22", wire=listed)
    assert numbers(own) == [("M22759/34-20", 0), ("M22759/16-20", 0)]
    assert numbers(own, size=22) == [("M22759/16-22", 0), ("M22759/34-22", 1)], "the firmer one before its own"
    assert own.wires(awg(20), ()) is own.wires(awg(20), ())
    assert own.wires(awg(20), ())[0] == Choice("M22759/34-20", 0, 0.007)


def test_wire_of_which_the_drawer_has_no_size_or_no_record() -> None:
    made = stock(wire=[*TWO, wire("M22759/16-26"), wire("M22759/34-22")])
    assert numbers(made, size=26) == [], "a number without a record of its size"
    assert numbers(made, size=22) == [("M22759/34-22", 0)] and made.wires(Gauge(mm2=0.5), ()) == []


def test_volts_that_nobody_has_said_are_none() -> None:
    weak = stock(wire=[*TWO, wire("M22759/16-20", volts=0.5)])
    assert numbers(weak) == [("M22759/16-20", 0)] == numbers(weak, 0.5) and numbers(weak, 0.6) == []


def test_doubts_add_up() -> None:
    """Nothing known of volts, temperature and diameter, and two seals of which nothing is known: five."""
    bare = Made("M22759/16-20", weight=None)
    made = stock(wire=[wire("M22759/16"), bare])
    one, two = half("C20", "yes"), half("C22", "yes")
    assert numbers(made, 0.0, 20, (one, "1"), (one, "2"), (two, "1")) == [("M22759/16-20", 5)]
    assert numbers(made, 0.0, 20, (half("C20"), "1")) == [("M22759/16-20", 3)]
    tight = [Made("C20", gauge=(24, 20), insulation=(0.0014, 0.0015)), Made("C22", insulation=(0.001, 0.0014))]
    seal = stock(wire=[wire("M22759/16"), wire("M22759/16-20")], contact=tight)
    assert numbers(seal, 0.0, 20, (one, "1")) == [("M22759/16-20", 0)]
    assert numbers(seal, 0.0, 20, (two, "1")) == [] == numbers(seal, 0.0, 20, (one, "1"), (two, "1"))


def test_thermocouple_wire_and_its_thinnest_size() -> None:
    listed = [Made("A", conductor="stype K"), Made("B", conductor="alloy of type K.", gauge=(24, 20)),
              Made("C", conductor="type KX", gauge=(18, 18))]  # fmt: skip
    assert stock(wire=listed).alloy("K") == ("B", awg(24)) and stock(wire=listed).alloy("X") is None


# -- cable ----------------------------------------------------------------------------------------------------------


def cable(number: str, size: int = 22, soft: str = "", spec: str = "M22759/16") -> Made:
    return Made(number, soft, spec=spec, gauge=f"{size} AWG", cores=2)


def core(size: int, **more: Any) -> Made:
    return wire(f"M22759/16-{size}", **more)


CORES = [core(24), core(22), core(20), core(18)]
CABLES = [cable(f"M27500-{n}TG2T14", n) for n in (24, 22, 20)]
GIRTHS = [Made(f"M22759/16-{n} x 2", od=0.004) for n in (24, 22, 20)]


def cables(made: Stock, *ends: Half, volts: float | None = None, shielded: bool = True) -> list[tuple[str, int, Any]]:
    listed = [(each, "1") for each in ends]
    found = made.cables(2, shielded, listed) if volts is None else made.cables(2, shielded, listed, volts)
    return [(each.number, each.doubts, size.awg) for each, size in found]


def offered(*more: Made, cores: list[Made] = CORES, **kinds: Any) -> Stock:
    own = kinds.pop("cables", ())
    return stock(cables=own, **{"wire": cores, "cable": [*CABLES, *more], "cable_size": GIRTHS} | kinds)


def test_the_size_of_the_cores() -> None:
    """22 AWG where the contacts take it; else the thickest below it or the thinnest above; 22 where none fits all."""
    made = offered()
    for contacts, size in ((("C20",), 22), (("C22",), 22), (("C24",), 24), (("C16",), 20), ((), 22),
                           (("C24", "C16"), 22), (("C24", "C22"), 24)):  # fmt: skip
        said = [(f"M27500-{size}TG2T14", 0, size)]
        assert cables(made, *map(half, contacts)) == said, contacts
    assert cables(made, half("C8")) == [], "8 AWG: the drawer has none"


def test_every_cable_that_there_is() -> None:
    """In the order of shields and then of wires; the aircraft's own first, then the firmest."""
    names = [f"M27500-22{wire_}2T{tail}" for tail in ("14", "23", "09", "06") for wire_ in
             ("TE", "TG", "SB", "SD", "SM", "SR", "RC")]  # fmt: skip
    made = offered(*(cable(name) for name in names))
    assert [number for number, _, _ in cables(made, half())] == names
    plain = [f"M27500-22{wire_}2U00" for wire_ in ("TE", "TG", "SB", "SD", "SM", "SR", "RC")]
    bare = offered(*(cable(name) for name in [*names, *plain]))
    assert [number for number, _, _ in cables(bare, half(), shielded=False)] == plain
    soft = offered(cable(names[0], soft="spec"), cable(names[2], soft="spec"), cables=(names[2],))
    assert cables(soft, half()) == [(names[2], 1, 22), (names[1], 0, 22), (names[0], 1, 22)]
    listed = soft.cables(2, True, [(half(), "1")])
    assert listed is soft.cables(2, True, [(half(), "2")]) and listed is not soft.cables(2, True, [(half("C22"), "2")])
    assert bare.cables(2, True, [(half(), "1")]) != bare.cables(2, False, [(half(), "1")])


def test_the_cores_of_a_cable_are_judged_as_wire() -> None:
    """Too weak, or too thick for a seal: none. Doubts: nothing of the girth, of an unknown seal, and soft facts."""
    weak = offered(cores=[core(22, volts=0.5)])
    assert cables(weak, half()) == [("M27500-22TG2T14", 0, 22)] and cables(weak, half(), volts=0.6) == []
    assert cables(offered(cores=[core(20)]), half()) == [], "no such core"
    assert cables(offered(cable_size=[]), half()) == [("M27500-22TG2T14", 1, 22)]
    assert cables(offered(cable_size=[Made("M22759/16-22 x 2", "od", od=0.004)]), half())[0][1] == 1
    sealed, unknown = half("C20", "yes"), half(None, "yes")
    assert cables(offered(), sealed) == [("M27500-22TG2T14", 1, 22)], "of the seal of C20 nothing is known"
    assert cables(offered(), sealed, half("C22", "yes"), unknown) == [("M27500-22TG2T14", 3, 22)]
    fits, tight = (Made("C20", gauge=(24, 20), insulation=span) for span in ((0.0014, 0.0015), (0.001, 0.0014)))
    assert cables(offered(contact=[fits]), sealed)[0][1] == 0
    assert cables(offered(contact=[tight]), sealed) == [] != cables(offered(contact=[tight]), half("C20"))
    loose = offered(cores=[Made("M22759/16-22")])
    assert cables(loose, half()) == [("M27500-22TG2T14", 3, 22)] and cables(loose, sealed)[0][1] == 4
