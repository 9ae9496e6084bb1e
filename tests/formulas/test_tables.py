"""Tables of the formulas against the documents they were copied from, typed a second time from the document.

Where a value is the practice of the trade there is no document: its second typing stands here so that a slip shows.
"""

from __future__ import annotations

from dataclasses import fields

import pytest

from harnesscheck.formulas import (
    ampacity,
    can_bus,
    cut_length,
    gauge,
    labour,
    loading,
    matched_line,
    rs232,
    rs422,
    stub_length,
    voltage_drop,
    wire_resistance,
)  # fmt: skip
from harnesscheck.units import Gauge

# AC 43.13-1B Chg 1, Table 11-9 (p. 11-23): size, ohm per 1000 ft at 20 C (tin-plated), circular mils.
TABLE_11_9 = """
24 28.4 475
22 16.2 755
20 9.88 1216
18 6.23 1900
16 4.81 2426
14 3.06 3831
12 2.02 5874
10 1.26 9354
8 0.7 16983
6 0.44 26818
4 0.28 42615
2 0.18 66500
1 0.15 81700
0 0.12 104500
00 0.09 133000
000 0.07 166500
0000 0.06 210900
"""
# MIL-W-5088L bundle curves, a public digitisation: wires, factor at 20, 40, 60, 80 and 100 % of the bundle's capacity.
BUNDLE = """
1 1.0 1.0 1.0 1.0 1.0
2 0.9675 0.92 0.91 0.87 0.825
3 0.935 0.855 0.815 0.77 0.725
4 0.9075 0.805 0.75 0.705 0.66
5 0.875 0.76 0.695 0.65 0.61
6 0.85 0.725 0.655 0.605 0.5725
7 0.82 0.695 0.625 0.57 0.54
8 0.795 0.6675 0.595 0.5425 0.5125
9 0.775 0.645 0.575 0.52 0.485
10 0.755 0.6225 0.55 0.5 0.465
11 0.735 0.6 0.53 0.48 0.445
12 0.715 0.585 0.515 0.465 0.43
13 0.6975 0.5675 0.495 0.4475 0.415
14 0.685 0.5525 0.48 0.435 0.3975
15 0.67 0.54 0.465 0.42 0.385
16 0.6575 0.5275 0.455 0.41 0.37
17 0.645 0.515 0.4425 0.3975 0.36
18 0.635 0.505 0.4325 0.3875 0.35
19 0.625 0.495 0.4225 0.38 0.3425
20 0.615 0.485 0.413 0.371 0.335
"""
# The same curves carried on: f20 (20/N)^p with the local slope p, worked out apart, to three decimals.
CARRIED_ON = """
25 0.575 0.448 0.377 0.339 0.303
30 0.545 0.419 0.35 0.314 0.279
33 0.529 0.405 0.336 0.302 0.267
35 0.52 0.397 0.328 0.295 0.26
40 0.5 0.378 0.311 0.279 0.245
"""


def rows(text: str) -> list[list[str]]:
    return [line.split() for line in text.strip().splitlines()]


def size(name: str) -> int:
    """2/0 is -1."""
    return 1 - len(name) if name.startswith("00") else int(name)


def test_table_11_9() -> None:
    read = [(size(awg), float(ohms), int(mils)) for awg, ohms, mils in rows(TABLE_11_9)]
    assert {awg: ohms for awg, ohms, _ in read} == wire_resistance.TIN_COPPER
    assert {awg: mils for awg, _, mils in read} == wire_resistance.CIRCULAR_MILS
    for awg, ohms, _ in read:
        assert wire_resistance.per_metre(awg) == pytest.approx(ohms / 1000 / 0.3048, rel=1e-12)
    # 26 AWG: three wire catalogues, 19 strands of 38 AWG at 4.0 mils: 19 x 16 = 304.
    assert gauge.STRANDED == {**wire_resistance.CIRCULAR_MILS, 26: 304}
    for awg, _, mils in read:  # circular mils to square metres: pi/4 (25.4e-6 m)^2 each
        assert gauge.conductor_area(Gauge(awg=awg)) == pytest.approx(mils * 5.06707479e-10, rel=1e-8)


