"""Where each formula ends, and its values there and just beside: refusals are part of a formula.

Expected values are the equation of the formula's docstring, worked with pencil at round arguments; what an edge is
comes from the source that the docstring names.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from harnesscheck.formulas import (
    ampacity,
    arinc429,
    bundle,
    gauge,
    load_analysis,
    loading,
    nmea0183,
    protection,
    short_circuit,
    stub_length,
    thermocouple,
    voltage_drop,
    wire_resistance,
)
from harnesscheck.units import Gauge

KFT = ampacity.KILOFEET

REFUSED: list[tuple[Callable[..., object], tuple[object, ...]]] = [
    (ampacity.free_air, (0, 10)), (ampacity.free_air, (-1, 10)), (ampacity.free_air, (100, 0)),
    (ampacity.bundle_factor, (0, 0.5)), (ampacity.bundle_factor, (3, -0.01)), (ampacity.bundle_factor, (3, 1.01)),
    (ampacity.altitude_factor, (60.01 * KFT,)),
    (bundle.ratio, (0,)), (bundle.bundle_diameter, ([],)), (bundle.bundle_diameter, ([1.0, 0.0],)),
    (load_analysis.margin, (1, 0)), (load_analysis.margin, (1, -1)),
    (load_analysis.battery_minutes, (12, 0.5, 0)), (load_analysis.battery_minutes, (12, 0, 1)),
    (load_analysis.battery_minutes, (12, 1.01, 1)),
    (loading.parallel, ([100.0, 0.0],)), (loading.parallel, ([-1.0],)),
    (loading.loading_error, (-1, 10)), (loading.loading_error, (1, 0)),
    (loading.least_load, (1, 0)), (loading.least_load, (1, 1)), (loading.shared_return_error, (1, 1, 0, 1)),
    (nmea0183.most_listeners, (-0.001,)), (nmea0183.most_listeners, (1, 0)),
    (protection.held, (0,)), (protection.held, (-1, 1.4)), (protection.held, (5, 0.99)),
    (short_circuit.adiabatic_k, (70, 70)), (short_circuit.adiabatic_k, (70, 69)),
    (short_circuit.adiabatic_k, (-234.5, 70)),
    (short_circuit.fusing_current, (0, 1)), (short_circuit.fusing_current, (100, 0)),
    (short_circuit.fusing_time, (0, 1)), (short_circuit.fusing_time, (100, 0)),
    (stub_length.by_rise_time, (0,)), (stub_length.by_rise_time, (1e-9, 0)),
    (thermocouple.millivolts, (-0.1,)), (thermocouple.millivolts, (1372.1,)),
    (voltage_drop.longest_run, (1, 0, 1)), (voltage_drop.longest_run, (1, -1, 1)),
    (voltage_drop.conductor_temperature, (20, 150, 1, 0)), (voltage_drop.conductor_temperature, (20, 150, -1, 1)),
    (voltage_drop.conductor_temperature_balance, (20, 150, -0.1, 1)),
    (wire_resistance.at_temperature, (1, -60.1)), (wire_resistance.at_temperature, (1, 260.1)),
]  # fmt: skip


@pytest.mark.parametrize(("formula", "arguments"), REFUSED)
def test_outside_its_range_a_formula_refuses(formula: Callable[..., object], arguments: tuple[object, ...]) -> None:
    with pytest.raises(ValueError):
        formula(*arguments)


LOG = math.log10((1083 - 25) / (234 + 25) + 1)
"""Of Onderdonk's equation at 25 C; copper melts at 1083 C."""
KEPT: list[tuple[Callable[[], float], float]] = [
    (lambda: ampacity.free_air(0.5, 0.5), 0.01534 * 0.5**0.6655 * 0.5**0.509),
    (lambda: ampacity.bundle_factor(8, 0.2), ampacity.bundle_factor(8, 0.0)),  # below 20 % the 20 % curve
    (lambda: ampacity.bundle_factor(1, 1.0), 1.0),  # one wire is in free air
    (lambda: ampacity.altitude_factor(-100.0), 1.0), (lambda: ampacity.altitude_factor(0.0), 1.0),
    (lambda: ampacity.altitude_factor(0.5 * KFT), 1 - 0.0045 * 0.5),
    (lambda: ampacity.altitude_factor(20 * KFT), 0.91), (lambda: ampacity.altitude_factor(40 * KFT), 0.85),
    (lambda: ampacity.altitude_factor(60 * KFT), 0.79),
    (lambda: arinc429.level(0), 10.0), (lambda: arinc429.level(1, 75.0), 5.0), (lambda: arinc429.level(2, 150.0), 5.0),
    (lambda: bundle.ratio(1), 1.0), (lambda: bundle.ratio(2), 2.0), (lambda: bundle.ratio(3), 1 + 2 / math.sqrt(3)),
    (lambda: bundle.ratio(100), 12.0), (lambda: bundle.ratio(38), 1.2 * math.sqrt(38)),
    (lambda: load_analysis.margin(0.5, 0.5, 1.0), 0.0),
    (lambda: load_analysis.battery_minutes(10, 1, 0.5), 1200), (lambda: load_analysis.battery_minutes(10, 0.5, 1), 300),
    (lambda: loading.loading_error(0, 10), 0.0), (lambda: loading.loading_error(10, math.inf), 0.0),
    (lambda: loading.loading_error(0.5, 0.5), 0.5),
    (lambda: loading.parallel([0.5, 0.5]), 0.25), (lambda: loading.parallel([]), math.inf),
    (lambda: loading.sender_decoded(5, 200, 5), math.inf), (lambda: loading.sender_decoded(6, 200, 5), math.inf),
    (lambda: loading.sender_decoded(2.5, 200, 5), 200), (lambda: loading.shared_return_error(1, 1, 0.5, 1), 2),
    (lambda: nmea0183.most_listeners(0), 0), (lambda: nmea0183.most_listeners(0.004, 0.002), 2),
    (lambda: nmea0183.most_listeners(1, 0.5), 2),
    (lambda: nmea0183.most_listeners(0.00399, 0.002), 1),
    (lambda: protection.held(0.5, 1), 0.5), (lambda: protection.held(5, 1), 5),
    (lambda: short_circuit.adiabatic_k(-234, 0), 226 * math.sqrt(math.log(469))),
    (lambda: short_circuit.fusing_current(0.5, 0.5), 0.5 * math.sqrt(LOG / (33 * 0.5))),
    (lambda: short_circuit.fusing_time(0.5, 0.5), LOG / 33),
    (lambda: short_circuit.fusing_current_in_air(0.0254), 10244.0),  # Preece: one inch of copper
    (lambda: stub_length.by_rise_time(20e-9, 1e-9), 1.0), (lambda: stub_length.by_rise_time(20, 1), 1.0),
    (lambda: thermocouple.millivolts(0), 0.0),
    (lambda: thermocouple.millivolts(1372), 54.886),  # IEC 60584-1 (ITS-90) table, type K
    (lambda: voltage_drop.conductor_temperature(20, 120, 0, 0.5), 20),
    (lambda: voltage_drop.conductor_temperature(20, 120, 0.25, 1), 70),
    (lambda: voltage_drop.conductor_temperature_balance(20, 120, 0.5, 1), 45),
    (lambda: voltage_drop.longest_run(0.5, 0.5, 1), 4),
    (lambda: voltage_drop.hot_run(1, 20), 1), (lambda: voltage_drop.hot_run(1, 20, aluminium=True), 1),
    (lambda: voltage_drop.hot_run(1, 120, aluminium=True), 258.1 / 358.1),
    (lambda: voltage_drop.hot_run(1, 120), 254.5 / 354.5),
    (lambda: wire_resistance.at_temperature(1, -60), 174.5 / 254.5),
    (lambda: wire_resistance.at_temperature(1, 260), 494.5 / 254.5),
    (lambda: wire_resistance.at_temperature(1, 120, aluminium=True), 358.1 / 258.1),
]  # fmt: skip


