"""Whole kits of cables: trunk, branches, shields, a bus led in and out, twisted by hand; worked out by hand.

The aircraft of ``bench``; margin 100 mm, the unit 500 mm off. A cable is laid 10 mm longer than its longest core.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from harnesscheck.harness import Harness
from harnesscheck.jumper.kit import Kit, Sheath
from harnesscheck.jumper.laying import Layer, lay
from harnesscheck.jumper.trunk import Draft, Setting
from harnesscheck.place import Point
from tests.jumper.bench import Listed, airframe, box, circuit, draft, rows, shelf, told
from tests.jumper.small import Made

H, L, S = circuit("H", "can", pair="CAN"), circuit("L", "can", pair="CAN"), circuit("S", "shield", shields="CAN")
TINY = Made("TINY", cma=(0.3e-6, 0.5e-6), sealed=True, sleeve_length=0.025)
"""0.3 to 0.5 mm2: one 22 AWG (0.4 mm2) at each end, so two wires and not three."""


def unit(name: str, pins: str = "123", **said: Any) -> Harness:
    return box(name, *((cavity, "shield" if cavity == "3" else "can", said) for cavity in pins))


def bus(taps: str, *units: Harness, lines: Any = (H, L, S), drawer: Any = None, **more: Any) -> Draft:
    """H in cavity 1, L in 2, S in 3; ``1-2`` is pin 2 of unit A1 at its own cavity, or at the one behind ``=``."""
    listed = [(str(n), line) for n, line in enumerate(lines, 1)]
    said = {}
    for each in taps.split():
        pin, _, cavity = each.partition("=")
        said[f"A{pin[0]}J1-{pin[2:]}"] = cavity or pin[2:]
    return draft(airframe(*listed, drawer=drawer), units, said, **more)


def wired(kit: Kit) -> list[str]:
    return [told(lead) for lead in kit.leads()]


def cables(kit: Kit) -> list[tuple[str, str | None, int, str, str]]:
    return [(s.id, s.type, s.length, s.bundle, s.note) for s in kit.sheaths]


def test_two_units_on_a_shielded_bus() -> None:
    """Six splices of 30 mm: 100 to 250, and a trunk of 350. A2 has no pin for the shield: it is cut back there."""
    made = bus("1-1 1-2 1-3 2-1 2-2", unit("A1"), unit("A2", "12"))
    kit = lay(made, Setting((0, 1)))
    assert [(j.ref, j.part, j.at) for j in kit.joints] == [(f"SP{n + 1}", "SMALL", 100 + 30 * n) for n in range(6)]
    assert wired(kit) == rows("""
        D101A22 J101-1>SP1 100 trunk     22 - C101A:white bare=20
        D101B22 SP1>SP4     90 trunk     22 - C101B:white bare=20
        D101C22 SP4>P101-1 160 trunk     22 - C101C:white bare=20
        D101D22 SP1>P102-1 400 stub_A1J1 22 - C101D:white bare=20
        D101E22 SP4>P103-1 310 stub_A2J1 22 - C101E:white bare=20
        D102A22 J101-2>SP2 130 trunk     22 - C101A:blue bare=20
        D102B22 SP2>SP5     90 trunk     22 - C101B:blue bare=20
        D102C22 SP5>P101-2 130 trunk     22 - C101C:blue bare=20
        D102D22 SP2>P102-2 370 stub_A1J1 22 - C101D:blue bare=20
        D102E22 SP5>P103-2 280 stub_A2J1 22 - C101E:blue bare=20
        D103A22 J101-3>SP3 160 trunk     22 M22759/16-22-9 C101A:drain
        D103B22 SP3>SP6     90 trunk     22 M22759/16-22-9 C101B:drain
        D103C22 SP6>P101-3 100 trunk     22 M22759/16-22-9 C101C:drain
        D103D22 SP3>P102-3 340 stub_A1J1 22 M22759/16-22-9 C101D:drain
        D103E22 SP6>stowed 250 stub_A2J1 22 M22759/16-22-9 C101E:drain
    """)
    assert cables(kit) == [
        ("C101A", "M27500-22TG2T14", 170, "trunk", "H trunk in; trim the cores"),
        ("C101B", "M27500-22TG2T14", 100, "trunk", "H trunk from unit to unit 1; trim the cores"),
        ("C101C", "M27500-22TG2T14", 170, "trunk", "H trunk out; trim the cores"),
        ("C101D", "M27500-22TG2T14", 410, "stub A1J1", "branch to P102; trim the cores"),
        ("C101E", "M27500-22TG2T14", 320, "stub A2J1", "branch to P103; trim the cores"),
    ]
    words = "twisted pair kept together; twist the ends again to 20 mm from contact and splice"
    assert [(s.title, s.why) for s in kit.sections] == [("H and L and S, tapped", (words,))] and kit.unknown == ()


def test_the_order_of_the_units_and_of_other_lines() -> None:
    """A2 first: its splices are SP1 to SP3; a tapped wire between them moves nothing but places."""
    lines = (H, L, S, circuit("PWR", "power", breaker="CB1"))
    pins = (unit("A1"), box("A2", ("1", "can", {}), ("2", "can", {}), ("4", "power", {})))
    made = bus("1-1 1-2 1-3 2-1 2-2 2-4", *pins, lines=lines)
    kit = lay(made, Setting((2, 0, 1)))  # the wire is block 0, A1 block 1, A2 block 2
    assert [section.title for section in kit.sections] == ["H and L and S, tapped", "PWR, tapped"]
    places = {f"{lead.id} {lead.a}>{lead.b}": lead.length for lead in kit.leads() if lead.id[:4] in ("D101", "P104")}
    assert places == {
        # 100, 130, 160 for A2, 190 for PWR, 220, 250, 280 for A1; the trunk has 380
        "D101A22 J101-1>SP1": 100, "D101B22 SP1>SP5": 120, "D101C22 SP5>P101-1": 160, "D101D22 SP1>P103-1": 400,
        "D101E22 SP5>P102-1": 280, "P104A22 J101-4>SP4": 190, "P104B22 SP4>P101-4": 190, "P104C22 SP4>P103-4": 310,
    }  # fmt: skip
    first = lay(made, Setting((0, 1, 2)))
    assert [section.title for section in first.sections] == ["PWR, tapped", "H and L and S, tapped"]


def test_splices_of_a_shield_that_is_cut_back() -> None:
    """With TINY for two wires only: the drain of the branch is a third one, whether it has a pin or is cut back."""
    drawer = shelf(splice=[TINY, *shelf().kinds["splice"].values()])
    made = bus("1-1 1-2 1-3 2-1 2-2", unit("A1"), unit("A2", "12"), drawer=drawer)
    assert [j.part for j in lay(made, Setting((0, 1))).joints] == ["SMALL"] * 6
    lone = bus("1-1", unit("A1", "1"), lines=(H, L), drawer=drawer)
    joints = lay(lone, Setting((0,))).joints
    assert [(j.part, j.at) for j in joints] == [("SMALL", 100), ("TINY", 130)], "nothing branches off L"


@pytest.mark.parametrize(
    ("taps", "lines", "branch", "sheath"),
    [
        # one core without a shield: a single wire; a pair: a cable
        ("1-1", (H, L), ["D101C22 SP1>P102-1 400 stub 22 M22759/16-22-9"], None),
        ("1-2", (H, L), ["D102C22 SP2>P102-2 370 stub 22 M22759/16-22-9"], None),
        ("1-1 1-2", (H, L), ["D101C22 SP1>P102-1 400 stub 22 - C101C:white bare=20",
                             "D102C22 SP2>P102-2 370 stub 22 - C101C:blue bare=20"], ("M27500-22TG2U00", 410)),
        # one core under a shield: a cable with one core; the shield alone: a single wire
        ("1-1 1-3", (H, L, S), ["D101C22 SP1>P102-1 400 stub 22 - C101C:white bare=20",
                                "D103C22 SP3>P102-3 340 stub 22 M22759/16-22-9 C101C:drain"], ("M27500-22TG1T14", 410)),
        ("1-2", (H, L, S), ["D102C22 SP2>P102-2 370 stub 22 - C101C:white bare=20",
                            "D103C22 SP3>stowed 340 stub 22 M22759/16-22-9 C101C:drain"], ("M27500-22TG1T14", 380)),
        ("1-3", (H, L, S), ["D103C22 SP3>P102-3 340 stub 22 M22759/16-22-9"], None),
    ],
)  # fmt: skip
def test_what_branches_off(taps: str, lines: Any, branch: list[str], sheath: tuple[str, int] | None) -> None:
    kit = lay(bus(taps, unit("A1"), lines=lines), Setting((0,)))
    assert [row for row in wired(kit) if row[4] == "C"] == branch and kit.unknown == ()
    own = [s for s in kit.sheaths if s.id == "C101C"]
    assert [(s.type, s.length, s.bundle) for s in own] == ([(*sheath, "stub")] if sheath else [])


def test_a_shield_that_is_nearer_than_its_core() -> None:
    """The shield's splice comes first: cavity 1, the core in 2. Cable: 400 to the shield, 370 to the core, 10 more."""
    made = bus("1-1=2 1-3=1", unit("A1"), lines=(circuit("S", "shield", shields="A"), circuit("A", "audio")))
    kit = lay(made, Setting((0,)))
    assert wired(kit) == rows("""
        A102A22 J101-2>SP1 100 trunk 22 - C102A:white bare=20
        A102B22 SP1>P101-2 130 trunk 22 - C102B:white bare=20
        A102C22 SP1>P102-1 400 stub  22 - C102C:white bare=20
        D101A22 J101-1>SP2 130 trunk 22 M22759/16-22-9 C102A:drain
        D101B22 SP2>P101-1 100 trunk 22 M22759/16-22-9 C102B:drain
        D101C22 SP2>P102-3 370 stub  22 M22759/16-22-9 C102C:drain
    """)
    assert kit.sections[0].why == ("shielded core",) and [s.length for s in kit.sheaths] == [140, 140, 410]
    assert [s.note for s in kit.sheaths][:2] == ["A trunk in; trim the cores", "A trunk out; trim the cores"]
    short = lay(bus("1-1=2 1-3=1", unit("A1"), lines=(circuit("S", "shield", shields="A"), circuit("A", "audio")),
                    way=110), Setting((0,)))  # fmt: skip
    assert [s.length for s in short.sheaths] == [140, 140, 110], "never nearer than the margin of 100"


