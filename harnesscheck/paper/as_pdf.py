"""Pages as one PDF: text kept as text, links from a name to the row that owns it, an outline to find a sheet by.

The pages are the SVG pages, put on paper by Typst with the bundled font only and without a date, so the same pages give
the same bytes.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from harnesscheck.paper import metrics, svg
from harnesscheck.paper.blocks import Content, Stamp
from harnesscheck.paper.pages import pages
from harnesscheck.paper.svg import Canvas

SUFFIX = ".pdf"


def write(content: Content, stamp: Stamp) -> bytes:
    """One PDF file."""
    return drawn(pages(content, stamp), content.title, stamp)


def drawn(sheets: Sequence[Canvas], title: str, stamp: Stamp) -> bytes:
    """One PDF file of pages that are drawn already."""
    return book([(title, sheets)], f"{stamp.title}: {title}", stamp)


def book(parts: Sequence[tuple[str, Sequence[Canvas]]], title: str, stamp: Stamp) -> bytes:
    """Several sheets in one PDF file, each with its own entry in the outline."""
    import typst

    where = _places([page for _, sheets in parts for page in sheets])
    lines = [
        f"#set document(title: {_text(title)}, author: {_text(stamp.tool)}, "
        f"keywords: ({_text('pack ' + stamp.pack) + ',' if stamp.pack else ''}), date: none)",
        "#set page(margin: 0mm)",
        f"#set text(font: {_text(metrics.FAMILY)})",
    ]
    files: dict[str, bytes] = {}
    for heading, sheets in parts:
        for number, page in enumerate(sheets):
            name = f"{len(files) + 1}.svg"
            files[name] = svg.svg([page], title)
            lines.append(f"#page(width: {page.width:g}mm, height: {page.height:g}mm)[")
            if not number:
                lines.append(f"#place(hide[#heading(outlined: true, bookmarked: true, {_text(heading)})])")
            lines.append(f'#place(image("{name}", width: {page.width:g}mm, height: {page.height:g}mm))')
            lines += _links(page, where)
            lines.append("]")
    files["main.typ"] = "\n".join(lines).encode("utf-8")
    # Called with the font's folder, so that no font of the machine can change the lettering.
    fonts = [str(Path(metrics.font_path()).parent)]
    # The signature in the stubs leaves out that several files may be given by name.
    compiler: Any = typst.compile
    return bytes(compiler(files, font_paths=fonts, ignore_system_fonts=True, pdf_tags=False))


def _places(sheets: Sequence[Canvas]) -> dict[str, tuple[int, float, float]]:
    """Page number and place of every name that links may lead to; the first page that has it owns it."""
    where: dict[str, tuple[int, float, float]] = {}
    for number, page in enumerate(sheets, 1):
        for name, (x, y) in page.anchors.items():
            where.setdefault(name, (number, x, y))
    return where


def _links(page: Canvas, where: dict[str, tuple[int, float, float]]) -> list[str]:
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
