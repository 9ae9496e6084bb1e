"""Widths of text in the bundled font, read from the font file itself, so that what is drawn can never overlap.

Only four tables of the TrueType file are read: ``head`` (units per em), ``hhea`` and ``hmtx`` (advance widths) and
``cmap`` (which glyph a character has). The layout of those tables is the one published in ISO/IEC 14496-22.
"""

from __future__ import annotations

import struct
import unicodedata
from functools import cache, lru_cache
from importlib.resources import files
from pathlib import Path

FONT_FILE = "DejaVuSansCondensed.ttf"
FAMILY = "DejaVu Sans Condensed"
CAP = 0.729
"""Height of a capital letter over the font size; read off the outlines of the bundled font."""
ASCENT, DESCENT = 0.76, 0.24
"""How far the lettering reaches above and below the base line over the font size (brackets and slashes included)."""


@cache
def font_path() -> str:
    """The path of the bundled font file."""
    return str(files(__package__) / "fonts" / FONT_FILE)


@cache
def _tables() -> tuple[int, tuple[int, ...], dict[int, int]]:
    data = Path(font_path()).read_bytes()
    count = struct.unpack_from(">H", data, 4)[0]
    where: dict[bytes, int] = {}
    for number in range(count):
        tag, _, offset, _ = struct.unpack_from(">4sIII", data, 12 + 16 * number)
        where[tag] = offset
    per_em = struct.unpack_from(">H", data, where[b"head"] + 18)[0]
    metrics = struct.unpack_from(">H", data, where[b"hhea"] + 34)[0]
    advances = struct.unpack_from(">" + "Hh" * metrics, data, where[b"hmtx"])[::2]
    return per_em, advances, _characters(data, where[b"cmap"])


def _characters(data: bytes, start: int) -> dict[int, int]:
    """Character code to glyph number, from the format 4 subtable (all of the basic multilingual plane)."""
    glyphs: dict[int, int] = {}
    for number in range(struct.unpack_from(">H", data, start + 2)[0]):
        _, _, offset = struct.unpack_from(">HHI", data, start + 4 + 8 * number)
        table = start + offset
        if struct.unpack_from(">H", data, table)[0] != 4:
            continue
        pairs = struct.unpack_from(">H", data, table + 6)[0] // 2
        ends = struct.unpack_from(f">{pairs}H", data, table + 14)
        starts = struct.unpack_from(f">{pairs}H", data, table + 16 + 2 * pairs)
        deltas = struct.unpack_from(f">{pairs}H", data, table + 16 + 4 * pairs)
        ranges_at = table + 16 + 6 * pairs
        ranges = struct.unpack_from(f">{pairs}H", data, ranges_at)
        for segment in range(pairs):
            for code in range(starts[segment], min(ends[segment], 0xFFFE) + 1):
                glyph = code
                if ranges[segment]:
                    at = ranges_at + 2 * segment + ranges[segment] + 2 * (code - starts[segment])
                    glyph = struct.unpack_from(">H", data, at)[0]
                    if not glyph:
                        continue
                glyphs[code] = (glyph + deltas[segment]) & 0xFFFF
        return glyphs
    raise ValueError("the bundled font has no format 4 character table")


@lru_cache(maxsize=16384)
def shown(text: str) -> str:
    """``text`` as it is printed: what the font has no glyph for, or what would print as nothing, becomes ``U+202E``.

    Marks that turn the direction of writing are among them: a name must not change how its neighbours read.
    """
    if text.isascii() and text.isprintable():
        return text
    glyphs = _tables()[2]
    return "".join(
        char if ord(char) in glyphs and unicodedata.category(char) not in _SILENT else f"U+{ord(char):04X}"
        for char in text
    )


_SILENT = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})
"""Unicode categories of control and format characters, and of what is not assigned (Unicode Standard, 4.5)."""


@lru_cache(maxsize=16384)
def width(text: str, cap: float) -> float:
    """Width of ``text`` in mm when its capitals are ``cap`` mm high, without kerning, as ``shown`` prints it."""
    per_em, advances, glyphs = _tables()
    units = 0
    for char in shown(text):
        glyph = glyphs.get(ord(char), 0)
        units += advances[min(glyph, len(advances) - 1)]
    return units / per_em * cap / CAP


def _broken(word: str, cap: float, room: float) -> list[str]:
    """One word in pieces that fit; a single piece when it fits as it is."""
    pieces: list[str] = []
    while width(word, cap) > room and len(word) > 1:
        keep = len(word) - 1
        while keep > 1 and width(word[:keep], cap) > room:
            keep -= 1
        pieces.append(word[:keep])
        word = word[keep:]
    return [*pieces, word]


def wrap(text: str, cap: float, room: float) -> list[str]:
    """``text`` in lines of at most ``room`` mm; a word that is too long is broken, nothing is dropped."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        trial = f"{line} {word}" if line else word
        if width(trial, cap) <= room:
            line = trial
            continue
        if line:
            lines.append(line)
        *whole, line = _broken(word, cap, room)
        lines.extend(whole)
    if line:
        lines.append(line)
    return lines


def balanced(text: str, cap: float, room: float) -> list[str]:
    """``text`` in as few lines as ``wrap`` needs, of about equal length."""
    lines = wrap(text, cap, room)
    while len(lines) > 1 and room > 1:
        room -= 1.0
        trial = wrap(text, cap, room)
        if len(trial) > len(lines) or [word for line in trial for word in line.split()] != text.split():
            break
        lines = trial
    return lines