def test_a_cable_that_nothing_taps() -> None:
    kit = lay(bus("", lines=(H, L, S, None)), Setting(()))
    assert wired(kit) == rows("""
        D101A22 J101-1>P101-1 200 trunk 22 - C101A:white bare=20
        D102A22 J101-2>P101-2 200 trunk 22 - C101A:blue bare=20
        D103A22 J101-3>P101-3 200 trunk 22 M22759/16-22-9 C101A:drain
        S104A22 J101-4>P101-4 200 trunk 22 M22759/16-22-9
    """)
    assert cables(kit) == [("C101A", "M27500-22TG2T14", 200, "trunk", "H and L and S")]
    assert kit.sections[0].title == "H and L and S, led straight through in one cable"
    bare = lay(bus("", lines=(H, L), trunk=350), Setting(()))
    assert cables(bare) == [("C101A", "M27500-22TG2U00", 350, "trunk", "H and L")]
    assert [lead.length for lead in bare.leads()] == [350, 350]


def test_ethernet_keeps_its_twist_longer() -> None:
    """A network cable manual allows 13 mm: 10 mm are built; 20 mm of any other pair."""
    lines = (circuit("E+", "ethernet", line="+"), circuit("E-", "ethernet", line="-"))
    assert {lead.untwisted for lead in lay(bus("", lines=lines), Setting(())).leads()} == {10}
    pins = box("A1", ("1", "ethernet", {}), ("2", "ethernet", {}))
    kit = lay(bus("1-1 1-2", pins, lines=lines), Setting((0,)))
    assert {lead.untwisted for lead in kit.leads()} == {10} and "again to 10 mm" in kit.sections[0].why[0]


