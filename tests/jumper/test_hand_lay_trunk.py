"""Sizes, halves, blocks and ports of a draft on a made-up aircraft: worked out by hand, case by case."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck.harness import Harness
from harnesscheck.jumper import trunk
from harnesscheck.jumper.lines import Bundle
from harnesscheck.jumper.trunk import Block, Draft, Setting, Way
from harnesscheck.place import Point
from harnesscheck.units import Gauge
from tests.jumper.bench import airframe, box, circuit, draft, half, shelf, wire
from tests.jumper.small import Made

PWR, RTN, SIG = (circuit(*each) for each in (("PWR", "power"), ("RTN", "ground"), ("SIG", "discrete")))


def awg(number: int) -> Gauge:
    return Gauge(awg=number)


def one_line(signal: str, gauge: int | None = None, tapped: bool = False, back: Any = (), **more: Any) -> Draft:
    """Cavity 1 with one circuit, whose aircraft wire is known or not; pin 1 of the unit taps it, or taps nothing."""
    own = [wire("W1", "J1-1", "SP9", gauge)] if gauge else []
    air = airframe(("1", circuit("X", signal, **more)), *back, wires=own)
    unit = box("A1", ("1", signal, {}), ("6", signal, {}))
    return draft(air, (unit,), {"A1J1-1": "1"} if tapped else {}, ways={"A1J1": Way(None, 500, None)})


@pytest.mark.parametrize(
    ("signal", "gauge", "breaker", "size"),
    [
        # contacts take 24 to 20 AWG; 5 A asks for 22 AWG, 10 A for 18 AWG, of CB3 nobody knows the rating
        ("power", None, "CB1", 22), ("power", 20, "CB1", 20), ("power", 24, "CB1", 22), ("power", None, "CB2", 20),
        ("power", None, None, 20), ("power", 24, None, 24), ("power", 22, "CB3", 22), ("power", None, "CB3", 20),
        ("discrete", None, "CB1", 22), ("discrete", 24, "CB1", 22), ("discrete", 24, "CB3", 24),
        ("discrete", None, None, 22), ("discrete", 24, None, 24), ("discrete", 20, None, 20),
        ("ground", 24, None, 24), ("ground", None, None, 20), ("lighting", None, None, 20),
    ],
)  # fmt: skip
def test_the_size_of_a_through_wire(signal: str, gauge: int | None, breaker: str | None, size: int) -> None:
    made = one_line(signal, gauge, breaker=breaker)
    assert made.gauge(made.lines[0]) == awg(size)


def feed(signal: str, breaker: str | None = None, returns: str = "X") -> Any:
    return circuit("F", signal, breaker=breaker, returns=returns)


@pytest.mark.parametrize(
    ("fed", "known", "gauge", "size"),
    [
        (feed("power", "CB1"), 24, 24, 22), (feed("power"), 24, 24, 24), (feed("power", "CB1", "Y"), 24, 24, 24),
        (feed("power"), 22, 24, 22), (feed("power"), 24, 22, 22), (feed("power", "CB1"), None, None, 22),
        (feed("power"), None, 24, 20), (feed("discrete"), 20, 24, 24), (feed("discrete", "CB1"), 24, 24, 22),
    ],
)  # fmt: skip
def test_a_return_is_as_thick_as_its_feeds(fed: Any, known: int | None, gauge: int | None, size: int) -> None:
    """A feed is a supply, or what a breaker protects; of one with neither size nor breaker the thickest is taken."""
    wires = [wire(f"W{n}", f"J1-{n}", "SP9", g) for n, g in ((1, gauge), (2, known)) if g]
    made = draft(airframe(("1", circuit("X", "ground")), ("2", fed), wires=wires), (), {})
    assert made.gauge(made.lines[0]) == awg(size)


@pytest.mark.parametrize(
    ("signal", "gauge", "tapped", "by_steps"),
    [
        ("power", 24, True, [24, 22, 20, 20]), ("power", 22, True, [22, 20, 20, 20]),
        ("ground", 24, True, [24, 22, 20, 20]), ("power", 24, False, [24, 24, 24, 24]),
        ("discrete", 24, True, [24, 24, 24, 24]), ("power", 20, True, [20, 20, 20, 20]),
        ("lighting", 22, True, [22, 20, 20, 20]),
    ],
)  # fmt: skip
def test_tapped_supplies_made_thicker(signal: str, gauge: int, tapped: bool, by_steps: list[int]) -> None:
    made = one_line(signal, gauge, tapped)
    found = [made.gauge(made.lines[0], Setting((0,), thicker=n)) for n in range(4)]
    assert found == [awg(n) for n in by_steps] and made.gauge(made.lines[0]) == awg(gauge)


def test_contacts_that_have_no_size_in_common() -> None:
    """20 to 16 AWG at one end, 26 to 22 at the other: what is asked for stays, at any setting."""
    drawer = shelf(contact=[Made("PIN20", gauge=(20, 16)), Made("SOCKET20", gauge=(26, 22))])
    made = draft(airframe(("1", PWR), drawer=drawer, wires=[wire("W1", "J1-1", "SP9", 20)]), (), {})
    line = replace(made.lines[0], taps=(Point("A1J1", "1"),))
    assert made.gauge(line, Setting((0,), thicker=1)) == made.gauge(line) == awg(20)


PINS: Any = (("1", "power", {"returns": "2"}), ("2", "ground", {}), ("3", "discrete", {}),
             ("5", "power", {"returns": "3"}), ("6", "ground", {}), ("4", "power", {"returns": "2"}))  # fmt: skip
UNIT, LESS = box("A1", *PINS), box("A1", *PINS[:-1])


def branches(
    taps: dict[str, str], pwr: Any, other: Any = SIG, gauges: tuple[int | None, ...] = (), unit: Harness = LESS
) -> Any:
    """Cavity 1 PWR, 2 RTN, 3 SIG, 4 another circuit; size of the branch to a pin."""
    own = [wire(f"W{n}", f"J1-{n}", "SP9", gauge) for n, gauge in enumerate(gauges, 1) if gauge]
    more = circuit("MORE", other.signal, breaker=other.breaker)
    made = draft(
        airframe(("1", pwr), ("2", RTN), ("3", SIG), ("4", more), wires=own), (unit,),
        {f"A1J1-{pin}": cavity for pin, cavity in taps.items()},
    )  # fmt: skip

    def size(pin: str, thicker: int = 0) -> int | None:
        line = next(each for each in made.lines if each.cavity == taps[pin])
        return made.branch(line, Point("A1J1", pin), Setting((0,), thicker=thicker)).awg

    return size


def test_the_size_of_a_branch() -> None:
    """By the breaker; without one by the aircraft's own wire; else signal wire. The contact takes 24 to 20 AWG."""
    size = branches({"1": "1", "3": "3"}, circuit("PWR", "power", breaker="CB1"), gauges=(20, None, 20))
    assert [size("1", n) for n in range(4)] == [22, 20, 20, 20], "the table, not the existing 20 AWG"
    assert [size("3", n) for n in range(2)] == [22, 22], "signal wire"
    for gauge, breaker, found in ((24, None, [24, 22, 20]), (None, None, [22, 20, 20]), (24, "CB3", [24, 22, 20]),
                                  (24, "CB2", [20, 20, 20])):  # fmt: skip
        size = branches({"1": "1"}, circuit("PWR", "power", breaker=breaker), gauges=(gauge,))
        assert [size("1", n) for n in range(3)] == found, (gauge, breaker)


