"""Cables, splices, zones, routes, circuits and power of an airframe file, and what is refused in them.

Places, words and values are counted in the texts; keys and words are those of docs/file-format.md.
"""

from __future__ import annotations

from dataclasses import astuple

import pytest

from harnesscheck.circuit import Circuit
from harnesscheck.connector import Origin
from harnesscheck.units import Range
from tests.formats.marked import airframe, check_airframe

AIR = Origin.AIRFRAME


def test_a_cable_and_a_splice_with_all_their_keys() -> None:
    harness = airframe(
        "connectors: {J1: {}}\nzones: {Z: {}}\nroutes: {R: {}}\ncables:\n"
        "  CA: {type: M27500-22TG2T14, length: 2 m, bundle: b, route: R, note: n}\n  CB: {}\n"
        "splices:\n  SP1: {part: S, zone: Z, at: 90 mm from J1, fitted: aircraft, note: m}\n  SP2: {}\n"
    )
    one, two = harness.cables["CA"], harness.cables["CB"]
    assert (one.id, one.place.label, one.place.where(), one.origin) == ("CA", "CA", "a.yaml:7:3", AIR)
    assert (one.type, one.length, one.bundle, one.route, one.note) == ("M27500-22TG2T14", 2.0, "b", "R", "n")
    assert (two.type, two.length, two.bundle, two.route, two.note) == (None, None, None, None, "")
    first, second = harness.splices["SP1"], harness.splices["SP2"]
    assert (first.ref, first.place.label, first.place.where(), first.origin) == ("SP1", "SP1", "a.yaml:10:3", AIR)
    assert (first.part, first.zone, first.fitted, first.at, first.at_ref, first.note) == (
        "S", "Z", "aircraft", 0.09, "J1", "m",
    )  # fmt: skip
    assert (second.part, second.zone, second.fitted, second.at, second.at_ref, second.note) == (
        None, None, "bench", None, None, "",
    )  # fmt: skip


def test_a_splice_stands_along_the_bundle_of_a_connector() -> None:
    check_airframe(
        "connectors: {J1: {}}\nsplices:\n  SP1: {at: §90 mm from J2}\n  SP2: {at: §9 mm from SP1}\n",
        ("nothing is called 'J2' (connector)", "did you mean J1?"),
        ("SP1 is a splice, not a connector", "the connector names here are: J1"),
    )


def test_one_name_for_a_wire_and_a_cable() -> None:
    check_airframe(
        "splices: {SP1: {}, SP2: {}}\nwires: {W1: {from: SP1, to: SP2}}\ncables: {W2: {}, §W1: {}}\n",
        ("W1 is both a wire and a cable", "give one of the two another name"),
    )


def test_pins_are_for_equipment() -> None:
    check_airframe(
        "connectors:\n  J1:\n    §pins: {1: {function: f, signal: none}}\n  J2: {}\n",
        ("pins: belongs in an equipment file", "list the circuits under cavities:"),
    )


GEO = (
    "connectors: {{J1: {{zone: {0}, route: {1}}}}}\nsplices: {{SP1: {{zone: {0}}}, SP2: {{}}}}\n"
    "wires: {{W1: {{from: SP1, to: SP2, route: {1}}}}}\ncables: {{CA: {{route: {1}}}}}\n"
)


def test_zones_and_routes_that_are_listed() -> None:
    text = GEO.format("nose", "run") + "zones: {tail: {}, nose: {}}\nroutes: {run: {}}\n"
    assert airframe(text).connectors["J1"].zone == "nose"
    # No zones listed: a zone is a word then. A route gives lengths, so it has to be listed.
    assert airframe("connectors: {J1: {zone: anywhere}}\nsplices: {SP1: {zone: there}}\n").connectors["J1"].zone
    zone = ("there is no zone 'nosw'", "did you mean nose?")
    route = ("there is no route 'rub'", "did you mean run?")
    check_airframe(
        GEO.format("§nosw", "§rub") + "zones: {nose: {}}\nroutes: {run: {}}\n", zone, route, zone, route, route
    )
    route = ("there is no route 'zzzzzz'", "declare it under routes: in the airframe file")
    check_airframe(GEO.format("nose", "§zzzzzz") + "zones: {nose: {}}\n", route, route, route)
    zone = ("there is no zone 'zzzzzz'", "declare it under zones: in the airframe file")
    check_airframe(GEO.format("§zzzzzz", "run") + "zones: {nose: {}}\nroutes: {run: {}}\n", zone, zone)


