"""Connectors and mates as built from an airframe file, and the faults of their references.

What is expected is counted in the texts below and in the keys of docs/file-format.md. Of the parts: M24308/2-2 is a
receptacle with 15 sockets (parts/data/connector.yaml, from memory), D38999/26WA98SN a plug with sockets in insert 9-98
(MIL-DTL-38999, its part numbering).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from harnesscheck.connector import Cavity, Origin, Use
from harnesscheck.document import parse
from harnesscheck.formats._build import Builder, Scope
from harnesscheck.parts import open_drawer
from harnesscheck.place import Place, Point
from harnesscheck.source import Status
from harnesscheck.units import Gauge
from tests.formats.marked import airframe, check_airframe, check_job


def cavity(said: str, more: str = "") -> Cavity:
    """Cavity 1 of a half whose cavities have the contact C and the plug G unless they say otherwise."""
    text = f"connectors:\n  P1:\n    contacts: C\n    plugs: G\n    cavities:\n      1: {said}\n{more}"
    return airframe(text).connectors["P1"].cavities["1"]


@pytest.mark.parametrize(
    ("said", "use", "circuit", "contact", "plug"),
    [
        ("CAN H", Use.LIVE, "CAN H", "C", None),
        ("spare", Use.SPARE, None, None, "G"),
        ("unknown", Use.UNKNOWN, None, None, None),
        ("{}", Use.UNKNOWN, None, None, None),
        ("{note: n}", Use.UNKNOWN, None, None, None),
        ("{use: live}", Use.LIVE, None, "C", None),
        ("{circuit: CAN H, note: n}", Use.LIVE, "CAN H", "C", None),
        ("{use: live, contact: D}", Use.LIVE, None, "D", None),
        ("{use: spare, contact: D}", Use.SPARE, None, "D", "G"),
        ("{use: spare, plug: H}", Use.SPARE, None, None, "H"),
        ("{use: live, plug: H}", Use.LIVE, None, "C", "H"),
        ("{use: unknown, contact: D, plug: H}", Use.UNKNOWN, None, "D", "H"),
    ],
)
def test_what_one_line_of_a_pin_map_makes_of_a_cavity(
    said: str, use: Use, circuit: str | None, contact: str | None, plug: str | None
) -> None:
    """Contacts are for cavities in use, sealing plugs for spare ones; nothing is guessed of an unknown one."""
    found = cavity(said)
    assert (found.use, found.circuit, found.contact, found.plug) == (use, circuit, contact, plug)
    # Two lines of head, then the sixth line of the text.
    assert (found.point, found.place.label, found.place.where()) == (Point("P1", "1"), "P1-1", "a.yaml:8:7")


def test_all_that_may_be_said_of_a_cavity_is_kept() -> None:
    found = cavity(
        "{circuit: AUX, gauge: 20 AWG, breaker: CB1, grounded: yes, terminated: no, note: seen}",
        "breakers: {CB1: {}}\n",
    )
    assert (found.gauge, found.breaker, found.grounded, found.terminated, found.note) == (
        Gauge(20),
        "CB1",
        True,
        False,
        "seen",
    )
    bare = cavity("{use: live}")
    assert (bare.gauge, bare.breaker, bare.grounded, bare.terminated, bare.note) == (None, None, None, None, "")


def test_a_wire_makes_its_cavity_live_and_a_cavity_without_a_line_has_the_place_of_its_half() -> None:
    harness = airframe("connectors:\n  P1: {}\n  J1: {cavities: {2: {note: n}}}\nwires: {W1: {from: P1-7, to: J1-2}}\n")
    one, two = harness.connectors["P1"].cavities["7"], harness.connectors["J1"].cavities["2"]
    assert (one.use, one.place.label, one.place.where()) == (Use.LIVE, "P1-7", "a.yaml:4:3")
    assert (two.use, two.note, two.place.where()) == (Use.LIVE, "n", "a.yaml:5:19")


def test_spare_with_a_wire_or_a_circuit_is_refused_and_spare_alone_is_not() -> None:
    said = ("P1-1 is called spare but carries a wire or circuit", "remove one of the two")
    other = ("P1-2 is called spare but carries a wire or circuit", "remove one of the two")
    check_airframe(
        "connectors:\n  J1: {}\n  P1:\n    cavities:\n      1: §spare\n      §2: {use: spare, circuit: AUX}\n"
        "      3: spare\n      4: {use: live, circuit: LAMP}\nwires: {W1: {from: P1-1, to: J1-1}}\n",
        said,
        other,
    )


BOX = """kind: equipment
title: box
connectors:
  J1:
    contacts: C
    plugs: G
    pins:
      1: {function: in, signal: power, contact: D, note: of the pin}
      2: {function: out, signal: discrete}
      3: {function: none, signal: none, connect: no, contact: E}
      6: {function: sixth, signal: discrete, contact: H}
    cavities:
      1: {note: of the cavity}
      2: {contact: F}
      4: {use: unknown}
      5: {use: spare}
      6: LAMP
