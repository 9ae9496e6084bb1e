"""What differs between an aircraft and its type, said in the words of the trade.

The two files are compared entry by entry and key by key. Values are compared as they are read, not as they are typed:
``2.6 m`` and ``2600 mm`` are no difference. Notes are free text and are left out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from harnesscheck.document import Block, Document, Items
from harnesscheck.formats._as_found import SECTIONS
from harnesscheck.formats._overlay import NESTED
from harnesscheck.formats._schema import AirframeFile
from harnesscheck.formats._types import Typed

_WORDS = {"buses": "bus", "grounds": "ground stud", "loads": "load", "limits": "limit of"}
_LEFT_OUT = ("note",)
Path = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that differs; ``path`` leads to it in the files: section, name and perhaps keys."""

    path: Path
    said: str
    """For a person: ``wire P107A20: length 12 m (type: 2.6 m)``."""
    where: str
    """Where the aircraft's file says so, as file:line:column; empty when it is the type's file that says more."""
    now: str
    """The value on this aircraft, as typed."""


def differences(type_file: Document, aircraft: Document) -> tuple[Difference, ...]:
    """Everything in which the aircraft's file says something else than that of its type, in the order of the file."""
    one, two = type_file.root, aircraft.root
    found: list[Difference] = []
    for section in (*SECTIONS, "limits"):
        found += _section(section, _block(one, section), _block(two, section), aircraft)
    if one.get("waivers") != two.get("waivers"):
        found.append(Difference(("waivers",), "other findings waived in writing", "", _text(two.get("waivers"))))
    if one.get("parts") != two.get("parts"):
        found.append(Difference(("parts",), "another parts file", "", _text(two.get("parts"))))
    return tuple(found)


def _block(block: Block, key: str) -> Block:
    found = block.get(key)
    return found if isinstance(found, Block) else Block(1, 1)


def _section(section: str, one: Block, two: Block, aircraft: Document) -> Iterator[Difference]:
    word = _WORDS.get(section, section.removesuffix("s"))
    for name in dict.fromkeys([*one, *two]):
        if one.get(name) is two.get(name):
            continue  # shared between the two: the common case on an as-found file
        thing = f"{word} {name}"
        if name not in two:
            yield Difference((section, name), f"{thing}: not in this aircraft", "", "")
        elif name not in one:
            yield Difference((section, name), f"{thing}: only in this aircraft", _where(aircraft, two, name),
                             _text(two[name]))  # fmt: skip
        elif isinstance(one[name], Block) and isinstance(two[name], Block):
            yield from _entry(section, name, thing, one[name], two[name], aircraft)


def _entry(section: str, name: str, thing: str, one: Block, two: Block, aircraft: Document) -> Iterator[Difference]:
    for key in dict.fromkeys([*one, *two]):
        if key in _LEFT_OUT or one.get(key) is two.get(key):
            continue
        if key in NESTED.get(section, ()):
            yield from _named(section, name, key, _block(one, key), _block(two, key), aircraft)
        elif _typed(section, key, one.get(key)) != _typed(section, key, two.get(key)):
            said = f"{thing}: {_changed(key, one.get(key), two.get(key))}"
            yield Difference((section, name, key), said, _where(aircraft, two, key), _text(two.get(key)))


def _named(section: str, name: str, inner: str, one: Block, two: Block, aircraft: Document) -> Iterator[Difference]:
    """Cavities of a connector, passages of a route: each is one difference, whatever it says."""
    for own in dict.fromkeys([*one, *two]):
        was, now = _spelt(inner, one.get(own)), _spelt(inner, two.get(own))
        if was == now or (inner == "passages" and _length(was) == _length(now)):
            continue
        thing = f"{name}-{own}" if inner == "cavities" else f"route {name}, passage {own}"
        said = f"{thing}: {_cavity(was, now)}" if isinstance(was, dict) or isinstance(now, dict) else (
            f"{thing}: {_value(now)} (type: {_value(was)})")  # fmt: skip
        yield Difference((section, name, inner, own), said, _where(aircraft, two, own), _text(two.get(own)))


def _spelt(inner: str, said: Any) -> Any:
    """What is said of a cavity, spelt out; notes left out."""
    if inner != "cavities" or said is None:
        return said
    if isinstance(said, str):
        return {"use" if said in ("spare", "unknown") else "circuit": said}
    return {key: value for key, value in said.items() if key not in _LEFT_OUT}


def _cavity(was: Any, now: Any) -> str:
    was, now = was or {}, now or {}
    if set(was) | set(now) <= {"use", "circuit"}:
        return f"{_carries(now)} (type: {_carries(was)})"
    keys = [key for key in dict.fromkeys([*was, *now]) if was.get(key) != now.get(key)]
    return "; ".join(_changed(key, was.get(key), now.get(key)) for key in keys)


def _carries(said: dict[str, Any]) -> str:
    return str(said.get("circuit") or said.get("use") or "not listed")


def _changed(key: str, was: Any, now: Any) -> str:
    return f"{key} {_value(now)} (type: {_value(was)})"


def _value(said: Any) -> str:
    return "not stated" if said is None else _text(said)


def _text(said: Any) -> str:
    if isinstance(said, Items | list):
        return ", ".join(map(_text, said))
    if isinstance(said, dict):
        return "{" + ", ".join(f"{key}: {_text(value)}" for key, value in said.items()) + "}"
    return "" if said is None else str(said)


def _where(document: Document, block: Block, key: str) -> str:
    if key not in block.marks:
        return ""
    line, column = block.marks[key][:2]
    typed, own = document.origin(line)
    return f"{typed.name}:{own}:{column}"


def _typed(section: str, key: str, said: Any) -> Any:
    """A value as the schema reads it; as it stands when the schema has no reader for it."""
    reader = _readers(section).get(key)
    return reader(said) if reader is not None and isinstance(said, str) else said


def _length(said: Any) -> Any:
    from harnesscheck.units import length

    return length(said) if isinstance(said, str) else said


@cache
def _readers(section: str) -> dict[str, Typed]:
    """Key to the reader of its value, for the entries of one section."""
    annotation = AirframeFile.model_fields[section].annotation
    entry: Any = getattr(annotation, "__args__", (None, None))[1]
    fields = getattr(entry, "model_fields", None) or getattr(entry, "__pydantic_fields__", {})
    found = {}
    for name, field in fields.items():
        reader = _reader(field.annotation, field.metadata)
        if reader is not None:
            found[field.alias or name] = reader
    return found


def _reader(annotation: Any, metadata: Any) -> Typed | None:
    if isinstance(annotation, type) or getattr(annotation, "__origin__", None) in (list, dict):
        return next((thing for thing in metadata if isinstance(thing, Typed)), None)
    for thing in (*metadata, *getattr(annotation, "__metadata__", ())):
        if isinstance(thing, Typed):
            return thing
    found = (_reader(part, ()) for part in getattr(annotation, "__args__", ()))
    return next((reader for reader in found if reader is not None), None)