def test_zones_routes_and_grounds_with_all_their_keys() -> None:
    harness = airframe(
        "zones:\n  Z: {wet: yes, ambient: -40 C to 60 C, altitude: 3000 m, arm: 2.1 m}\n  Y: {}\n"
        "routes:\n  R: {length: 2 m, passages: {rib: 12 mm}, bend: 50 mm, zone: Z}\n  S: {}\n"
        "grounds:\n  GS1: {name: nose, returns: dc, terminals: 3, bond: 2.5 mohm, note: n}\n  GS2: {}\n"
    )
    one, two = harness.zones["Z"], harness.zones["Y"]
    assert (one.name, one.place.where(), one.place.label) == ("Z", "a.yaml:4:3", "Z")
    assert (one.wet, one.ambient, one.altitude, one.arm) == (True, Range(-40, 60), 3000.0, 2.1)
    assert (two.wet, two.ambient, two.altitude, two.arm) == (None, None, None, None)
    run, other = harness.routes["R"], harness.routes["S"]
    assert (run.name, run.place.where(), run.place.label) == ("R", "a.yaml:7:3", "R")
    assert (run.length, dict(run.passages), run.bend, run.zone) == (2.0, {"rib": 0.012}, 0.05, "Z")
    assert (other.length, dict(other.passages), other.bend, other.zone) == (None, {}, None, None)
    stud, bare = harness.grounds["GS1"], harness.grounds["GS2"]
    assert (stud.ref, stud.place.where(), stud.place.label, stud.origin) == ("GS1", "a.yaml:10:3", "GS1", AIR)
    assert (stud.name, stud.note, stud.returns, stud.terminals, stud.bond) == ("nose", "n", "dc", 3, 0.0025)
    assert (bare.name, bare.note, bare.returns, bare.terminals, bare.bond) == ("", "", None, None, None)


# -- circuits ----------------------------------------------------------------------------------------------------------


def test_a_circuit_with_all_its_keys() -> None:
    said = {
        "signal": ("audio", "audio"), "line": ("H", "H"), "supply": ("28 V", 28.0), "breaker": ("CB1", "CB1"),
        "pair": ("p", "p"), "shields": ("s", "s"), "shield ends": ("one", "one"), "redundant": ("B", "B"),
        "kind": ("mic", "mic"), "rate": ("500 kbit/s", 5e5), "edge": ("50 ns", 5e-8), "drivers": ("1", 1),
        "receivers": ("2", 2), "most receivers": ("3", 3), "unit load": ("0.125", 0.125),
        "input resistance": ("4 ohm", 4.0), "source resistance": ("5 ohm", 5.0), "driver current": ("6 A", 6.0),
        "rating": ("7 A", 7.0), "terminators": ("2", 2), "terminator": ("120 ohm", 120.0), "bus length": ("8 m", 8.0),
        "stub length": ("9 m", 9.0), "topology": ("star", "star"), "pull-up": ("10 ohm", 10.0),
        "pull-up supply": ("5 V", 5.0), "alloy": ("K", "K"), "load": ("11 A", 11.0), "peak": ("12 A", 12.0),
        "duty": ("intermittent", "intermittent"), "phases": ("[climb, cruise]", ("climb", "cruise")),
        "returns": ("GS1", "GS1"), "note": ("n", "n"),
    }  # fmt: skip
    typed = "".join(f"    {key}: {text}\n" for key, (text, _) in said.items())
    text = f"breakers: {{CB1: {{}}}}\ngrounds: {{GS1: {{}}}}\ncircuits:\n  A:\n{typed}  B: {{phases: []}}\n  C: {{}}\n"
    harness = airframe(text)
    found = harness.circuits["A"]
    for key, (_, value) in said.items():
        assert getattr(found, key.replace(" ", "_").replace("-", "_")) == value, key
    assert (found.name, found.place.label, found.place.where()) == ("A", "A", "a.yaml:6:3")
    assert len(astuple(found)) == len(said) + 2, "every field but name and place is in the table above"
    assert (harness.circuits["B"].phases, harness.circuits["C"].phases) == ((), None)
    assert harness.circuits["C"] == Circuit("C", harness.circuits["C"].place)