@pytest.mark.parametrize(("found", "expected"), KEPT)
def test_at_its_edges_a_formula_holds(found: Callable[[], float], expected: float) -> None:
    assert found() == pytest.approx(expected, rel=2e-5, abs=1e-3)


@pytest.mark.parametrize(("share", "between"), [(0.3, (0.2, 0.4)), (0.5, (0.4, 0.6)), (0.9, (0.8, 1.0))])
@pytest.mark.parametrize("wires", [2, 8, 20, 33])
def test_the_bundle_factor_is_straight_between_its_curves(
    share: float, between: tuple[float, float], wires: int
) -> None:
    low, high = (ampacity.bundle_factor(wires, end) for end in between)
    assert ampacity.bundle_factor(wires, share) == pytest.approx((low + high) / 2)
    assert high < low
    nearer = between[0] + (between[1] - between[0]) / 4
    assert ampacity.bundle_factor(wires, nearer) == pytest.approx(low + (high - low) / 4)


def test_where_sources_change() -> None:
    assert ampacity.bundle_source(20) is ampacity.BUNDLE_SOURCE
    assert ampacity.bundle_source(21) is ampacity.LARGE_BUNDLE_SOURCE
    assert ampacity.altitude_source(20 * KFT) is ampacity.ALTITUDE_SOURCE
    assert ampacity.altitude_source(20.01 * KFT) is ampacity.HIGH_ALTITUDE_SOURCE


def mm2(awg: int, factor: float = 1.0) -> Gauge:
    """A metric size of the copper of a number, or so much more."""
    return Gauge(mm2=gauge.conductor_area(Gauge(awg=awg)) * 1e6 * factor)


@pytest.mark.parametrize(("one", "two", "expected"), [
    (Gauge(awg=22), Gauge(awg=22), 0), (Gauge(awg=20), Gauge(awg=22), 1), (Gauge(awg=22), Gauge(awg=20), -1),
    (Gauge(mm2=0.5), Gauge(mm2=0.5), 0), (Gauge(mm2=0.5), Gauge(mm2=0.51), -1), (Gauge(mm2=0.51), Gauge(mm2=0.5), 1),
    (Gauge(mm2=0.5), Gauge(mm2=0.5 * (1 + gauge.SAME / 2)), -1),  # two metric sizes are what they say
    (mm2(22), Gauge(awg=22), 0), (mm2(22, 1 + gauge.SAME / 2), Gauge(awg=22), 0),
    (mm2(22, 1 + 3 * gauge.SAME), Gauge(awg=22), 1),
    (mm2(22, 1 - 3 * gauge.SAME), Gauge(awg=22), -1), (Gauge(awg=22), mm2(22, 1 + 3 * gauge.SAME), -1),
    (mm2(30), Gauge(awg=30), 0), (Gauge(awg=30), mm2(30), 0),  # a number that Table 11-9 does not list
])  # fmt: skip
def test_which_size_is_thicker(one: Gauge, two: Gauge, expected: int) -> None:
    assert gauge.compare(one, two) == expected
