"""Characters of a file: UTF-8 and nothing else, and none that a person cannot see."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator

from harnesscheck.fault import Fault, InputError

# Letters and marks that Python calls printable, and that show as nothing or as a blank: text looks like other text
# (Trojan Source, CVE-2021-42574). Controls, bidirectional marks and odd blanks are not printable to begin with.
_HIDDEN = {0x034F, 0x115F, 0x1160, 0x2800, 0x3164, 0xFFA0, 0x17B4, 0x17B5, *range(0xFE00, 0xFE10)}


def decoded(data: bytes, name: str) -> str:
    """The text of a file. Raises ``InputError`` with the place of the first byte that is not UTF-8."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise InputError([Fault(name, 1, 1, "this file is UTF-16", "", "save it as UTF-8")])
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        line, column = place_of(data, error.start)
        start, end = data.rfind(b"\n", 0, error.start) + 1, data.find(b"\n", error.start)
        shown = data[start : end if end >= 0 else len(data)].decode("utf-8", "backslashreplace")
        message = f"byte 0x{data[error.start]:02x} is not UTF-8 text"
        raise InputError([Fault(name, line, column, message, shown[:200], "save the file as UTF-8")]) from None


def place_of(data: bytes, at: int, encoding: str = "utf-8") -> tuple[int, int]:
    """Line and column, in characters, of a byte that has no place in the text."""
    start = data.rfind(b"\n", 0, at) + 1
    return data.count(b"\n", 0, at) + 1, len(data[start:at].decode(encoding, "replace")) + 1


def bad(lines: list[str], text: str) -> Iterator[tuple[int, int, str, str]]:
    """Control and hidden characters: line, column, message and remedy; the fast path looks at the whole text once."""
    plain = text.replace("\r\n", "").replace("\n", "").replace("\t", "")
    if plain.isprintable() and (plain.isascii() or not any(ord(c) in _HIDDEN for c in set(plain))):
        return
    found = 0
    for number, line in enumerate(lines, 1):
        for column, char in enumerate(line.removesuffix("\r"), 1):
            if char == "\t" or not hidden(char):
                continue
            remedy = "delete it and type the text again"
            if char == "\r":
                remedy = "save the file with ordinary line ends (LF, or CR LF)"
            elif unicodedata.category(char) == "Zs":
                remedy = "type an ordinary blank instead"
            yield number, column, f"hidden or control character {called(char)}", remedy
            found += 1
            if found >= 20:
                return


def hidden(char: str) -> bool:
    """True for a character that a person cannot see or cannot tell from a blank."""
    return not char.isprintable() or ord(char) in _HIDDEN


def called(char: str) -> str:
    """How a message names a character."""
    name = unicodedata.name(char, "").lower()
    return f"U+{ord(char):04X}" + (f" ({name})" if name else "")
