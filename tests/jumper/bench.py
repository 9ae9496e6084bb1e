"""A made-up aircraft of two connector halves, and a drawer of made-up parts, for kits that are worked out by hand.

Every figure is invented for the tests and round. P1 (pins) mates J1 (sockets); the kit's halves are then J101 and P101.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

from harnesscheck.circuit import Circuit
from harnesscheck.connector import Cavity, Connector, Mate, Origin, Use
from harnesscheck.device import Breaker, Device, Pin
from harnesscheck.harness import Harness, Kind
from harnesscheck.jumper.kit import Lead
from harnesscheck.jumper.trunk import Draft, Way
from harnesscheck.place import STOWED, Place, Point, split_point
from harnesscheck.units import Gauge
from harnesscheck.wire import Wire
from harnesscheck.zone import Zone
from tests.jumper.small import Made, Shelf, conductors

HERE = Place("here")
FITS = (0.0014, 0.0015)


class Listed(Made):
    """A part with facts that are lists."""

    def items(self, name: str) -> Any:
        return self._said(name)


def wires(*specs: str, sizes: tuple[int, ...] = (24, 22, 20, 18, 16)) -> dict[str, list[Made]]:
    """Specifications and their sizes, rated 200 C and 600 V."""
    rated: dict[str, Any] = {"temperature": 200.0, "volts": 600.0, "od": FITS, "weight": 0.007}
    numbers = [f"{spec}-{size}" for spec in specs for size in sizes]
    return {"wire": [Made(n, **rated) for n in (*specs, *numbers)], "wire_size": [Made(n) for n in numbers]}


def shelf(**more: list[Made]) -> Shelf:
    """The drawer. Contacts of size 20 take 24 to 20 AWG; a breaker of 5 A asks for 22 AWG, 7.5 for 20, 10 for 18."""
    rows = [Made(str(n), breaker=b, gauge=(n, n)) for n, b in ((22, 5.0), (20, 7.5), (18, 10.0))]
    kinds: dict[str, list[Made]] = {
        "conductor": conductors(),
        **wires("M22759/16", "M22759/34"),
        "wire_protection": rows,
        "cable": [
            Listed(f"M27500-22TG{n}{tail}", spec="M22759/16", gauge="22 AWG", cores=n, core_colours=("white", "blue"))
            for n in (1, 2)
            for tail in ("T14", "U00")
        ],
        "cable_size": [Made(f"M22759/16-22 x {n}", od=0.004) for n in (1, 2)],
        "splice": [
            Made("SMALL", cma=(0.2e-6, 0.8e-6), sealed=True, sleeve_length=0.030),
            Made("LARGE", cma=(0.4e-6, 2.4e-6), sealed=True, sleeve_length=0.040),
        ],
        "contact": [
            Listed("PIN20", gender="pin", size="20", family=("ROUND",), gauge=(24, 20), insulation=(0.0010, 0.0020),
                   insertion_tool=("IN1", "IN2"), removal_tool=("OUT1",)),
            Listed("SOCKET20", gender="socket", size="20", family=("ROUND",), gauge=(24, 20),
                   insulation=(0.0010, 0.0020), insertion_tool=("IN1",), removal_tool=("OUT1",)),
            Listed("SOCKET16", gender="socket", size="16", family=("ROUND",), gauge=(20, 16)),
        ],
        "connector": [
            Listed("R6P", family="ROUND", insert="SIX", gender="pin", sealed="yes"),
            Listed("R6S", family="ROUND", insert="SIX", gender="socket", sealed="yes"),
            Listed("BOX", family="ROUND", insert="SIX", gender="pin", sealed="no"),
            Listed("BOXPLUG", family="ROUND", insert="SIX", gender="socket", sealed="no"),
        ],
        "insert": [Listed("SIX", cavities=tuple("123456"), cavity_size="20")],
        "sealing_plug": [Listed("PLUG20", size=("20",), family=("ROUND",))],
    }  # fmt: skip
    return Shelf(**(kinds | more))


def circuit(name: str, signal: str | None, **more: Any) -> Circuit:
    """A circuit of the aircraft."""
    return Circuit(name, HERE, signal, **more)


def wire(ident: str, a: str, b: str, gauge: int | None = None, **more: Any) -> Wire:
    """A wire of the aircraft from one point to another."""
    one, two = split_point(a), split_point(b)
    assert one is not None and two is not None
    return Wire(ident, one, two, Origin.AIRFRAME, gauge=Gauge(awg=gauge) if gauge else None, **more)


def half(ref: str, cavities: Mapping[str, str | None], part: str | None, **more: Any) -> Connector:
    """A connector half: cavity to its circuit; ``spare`` is stated, None is not known."""
    contact = more.pop("contact", None)
    made = {
        name: Cavity(
            Point(ref, name), HERE, Use.SPARE if said == "spare" else Use.LIVE if said else Use.UNKNOWN,
            None if said == "spare" else said, contact,
        )
        for name, said in cavities.items()
    }  # fmt: skip
    return Connector(ref, HERE, Origin.AIRFRAME, part, cavities=made, **more)


def airframe(*listed: tuple[str, Circuit | None], drawer: Any = None, **more: Any) -> Harness:
    """An aircraft with these circuits through P1/J1, in the dry zone CABIN. CB1 has 5 A, CB2 10 A, CB3 not known."""
    names = {cavity: one.name if one else "spare" for cavity, one in listed}
    said: dict[str, Any] = {
        "connectors": {
            "P1": half("P1", names, "R6P", zone="CABIN", name="wing root", contact="PIN20"),
            "J1": half("J1", {}, "R6S", zone="CABIN", contact="SOCKET20"),
        },
        "mates": (Mate("P1", "J1", HERE),),
        "breakers": {
            ref: Breaker(ref, HERE, Origin.AIRFRAME, rating=rating)
            for ref, rating in (("CB1", 5.0), ("CB2", 10.0), ("CB3", None))
        },
        "zones": {"CABIN": Zone("CABIN", HERE, wet=False), "WING": Zone("WING", HERE, wet=True),
                  "TAIL": Zone("TAIL", HERE)},
        "circuits": {one.name: one for _, one in listed if one},
    }  # fmt: skip
    cavities = {name: Cavity(Point("J1", name), HERE, contact="SOCKET20") for name in names}
    said["connectors"]["J1"] = replace(said["connectors"]["J1"], cavities=cavities)
    made = said | more
    made["wires"] = {w.id: w for w in made.get("wires", ())}
    return Harness(Kind.AIRFRAME, "made up", drawer or shelf(), **made)


def box(unit: str, *pins: tuple[str, str, dict[str, Any]], **more: Any) -> Harness:
    """A unit with one receptacle J1: cavity, signal and what else is said of each pin; other pins by their cavity."""
    ref = f"{unit}J1"
    made = []
    for cavity, signal, said in pins:
        points = {key: Point(ref, said[key]) for key in ("returns", "loops") if key in said}
        made.append(Pin(Point(ref, cavity), HERE, f"PIN {cavity}", signal, **(said | points)))
    connector = half(ref, {cavity: None for cavity, _, _ in pins}, "BOX", **{"mating": "BOXPLUG", **more})
    device = Device(unit, HERE, Origin.EQUIPMENT, pins=tuple(made))
    return Harness(Kind.EQUIPMENT, unit, SimpleNamespace(), connectors={ref: connector}, devices={unit: device})  # type: ignore[arg-type]


def draft(air: Harness, boxes: tuple[Harness, ...], taps: Mapping[str, str], way: int = 500, **more: Any) -> Draft:
    """A draft with a margin of 100 mm; ``taps`` is equipment pin to cavity, every receptacle is ``way`` mm off."""
    pins = {point: cavity for pin, cavity in taps.items() if (point := split_point(pin)) is not None}
    ways = {point.ref: Way("along the spar", way, "CABIN") for point in pins}
    said: dict[str, Any] = {"ways": ways, "margin": 100, "reaches": {}} | more
    return Draft(air, boxes, ("P1", "J1"), pins, **said)


def told(lead: Lead) -> str:
    """A lead on one line: id, ends, length, bundle, gauge, type; then what else is said of it."""
    ends = ">".join("stowed" if point == STOWED else str(point) for point in (lead.a, lead.b))
    words = [lead.id, ends, str(lead.length), lead.bundle.replace(" ", "_"), str(lead.gauge and lead.gauge.awg)]
    words.append(lead.type or "-")
    words += [f"{lead.cable}:{lead.core}"] if lead.cable or lead.core else []
    more = {"colour": lead.colour, "bare": lead.untwisted, "alloy": lead.alloy, "stated": lead.state_gauge or None}
    return " ".join([*words, *(f"{name}={value}" for name, value in more.items() if value is not None)])


def rows(text: str) -> list[str]:
    """The lines of a text, blanks around and empty ones left out; in each one blank between words."""
    return [" ".join(line.split()) for line in text.splitlines() if line.strip()]