@pytest.mark.parametrize(
    ("signal", "kind", "what"),
    [("signal: audio, ", "voltage", "audio"), ("signal: power, ", "mic", "power"),
     ("", "mic", "a circuit without a signal class")],
)  # fmt: skip
def test_a_kind_belongs_to_its_signal_class(signal: str, kind: str, what: str) -> None:
    """The classes that have kinds are those of circuit.KINDS, in that order."""
    check_airframe(
        f"circuits: {{A: {{{signal}kind: §{kind}}}}}\n",
        (
            f"kind {kind} does not belong to {what}",
            "correct signal: or kind:; analogue: voltage or resistive; audio: mic or phones or line; "
            "discrete: ground or supply; can: ISO 11898-2 or ARINC 825 or J1939",
        ),
    )


@pytest.mark.parametrize(
    ("back", "remedy"),
    [
        ("B1", ""),
        ("GS1", ""),
        ("A1", "did you mean B1?"),
        ("GS2", "did you mean GS1?"),
        ("zzzzzz", "name the circuit or the stud by which the current comes back"),
    ],
)
def test_what_a_circuit_comes_back_by(back: str, remedy: str) -> None:
    text = f"circuits: {{A1: {{returns: §{back}}}, B1: {{}}}}\ngrounds: {{GS1: {{}}}}\n"
    if remedy:
        check_airframe(text, (f"'{back}' is no other circuit and no ground stud of the airframe", remedy))
    else:
        assert airframe(text).circuits["A1"].returns == back


def test_a_circuit_has_a_breaker_that_is_one() -> None:
    check_airframe(
        "breakers: {CB1: {}}\nbuses: {BUS1: {}}\ncircuits: {A: {breaker: §CB2}, B: {breaker: §BUS1},\n"
        "  C: {breaker: CB1}}\n",
        ("nothing is called 'CB2' (breaker)", "did you mean CB1?"),
        ("BUS1 is a bus, not a breaker", "the breaker names here are: CB1"),
    )


def test_circuits_of_the_pin_map_where_none_are_listed() -> None:
    """The first cavity that names a circuit says what it is; one that says nothing of it contradicts nothing."""
    circuits = airframe(
        "connectors:\n  J1:\n    cavities:\n      1: {circuit: A, signal: can}\n      2: {circuit: A}\n      3: spare\n"
        "      4: {circuit: B, breaker: CB1}\n      5: {circuit: B, signal: power}\n"
        "      6: {circuit: A, signal: can}\n"
        "breakers: {CB1: {}}\n"
    ).circuits
    assert list(circuits) == ["A", "B"]
    assert [(c.signal, c.breaker, c.place.where(), c.place.label) for c in circuits.values()] == [
        ("can", None, "a.yaml:6:7", "A"),
        (None, "CB1", "a.yaml:9:7", "B"),
    ]


def test_what_cavities_say_against_the_list_of_circuits() -> None:
    check_airframe(
        "breakers: {CB1: {}}\ncircuits: {CAN H: {signal: can}, LAMP: {}}\nconnectors:\n  J1:\n    cavities:\n"
        "      1: §CAN L\n      §2: {circuit: CAN H, signal: power}\n      3: {circuit: LAMP, signal: power}\n"
        "      §4: {circuit: LAMP, breaker: CB2}\n      5: {circuit: CAN H, signal: can, breaker: CB1}\n"
        "      6: §zzzzzz\n      7: zzzzzz\n",
        ("circuit 'CAN L' is not listed under circuits:", "did you mean CAN H?"),
        (
            "CAN H is can elsewhere and power here",
            "state the signal once, one of: power, ground, shield, discrete, analogue, signal ground, thermocouple, "
            "can, rs232, rs422, rs485, arinc429, nmea0183, ethernet, video, rf, audio, pulse, ignition, lighting, none",
        ),
        ("nothing is called 'CB2' (breaker)", "did you mean CB1?"),
        ("circuit 'zzzzzz' is not listed under circuits:", "add it under circuits:"),
    )


# -- power -------------------------------------------------------------------------------------------------------------