"""


def test_a_pin_of_a_box_is_live_unless_nothing_may_be_connected(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from harnesscheck.formats import load

    monkeypatch.chdir(tmp_path)
    Path("box.yaml").write_text(BOX)
    harness = load(Path("box.yaml"), "box.yaml").subject
    found = {c.point.cavity: (c.use, c.contact, c.plug, c.note) for c in harness.connectors["J1"].cavities.values()}
    assert found == {
        "1": (Use.LIVE, "D", None, "of the cavity"),
        "2": (Use.LIVE, "F", None, ""),
        "3": (Use.SPARE, "E", "G", ""),
        "4": (Use.UNKNOWN, None, None, ""),
        "5": (Use.SPARE, None, "G", ""),
        "6": (Use.LIVE, "H", None, ""),
    }
    assert list(found) == [
        "1",
        "2",
        "4",
        "5",
        "6",
        "3",
    ]  # as listed, then the pins
    assert harness.connectors["J1"].cavities["1"].place.where() == "box.yaml:8:7"  # what is said of the pin counts
    (device,) = harness.devices.values()
    assert [(str(p.point), p.place.where(), p.required, p.connect) for p in device.pins] == [
        ("J1-1", "box.yaml:8:7", True, True),
        ("J1-2", "box.yaml:9:7", True, True),
        ("J1-3", "box.yaml:10:7", False, False),
        ("J1-6", "box.yaml:11:7", True, True),
    ]


def test_a_pin_called_spare_among_the_cavities_is_said_at_the_pin(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    said = ("J1-5 is called spare but carries a wire or circuit", "remove one of the two")
    text = BOX.replace("5: {use: spare}", "5: {use: spare, circuit: A}")
    check_job(tmp_path, {"box.yaml": text.replace("5: {use", "§5: {use")}, said, main="box.yaml")
    text = text.replace("      3: {f", "      §5: {function: f, signal: none}\n      3: {f")
    check_job(tmp_path, {"box.yaml": text}, said, main="box.yaml")


def test_other_pins_that_a_pin_names(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    head = "kind: equipment\ntitle: box\nconnectors:\n  J1:\n    pins:\n"
    good = (
        "      1: {function: a, signal: can, line: H, loops: 3}\n      2: {function: b, signal: power, returns: 4}\n"
        "      3: {function: c, signal: can, line: H}\n      4: {function: d, signal: ground}\n"
        "      15: {function: e, signal: can, line: L}\n"
    )
    from harnesscheck.formats import load

    Path("box.yaml").write_text(head + good)
    pins = load(Path("box.yaml"), "box.yaml").subject.devices["equipment"].pins
    assert [(p.loops, p.returns) for p in pins] == [
        (Point("J1", "3"), None),
        (None, Point("J1", "4")),
        (None, None),
        (None, None),
        (None, None),
    ]
    joined = "are not of one signal and line, so they cannot be joined inside"
    for bad, said in (
        ("loops: §2", (f"J1-1 and J1-2 {joined}", "name the pin of the same signal and line")),
        ("loops: §15", (f"J1-1 and J1-15 {joined}", "name the pin of the same signal and line")),
        ("loops: §1", ("J1 has no other pin '1'", "did you mean 2, 3, 4 or 15?")),
        ("loops: §77", ("J1 has no other pin '77'", "the pins are: 2, 3, 4, 15")),
    ):
        check_job(tmp_path, {"box.yaml": head + good.replace("loops: 3", bad)}, said, main="box.yaml")
    text = head + good.replace("returns: 4", "returns: §2")
    check_job(tmp_path, {"box.yaml": text}, ("J1 has no other pin '2'", "did you mean 1, 3 or 4?"), main="box.yaml")


def test_of_many_pins_fifteen_are_listed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    pins = "".join(f"      x{number}: {{function: f, signal: none}}\n" for number in range(20))
    head = "kind: equipment\ntitle: box\nconnectors:\n  J1:\n    pins:\n"
    text = head + "      A: {function: f, signal: none, loops: §+}\n" + pins
    listed = ", ".join(f"x{number}" for number in range(15))
    check_job(tmp_path, {"box.yaml": text}, ("J1 has no other pin '+'", f"the pins are: {listed}"), main="box.yaml")


# -- connectors --------------------------------------------------------------------------------------------------------


def test_a_half_with_its_part_number_and_all_its_keys() -> None:
    """The part is not firm on anything, so what is stated counts; the rest is the part's."""
    harness = airframe(
        "connectors:\n  J1:\n    part: M24308/2-2\n    gender: pin\n    sealed: yes\n    name: nose\n    zone: Z\n"
        "    mating: M\n    fitted: aircraft\n    marking: band\n    route: R\n    note: n\n"
        "    cavities: {16: spare, 2: A}\n"
        "zones: {Z: {}}\nroutes: {R: {}}\n"
    )
    half = harness.connectors["J1"]
    assert (half.ref, half.place.where(), half.place.label, half.origin, half.part) == (
        "J1",
        "a.yaml:4:3",
        "J1",
        Origin.AIRFRAME,
        "M24308/2-2",
    )
    assert (half.name, half.zone, half.mating, half.fitted, half.marking, half.route, half.note) == (
        "nose",
        "Z",
        "M",
        "aircraft",
        "band",
        "R",
        "n",
    )
    assert half.names == tuple(map(str, range(1, 16)))
    assert list(half.cavities) == [*map(str, range(1, 16)), "16"]  # the insert's, then what it has not
    assert {half.cavities[str(number)].use for number in (1, *range(3, 16))} == {Use.UNKNOWN}
    assert half.cavities["1"].place.where() == "a.yaml:4:3"
    assert {name: fact.value for name, fact in half.facts.items()} == {
        "family": "D-sub",
        "insert": "DA-15",
        "gender": "pin",
        "style": "receptacle",
        "shell": "2",
        "sealed": "yes",
    }
    stated = half.facts["gender"].source
    assert (stated.document, stated.status, stated.paragraph) == ("a.yaml", Status.STATED, "J1 gender")
    assert half.facts["style"].source.status is Status.MEMORY


