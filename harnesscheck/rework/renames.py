"""Things that only have another name: same copper, same statements, other id. Only where it is certain.

A thing that is gone and one that is new are the same when everything that is said of either, and everything that
others say with its name in it, is the same word for word, and no other pair fits. Two things that name each other and
both have new names are not certain, and stay taken away and added.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from harnesscheck.rework.things import SPACES, Key, Named, Thing

Names = dict[tuple[str, str], str]
"""Space and old name to new name."""


def renames(old: Mapping[Key, Thing], new: Mapping[Key, Thing]) -> Names:
    """The certain renames from ``old`` to ``new``."""
    gone = _signatures(old, {key for key in old if key not in new})
    come = _signatures(new, {key for key in new if key not in old})
    found: Names = {}
    for one, signature in gone.items():
        partners = [other for other, said in come.items() if other.kind == one.kind and said == signature]
        rivals = [other for other, said in gone.items() if other.kind == one.kind and said == signature]
        if len(partners) == len(rivals) == 1 and signature:
            found[SPACES[one.kind], _own(one)] = _own(partners[0])
    return found


def renamed(table: Mapping[Key, Thing], names: Names) -> dict[Key, Thing]:
    """The same things under their new names."""
    found = {}
    for thing in table.values():
        key = Key(thing.key.kind, _sorted(thing.key.kind, tuple(_swap(one, names) for one in thing.key.name)))
        found[key] = replace(thing, key=key, said={word: _swap(value, names) for word, value in thing.said.items()})
    return found


def _sorted(kind: str, name: tuple[Any, ...]) -> tuple[Any, ...]:
    return tuple(sorted(name, key=str)) if kind == "mate" else name


def _swap(value: Any, names: Names) -> Any:
    if isinstance(value, Named):
        return replace(value, name=names.get((value.space, value.name), value.name))
    return tuple(_swap(one, names) for one in value) if isinstance(value, tuple) else value


def _own(key: Key) -> str:
    first = key.name[0]
    return first.name if isinstance(first, Named) else first


def _signatures(table: Mapping[Key, Thing], keys: set[Key]) -> dict[Key, frozenset[str]]:
    """Everything that is said with the name of each of ``keys`` in it, the name itself left blank."""
    wanted = {(SPACES[key.kind], _own(key)): key for key in keys if key.kind in SPACES}
    found: dict[Key, set[str]] = {key: set() for key in wanted.values()}
    for thing in table.values():
        inside = {(n.space, n.name) for n in _names(thing.key.name)}
        for name in inside & set(wanted):
            blank = {name: "\0"}
            said = {word: _swap(value, blank) for word, value in sorted(thing.said.items())}
            found[wanted[name]].add(repr((thing.key.kind, _sorted("mate", _swap(thing.key.name, blank)), said)))
        for word, value in thing.said.items():
            for name in {(n.space, n.name) for n in _names(value)} & (set(wanted) - inside):
                blank = {name: "\0"}
                found[wanted[name]].add(repr((thing.key, word, _swap(value, blank))))
    return {key: frozenset(said) for key, said in found.items()}


def _names(value: Any) -> Iterator[Named]:
    if isinstance(value, Named):
        yield value
    elif isinstance(value, tuple):
        for one in value:
            yield from _names(one)
