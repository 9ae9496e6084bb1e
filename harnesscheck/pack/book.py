"""The order of the book: the fifteen things a kit pack holds, and the sheets that stand under each.

A sheet says with ``PART`` under which it stands and with ``ORDER`` (usual: 50) where among its neighbours; a sheet
without ``PART`` is not in the book. ``not_applicable(job, wish) -> str`` gives the reason when a job has no use for it.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace

from harnesscheck import sheets
from harnesscheck.finding import Report
from harnesscheck.job import Job
from harnesscheck.pack import front
from harnesscheck.paper.blocks import Content, Stamp
from harnesscheck.paper.svg import Canvas
from harnesscheck.sheets import Wish

PARTS: Mapping[int, str] = {
    1: "Cover, effectivity, revisions, list of effective pages",
    2: "Description and system block diagram",
    3: "Wiring diagrams",
    4: "Pin-out tables and face views",
    5: "Cut list, kit list, tools, crimp cards, labels, bench work",
    6: "Installation",
    7: "Continuity and isolation, power-up",
    8: "Electrical load analysis",
    9: "Weight and balance",
    10: "Functional and interference check, return to service",
    11: "Continued airworthiness",
    12: "Flight manual supplement and placards",
    13: "Records",
    14: "Removal, back to the original",
    15: "Known limits, what was not checked, who decides",
}
FIRST, LAST = 1, 15
USUAL_ORDER = 50


@dataclass
class Sheet:
    """One sheet of the book."""

    name: str
    title: str
    number: str
    part: int
    pages: int = 0
    """How many; known when the sheet is made."""


@dataclass(frozen=True)
class Made:
    """A sheet that is made: held only as long as its documents are written."""

    content: Content | None
    """None for a drawing on paper of its own."""
    pages: Collection[Canvas]
    """In order; each may be drawn only when it comes."""


@dataclass
class Book:
    """All sheets in order, and why others are left out. The sheets are made one after the other, the cover last."""

    job: Job
    wish: Wish
    report: Report
    stamp: Stamp
    sheets: tuple[Sheet, ...]
    absent: tuple[tuple[int, str, str], ...]
    """Part, title and reason of what is not in the book."""
    without: list[tuple[str, str, str]] = field(default_factory=list)
    """Number, document and reason of what is not made because the job is too large for it."""
    volumes: list[tuple[str, str]] = field(default_factory=list)
    """File and content of each volume, when the book is more than one."""

    @property
    def pages(self) -> int:
        """Number of pages."""
        return sum(sheet.pages for sheet in self.sheets)

    @property
    def cover(self) -> Sheet:
        """The first sheet."""
        return self.sheets[0]


def assemble(job: Job, wish: Wish, report: Report, stamp: Stamp) -> Book:
    """Which sheets there are, in order and numbered."""
    chosen, absent = _chosen(job, wish)
    cover = Sheet(front.COVER, "Cover", "1", FIRST)
    limits = Sheet(front.LIMITS, "Known limits and what was not checked", "15", LAST)
    ordered = _numbered([cover, *chosen, limits])
    stamp = replace(stamp, numbers={sheet.name: sheet.number for sheet in ordered})
    return Book(job, wish, report, stamp, tuple(ordered), tuple(absent))


def make(book: Book, sheet: Sheet) -> Made:
    """A sheet laid out on its pages; the cover counts those of all others, so it is made last."""
    if sheet is book.cover:
        return _cover(book)
    if sheet.name == front.LIMITS:
        content = front.limits(book.job, book.report)
    elif hasattr(sheets.module(sheet.name), "content"):
        content = sheets.content(sheet.name, book.job, book.wish)
        sheet.title = content.title
    else:
        drawn = sheets.pages(sheet.name, book.job, book.wish, book.stamp)
        sheet.pages = len(drawn)
        return Made(None, drawn)
    return _laid(sheet, content, book.stamp)


def _laid(sheet: Sheet, content: Content, stamp: Stamp) -> Made:
    from harnesscheck.paper.pages import Laid

    pages = Laid(content, stamp)
    sheet.pages = len(pages)
    return Made(content, pages)


def _cover(book: Book) -> Made:
    cover, known = book.cover, 0
    while True:  # the cover counts its own pages: at most a few rounds
        known = cover.pages = cover.pages or 1
        listed = [(sheet.number, sheet.name, sheet.title, sheet.pages) for sheet in book.sheets]
        absent = [*((f"{part}", PARTS[part], why) for part, _, why in book.absent), *book.without]
        content = front.cover(book.job, book.wish, book.report, listed, absent, book.volumes)
        made = _laid(cover, content, book.stamp)
        if cover.pages == known:
            return made


def _chosen(job: Job, wish: Wish) -> tuple[list[Sheet], list[tuple[int, str, str]]]:
    """The sheets of the folder that have a place in the book, in order; and those that this job has no use for."""
    found: list[tuple[int, int, str]] = []
    absent: list[tuple[int, str, str]] = []
    for name in sheets.names():
        module = sheets.module(name)
        part = getattr(module, "PART", None)
        if part is None:
            continue
        why = module.not_applicable(job, wish) if hasattr(module, "not_applicable") else ""
        if why:
            absent.append((part, sheets.title(name), why))
        else:
            found.append((part, getattr(module, "ORDER", USUAL_ORDER), name))
    there = {part for part, _, _ in found} | {part for part, _, _ in absent} | {FIRST, LAST}
    absent += [(part, PARTS[part], "this version has no sheet for it") for part in PARTS if part not in there]
    chosen = [Sheet(name, sheets.title(name), "", part) for part, _, name in sorted(found)]
    return chosen, sorted(absent)


def _numbered(listed: list[Sheet]) -> list[Sheet]:
    """``3`` for the only sheet of a part, ``5.2`` for the second of several."""
    ordered = sorted(listed, key=lambda sheet: sheet.part)  # stable: the order within a part stays
    for part in PARTS:
        members = [sheet for sheet in ordered if sheet.part == part]
        for number, sheet in enumerate(members, 1):
            sheet.number = f"{part}.{number}" if len(members) > 1 else f"{part}"
    return ordered
