"""The YAML files of a job (airframe, equipment, jumper) to a ``Job``."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from pydantic import ValidationError

from harnesscheck.circuit import SIGNALS, Circuit, Tap
from harnesscheck.connector import Mate, Origin
from harnesscheck.decision import Override, Waiver
from harnesscheck.device import Breaker, Bus, Device
from harnesscheck.document import Document, inside, read
from harnesscheck.fault import Fault, InputError
from harnesscheck.formats import _schema as schema
from harnesscheck.formats._build import Builder, Scope, cavities_wired
from harnesscheck.formats._faults import nearest, schema_faults
from harnesscheck.harness import Harness, Kind, install
from harnesscheck.job import Job
from harnesscheck.parts import open_drawer
from harnesscheck.place import Place, Point
from harnesscheck.splice import Ground, Splice
from harnesscheck.wire import Cable
from harnesscheck.zone import Route, Zone

if TYPE_CHECKING:
    from harnesscheck.parts import Drawer

SUFFIXES = (".yaml", ".yml")
_F = TypeVar("_F", schema.AirframeFile, schema.EquipmentFile, schema.JumperFile)


def reads(path: Path) -> bool:
    """True when this format is the one for ``path``."""
    return path.suffix.lower() in SUFFIXES


def load(path: Path, name: str) -> Job:
    """Read a job file and everything it names. Raises ``InputError`` with all faults found."""
    document = read(path, name)
    root = path.resolve().parent
    kind = document.root.get("kind")
    if kind == "jumper":
        return _jumper(document, root)
    if kind == "airframe":
        airframe = _Reader(document, root).airframe()
        return Job(path, name, airframe, airframe=airframe)
    if kind == "equipment":
        box = _Reader(document, root).equipment("")
        return Job(path, name, box, equipment=(box,))
    raise InputError([_wrong_kind(document, kind)])


def _wrong_kind(document: Document, kind: Any) -> Fault:
    words = ("airframe", "equipment", "jumper", "parts")
    if kind is None:
        return document.fault(
            1, 1, "this file does not say what it is", "start it with 'kind: jumper' (or airframe, equipment)"
        )
    if kind == "parts":
        return document.fault(1, 1, "this is a parts file", "name the jumper, airframe or equipment file that uses it")
    mark = document.root.marks["kind"]
    remedy = (nearest(kind, words) if isinstance(kind, str) else "") or "write airframe, equipment or jumper"
    return document.fault(mark[2], mark[3], f"unknown kind of file {str(kind)[:40]!r}", remedy)


class _Reader:
    """Reads one file of a job."""

    def __init__(
        self, document: Document, root: Path, drawer: Drawer | None = None, scope: Scope | None = None
    ) -> None:
        self.document = document
        self.root = root
        self.scope = Scope(scope)
        self.drawer = drawer or open_drawer(self.shop_parts())

    def shop_parts(self) -> Document | None:
        """The shop's own parts file that this file names."""
        if not isinstance(self.document.root.get("parts"), str):
            return None
        return self.named_file("parts", self.document.root["parts"])

    def named_file(self, *path: str) -> Document:
        """Read a file that this file names at ``path`` (the last part is the text typed)."""
        *keys, typed = path
        assert self.document.path is not None
        target = inside(self.root, self.document.path.resolve().parent, typed)
        if isinstance(target, str):
            here: Any = self.document.root
            mark = (1, 1, 1, 1)
            for key in keys:
                mark, here = here.marks[key], here[key]
            message = f"{' '.join(keys)} {typed!r}: {target}"
            raise InputError([self.document.fault(mark[2], mark[3], message, "name a file in this folder or below it")])
        shown = str(Path(self.document.name).parent / typed)
        return read(target, shown)

    def valid(self, model: type[_F]) -> _F:
        """The file as typed entries. Raises ``InputError`` with every fault of the schema."""
        try:
            return model.model_validate(self.document.root)
        except ValidationError as error:
            raise InputError(schema_faults(self.document, error, model)) from None

    def builder(self, origin: Origin, unit: str = "") -> Builder:
        return Builder(self.document, origin, self.scope, self.drawer, unit)

    def top(self, file: Any, kind: Kind) -> dict[str, Any]:
        """What every harness takes from the head of its file."""
        place = Place(kind, self.document, 1, 1)
        at = self.builder(Origin.AIRFRAME).place
        overrides = {
            name: Override(name, o.value, o.reason, o.by, at(name, "limits", name)) for name, o in file.limits.items()
        }
        marks = self.document.root["waivers"].marks if file.waivers else []
        waivers = tuple(
            Waiver(w.check, w.at, w.reason, w.by, w.date, Place(w.at, self.document, *mark))
            for w, mark in zip(file.waivers, marks, strict=True)
        )
        return {
            "kind": kind,
            "title": file.title,
            "revision": file.revision,
            "note": file.note,
            "place": place,
            "drawer": self.drawer,
            "overrides": overrides,
            "waivers": waivers,
        }

    def equipment(self, unit: str) -> Harness:
        """The equipment as a harness; ``unit`` is the designator put before its references (A12J1)."""
        file = self.valid(schema.EquipmentFile)
        build = self.builder(Origin.EQUIPMENT, unit)
        build.enter("connector", "connectors", file.connectors)
        connectors = build.connectors(file.connectors, {})
        for ref, entry in file.connectors.items():
            if entry.mates is not None:
                build.fault(
                    "the equipment file does not know what it is mated with",
                    "put mates: into the jumper file",
                    "connectors",
                    ref,
                    "mates",
                )
        device = Device(
            unit or "equipment",
            Place(unit, self.document, 1, 1),
            Origin.EQUIPMENT,
            file.title,
            build.pins(file.connectors),
        )
        _stop_on(build.faults)
        return Harness(**self.top(file, Kind.EQUIPMENT), connectors=connectors, devices={device.ref: device})

    def airframe(self) -> Harness:
        """The airframe as found."""
        file = self.valid(schema.AirframeFile)
        build = self.builder(Origin.AIRFRAME)
        sections = (
            ("connector", "connectors"),
            ("splice", "splices"),
            ("ground", "grounds"),
            ("breaker", "breakers"),
            ("bus", "buses"),
        )
        for what, section in sections:
            build.enter(what, section, getattr(file, section))
        common = _wiring(build, file)
        circuits = _circuits(build, file)
        for ref, breaker in file.breakers.items():
            if breaker.bus is not None:
                build.known(breaker.bus, ("bus",), "breakers", ref, "bus")
        for ref, entry in file.connectors.items():
            if entry.pins:
                build.fault(
                    "pins: belongs in an equipment file", "list the circuits under cavities:", "connectors", ref, "pins"
                )
        _geography(build, file, file.zones, file.routes)
        _stop_on(build.faults)
        return Harness(
            **self.top(file, Kind.AIRFRAME),
            **common,
            circuits=circuits,
            grounds={
                r: Ground(r, build.place(r, "grounds", r), Origin.AIRFRAME, g.name, g.note, g.returns, g.terminals)
                for r, g in file.grounds.items()
            },
            breakers={
                r: Breaker(r, build.place(r, "breakers", r), Origin.AIRFRAME, b.name, b.rating, b.bus)
                for r, b in file.breakers.items()
            },
            zones={n: Zone(n, build.place(n, "zones", n), z.wet, z.ambient, z.altitude) for n, z in file.zones.items()},
            routes={
                n: Route(n, build.place(n, "routes", n), r.length, r.passages, r.bend, r.zone)
                for n, r in file.routes.items()
            },
            buses={
                r: Bus(r, build.place(r, "buses", r), Origin.AIRFRAME, b.name, b.supply) for r, b in file.buses.items()
            },
        )

    def jumper(self, airframe: Harness) -> Harness:
        """The kit on the bench; its references may name things of the airframe and the equipment."""
        file = self.valid(schema.JumperFile)
        build = self.builder(Origin.JUMPER)
        build.enter("connector", "connectors", file.connectors)
        build.enter("splice", "splices", file.splices)
        common = _wiring(build, file)
        for ref, entry in file.connectors.items():
            if entry.pins:
                build.fault(
                    "pins: belongs in an equipment file", "list the circuits under cavities:", "connectors", ref, "pins"
                )
        _geography(build, file, airframe.zones, airframe.routes)
        opens = _opened(build, file.opens, airframe)
        _still_mated(build, common["mates"], opens, airframe)
        taps = {}
        for point, circuit in file.taps.items():
            key = str(point)
            build.known(point.ref, ("connector",), "taps", key)
            if circuit not in airframe.circuits:
                choices = list(airframe.circuits)
                build.fault(
                    f"the airframe has no circuit {circuit!r}",
                    nearest(circuit, choices) or f"its circuits are: {', '.join(choices[:15])}",
                    *("taps", key),
                )
            taps[point] = Tap(point, circuit, build.place(key, "taps", key))
        given = file.allowances.model_dump(by_alias=True, exclude_none=True)
        _stop_on(build.faults)
        return Harness(
            **self.top(file, Kind.JUMPER),
            **common,
            opens=opens,
            taps=taps,
            allowances=given,
            spare_contacts=file.kit.spare_contacts,
            site_tools=tuple(file.kit.site_tools),
        )


