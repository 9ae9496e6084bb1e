"""What fits into a splice, a seal or another connector: bare records, each limit on both sides (all invented)."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck.checks import exchangeable_plugs, overfull_splice, wire_outside_seal_range
from harnesscheck.connector import Cavity, Connector, Origin
from harnesscheck.finding import Finding, NotChecked
from harnesscheck.parts import Fact, Part
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status
from harnesscheck.splice import Splice
from harnesscheck.units import Gauge, Range
from harnesscheck.wire import Cable, Wire

NEW, OLD = Origin.JUMPER, Origin.AIRFRAME
FIRM, SOFT = Source("a", Status.CONFIRMED), Source("b", Status.MEMORY)

# -- overfull-splice -----------------------------------------------------------------------------------------------

CMIL = 5.067074790974977e-10
"""Square metres in a circular mil: pi/4 of a square mil."""


def filled(monkeypatch: pytest.MonkeyPatch, areas: list[float], low: float, high: float, style: str = "barrel") -> Any:
    """What is said of wires of these areas in a splice that takes ``low`` to ``high``, all in circular mils."""
    wires = [Wire(f"W{n}", Point("SP1"), Point("P1", str(n)), NEW, gauge=Gauge(awg=20)) for n, _ in enumerate(areas)]
    sizes = {wire.id: (area * CMIL, FIRM) for wire, area in zip(wires, areas, strict=True)}
    monkeypatch.setattr(overfull_splice, "copper", lambda _, wire: sizes[wire.id])
    record = Part("S1", "splice", {"style": Fact(style, FIRM), "cma": Fact("x", FIRM)})
    stub: Any = SimpleNamespace(drawer=SimpleNamespace(numbers=lambda _: []))
    splice = Splice("SP1", Place("SP1"), NEW, part="S1")
    return overfull_splice._by_area(stub, splice, record, wires, Range(low * CMIL, high * CMIL))


@pytest.mark.parametrize(("areas", "style", "words"), [
    # The splice takes 1000 to 2000 circular mils in each end; of a stub all wires enter one end.
    ([1500, 1500], "barrel", ""), ([1000, 2000], "barrel", ""), ([999, 1500], "barrel", "too little copper: 999 cmil"),
    ([1500, 2001], "barrel", "too much copper: 2001 cmil"), ([500, 500, 1500], "barrel", ""),
    ([500, 499, 1500], "barrel", "too little copper: 999 cmil"),  # 500 and 499 in one end is the best of the ways
    ([999, 2001], "barrel", "too much copper: 2001 cmil"),
    ([1200, 1200, 1200, 300], "barrel", "too much copper: 2400 cmil"),
    ([700, 700, 700, 700], "barrel", ""), ([1800, 100, 100], "barrel", "too little copper: 200 cmil"),
    ([800, 800], "stub", ""), ([1000, 1000], "stub", ""), ([1000, 1001], "stub", "too much copper: 2001 cmil"),
    ([500, 500], "stub", ""), ([500, 499], "stub", "too little copper: 999 cmil"),
])  # fmt: skip
def test_overfull_splice_by_area(monkeypatch: pytest.MonkeyPatch, areas: list[float], style: str, words: str) -> None:
    found = filled(monkeypatch, areas, 1000, 2000, style)
    if not words:
        assert found is None
        return
    verdict, _, area = words.partition(": ")
    assert isinstance(found, Finding)
    assert found.headline.startswith(
        f"{verdict} for splice SP1: {area} in one end of S1, which takes 1000 to 2000 cmil"
    )
    assert found.value.startswith(area)
    assert found.value.endswith(
        "all wires enter one end" if style == "stub" else "no other way to divide the wires is better"
    )


@pytest.mark.parametrize(("count", "high", "said"), [
    (12, 1950, None),  # six of 325 in each end
    (12, 1949, Finding),  # every way has been tried: seven in one end or six, both too much
    (13, 2275, None),  # the even way fits: seven of 325 in one end
    (13, 2274, NotChecked),  # 4225 in all would go into twice 2274: another way might fit, and nobody has tried
    (13, 2112.5, NotChecked),
    (13, 2112, Finding),  # twice 2112 are less than all of it, whatever the way
])  # fmt: skip
def test_overfull_splice_of_more_wires_than_are_divided(
    monkeypatch: pytest.MonkeyPatch, count: int, high: float, said: type | None
) -> None:
    found = filled(monkeypatch, [325.0] * count, 100, high)
    assert found is None if said is None else isinstance(found, said)


# -- wire-outside-seal-range ---------------------------------------------------------------------------------------


def sealed(
    monkeypatch: pytest.MonkeyPatch,
    low: float,
    high: float,
    source: Source = FIRM,
    seal: bool = True,
    contact: str = "K1",
) -> Any:  # fmt: skip
    """A wire of ``low`` to ``high`` millimetres in a seal for 1 to 2 mm."""
    wire = Wire("W1", Point("P1", "1"), Point("P2", "1"), NEW)
    size = wire_outside_seal_range._Size(Range(low / 1000, high / 1000), (Fact("x", source),), "X-22")
    monkeypatch.setattr(wire_outside_seal_range, "_size", lambda *_: size if low else "the type is not stated")
    span = (Range(0.001, 0.002), Fact("s", FIRM)) if seal else None
    monkeypatch.setattr(wire_outside_seal_range, "_seal", lambda *_: span)
    half = Connector("P1", Place("P1"), NEW)
    return wire_outside_seal_range._verdict(SimpleNamespace(), half, contact, [(wire, Point("P1", "1"))])  # type: ignore[arg-type]


@pytest.mark.parametrize(("low", "high", "too"), [
    (1.0, 2.0, ""), (1.5, 1.5, ""), (0.99, 1.5, "thin"), (1.5, 2.01, "thick"), (0.9, 2.1, "thick"), (0.5, 0.9, "thin"),
    (2.1, 2.2, "thick"),
])  # fmt: skip
def test_wire_outside_seal_range_of_a_confirmed_size(
    monkeypatch: pytest.MonkeyPatch, low: float, high: float, too: str
) -> None:
    found = sealed(monkeypatch, low, high)
    if not too:
        assert found is FIRM
        return
    assert f"is too {too} for the wire seal (1.00 mm to 2.00 mm)" in found.headline
    assert found.remedy.startswith("take a wire with thinner" if too == "thick" else "take a wire with thicker")
    assert found.limit == "1.00 mm to 2.00 mm (contact K1)"


@pytest.mark.parametrize(("low", "high", "sure"), [
    # A recalled diameter may be out by 5 %: 1.06 less 5 % is 1.007, 1.05 less 5 % is 0.9975; 1.90 and 5 % are 1.995.
    (1.06, 1.5, True), (1.05, 1.5, False), (1.5, 1.9, True), (1.5, 1.91, False), (1.06, 1.9, True), (1.05, 1.91, False),
])  # fmt: skip
def test_wire_outside_seal_range_of_a_recalled_size(
    monkeypatch: pytest.MonkeyPatch, low: float, high: float, sure: bool
) -> None:
    found = sealed(monkeypatch, low, high, SOFT)
    if sure:
        assert found is SOFT
    else:
        assert "by an unconfirmed value, too near to the seal range 1.00 mm to 2.00 mm to tell" in found[0]


@pytest.mark.parametrize(("low", "seal", "contact", "missing"), [
    (0, True, "K1", "the type is not stated"), (0, False, "K1", "the type is not stated"),
    (1.5, False, "K1", "the insulation that the seal for contact K1 takes is not known"),
    (1.5, False, "", "the insulation that the seal for the contacts of P1 takes is not known"),
    (1.5, False, "none", "the insulation that the seal for the contacts of P1 takes is not known"),
])  # fmt: skip
def test_wire_outside_seal_range_what_is_missing(
    monkeypatch: pytest.MonkeyPatch, low: float, seal: bool, contact: str, missing: str
) -> None:
    assert sealed(monkeypatch, low, low, seal=seal, contact=contact)[0] == missing


@pytest.mark.parametrize(("more", "kind"), [
    ({"type": "X-22"}, "X-22"), ({"type": "X-22", "cable": "C1"}, "X-22"), ({"gauge": Gauge(awg=22)}, "22 AWG"),
    ({"cable": "C1", "gauge": Gauge(awg=22)}, "core of CT 22 AWG"),
    ({"cable": "C2", "gauge": Gauge(awg=22)}, "core of C2 22 AWG"),
    ({"cable": "C1", "core": "drain"}, "shield of CT None"), ({"cable": "C9", "gauge": Gauge(awg=22)}, "22 AWG"),
])  # fmt: skip
def test_wire_outside_seal_range_kinds_of_wire(more: dict[str, Any], kind: str) -> None:
    cables = {"C1": Cable("C1", Place("C1"), NEW, type="CT"), "C2": Cable("C2", Place("C2"), NEW)}
    stub: Any = SimpleNamespace(cables=cables)
    assert wire_outside_seal_range._kind(stub, Wire("W1", Point("A"), Point("B"), NEW, **more)) == kind


@pytest.mark.parametrize(("wire", "half", "kind", "contact", "sealed", "ours"), [
    (NEW, OLD, None, None, False, True), (OLD, NEW, None, None, False, True), (NEW, NEW, None, None, False, True),
    (OLD, OLD, "X", "K1", True, True), (OLD, OLD, None, "K1", True, False), (OLD, OLD, "X", None, True, False),
    (OLD, OLD, "X", "K1", False, False), (OLD, OLD, "X", "-", True, False),
])  # fmt: skip
def test_wire_outside_seal_range_what_is_looked_at(
    wire: Origin, half: Origin, kind: str | None, contact: str | None, sealed: bool, ours: bool
) -> None:
    """New things always; of the aircraft's own only where wire, contact and seal are stated. ``-``: no such cavity."""
    point = Point("P1", "1")
    cavity = None if contact == "-" else Cavity(point, Place("c"), contact=contact)
    stub: Any = SimpleNamespace(cavity=lambda _: cavity)
    one = Connector("P1", Place("P1"), half, facts={"sealed": Fact("yes", FIRM)} if sealed else {})
    assert wire_outside_seal_range._ours(stub, Wire("W1", point, Point("B"), wire, type=kind), one, point) is ours