def test_twisted_by_hand_where_no_cable_suits() -> None:
    """No cable in the drawer, or 600.5 V on one of its lines: no type, signal wire, the usual colours."""
    high = replace(L, supply=600.5)
    lines = (H, high, S)
    for made in (bus("", drawer=shelf(cable=[])), bus("", lines=lines)):
        kit = lay(made, Setting(()))
        assert cables(kit) == [("C101A", None, 200, "trunk", "H and L and S; twisted by hand")]
        assert wired(kit)[:2] == rows("""
            D101A22 J101-1>P101-1 200 trunk 22 - C101A:white bare=20
            D102A22 J101-2>P101-2 200 trunk 22 - C101A:blue bare=20
        """)
        assert kit.unknown[0] == "a cable for H and L and S that suits its ends"
    assert lay(bus("", lines=(H, replace(L, supply=600.0), S)), Setting(())).sheaths[0].type == "M27500-22TG2T14"
    shield = lay(bus("", lines=(H, L, replace(S, supply=600.5))), Setting(()))
    assert shield.sheaths[0].type is None, "the shield's own volts count as well"


def test_the_cable_that_the_setting_says() -> None:
    more = [*shelf().kinds["cable"].values(), Listed("M27500-22SB2T14", spec="M22759/16", gauge="22 AWG", cores=2)]
    made = bus("", drawer=shelf(cable=more))
    layer = Layer(made, Setting(()))
    listed = [choice.number for choice, _ in made.stock.cables(2, True, layer.cabler.ends(made.lines[0]))]
    assert sorted(listed) == ["M27500-22SB2T14", "M27500-22TG2T14"]
    assert lay(made, Setting(())).sheaths[0].type == listed[0]
    for n, number in ((0, listed[0]), (1, listed[1]), (5, listed[1])):
        assert lay(made, Setting((), cable=n)).sheaths[0].type == number
    made.drawer.kinds["cable"]["M27500-22SB2T14"].facts["core_colours"] = ("red", "black")
    assert layer.cabler._colours("M27500-22SB2T14", 2) == ["red", "black"]
    del made.drawer.kinds["cable"]["M27500-22SB2T14"].facts["core_colours"]
    ten = ["white", "blue", "orange", "green", "red", "black", "yellow", "violet", "grey", "brown"]
    for number, cores, colours in (
        (None, 3, ten[:3]), ("none", 1, ten[:1]), ("M27500-22SB2T14", 4, ten[:4]), (None, 12, ten + ten[:2]),
        ("M27500-22TG2T14", 1, ["white"]),
    ):  # fmt: skip
        assert layer.cabler._colours(number, cores) == colours
    thin = shelf(contact=[Made("PIN20", gauge=(24, 24)), Made("SOCKET20", gauge=(24, 24))],
                 cable=[Listed("M27500-24TG2T14", spec="M22759/16", gauge="24 AWG", cores=2)])  # fmt: skip
    kit = lay(bus("1-1 1-2 1-3", unit("A1"), drawer=thin), Setting((0,)))
    trunk = [lead for lead in kit.leads() if lead.bundle == "trunk"]
    assert {lead.gauge.awg for lead in trunk if lead.gauge} == {24} and trunk[0].id == "D101A24"