def test_without_an_insert_the_cavities_are_those_mentioned_and_wired() -> None:
    harness = airframe(
        "connectors:\n  P1: {family: mine, sealed: no, cavities: {3: spare}}\n  P2: {insert: unheard-of}\n"
        "  P3: {insert: 9-35}\n"
        "wires: {W1: {from: P1-9, to: P2-1}, W2: {from: P1-2, to: SP1}, W3: {from: P3-9, to: SP1}}\n"
        "splices: {SP1: {}}\n"
    )
    one, two, three = (harness.connectors[ref] for ref in ("P1", "P2", "P3"))
    assert (one.names, list(one.cavities), one.part) == (None, ["3", "9", "2"], None)
    assert {name: fact.value for name, fact in one.facts.items()} == {"family": "mine", "sealed": "no"}
    assert (two.names, list(two.cavities)) == (None, ["1"])
    # A cavity that the insert has not is no cavity for being wired: the checks say so.
    assert (three.names, list(three.cavities)) == (tuple("123456"), list("123456"))


def test_what_is_stated_against_a_firm_part_is_refused_and_repeating_it_is_not() -> None:
    source = "source: MIL-DTL-38999"
    text = "connectors:\n  P1:\n    part: D38999/26WA98SN\n    gender: {}\n    key: N\n    sealed: no\n    name: x\n"
    assert airframe(text.format("socket")).connectors["P1"].facts["gender"].source.status is Status.STATED
    harness = open_drawer().get("connector", "D38999/26WA98SN")
    assert harness is not None
    fact = harness.fact("gender")
    assert fact is not None and "38999" in str(fact.source), source
    check_airframe(
        text.format("§pin"),
        (
            "gender pin is stated, but D38999/26WA98SN has gender socket",
            f"correct the gender or the part number; source: {fact.source}",
        ),
    )


# -- references --------------------------------------------------------------------------------------------------------


def test_one_name_for_one_thing_in_the_whole_job() -> None:
    check_airframe(
        "connectors:\n  P1: {}\n  CB1: {}\nbreakers:\n  CB1: {}\nsplices:\n  §P1: {}\n".replace(
            "breakers:\n  CB1", "breakers:\n  §CB1"
        ),
        ("CB1 is used twice: first as connector at a.yaml:5:3", "give one of the two another name"),
        ("P1 is used twice: first as connector at a.yaml:4:3", "give one of the two another name"),
    )


def test_a_scope_knows_what_it_was_given_and_what_stands_round_it() -> None:
    outer = Scope()
    document = parse("a: b\n", "x.yaml")
    assert outer.add("P1", "connector", Place("P1", document, 1, 4)) == ""
    inner = Scope(outer)
    assert inner.add("SP1", "splice", Place("SP1", document, 1, 1)) == ""
    assert (
        inner.add("P1", "splice", Place("P1", document, 1, 1)) == "P1 is used twice: first as connector at x.yaml:1:4"
    )
    assert (inner.of("connector"), inner.of("splice", "connector"), inner.of("bus")) == (["P1"], ["P1", "SP1"], [])
    assert (inner.kinds, inner.first) == (
        {"P1": "connector", "SP1": "splice"},
        {"P1": "x.yaml:1:4", "SP1": "x.yaml:1:1"},
    )
    assert outer.kinds == {"P1": "connector"}, "what is added inside is not known outside"


