"""The YAML files of a job (airframe, equipment, jumper) to a ``Job``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from pydantic import ValidationError

from harnesscheck.circuit import Tap
from harnesscheck.connector import Origin
from harnesscheck.decision import Override, Waiver
from harnesscheck.device import Device
from harnesscheck.document import Block, Document, inside, read
from harnesscheck.fault import Fault, InputError, foreign, nearest, short
from harnesscheck.formats import _schema as schema
from harnesscheck.formats import _sections as sections
from harnesscheck.formats._build import Builder, Scope
from harnesscheck.formats._faults import schema_faults
from harnesscheck.harness import Harness, Kind, install
from harnesscheck.job import Job
from harnesscheck.parts import open_drawer
from harnesscheck.place import Place
from harnesscheck.splice import Ground
from harnesscheck.zone import Route, Zone

if TYPE_CHECKING:
    from harnesscheck.parts import Drawer

SUFFIXES = (".yaml", ".yml")
KINDS = {"airframe": "an airframe", "equipment": "an equipment", "jumper": "a jumper", "parts": "a parts"}
_F = TypeVar("_F", schema.AirframeFile, schema.EquipmentFile, schema.JumperFile)


def reads(path: Path) -> bool:
    """True when this format is the one for ``path``."""
    return path.suffix.lower() in SUFFIXES


def load(path: Path, name: str) -> Job:
    """Read a job file and everything it names. Raises ``InputError`` with all faults found."""
    return job_of(read(path, name), path, name)


def job_of(document: Document, path: Path, name: str) -> Job:
    """A job from a file of any format, once it is composed. Raises ``InputError`` with all faults found."""
    root = path.resolve().parent
    kind = document.root.get("kind")
    if kind not in FILES:
        raise InputError([_wrong_kind(document, "jumper")])
    reader = _Reader(document, root)
    if kind == "jumper":
        return _jumper(reader)
    harness = reader.airframe() if kind == "airframe" else reader.equipment("")
    if reader.faults or harness is None:
        raise InputError(reader.faults)
    if kind == "airframe":
        return Job(path, name, harness, airframe=harness)
    return Job(path, name, harness, equipment=(harness,))


def airframe_of(document: Document, root: Path) -> Harness:
    """An airframe from a document that another format has composed. Raises ``InputError`` with all faults found."""
    reader = _Reader(document, root)
    harness = reader.airframe()
    if reader.faults or harness is None:
        raise InputError(reader.faults)
    return harness


FILES = ("airframe", "equipment", "jumper")


def _wrong_kind(document: Document, wanted: str) -> Fault:
    """A file that does not say that it is ``wanted``, nor anything else that could be read in its place."""
    kind = document.root.get("kind")
    # A key that some kind of file really has ('kit') is no slip for 'kind'.
    proper = {field.alias or name for model in schema.FILES.values() for name, field in model.model_fields.items()}
    slips = (key for key in document.root if key not in proper and nearest(key, ["kind"]))
    near = next(slips, "") if kind is None else ""
    if near:
        line, column = document.root.marks[near][:2]
        return document.fault(line, column, f"unknown key {short(near)}", nearest(near, ["kind"]))
    if not isinstance(kind, str):
        key, _, line, column = document.root.marks.get("kind", (document.root.line, 0, 0, document.root.column))
        return document.fault(line or key, column, "this file does not say what it is", f"add 'kind: {wanted}'")
    line, column = document.root.marks["kind"][2:]
    if kind == "parts":
        message, remedy = "this is a parts file", "name the jumper, airframe or equipment file that uses it"
        return document.fault(line, column, message, remedy)
    remedy = foreign(kind) or nearest(kind, KINDS) or "write airframe, equipment or jumper"
    return document.fault(line, column, f"unknown kind of file {short(kind)}", remedy)


class _Reader:
    """Reads one file of a job; ``faults`` collects what is wrong with it and with the files it names."""

    def __init__(
        self, document: Document, root: Path, drawer: Drawer | None = None, scope: Scope | None = None
    ) -> None:
        self.document = document
        self.root = root
        self.scope = Scope(scope)
        self.faults: list[Fault] = []
        self.drawer = drawer or self.open_drawer(self)

    def open_drawer(self, *readers: _Reader) -> Drawer:
        """The parts drawer, with the shop's own parts files that the files of ``readers`` name laid over it."""
        named = [found for reader in readers if (found := reader.named("parts", "parts")) is not None]
        once = {found.path.resolve() if found.path else found.name: found for found in reversed(named)}
        try:
            return open_drawer(*reversed(once.values()))
        except InputError as error:
            self.faults.extend(error.faults)
            return open_drawer()

    def named(self, wanted: str, *keys: str) -> Document | None:
        """The file that this file names at ``keys``; None when it names none, or one that cannot be used."""
        here: Any = self.document.root
        mark = (1, 1, 1, 1)
        for key in keys:
            if not isinstance(here, Block) or key not in here:
                return None
            mark, here = here.marks[key], here[key]
        if not isinstance(here, str) or not here.strip():
            return None  # the schema says so
        assert self.document.path is not None
        typed = here.strip()
        target = inside(self.root, self.document.path.resolve().parent, typed)
        said, remedy = f"{' '.join(keys)} {short(typed)}", "name a file in this folder or below it"
        if isinstance(target, Path):
            try:
                found = read(target, str(Path(self.document.name).parent / typed))
            except InputError as error:
                self.faults.extend(error.faults)
                return None
            kind = found.root.get("kind")
            if kind == wanted:
                return found
            if not isinstance(kind, str) or kind not in KINDS:
                self.faults.append(_wrong_kind(found, wanted))
                return None
            target, remedy = f"this is {KINDS[kind]} file, not {KINDS[wanted]} file", f"name the {wanted} file here"
        self.faults.append(self.document.fault(mark[2], mark[3], f"{said}: {target}", remedy))
        return None

    def valid(self, model: type[_F]) -> _F | None:
        """The file as typed entries; None when the schema refuses it, with every fault noted."""
        try:
            return model.model_validate(self.document.root)
        except ValidationError as error:
            self.faults.extend(schema_faults(self.document, error, model))
            return None

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

    def equipment(self, unit: str) -> Harness | None:
        """The equipment as a harness; ``unit`` is the designator put before its references (A12J1)."""
        file = self.valid(schema.EquipmentFile)
        if file is None:
            return None
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
        self.faults.extend(build.faults)
        return Harness(**self.top(file, Kind.EQUIPMENT), connectors=connectors, devices={device.ref: device})

    def airframe(self) -> Harness | None:
        """The airframe as found. With faulty references there is still a harness: the kit is compared with it."""
        file = self.valid(schema.AirframeFile)
        if file is None:
            return None
        build = self.builder(Origin.AIRFRAME)
        listed = (
            ("connector", "connectors"),
            ("splice", "splices"),
            ("ground", "grounds"),
            ("breaker", "breakers"),
            ("bus", "buses"),
            ("source", "sources"),
        )
        for what, section in listed:
            build.enter(what, section, getattr(file, section))
        common = sections.wiring(build, file)
        circuits = sections.circuits(build, file)
        power = sections.power(build, file)
        for ref, entry in file.connectors.items():
            if entry.pins:
                build.fault(
                    "pins: belongs in an equipment file", "list the circuits under cavities:", "connectors", ref, "pins"
                )
        sections.geography(build, file, file.zones, file.routes)
        self.faults.extend(build.faults)
        return Harness(
            **self.top(file, Kind.AIRFRAME),
            **common,
            **power,
            circuits=circuits,
            grounds={
                r: Ground(
                    r, build.place(r, "grounds", r), Origin.AIRFRAME, g.name, g.note, g.returns, g.terminals, g.bond
                )
                for r, g in file.grounds.items()
            },
            zones={n: Zone(n, build.place(n, "zones", n), z.wet, z.ambient, z.altitude) for n, z in file.zones.items()},
            routes={
                n: Route(n, build.place(n, "routes", n), r.length, r.passages, r.bend, r.zone)
                for n, r in file.routes.items()
            },
        )

    def jumper(self, file: schema.JumperFile, airframe: Harness, boxes: list[Harness]) -> Harness:
        """The kit on the bench; its references may name things of the airframe and the equipment."""
        build = self.builder(Origin.JUMPER)
        build.enter("connector", "connectors", file.connectors)
        build.enter("splice", "splices", file.splices)
        common = sections.wiring(build, file)
        for ref, entry in file.connectors.items():
            if entry.pins:
                build.fault(
                    "pins: belongs in an equipment file", "list the circuits under cavities:", "connectors", ref, "pins"
                )
        sections.geography(build, file, airframe.zones, airframe.routes)
        opens = sections.opened(build, file.opens, airframe)
        sections.still_mated(build, common["mates"], opens, airframe)
        sections.used_once(build, file, (airframe, *boxes))
        sections.tapped(build, file.taps, airframe, boxes)
        taps = {p: Tap(p, circuit, build.place(str(p), "taps", str(p))) for p, circuit in file.taps.items()}
        given = file.allowances.model_dump(by_alias=True, exclude_none=True)
        self.faults.extend(build.faults)
        return Harness(
            **self.top(file, Kind.JUMPER),
            **common,
            opens=opens,
            taps=taps,
            allowances=given,
            spare_contacts=file.kit.spare_contacts,
            site_tools=tuple(file.kit.site_tools),
        )


