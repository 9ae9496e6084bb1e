"""From validated entries to the frozen model: references resolved, defaults applied, part numbers looked up."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import fields, replace
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from harnesscheck import units
from harnesscheck.connector import Cavity, Connector, Mate, Origin, Use
from harnesscheck.device import Pin
from harnesscheck.document import Block, Document
from harnesscheck.fault import Fault, nearest, short
from harnesscheck.formats._schema import ConnectorEntry, WireEntry
from harnesscheck.parts import Fact
from harnesscheck.place import STOWED, Place, Point
from harnesscheck.source import Source, Status
from harnesscheck.wire import Wire

if TYPE_CHECKING:
    from harnesscheck.parts import Drawer, Part

_PIN = tuple(
    field.name for field in fields(Pin) if field.name not in ("point", "place", "required", "returns", "loops")
)
"""What a pin has under the same name in the file and in the model."""
_CIRCUIT_ALONE = frozenset({"circuit"})
_STATED = ("family", "insert", "gender", "style", "key", "shell", "sealed")


class Scope:
    """Every reference that a file may name, and what it is; one name means one thing in the whole job."""

    def __init__(self, outer: Scope | None = None) -> None:
        self.kinds: dict[str, str] = dict(outer.kinds) if outer else {}
        self.first: dict[str, str] = dict(outer.first) if outer else {}

    def add(self, ref: str, kind: str, where: Place) -> str:
        """Enter a reference. Returns a sentence when it is taken already, else an empty string."""
        if ref in self.kinds:
            return f"{ref} is used twice: first as {self.kinds[ref]} at {self.first[ref]}"
        self.kinds[ref] = kind
        self.first[ref] = where.where()
        return ""

    def of(self, *kinds: str) -> list[str]:
        """References of the given kinds."""
        return [ref for ref, kind in self.kinds.items() if kind in kinds]


class Builder:
    """Builds the parts of one file; collects faults instead of stopping at the first."""

    def __init__(self, document: Document, origin: Origin, scope: Scope, drawer: Drawer, unit: str = "") -> None:
        self.document = document
        self.origin = origin
        self.scope = scope
        self.drawer = drawer
        self.unit = unit
        self.faults: list[Fault] = []

    # -- places and faults -------------------------------------------------------------------------------------

    def place(self, label: str, *path: str) -> Place:
        """The place of the last key of ``path``."""
        here: Any = self.document.root
        mark: tuple[int, ...] = (1, 1)
        for key in path:
            if not isinstance(here, Block) or key not in here.marks:
                break
            mark = here.marks[key]
            here = here[key]
        return self.at(label, mark)

    def at(self, label: str, mark: tuple[int, ...]) -> Place:
        """A place by its line and column in the file being read, or in the one laid over it."""
        return Place(label, *self.document.origin(mark[0]), mark[1])

    def fault(self, message: str, remedy: str, *path: str) -> None:
        """A fault at the value of the last key of ``path``."""
        here, mark = self.document.root, (1, 1)
        for key in path:
            if not isinstance(here, Block) or key not in here.marks:
                break
            mark = here.marks[key][2:] if isinstance(here[key], str) else here.marks[key][:2]
            here = here[key]
        self.faults.append(self.document.fault(*mark, message, remedy))

    def fault_at_key(self, message: str, remedy: str, *path: str) -> None:
        """A fault at the last key of ``path`` itself, where the key is what is wrong."""
        at = self.place("", *path)
        assert at.document is not None
        self.faults.append(at.document.fault(at.line, at.column, message, remedy))

    def enter(self, kind: str, section: str, refs: Iterable[str]) -> None:
        """Enter the references of one section into the scope."""
        for ref in refs:
            name = self.unit + ref
            taken = self.scope.add(name, kind, self.place(name, section, ref))
            if taken:
                self.fault_at_key(taken, "give one of the two another name", section, ref)

    def known(self, ref: str, kinds: tuple[str, ...], *path: str, at_key: bool = False) -> bool:
        """True when ``ref`` names something of one of the kinds; else a fault with the nearest name."""
        kind = self.scope.kinds.get(ref)
        if kind in kinds:
            return True
        choices = self.scope.of(*kinds)
        what = " or ".join(kinds)
        said = f"{ref} is {_a(kind)}, not {_a(what)}" if kind else f"nothing is called {short(ref)} ({what})"
        listed = f"the {what} names here are: {', '.join(choices[:12])}" if choices else f"declare the {what} first"
        (self.fault_at_key if at_key else self.fault)(said, (not kind and nearest(ref, choices)) or listed, *path)
        return False

    # -- connectors --------------------------------------------------------------------------------------------

    def connectors(
        self, entries: Mapping[str, ConnectorEntry], wired: Mapping[str, dict[str, None]]
    ) -> dict[str, Connector]:
        """Connectors by reference. ``wired`` gives the cavities where wires end, by reference."""
        return {
            self.unit + ref: self.connector(ref, entry, wired.get(self.unit + ref, {}))
            for ref, entry in entries.items()
        }

    def connector(self, typed: str, entry: ConnectorEntry, wired: dict[str, None]) -> Connector:
        """One connector with all its cavities: those of the insert, and those that the file mentions."""
        ref = self.unit + typed
        part = self.drawer.get("connector", entry.part) if entry.part else None
        facts = self._connector_facts(typed, entry, part)
        insert = facts.get("insert")
        record = self.drawer.get("insert", str(insert.value)) if insert else None
        names = record.items("cavities") if record else None
        mentioned = [*entry.cavities, *entry.pins]
        listed = dict.fromkeys([*names, *mentioned] if names is not None else [*mentioned, *wired])
        place = self.place(ref, "connectors", typed)
        marks = self._marks(typed)
        cavities = {name: self._cavity(typed, name, entry, name in wired, marks.get(name, place)) for name in listed}
        return Connector(
            ref=ref,
            place=place,
            origin=self.origin,
            part=entry.part,
            name=entry.name,
            zone=entry.zone,
            names=tuple(names) if names is not None else None,
            cavities=MappingProxyType(cavities),
            facts=MappingProxyType(facts),
            fitted=entry.fitted,
            mating=entry.mating,
            note=entry.note,
            marking=entry.marking,
            route=entry.route,
        )

    def _connector_facts(self, typed: str, entry: ConnectorEntry, part: Part | None) -> dict[str, Fact]:
        facts: dict[str, Fact] = {}
        for name in _STATED:
            from_part = part.fact(name) if part else None
            value = getattr(entry, name)
            if value is None:
                if from_part is not None:
                    facts[name] = from_part
                continue
            said = ("yes" if value else "no") if isinstance(value, bool) else str(value)
            if from_part is not None and from_part.source.firm and from_part.value != said:
                self.fault(
                    f"{name} {said} is stated, but {entry.part} has {name} {from_part.value}",
                    f"correct the {name} or the part number; source: {from_part.source}",
                    *("connectors", typed, name),
                )
            file = self.place("", "connectors", typed, name).file
            facts[name] = Fact(said, Source(file, Status.STATED, paragraph=f"{typed} {name}"))
        return facts

    def _marks(self, typed: str) -> dict[str, tuple[int, int, int, int]]:
        """Cavity name to the line and column that says something of it."""
        block = self.document.root["connectors"][typed]
        return {
            name: mark
            for section in ("cavities", "pins")
            if isinstance(own := block.get(section), Block)
            for name, mark in own.marks.items()
        }

    def _cavity(
        self, typed: str, name: str, entry: ConnectorEntry, wired: bool, mark: Place | tuple[int, ...]
    ) -> Cavity:
        ref = self.unit + typed
        point = Point(ref, name)
        said = entry.cavities.get(name)
        pin = entry.pins.get(name) if entry.pins else None
        # A cavity that no line of the file mentions has the place of its connector.
        label = f"{ref}-{name}"
        place = replace(mark, label=label) if isinstance(mark, Place) else self.at(label, mark)
        if said is not None and pin is None and said.model_fields_set == _CIRCUIT_ALONE:
            # Nearly all of them: "3: CAN H", and nothing else about it.
            return Cavity(point, place, Use.LIVE, said.circuit, entry.contacts)
        use = Use.UNKNOWN
        if wired or (said and (said.circuit or said.use == "live")) or (pin and pin.connect):
            use = Use.LIVE
        elif (said and said.use == "spare") or pin or (self.origin is Origin.JUMPER and said is None):
            # A jumper file lists every wire there is: a cavity without one is spare by declaration.
            use = Use.SPARE
        if said and said.use == "spare" and (wired or said.circuit):
            self.fault(
                f"{point} is called spare but carries a wire or circuit",
                "remove one of the two",
                *("connectors", typed, "pins" if pin else "cavities", name),
            )
        contact = (said.contact if said else None) or (pin.contact if pin else None)
        plug = said.plug if said else None
        if contact is None and use is Use.LIVE:
            contact = entry.contacts
        if plug is None and use is Use.SPARE:
            plug = entry.plugs
        note = (said.note if said else "") or (pin.note if pin else "")
        gauge, breaker = (said.gauge, said.breaker) if said else (None, None)
        grounded, terminated = (said.grounded, said.terminated) if said else (None, None)
        circuit = said.circuit if said else None
        return Cavity(point, place, use, circuit, contact, plug, note, gauge, breaker, grounded, terminated)

    def pins(self, entries: Mapping[str, ConnectorEntry]) -> tuple[Pin, ...]:
        """What the equipment wants on each pin."""
        pins = []
        for typed, entry in entries.items():
            for name, pin in entry.pins.items():
                point = Point(self.unit + typed, name)
                place = self.place(str(point), "connectors", typed, "pins", name)
                same = {key: getattr(pin, key) for key in _PIN}
                pins.append(
                    Pin(
                        point=point,
                        place=place,
                        required=pin.required and pin.connect,
                        returns=self._other(typed, name, "returns", pin.returns, entry),
                        loops=self._looped(typed, name, pin.loops, entry),
                        **same,
                    )
                )
        return tuple(pins)

    def _looped(self, typed: str, name: str, said: str | None, entry: ConnectorEntry) -> Point | None:
        """The pin that a pin is joined to inside the unit: of the same class and line, or it would be a short."""
        other = self._other(typed, name, "loops", said, entry)
        if other is None:
            return None
        one, two = entry.pins[name], entry.pins[other.cavity]
        if (one.signal, one.line) != (two.signal, two.line):
            self.fault(
                f"{typed}-{name} and {typed}-{said} are not of one signal and line, so they cannot be joined inside",
                "name the pin of the same signal and line",
                *("connectors", typed, "pins", name, "loops"),
            )
            return None
        return other

    def _other(self, typed: str, name: str, key: str, said: str | None, entry: ConnectorEntry) -> Point | None:
        """Another pin that a pin names, which must be one of the same receptacle."""
        if said is None:
            return None
        if said not in entry.pins or said == name:
            others = [other for other in entry.pins if other != name]
            self.fault(
                f"{typed} has no other pin {short(said)}",
                nearest(said, others) or f"the pins are: {', '.join(others[:15])}",
                *("connectors", typed, "pins", name, key),
            )
            return None
        return Point(self.unit + typed, said)

    def mates(self, entries: Mapping[str, ConnectorEntry]) -> tuple[Mate, ...]:
        """Mated pairs, each once; a half plugged into two others is a fault."""
        pairs: dict[frozenset[str], Mate] = {}
        taken: dict[str, str] = {}
        for typed, entry in entries.items():
            ref = self.unit + typed
            if entry.mates is None or not self.known(entry.mates, ("connector",), "connectors", typed, "mates"):
                continue
            key = frozenset((ref, entry.mates))
            if key in pairs:
                continue
            busy = next(
                (f"{half} is already mated with {taken[half]}" for half in (ref, entry.mates) if half in taken), ""
            )
            if busy or len(key) == 1:
                self.fault(
                    busy or f"{ref} cannot mate with itself",
                    "one half mates with one other",
                    "connectors",
                    typed,
                    "mates",
                )
                continue
            taken[ref], taken[entry.mates] = entry.mates, ref
            pairs[key] = Mate(ref, entry.mates, self.place(f"{ref}/{entry.mates}", "connectors", typed, "mates"))
        return tuple(pairs.values())

    # -- wires -------------------------------------------------------------------------------------------------

    def wires(self, entries: Mapping[str, WireEntry], cables: Mapping[str, object]) -> dict[str, Wire]:
        """Wires by id; ends must name something that exists."""
        marks = self.document.root["wires"].marks if entries else {}
        result: dict[str, Wire] = {}
        sizes: dict[object, tuple[units.Gauge | None, str | None]] = {}
        for name, entry in entries.items():
            for key, end in (("from", entry.start), ("to", entry.end)):
                self._end(name, key, end)
            if entry.start == entry.end:
                self.fault(
                    f"wire {name} ends where it starts, at {entry.start}", "correct one end", "wires", name, "to"
                )
            if entry.cable is not None and entry.cable not in cables:
                choices = list(cables)
                listed = f"the cables are: {', '.join(choices)}" if choices else "declare it under cables:"
                self.fault(
                    f"there is no cable {entry.cable!r}",
                    nearest(entry.cable, choices) or listed,
                    "wires",
                    name,
                    "cable",
                )
            cable = cables.get(entry.cable) if entry.cable is not None else None
            same = (entry.type, entry.gauge, entry.colour, entry.core, getattr(cable, "type", None))
            sized = sizes.get(same)
            if sized is None:
                before = len(self.faults)
                sized = self._size(name, entry, cables)
                if len(self.faults) == before:  # a contradiction is said of each wire
                    sizes[same] = sized
            gauge, colour = sized
            line, column = marks[name][:2]
            document, line = self.document.origin(line)
            result[name] = Wire(
                name,
                _own(entry.start, name),
                _own(entry.end, name),
                self.origin,
                entry.type,
                gauge,
                colour,
                entry.length if entry.length is not None else getattr(cable, "length", None),
                entry.cable,
                entry.core,
                entry.note,
                document,
                line,
                column,
                entry.mark,
                entry.bundle if entry.bundle is not None else getattr(cable, "bundle", None),
                entry.route if entry.route is not None else getattr(cable, "route", None),
                entry.untwisted,
                entry.alloy,
            )
        return result

    def _end(self, name: str, key: str, end: Point) -> None:
        kind = self.scope.kinds.get(end.ref)
        if end == STOWED or (kind == "connector" and end.cavity):
            return
        path = ("wires", name, key)
        if kind is None:
            self.known(end.ref, ("connector", "splice", "ground", "breaker", "bus"), *path)
        elif kind == "connector":
            self.fault(
                f"{end} names a connector but no cavity", f"write {end.ref}-1, with the cavity after the dash", *path
            )
        elif kind == "breaker":
            if end.cavity not in ("line", "load"):
                self.fault(
                    f"{end} is not a breaker terminal", f"write {end.ref}-line (bus side) or {end.ref}-load", *path
                )
        elif end.cavity:
            self.fault(f"{end.ref} is a {kind} and has no cavities", f"write {end.ref} alone", *path)

    def _size(self, name: str, entry: WireEntry, cables: Mapping[str, object]) -> tuple[units.Gauge | None, str | None]:
        gauge, colour = entry.gauge, entry.colour
        cable_type = getattr(cables.get(entry.cable or ""), "type", None)
        record = self.drawer.get("wire", entry.type) if entry.type else None
        if record is None and cable_type and entry.core not in ("shield", "drain"):
            record = self.drawer.get("cable", cable_type)
        if record is not None:
            number = entry.type or cable_type
            said = record.text("gauge")
            if said and gauge is None:
                gauge = units.gauge(said)
            elif said and units.gauge(said) != gauge:
                self.fault(
                    f"gauge {gauge} is stated, but {number} is {said}",
                    "correct the gauge or the type",
                    "wires",
                    name,
                    "gauge",
                )
            colour = colour or (record.text("digits") if record.kind == "wire" else None)
        if colour is None and entry.core not in ("shield", "drain"):
            colour = entry.core
        return gauge, colour


def _a(words: str) -> str:
    return f"{'an' if words[0] in 'aeiou' else 'a'} {words}"


def _own(end: Point, wire: str) -> Point:
    """A stowed end is a point of its own: two stowed ends are not one piece of copper."""
    return Point("", wire) if end == STOWED else end


def cavities_wired(wires: Iterable[WireEntry], is_connector: Callable[[str], bool]) -> dict[str, dict[str, None]]:
    """Cavities where wires end, by reference, in file order."""
    wired: dict[str, dict[str, None]] = {}
    for wire in wires:
        for end in (wire.start, wire.end):
            if is_connector(end.ref):
                wired.setdefault(end.ref, {})[end.cavity] = None
    return wired
