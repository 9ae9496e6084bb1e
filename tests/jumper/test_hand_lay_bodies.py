"""Which connector halves, contacts and sealing plugs a kit brings: a made-up drawer, case by case by hand."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck.connector import NONE, Connector
from harnesscheck.jumper import bodies
from harnesscheck.jumper.kit import Half
from harnesscheck.place import Point
from tests.jumper.bench import HERE, Listed, airframe, circuit, half, shelf
from tests.jumper.small import Made, Shelf

NUMBERS = ("D38999/26WD35SN", "D38999/24WD35PN", "D38999/26WA98PB", "D38999/24WA98SB", "D38999/26FB5JA",
           "D38999/24FB5AN", "D38999/26FB5BN", "D38999/26FB5HC", "M24308/2-1", "M24308/4-1", "M24308/4-5")  # fmt: skip


@pytest.mark.parametrize(
    ("number", "other"),
    [
        # MIL-DTL-38999 series III: a plug (26) and a jam nut receptacle (24), or a wall mount one (20) to a plug;
        # pins P, sockets S; H and J for 1500 cycles; A and B without contacts. Key letter and insert stay.
        ("D38999/24WD35PN", "D38999/26WD35SN"), ("D38999/26WD35SN", "D38999/24WD35PN"),
        ("D38999/20WD35PN", "D38999/26WD35SN"), ("D38999/26WA98PB", "D38999/24WA98SB"),
        ("D38999/24WA98SB", "D38999/26WA98PB"), ("D38999/20FB5HA", "D38999/26FB5JA"),
        ("D38999/26FB5BN", "D38999/24FB5AN"),
        ("D38999/24FB5AN", "D38999/26FB5BN"), ("D38999/24FB5JC", "D38999/26FB5HC"),
        # not in the drawer, another style, another contact, no such number at all
        ("D38999/24WD35PA", None), ("D38999/99WD35PN", None), ("D38999/24WD35XN", None), ("D38999/24WD35PN1", None),
        # MIL-DTL-24308: 2 has sockets, 4 pins; the shell size stays
        ("M24308/4-1", "M24308/2-1"), ("M24308/2-1", "M24308/4-1"), ("M24308/2-5", "M24308/4-5"),
        ("M24308/4-5", None), ("M24308/3-1", None), ("", None), (None, None),
    ],
)  # fmt: skip
def test_the_number_that_mates_another(number: str | None, other: str | None) -> None:
    drawer: Any = Shelf(connector=[Made(each) for each in NUMBERS])
    assert bodies.counterpart(drawer, number) == other


def facts(**said: str) -> Any:
    return {name: SimpleNamespace(value=value) for name, value in said.items()}


def pair(mine: dict[str, Any], his: dict[str, Any], contacts: dict[str, str | None], drawer: Any = None) -> Any:
    """P1 is to be mated by a half like J1, of which ``mine`` is said; ``contacts`` are those of J1."""
    air = airframe(drawer=drawer)
    bare = {"zone": None, "part": None, "name": "", "contact": None}
    one = half("P1", {"1": "X"}, **{**bare, **his})
    two = half("J1", {}, **{**bare, **mine})
    cavity = half("J1", dict.fromkeys(contacts), None).cavities
    two = replace(two, cavities={n: replace(cavity[n], contact=contact) for n, contact in contacts.items()})
    return replace(air, connectors={"P1": one, "J1": two})


def like(*said: Any, **more: Any) -> Half:
    return bodies.like(pair(*said, **more), "J101", "P1", "jumper")


def test_a_half_like_the_one_that_is_there() -> None:
    found = like({"part": "R6S", "zone": "A"}, {"part": "R6P", "zone": "B"}, {"1": "S20", "2": "S20"})
    assert found == Half("J101", "jumper", "P1", "R6S", {}, "S20", {}, zone="B",
                         why=("the same part as J1, which mates P1 today",))  # fmt: skip
    assert like({"part": "R6S", "zone": "A"}, {}, {}).zone == "A"
    assert like({"part": "R6S"}, {}, {}).zone is None


@pytest.mark.parametrize(
    ("contacts", "default", "own"),
    [
        ({}, None, {}), ({"1": None, "2": NONE}, None, {}), ({"1": "A", "2": "B", "3": "B"}, "B", {"1": "A"}),
        ({"1": "A", "2": "B"}, "A", {"2": "B"}), ({"1": NONE, "2": NONE, "3": NONE, "4": "A", "5": None}, "A", {}),
        ({"1": "C", "2": "A", "3": None, "4": "A", "5": "B", "6": NONE}, "A", {"1": "C", "5": "B"}),
    ],
)  # fmt: skip
def test_contacts_like_those_that_are_there(
    contacts: dict[str, str | None], default: str | None, own: dict[str, str]
) -> None:
    """The commonest one, and by cavity those that are another; a cavity without a contact says nothing."""
    found = like({"part": "R6S"}, {}, contacts)
    assert (found.contacts, found.own) == (default, own)


def test_a_half_whose_number_nobody_has_said() -> None:
    drawer = shelf(connector=[Made("M24308/2-1"), Made("M24308/4-1")])
    found = like({}, {"part": "M24308/4-1", "facts": facts(family="D")}, {}, drawer=drawer)
    assert (found.part, found.facts) == ("M24308/2-1", {})
    assert found.why == ("mates M24308/4-1; the part of J1 is not stated",)
    mine = {"facts": facts(family="ROUND", gender="socket", sealed="yes")}
    his = {
        "part": "ODD",
        "facts": facts(family="other", gender="socket", style="plug", insert="SIX", sealed="no", key="N"),
    }
    found = like(mine, his, {"1": "S20"})
    assert found.part is None and found.contacts == "S20"
    assert found.facts == {
        "family": "ROUND", "insert": "SIX", "gender": "socket", "style": "receptacle", "key": "N", "sealed": "yes",
    }  # fmt: skip
    assert found.why == ("not known: the part number. Built like J1: read it off the shell",)
    for said, turned in (("pin", "socket"), ("socket", "pin"), ("hermaphrodite", "hermaphrodite")):
        assert like({}, {"facts": facts(gender=said, sealed="yes", shell="A")}, {}).facts == {
            "gender": turned, "shell": "A",
        }  # fmt: skip
    for said, turned in (("plug", "receptacle"), ("receptacle", "plug")):
        assert like({}, {"facts": facts(style=said)}, {}).facts == {"style": turned}
    assert like({}, {}, {}).facts == {}


def receptacle(part: str | None = None, mating: str | None = None, **said: str) -> Connector:
    return half("A1J1", {}, part, mating=mating, zone="Z", facts=facts(**said))


SAID = {"family": "ROUND", "insert": "SIX", "gender": "pin", "style": "receptacle", "key": "N", "sealed": "yes"}
TURNED = {"family": "ROUND", "insert": "SIX", "gender": "socket", "style": "plug", "key": "N"}


@pytest.mark.parametrize(
    ("box", "part", "found", "why"),
    [
        (receptacle("M24308/4-1", "KNOWN", **SAID), "KNOWN", {}, "the maker of A1J1 names it"),
        (receptacle("M24308/4-1", "ELSEWHERE", **SAID), "ELSEWHERE", TURNED, "the maker of A1J1 names it"),
        (receptacle("M24308/4-1", "ELSEWHERE", gender="pin"), "ELSEWHERE", {}, "the maker of A1J1 names it"),
        (receptacle("M24308/4-1", None, **SAID), "M24308/2-1", {}, "mates M24308/4-1; the maker names no mating part"),
        (receptacle("ODD", None, **SAID), None, TURNED, "not known: the part number; ask the maker of the equipment"),
        (receptacle(None, None, gender="socket", style="plug"), None, {"gender": "pin", "style": "receptacle"},
         "not known: the part number; ask the maker of the equipment"),
        (receptacle(), None, {}, "not known: the part number; ask the maker of the equipment"),
    ],
)  # fmt: skip
def test_the_plug_of_the_equipment(box: Connector, part: str | None, found: dict[str, str], why: str) -> None:
    drawer: Any = Shelf(connector=[Made("KNOWN"), Made("M24308/2-1")])
    air: Any = SimpleNamespace(drawer=drawer)
    assert bodies.equipment_plug(air, box, "P102") == Half("P102", "", "A1J1", part, found, zone="Z", why=(why,))


DRAWER: Any = shelf(
    insert=[Listed("SIX", cavities=tuple("123456"), cavity_size="20"), Listed("MIXED", cavities=("A",))],
    contact=[
        Listed("SOFT", "gauge", gender="pin", size="20", family=("ROUND",), gauge=(24, 20), insulation=(0.001, 0.002)),
        Listed("NOGAUGE", gender="pin", size="20", family=("ROUND",), insulation=(0.001, 0.002)),
        Listed("SOFTSEAL", "insulation", gender="pin", size="20", family=("ROUND",), gauge=(24, 20),
               insulation=(0.001, 0.002)),
        Listed("NOSEAL", gender="pin", size="20", family=("ROUND",), gauge=(24, 20)),
        Listed("FIRM", gender="pin", size="20", family=("D", "ROUND"), gauge=(24, 20), insulation=(0.001, 0.002)),
        Listed("FIRM2", gender="pin", size="20", family=("ROUND",), gauge=(24, 20), insulation=(0.001, 0.002)),
        Listed("CHROMEL", gender="pin", size="20", family=("ROUND",), gauge=(24, 20), alloy="K"),
        Listed("IRON", gender="pin", size="20", family=("ROUND",), gauge=(24, 20), material="iron"),
        Listed("SOCKET", gender="socket", size="20", family=("ROUND",), gauge=(24, 20)),
        Listed("BIG", gender="pin", size="16", family=("ROUND",), gauge=(20, 16)),
        Listed("D-SUB", gender="pin", size="20", family=("D",), gauge=(24, 20)),
        Listed("NOSIZE", gender="pin", family=("ROUND",), gauge=(24, 20)),
        Listed("NOGENDER", size="20", family=("ROUND",), gauge=(24, 20)),
        Listed("ANY", gender="pin", size="20", gauge=(24, 20)),
    ],
    sealing_plug=[Listed("OTHER", size=("16",), family=("ROUND",)), Listed("D20", size=("20",), family=("D",)),
                  Listed("NOTHING"), Listed("NOFAMILY", size=("20",)),
                  Listed("P20", size=("22", "20"), family=("D", "ROUND")),
                  Listed("P20B", size=("20",), family=("ROUND",))],
)  # fmt: skip


def made(part: str | None = None, **said: str) -> Half:
    return Half("P9", "made", "J9", part, said)


def test_what_is_known_of_a_half() -> None:
    """What is said of it comes before what its part number says."""
    assert bodies.known(DRAWER, made("R6P"), "gender") == "pin"
    assert bodies.known(DRAWER, made("R6P", gender="socket"), "gender") == "socket"
    for nothing in (made(), made("ODD"), made(family="ROUND")):
        assert bodies.known(DRAWER, nothing, "gender") is None
    assert bodies.names(DRAWER, made("R6P")) == tuple("123456") and bodies.size(DRAWER, made("R6P")) == "20"
    assert bodies.names(DRAWER, made(insert="MIXED")) == ("A",) and bodies.size(DRAWER, made(insert="MIXED")) is None
    for nothing in (made(), made(insert="NEW")):
        assert bodies.names(DRAWER, nothing) is None and bodies.size(DRAWER, nothing) is None


def numbers(half: Half) -> list[str]:
    return [part.number for part in bodies.contacts(DRAWER, half)]


def test_contacts_for_a_half() -> None:
    """Gauge known, then gauge firm, then seal firm; among equals as the drawer lists them. No alloy, no iron."""
    assert numbers(made("R6P")) == ["FIRM", "FIRM2", "SOFTSEAL", "NOSEAL", "SOFT", "NOGAUGE"]
    assert numbers(made("R6S")) == ["SOCKET"]
    assert numbers(made(family="D", gender="pin", insert="SIX")) == ["FIRM", "D-SUB"]
    for less in ({"family": "ROUND", "gender": "pin"}, {"family": "ROUND", "insert": "SIX"},
                 {"gender": "pin", "insert": "SIX"},
                 {"family": "ROUND", "gender": "pin", "insert": "MIXED"}):  # fmt: skip
        assert numbers(made(**less)) == []


def test_a_half_gets_contacts_from_the_drawer() -> None:
    there = replace(made("R6P"), contacts="MINE", why=("so",))
    assert bodies.with_contacts(DRAWER, there) is there
    found = bodies.with_contacts(DRAWER, replace(there, contacts=None))
    assert found.contacts == "FIRM"
    assert found.why == ("so", "contact FIRM: family, gender and size of the cavities, by the parts drawer")
    nothing = bodies.with_contacts(DRAWER, made(why="x"))
    assert nothing.contacts is None
    assert nothing.why == ("not known: the contact; none of the drawer is listed for it",)


def points(*names: str) -> list[Point]:
    return [Point(*name.split("-")) for name in names]


def test_sealing_plugs() -> None:
    """Where there is a grommet and a cavity stays empty: the first plug of that size and family."""
    some = points("P9-1", "P9-2", "SP1", "P8-3")
    every = points(*(f"P9-{n}" for n in "123456"))
    assert bodies.plugged(DRAWER, made("R6P"), some).plugs == "P20"
    assert bodies.plugged(DRAWER, made("R6P"), []).plugs == "P20"
    for half_, wired in ((made("R6P"), every), (made("R6P", sealed="no"), some), (made("BOX"), some),
                         (made(family="ROUND", insert="SIX"), some), (made("R6P", insert="NEW"), some)):  # fmt: skip
        assert bodies.plugged(DRAWER, half_, wired) is half_
    assert bodies.plugged(DRAWER, made("R6P"), points(*(f"P8-{n}" for n in "123456"))).plugs == "P20", "another half"
    unknown = bodies.plugged(DRAWER, made("R6P", family="ODD"), some)
    assert unknown.plugs is None and unknown.why == ("not known: the sealing plug for its unused cavities",)
    mixed = bodies.plugged(DRAWER, made("R6P", insert="MIXED"), some)
    assert mixed.plugs is None and len(mixed.why) == 1, "of no one size"


def test_places_of_the_bench() -> None:
    """The aircraft of these tests is what its description says."""
    air = airframe(("1", circuit("X", "power")))
    assert air.mate_of("P1") == "J1" and air.connectors["P1"].place is HERE and air.zones["CABIN"].wet is False
