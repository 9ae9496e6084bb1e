"""Reads one file of a job: the files it names, its entries typed, and the harness that they make."""

from __future__ import annotations

import os.path
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar, cast

from pydantic import ValidationError

from harnesscheck.circuit import Tap
from harnesscheck.connector import Origin
from harnesscheck.decision import Override, Waiver
from harnesscheck.device import Device
from harnesscheck.document import Block, Document, inside, read
from harnesscheck.fault import Fault, InputError, foreign, nearest, short
from harnesscheck.formats import _paper as paper
from harnesscheck.formats import _schema as schema
from harnesscheck.formats import _sections as sections
from harnesscheck.formats._as_found import AsFoundFile
from harnesscheck.formats._build import Builder, Scope
from harnesscheck.formats._faults import schema_faults
from harnesscheck.formats._overlay import Overlaid
from harnesscheck.formats._unread import unread
from harnesscheck.harness import AsFound, Harness, Kind
from harnesscheck.job import InputFile
from harnesscheck.parts import open_drawer
from harnesscheck.place import Place
from harnesscheck.splice import Ground
from harnesscheck.zone import Route, Zone

if TYPE_CHECKING:
    from harnesscheck.parts import Drawer

KINDS = {
    "airframe": "an airframe",
    "as-found": "an as-found",
    "equipment": "an equipment",
    "jumper": "a jumper",
    "parts": "a parts",
}
_F = TypeVar("_F", schema.AirframeFile, AsFoundFile, schema.EquipmentFile, schema.JumperFile)


def wrong_kind(document: Document, wanted: str) -> Fault:
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
        root = document.root
        line, column = root.marks["kind"][2:] if kind is not None else (root.line, root.column)
        return document.fault(line, column, "this file does not say what it is", f"add 'kind: {wanted}'")
    line, column = document.root.marks["kind"][2:]
    if kind == "parts":
        message, remedy = "this is a parts file", "name the jumper, airframe or equipment file that uses it"
        return document.fault(line, column, message, remedy)
    remedy = foreign(kind) or nearest(kind, KINDS) or "write airframe, as-found, equipment or jumper"
    return document.fault(line, column, f"unknown kind of file {short(kind)}", remedy)


def input_files(path: Path, documents: Iterable[Document]) -> tuple[InputFile, ...]:
    """The files a job was read from, by name: relative to the folder of the file that was asked for."""
    root = path.resolve().parent
    whole = (part for d in documents for part in ((d.base, d.over) if isinstance(d, Overlaid) else (d,)))
    named = {os.path.relpath(d.path.resolve(), root).replace(os.sep, "/"): d.sha256 for d in whole if d.path}
    return tuple(InputFile(name, named[name]) for name in sorted(named))