def _jumper(reader: _Reader) -> Job:
    """A jumper file with its airframe and equipment; the faults of all the files are reported together."""
    document, faults = reader.document, reader.faults
    file = reader.valid(schema.JumperFile)
    scope = Scope()

    def part(found: Document | None) -> _Reader | None:
        if found is None:
            return None
        following = _Reader(found, reader.root, reader.drawer)
        following.faults = faults
        return following

    # The names are taken from the text itself, so that a slip elsewhere in the kit hides nothing in the other files.
    frame = part(reader.named("airframe", "airframe"))
    listed = document.root.get("equipment")
    units = (
        {unit: part(reader.named("equipment", "equipment", unit)) for unit in listed}
        if isinstance(listed, Block)
        else {}
    )
    # What the shop has looked up counts for the whole job, whichever of its files names the parts file.
    readers = [part for part in (reader, frame, *units.values()) if part is not None]
    drawer = reader.open_drawer(*readers)
    for following in readers:
        following.drawer = drawer
    airframe = None
    if frame is not None:
        frame.scope = scope
        airframe = frame.airframe()
    boxes: list[Harness | None] = []
    for unit, box in units.items():
        if box is not None:
            box.scope = scope
        boxes.append(box.equipment(unit) if box is not None else None)
    read_boxes = [box for box in boxes if box is not None]
    if file is None or airframe is None or len(read_boxes) < len(boxes):
        raise InputError(faults)
    reader.scope = Scope(scope)
    jumper = reader.jumper(file, airframe, read_boxes)
    if faults:
        raise InputError(faults)
    try:
        installed = install(airframe, jumper, read_boxes)
    except ValueError as error:
        at = document.root.marks["opens"]
        raise InputError(
            [document.fault(at[2], at[3], f"the jumper cannot be installed: {error}", "use each name once in a job")]
        ) from None
    assert document.path is not None
    return Job(document.path, document.name, installed, airframe, jumper, tuple(read_boxes))
