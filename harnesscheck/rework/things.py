"""A harness as a list of plain statements, so that two can be compared without a word left out.

Every record becomes one thing: its kind in trade words, its name, and what is said of it. Names of other things inside
a statement are marked (``Named``), so that a thing that only has another name can be told from another thing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields
from typing import Any

from harnesscheck.connector import Cavity, Origin, Use
from harnesscheck.harness import Harness
from harnesscheck.place import Point, split_point

REF, WIRE, CABLE, CIRCUIT, ZONE, ROUTE = "ref", "wire", "cable", "circuit", "zone", "route"


@dataclass(frozen=True, slots=True)
class Named:
    """The name of a thing inside a statement. ``rest`` is the cavity of a point, ``stowed`` for a stowed end."""

    space: str
    """Which names it is one of: references, wires, cables, circuits, zones, routes."""
    name: str
    rest: str = ""

    def __str__(self) -> str:
        if self.space == WIRE and self.rest:
            return f"stowed end of {self.name}"
        return f"{self.name}-{self.rest}" if self.rest else self.name


@dataclass(frozen=True, slots=True)
class Key:
    """What a thing is called: kind and name, both may hold names of other things."""

    kind: str
    name: tuple[str | Named, ...]

    def __str__(self) -> str:
        if self.kind == "mate":
            return "/".join(str(one) for one in self.name)
        return " ".join(str(one) for one in self.name)


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing and what is said of it; what is not said is left out."""

    key: Key
    said: Mapping[str, Any]
    ours: bool
    """True for what the kit brings."""


SPACES = {
    "connector": REF, "splice": REF, "ground stud": REF, "breaker": REF, "bus": REF, "unit": REF, "source": REF,
    "wire": WIRE, "cable": CABLE, "circuit": CIRCUIT, "zone": ZONE, "route": ROUTE,
}  # fmt: skip
"""Kinds of things that have names of their own, which other things use."""
_TABLES = (
    ("connector", "connectors"), ("cable", "cables"), ("wire", "wires"), ("splice", "splices"),
    ("ground stud", "grounds"), ("breaker", "breakers"), ("bus", "buses"), ("source", "sources"), ("load", "loads"),
    ("unit", "devices"), ("circuit", "circuits"), ("zone", "zones"), ("route", "routes"), ("stock", "stock"),
    ("limit", "overrides"),
)  # fmt: skip
_POINTS = frozenset({("wire", "a"), ("wire", "b"), ("pin", "returns")})
_SPACE_OF = {
    ("wire", "cable"): CABLE, ("wire", "route"): ROUTE, ("cable", "route"): ROUTE, ("connector", "zone"): ZONE,
    ("connector", "route"): ROUTE, ("splice", "zone"): ZONE, ("splice", "at_ref"): REF, ("breaker", "bus"): REF,
    ("source", "bus"): REF, ("load", "bus"): REF, ("load", "breaker"): REF, ("circuit", "breaker"): REF,
    ("circuit", "redundant"): CIRCUIT, ("cavity", "circuit"): CIRCUIT, ("cavity", "breaker"): REF,
    ("route", "zone"): ZONE,
}  # fmt: skip
_EITHER = frozenset({("circuit", "returns"), ("circuit", "shields")})
"""Holds the name of a circuit, or something else: a stud, a pair."""
_OWN_NAME = {"circuit": "name", "zone": "name", "route": "name", "load": "name", "stock": "type", "revision": "letter"}
"""The field that is the name of the thing itself."""
_DERIVED = frozenset({"place", "document", "line", "column", "names", "cavities", "facts", "ref", "id", "point", "pins",
                      "settings", "use", "check"})  # fmt: skip
"""Where a thing was typed is no difference; what is said in a thing of its own is compared there."""