K = [circuit(f"EGT {sign}", "thermocouple", line=sign, alloy="K", pair="EGT") for sign in "+-"]
TCK = Made("TCK", conductor="alloys of type K", gauge=(20, 20))


def test_a_thermocouple_pair() -> None:
    """Type K, ASTM E230 (from memory): yellow and red. No cable of the drawer: two wires twisted by hand."""
    drawer = shelf(wire=[*shelf().kinds["wire"].values(), TCK])
    kit = lay(bus("", lines=K, drawer=drawer), Setting(()))
    assert wired(kit) == rows("""
        T101A20 J101-1>P101-1 200 trunk 20 TCK C101A:yellow bare=20 alloy=K stated=True
        T102A20 J101-2>P101-2 200 trunk 20 TCK C101A:red bare=20 alloy=K stated=True
    """)
    assert cables(kit) == [("C101A", None, 200, "trunk", "EGT + and EGT -; twisted by hand")] and kit.unknown == ()
    bare = lay(bus("", lines=K), Setting(()))
    assert wired(bare)[0] == "T101A22 J101-1>P101-1 200 trunk 22 - C101A:yellow bare=20 alloy=K stated=True"
    assert bare.unknown == ("the wire for thermocouple type K (EGT +)", "the wire for thermocouple type K (EGT -)")
    no_gauge = shelf(wire=[*shelf().kinds["wire"].values(), Made("TCK", conductor="type K")])
    assert wired(lay(bus("", lines=K, drawer=no_gauge), Setting(())))[0].startswith("T101A22 ")
    for first, second in ((K[0], replace(K[1], alloy=None)), (replace(K[0], alloy=None), K[1])):
        kit = lay(bus("", lines=(first, second), drawer=drawer), Setting(()))
        assert cables(kit)[0][1] is None and {lead.gauge.awg for lead in kit.leads() if lead.gauge} == {20}
        assert [lead.alloy for lead in kit.leads()] == [first.alloy, second.alloy]
    copper = [replace(one, alloy=None) for one in K]
    kit = lay(bus("", lines=copper, drawer=drawer), Setting(()))
    assert cables(kit)[0][1] == "M27500-22TG2U00" and kit.sections[0].leads[0].alloy is None
    other = [replace(one, signal="audio") for one in K]
    assert cables(lay(bus("", lines=other, drawer=drawer), Setting(())))[0][1] == "M27500-22TG2U00"
    other = [replace(one, signal="audio", supply=700.0) for one in K]  # no cable: twisted by hand, of copper
    assert [lead.alloy for lead in lay(bus("", lines=other, drawer=drawer), Setting(())).leads()] == [None, None]


