"""Keys of signal lines in the files: what is refused, with place and remedy, and what a value becomes.

Expected values are by definition of the unit prefixes; sentences are typed by hand.
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

import harnesscheck as hc

AIRFRAME = """\
kind: airframe
title: Keys of a signal line
circuits:
  LINE: {{signal: {circuit}}}
connectors:
  P1: {{insert: DE-9, mates: J1, cavities: {{1: LINE}}}}
  J1: {{insert: DE-9}}
"""
BOX = """\
kind: equipment
title: Keys of a pin
connectors:
  J1: {{insert: 9-35, pins: {{1: {{function: PIN, signal: analogue, {pin}}}}}}}
"""


def circuit(folder: Path, text: str) -> object:
    (folder / "airframe.yaml").write_text(AIRFRAME.format(circuit=text), encoding="utf-8")
    return hc.load(folder / "airframe.yaml").subject.circuits["LINE"]


def pin(folder: Path, text: str) -> object:
    (folder / "box.yaml").write_text(BOX.format(pin=text), encoding="utf-8")
    return next(hc.load(folder / "box.yaml").subject.pins())


@pytest.mark.parametrize(
    ("text", "key", "value"),
    [
        ("can, rate: 500 kbit/s", "rate", 500_000.0),
        ("can, rate: 1 Mbit/s", "rate", 1e6),
        ("rs232, rate: 9600 bit/s", "rate", 9600.0),
        ("rs485, edge: 50 ns", "edge", 50e-9),
        ("arinc429, edge: 1.5 us", "edge", 1.5e-6),
        ("pulse, pull-up: 2.2 kohm", "pull_up", 2200.0),
        ("pulse, pull-up: none", "pull_up", math.inf),
        ("rs485, unit load: 0.125", "unit_load", 0.125),
        ("can, bus length: 12 ft", "bus_length", 3.6576),
        ("can, terminators: 2", "terminators", 2),
        ("can, kind: J1939", "kind", "J1939"),
        ("can, stub length: 90 cm", "stub_length", 0.9),
        ("can, stub length: none", "stub_length", 0.0),
        ("can", "rate", None),
        ("can", "stub_length", None),
    ],
)
def test_a_value_of_a_circuit(tmp_path: Path, text: str, key: str, value: object) -> None:
    assert getattr(circuit(tmp_path, text), key) == value


@pytest.mark.parametrize(
    ("text", "key", "value"),
    [
        ("input resistance: 1 Mohm", "input_resistance", 1e6),
        ("terminator: none", "terminator", math.inf),
        ("terminator: 120 ohm, terminator state: off", "terminator_state", "off"),
        ("isolated: no", "isolated", False),
        ("rate: 38.4 kbit/s", "rate", 38_400.0),
        ("required: no", "isolated", None),
    ],
)
def test_a_value_of_a_pin(tmp_path: Path, text: str, key: str, value: object) -> None:
    assert getattr(pin(tmp_path, text), key) == value


@pytest.mark.parametrize(
    ("text", "message", "remedy"),
    [
        ("can, rate: 500", "the unit is missing", "500 kbit/s"),
        ("can, rate: 500 kBd", "unit 'kBd' is not one of bit/s, kbit/s, Mbit/s", "500 kbit/s"),
        ("can, rate: 0 bit/s", "a data rate is above zero", "500 kbit/s"),
        ("rs485, edge: 50", "the unit is missing", "50 ns"),
        ("rs485, unit load: 1/8", "this is not a number above zero", "0.125"),
        ("pulse, pull-up: 2k2", "unit 'k2' is not one of", "ohm"),
        ("can, topology: ring", "'ring'", "line"),
        ("can, kind: mic", "kind mic does not belong to can", "audio: mic or phones or line"),
        ("thermocouple, alloy: X", "'X'", "K"),
        ("can, stub length: 0 m", "a length is above zero", "1.2 m, or none"),
        ("can, stub length: 3", "the unit is missing", "1.2 m, or none"),
        ("can, terminator: 0 ohm", "a resistance is above zero", "120 ohm"),
    ],
)
def test_a_slip_is_refused_with_its_place(tmp_path: Path, text: str, message: str, remedy: str) -> None:
    with pytest.raises(hc.InputError) as caught:
        circuit(tmp_path, text)
    said = str(caught.value)
    assert "airframe.yaml:4:" in said
    assert message in said
    assert remedy in said