def things(harness: Harness, boxes: Sequence[Harness] = ()) -> dict[Key, Thing]:
    """Everything a harness says, by key, in the order of the files. ``boxes``: the equipment files on their own."""
    found = [*_heads(harness, boxes)]
    for kind, table in _TABLES:
        for name, record in getattr(harness, table).items():
            key = Key(kind, (Named(SPACES[kind], name) if kind in SPACES else name,))
            said = _record(harness, kind, record)
            if kind == "connector":
                said |= {word: fact.value for word, fact in record.facts.items()}
            found.append(Thing(key, said, _ours(record)))
    for connector, cavity in harness.cavities():
        said = _cavity(harness, cavity)
        if said:
            found.append(Thing(Key("cavity", (_point(cavity.point),)), said, connector.origin is Origin.JUMPER))
    for mate in harness.mates:
        pair = tuple(Named(REF, ref) for ref in sorted((mate.a, mate.b)))
        ours = any(_ours(harness.connectors.get(ref)) for ref in (mate.a, mate.b))
        found.append(Thing(Key("mate", pair), {}, ours))
    for device in harness.devices.values():
        for pin in device.pins:
            found.append(Thing(Key("pin", (_point(pin.point),)), _record(harness, "pin", pin), False))
        for setting in device.settings:
            key = Key("setting", (Named(REF, device.ref), setting.name))
            found.append(Thing(key, {"set": setting.value, "how": setting.how}, False))
    found += _papers(harness)
    return {thing.key: thing for thing in found}


def _heads(harness: Harness, boxes: Sequence[Harness]) -> Iterator[Thing]:
    for what, one in (("job", harness), ("airframe", harness.before), *(("equipment", box) for box in boxes)):
        if one is None:
            continue
        name = next(iter(one.devices), "") if what == "equipment" else ""
        words = ("title", "revision", "note", "effectivity", "mass") if what == "job" else ("title", "revision", "note")
        said = {word: getattr(one, word) for word in words if getattr(one, word) not in (None, "")}
        if what == "job" and one.opened:
            said["opens"] = tuple(Named(REF, ref) for ref in sorted(one.opened))
        yield Thing(Key(what, (Named(REF, name),) if name else ("file",)), said, what == "job")


def _papers(harness: Harness) -> Iterator[Thing]:
    """Taps, kit, papers, decisions, and what the shop has confirmed of parts."""
    for point, tap in harness.taps.items():
        yield Thing(Key("tap", (_point(point),)), {"circuit": Named(CIRCUIT, tap.circuit)}, True)
    for kind, word, table in (
        ("spare contact", "number", harness.spare_contacts),
        ("site tool", "", dict.fromkeys(harness.site_tools, "packed")),
        ("cutting allowance", "length", harness.allowances),
        ("labour", "time", harness.labour),
    ):
        for name, value in table.items():
            yield Thing(Key(kind, (name,)), {word: value}, True)
    if harness.aircraft is not None:
        yield Thing(Key("aircraft", ("data",)), _record(harness, "aircraft", harness.aircraft), False)
    for revision in harness.revisions:
        yield Thing(Key("revision", (revision.letter,)), _record(harness, "revision", revision), True)
    for waiver in harness.waivers:
        where = split_point(waiver.at)
        at = waiver.at if where is None else _point(where)
        yield Thing(Key("waiver", (waiver.check, at)), _record(harness, "waiver", waiver), True)
    for kind, number, said in harness.drawer.stated():
        yield Thing(Key("shop's part", (f"{kind} {number}",)), said, True)


def _record(harness: Harness, kind: str, record: Any) -> dict[str, Any]:
    found = {}
    for field in fields(record):
        value = getattr(record, field.name)
        if field.name in _DERIVED or value is None or value == "" or field.name == _OWN_NAME.get(kind):
            continue
        word = (kind, field.name)
        if word in _POINTS:
            value = _point(value)
        elif word in _SPACE_OF:
            value = Named(_SPACE_OF[word], value)
        elif word in _EITHER and value in harness.circuits:
            value = Named(CIRCUIT, value)
        elif word in _EITHER and value in harness.grounds:
            value = Named(REF, value)
        found[field.name] = value
    return found


def _cavity(harness: Harness, cavity: Cavity) -> dict[str, Any]:
    """What is said of a cavity; nothing for a bare one, and nothing of a wire that ends in it, for the wire says it."""
    said = _record(harness, "cavity", cavity)
    if cavity.use is Use.SPARE:
        said["use"] = "spare"
    elif cavity.use is Use.LIVE and not cavity.circuit and not harness.wires_at(cavity.point):
        said["use"] = "in use"
    return said


def _point(point: Point) -> Named:
    return Named(REF, point.ref, point.cavity) if point.ref else Named(WIRE, point.cavity, "stowed")


def _ours(record: Any) -> bool:
    return getattr(record, "origin", Origin.AIRFRAME) is Origin.JUMPER
