"""A sheet as SVG: its pages below each other, text kept as text, ids that other documents may point at."""

from __future__ import annotations

from collections.abc import Sequence

from harnesscheck.paper import svg
from harnesscheck.paper.blocks import Content, Stamp
from harnesscheck.paper.pages import pages
from harnesscheck.paper.svg import Canvas

SUFFIX = ".svg"


def write(content: Content, stamp: Stamp) -> bytes:
    """One SVG file."""
    return drawn(pages(content, stamp), content.title, stamp)


def drawn(sheets: Sequence[Canvas], title: str, stamp: Stamp) -> bytes:
    """One SVG file of pages that are drawn already."""
    return svg.svg(sheets, f"{stamp.title}: {title}" + (f", pack id {stamp.pack}" if stamp.pack else ""))
