"""Pages as one PDF: text kept as text, links from a name to the row that owns it, an outline to find a sheet by.

The pages are the SVG pages, put on paper by Typst with the bundled font only and without a date, so the same pages give
the same bytes.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from harnesscheck.paper import metrics, svg
from harnesscheck.paper.blocks import Content, Stamp
from harnesscheck.paper.pages import pages
from harnesscheck.paper.svg import XY, Canvas

SUFFIX = ".pdf"
KEPT = 20
"""Files of a compilation beyond which what Typst keeps of it is let go; that costs as much as setting four pages."""
AGES = 11
"""Compilations without use after which Typst lets go, and one (its own number is ten)."""


def write(content: Content, stamp: Stamp) -> bytes:
    """One PDF file."""
    return drawn(pages(content, stamp), content.title, stamp)


def drawn(sheets: Sequence[Canvas], title: str, stamp: Stamp) -> bytes:
    """One PDF file of pages that are drawn already."""
    return book([(title, [leaf(page) for page in sheets])], f"{stamp.title}: {title}", stamp)


@dataclass(frozen=True, slots=True)
class Leaf:
    """A page ready to be put on paper: written as SVG once, for every document it stands in; its drawing is let go."""

    width: float
    height: float
    anchors: Mapping[str, XY]
    links: Sequence[tuple[float, float, float, float, str]]
    svg: bytes


def leaf(page: Canvas) -> Leaf:
    """A page ready to be put on paper."""
    return Leaf(page.width, page.height, page.anchors, page.links, svg.svg([page], "page"))


def book(parts: Sequence[tuple[str, Sequence[Leaf]]], title: str, stamp: Stamp) -> bytes:
    """Several sheets in one PDF file, each with its own entry in the outline."""
    return _compiled(_source(parts, title, stamp), format="pdf", pdf_tags=False)[0]


def pictures(leaves: Sequence[Leaf], dpi: float) -> list[bytes]:
    """The same pages as PNG pictures, one each."""
    return _compiled(_source([("", leaves)], "", Stamp("")), format="png", ppi=dpi)


def _compiled(files: dict[str, bytes], **how: object) -> list[bytes]:
    import typst

    # Only the bundled font, so that no font of the machine can change the lettering.
    fonts = [str(Path(metrics.font_path()).parent)]
    # The signature in the stubs leaves out that several files may be given by name.
    compiler: Any = typst.compile
    done = compiler(files, font_paths=fonts, ignore_system_fonts=True, **how)
    made = [bytes(one) for one in (done if isinstance(done, list) else [done])]
    if len(files) > KEPT:
        _forget()
    return made


def _forget() -> None:
    """Let Typst let go of the pages it has set.

    It keeps what it has worked out until ten compilations have made no use of it, four megabytes a page: a book of many
    volumes would fill the memory. Empty ones are counted like any other.
    """
    import typst

    setter = typst.compile
    for _ in range(AGES):
        setter(b"#set page(width: 1pt, height: 1pt)", ignore_system_fonts=True, format="png")


def _source(parts: Sequence[tuple[str, Sequence[Leaf]]], title: str, stamp: Stamp) -> dict[str, bytes]:
    where = _places([one for _, leaves in parts for one in leaves])
    lines = [
        f"#set document(title: {_text(title)}, author: {_text(stamp.tool)}, "
        f"keywords: ({_text('pack ' + stamp.pack) + ',' if stamp.pack else ''}), date: none)",
        "#set page(margin: 0mm)",
        f"#set text(font: {_text(metrics.FAMILY)})",
    ]
    files: dict[str, bytes] = {}
    for heading, leaves in parts:
        for number, one in enumerate(leaves):
            name = f"{len(files) + 1}.svg"
            files[name] = one.svg
            lines.append(f"#page(width: {one.width:g}mm, height: {one.height:g}mm)[")
            if heading and not number:
                lines.append(f"#place(hide[#heading(outlined: true, bookmarked: true, {_text(heading)})])")
            lines.append(f'#place(image("{name}", width: {one.width:g}mm, height: {one.height:g}mm))')
            lines += _links(one, where)
            lines.append("]")
    files["main.typ"] = "\n".join(lines).encode("utf-8")
    return files


def _places(sheets: Sequence[Leaf]) -> dict[str, tuple[int, float, float]]:
    """Page number and place of every name that links may lead to; the first page that has it owns it."""
    where: dict[str, tuple[int, float, float]] = {}
    for number, page in enumerate(sheets, 1):
        for name, (x, y) in page.anchors.items():
            where.setdefault(name, (number, x, y))
    return where


def _links(page: Leaf, where: dict[str, tuple[int, float, float]]) -> list[str]:
    said = []
    for left, top, wide, high, name in page.links:
        if name in where:
            number, x, y = where[name]
            target = f"(page: {number}, x: {x:.1f}mm, y: {max(0.0, y - 5.0):.1f}mm)"
            box = f"box(width: {wide:.1f}mm, height: {high:.1f}mm)"
            said.append(f"#place(dx: {left:.1f}mm, dy: {top:.1f}mm, link({target}, {box}))")
    return said


def _text(text: str) -> str:
    """A Typst string: the escapes of JSON are those of Typst, but for characters beyond ASCII, which stay."""
    return json.dumps(svg.clean(text), ensure_ascii=False)