def _wiring(build: Builder, file: schema.AirframeFile | schema.JumperFile) -> dict[str, Any]:
    """Connectors, wires, cables, splices and mates: the same in an airframe and in a jumper."""
    cables = {
        name: Cable(name, build.place(name, "cables", name), build.origin, c.type, c.length, c.note, c.bundle, c.route)
        for name, c in file.cables.items()
    }
    for name in file.cables:
        if name in file.wires:
            build.fault(f"{name} is both a wire and a cable", "give one of the two another name", "cables", name)
    wired = cavities_wired(file.wires.values(), lambda ref: build.scope.kinds.get(ref) == "connector")
    return {
        "wires": build.wires(file.wires, cables),
        "connectors": build.connectors(file.connectors, wired),
        "mates": build.mates(file.connectors),
        "cables": cables,
        "splices": {ref: _splice(build, ref, s) for ref, s in file.splices.items()},
    }


def _splice(build: Builder, ref: str, entry: schema.SpliceEntry) -> Splice:
    at, at_ref = entry.at or (None, None)
    if at_ref is not None:
        build.known(at_ref, ("connector",), "splices", ref, "at")
    place = build.place(ref, "splices", ref)
    return Splice(ref, place, build.origin, entry.part, entry.zone, entry.fitted, at, at_ref, entry.note)