def test_more_conductors_under_one_name_than_any_cable_has() -> None:
    """Five circuits with the same ``pair:``: no cable has five cores, so five wires are twisted by hand."""
    lines = [circuit(f"X{n}", "audio", pair="X") for n in range(5)]
    kit = lay(bus("", lines=lines), Setting(()))
    assert [lead.core for lead in kit.leads()] == ["white", "blue", "orange", "green", "red"]
    assert cables(kit) == [("C101A", None, 200, "trunk", "X0 and X1 and X2 and X3 and X4; twisted by hand")]


def test_splices_count_each_wire_once() -> None:
    """THREE takes three wires at most: trunk in, trunk out, branch, for each core and for a shield with a pin."""
    three = Made("THREE", cma=(0.2e-6, 0.8e-6), sealed=True, sleeve_length=0.030, most_wires=3)
    drawer = shelf(splice=[three, *shelf().kinds["splice"].values()])
    kit = lay(bus("1-1 1-2 1-3 2-1 2-2", unit("A1"), unit("A2", "12"), drawer=drawer), Setting((0, 1)))
    assert [joint.part for joint in kit.joints] == ["THREE"] * 6


def test_a_shield_is_led_on_in_a_size_of_its_own() -> None:
    """Contacts for 24 AWG only and no cable: the cores count as 22 AWG (0.4 | 0.8), drains are 24 (0.2 | 0.4)."""
    listed = shelf().kinds["contact"]
    for name in ("PIN20", "SOCKET20"):
        listed[name].facts["gauge"] = (24, 24)
    small, middle = (
        Made(name, cma=span, sealed=True, sleeve_length=0.025)
        for name, span in (("S24", (0.1e-6, 0.45e-6)), ("0.4 | 0.6", (0.35e-6, 0.65e-6)))
    )
    drawer = shelf(contact=list(listed.values()), cable=[], splice=[small, middle, *shelf().kinds["splice"].values()])
    kit = lay(bus("1-1 1-2 1-3", unit("A1"), drawer=drawer), Setting((0,)))
    assert [joint.part for joint in kit.joints] == ["SMALL", "SMALL", "S24"]
    assert [lead.gauge.awg for lead in kit.leads() if lead.gauge] == [22] * 6 + [24] * 3


def test_a_cable_with_two_cores_in_a_drawer_that_has_no_other() -> None:
    only = [part for part in shelf().kinds["cable"].values() if part.facts["cores"] == 2]
    kit = lay(bus("1-1 1-2", unit("A1", "12"), lines=(H, L), drawer=shelf(cable=only)), Setting((0,)))
    assert kit.unknown == () and {s.type for s in kit.sheaths} == {"M27500-22TG2U00"}


