"""Write the whole pack into a folder: all of it or nothing, the same bytes for the same inputs."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable, Iterator, Mapping
from contextlib import ExitStack
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from harnesscheck import sheets, worksheet
from harnesscheck.fault import Fault, InputError
from harnesscheck.finding import Report, Severity
from harnesscheck.job import Job
from harnesscheck.output import beside, exchange, left_behind, locked, settle, sweep, write_new
from harnesscheck.pack import ident, manifest
from harnesscheck.pack.audit import verify
from harnesscheck.pack.book import Book, assemble
from harnesscheck.pack.documents import BOOK, FIRST_VOLUME, documents
from harnesscheck.paper.blocks import Stamp
from harnesscheck.sheets import Wish

WORKSHEET = "worksheet.html"
MOST_READINGS = 20_000
"""Readings on one page that a telephone still turns over, 30 MB (common practice, not measured)."""
ASIDE = ".old"
"""Suffix of the old pack while the new one moves in, where that takes two moves."""


@dataclass(frozen=True)
class Written:
    """What was written."""

    folder: Path
    pack: str
    pages: int
    files: int
    book: str
    """The file of the book, or of its first volume."""
    without: tuple[tuple[str, str], ...] = ()
    """What is not made because the job is too large for it, and why."""


def write(job: Job, report: Report, folder: Path, wish: Wish) -> Written:
    """Make the pack of a job. Raises ``InputError`` when it cannot be made of this job or would overwrite other files,
    ``OSError`` when it cannot be written; then the folder is as it was.
    """
    if job.jumper is None:
        said = "a kit pack is made of a jumper file"
        raise InputError([Fault(job.name, 1, 1, said, "", "name the jumper file of the job")])
    _may_replace(folder)  # before the work; and again when the folder is held
    basis = ident.basis(job, wish, report)
    pack = ident.pack_id(basis)
    stamped = stamp(job, report, pack)
    book = assemble(job, wish, report, stamped)
    listed: list[dict[str, Any]] = []

    def files() -> Iterator[tuple[str, bytes]]:
        for name, data in _documents(book):
            listed.append(manifest.entry(name, data))
            yield name, data
        yield manifest.FILE, manifest.of_entries(pack, basis, _about(book), listed)

    put(folder, files())
    first = FIRST_VOLUME if book.volumes else BOOK
    without = tuple((what, why) for _, what, why in book.without)
    return Written(folder, pack, book.pages, len(listed) + 1, first, without)


def _documents(book: Book) -> Iterator[tuple[str, bytes]]:
    """Path in the folder and bytes of every file but the manifest."""
    try:
        yield WORKSHEET, worksheet.page(book.job, book.wish, replace(book.stamp, numbers={}), MOST_READINGS)
    except worksheet.TooManyError as error:
        why = f"it has {error.args[0]} readings, and one page takes {MOST_READINGS}; harnesscheck worksheet makes one"
        book.without.append(("", WORKSHEET, f"{why} for bench, installed or aircraft alone"))
    yield from documents(book)


def stamp(job: Job, report: Report, pack: str) -> Stamp:
    """The title block of every sheet; a job that is not clear says so on each."""
    said = sheets.stamp(job)
    warning = ""
    stops, cautions = report.count(Severity.STOP), report.count(Severity.CAUTION)
    if stops:
        warning = f"STOP, do not build or apply power: {stops} found to stop for, see the last sheet."
    elif cautions:
        warning = f"NOT CLEAR: {cautions} found to put right or to decide in writing, see the last sheet."
    return replace(said, pack=pack, warning=f"{warning} {said.warning}".strip())


def _about(book: Book) -> dict[str, object]:
    return {
        "title": book.stamp.title,
        "revision": book.stamp.revision,
        "sheets": [
            {"number": sheet.number, "name": sheet.name, "title": sheet.title, "pages": sheet.pages}
            for sheet in book.sheets
        ],
        "not applicable": [{"part": part, "title": title, "because": why} for part, title, why in book.absent],
    }


# -- the folder --------------------------------------------------------------------------------------------------------


def _may_replace(folder: Path) -> None:
    """Refuse a folder that holds anything but an unaltered pack of ours. Raises ``InputError``."""
    if not folder.exists() and not folder.is_symlink():
        return
    said = ""
    if not folder.is_dir() or folder.is_symlink():
        said = "this is not a folder"
    elif any(folder.iterdir()):
        found = verify(folder)
        if not found.pack:
            said = "this folder holds other files than a kit pack"
        elif found.faults:
            said = f"the kit pack in this folder is not as it was written: {found.faults[0]}"
    if said:
        raise InputError([Fault(str(folder), 1, 1, said, "", "choose another folder with -o; it is left as it is")])


def put(folder: Path, files: Mapping[str, bytes] | Iterable[tuple[str, bytes]]) -> None:
    """Write a folder of these files: the old folder or the new one, never a mixture, whenever the run ends.

    Files that are made only when they are asked for are written one after the other, and none is kept. Runs into the
    same place wait for each other where one moves in, not while it makes its files. Raises ``InputError`` for a folder
    that is not to be replaced, ``OSError`` when it cannot be written.
    """
    folder.parent.mkdir(parents=True, exist_ok=True)
    fresh = beside(folder, ".tmp")
    with ExitStack() as held:
        with locked(folder.parent) as alone:
            if alone:
                _mend(folder)
            fresh.mkdir()
            held.callback(shutil.rmtree, fresh, ignore_errors=True)
            held.enter_context(locked(fresh))  # so that no other run takes it for left behind
        _fill(fresh, files.items() if isinstance(files, Mapping) else files)
        with locked(folder.parent) as alone:
            if alone:
                _mend(folder)
            _may_replace(folder)
            _swap(fresh, folder)
            settle(folder.parent)


def _fill(fresh: Path, files: Iterable[tuple[str, bytes]]) -> None:
    inside = {fresh}
    for name, data in files:
        path = fresh / name
        if path.parent not in inside:
            path.parent.mkdir()
            inside.add(path.parent)
        try:
            write_new(path, data)
        except OSError as error:
            raise OSError(error.errno, error.strerror or str(error), name) from None
    for part in sorted(inside, reverse=True):
        settle(part)


def _mend(folder: Path) -> None:
    """Put back the old folder of a run that was killed between two moves, and clear away what killed runs left."""
    if not folder.exists():
        for aside in left_behind(folder, ASIDE)[:1]:
            os.replace(aside, folder)
    for aside in left_behind(folder, ASIDE):
        shutil.rmtree(aside, ignore_errors=True)
    sweep(folder)


def _swap(fresh: Path, folder: Path) -> None:
    """The new folder takes the place of the old one: in one move, or where the system cannot, in two.

    When the second fails the old folder is put back; when the run is killed between the two, by the next run.
    """
    if not folder.exists() or not any(folder.iterdir()):
        os.replace(fresh, folder)
        return
    if exchange(fresh, folder):
        return
    aside = beside(folder, ASIDE)
    os.replace(folder, aside)
    try:
        os.replace(fresh, folder)
    except OSError:
        os.replace(aside, folder)
        raise
    shutil.rmtree(aside, ignore_errors=True)