class Reader:
    """Reads one file of a job; ``faults`` collects what is wrong with it and with the files it names."""

    drawer: Drawer

    def __init__(
        self,
        document: Document,
        root: Path,
        faults: list[Fault] | None = None,
        read: Callable[[Path, str], Document] = read,
    ) -> None:
        self.document = document
        self.root = root
        self.read = read
        self.scope = Scope()
        self.typed: Any = None
        """The file's entries when they have been typed before."""
        self.faults: list[Fault] = [] if faults is None else faults
        self.documents: list[Document] = [document]
        """Every file read for this one, itself first."""

    def open_drawer(self) -> None:
        """Open the parts drawer for this file alone."""
        found = self.named("parts", "parts")
        self.drawer = self.drawer_of([found] if found else [])

    def drawer_of(self, named: Sequence[Document]) -> Drawer:
        """The parts drawer with the shop's own parts files laid over it, each once, where it is first named."""
        once: dict[Path | str, Document] = {}
        for found in named:
            once.setdefault(found.path.resolve() if found.path else found.name, found)
        try:
            return open_drawer(*once.values())
        except InputError as error:
            self.faults.extend(error.faults)
            return open_drawer()

    def named(self, wanted: str, *keys: str) -> Document | None:
        """The file that this file names at ``keys``; None when it names none, or one that cannot be used."""
        here: Any = self.document.root
        for key in keys[:-1]:
            here = here.get(key) if isinstance(here, Block) else None
        given = here.get(keys[-1]) if isinstance(here, Block) else None
        if not isinstance(given, str) or not given.strip():
            return None  # the schema says so
        assert self.document.path is not None
        mark, typed = here.marks[keys[-1]], given.strip()
        target = inside(self.root, self.document.path.resolve().parent, typed)
        said, remedy = f"{' '.join(keys)} {short(typed)}", "name a file in this folder or below it"
        if isinstance(target, Path):
            try:
                found = self.read(target, os.path.normpath(Path(self.document.name).parent / typed))
            except InputError as error:
                self.faults.extend(error.faults)
                return None
            kind = found.root.get("kind")
            if kind == wanted:
                self.documents.append(found)
                return found
            if not isinstance(kind, str) or kind not in KINDS:
                self.faults.append(wrong_kind(found, wanted))
                return None
            target, remedy = f"this is {KINDS[kind]} file, not {KINDS[wanted]} file", f"name the {wanted} file here"
        self.faults.append(self.document.fault(mark[2], mark[3], f"{said}: {target}", remedy))
        return None

    def valid(self, model: type[_F]) -> _F | None:
        """The file as typed entries; None when the schema refuses it, with every fault noted."""
        if self.typed is not None:
            return cast(_F, self.typed)
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
        title, as_found = file.title, None
        if isinstance(self.document, Overlaid):
            head, over = self.document.over.root, self.document.over
            at = Place(head["aircraft"], over, *head.marks["aircraft"][2:])
            as_found = AsFound(head["aircraft"], head["by"], head["date"], at)
            title = as_found.titled(title)
        build = self.builder(Origin.AIRFRAME)
        overrides = {
            name: Override(name, o.value, o.reason, o.by, build.place(name, "limits", name))
            for name, o in file.limits.items()
        }
        marks = self.document.root["waivers"].marks if file.waivers else []
        waivers = tuple(
            Waiver(w.check, w.at, w.reason, w.by, w.date, build.at(w.at, mark))
            for w, mark in zip(file.waivers, marks, strict=True)
        )
        return {
            "kind": kind,
            "title": title,
            "as_found": as_found,
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
            file.mass,
            paper.settings(build, file),
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
        sections.no_pins(build, file)
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
            zones={
                n: Zone(n, build.place(n, "zones", n), z.wet, z.ambient, z.altitude, z.arm)
                for n, z in file.zones.items()
            },
            aircraft=paper.aircraft(build, file.aircraft),
            unread=unread(build, file.unread),
            routes={
                n: Route(n, build.place(n, "routes", n), r.length, r.passages, r.bend, r.zone)
                for n, r in file.routes.items()
            },
        )

    def jumper(
        self,
        file: schema.JumperFile,
        airframe: Harness,
        boxes: Sequence[Harness],
        jumpers: Sequence[Harness] = (),
        units: Sequence[Harness] = (),
    ) -> Harness:
        """The kit on the bench; its references may name things of the airframe and the equipment.

        ``jumpers`` and ``units`` are the kits and equipment that are in the aircraft already.
        """
        build = self.builder(Origin.JUMPER)
        build.enter("connector", "connectors", file.connectors)
        build.enter("splice", "splices", file.splices)
        common = sections.wiring(build, file)
        sections.no_pins(build, file)
        sections.geography(build, file, airframe.zones, airframe.routes)
        opens = sections.opened(build, file.opens, airframe)
        sections.still_mated(build, common["mates"], opens, airframe)
        sections.used_once(build, file, (airframe, *boxes, *jumpers, *units))
        sections.tapped(build, file.taps, airframe, boxes)
        taps = {p: Tap(p, circuit, build.place(str(p), "taps", str(p))) for p, circuit in file.taps.items()}
        given = file.allowances.model_dump(by_alias=True, exclude_none=True)
        self.faults.extend(build.faults)
        return Harness(
            **self.top(file, Kind.JUMPER),
            **common,
            opens=(opens,) if opens else (),
            taps=taps,
            allowances=given,
            spare_contacts=file.kit.spare_contacts,
            site_tools=tuple(file.kit.site_tools),
            **paper.kit(build, file),
        )