# -- exchangeable-plugs --------------------------------------------------------------------------------------------


def half(ref: str, said: str, zone: str | None = "wing", source: Source = FIRM) -> Connector:
    """Family, insert, key, gender, style; a point: not known."""
    names = ("family", "insert", "key", "gender", "style")
    facts = {name: Fact(value, source) for name, value in zip(names, said.split(), strict=True) if value != "."}
    return Connector(ref, Place(ref), NEW, facts=facts, zone=zone)


ONE = "III 9-35 N pin plug"


@pytest.mark.parametrize(("other", "zone", "found"), [
    ("III 9-35 N socket receptacle", "wing", []),  # it can be plugged in there
    ("iii 9-35 N socket receptacle", "wing", []),
    ("III 9-35 N pin receptacle", "wing", FIRM), ("III 9-35 A socket receptacle", "wing", FIRM),
    ("III 9-98 N socket receptacle", "wing", FIRM), ("I 9-35 N socket receptacle", "wing", FIRM),
    ("III 9-35 N socket plug", "wing", FIRM),
    ("III 9-35 N socket .", "wing", []),  # the style need not be known
    ("III 9-35 . socket receptacle", "wing", [("P2", "key")]),
    (". 9-35 N socket receptacle", "wing", [("P2", "family")]),
    ("III . . socket receptacle", "wing", [("P2", "insert"), ("P2", "key")]),
    ("III 9-35 N . receptacle", "wing", [("P2", "gender")]), ("III 9-35 A . receptacle", "wing", FIRM),
    ("D-sub 9-35 . socket receptacle", "wing", FIRM),
    ("III 9-35 N socket receptacle", None, [("P2", "zone")]), ("III 9-35 A socket receptacle", None, FIRM),
])  # fmt: skip
def test_exchangeable_plugs_what_keeps_two_apart(other: str, zone: str | None, found: Any) -> None:
    first, second = half("P1", ONE), half("P2", other, zone)
    stub: Any = SimpleNamespace(connectors={"P1": first, "P2": second}, mate_of=lambda _: None)
    assert exchangeable_plugs._apart(stub, first, second) == found


