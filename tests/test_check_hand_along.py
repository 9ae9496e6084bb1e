"""How far a splice is from a connector, and what a wire may carry in its bundle: records made by hand.

Expected values are worked out in the comments; factors of bundles are read from the curves of ``formulas.ampacity``.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from harnesscheck.checks import _ampacity
from harnesscheck.checks._along import RECKONED, STATED, Along, millimetres, own_length, reached
from harnesscheck.connector import Connector, Origin
from harnesscheck.electrics.elements import Gap
from harnesscheck.formulas import ampacity
from harnesscheck.harness import Harness, Kind
from harnesscheck.parts.loader import open_drawer
from harnesscheck.place import Place, Point
from harnesscheck.splice import Splice
from harnesscheck.units import Gauge, Range
from harnesscheck.wire import Cable, Wire
from harnesscheck.zone import Zone

NEW, OLD = Origin.JUMPER, Origin.AIRFRAME


def wire(name: str, a: str, b: str, length: float | None = None, **more: Any) -> Wire:
    ends = [Point(*end.split("-")) if "-" in end else Point(end) for end in (a, b)]
    return Wire(name, ends[0], ends[1], more.pop("origin", NEW), length=length, **more)


def harness(*wires: Wire, splices: tuple[Splice, ...] = (), **more: Any) -> Harness:
    zone = more.pop("zone", None)
    refs = [p.ref for w in wires for p in (w.a, w.b) if p.ref[0] in "PJ"]
    halves = {ref: Connector(ref, Place(ref), NEW, zone=zone) for ref in refs}
    return Harness(
        Kind.INSTALLED, "t", open_drawer(), connectors=halves, wires={w.id: w for w in wires},
        splices={s.ref: s for s in splices}, **more,
    )  # fmt: skip


def splice(at: float | None = None, at_ref: str | None = None, ref: str = "SP1") -> Splice:
    return Splice(ref, Place(ref), NEW, at=at, at_ref=at_ref)


def mm(found: dict[str, Any]) -> dict[str, tuple[float, str]]:
    return {ref: (round(at.distance * 1000, 3), at.how) for ref, at in found.items()}


# -- along the wiring ----------------------------------------------------------------------------------------------

RUN = wire("W9", "J1-9", "P3-9", 0.5)
TO_J1, TO_P2, TO_P3 = wire("W1", "J1-1", "SP1", 0.15), wire("W2", "SP1", "P2-1", 0.2), wire("W3", "SP1", "P3-1")


@pytest.mark.parametrize(("one", "wires", "found"), [
    (splice(0.1, "J1"), (TO_J1, TO_P2), {"J1": (100, "stated"), "P2": (200, "W2")}),
    (splice(), (TO_J1, TO_P2), {"J1": (150, "W1"), "P2": (200, "W2")}),
    (splice(None, "J1"), (TO_P2,), {"P2": (200, "W2")}),
    (splice(0.1, "J7"), (TO_P2,), {"J7": (100, "stated"), "P2": (200, "W2")}),
    # of two wires to one connector the shorter counts, in either order; of equal ones the first
    (splice(), (TO_P2, wire("W4", "SP1", "P2-2", 0.19)), {"P2": (190, "W4")}),
    (splice(), (wire("W4", "SP1", "P2-2", 0.19), TO_P2), {"P2": (190, "W4")}),
    (splice(), (TO_P2, wire("W4", "SP1", "P2-2", 0.2)), {"P2": (200, "W2")}),
    (splice(), (wire("W4", "SP1", "P2-2"), TO_P2), {"P2": (200, "W2")}),
    # W3 has no length: 500 mm from J1 to P3 less the place of the splice from J1
    (splice(0.1, "J1"), (TO_P3, RUN), {"J1": (100, "stated"), "P3": (400, "the run from J1 to P3")}),
    (splice(), (TO_J1, TO_P3, RUN), {"J1": (150, "W1"), "P3": (350, "the run from J1 to P3")}),
    (splice(0.1, "J1"), (TO_J1, TO_P3, RUN), {"J1": (100, "stated"), "P3": (400, "the run from J1 to P3")}),
    (splice(0.5, "J1"), (TO_P3, RUN), {"J1": (500, "stated")}),  # nothing is left of the run: it cannot be
    (splice(0.6, "J1"), (TO_P3, RUN), {"J1": (600, "stated")}),
    (splice(0.1, "J1"), (RUN,), {"J1": (100, "stated")}),  # no wire of it leads to P3
    (splice(), (TO_P3,), {}),
    # of two rests the shorter counts (450 - 200 < 500 - 150), unless the place is stated from the other
    (splice(), (TO_J1, TO_P2, TO_P3, RUN, wire("W8", "P2-9", "P3-8", 0.45)),
     {"J1": (150, "W1"), "P2": (200, "W2"), "P3": (250, "the run from P2 to P3")}),
    (splice(0.1, "J1"), (TO_P2, TO_P3, RUN, wire("W8", "P2-9", "P3-8", 0.45)),
     {"J1": (100, "stated"), "P2": (200, "W2"), "P3": (400, "the run from J1 to P3")}),
])  # fmt: skip
def test_along_how_far_a_splice_is(one: Splice, wires: tuple[Wire, ...], found: dict[str, tuple[float, str]]) -> None:
    assert mm(Along(harness(*wires, splices=(one,))).stations(one)) == found


def test_along_grades() -> None:
    one = splice(0.1, "J1")
    stations = Along(harness(TO_P2, TO_P3, RUN, splices=(one,))).stations(one)
    assert stations["J1"].grade == STATED
    assert stations["P3"].grade == RECKONED
    assert STATED > stations["P2"].grade > RECKONED


@pytest.mark.parametrize(("one", "wires", "copper"), [
    (splice(0.1, "J1"), (TO_J1, TO_P2), {"J1": 150, "P2": 200}),  # the wire itself, not the place of the splice
    (splice(0.1, "J1"), (TO_P2,), {"J1": 100, "P2": 200}),
    (splice(), (TO_P2, wire("W4", "SP1", "P2-2", 0.25), TO_P3), {"P2": 200}),
    (splice(0.1, "J1"), (TO_J1, wire("W4", "J1-4", "SP1", 0.12)), {"J1": 120}),
])  # fmt: skip
def test_along_how_much_copper_there_is(one: Splice, wires: tuple[Wire, ...], copper: dict[str, float]) -> None:
    found = Along(harness(*wires, splices=(one,))).copper(one)
    assert {ref: round(length * 1000, 3) for ref, length in found.items()} == copper


CABLE = {"C1": Cable("C1", Place("C1"), NEW, length=0.7)}


@pytest.mark.parametrize(("wires", "splices", "runs"), [
    ((RUN,), (), {"J1 P3": 500}),
    ((RUN, wire("W8", "P3-8", "J1-8", 0.45)), (), {"J1 P3": 450}),
    ((wire("W8", "P3-8", "J1-8", 0.45), RUN), (), {"J1 P3": 450}),
    ((wire("W8", "P3-8", "J1-8"),), (), {}),
    ((wire("W8", "P3-8", "J1-8", 0.7, cable="C1"),), (), {}),  # a core is trimmed from the length of its cable
    ((wire("W8", "P3-8", "J1-8", 0.6, cable="C1"),), (), {"J1 P3": 600}),
    ((wire("W8", "P3-8", "SP9", 0.3),), (), {}),
    ((wire("W8", "SP9", "P3-8", 0.3),), (), {}),
    ((TO_J1, TO_P2), (splice(),), {"J1 P2": 350}),
    ((TO_J1, TO_P2, TO_P3), (splice(),), {"J1 P2": 350}),
    ((TO_J1, TO_P2), (splice(0.1, "J1"),), {"J1 P2": 350}),  # 150 + 200: the longer of place and wire
    ((TO_J1, TO_P2), (splice(0.18, "J1"),), {"J1 P2": 380}),  # 180 + 200
    ((wire("W1", "J1-1", "SP1"), TO_P2), (splice(0.1, "J1"),), {"J1 P2": 300}),  # the place alone
    ((TO_P2, wire("W4", "SP1", "P2-2", 0.19)), (splice(),), {}),  # both to one connector: no run
    ((TO_J1, TO_P2, wire("W7", "J1-7", "P2-7", 0.34)), (splice(),), {"J1 P2": 340}),
])  # fmt: skip
def test_along_the_runs_between_connectors(
    wires: tuple[Wire, ...], splices: tuple[Splice, ...], runs: dict[str, float]
) -> None:
    found = Along(harness(*wires, splices=splices, cables=CABLE)).runs
    assert {" ".join(sorted(pair)): round(length * 1000, 3) for pair, length in found.items()} == runs


def test_along_small_questions() -> None:
    one = harness(TO_J1, TO_P2, wire("W5", "SP1", "SP2", 1.0), splices=(splice(0.1, "J7"), splice(ref="SP2")))
    assert reached(one, splice(0.1, "J7")) == ["J1", "P2", "J7"]
    assert reached(one, splice(0.1, "J1")) == ["J1", "P2"]
    assert reached(one, splice()) == ["J1", "P2"]
    assert own_length(one, TO_J1) == 0.15
    assert (millimetres(0.06), millimetres(0.0604), millimetres(0.06044), millimetres(0.0604, 0)) == (
        "60 mm", "60.4 mm", "60.4 mm", "60 mm",
    )  # fmt: skip


# -- what a wire may carry -----------------------------------------------------------------------------------------

BAY = Zone("bay", Place("bay"), ambient=Range(-20.0, 40.0), altitude=3048.0)
KIND = "M22759/16-22-9"
ALONE = ampacity.free_air(755.0, 150.0 - 40.0) * (1 - 0.045)
"""755 cmil by Table 11-9, rated 150 C in 40 C, and 0.955 at 10,000 ft: 12.1 A."""


def kit(*bundles: str | None, zone: Zone = BAY, **more: Any) -> Harness:
    """A kit of 22 AWG wires W0, W1, ... in these bundles, all in one zone."""
    wires = [
        wire(f"W{n}", f"J1-{n}", f"P2-{n}", type=KIND, gauge=Gauge(awg=22), bundle=name)
        for n, name in enumerate(bundles)
    ]
    return harness(*wires, zone="bay", zones={"bay": zone}, **more)


def best_and_worst(one: Harness, loads: dict[str, float], unsure: str = "", amps: float | None = None) -> Any:
    found = _ampacity.carries(one, one.wires["W0"], loads, frozenset(unsure.split()), amps)
    assert isinstance(found, _ampacity.Carries)
    return round(found.best / ALONE, 4), round(found.worst / ALONE, 4), found.missing


ASKED = "which bundle {} in is not stated: among all {} wires of the kit"
BESIDE = "what a wire beside it carries is not known:"


@pytest.mark.parametrize(("bundles", "loads", "unsure", "amps", "best", "worst", "missing"), [
    # Shares of the capacity of n wires, each ALONE x factor(n, share); factors by the curves.
    (("a",), {"W0": 5.0}, "", None, 1.0, 1.0, ""),
    (("a", "a"), {"W0": 1.0}, "", None, 0.9675, 0.9675, ""),  # 1 A of 2 x 12.1: 20 % at the most
    (("a", "a"), {"W0": 6.0}, "", None, 0.92, 0.92, ""),  # 6 of 24.2 x 0.92 = 22.3 is 27 %: the 40 % curve
    (("a", "a"), {"W0": 6.0, "W1": 6.0}, "", None, 0.91, 0.91, ""),  # 12 of 24.2 x 0.91 is 54 %: the 60 % curve
    (("a", "a"), {"W0": 12.0, "W1": 12.0}, "", None, 0.825, 0.825, ""),  # more than all of it: the 100 % curve
    (("a", "a"), {"W0": 12.0}, "", 1.0, 0.9675, 0.9675, ""),  # asked for 1 A instead of its load
    (("a", "a"), {}, "", 6.0, 0.92, 0.92, ""),
    (("a", "a", "a"), {"W0": 1.0}, "", None, 0.935, 0.935, ""),
    (("a", "b", "b"), {"W0": 1.0, "W1": 30.0}, "", None, 1.0, 1.0, ""),  # what lies in another bundle is no matter
    # Nobody says what lies beside it: alone at the best, with the whole kit at the worst.
    ((None,), {"W0": 5.0}, "", None, 1.0, 1.0, ""),
    ((None, "b", "b"), {"W0": 1.0}, "", None, 1.0, 0.935, ASKED.format("W0 lies", 3)),
    (("a", None), {"W0": 1.0}, "", None, 1.0, 0.9675, ASKED.format("W1 lies", 2)),
    (("a", None, None), {"W0": 1.0}, "", None, 1.0, 0.935, ASKED.format("W1 and W2 lie", 3)),
    (("a", "a", None), {"W0": 1.0}, "", None, 0.9675, 0.935, ASKED.format("W2 lies", 3)),
    # Nobody knows what W1 carries: beside W0 it counts as more than all.
    (("a", "a"), {"W0": 1.0}, "W1", None, 0.9675, 0.825, BESIDE),
    (("a", "b"), {"W0": 1.0}, "W1", None, 1.0, 1.0, BESIDE),
    (("a", "a"), {"W0": 1.0}, "W0", None, 0.9675, 0.9675, BESIDE),  # its own is asked for, not among the others
    (("a", "a"), {"W0": 1.0}, "W0 W1", None, 0.9675, 0.825, BESIDE),
    (("a", None), {"W0": 1.0}, "W1", None, 1.0, 0.825, ASKED.format("W1 lies", 2)),
])  # fmt: skip
def test_ampacity_among_others(
    bundles: tuple[str | None, ...], loads: dict[str, float], unsure: str, amps: float | None,
    best: float, worst: float, missing: str,
) -> None:  # fmt: skip
    assert best_and_worst(kit(*bundles), loads, unsure, amps) == (best, worst, missing)


def test_ampacity_of_one_bundle_asked_for_with_several_loads() -> None:
    """What was added up for one set of loads is not taken for another, and is there when it is asked for again."""
    one = kit("a", "a")
    heavy, light = {"W0": 12.0, "W1": 12.0}, {"W0": 1.0}
    sets = [heavy, light, dict(heavy), dict(light), dict(heavy), dict(light)]
    for loads in [*sets, *sets]:
        assert best_and_worst(one, loads)[0] == (0.825 if len(loads) == 2 else 0.9675)


def test_ampacity_at_the_very_edge_of_a_curve() -> None:
    """Two wires of 12.1 A each hold 20 % of 24.2 A x 0.9675 exactly: still the 20 % curve; a trace more: the next."""
    edge = 0.2 * (2 * ALONE) * 0.9675
    share = _ampacity._Loaded(kit("a", "a").wires["W0"], _ampacity._Air(755.0, 150.0, 40.0, 3048.0, None), {}, edge)  # type: ignore[arg-type]
    tied = _ampacity._tied(kit("a", "a"), "a", "a")
    assert share.own.alone == pytest.approx(ALONE)
    exact = 0.2 * float(2 * share.own.alone) * ampacity.bundle_factor(2, 0.2)
    for amps, curve in ((exact, 0.2), (exact * (1 + 1e-9), 0.4)):
        one = _ampacity._Loaded(share.wire, share.own, {}, amps)
        assert one.factor(tied) == (2, (ampacity.bundle_factor(2, curve), curve))


def test_ampacity_in_words() -> None:
    one = kit("a", "a")
    found = _ampacity.carries(one, one.wires["W0"], {"W0": 6.0})
    assert isinstance(found, _ampacity.Carries)
    assert found.words == "rated 150 C, 40 C around it, 2 wires in bundle a, 40 % in use, 3048 m"
    alone = kit(None)
    found = _ampacity.carries(alone, alone.wires["W0"], {})
    assert isinstance(found, _ampacity.Carries)
    assert found.words == "rated 150 C, 40 C around it, alone, 3048 m"
    assert found.source is ampacity.FREE_AIR_SOURCE  # the rating is confirmed, so the curve is the weakest


def test_ampacity_wires_of_the_aircraft_and_shields_are_no_part_of_the_kit() -> None:
    """Not stated: among the kit's own wires, without those of the aircraft and without shields."""
    plain = kit(None, None)
    more = {
        "X": wire("X", "J1-x", "P2-x", type=KIND, gauge=Gauge(awg=22), origin=OLD),
        "S": wire("S", "J1-s", "P2-s", core="shield", cable="C1"),
    }
    one = replace(plain, wires={**plain.wires, **more})
    assert best_and_worst(one, {"W0": 1.0}) == (1.0, 0.9675, ASKED.format("W0 lies", 2))
    tied = {name: wire(name, "J1-x", "P2-x", type=KIND, gauge=Gauge(awg=22), bundle="a", origin=OLD) for name in "XY"}
    bundled = kit("a", None)
    one = replace(bundled, wires={**bundled.wires, **tied})
    assert best_and_worst(one, {"W0": 1.0})[0] == 0.935  # W0, X and Y


