"""Every single change of a piece of evidence: each leaf altered, nulled or swapped, each row taken out or doubled."""

from __future__ import annotations

import json
from collections.abc import Iterator
from copy import deepcopy
from typing import Any

from harnesscheck import recheck
from harnesscheck.proof.evidence import seal

Path = tuple[str | int, ...]


def leaves(value: Any, path: Path = ()) -> Iterator[tuple[Path, Any]]:
    """Every value that is no list and no mapping, and every list and mapping, with the way to it."""
    yield path, value
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from leaves(inner, (*path, key))
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from leaves(inner, (*path, number))


def at(data: Any, path: Path) -> Any:
    """What stands at a path."""
    for step in path:
        data = data[step]
    return data


def others(data: Any, path: Path, value: Any) -> list[Any]:
    """Other values that stand in the same column of other rows: two of them, the next and one further off."""
    if len(path) < 3 or not isinstance(path[1], int):
        return []
    rows = at(data, path[:1])
    column = [v for row in rows if (v := _same(row, path[2:])) is not None and v != value]
    distinct = list(dict.fromkeys(json.dumps(v) for v in column))
    return [json.loads(one) for one in (distinct[:1] + distinct[-1:] if len(distinct) > 1 else distinct)]


def _same(row: Any, path: Path) -> Any:
    try:
        return at(row, path)
    except (KeyError, IndexError, TypeError):
        return None


def altered(data: Any, path: Path, value: Any) -> Iterator[tuple[str, Any]]:
    """What a leaf may be changed to."""
    if isinstance(value, bool):
        yield "turned round", not value
        yield "taken away", None
        yield "made a number", int(value)
    elif isinstance(value, (int, float)):
        yield "made more", value + 1
        yield "made a little more", value * 1.001 + 1e-6
        yield "made less", value - 1
        yield "taken away", None
        yield "made text", str(value)
    elif isinstance(value, str):
        yield "written otherwise", value + "x"
        yield "emptied", ""
        yield "taken away", None
    elif value is None:
        yield "given a number", 1
        yield "given a text", "x"
        yield "given an answer", True
        yield "given nothing", []
    yield from (("swapped", other) for other in others(data, path, value) if not isinstance(value, (dict, list)))


def changes(data: dict[str, Any]) -> Iterator[tuple[Path, str, dict[str, Any]]]:
    """Every change, one at a time: the path, what was done, and the changed evidence (not sealed again)."""
    for path, value in leaves(data):
        if not path:
            continue
        if isinstance(value, list):
            for number in range(len(value)):
                yield (*path, number), "row taken out", put(data, path, value[:number] + value[number + 1 :])
                yield (*path, number), "row doubled", put(data, path, [*value, value[number]])
            yield path, "row added", put(data, path, [*value, "x"])
        elif isinstance(value, dict):
            for key in value:
                yield (*path, key), "key taken out", put(data, path, {k: v for k, v in value.items() if k != key})
            yield path, "key added", put(data, path, {**value, "x": "x"})
        for done, new in altered(data, path, value):
            if new != value or type(new) is not type(value):
                yield path, done, put(data, path, new)


def put(data: dict[str, Any], path: Path, value: Any) -> dict[str, Any]:
    """A copy with something else at a path; what is not on the way is shared."""
    result: Any = dict(data)
    here = result
    for step in path[:-1]:
        here[step] = here[step].copy() if isinstance(here[step], (dict, list)) else deepcopy(here[step])
        here = here[step]
    here[path[-1]] = value
    return result


def sealed(data: dict[str, Any]) -> dict[str, Any]:
    """The evidence sealed again, as somebody with ill will would."""
    return {**data, "seal": seal(data)}


def refused(data: dict[str, Any]) -> bool:
    """True when the re-checker refuses it."""
    try:
        recheck.Recheck(data)
    except recheck.RefusedError:
        return True
    return False


def column(path: Path) -> str:
    """A path without row numbers: ``ways loads amps``."""
    return " ".join(str(step) for step in path if not isinstance(step, int))