def test_places_and_faults_by_the_way_through_the_keys() -> None:
    """The deepest key of the way that is there; text is shown where it stands, a block where its key stands."""
    build = Builder(parse("a:\n  b: text\n  c: {d: 1}\n", "x.yaml"), Origin.AIRFRAME, Scope(), open_drawer())
    ways = [(), ("a",), ("a", "b"), ("a", "c"), ("a", "c", "d"), ("a", "x"), ("a", "b", "x"), ("x", "a")]
    places = [build.place("L", *way) for way in ways]
    assert [(p.line, p.column, p.label) for p in places] == [
        (line, column, "L") for line, column in ((1, 1), (1, 1), (2, 3), (3, 3), (3, 7), (1, 1), (2, 3), (1, 1))
    ]
    for way in ways:
        build.fault("m", "r", *way)
    assert [(f.line, f.column) for f in build.faults] == [
        (1, 1),
        (1, 1),
        (2, 6),
        (3, 3),
        (3, 10),
        (1, 1),
        (2, 6),
        (1, 1),
    ]
    assert {(f.message, f.remedy, f.file) for f in build.faults} == {("m", "r", "x.yaml")}
    build.faults.clear()
    build.fault_at_key("m", "r", "a", "b")
    assert [(f.line, f.column, f.message, f.remedy, f.text) for f in build.faults] == [(2, 3, "m", "r", "  b: text")]


def test_what_is_said_of_a_name_that_is_none_of_these() -> None:
    build = Builder(parse("a: b\n", "x.yaml"), Origin.AIRFRAME, Scope(), open_drawer())
    assert not build.known("P1", ("connector", "splice"), "a")
    for number in range(14):
        build.scope.add(f"Q{number}zz", "connector", Place(""))
    build.scope.add("E1", "equipment", Place(""))
    build.scope.add("B1", "bus", Place(""))
    assert build.known("Q3zz", ("splice", "connector"), "a")
    assert not build.known("X", ("connector",), "a")
    assert not build.known("Q3z", ("connector",), "a", at_key=True)
    assert not build.known("E1", ("connector", "splice"), "a")
    assert not build.known("B1", ("equipment",), "a")
    assert [(f.column, f.message, f.remedy) for f in build.faults] == [
        (4, "nothing is called 'P1' (connector or splice)", "declare the connector or splice first"),
        (
            4,
            "nothing is called 'X' (connector)",
            "the connector names here are: " + ", ".join(f"Q{number}zz" for number in range(12)),
        ),
        (1, "nothing is called 'Q3z' (connector)", "did you mean Q3zz?"),
        (
            4,
            "E1 is an equipment, not a connector or splice",
            "the connector or splice names here are: " + ", ".join(f"Q{number}zz" for number in range(12)),
        ),
        (4, "B1 is a bus, not an equipment", "the equipment names here are: E1"),
    ]


ONE = "one half mates with one other"

# -- mates -------------------------------------------------------------------------------------------------------------


def test_mates_are_pairs_each_once() -> None:
    harness = airframe("connectors:\n  P1: {mates: J1}\n  J1: {mates: P1}\n  P2: {}\n  J2: {mates: P2}\n  P3: {}\n")
    assert [(m.a, m.b, m.place.label, m.place.where()) for m in harness.mates] == [
        ("P1", "J1", "P1/J1", "a.yaml:4:8"),
        ("J2", "P2", "J2/P2", "a.yaml:7:8"),
    ]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("  P1: {mates: J1}\n  P2: {mates: §J1}\n  J1: {}\n", ("J1 is already mated with P1", ONE)),
        ("  P1: {mates: J1}\n  J1: {mates: §P2}\n  P2: {}\n", ("J1 is already mated with P1", ONE)),
        ("  P1: {mates: §P1}\n", ("P1 cannot mate with itself", ONE)),
        ("  P1: {mates: §J9}\n  J8: {}\n", ("nothing is called 'J9' (connector)", "did you mean J8?")),
    ],
)  # fmt: skip
def test_mates_that_cannot_be(text: str, said: tuple[str, str]) -> None:
    check_airframe("connectors:\n" + text, said)


def test_after_a_mate_that_cannot_be_the_others_are_looked_at() -> None:
    said = "one half mates with one other"
    check_airframe(
        "connectors:\n  P1: {mates: §P1}\n  P2: {mates: §X}\n  P3: {mates: J3}\n  J3: {mates: P3}\n"
        "  J4: {mates: §P3}\n",
        ("P1 cannot mate with itself", said),
        ("nothing is called 'X' (connector)", "the connector names here are: P1, P2, P3, J3, J4"),
        ("P3 is already mated with J3", said),
    )