def _geography(build: Builder, file: Any, zones: Iterable[str], routes: Iterable[str]) -> None:
    """Zones and routes that things name must be listed in the airframe file, when it lists any."""
    for section, key, known in (
        ("connectors", "zone", zones),
        ("splices", "zone", zones),
        ("connectors", "route", routes),
        ("wires", "route", routes),
        ("cables", "route", routes),
    ):
        listed = list(known)
        for name, entry in getattr(file, section).items():
            said = getattr(entry, key)
            if said is not None and said not in listed and (listed or key == "route"):
                build.fault(
                    f"there is no {key} {said!r}",
                    nearest(said, listed) or f"declare it under {key}s: in the airframe file",
                    *(section, name, key),
                )


def _circuits(build: Builder, file: schema.AirframeFile) -> dict[str, Circuit]:
    """Circuits of the airframe: those listed, else those that the pin maps name."""
    circuits: dict[str, Circuit] = {}
    for name, entry in file.circuits.items():
        place = build.place(name, "circuits", name)
        circuits[name] = Circuit(
            name,
            place,
            entry.signal,
            entry.line,
            entry.supply,
            entry.breaker,
            entry.note,
            entry.pair,
            entry.shields,
            entry.shield_ends,
            entry.redundant,
        )
        if entry.breaker is not None:
            build.known(entry.breaker, ("breaker",), "circuits", name, "breaker")
    for ref, connector in file.connectors.items():
        for cavity, said in connector.cavities.items():
            path = ("connectors", ref, "cavities", cavity)
            if said.circuit is None:
                continue
            if said.circuit not in circuits:
                if file.circuits:
                    listed = nearest(said.circuit, file.circuits) or "add it under circuits:"
                    build.fault(f"circuit {said.circuit!r} is not listed under circuits:", listed, *path)
                place = build.place(said.circuit, *path)
                circuits[said.circuit] = Circuit(said.circuit, place, said.signal, breaker=said.breaker)
            elif said.signal and circuits[said.circuit].signal not in (None, said.signal):
                build.fault(
                    f"{said.circuit} is {circuits[said.circuit].signal} elsewhere and {said.signal} here",
                    f"state the signal once, one of: {', '.join(SIGNALS)}",
                    *path,
                )
            if said.breaker is not None:
                build.known(said.breaker, ("breaker",), *path)
    return circuits


