"""Whole kits of single wires: places, lengths, marks, types, splices and what is packed, worked out by hand.

The aircraft of ``bench``: J101 mates P1 and P101 mates J1; the plug of the unit is P102. Splices: SMALL takes 0.2 to
0.8 mm2 at each end and asks for 30 mm, LARGE 0.4 to 2.4 mm2 and 40 mm. 24, 22, 20 AWG have 0.2, 0.4, 0.6 mm2.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from harnesscheck.jumper import laying
from harnesscheck.jumper.kit import Kit
from harnesscheck.jumper.laying import Layer, lay
from harnesscheck.jumper.trunk import Draft, Setting, Way
from harnesscheck.place import Point
from harnesscheck.units import Gauge
from tests.jumper.bench import Listed, airframe, box, circuit, draft, rows, shelf, told, wire, wires
from tests.jumper.small import Made

PWR = circuit("PWR", "power", breaker="CB1", returns="RTN", supply=28.0)
LINES = (("1", PWR), ("2", circuit("RTN", "ground")), ("3", circuit("SIG", "discrete")), ("4", None))
OWN = (wire("W1", "J1-1", "CB1-load", 22, colour="2"), wire("W2", "J1-2", "GS1", 20, colour="green"))
UNIT = box("A1", ("1", "power", {"returns": "2"}), ("2", "ground", {}), name="probe")


def made(drawer: Any = None, **more: Any) -> Draft:
    return draft(airframe(*LINES, drawer=drawer, wires=OWN), (UNIT,), {"A1J1-1": "1", "A1J1-2": "2"}, **more)


def leads(kit: Kit) -> list[str]:
    return [told(lead) for lead in kit.leads()]


def joints(kit: Kit) -> list[tuple[str, str | None, int]]:
    return [(joint.ref, joint.part, joint.at) for joint in kit.joints]


def test_a_supply_and_its_return_are_tapped() -> None:
    """PWR (22, 22 and 22 AWG: 0.4 | 0.8) sits at the margin of 100; RTN (20, 20, 22: LARGE only) 40 further on. The
    trunk ends 100 behind it. A branch is what is left of 500. The aircraft's own wire of PWR is red (2); of the others
    no digit is known: white (9)."""
    kit = lay(made(), Setting((0, 1)))
    assert joints(kit) == [("SP1", "SMALL", 100), ("SP2", "LARGE", 140)]
    assert [told(lead) for lead in kit.leads()] == rows("""
        P101A22  J101-1>SP1    100 trunk 22 M22759/16-22-2
        P101B22  SP1>P101-1    140 trunk 22 M22759/16-22-2
        P101C22  SP1>P102-1    400 stub  22 M22759/16-22-2
        P102A20N J101-2>SP2    140 trunk 20 M22759/16-20-9
        P102B20N SP2>P101-2    100 trunk 20 M22759/16-20-9
        P102C22N SP2>P102-2    360 stub  22 M22759/16-22-9
        W103A22  J101-3>P101-3 240 trunk 22 M22759/16-22-9
        S104A22  J101-4>P101-4 240 trunk 22 M22759/16-22-9
    """)
    assert [(section.title, len(section.leads), section.why) for section in kit.sections] == [
        ("PWR, tapped", 3, ("through wire 22 AWG: as thick as the existing 22 AWG",
                            "branch to A1J1-1: 22 AWG behind CB1 (5 A, Table 11-3)")),
        ("RTN, tapped", 3, ("through wire 20 AWG: as thick as the existing 20 AWG",
                            "branch to A1J1-2: 22 AWG, as thick as its feed")),
        ("led straight through", 1, ("not known: the existing size at cavity 3",)),
        ("spares led through, so that they stay spares", 1, ("not known: the existing size at cavity 4",)),
    ]  # fmt: skip
    assert [(h.ref, h.plugs, h.fitted, h.route, h.note) for h in kit.halves] == [
        ("J101", "PLUG20", "bench", None, ""), ("P101", "PLUG20", "bench", None, ""),
        ("P102", None, "bench", "along the spar", ""),
    ]  # fmt: skip
    assert [(j.at_ref, j.zone) for j in kit.joints] == [("J101", "CABIN")] * 2
    assert kit.joints[0].why and not kit.joints[1].why, "said once"
    assert kit.taps == {Point("A1J1", "1"): "PWR", Point("A1J1", "2"): "RTN"}
    assert kit.opened == ("P1", "J1") and kit.sheaths == () and kit.unknown == ()
    assert kit.spare_contacts == {} and kit.site_tools == ()


@pytest.mark.parametrize(
    ("setting", "places", "changed"),
    [
        (Setting((1, 0)), [("SP1", "LARGE", 100), ("SP2", "SMALL", 140)], {
            "P102A20N": "J101-2>SP1 100 trunk 20 M22759/16-20-9", "P101A22": "J101-1>SP2 140 trunk 22 M22759/16-22-2",
            "P101C22": "SP2>P102-1 360 stub 22 M22759/16-22-2", "P102C22N": "SP1>P102-2 400 stub 22 M22759/16-22-9"}),
        (Setting((0, 1), wire=1), [("SP1", "SMALL", 100), ("SP2", "LARGE", 140)], {
            "P101A22": "J101-1>SP1 100 trunk 22 M22759/34-22-2",
            "W103A22": "J101-3>P101-3 240 trunk 22 M22759/34-22-9"}),
        # 40 mm of LARGE against 40
        (Setting((0, 1), splice=1), [("SP1", "LARGE", 100), ("SP2", "LARGE", 140)], {}),
        (Setting((0, 1), splice=7), [("SP1", "LARGE", 100), ("SP2", "LARGE", 140)], {}),
        # 0.6 + 0.6 against 0.6 does not go into SMALL; the signal stays as it is
        (Setting((0, 1), thicker=1), [("SP1", "LARGE", 100), ("SP2", "LARGE", 140)], {
            "P101A20": "J101-1>SP1 100 trunk 20 M22759/16-20-2", "P101C20": "SP1>P102-1 400 stub 20 M22759/16-20-2",
            "P102C20N": "SP2>P102-2 360 stub 20 M22759/16-20-9",
            "W103A22": "J101-3>P101-3 240 trunk 22 M22759/16-22-9"}),
        (Setting((0, 1), apart=True), [("SP1", "SMALL", 100), ("SP2", "LARGE", 140)], {
            "P101A22": "J101-1>SP1 100 trunk_feeds 22 M22759/16-22-2",
            "P101B22": "SP1>P101-1 140 trunk_feeds 22 M22759/16-22-2",
            "P102B20N": "SP2>P101-2 100 trunk_feeds 20 M22759/16-20-9",
            "P101C22": "SP1>P102-1 400 stub 22 M22759/16-22-2",
            "W103A22": "J101-3>P101-3 240 trunk 22 M22759/16-22-9"}),
    ],
)  # fmt: skip
def test_other_settings(setting: Setting, places: list[Any], changed: dict[str, str]) -> None:
    drafted = made()
    drafted.specs = ["M22759/16", "M22759/34"]
    kit = lay(drafted, setting)
    found = dict(row.split(" ", 1) for row in leads(kit))
    assert joints(kit) == places and {name: found.get(name) for name in changed} == changed
    order = [section.title for section in kit.sections]
    assert order[:2] == (["RTN, tapped", "PWR, tapped"] if setting.order[0] else ["PWR, tapped", "RTN, tapped"])
    assert (kit.joints[0].why != ()) and kit.joints[1].why == ()


def test_a_plug_that_is_shipped_loose() -> None:
    """Two sockets are inserted in the aircraft: up to 25 ask for two spares (AC 43.13-1B par. 11-234)."""
    drafted = made()
    kit = lay(drafted, Setting((0, 1), loose=True))
    plug = kit.halves[2]
    assert (
        plug.fitted == "aircraft" and plug.note.startswith("the shell does not pass") and plug.route == "along the spar"
    )
    assert [half.fitted for half in kit.halves[:2]] == ["bench", "bench"]
    assert kit.spare_contacts == {"SOCKET20": 2} and kit.site_tools == ("IN1", "OUT1") and kit.unknown == ()
    assert leads(kit) == leads(lay(made(), Setting((0, 1))))
    assert lay(drafted, Setting((0, 1))).halves[2].fitted == "bench"


def packed(counts: dict[str, int], **contacts: dict[str, Any]) -> tuple[dict[str, int], tuple[str, ...], list[str]]:
    """What is packed for a loose plug with so many of each contact, of which the drawer knows these tools."""
    drawer = shelf(contact=[Listed(name, **said) for name, said in contacts.items()])
    drafted = draft(airframe(("1", PWR), drawer=drawer), (), {})
    cavities = [(f"{name}{n}", name) for name, count in counts.items() for n in range(count)]
    half = replace(drafted.first, ref="P102", own=dict(cavities), fitted="aircraft", contacts=None)
    wired = [Point("P102", cavity) for cavity, _ in cavities] + [Point("P101", "1"), Point("P102", "no contact")]
    bench = replace(half, ref="P101", own={"1": "OTHER"}, fitted="bench")
    return Layer(drafted, Setting(()))._packed([half, bench], wired)


def test_spares_and_tools_for_the_site() -> None:
    """AC 43.13-1B Chg 1 par. 11-234: 2 spares up to 25 contacts, 4 up to 100, 6 above."""
    both = {"insertion_tool": ("I1",), "removal_tool": ("R1",)}
    for count, spares in ((1, 2), (25, 2), (26, 4), (100, 4), (101, 6)):
        assert packed({"A": count}, A=both) == ({"A": spares}, ("I1", "R1"), [])
    assert packed({}) == ({}, (), [])
    assert packed({"A": 1, "B": 26}, A=both, B={"insertion_tool": ("I2", "I3"), "removal_tool": ("R2", "R1")}) == (
        {"A": 2, "B": 4}, ("I1", "R1", "I2"), [],
    ), "R1 does for both"  # fmt: skip
    assert packed({"A": 1, "B": 1, "C": 1}, A={"removal_tool": ("R1",)}, C=both) == (
        {"A": 2, "B": 2, "C": 2}, ("R1", "I1"),
        ["the insertion tool of contact A", "the insertion tool of contact B", "the removal tool of contact B"],
    )  # fmt: skip


def test_a_stagger_that_a_person_has_set() -> None:
    kit = lay(made(gap=65), Setting((0, 1)))
    assert joints(kit) == [("SP1", "SMALL", 100), ("SP2", "LARGE", 165)]
    assert [told(lead) for lead in kit.leads()][6].split()[2] == "265"


def test_a_trunk_that_is_asked_for_and_a_short_way() -> None:
    """400 mm: the splices stay. To a unit 150 mm off no branch is shorter than the margin of 100."""
    found = dict(row.split(" ", 1) for row in leads(lay(made(trunk=400, way=150), Setting((0, 1)))))
    assert found["P101B22"] == "SP1>P101-1 300 trunk 22 M22759/16-22-2"
    assert [found[name].split()[1] for name in ("P101C22", "P102C22N", "S104A22")] == ["100", "100", "400"]
    longer = dict(row.split(" ", 1) for row in leads(lay(made(way=205), Setting((0, 1)))))
    assert [longer[name].split()[1] for name in ("P101C22", "P102C22N")] == ["105", "100"]


def test_a_drawer_without_splices() -> None:
    kit = lay(made(drawer=shelf(splice=[])), Setting((0, 1)))
    assert joints(kit) == [("SP1", None, 100), ("SP2", None, 130)], "30 mm each"
    assert kit.unknown == (
        "the splice for PWR: none of the drawer is known to take 22 AWG, 22 AWG, 22 AWG",
        "the splice for RTN: none of the drawer is known to take 20 AWG, 20 AWG, 22 AWG",
    )  # fmt: skip


def test_a_drawer_without_the_wire() -> None:
    """Of 20 AWG there is none: RTN has no type; the rest keeps its own. What is missing is said once."""
    kit = lay(made(drawer=shelf(**wires("M22759/16", sizes=(22,)))), Setting((0, 1)))
    assert kit.unknown == ("a wire type of 20 AWG for RTN that suits its ends",)
    assert [lead.type for lead in kit.leads()][:6] == [*["M22759/16-22-2"] * 3, None, None, "M22759/16-22-9"]


def test_volts_and_colours() -> None:
    """Rated 600 V: at 600 a type is found, above none. The first wire whose colour is a digit gives the colour."""
    for volts, found in ((600.0, True), (600.5, False), (None, True)):
        air = airframe(("1", circuit("X", "power", supply=volts)), ("2", None))
        layer = Layer(draft(air, (), {}), Setting(()))
        line, spare = layer.draft.lines
        assert (layer.type(Gauge(awg=22), (), line) == "M22759/16-22-9") is found
        assert layer.unknown == ([] if found else ["a wire type of 22 AWG for X that suits its ends"])
        assert layer.volts(line) == (volts or 0.0) and layer.volts(spare) == 0.0
    own = [
        wire(f"W{n}", "J1-1", f"SP{n}", 22, colour=c, type="M22759/34-22-6")
        for n, c in enumerate((None, "red", "5", "7"))
    ]
    layer = Layer(draft(airframe(("1", PWR), ("2", None), wires=own), (), {}), Setting(()))
    assert [layer._digit(line) for line in layer.draft.lines] == ["5", "6"], "6 is the habit of the aircraft"
    assert layer.type(Gauge(awg=22), (), layer.draft.lines[1]) == "M22759/34-22-6"


def test_two_units_on_one_line() -> None:
    """22, 22, 22, 22 AWG: 0.8 | 0.8 in SMALL. Each branch has a bundle of its own, named after its receptacle."""
    units = UNIT, box("A2", ("1", "power", {}), mating="R6P")
    drafted = draft(
        airframe(LINES[0], wires=OWN[:1]), units, {"A1J1-1": "1", "A2J1-1": "1"},
        ways={"A1J1": Way("spar", 500, None), "A2J1": Way(None, 300, None)},
    )  # fmt: skip
    layer = Layer(drafted, Setting((0,)))
    kit = layer.kit()
    assert joints(kit) == [("SP1", "SMALL", 100)] and leads(kit) == rows("""
        P101A22 J101-1>SP1 100 trunk     22 M22759/16-22-2
        P101B22 SP1>P101-1 100 trunk     22 M22759/16-22-2
        P101C22 SP1>P102-1 400 stub_A1J1 22 M22759/16-22-2
        P101D22 SP1>P103-1 200 stub_A2J1 22 M22759/16-22-2
    """)
    assert [layer.cavity_of(lead) for lead in kit.leads()] == ["1"] * 4
    assert [half.route for half in kit.halves] == [None, None, "spar", None]
    assert layer.half(Point("P103", "x")) is layer.plugs["A2J1"] and layer.half(Point("SP1")) is None
    assert layer.half(Point("J101")) is drafted.first and layer.half(Point("P101")) is drafted.second


THERMO = [Made("TCK", conductor="alloys of type K", gauge=(20, 20)), Made("TCJ", conductor="wires of type J")]


@pytest.mark.parametrize(
    ("alloy", "sign", "found", "unknown"),
    [
        ("K", "+", "T101A20 J101-1>P101-1 200 trunk 20 TCK colour=yellow alloy=K stated=True", ()),
        ("K", "-", "T101A20 J101-1>P101-1 200 trunk 20 TCK colour=red alloy=K stated=True", ()),
        ("J", "+", "T101A22 J101-1>P101-1 200 trunk 22 TCJ colour=white alloy=J stated=True", ()),
        ("T", None, "T101A22 J101-1>P101-1 200 trunk 22 - colour=blue alloy=T stated=True",
         ("the wire for thermocouple type T (EGT)",)),
        ("X", "+", "T101A22 J101-1>P101-1 200 trunk 22 - colour=white alloy=X stated=True",
         ("the wire for thermocouple type X (EGT)",)),
        (None, "+", "T101A22 J101-1>P101-1 200 trunk 22 M22759/16-22-9", ()),
    ],
)  # fmt: skip
def test_a_lone_thermocouple_line(alloy: str | None, sign: str | None, found: str, unknown: tuple[str, ...]) -> None:
    """ASTM E230 (from memory): K yellow, J white, T blue, E purple, N orange, the negative one red."""
    drawer = shelf(wire=[*shelf().kinds["wire"].values(), *THERMO])
    kit = lay(draft(airframe(("1", circuit("EGT", "thermocouple", alloy=alloy, line=sign)), drawer=drawer), (), {}),
              Setting(()))  # fmt: skip
    assert leads(kit) == [found] and kit.unknown == unknown
    assert laying.THERMOCOUPLE == {"K": "yellow", "J": "white", "T": "blue", "E": "purple", "N": "orange"}
    other = circuit("X", "discrete", alloy="K")
    assert lay(draft(airframe(("1", other)), (), {}), Setting(())).sections[0].leads[0].id == "W101A22"


def test_an_empty_pair() -> None:
    kit = lay(draft(airframe(), (), {}), Setting(()))
    assert (kit.sections, kit.joints, kit.taps) == ((), (), {}) and len(kit.halves) == 2
