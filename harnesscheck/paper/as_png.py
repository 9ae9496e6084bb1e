"""A sheet as a picture: its pages below each other, lettered with the bundled font."""

from __future__ import annotations

from collections.abc import Sequence

from harnesscheck.paper import svg
from harnesscheck.paper.blocks import Content, Stamp
from harnesscheck.paper.pages import pages
from harnesscheck.paper.svg import Canvas

SUFFIX = ".png"


def write(content: Content, stamp: Stamp) -> bytes:
    """One PNG file. Raises ``ValueError`` for more pages than one legible picture can hold."""
    return drawn(pages(content, stamp), content.title, stamp)


def drawn(sheets: Sequence[Canvas], title: str, stamp: Stamp) -> bytes:
    """One PNG file of pages that are drawn already. Raises ``ValueError`` as ``write`` does."""
    return svg.png(svg.svg(sheets, f"{stamp.title}: {title}"), sheets)
