"""Is this folder still the pack that was written? Mixed, altered and incomplete packs are named, file by file."""

from __future__ import annotations

import hashlib
import io
import os
import re
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from harnesscheck.pack import manifest
from harnesscheck.pack.ident import PATTERN, pack_id

LARGEST = 50_000_000
"""Largest file that is read, and largest part of a workbook that is unpacked, bytes: a pack has none near it."""
_SAID = re.compile(rf"pack(?: ?id)?[^0-9A-Za-z]{{0,40}}({PATTERN.pattern})".encode())


@dataclass(frozen=True)
class Verdict:
    """What a look at a folder found."""

    pack: str
    """The pack id; empty when the folder has no manifest that can be read."""
    files: int
    faults: tuple[str, ...]


def verify(folder: Path) -> Verdict:
    """Look at every file of a folder. Raises ``OSError`` when it cannot be read at all."""
    if not folder.is_dir():
        return Verdict("", 0, (f"{folder}: there is no such folder",))
    listed = folder / manifest.FILE
    if not listed.is_file():
        return Verdict("", 0, (f"incomplete: {manifest.FILE} is missing, so nothing says what belongs to this pack",))
    try:
        data = _read(listed)
        said = manifest.read(data)
    except ValueError as error:
        return Verdict("", 0, (f"altered: {manifest.FILE}: {error}",))
    faults = () if manifest.whole(data, said) else (f"altered: {manifest.FILE} is not as it was written",)
    return Verdict(said["pack id"], len(said["files"]), (*faults, *_faults(folder, said)))


def _faults(folder: Path, said: dict[str, Any]) -> Iterator[str]:
    pack = said["pack id"]
    if pack_id(said["pack id stands for"]) != pack:
        yield f"altered: {manifest.FILE}: its pack id {pack} does not belong to the inputs and options it lists"
    expected = {entry["name"]: entry["sha256"] for entry in said["files"]}
    for name in sorted(expected):
        path = folder / name
        if path.is_symlink() or not path.is_file():
            yield f"incomplete: {name} is {'a link, not a file' if path.is_symlink() else 'missing'}"
            continue
        data = _read(path)
        others = sorted(printed(name, data) - {pack})
        if others:
            yield f"mixed: {name} belongs to pack {others[0]}, not to {pack}"
        elif hashlib.sha256(data).hexdigest() != expected[name]:
            yield f"altered: {name} is not as it was written"
        elif not name.endswith(".csv") and pack not in printed(name, data):
            yield f"altered: {name} does not carry the pack id {pack}"
    for name in found(folder):
        if name not in expected and name != manifest.FILE:
            others = sorted(printed(name, _read(folder / name)) - {pack})
            yield f"mixed: {name} is not a part of this pack" + (f"; it belongs to pack {others[0]}" if others else "")


def _read(path: Path) -> bytes:
    """The bytes of a file as far as one of a pack can reach: a larger one is not as it was written."""
    with path.open("rb") as file:
        return file.read(min(LARGEST, os.fstat(file.fileno()).st_size + 1))  # room is taken for all that is asked for


def found(folder: Path) -> list[str]:
    """Every file in a folder, by its path in it."""
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if not path.is_dir())


def printed(name: str, data: bytes) -> set[str]:
    """The pack ids that a document says it belongs to; a CSV file carries none, the manifest vouches for it."""
    if name.endswith(".xlsx"):
        return _in_workbook(data)
    return {match[1].decode("ascii") for match in _SAID.finditer(data)}


def _in_workbook(data: bytes) -> set[str]:
    ids: set[str] = set()
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            for entry in archive.infolist():
                if entry.filename == "docProps/core.xml" and entry.file_size <= LARGEST:
                    with archive.open(entry) as part:
                        ids |= {match[1].decode("ascii") for match in _SAID.finditer(part.read(LARGEST))}
    except (zipfile.BadZipFile, OSError, EOFError, ValueError, NotImplementedError, RuntimeError):
        return ids
    return ids
