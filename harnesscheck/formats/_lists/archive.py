"""Look into a workbook before it is opened: what it unpacks to, how far its sheets reach, whether it defines entities.

The headers of a zip archive can lie, and the reader of workbooks believes the stream and not the header: so every part
is unpacked here once, with an end to it, and must be as long as it says.
"""

from __future__ import annotations

import io
import zipfile
import zlib
from xml.etree import ElementTree

from harnesscheck.formats._lists.bounds import cells_of
from harnesscheck.formats._lists.cells import MAX_CELLS, refused

MAX_UNPACKED = 50_000_000
"""Largest sum of what a workbook unpacks to, bytes. Common practice."""
MAX_RATIO = 200
"""Most bytes that one packed byte may unpack to, beside ``SMALL``. Common practice."""
SMALL = 4096
"""Bytes that a part may unpack to whatever its ratio."""
MAX_MEMBERS = 200
"""Most parts of a workbook. Common practice; a list has about ten."""
_SHEETS = ("worksheet", "sharedStrings", "styles")


def look_into(data: bytes, name: str) -> None:
    """Refuse an archive that is damaged, encrypted, or unpacks to too much. Raises ``InputError``."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            members = archive.infolist()
            if len(members) > MAX_MEMBERS:
                raise refused(name, f"this workbook holds {len(members)} parts", "save only the list in it")
            total = sum(member.file_size for member in members)
            if total > MAX_UNPACKED or any(m.file_size > MAX_RATIO * max(m.compress_size, 1) + SMALL for m in members):
                raise refused(name, "this workbook unpacks to far more than it holds", "save only the list in it")
            for member in members:
                if member.flag_bits & 1:
                    raise refused(name, "this workbook is encrypted", "save it without a password")
                text = _unpacked(data, member)
                if len(text) != member.file_size or zlib.crc32(text) != member.CRC:
                    message = f"a part of this workbook does not unpack to the {member.file_size} bytes that it states"
                    raise refused(name, message, "open it and save it again as .xlsx")
                if member.filename.lower().endswith((".xml", ".rels")):
                    _look_at(text, member.filename, name)
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, OSError, ValueError, EOFError):
        raise refused(name, "this is not a workbook", "save it as .xlsx or .ods, or as .csv") from None
    except (zlib.error, ElementTree.ParseError, LookupError, StopIteration):
        raise refused(name, "this workbook is damaged", "open it and save it again as .xlsx") from None


def _unpacked(data: bytes, member: zipfile.ZipInfo) -> bytes:
    """What a part unpacks to, and one byte more than it says at the most."""
    start = member.header_offset
    if data[start : start + 4] != b"PK\x03\x04":
        raise zipfile.BadZipFile
    name, extra = (int.from_bytes(data[start + at : start + at + 2], "little") for at in (26, 28))
    start += 30 + name + extra
    packed = data[start : start + member.compress_size]
    if member.compress_type == zipfile.ZIP_STORED:
        return packed
    if member.compress_type != zipfile.ZIP_DEFLATED:
        raise NotImplementedError
    return zlib.decompressobj(-zlib.MAX_WBITS).decompress(packed, member.file_size + 1)


def _look_at(text: bytes, part: str, name: str) -> None:
    said = text.replace(b"\0", b"")  # UTF-16 hides nothing
    if b"<!DOCTYPE" in said or b"<!ENTITY" in said:
        raise refused(name, "this workbook defines XML entities", "open it and save it again as .xlsx")
    if (count := cells_of(text)) > MAX_CELLS:
        message = f"a sheet spans {count} cells from its first to its last; at most {MAX_CELLS} are read"
        raise refused(name, message, "delete what stands far below or beside the list")
    if part.lower().endswith(".rels"):
        for link in ElementTree.fromstring(text):  # noqa: S314
            if link.get("Type", "").endswith(_SHEETS) and not link.get("Target", "").lower().endswith(".xml"):
                message = f"a sheet of this workbook is called {link.get('Target', '')[:60]!r}"  # and was not looked at
                raise refused(name, message, "open it and save it again as .xlsx")
