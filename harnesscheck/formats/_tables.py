"""A file of a job as tables, and back: what the exports to spreadsheets and their reader agree on.

Every section is one table: a column of names, then one column for each key. The cavities and the pins of all the
connectors are tables of their own (the pin maps). The rule for a cell is the same everywhere: text stands as it is,
and a text that could be taken for something else, a list or a block is written as JSON (RFC 8259).
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, field
from typing import Any

from harnesscheck.document import Block, Items

MARK = "harnesscheck export"
"""First cell of the first table; what follows it is the number of the format."""
FORMAT = "1"
HEAD = "file"
"""The first table: the keys at the head of the file, and in which order the sections stand."""
NAME, OWNER, VALUE, ORDER = "(name)", "(connector)", "(value)", "(order)"
PIN_MAPS = ("cavities", "pins")
"""Sections of a connector that are tables of their own."""
_ALONE = ("kit",)
"""Sections of which each entry is another thing: one value each, no column by key."""


@dataclass(slots=True)
class Grid:
    """One table: its name, its heads, its rows of text (empty: not stated)."""

    name: str
    heads: list[str]
    rows: list[list[str]] = field(default_factory=list)


def encode(value: Any) -> str:
    r"""A value of a file as the text of one cell; never empty.

    >>> encode("+28V"), encode(""), encode("[1]"), encode(["a", "b"])
    ('+28V', '""', '"[1]"', '["a", "b"]')
    """
    if isinstance(value, str) and value and not _needs_json(value):
        return value
    said = json.dumps(value, ensure_ascii=False)
    return re.sub(r"_(x[0-9A-Fa-f]{4}_)", r"\\u005f\1", said)


def _needs_json(text: str) -> bool:
    """Text that JSON could be taken for, that has blanks at its ends, or that a workbook reads as an escape."""
    return bool(text[0] in '"[{(' or text != text.strip() or re.search(r"[\t\r\n\v\f]|_x[0-9A-Fa-f]{4}_", text))


def decode(text: str, mark: tuple[int, int]) -> Any:
    """The value of a cell; all its parts have the place of the cell. Raises ``ValueError`` for broken JSON."""
    if text[:1] not in ('"', "[", "{"):
        return text
    return _placed(json.loads(text, object_pairs_hook=_once), mark)


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        raise ValueError("a key is given twice")
    return found


def _placed(value: Any, mark: tuple[int, int]) -> Any:
    if isinstance(value, dict):
        block = Block(*mark)
        for key, each in value.items():
            put(block, key, _placed(each, mark), mark)
        return block
    if isinstance(value, list):
        items = Items(*mark)
        items.extend(_placed(each, mark) for each in value)
        items.marks = [mark] * len(items)
        return items
    if not isinstance(value, str):
        raise ValueError("a number or a truth value without quotes")
    return value


def put(block: Block, key: str, value: Any, mark: tuple[int, int], key_mark: tuple[int, int] | None = None) -> None:
    """Hang a value into a block, with its place."""
    block[key] = value
    block.marks[key] = (*(key_mark or mark), *mark)


def see(table: str) -> str:
    """What stands in a cell whose value is a table."""
    return f"(see {table})"


def grids(root: Block) -> list[Grid]:
    """The tables of a file, the head first."""
    head = Grid(HEAD, [NAME, VALUE])
    found = [head]
    for key, value in root.items():
        if not isinstance(value, Block) or not value:
            head.rows.append([encode(key), encode(value)])
            continue
        head.rows.append([encode(key), see(key)])
        if key != "connectors":
            found.append(_grid(key, [NAME], [([name], entry) for name, entry in value.items()]))
            continue
        shown: list[tuple[list[str], Any]] = []
        maps: dict[str, list[tuple[list[str], Any]]] = {}
        for ref, entry in value.items():
            shown.append(([ref], entry))
            if not isinstance(entry, Block):
                continue
            shown[-1] = ([ref], dict(entry))
            for part in PIN_MAPS:
                inner = entry.get(part)
                if isinstance(inner, Block) and inner:
                    shown[-1][1][part] = _See(part)
                    maps.setdefault(part, []).extend(([ref, name], each) for name, each in inner.items())
        found.append(_grid(key, [NAME], shown))
        found += [_grid(part, [OWNER, NAME], maps[part]) for part in PIN_MAPS if part in maps]
    return found


class _See(str):
    """Stands for a table of its own."""

    __slots__ = ()


def _grid(name: str, lead: list[str], entries: list[tuple[list[str], Any]]) -> Grid:
    spread = [isinstance(entry, dict) and name not in _ALONE for _, entry in entries]
    keys = _columns([list(entry) for (_, entry), wide in zip(entries, spread, strict=True) if wide])
    valued = not all(spread)
    rows, disordered = [], False
    for (names, entry), wide in zip(entries, spread, strict=True):
        said = dict(entry) if wide else {}
        order = ""
        if [key for key in keys if key in said] != list(said):
            order, disordered = encode(list(said)), True
        value = "" if wide else encode(entry)
        cells = [_shown(said, key) for key in keys]
        rows.append([*map(encode, names), *([value] if valued else []), *cells, order])
    heads = [*lead, *([VALUE] if valued else []), *map(encode, keys), ORDER]
    if not disordered:
        heads, rows = heads[:-1], [row[:-1] for row in rows]
    return Grid(name, heads, rows)


def _shown(said: dict[str, Any], key: str) -> str:
    if key not in said:
        return ""
    return see(said[key]) if isinstance(said[key], _See) else encode(said[key])


def _columns(lists: list[list[str]]) -> list[str]:
    """All keys in an order that agrees with many entries: a new key goes before the one that follows it."""
    found: list[str] = []
    for keys in dict.fromkeys(map(tuple, lists)):
        at = len(found)
        for key in reversed(keys):
            if key in found:
                at = found.index(key)
            else:
                found.insert(at, key)
    return found