def test_bundle_curves() -> None:
    for number, *factors in rows(BUNDLE):
        for share, factor in zip((0.2, 0.4, 0.6, 0.8, 1.0), factors, strict=True):
            assert ampacity.bundle_factor(int(number), share) == pytest.approx(float(factor), abs=1e-12), number
            assert ampacity.bundle_source(int(number)) is ampacity.BUNDLE_SOURCE
    for number, *factors in rows(CARRIED_ON):
        for share, factor in zip((0.2, 0.4, 0.6, 0.8, 1.0), factors, strict=True):
            assert ampacity.bundle_factor(int(number), share) == pytest.approx(float(factor), abs=1.1e-3), number
    slopes = {p: (ampacity.bundle_factor(40, p) / ampacity.bundle_factor(20, p)) for p in (0.2, 0.4, 0.6, 0.8, 1.0)}
    # Twice as many wires: 2^-p; p as read off the last points of each curve.
    assert list(slopes.values()) == pytest.approx([2**-0.30, 2**-0.36, 2**-0.41, 2**-0.41, 2**-0.45], rel=1e-12)
    assert ampacity.bundle_factor(5, 0) == 0.875  # nothing in use: the lowest curve
    for wrong in ((0, 0.5), (1, -0.01), (1, 1.01)):
        with pytest.raises(ValueError, match="at least one wire"):
            ampacity.bundle_factor(*wrong)
    # AC 43.13-1B p. 11-27: 1.00 at sea level to 0.91 at 20,000 ft (6096 m); 0.79 at 60,000 ft.
    for feet, factor in ((0, 1.0), (10_000, 0.955), (20_000, 0.91), (21_000, 0.907), (40_000, 0.85), (60_000, 0.79)):
        assert ampacity.altitude_factor(feet * 0.3048) == pytest.approx(factor, abs=1e-9), feet
    assert ampacity.altitude_source(6096.0) is ampacity.ALTITUDE_SOURCE
    assert ampacity.altitude_source(6097.0) is ampacity.HIGH_ALTITUDE_SOURCE


def test_buses() -> None:
    # Two motion controllers' manuals; a maker's help on stubs; ISO 11898-2 as quoted by a transceiver data sheet (0.3 m
    # of stub and 40 m at 1 Mbit/s, 95 to 140 ohm); an engine manual on J1939 (40 m, stub 1 m).
    assert can_bus.LENGTHS == {
        10_000: 5000.0, 20_000: 2500.0, 50_000: 1000.0, 125_000: 500.0, 250_000: 250.0, 500_000: 100.0, 800_000: 50.0,
        1_000_000: 25.0,
    }  # fmt: skip
    assert stub_length.CAN_BY_RATE == {
        50_000: (55.0, 275.0), 125_000: (22.0, 110.0), 250_000: (11.0, 55.0), 500_000: (5.5, 27.5),
        800_000: (2.5, 12.5), 1_000_000: (1.5, 7.5),
    }  # fmt: skip
    assert (stub_length.CAN_STUB, stub_length.J1939_STUB) == (0.3, 1.0)
    assert (can_bus.ISO_LENGTH, can_bus.J1939_LENGTH, can_bus.EFIS_LENGTH) == (40.0, 40.0, 20.0)
    assert (can_bus.NODES, can_bus.TERMINATORS, can_bus.TERMINATOR) == (30, 2, 120.0)
    assert can_bus.IMPEDANCE == (95.0, 140.0) and can_bus.DRIVEN == (45.0, 70.0)
    # TIA-422-B: 10 receivers of at least 4 kohm; TIA-485-A: 32 unit loads of 12 kohm; TIA-232-F: point to point.
    assert (rs422.RECEIVERS, rs422.RECEIVER, rs422.UNIT_LOADS, rs422.UNIT_LOAD) == (10, 4000.0, 32.0, 12_000.0)
    assert (rs422.TERMINATORS_422, rs422.TERMINATORS_485, rs422.WITHIN) == (1, 2, (80.0, 144.0))
    assert (rs232.RECEIVERS, rs232.LEAST_LOAD, rs232.DRIVEN, rs232.THRESHOLD) == (1, 3000.0, 5.0, 3.0)
    assert pytest.approx(2.5e-9, rel=1e-12) == rs232.CAPACITANCE
    # Half a per cent of the reading, common practice.
    assert loading.LOADING == 0.005
    # Video is 1 V into one 75 ohm load from a 75 ohm source of 2 V; two loads in parallel are 37.5 ohm: 2/3 V.
    assert matched_line.video_level(1) == pytest.approx(1.0) and matched_line.video_level(2) == pytest.approx(2 / 3)