def test_the_branch_of_a_return_is_as_thick_as_the_feeds_of_the_unit() -> None:
    thin, strong = circuit("PWR", "power"), circuit("X", "power", breaker="CB1")
    both = {"1": "1", "2": "2", "4": "4"}
    assert branches({"1": "1", "2": "2"}, thin, gauges=(24,))("2") == 24
    assert branches({"1": "1", "2": "2"}, thin, gauges=(24,))("2", 1) == 22
    assert branches(both, thin, strong, (24,), UNIT)("2") == 22, "the thicker of 24 and 22"
    assert branches({"1": "1", "2": "2"}, thin, gauges=(24,), unit=UNIT)("2") == 22, "pin 4 taps nothing: signal wire"
    assert branches({"2": "2"}, thin, gauges=(24, 20))("2") == 22, "of feeds that tap nothing nothing is known"
    assert branches({"6": "2"}, thin, gauges=(24, 24))("6") == 22, "nothing returns by it"
    assert branches({"6": "2"}, thin, gauges=(24, 24))("6", 1) == 22
    assert branches({"5": "1", "3": "3"}, thin, gauges=(24,))("3") == 22, "no return"


def test_how_many_sizes_of_branch_there_are() -> None:
    assert draft(airframe(("1", PWR)), (UNIT,), {"A1J1-1": "1"}).spread() == 3
    assert draft(airframe(("1", PWR)), (UNIT,), {}).spread() == 1
    drawer = shelf()
    drawer.kinds["contact"]["SOCKET20"].facts["gauge"] = (22, 22)
    other = box("A2", ("1", "power", {}), mating="R6P")  # its contact is PIN20, 24 to 20 AWG
    made = draft(airframe(("1", PWR), drawer=drawer), (UNIT, other), {"A1J1-1": "1", "A2J1-1": "1"})
    assert {ref: plug.contacts for ref, plug in made.plugs.items()} == {"A1J1": "SOCKET20", "A2J1": "PIN20"}
    assert made.spread() == 3, "1 and 3"


