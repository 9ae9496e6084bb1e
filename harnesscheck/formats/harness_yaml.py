"""The YAML files of a job (airframe, as-found, equipment, jumper) to a ``Job``."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from pathlib import Path

from harnesscheck.document import Document, parse, read
from harnesscheck.fault import Fault, InputError
from harnesscheck.formats import _schema as schema
from harnesscheck.formats._as_found import AsFoundFile
from harnesscheck.formats._kit import Kit
from harnesscheck.formats._overlay import Overlaid, lay_over, told
from harnesscheck.formats._reader import KINDS, Reader, input_files, wrong_kind
from harnesscheck.harness import Harness
from harnesscheck.job import Job

SUFFIXES = (".yaml", ".yml")
FILES = tuple(schema.FILES)
FRAMES = ("airframe", "as-found")


def reads(path: Path) -> bool:
    """True when this format is the one for ``path``."""
    return path.suffix.lower() in SUFFIXES


def load(path: Path, name: str, on: tuple[Path, str] | None = None, text: str | None = None) -> Job:
    """Read a job file and everything it names; ``on`` puts a kit on another aircraft than the one its file names.

    ``text`` is what would stand at ``path``: a plan is read in this way before anything is written.
    Raises ``InputError`` with all faults found.
    """
    return job_of(read(path, name) if text is None else _unwritten(text, path, name), path, name, on)


def job_of(document: Document, path: Path, name: str, on: tuple[Path, str] | None = None) -> Job:
    """A job from a file of any format, once it is composed. Raises ``InputError`` with all faults found."""
    kind = document.root.get("kind")
    if kind not in FILES:
        raise InputError([wrong_kind(document, "jumper")])
    if kind == "jumper":
        return Kit(document, path.resolve().parent).fit(frame(*on) if on else None)
    if on is not None:
        mark = document.root.marks["kind"]
        message, remedy = f"this is {KINDS[kind]} file: only a kit is put on an aircraft", "name the jumper file"
        raise InputError([document.fault(mark[2], mark[3], message, remedy)])
    if kind == "equipment":
        reader = Reader(document, path.resolve().parent)
        reader.open_drawer()
        box = reader.equipment("")
        if reader.faults or box is None:
            raise InputError(reader.faults)
        return Job(path, name, box, equipment=(box,), files=input_files(path, reader.documents))
    found = overlaid(document) if kind == "as-found" else document
    harness, documents = _airframe(found)
    return Job(path, name, harness, airframe=harness, files=input_files(path, documents))


def _unwritten(text: str, path: Path, name: str) -> Document:
    data = text.encode("utf-8")
    document = parse(data, name, path)
    document.sha256 = hashlib.sha256(data).hexdigest()
    return document


def airframe(document: Document) -> Harness:
    """The harness of an airframe file, or of one with an as-found file over it. Raises ``InputError``."""
    return _airframe(document)[0]


def _airframe(document: Document) -> tuple[Harness, list[Document]]:
    """The harness, and the files that were read for it."""
    assert document.path is not None
    reader = Reader(document, document.path.resolve().parent)
    reader.open_drawer()
    harness = reader.airframe()
    if reader.faults or harness is None:
        raise InputError(told(document, reader.faults))
    return harness, reader.documents


def airframe_of(document: Document, root: Path) -> Harness:
    """An airframe from a document that another format has composed. Raises ``InputError`` with all faults found."""
    reader = Reader(document, root)
    reader.open_drawer()
    harness = reader.airframe()
    if reader.faults or harness is None:
        raise InputError(reader.faults)
    return harness


def kit(path: Path, name: str, read: Callable[[Path, str], Document] = read) -> Kit:
    """The kit of a jumper file. Raises ``InputError`` when the file is none or cannot be read."""
    document = read(path, name)
    if document.root.get("kind") != "jumper":
        raise InputError([_not(document, ("jumper",), "name the jumper file of the kit")])
    return Kit(document, path.resolve().parent, read)


def together(files: Sequence[tuple[Path, str]], on: tuple[Path, str] | None = None) -> Job:
    """Several kits in one aircraft: their jumper files name the same airframe file and open different pairs.

    Raises ``InputError``.
    """
    kits = [kit(path, name) for path, name in files]
    faults = [fault for number, one in enumerate(kits) for fault in one.clashes(kits[:number])]
    if faults:
        raise InputError(faults)
    return kits[-1].fit(frame(*on) if on else None, kits[:-1])


def frame(path: Path, name: str, files: Callable[[Path, str], Document] = read) -> Document:
    """An aircraft: an airframe file, or an as-found file laid over the file of its type. Raises ``InputError``.

    ``files`` reads the type's file; one that remembers it saves reading it again for every aircraft of the type.
    """
    document = read(path, name)
    kind = document.root.get("kind")
    if kind not in FRAMES:
        raise InputError([_not(document, FRAMES, "name an airframe or as-found file here")])
    return overlaid(document, files) if kind == "as-found" else document


def overlaid(document: Document, files: Callable[[Path, str], Document] = read) -> Overlaid:
    """The type's file with an as-found file laid over it. Raises ``InputError``."""
    assert document.path is not None
    # One folder up, so that the aircraft of a type can lie in a folder of their own beside its file.
    reader = Reader(document, document.path.resolve().parent.parent, read=files)
    head = reader.valid(AsFoundFile)
    base = reader.named("airframe", "airframe")
    if head is None or base is None:
        raise InputError(reader.faults)
    found, faults = lay_over(base, document)
    if faults:
        raise InputError(faults)
    return found


def _not(document: Document, wanted: tuple[str, ...], remedy: str) -> Fault:
    kind = document.root.get("kind")
    if kind not in FILES:
        return wrong_kind(document, wanted[0])
    mark = document.root.marks["kind"]
    return document.fault(mark[2], mark[3], f"this is {KINDS[kind]} file", remedy)
