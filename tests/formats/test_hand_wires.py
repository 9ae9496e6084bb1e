"""Wires as built from an airframe file: their ends, sizes and colours, and the faults of their references.

What is expected is counted in the texts below. M22759/16-22-9 is 22 AWG and white, MIL-STD-681 digit 9; cores of
M27500-22TG2T14 are 22 AWG (the 22 of the part number, MIL-DTL-27500).
"""

from __future__ import annotations

import pytest

from harnesscheck.connector import Origin
from harnesscheck.place import Point
from harnesscheck.units import Gauge
from tests.formats.marked import airframe, check_airframe

KNOWN = "connectors: {P1: {}, J1: {}}\nsplices: {SP1: {}}\ngrounds: {GS1: {}}\nbreakers: {CB1: {}}\nbuses: {BUS1: {}}\n"


@pytest.mark.parametrize(
    ("end", "remedy"),
    [("P1-1", ""), ("SP1", ""), ("GS1", ""), ("CB1-line", ""), ("CB1-load", ""), ("BUS1", ""), ("stowed", ""),
     ("P1", "P1 names a connector but no cavity|write P1-1, with the cavity after the dash"),
     ("CB1", "CB1 is not a breaker terminal|write CB1-line (bus side) or CB1-load"),
     ("CB1-Line", "CB1-Line is not a breaker terminal|write CB1-line (bus side) or CB1-load"),
     ("SP1-1", "SP1 is a splice and has no cavities|write SP1 alone"),
     ("GS1-1", "GS1 is a ground and has no cavities|write GS1 alone"),
     ("BUS1-1", "BUS1 is a bus and has no cavities|write BUS1 alone"),
     ("SP2-1", "nothing is called 'SP2' (connector or splice or ground or breaker or bus)|did you mean SP1?"),
     ],
)  # fmt: skip
def test_what_a_wire_may_end_at(end: str, remedy: str) -> None:
    for ends in (f"from: §{end}, to: J1-1", f"from: J1-1, to: §{end}"):
        text = f"{KNOWN}wires:\n  W1: {{{ends}}}\n"
        if remedy:
            message, _, do = remedy.partition("|")
            check_airframe(text, (message, do))
        else:
            wire = airframe(text).wires["W1"]
            want = Point("", "W1") if end == "stowed" else Point(*end.partition("-")[::2])
            assert (wire.a if ends.startswith("from: §") else wire.b) == want
            assert (wire.b if ends.startswith("from: §") else wire.a) == Point("J1", "1")


def test_a_wire_may_end_at_a_source_and_not_at_a_cavity_of_it() -> None:
    text = "sources: {GEN: {kind: generator}}\nsplices: {SP1: {}}\nwires: {W1: {from: §GEN, to: SP1}}\n"
    assert airframe(text).wires["W1"].a == Point("GEN")
    check_airframe(text.replace("GEN,", "GEN-1,"), ("GEN is a source and has no cavities", "write GEN alone"))


def test_a_wire_with_all_its_keys() -> None:
    wire = airframe(
        KNOWN + "cables: {CA: {length: 3 m, bundle: cb, route: R}}\nroutes: {R: {}, S: {}}\nwires:\n"
        "  W1: {from: P1-1, to: J1-1, type: M22759/16-22-9, length: 2 m, cable: CA, core: white, note: n, mark: m,\n"
        "    bundle: wb, route: S, untwisted: 20 mm, alloy: K}\n"
    ).wires["W1"]
    assert (wire.id, wire.a, wire.b, wire.origin) == ("W1", Point("P1", "1"), Point("J1", "1"), Origin.AIRFRAME)
    assert (wire.type, wire.gauge, wire.colour, wire.length) == ("M22759/16-22-9", Gauge(22), "9", 2.0)
    assert (wire.cable, wire.core, wire.note, wire.mark) == ("CA", "white", "n", "m")
    assert (wire.bundle, wire.route, wire.untwisted, wire.alloy) == ("wb", "S", 0.02, "K")
    assert wire.place.where() == "a.yaml:11:3"


def test_a_core_has_of_its_cable_what_it_does_not_say_itself() -> None:
    cable = "cables: {CA: {length: 3 m, bundle: cb, route: R}}\nroutes: {R: {}}\n"
    wires = airframe(
        f"{KNOWN}{cable}wires: {{W1: {{from: P1-1, to: J1-1, cable: CA}}, W2: {{from: P1-2, to: J1-2}}}}\n"
    )
    one, two = wires.wires["W1"], wires.wires["W2"]
    assert (one.length, one.bundle, one.route) == (3.0, "cb", "R")
    assert (two.length, two.bundle, two.route, two.gauge, two.colour, two.type) == (None,) * 6