def test_voltage_drop() -> None:
    """AC 43.13-1B Table 11-6: 0.5 V at 14 V, 1 V at 28 V, 4 V at 115 V, 7 V at 200 V; for two minutes twice that."""
    assert voltage_drop.CONTINUOUS == {14.0: 0.5, 28.0: 1.0, 115.0: 4.0, 200.0: 7.0}
    assert voltage_drop.INTERMITTENT == {14.0: 1.0, 28.0: 2.0, 115.0: 8.0, 200.0: 14.0}


def test_practice_of_the_trade() -> None:
    """No document: what each is, in millimetres and seconds."""
    taken = {kind: round(metres * 1000) for kind, (metres, _) in cut_length.DEFAULTS.items()}
    assert taken == {"connector": 40, "splice": 10, "stud": 40, "round up to": 5}
    seconds = {task: each for task, (each, _) in labour.RATES.items()}
    assert seconds == {
        "set-up": 30 * 60, "cut": 60, "label": 45, "strip": 20, "crimp": 40, "insert": 30, "plug": 15, "splice": 6 * 60,
        "shield": 8 * 60, "ring-out": 60, "site set-up": 60 * 60, "site insert": 2 * 60, "mate": 5 * 60,
        "route": 40 * 60, "function check": 15 * 60,
    }  # fmt: skip
    words = {
        "set-up": "batch", "cut": "measured and cut", "label": "mark", "strip": "stripped", "crimp": "crimped",
        "insert": "inserted and tugged", "plug": "sealing plug", "splice": "shrunk", "shield": "drain",
        "ring-out": "row", "site set-up": "power off", "site insert": "in the aircraft", "mate": "locked",
        "route": "metre", "function check": "disturbed",
    }  # fmt: skip
    assert all(words[task] in said for task, (_, said) in labour.RATES.items())


def test_sizes_are_compared_by_area_where_one_is_metric() -> None:
    """0.5 mm2 against 20 AWG (1216 cmil = 0.6162 mm2) and 22 AWG (755 cmil = 0.3826 mm2)."""
    assert [f.name for f in fields(Gauge)] == ["awg", "mm2"]
    half, same, near = Gauge(mm2=0.5), Gauge(mm2=0.3826), Gauge(mm2=0.384)
    assert [gauge.compare(half, Gauge(awg=n)) for n in (24, 22, 20)] == [1, 1, -1]
    assert [gauge.compare(Gauge(awg=n), half) for n in (24, 22, 20)] == [-1, -1, 1]
    assert gauge.compare(same, Gauge(awg=22)) == 0 == gauge.compare(Gauge(awg=22), same)
    assert gauge.compare(near, Gauge(awg=22)) == 1 and gauge.compare(half, Gauge(mm2=0.5)) == 0
    assert gauge.compare(Gauge(mm2=0.5), Gauge(mm2=0.5001)) == -1