@pytest.mark.parametrize(("zone", "more", "words"), [
    (Zone("bay", Place("bay"), altitude=0.0), {}, "the ambient temperature of zone bay is not stated"),
    (Zone("bay", Place("bay"), ambient=Range(0.0, 40.0)), {}, "the altitude of zone bay is not stated"),
    (Zone("bay", Place("bay"), ambient=Range(0.0, 150.0), altitude=0.0), {}, "W0 is rated 150 C and lies in 150 C: it"),
    (Zone("bay", Place("bay"), ambient=Range(0.0, 40.0), altitude=18289.0), {}, "the altitude curve ends at 60,000 ft"),
    (BAY, {"gauge": None}, "the gauge of W0 is not stated"),
    (BAY, {"type": None}, "the wire type is not stated (W0)"),
    (BAY, {"zone": None}, "the zone that W0 lies in is not stated"),
])  # fmt: skip
def test_ampacity_what_is_missing(zone: Zone, more: dict[str, Any], words: str) -> None:
    given: dict[str, Any] = {"type": KIND, "gauge": Gauge(awg=22), **more}
    where = given.pop("zone", "bay")
    one = harness(wire("W0", "J1-1", "P2-1", **given), zone=where, zones={"bay": zone})
    found = _ampacity.carries(one, one.wires["W0"], {})
    assert isinstance(found, Gap)
    assert found.missing.startswith(words)
    assert found.remedy


@pytest.mark.parametrize(("low", "high", "rise", "kilofeet"), [
    (149.0, 149.0, 1.0, 60), (40.0, 60.0, 90.0, 20), (60.0, 40.0, 90.0, 60),
])  # fmt: skip
def test_ampacity_the_hottest_and_the_highest_zone_count(low: float, high: float, rise: float, kilofeet: int) -> None:
    """One end in each of two zones, of which one is the hotter and one the higher."""
    zones = {
        "low": Zone("low", Place("low"), ambient=Range(-55.0, low), altitude=0.0),
        "high": Zone("high", Place("high"), ambient=Range(-55.0, high), altitude=kilofeet * 304.8),
    }
    one = harness(wire("W0", "J1-1", "SP1", type=KIND, gauge=Gauge(awg=22)), zone="low", zones=zones,
                  splices=(Splice("SP1", Place("SP1"), NEW, zone="high"),))  # fmt: skip
    found = _ampacity.carries(one, one.wires["W0"], {})
    assert isinstance(found, _ampacity.Carries)
    factor = {20: 0.91, 60: 0.79}[kilofeet]  # AC 43.13-1B p. 11-27
    assert found.best == pytest.approx(ampacity.free_air(755.0, rise) * factor)