def test_faults_of_a_wire() -> None:
    check_airframe(
        KNOWN + "wires:\n  W1: {from: P1-1, to: §P1-1}\n  W2: {from: P1-1, to: J1-1, cable: §CB}\n"
        "  W3: {from: §X-1, to: J1-2}\n",
        ("wire W1 ends where it starts, at P1-1", "correct one end"),
        ("there is no cable 'CB'", "declare it under cables:"),
        ("nothing is called 'X' (connector or splice or ground or breaker or bus)",
         "the connector or splice or ground or breaker or bus names here are: P1, J1, SP1, GS1, CB1, BUS1"),
    )  # fmt: skip
    check_airframe(
        KNOWN + "cables: {C1: {}, LONG: {}}\nwires:\n  W1: {from: P1-1, to: J1-1, cable: §C2}\n"
        "  W2: {from: P1-2, to: J1-2, cable: §zzz}\n",
        ("there is no cable 'C2'", "did you mean C1?"),
        ("there is no cable 'zzz'", "the cables are: C1, LONG"),
    )


@pytest.mark.parametrize(("said", "gauge", "colour"), [
    ("type: M22759/16-22-9", 22, "9"), ("type: M22759/16-22", 22, None), ("type: M22759/16-22-9, colour: '2'", 22, "2"),
    ("gauge: 20 AWG", 20, None), ("gauge: 20 AWG, colour: white", 20, "white"),
    ("type: M22759/16-22-9, gauge: 22 AWG", 22, "9"),
    ("type: mine, gauge: 18 AWG", 18, None), ("type: mine", None, None),
    ("cable: CA, core: white", 22, "white"), ("cable: CA", 22, None), ("cable: CA, core: shield", None, None),
    ("cable: CA, core: drain", None, None), ("cable: CA, core: drain, gauge: 24 AWG", 24, None),
    ("cable: CB, core: red", None, "red"), ("cable: CA, core: blue, colour: white", 22, "white"),
    ("cable: CA, core: shield, type: M22759/16-24-9", 24, "9"),
    ("cable: CA, type: M22759/16-24-9, core: white", 24, "9"),
    ("core: red", None, "red"), ("core: shield", None, None),
])  # fmt: skip
def test_size_and_colour_of_a_wire(said: str, gauge: int | None, colour: str | None) -> None:
    """By its own number, else by that of its cable (22 AWG here); a shield has none of its cable's cores."""
    text = (
        KNOWN
        + f"cables: {{CA: {{type: M27500-22TG2T14}}, CB: {{}}}}\nwires: {{W1: {{from: P1-1, to: J1-1, {said}}}}}\n"
    )
    wire = airframe(text).wires["W1"]
    assert (wire.gauge, wire.colour) == (None if gauge is None else Gauge(gauge), colour)


def test_a_contradiction_of_size_is_said_of_each_wire() -> None:
    """The last two say the same, and the first with the right size must not stand for them."""
    wires = "wires:\n  W0: {from: P1-9, to: J1-9, type: M22759/16-22-9, gauge: 22 AWG}\n"
    wires += "".join(f"  W{n}: {{from: P1-{n}, to: J1-{n}, type: M22759/16-22-9, gauge: §20 AWG}}\n" for n in (1, 2))
    wires += "  W3: {from: P1-3, to: J1-3, cable: CA, gauge: §20 AWG}\ncables: {CA: {type: M27500-22TG2T14}}\n"
    said = ("gauge 20 AWG is stated, but M22759/16-22-9 is 22 AWG", "correct the gauge or the type")
    check_airframe(
        KNOWN + wires,
        said,
        said,
        ("gauge 20 AWG is stated, but M27500-22TG2T14 is 22 AWG", "correct the gauge or the type"),
    )


def test_wires_alike_but_in_one_thing_are_not_taken_for_each_other() -> None:
    """What was worked out for one wire is kept for those that say the same: each of the five things counts."""
    said = ["type: M22759/16-22-9", "type: M22759/16-20-9", "gauge: 24 AWG", "colour: red", "core: red", "cable: CA",
            "cable: CA, core: shield", "cable: CB"]  # fmt: skip
    cables = "cables: {CA: {type: M27500-22TG2T14}, CB: {}}\n"
    lines = "".join(f"  W{n}: {{from: P1-{n}, to: J1-{n}, {what}}}\n" for n, what in enumerate([*said, *said], 1))
    found = [
        (str(w.gauge) if w.gauge else "", w.colour)
        for w in airframe(KNOWN + cables + "wires:\n" + lines).wires.values()
    ]
    want = [("22 AWG", "9"), ("20 AWG", "9"), ("24 AWG", None), ("", "red"), ("", "red"),
            ("22 AWG", None), ("", None), ("", None)]  # fmt: skip
    assert found == [*want, *want]