def test_wet_dry_and_not_known() -> None:
    made = draft(airframe(("1", PWR)), (), {})
    said: list[tuple[list[str | None], bool | None]] = [
        ([], None), ([None, None], None), (["CABIN", "CABIN"], False), (["CABIN", "WING"], True),
        (["TAIL", "WING"], True), (["CABIN", "TAIL"], None), (["CABIN", "nowhere"], None), ([None, "CABIN"], False),
    ]  # fmt: skip
    assert [made._wet(zones) for zones, _ in said] == [wet for _, wet in said]
    assert made.wet is False and made.zone == "CABIN"


def opened(air: Harness, pair: tuple[str, str], *boxes: Harness, **more: Any) -> Draft:
    ways = {ref: Way("spar", 500, more.pop("zone", "TAIL")) for one in boxes for ref in one.connectors}
    return Draft(air, boxes, pair, {}, **{"ways": ways, "margin": 100, "reaches": {}, **more})


def test_the_halves_of_the_kit() -> None:
    """P1/J1 is 101; J101 is built like J1 and mates P1, the plug is the next number."""
    made = opened(airframe(("1", PWR)), ("P1", "J1"), box("A1", ("1", "power", {}), name="probe"))
    one, two = made.first, made.second
    assert (one.ref, one.mates, one.part, one.contacts) == ("J101", "P1", "R6S", "SOCKET20")
    assert (two.ref, two.mates, two.part, two.contacts) == ("P101", "J1", "R6P", "PIN20")
    assert one.name == "jumper, to P1 (wing root)" and two.name == "jumper, to J1"
    plug = made.plugs["A1J1"]
    assert (plug.ref, plug.mates, plug.part, plug.contacts) == ("P102", "A1J1", "BOXPLUG", "SOCKET20")
    assert plug.name == "plug for probe" and plug.zone == "TAIL" and plug.route is None
    bare = opened(airframe(("1", PWR)), ("P1", "J1"), box("A1", ("1", "power", {}), zone="WING"), zone=None)
    assert bare.plugs["A1J1"].zone == "WING" and bare.plugs["A1J1"].name == "plug for A1J1"
    turned = opened(airframe(("1", PWR)), ("J1", "P1"))
    assert (turned.first.ref, turned.first.mates, turned.first.part) == ("P101", "J1", "R6P")
    assert (turned.second.ref, turned.second.mates, turned.second.part) == ("J101", "P1", "R6S")


def test_references_that_are_free() -> None:
    """J101 is there already: J201, and P101 stays; the plugs are 202 and 203; SP1 is there: SP2, SP3."""
    air = airframe(("1", PWR), ("2", RTN))
    taken = {**air.connectors, "J101": half("J101", {}, None)}
    air = replace(air, connectors=taken, splices={"SP1": SimpleNamespace()})  # type: ignore[dict-item]
    units = box("A1", ("1", "power", {}), ("2", "ground", {})), box("A2", ("1", "power", {}))
    made = draft(air, units, {"A1J1-1": "1", "A1J1-2": "2", "A2J1-1": "1"})
    assert (made.first.ref, made.second.ref) == ("J201", "P101")
    assert {ref: plug.ref for ref, plug in made.plugs.items()} == {"A1J1": "P202", "A2J1": "P203"}
    assert made.joints == ["SP2", "SP3"]
    assert made.marks.number("2") == 102 and made.marks.base == 100
    uneven = airframe(("1", PWR))
    uneven = replace(uneven, connectors={"P3": uneven.connectors["P1"], "J7": uneven.connectors["J1"]})
    uneven = replace(uneven, mates=(SimpleNamespace(a="P3", b="J7"),))  # type: ignore[arg-type]
    other = Draft(uneven, (), ("P3", "J7"), {}, {}, 100, {})
    assert (other.first.ref, other.second.ref) == ("J107", "P107"), "7 and 100"


