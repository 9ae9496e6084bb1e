"""Mutations that know the shape of what they spoil: text, the tree of a YAML or JSON file, tables, zip archives."""

from __future__ import annotations

import copy
import csv
import io
import json
import random
import re
import zipfile
from typing import Any

from tests.fuzz.words import HOSTILE, NUMBERS, UNITS, hostile

_TOKEN = re.compile(r"[^\s{}\[\],:]+(?: [^\s{}\[\],:]+)*")


def text(rng: random.Random, data: str) -> str:
    """One to four slips in a text: lines, tokens, signs."""
    for _ in range(rng.choice((1, 1, 1, 2, 2, 3, 4))):
        data = _slip(rng, data)
    return data


def _slip(rng: random.Random, data: str) -> str:
    lines = data.split("\n")
    at = rng.randrange(len(lines))
    kind = rng.randrange(12)
    if kind == 0:
        del lines[at]
    elif kind == 1:
        lines.insert(rng.randrange(len(lines) + 1), lines[at])
    elif kind == 2:
        lines.insert(rng.randrange(len(lines)), lines.pop(at))
    elif kind == 3:
        lines[at] = rng.choice(("", " ", "  ", "    ", "\t")) + lines[at].lstrip()
    elif kind == 4:
        lines[at] = lines[at][: rng.randrange(len(lines[at]) + 1)]
    elif kind == 5:
        return data[: rng.randrange(len(data) + 1)]
    elif kind == 6 and data:
        spot = rng.randrange(len(data))
        return data[:spot] + data[spot + rng.randrange(3) :]
    elif kind == 7:
        spot = rng.randrange(len(data) + 1)
        return data[:spot] + rng.choice(HOSTILE) + data[spot:]
    elif kind == 8:
        return _number(rng, data)
    else:
        return _token(rng, data, kind == 9)
    return "\n".join(lines)


def _number(rng: random.Random, data: str) -> str:
    found = list(re.finditer(r"\d+(?:\.\d+)?", data))
    if not found:
        return data
    one = rng.choice(found)
    return data[: one.start()] + rng.choice(NUMBERS) + data[one.end() :]


def _token(rng: random.Random, data: str, other: bool) -> str:
    """A word of the text gives way to another of the same text, or to one from outside."""
    found = list(_TOKEN.finditer(data))
    if not found:
        return data + hostile(rng)
    one = rng.choice(found)
    word = rng.choice(found)[0] if other else hostile(rng)
    return data[: one.start()] + word + data[one.end() :]


def raw(rng: random.Random, data: bytes) -> bytes:
    """Bytes changed, left out, put in, or cut off."""
    spoilt = bytearray(data)
    for _ in range(rng.choice((1, 1, 2, 8))):
        if not spoilt:
            return b"\x00"
        at = rng.randrange(len(spoilt))
        kind = rng.randrange(5)
        if kind == 0:
            spoilt[at] = rng.randrange(256)
        elif kind == 1:
            spoilt[at] ^= 1 << rng.randrange(8)
        elif kind == 2:
            del spoilt[at : at + rng.randrange(1, 9)]
        elif kind == 3:
            spoilt[at:at] = bytes(rng.randrange(256) for _ in range(rng.randrange(1, 5)))
        else:
            del spoilt[at:]
    return bytes(spoilt)


# -- trees -----------------------------------------------------------------------------------------------------------


def tree(rng: random.Random, root: Any, donor: Any) -> Any:
    """One to five changes in a tree of dicts, lists and texts; ``donor`` is another tree to take parts from."""
    root = copy.deepcopy(root)
    gentle = rng.random() < 0.6
    for _ in range(rng.choice((1, 1, 1, 2, 2, 3, 5))):
        _change(rng, root, donor, rng.choice(_GENTLE) if gentle else rng.randrange(12))
    return root


_GENTLE = (0, 6, 6, 8, 8, 8, 9, 9, 12)
"""Changes that often leave a file that can be read, so that what comes behind the reader is reached."""


def _spots(node: Any) -> list[tuple[Any, Any]]:
    found: list[tuple[Any, Any]] = []
    rest = [node]
    while rest:
        here = rest.pop()
        for key, value in here.items() if isinstance(here, dict) else enumerate(here):
            found.append((here, key))
            if isinstance(value, dict | list):
                rest.append(value)
    return found


