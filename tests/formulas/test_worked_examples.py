"""Worked examples of documents against the formulas of this project, and the errata among them.

The data are in worked_examples.yaml. Each example names its document; ``expected`` is the product of the stated
inputs, and where a document prints something else the row is an erratum: recorded in docs/errata.md, and tested to
stay one. Nothing here is computed from the text of the example: every number goes through the function that ``by:``
names.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from harnesscheck.checks import missing_spare_contacts, missing_wire_mark, overfull_splice, tight_bend
from harnesscheck.formulas import ampacity, bundle, gauge, short_circuit, voltage_drop, wire_resistance
from harnesscheck.parts.loader import open_drawer
from harnesscheck.parts.values import MILS
from harnesscheck.units import Gauge

HERE = Path(__file__).parent
EXAMPLES: list[dict[str, Any]] = YAML(typ="safe").load((HERE / "worked_examples.yaml").read_text(encoding="utf-8"))
ERRATA = (HERE.parents[1] / "docs" / "errata.md").read_text(encoding="utf-8")
FOOT = wire_resistance.FOOT
Answers = dict[str, float]


def drop_of_a_run(awg: int, feet: float, amps: float, ohms_per_foot: float, limit: float | None = None) -> Answers:
    each = wire_resistance.per_metre(awg)
    assert each * FOOT == pytest.approx(ohms_per_foot, rel=1e-9)  # the drawer's table is the one the AC works with
    volts = voltage_drop.drop(each * feet * FOOT, amps)
    if limit is not None:
        assert volts <= limit
        assert voltage_drop.longest_run(each, amps, limit) >= feet * FOOT
    return {"volts": volts}


def size_for_a_run(feet: float, amps: float, nominal: float) -> Answers:
    limit = voltage_drop.allowed(nominal)
    assert limit == 1.0

    def volts(awg: int) -> float:
        return voltage_drop.drop(wire_resistance.per_metre(awg) * feet * FOOT, amps)

    thinnest = max(awg for awg in wire_resistance.TIN_COPPER if volts(awg) <= limit)
    return {"awg": thinnest, "ohms_per_thousand_feet": voltage_drop.longest_run(1 / 1000, amps, limit) / feet,
            "volts_10": volts(10), "volts_8": volts(8)}  # fmt: skip


def most_in_a_bundle(
    awg: int, rating: float, ambient: float, feet: float, wires: int, share: float, free_air: float, bundle: float
) -> Answers:
    cmil, rise, metres = wire_resistance.CIRCULAR_MILS[awg], rating - ambient, feet * FOOT
    altitude = ampacity.altitude_factor(metres)
    assert ampacity.free_air(cmil, rise) == pytest.approx(free_air, rel=0.02)
    own = ampacity.allowed(cmil, rise, wires, share, metres)
    other_order = altitude * ampacity.bundle_factor(wires, share) * ampacity.free_air(cmil, rise)
    assert own == pytest.approx(other_order)  # the AC: the order of the factors does not matter
    return {"altitude": altitude, "bundle": ampacity.bundle_factor(wires, share), "amps": own,
            "amps_as_read": free_air * altitude * bundle}  # fmt: skip


def hot_run(ambient: float, rating: float, amps: float, most: float, feet: float) -> Answers:
    celsius = voltage_drop.conductor_temperature(ambient, rating, amps, most)
    balance = voltage_drop.conductor_temperature_balance(ambient, rating, amps, most)
    assert balance < celsius  # the AC calls its own formula quite conservative
    return {"celsius": celsius, "feet": voltage_drop.hot_run(feet, celsius), "balance": balance}


def mixed_bundle(
    size_20: int, size_22: int, rating: float, ambient: float, feet: float, loaded: int, bundle: float,
    free_air_20: float, free_air_22: float,
) -> Answers:  # fmt: skip
    mils, rise, count = wire_resistance.CIRCULAR_MILS, rating - ambient, size_20 + size_22
    share, altitude = loaded / count, ampacity.altitude_factor(feet * FOOT)
    own = {awg: ampacity.allowed(mils[awg], rise, count, share, feet * FOOT) for awg in (20, 22)}
    whole = size_20 * own[20] + size_22 * own[22]
    return {
        "altitude": altitude, "share": share, "bundle": ampacity.bundle_factor(count, share),
        "amps_20_as_read": free_air_20 * bundle * altitude, "amps_22_as_read": free_air_22 * bundle * altitude,
        "amps_20": own[20], "amps_22": own[22], "harness": whole, "harness_limit": share * whole,
    }  # fmt: skip


def awg_size(awg: int, conductivity: float) -> Answers:
    area = gauge.area(Gauge(awg=awg))
    return {"mm": gauge.awg_diameter(awg) * 1e3, "mm2": area * 1e6, "circular_mils": area / MILS["cmil"],
            "ohms_per_km": 1000 / (conductivity * area)}  # fmt: skip


def awg_steps() -> Answers:
    return {
        "six_steps_diameter": gauge.awg_diameter(16) / gauge.awg_diameter(22),
        "three_steps_area": gauge.area(Gauge(awg=19)) / gauge.area(Gauge(awg=22)),
        "inches_4_0": gauge.awg_diameter(-3) / 0.0254,
    }


def melting_current(circular_mils: float, ambient: float, seconds: float) -> Answers:
    return {"amps": short_circuit.fusing_current(circular_mils, seconds, ambient)}


def melting_time(circular_mils: float, amps: float, ambient: float) -> Answers:
    return {"seconds": short_circuit.fusing_time(circular_mils, amps, ambient)}


def melting_in_air(inches: float | None = None, awg: int | None = None) -> Answers:
    diameter = inches * 0.0254 if inches is not None else gauge.awg_diameter(awg or 0)
    return {"amps": short_circuit.fusing_current_in_air(diameter)}


def adiabatic(start: float, end: float) -> Answers:
    # The other form of the same rule, in circular mils, is an independent route: (I/A)^2 t = 0.0297 log10(...).
    per_cmil = math.sqrt(0.0297 * math.log10((end + 234) / (start + 234)))
    return {"k": short_circuit.adiabatic_k(start, end),
            "k_other_form": per_cmil / (short_circuit.CIRCULAR_MIL * 1e6)}  # fmt: skip


def splice_sum(areas: list[float]) -> Answers:
    whole = overfull_splice._End(("18 AWG", "16 AWG"), float(sum(areas)))
    sizes = wire_resistance.CIRCULAR_MILS
    # The sheet takes the next size up to hold the sum: the thinnest size whose solid area is not below it.
    solid = {awg: gauge.area(Gauge(awg=awg)) / MILS["cmil"] for awg in sizes}
    return {"circular_mils": whole.area, "equivalent_awg": max(a for a, mils in solid.items() if mils >= whole.area)}


def free_air(awg: int, circular_mils: float, rise: float) -> Answers:
    assert wire_resistance.CIRCULAR_MILS[awg] == circular_mils
    return {"amps": ampacity.free_air(circular_mils, rise)}


def table_entry(awg: int, rise: float, wires: int, share: float, feet: float) -> Answers:
    return {"amps": ampacity.allowed(wire_resistance.CIRCULAR_MILS[awg], rise, wires, share, feet * FOOT)}


def bundle_of_equals(count: int, mm: float) -> Answers:
    return {"mm": bundle.bundle_diameter([mm] * count), "packed_mm": bundle.RATIOS[count - 1] * mm}


def bundle_of_groups(groups: list[tuple[int, float]]) -> Answers:
    return {"inches": bundle.bundle_diameter([d for count, d in groups for _ in range(count)])}


def protector(awg: int) -> Answers:
    record = open_drawer().get("wire protection", f"{awg} AWG")
    assert record is not None
    return {name: record.quantity(name) or 0.0 for name in ("breaker", "fuse")}


def part_number(part: str) -> Answers:
    record = open_drawer().get("wire", part)
    found = record.gauge_range("gauge") if record else None
    assert found is not None
    assert found[0].awg is not None
    return {"gauge": found[0].awg}


def marks(inches: list[float]) -> Answers:
    return {"wanting_a_mark": sum(length * 0.0254 >= missing_wire_mark.LIMIT.value for length in inches)}


def spares(contacts: list[int]) -> Answers:
    steps, most = missing_spare_contacts.STEPS, missing_spare_contacts.MOST
    return {f"spares_{count}": next((n for upto, n in steps if count <= upto), most) for count in contacts}


def bend(inches: float) -> Answers:
    return {"inches": tight_bend.LIMIT.value * inches}


ROUTES: dict[str, Callable[..., Answers]] = {
    "drop-11-7-row-1": drop_of_a_run, "drop-11-7-row-3": drop_of_a_run, "drop-11-7-row-4": drop_of_a_run,
    "run-11-8-row-1": drop_of_a_run, "run-11-8-row-2": drop_of_a_run, "run-11-8-row-4": drop_of_a_run,
    "size-example-1": size_for_a_run, "hot-example-2-most": most_in_a_bundle, "hot-example-2-temperature": hot_run,
    "hot-example-2-next-size": hot_run, "bundle-11-69-example-1": mixed_bundle, "awg-22": awg_size,
    "awg-steps": awg_steps, "melting-current": melting_current, "melting-time": melting_time,
    "melting-in-air": melting_in_air, "melting-in-air-16-awg": melting_in_air, "adiabatic-70-160": adiabatic,
    "adiabatic-90-250": adiabatic, "splice-circular-mils": splice_sum, "free-air-fit-14": free_air,
    "table-11-9-entry-12": table_entry, "bundle-diameter-24": bundle_of_equals,
    "bundle-diameter-mixed": bundle_of_groups, "protector-22": protector, "colour-suffix-three-digits": part_number,
    "colour-suffix-one-digit": part_number, "mark-spacing": marks, "spare-contacts": spares, "bend-radius": bend,
}  # fmt: skip


def named(example: dict[str, Any]) -> str:
    return str(example["id"])


@pytest.mark.parametrize("example", EXAMPLES, ids=named)
def test_a_worked_example_reproduces(example: dict[str, Any]) -> None:
    got = ROUTES[example["id"]](**example["inputs"])
    assert set(example["expected"]) <= set(got), "the example expects something that is not computed"
    for name, (value, tolerance) in example["expected"].items():
        assert got[name] == pytest.approx(value, abs=tolerance, rel=1e-12), name


PRINTED = [example for example in EXAMPLES if "printed" in example]


@pytest.mark.parametrize("example", PRINTED, ids=named)
def test_what_is_printed(example: dict[str, Any]) -> None:
    got = ROUTES[example["id"]](**example["inputs"])
    for name, printed in example["printed"].items():
        _, tolerance = example["expected"][name]
        # A document rounds: half a unit of its last digit is no error, and a curve is read to about 2 %.
        close = abs(got[name] - printed) <= max(tolerance, 0.02 * abs(printed))
        if example.get("erratum"):
            assert abs(got[name] - printed) > tolerance, "it reproduces after all: take it out of docs/errata.md"
            assert example["id"] in ERRATA, "an example that does not reproduce is recorded in docs/errata.md"
        else:
            assert close, f"{name} does not reproduce: record it in docs/errata.md"


def test_the_melting_errata_are_the_sign_in_the_post() -> None:
    # With 234 - Ta, as the post writes it, its own numbers come out: 178 A and 2.5 s.
    assert 2581 * math.sqrt(math.log10(1058 / (234 - 25) + 1) / (33 * 5)) == pytest.approx(178, abs=0.5)
    assert math.log10(1058 / (234 - 24) + 1) / (33 * (400 / 4110) ** 2) == pytest.approx(2.498, abs=0.002)


def test_the_printed_0_366_of_table_11_8_fits_no_size_near_it() -> None:
    # The row's own limit is 0.5 V: the product 0.4914 V uses it up, 0.366 V would leave room for a longer run.
    longest = voltage_drop.longest_run(0.00126, 20.0, 0.5)
    assert 19.5 <= longest < 20.0


@pytest.mark.parametrize("example", [e for e in EXAMPLES if "words" in e], ids=named)
def test_words_of_a_part_number(example: dict[str, Any]) -> None:
    record = open_drawer().get("wire", example["inputs"]["part"])
    assert record is not None
    for name, words in example["words"].items():
        assert list(record.items(name) or ()) == words


def test_every_example_has_a_route_and_no_address() -> None:
    assert {named(example) for example in EXAMPLES} == set(ROUTES)
    text = (HERE / "worked_examples.yaml").read_text(encoding="utf-8")
    assert not [word for word in ("http", "www", ".com", ".org", ".net") if word in text]
