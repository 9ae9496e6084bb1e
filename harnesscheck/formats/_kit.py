"""A jumper file with its equipment, read once and put on one airframe after another."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from harnesscheck.document import Block, Document, read
from harnesscheck.fault import Fault, InputError
from harnesscheck.formats import _schema as schema
from harnesscheck.formats._build import Scope
from harnesscheck.formats._overlay import told
from harnesscheck.formats._reader import Reader, input_files
from harnesscheck.harness import Harness, install
from harnesscheck.job import Job
from harnesscheck.parts import Drawer


class Kit:
    """A jumper file and its equipment files as read and typed; what depends on the aircraft is made by ``fit``.

    ``read`` reads the files that the kit names; one that remembers them saves reading them again for every aircraft.
    """

    def __init__(self, document: Document, root: Path, read: Callable[[Path, str], Document] = read) -> None:
        self.document = document
        self.root = root
        self.faults: list[Fault] = []
        self._read = read
        self._drawers: dict[tuple[int, ...], tuple[list[Document], Drawer]] = {}
        reader = Reader(document, root, self.faults, read)
        self.file = reader.valid(schema.JumperFile)
        # The names are taken from the text itself, so that a slip elsewhere in the kit hides nothing in the others.
        self.airframe = reader.named("airframe", "airframe")
        """The airframe file that the kit was made for; None when it cannot be read."""
        listed = document.root.get("equipment")
        units = listed if isinstance(listed, Block) else {}
        self.units = {unit: reader.named("equipment", "equipment", unit) for unit in units}
        self._boxes = {
            unit: Reader(box, root, self.faults, read).valid(schema.EquipmentFile)
            for unit, box in self.units.items()
            if box is not None
        }

    def fit(self, frame: Document | None = None, before: Sequence[Kit] = ()) -> Job:
        """The kit in an aircraft (``frame``; else the airframe that it names), after the kits ``before`` it.

        Raises ``InputError``: the faults of all the files are reported together.
        """
        kits = (*before, self)
        faults = [fault for kit in kits for fault in kit.faults]
        # An aircraft named on the command line has its own tree of files: the folder of its type's file.
        root = frame.path.resolve().parent if frame is not None and frame.path is not None else self.root
        frame = frame or self.airframe
        framed = Reader(frame, root, faults, self._read) if frame is not None else None
        mine = [kit._readers(faults) for kit in kits]
        readers = [reader for head, boxes in mine for reader in (head, *boxes.values())]
        # What the shop has looked up counts for the whole job, whichever of its files names the parts file.
        self._open_drawer(faults, [readers[0], *([framed] if framed else []), *readers[1:]])
        scope = Scope()
        airframe = None
        if framed is not None:
            framed.scope = scope
            airframe = framed.airframe()
        installed, jumpers, units = airframe, list[Harness](), list[Harness]()
        for kit, (head, readers_of) in zip(kits, mine, strict=True):
            boxes = []
            for unit, reader in readers_of.items():
                reader.scope = scope
                box = reader.equipment(unit)
                boxes += [box] if box is not None else []
            if kit.file is None or airframe is None or installed is None or len(boxes) < len(kit.units):
                raise InputError(told(frame, faults))
            head.scope = scope = Scope(scope)
            jumper = head.jumper(kit.file, airframe, boxes, jumpers, units)
            if faults:
                raise InputError(told(frame, faults))
            try:
                installed = install(installed, jumper, boxes)
            except ValueError as error:
                at = kit.document.root.marks["opens"]
                message, remedy = f"the jumper cannot be installed: {error}", "use each name once in a job"
                raise InputError([kit.document.fault(at[2], at[3], message, remedy)]) from None
            jumpers.append(jumper)
            units += boxes
        assert self.document.path is not None and installed is not None
        name = self.document.name
        fitted = tuple(jumpers)
        read = [document for reader in readers for document in reader.documents]
        files = input_files(self.document.path, [*read, *(framed.documents if framed else [])])
        return Job(self.document.path, name, installed, airframe, jumpers[-1], tuple(units), files, fitted)

    def clashes(self, before: Sequence[Kit]) -> Iterator[Fault]:
        """What keeps this kit out of an aircraft that has the kits ``before`` in it already."""
        for other in before:
            if self.file is None or other.file is None or self.airframe is None or other.airframe is None:
                continue  # said when the kit is fitted
            if self.airframe.lines != other.airframe.lines:
                where = f"{other.airframe.name}, which {other.document.name} names"
                message = f"airframe {self.file.airframe!r} says something else than {where}"
                yield self._fault(message, "name one airframe file in both kits, or check each kit alone", "airframe")
            if set(self._opens()) == set(other._opens()):
                at = other.document.root.marks["opens"]
                message = f"{self.file.opens} is opened by two kits: first at {other.document.name}:{at[0]}:{at[1]}"
                yield self._fault(message, "make one kit of the two, with the taps of both in it", "opens")
            for unit in self.units:
                if unit in other.units:
                    at = other.document.root["equipment"].marks[unit]
                    message = f"unit {unit} is in two kits: first at {other.document.name}:{at[0]}:{at[1]}"
                    yield self._fault(message, "give the unit of one kit another designator", "equipment", unit)

    def _opens(self) -> list[str]:
        return [half.strip() for half in self.file.opens.split("/")] if self.file is not None else []

    def _fault(self, message: str, remedy: str, *path: str) -> Fault:
        block = self.document.root
        for key in path[:-1]:
            block = block[key]
        mark = block.marks[path[-1]]
        line, column = mark[2:] if len(path) == 1 else mark[:2]
        return self.document.fault(line, column, message, remedy)

    def _readers(self, faults: list[Fault]) -> tuple[Reader, dict[str, Reader]]:
        boxes = {}
        for unit, document in self.units.items():
            if document is not None:
                boxes[unit] = Reader(document, self.root, faults, self._read)
                boxes[unit].typed = self._boxes[unit]
        return Reader(self.document, self.root, faults, self._read), boxes

    def _open_drawer(self, faults: list[Fault], readers: Sequence[Reader]) -> None:
        """One drawer for all; the shop's parts files are looked through once for each set of them."""
        named = [found for reader in readers if (found := reader.named("parts", "parts")) is not None]
        key = tuple(map(id, named))
        if key not in self._drawers:
            self._drawers[key] = (named, readers[0].drawer_of(named))
        for reader in readers:
            reader.drawer = self._drawers[key][1]