def test_one_thermocouple_conductor_under_a_shield() -> None:
    lines = (K[0], circuit("S", "shield", shields="EGT +"))
    kit = lay(bus("", lines=lines, drawer=shelf(wire=[*shelf().kinds["wire"].values(), TCK])), Setting(()))
    assert wired(kit) == rows("""
        T101A20 J101-1>P101-1 200 trunk 20 TCK C101A:yellow bare=20 alloy=K stated=True
        D102A22 J101-2>P101-2 200 trunk 22 M22759/16-22-9 C101A:drain
    """)


def in_and_out(shield: bool, contact: str = "SOCKET20") -> Kit:
    pairs = (("1", "3", "can"), ("2", "4", "can"), ("5", "6", "shield"))
    pins = [(a, signal, {"loops": b}) for one, two, signal in pairs for a, b in ((one, two), (two, one))]
    taps = "1-1=1 1-2=2 1-3=1 1-4=2" + (" 1-5=3 1-6=3" if shield else "")
    drawer = shelf()
    drawer.kinds["contact"]["BOXC"] = Made("BOXC", gauge=(24, 24))
    made = bus(taps, box("A1", *pins), lines=(H, L, S) if shield else (H, L), drawer=drawer)
    made.plugs["A1J1"] = replace(made.plugs["A1J1"], contacts=contact)
    return lay(made, Setting(()))


def test_a_bus_led_to_the_unit_and_back() -> None:
    """No splice: 500 mm there and 500 back, all in the bundle to the unit."""
    kit = in_and_out(True)
    assert wired(kit) == rows("""
        D101A22 J101-1>P102-1 500 stub 22 - C101A:white bare=20
        D102A22 J101-2>P102-2 500 stub 22 - C101A:blue bare=20
        D103A22 J101-3>P102-5 500 stub 22 M22759/16-22-9 C101A:drain
        D101B22 P102-3>P101-1 500 stub 22 - C101B:white bare=20
        D102B22 P102-4>P101-2 500 stub 22 - C101B:blue bare=20
        D103B22 P102-6>P101-3 500 stub 22 M22759/16-22-9 C101B:drain
    """)
    assert cables(kit) == [("C101A", "M27500-22TG2T14", 500, "stub", "H trunk to the unit"),
                           ("C101B", "M27500-22TG2T14", 500, "stub", "H trunk back from the unit")]  # fmt: skip
    assert kit.joints == () and kit.unknown == () and len(kit.taps) == 6
    section = kit.sections[0]
    assert section.title == "H and L and S, led in and out" and len(section.why) == 2
    assert section.why[0].endswith("and no splice is made") and "plug of A1J1" in section.why[1]
    assert {s.type for s in in_and_out(True, "BOXC").sheaths} == {None}, "no cable of the drawer goes into the plug"
    bare = in_and_out(False)
    assert len(list(bare.leads())) == 4 and {s.type for s in bare.sheaths} == {"M27500-22TG2U00"}


def test_the_ends_of_a_cable_decide_its_size() -> None:
    """The plug of the unit takes 24 AWG only, and the drawer has no such cable for the branch."""
    drawer = shelf()
    drawer.kinds["contact"]["BOXC"] = Made("BOXC", gauge=(24, 24))
    made = bus("1-1 1-2", unit("A1", "12"), lines=(H, L), drawer=drawer)
    made.plugs["A1J1"] = replace(made.plugs["A1J1"], contacts="BOXC")
    kit = lay(made, Setting((0,)))
    assert [s.type for s in kit.sheaths] == ["M27500-22TG2U00", "M27500-22TG2U00", None]
    assert kit.sheaths[2] == Sheath("C101C", None, 410, "stub", "branch to P102; trim the cores; twisted by hand")
    assert kit.unknown == ("a cable for H and L that suits its ends",)


def test_a_return_and_a_feed_in_one_cable_with_taps() -> None:
    """The cavity of a lead: by its half, else by its splice."""
    made = bus("1-1 1-2 1-3", unit("A1"))
    layer = Layer(made, Setting((0,)))
    by_id = {lead.id: layer.cavity_of(lead) for lead in layer.kit().leads()}
    assert by_id == {f"D10{c}{s}22": str(c) for c in (1, 2, 3) for s in "ABC"}
    assert layer.plug(Point("A1J1", "2")) == Point("P102", "2") and layer.bundle("A1J1") == "stub"