def test_exchangeable_plugs_what_is_firm_keeps_apart_before_what_is_recalled() -> None:
    stub: Any = SimpleNamespace(connectors={}, mate_of=lambda _: None)
    first, second = half("P1", ONE), half("P2", "I 9-35 N pin receptacle")
    soft = Connector("P3", Place("P3"), NEW, zone="wing", facts={**second.facts, "family": Fact("I", SOFT)})
    assert exchangeable_plugs._apart(stub, first, soft) is FIRM  # the family is recalled, the gender is not
    all_soft = half("P4", "I 9-35 N pin receptacle", source=SOFT)
    assert exchangeable_plugs._apart(stub, first, all_soft) is SOFT
    bare = half("P5", "D-sub DE-9 . pin .")
    assert exchangeable_plugs._apart(stub, bare, half("P6", "D-sub DE-9 . socket .")) == []  # a D-sub has no key


@pytest.mark.parametrize(("ref", "joint"), [
    ("P1", "P1/J1"), ("J1", "P1/J1"), ("J101", "P1/J1"), ("P101", "P1/J1"), ("P5", "J5/P5"),
    ("J5", "J5/P5"), ("P9", "P9"),
])  # fmt: skip
def test_exchangeable_plugs_what_belongs_to_one_joint(ref: str, joint: str) -> None:
    """P1 and J1 are opened, J101 is plugged on P1 and P101 into J1; P5 and J5 are mated; P9 hangs loose."""
    mates = {"P1": "J101", "J101": "P1", "J1": "P101", "P101": "J1", "P5": "J5", "J5": "P5"}
    pairs = {"P1": ("P1", "J1"), "J1": ("P1", "J1")}
    stub: Any = SimpleNamespace(mate_of=mates.get, pair_of=pairs.get)
    assert exchangeable_plugs._joint(stub, half(ref, ONE)) == joint