def _change(rng: random.Random, root: Any, donor: Any, kind: int) -> None:
    spots = _spots(root)
    if not spots:
        return
    here, key = rng.choice(spots)
    given, name = rng.choice(_spots(donor) or spots)
    value = copy.deepcopy(given[name])
    if kind <= 1:
        del here[key]
    elif kind == 2 and isinstance(here, dict):
        here[str(name) if rng.random() < 0.7 else hostile(rng)] = value
    elif kind == 3 and isinstance(here, dict):
        here[hostile(rng)] = here.pop(key)
    elif kind == 4:
        here[key] = [] if rng.random() < 0.3 else {} if rng.random() < 0.5 else [here[key]]
    elif kind == 5:
        here[key] = {hostile(rng): here[key]}
    elif kind == 6:
        same = [h[k] for h, k in spots if k == key and h is not here]
        here[key] = copy.deepcopy(rng.choice(same)) if same else value
    elif kind == 7:
        other, far = rng.choice(spots)
        if here is not other and not isinstance(here[key], dict | list) and not isinstance(other[far], dict | list):
            here[key], other[far] = other[far], here[key]
    elif kind == 8:
        same = [g[n] for g, n in _spots(donor) if n == key]
        here[key] = copy.deepcopy(rng.choice(same)) if same else value
    elif kind == 12 and isinstance(here, dict):
        alike = [g for g, n in _spots(donor) if n == key and isinstance(g, dict)]
        if alike:  # what else stands beside this key elsewhere
            more = rng.choice(alike)
            extra = rng.choice(sorted(more, key=str))
            here.setdefault(extra, copy.deepcopy(more[extra]))
    elif kind == 9 and isinstance(here[key], str):
        here[key] = _number(rng, here[key])
    elif kind == 10 and isinstance(here[key], str):
        here[key] = f"{rng.choice(NUMBERS)} {rng.choice(UNITS)}".strip()
    elif not isinstance(here[key], dict | list) or rng.random() < 0.2:
        here[key] = hostile(rng)


def as_yaml(node: Any) -> str:
    """A tree as YAML of braces and quotes, which JSON nearly is; names stay the names that they are."""
    if not isinstance(node, dict):
        return json.dumps(node, ensure_ascii=False)
    return "\n".join(
        f"{json.dumps(str(k), ensure_ascii=False)}: {json.dumps(v, ensure_ascii=False)}" for k, v in node.items()
    )


# -- tables and archives ---------------------------------------------------------------------------------------------


def table(rng: random.Random, rows: list[list[str]]) -> list[list[str]]:
    """One to five changes in cells, rows and columns."""
    rows = [list(row) for row in rows]
    for _ in range(rng.choice((1, 1, 2, 3, 5))):
        if not rows:
            return [[hostile(rng)]]
        at = rng.randrange(len(rows))
        row, kind = rows[at], rng.randrange(10)
        column = rng.randrange(len(row)) if row else 0
        if kind == 0:
            del rows[at]
        elif kind == 1:
            rows.insert(rng.randrange(len(rows) + 1), list(row))
        elif kind == 2:
            for one in rows:
                del one[column : column + 1]
        elif kind == 3:
            for one in rows:
                one.insert(column, one[column - 1] if 0 < column <= len(one) else hostile(rng))
        elif kind == 4:
            row.append(hostile(rng))
        elif kind == 5:
            del row[column:]
        elif row and kind == 6:
            other = rng.choice(rows)
            row[column] = rng.choice(other) if other else ""
        elif row:
            row[column] = hostile(rng)
    return rows


def grid(data: str) -> list[list[str]]:
    """A CSV text as rows of cells."""
    return list(csv.reader(io.StringIO(data.replace("\0", ""))))


def as_csv(rows: list[list[str]], rng: random.Random) -> str:
    """Rows as CSV, with one or the other separator and line end."""
    out = io.StringIO()
    ends = rng.choice(("\n", "\n", "\r\n"))
    csv.writer(out, delimiter=rng.choice(",,,;\t"), lineterminator=ends).writerows(rows)
    return out.getvalue()


def archive(rng: random.Random, data: bytes) -> bytes:
    """A workbook with one part spoilt, left out or exchanged, or with its own bytes spoilt."""
    if rng.random() < 0.15:
        return raw(rng, data)
    with zipfile.ZipFile(io.BytesIO(data)) as found:
        parts = {name: found.read(name) for name in found.namelist()}
    name = rng.choice([n for n in parts if n.endswith((".xml", ".rels"))])
    kind = rng.randrange(8)
    if kind == 0:
        del parts[name]
    elif kind == 1:
        parts[name] = parts[rng.choice(list(parts))]
    elif kind == 2:
        parts[name] = raw(rng, parts[name])
    else:
        parts[name] = _xml(rng, parts[name].decode("utf-8")).encode("utf-8", "replace")
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
        for one, content in parts.items():
            made.writestr(one, content)
    return out.getvalue()


def _xml(rng: random.Random, data: str) -> str:
    """An element doubled or left out, an attribute or a text changed."""
    for _ in range(rng.choice((1, 1, 2, 4))):
        what = rng.choice((r"<[^<>]*/>", r'="[^"]*"', r">[^<>]+<", r"<(\w+)\b[^<>]*>[^<>]*</\1>"))
        found = list(re.finditer(what, data))
        if not found:
            continue
        one = rng.choice(found)
        word = rng.choice(("0", "-1", "1", "99999999999", "s", "b", "e", "A1", "XFD1048576", "ZZZZ1", hostile(rng)))
        word = re.sub(r'[<>&"\x00-\x1f]', "", word)
        new = {"=": f'="{word}"', ">": f">{word}<"}.get(one[0][0], rng.choice(("", one[0] * 2)))
        data = data[: one.start()] + new + data[one.end() :]
    return data
