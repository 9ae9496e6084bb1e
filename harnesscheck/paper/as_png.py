"""A sheet as a picture: its pages below each other, lettered with the bundled font."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Sequence

from harnesscheck.paper import svg
from harnesscheck.paper.blocks import Content, Stamp
from harnesscheck.paper.pages import pages
from harnesscheck.paper.svg import Canvas

SUFFIX = ".png"


def write(content: Content, stamp: Stamp) -> bytes:
    """One PNG file. Raises ``TooLargeError`` for more pages than one legible picture can hold."""
    return drawn(pages(content, stamp), content.title, stamp)


def drawn(sheets: Sequence[Canvas], title: str, stamp: Stamp) -> bytes:
    """One PNG file of pages that are drawn already. Raises ``TooLargeError`` as ``write`` does."""
    picture = svg.png(svg.svg(sheets, f"{stamp.title}: {title}"), sheets)
    return marked(picture, stamp.pack) if stamp.pack else picture


def marked(picture: bytes, pack: str) -> bytes:
    """The picture with the pack id as text beside its dots (a tEXt chunk, ISO/IEC 15948 11.3.4.3)."""
    body = b"tEXtpack id\0" + pack.encode("ascii")
    chunk = struct.pack(">I", len(body) - 4) + body + struct.pack(">I", zlib.crc32(body))
    # After the eight bytes of the signature and the header chunk, which is always the first and 25 bytes long.
    return picture[:33] + chunk + picture[33:]