def test_a_receptacle_to_which_no_way_leads_has_no_plug() -> None:
    unit = box("A1", ("1", "power", {}))
    unit = replace(unit, connectors={"A1J0": half("A1J0", {}, "BOX"), **unit.connectors})
    assert list(draft(airframe(("1", PWR)), (unit,), {"A1J1-1": "1"}).plugs) == ["A1J1"]


# -- blocks and ports ----------------------------------------------------------------------------------------------

H, L, S = (circuit("H", "can", pair="CAN"), circuit("L", "can", pair="CAN"), circuit("S", "shield", shields="CAN"))


def pins(text: str) -> tuple[Point, ...]:
    """``1-3`` is pin 3 of unit A1."""
    return tuple(Point(f"A{each[0]}J1", each[2:]) for each in text.split())


@pytest.mark.parametrize(
    ("taps", "ports"),
    [
        (("1-1", "1-2"), ["1-1 1-2"]), (("1-1 2-1", "1-2 2-2"), ["1-1 1-2", "2-1 2-2"]),
        (("1-1 1-3", "1-2 1-4"), ["1-1 1-2", "1-3 1-4"]), (("1-1 2-1 1-3", "2-2 1-2"), ["1-1 1-2", "2-1 2-2", "1-3"]),
        (("", "1-2"), ["1-2"]), (("", ""), []), (("1-1 1-2 1-3", ""), ["1-1", "1-2", "1-3"]),
    ],
)  # fmt: skip
def test_ports(taps: tuple[str, str], ports: list[str]) -> None:
    """Of each unit the first pins on all lines together, then the second ones."""
    lines: Any = [SimpleNamespace(taps=pins(each), signal="can") for each in taps]
    bundle = Bundle(tuple(lines), None)
    found = [pins(port) for port in ports]
    assert trunk._ports(bundle) == found
    assert trunk._stages(bundle) == [(port,) for port in found], "a CAN bus: one after the other"
    for line in lines:
        line.signal = "arinc429"
    assert trunk._stages(bundle) == [tuple(found)], "a line with one talker: all at one place"
    assert trunk._units(lines) == tuple(dict.fromkeys(p.ref for each in taps for p in pins(each)))


def test_the_pins_that_tap_a_line_at_a_block() -> None:
    one, two = SimpleNamespace(taps=pins("1-1 2-1")), SimpleNamespace(taps=pins("1-2"))
    block = Block((), None, None, (pins("1-1 1-2"), pins("2-1")))
    assert block.taps(one) == pins("1-1 2-1") and block.taps(two) == pins("1-2")  # type: ignore[arg-type]
    assert Block((), None, None, (pins("2-1"),)).taps(one) == pins("2-1")  # type: ignore[arg-type]


def can_unit(unit: str = "A1", both: str = "HL") -> Harness:
    """1 and 3 are H in and out, 2 and 4 L in and out, 5 and 6 the shield; ``both`` names what is joined inside."""
    listed = []
    for one, two, letter in (("1", "3", "H"), ("2", "4", "L"), ("5", "6", "S")):
        for pin, other in ((one, two), (two, one)):
            listed.append((pin, "shield" if letter == "S" else "can", {"loops": other} if letter in both else {}))
    return box(unit, *listed)


def bus(taps: str, *units: Harness, shield: bool = False, **more: Any) -> Draft:
    """H in cavity 1, L in 2, the shield in 3; ``1-3=1`` taps cavity 1 with pin 3 of unit A1."""
    air = airframe(("1", H), ("2", L), *((("3", S),) if shield else ()))
    said = {f"A{pin[0]}J1-{pin[2:]}": cavity for pin, _, cavity in (each.partition("=") for each in taps.split())}
    return draft(air, units, said, **more)


ALL = "1-1=1 1-2=2 1-3=1 1-4=2"


def ends(*couples: str) -> dict[str, tuple[Point, ...]]:
    return {str(n): pins(each) for n, each in enumerate(couples, 1)}


def test_a_bus_led_in_and_out() -> None:
    made = bus(ALL, can_unit())
    assert made.looped == {"1": ends("1-1 1-3", "1-2 1-4")} and made.blocks == [] and len(made.taps) == 4
    assert made.joints == []
    shielded = bus(f"{ALL} 1-5=3 1-6=3", can_unit(both="HLS"), shield=True)
    assert shielded.looped == {"1": ends("1-1 1-3", "1-2 1-4", "1-5 1-6")} and shielded.blocks == []