def test_power_with_all_its_keys() -> None:
    harness = airframe(
        "buses:\n  BUS1: {name: main, supply: 28 V}\n  BUS2: {}\n"
        "breakers:\n  CB1: {name: probe, rating: 5 A, bus: BUS1, resistance: 10 mohm}\n  CB2: {}\n"
        "sources:\n  GEN: {kind: generator, name: left, bus: BUS1, supply: 28 V, low: 26 V, high: 29 V,\n"
        "    abnormal: 6 V to 33 V, rating: 60 A, capacity: 18 Ah, usable: 75 %}\n  BAT: {kind: battery}\n"
        "loads:\n  pump: {bus: BUS1, breaker: CB1, current: 2 A, peak: 4 A, duty: intermittent, \n"
        "    phases: [climb, taxi]}\n"
        "  fan: {}\n"
    )
    places = [
        (thing.place.label, thing.place.where())
        for table in (harness.buses, harness.breakers, harness.sources, harness.loads)
        for thing in table.values()
    ]
    assert places == [
        ("BUS1", "a.yaml:4:3"), ("BUS2", "a.yaml:5:3"), ("CB1", "a.yaml:7:3"), ("CB2", "a.yaml:8:3"),
        ("GEN", "a.yaml:10:3"), ("BAT", "a.yaml:12:3"), ("pump", "a.yaml:14:3"), ("fan", "a.yaml:16:3"),
    ]  # fmt: skip
    bus, dead = harness.buses.values()
    assert (bus.ref, bus.origin, bus.name, bus.volts, dead.name, dead.volts) == ("BUS1", AIR, "main", 28.0, "", None)
    one, two = harness.breakers.values()
    assert (one.ref, one.origin, one.name, one.rating, one.bus, one.resistance) == (
        "CB1", AIR, "probe", 5.0, "BUS1", 0.01,
    )  # fmt: skip
    assert (two.name, two.rating, two.bus, two.resistance) == ("", None, None, None)
    gen, bat = harness.sources.values()
    assert (gen.ref, gen.origin, gen.kind, gen.name, gen.bus) == ("GEN", AIR, "generator", "left", "BUS1")
    assert (gen.supply, gen.low, gen.high, gen.abnormal) == (28.0, 26.0, 29.0, Range(6, 33))
    assert (gen.rating, gen.capacity, gen.usable) == (60.0, 18.0, 0.75)
    assert (bat.kind, bat.name, bat.bus, bat.low, bat.usable) == ("battery", "", None, None, None)
    pump, fan = harness.loads.values()
    assert (pump.name, pump.bus, pump.breaker, pump.current, pump.peak) == ("pump", "BUS1", "CB1", 2.0, 4.0)
    assert (pump.duty, pump.phases) == ("intermittent", ("climb", "taxi"))
    assert (fan.bus, fan.breaker, fan.current, fan.peak, fan.duty, fan.phases) == (
        None, None, None, None, "continuous", None,
    )  # fmt: skip


def test_what_power_hangs_on_must_be_there() -> None:
    bus, breaker = "nothing is called 'BUS9' (bus)", "nothing is called 'CB9' (breaker)"
    check_airframe(
        "buses: {BUS1: {}}\nbreakers: {CB1: {bus: §BUS9}}\nsources: {GEN: {kind: battery, bus: §BUS9}}\n"
        "loads: {pump: {bus: §BUS9, breaker: §CB9}, fan: {bus: BUS1, breaker: CB1},\n"
        "  heat: {bus: §CB1, breaker: §BUS1}}\n",
        (bus, "did you mean BUS1?"),
        (bus, "did you mean BUS1?"),
        (bus, "did you mean BUS1?"),
        (breaker, "did you mean CB1?"),
        ("CB1 is a breaker, not a bus", "the bus names here are: BUS1"),
        ("BUS1 is a bus, not a breaker", "the breaker names here are: CB1"),
    )


@pytest.mark.parametrize(
    ("said", "message"),
    [
        ("low: 26 V, supply: 28 V, high: 29 V", ""),
        ("low: 28 V, supply: 28 V, high: 28 V", ""),
        ("low: 28.5 V, supply: §28 V, high: 29 V", "low 28.5 V is more than supply 28 V"),
        ("low: 26 V, supply: 28 V, high: §27 V", "supply 28 V is more than high 27 V"),
        ("low: 28 V, high: §27 V", "low 28 V is more than high 27 V"),
        ("supply: 28 V, high: §27 V", "supply 28 V is more than high 27 V"),
        ("low: 28 V, supply: §27 V", "low 28 V is more than supply 27 V"),
        ("low: 28 V", ""),
        ("high: 27 V", ""),
    ],
)
def test_volts_of_a_source_stand_in_rising_order(said: str, message: str) -> None:
    text = f"sources: {{GEN: {{kind: generator, {said}}}}}\n"
    if message:
        check_airframe(text, (message, "low, supply and high stand in rising order"))
    else:
        assert airframe(text).sources["GEN"].kind == "generator"
