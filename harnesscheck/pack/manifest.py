"""The manifest of a pack: what the pack id stands for, and the SHA-256 of every file, as JSON."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from pathlib import PurePosixPath
from typing import Any

FILE = "manifest.json"
KIND = "harnesscheck kit pack"
SEAL = "sha256 of the above"


def build(pack: str, basis: Mapping[str, Any], about: Mapping[str, Any], files: Mapping[str, bytes]) -> bytes:
    """The manifest of a pack that holds ``files`` (path in the folder to bytes)."""
    return of_entries(pack, basis, about, [entry(name, data) for name, data in files.items()])


def entry(name: str, data: bytes) -> dict[str, Any]:
    """What the manifest says of one file."""
    return {"name": name, "bytes": len(data), "sha256": hashlib.sha256(data).hexdigest()}


def of_entries(
    pack: str, basis: Mapping[str, Any], about: Mapping[str, Any], entries: Iterable[Mapping[str, Any]]
) -> bytes:
    """The manifest of a pack whose files were each told by ``entry`` when they were written."""
    said = {
        "kind": KIND,
        "pack id": pack,
        **about,
        "pack id stands for": dict(basis),
        "files": sorted(entries, key=lambda one: one["name"]),
    }
    return _sealed(said)


def _sealed(said: Mapping[str, Any]) -> bytes:
    """The manifest as it is written, with the SHA-256 of what stands in it as its last line."""
    seal = hashlib.sha256(json.dumps(said, sort_keys=True).encode("ascii")).hexdigest()
    return json.dumps({**said, SEAL: seal}, indent=1, ensure_ascii=True).encode("ascii") + b"\n"


def whole(data: bytes, said: Mapping[str, Any]) -> bool:
    """True when ``data``, read as ``said``, is byte for byte what was written."""
    return _sealed({key: value for key, value in said.items() if key != SEAL}) == data


def read(data: bytes) -> dict[str, Any]:
    """A manifest. Raises ``ValueError`` with what is wrong when it is none of ours."""
    try:
        said = json.loads(data)
    except (ValueError, RecursionError):
        raise ValueError("it cannot be read as JSON") from None
    if not isinstance(said, dict) or said.get("kind") != KIND:
        raise ValueError("it is not the manifest of a kit pack")
    listed, pack, basis = said.get("files"), said.get("pack id"), said.get("pack id stands for")
    if not isinstance(listed, list) or not isinstance(pack, str) or not isinstance(basis, dict):
        raise ValueError("parts of it are missing")
    for entry in listed:
        if not isinstance(entry, dict) or not all(isinstance(entry.get(key), str) for key in ("name", "sha256")):
            raise ValueError("an entry for a file is incomplete")
        if not plain(entry["name"]):
            raise ValueError("it lists a file outside the folder")
    return said


def plain(name: str) -> bool:
    """True for the path of a file inside the folder."""
    path = PurePosixPath(name)
    return bool(name) and "\\" not in name and "\0" not in name and not path.is_absolute() and ".." not in path.parts