@pytest.mark.parametrize(
    ("taps", "both", "shield", "left"),
    [
        (ALL, "H", False, "1-1=1 1-2=2 1-4=2"),  # L is not joined: 3 stays open, 2 and 4 are two pins of their own
        ("1-3=1 1-2=2 1-1=1 1-4=2", "H", False, "1-3=1 1-2=2 1-4=2"),  # the later of the two stays open
        (ALL, "", False, ALL), ("1-1=1 1-2=2", "HL", False, "1-1=1 1-2=2"),
        (ALL, "HL", True, "1-1=1 1-2=2"),  # the shield is not led in and out
    ],
)  # fmt: skip
def test_a_bus_that_cannot_be_led_in_and_out(taps: str, both: str, shield: bool, left: str) -> None:
    made = bus(taps, can_unit(both=both), shield=shield)
    said = [f"{pin.ref[1]}-{pin.cavity}={cavity}" for pin, cavity in made.taps.items()]
    assert made.looped == {} and " ".join(said) == left
    assert [pin for line in made.lines for pin in line.taps] == [
        p for c in "123" for p in pins(" ".join(e.partition("=")[0] for e in left.split() if e.endswith(f"={c}")))
    ]  # fmt: skip
    assert made.blocks and all(block.bundle is made.bundles[0] for block in made.blocks)


def test_two_units_or_three_pins_are_not_led_in_and_out() -> None:
    made = bus(f"{ALL} {ALL.replace('1-', '2-')}", can_unit(), can_unit("A2"))
    assert made.looped == {} and len(made.taps) == 4 and len(made.blocks) == 2
    assert [block.ports for block in made.blocks] == [(pins("1-1 1-2"),), (pins("2-1 2-2"),)]
    extra = box("A1", *((p, "can", {"loops": o} if o else {}) for p, o in
                        (("1", "3"), ("2", "4"), ("3", "1"), ("4", "2"), ("7", ""))))  # fmt: skip
    assert bus(f"{ALL} 1-7=1", extra).looped == {}


def test_blocks() -> None:
    """Single wires first, in the order of the cavities; then the cables; the shortest reach of a block counts."""
    air = airframe(("1", H), ("2", L), ("3", PWR), ("4", RTN), ("5", circuit("A", "arinc429", pair="Q")),
                   ("6", circuit("B", "arinc429", pair="Q")))  # fmt: skip
    units = (box("A1", *((c, "can", {}) for c in "123456")), box("A2", *((c, "can", {}) for c in "123456")))
    taps = {f"A{u}J1-{c}": c for u in (1, 2) for c in "12356"}
    made = draft(air, units, taps, reaches={"1": 300, "2": 200, "3": None, "5": None})
    assert [["".join(line.cavity for line in b.lines), b.reach, b.ports] for b in made.blocks] == [
        ["3", None, (pins("1-3"), pins("2-3"))], ["12", 200, (pins("1-1 1-2"),)], ["12", 200, (pins("2-1 2-2"),)],
        ["56", None, (pins("1-5 1-6"), pins("2-5 2-6"))],
    ]  # fmt: skip
    assert made.joints == ["SP1", "SP2", "SP3", "SP4", "SP5", "SP6", "SP7"]
    assert made.blocks[0].bundle is None and made.blocks[1].bundle is made.blocks[2].bundle is made.bundles[0]
    assert [line.cavity for line in made.singles] == ["3", "4"] and made.looped == {}


def test_contacts_of_which_nothing_is_known() -> None:
    """No contact is named at either half: of a supply or return of unknown size the thickest on the list, 1/0 AWG."""
    bare = shelf(contact=[])
    feed = circuit("F", "power", returns="X")
    made = draft(airframe(("1", circuit("X", "ground")), ("2", feed), ("3", SIG), drawer=bare), (), {})
    assert [made.gauge(line).awg for line in made.lines] == [0, 0, 22]
    lone = draft(airframe(("1", circuit("X", "ground")), drawer=bare), (), {})
    assert lone.gauge(lone.lines[0]).awg == 0


def test_the_second_reference_moves_by_a_hundred_too() -> None:
    air = airframe(("1", PWR))
    air = replace(air, connectors={**air.connectors, "P101": half("P101", {}, None), "P201": half("P201", {}, None)})
    made = draft(air, (), {})
    assert (made.first.ref, made.second.ref) == ("J101", "P301")
