"""What differs between two revisions of a job, said in trade words, one line for each thing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields
from typing import Any

from harnesscheck.connector import Origin
from harnesscheck.harness import Harness

_NOT_COMPARED = frozenset({"place", "document", "line", "column", "facts", "names", "cavities", "ref", "id", "point"})
"""Where a thing was typed is no difference; cavities are compared one by one."""
_WORDS = {"a": "end A", "b": "end B", "at_ref": "measured from", "at": "place along the bundle, m"}
TABLES = (
    ("connector", "connectors"),
    ("cable", "cables"),
    ("wire", "wires"),
    ("splice", "splices"),
    ("ground stud", "grounds"),
    ("breaker", "breakers"),
    ("circuit", "circuits"),
)


@dataclass(frozen=True, slots=True)
class Difference:
    """One difference. ``before`` is empty for a thing added, ``after`` for a thing taken away."""

    what: str
    """Kind of thing: ``wire``, ``cavity``."""
    name: str
    field: str
    before: str
    after: str
    ours: bool
    """True for what the kit brings."""


def differences(old: Harness, new: Harness) -> list[Difference]:
    """Everything that differs, things of the kit first, in the order of the files."""
    found = list(_head(old, new))
    for what, table in TABLES:
        found += _table(what, getattr(old, table), getattr(new, table))
    found += _cavities(old, new)
    found += _counts("spare contact", old.spare_contacts, new.spare_contacts)
    found += _counts("tap", _taps(old), _taps(new))
    tools = (dict.fromkeys(h.site_tools, "listed") for h in (old, new))
    found += _counts("site tool", *tools)
    return sorted(found, key=lambda d: not d.ours)


def _taps(harness: Harness) -> dict[str, str]:
    return {str(point): tap.circuit for point, tap in harness.taps.items()}


def _head(old: Harness, new: Harness) -> Iterator[Difference]:
    for name in ("title", "revision", "opens"):
        one, two = getattr(old, name), getattr(new, name)
        if one != two:
            yield Difference("job", name, "", _text(one), _text(two), True)


def _table(what: str, old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[Difference]:
    for name in dict.fromkeys([*new, *old]):
        one, two = old.get(name), new.get(name)
        ours = getattr(two if two is not None else one, "origin", Origin.AIRFRAME) is Origin.JUMPER
        if one is None or two is None:
            yield Difference(what, name, "", _said(one), _said(two), ours)
            continue
        for field in fields(one):
            before, after = getattr(one, field.name), getattr(two, field.name)
            if field.name not in _NOT_COMPARED and before != after:
                words = _WORDS.get(field.name, field.name.replace("_", " "))
                yield Difference(what, name, words, _text(before), _text(after), ours)


def _cavities(old: Harness, new: Harness) -> Iterator[Difference]:
    for ref, connector in new.connectors.items():
        other = old.connectors.get(ref)
        if other is None:
            continue
        ours = connector.origin is Origin.JUMPER
        for name in dict.fromkeys([*connector.cavities, *other.cavities]):
            one, two = other.cavities.get(name), connector.cavities.get(name)
            if one is None or two is None:
                yield Difference("cavity", f"{ref}-{name}", "", _said(one), _said(two), ours)
                continue
            for field in fields(one):
                before, after = getattr(one, field.name), getattr(two, field.name)
                if field.name not in _NOT_COMPARED and before != after:
                    yield Difference("cavity", f"{ref}-{name}", field.name, _text(before), _text(after), ours)


def _counts(what: str, old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[Difference]:
    for name in dict.fromkeys([*new, *old]):
        if old.get(name) != new.get(name):
            yield Difference(what, name, "", _text(old.get(name)), _text(new.get(name)), True)


def _said(thing: Any) -> str:
    return "" if thing is None else "there"


def _text(value: Any) -> str:
    if value is None or value == "":
        return "not stated"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, tuple):
        return "/".join(_text(one) for one in value)
    return str(value)
