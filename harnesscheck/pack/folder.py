"""Write the whole pack into a folder: all of it or nothing, the same bytes for the same inputs."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path

from harnesscheck import sheets, worksheet
from harnesscheck.fault import Fault, InputError
from harnesscheck.finding import Report, Severity
from harnesscheck.job import Job
from harnesscheck.output import beside, exchange, left_behind, locked, settle, sweep, write_whole
from harnesscheck.pack import ident, kit_page, manifest
from harnesscheck.pack.audit import verify
from harnesscheck.pack.book import Book, Sheet, assemble, contents
from harnesscheck.paper import as_csv, as_pdf, as_png, as_svg, as_xlsx
from harnesscheck.paper.blocks import Stamp
from harnesscheck.paper.svg import Canvas
from harnesscheck.sheets import Wish

BOOK, PAGE, WORKBOOK, WORKSHEET = "book.pdf", "kit.html", "workbook.xlsx", "worksheet.html"
SHEETS, LISTS = "sheets", "lists"
ASIDE = ".old"
"""Suffix of the old pack while the new one moves in, where that takes two moves."""
SCREEN, DRAWING = 96.0, 150.0
"""Resolution of the pictures of lists and of drawings, dots per inch: to look at and to send, the smallest lettering
about nine dots high; the PDF is for printing (common practice)."""


@dataclass(frozen=True)
class Written:
    """What was written."""

    folder: Path
    pack: str
    pages: int
    files: int


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
    files = dict(_documents(book))
    files[WORKSHEET] = worksheet.page(job, wish, stamped)
    files[manifest.FILE] = manifest.build(pack, basis, _about(book), files)
    put(folder, files)
    return Written(folder, pack, book.pages, len(files))


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
            {"number": sheet.number, "name": sheet.name, "title": sheet.title, "pages": len(sheet.pages)}
            for sheet in book.sheets
        ],
        "not applicable": [{"part": part, "title": title, "because": why} for part, title, why in book.absent],
    }


# -- the documents -----------------------------------------------------------------------------------------------------


def _documents(book: Book) -> Iterator[tuple[str, bytes]]:
    """Path in the folder and bytes of every document but the manifest."""
    stamp = book.stamp
    for sheet in book.sheets:
        if sheet.pages:
            sheet.pages[0].anchors.setdefault(f"sheet-{sheet.name}", (0.0, 0.0))
    leaves = {sheet.name: [as_pdf.leaf(page) for page in sheet.pages] for sheet in book.sheets}
    parts = [(f"{sheet.number}  {sheet.title}", leaves[sheet.name]) for sheet in book.sheets]
    # Typesetting runs outside the interpreter's lock, so the book, the single sheets and the pictures go side by side.
    with ThreadPoolExecutor(max_workers=4) as pool:
        bound = pool.submit(as_pdf.book, parts, f"{stamp.title}: kit pack", stamp)
        singles = [
            pool.submit(as_pdf.book, [part], f"{stamp.title}: {sheet.title}", stamp)
            for part, sheet in zip(parts, book.sheets, strict=True)
        ]
        shown = [
            pool.submit(as_pdf.pictures, leaves[sheet.name], SCREEN if sheet.content is not None else DRAWING)
            for sheet in book.sheets
        ]
        for sheet in book.sheets:
            yield from _lists(sheet, stamp)
        yield PAGE, kit_page.page(book)
        yield WORKBOOK, as_xlsx.book(list(contents(book)), stamp)
        for sheet, single, pictures in zip(book.sheets, singles, shown, strict=True):
            name = file_name(sheet)
            yield f"{SHEETS}/{name}.pdf", single.result()
            for number, picture in enumerate(pictures.result(), 1):
                tail = f"-page-{number}" if len(sheet.pages) > 1 else ""
                yield f"{SHEETS}/{name}{tail}.png", as_png.marked(picture, stamp.pack)
        yield BOOK, bound.result()


def _lists(sheet: Sheet, stamp: Stamp) -> Iterator[tuple[str, bytes]]:
    _lead_home(sheet.pages)
    yield f"{SHEETS}/{file_name(sheet)}.svg", as_svg.drawn(sheet.pages, sheet.title, stamp)
    if sheet.content is not None and sheet.content.tables:
        yield f"{LISTS}/{file_name(sheet)}.csv", as_csv.write(sheet.content, stamp)


def file_name(sheet: Sheet) -> str:
    """``05.2-cut-list``: sorts in the order of the book."""
    part, dot, rest = sheet.number.partition(".")
    return f"{int(part):02d}{dot}{rest.zfill(2) if dot else ''}-{sheet.name}"


def _lead_home(pages: list[Canvas]) -> None:
    """A drawing leads to the rows of the page; from its own folder that is one step up."""
    for page in pages:
        for element in page.root.iter("a"):
            if element.get("href", "").startswith(f"{PAGE}#"):
                element.set("href", f"../{element.get('href')}")


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


def put(folder: Path, files: dict[str, bytes]) -> None:
    """Write a folder of these files: the old folder or the new one, never a mixture, whenever the run ends.

    Runs into the same place wait for each other. Raises ``InputError`` for a folder that is not to be replaced,
    ``OSError`` when it cannot be written.
    """
    folder.parent.mkdir(parents=True, exist_ok=True)
    with locked(folder.parent) as alone:
        if alone:
            _mend(folder)
        _may_replace(folder)
        fresh = beside(folder, ".tmp")
        fresh.mkdir()
        try:
            for name, data in files.items():
                path = fresh / name
                path.parent.mkdir(exist_ok=True)
                write_whole(path, data)
            settle(fresh)
            _swap(fresh, folder)
            settle(folder.parent)
        finally:
            shutil.rmtree(fresh, ignore_errors=True)


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