def _opened(build: Builder, typed: str, airframe: Harness) -> tuple[str, str] | None:
    halves = [half.strip() for half in typed.split("/")]
    if len(halves) != 2:
        build.fault(f"opens {typed!r} does not name a mated pair", "write both halves, like P14/J14", "opens")
        return None
    pair = frozenset(halves)
    if any(mate.refs == pair for mate in airframe.mates):
        return halves[0], halves[1]
    choices = [f"{mate.a}/{mate.b}" for mate in airframe.mates]
    listed = f"the mated pairs are: {', '.join(choices)}" if choices else "say mates: at a connector of the airframe"
    build.fault(f"{typed} is not a mated pair of the airframe", nearest(typed, choices) or listed, "opens")
    return None


def _still_mated(build: Builder, mates: Iterable[Mate], opens: tuple[str, str] | None, airframe: Harness) -> None:
    """The kit may only be plugged into halves that are free, or that ``opens:`` sets free."""
    for mate in mates:
        for half in (mate.a, mate.b):
            other = airframe.mate_of(half)
            if opens is not None and other is not None and half not in opens:
                own = mate.a if half == mate.b else mate.b
                message = f"{half} stays mated with {other} in the aircraft, so {own} cannot be plugged into it"
                build.fault(message, f"mate with {' or '.join(opens)}, or correct opens:", "connectors", own, "mates")


def _stop_on(faults: list[Fault]) -> None:
    if faults:
        raise InputError(faults)


def _jumper(document: Document, root: Path) -> Job:
    """A jumper file with its airframe and equipment; faults of all the files are reported together."""
    reader = _Reader(document, root)
    file = reader.valid(schema.JumperFile)
    faults: list[Fault] = []

    def attempt() -> Iterator[tuple[str, Document]]:
        yield "", reader.named_file("airframe", file.airframe)
        for unit, typed in file.equipment.items():
            yield unit, reader.named_file("equipment", unit, typed)

    airframe: Harness | None = None
    boxes: list[Harness] = []
    scope = Scope()
    for unit, found in attempt():
        part = _Reader(found, root, reader.drawer, scope)
        try:
            if airframe is None and not unit:
                airframe = part.airframe()
            else:
                boxes.append(part.equipment(unit))
        except InputError as error:
            faults.extend(error.faults)
        scope = part.scope
    if faults or airframe is None:
        raise InputError(faults)
    reader.scope = Scope(scope)
    jumper = reader.jumper(airframe)
    try:
        installed = install(airframe, jumper, boxes)
    except ValueError as error:
        raise InputError(
            [document.fault(1, 1, f"the jumper cannot be installed: {error}", "use each name once in a job")]
        ) from None
    assert document.path is not None
    return Job(document.path, document.name, installed, airframe, jumper, tuple(boxes))


__all__ = ["Point", "load", "reads"]
