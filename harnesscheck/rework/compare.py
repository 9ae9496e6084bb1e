"""What differs between two revisions of a job, or the design and what was built, in trade words: one line a thing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.rework.renames import Names, renamed, renames
from harnesscheck.rework.things import REF, SPACES, Key, Named, Thing, things

ADDED, REMOVED, CHANGED, RENAMED = "added", "removed", "changed", "renamed"
UNSAID = "not stated"
_WORDS = {
    "a": "end A", "b": "end B", "at_ref": "measured from", "at": "place along the bundle", "use": "carries",
    "circuit": "carries", "part": "part", "origin": "belongs to",
}  # fmt: skip
_FIRST = frozenset({"part", "type"})
"""What the rest is read off."""
_METRES = frozenset(
    {"length", "at", "untwisted", "bend", "arm", "altitude", "bus_length", "reel", "remnants", "passages"}
)
_UNITS = {
    "current": "A", "peak": "A", "rating": "A", "driver_current": "A", "load": "A", "resistance": "ohm", "bond": "ohm",
    "terminator": "ohm", "source_resistance": "ohm", "input_resistance": "ohm", "pull_up": "ohm", "volts": "V",
    "supply": "V", "low": "V", "high": "V", "abnormal": "V", "pull_up_supply": "V", "rate": "bit/s", "edge": "s",
    "mass": "kg", "capacity": "Ah", "ambient": "C", "time": "s",
}  # fmt: skip
"""Units of the numbers of the model, by field; lengths are said in mm or m."""
_CORE = frozenset({"gauge", "colour", "length", "type", "bundle", "route", "alloy"})
"""What a core takes from its cable."""
_SEAT = frozenset({"contact", "plug", "use"})
"""What a cavity takes from the wire in it."""
_LAYOUT = frozenset({"part", "insert"})
"""What says which cavities a connector has."""
_READ_OFF = frozenset({"family", "insert", "gender", "key", "shell", "sealed", "style", "gauge", "colour", "alloy"})
"""What a part number says of a connector or a wire."""


@dataclass(frozen=True, slots=True)
class Field:
    """One thing that is said otherwise."""

    name: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that differs."""

    verb: str
    """``added``, ``removed``, ``changed`` or ``renamed``."""
    what: str
    """Kind of thing: ``wire``, ``cavity``."""
    name: str
    """As it is called now; a thing taken away, as it was called."""
    fields: tuple[Field, ...] = ()
    was: str = ""
    """Its old name, where it is renamed."""
    ours: bool = True
    """True for what the kit brings."""
    follows: str = ""
    """The difference that this one comes of: ``wire P501A20``; empty for one that stands alone."""

    @property
    def label(self) -> str:
        """Kind and name."""
        return f"{self.what} {self.name}"


@dataclass(frozen=True, slots=True)
class Comparison:
    """Everything that differs between two harnesses."""

    differences: tuple[Difference, ...]
    names: Names
    parted: tuple[tuple[tuple[str, ...], ...], ...]
    """Nets that are several now: each as its parts, a part as the points in it."""
    joined: tuple[tuple[tuple[str, ...], ...], ...]
    """Nets that were several, in the same way."""

    @property
    def primary(self) -> list[Difference]:
        """The differences that do not come of another."""
        return [one for one in self.differences if not one.follows]


def compare(
    old: Harness, new: Harness, old_boxes: Sequence[Harness] = (), new_boxes: Sequence[Harness] = ()
) -> Comparison:
    """Everything that differs, things of the kit first. ``boxes``: the equipment files on their own."""
    before, after = things(old, old_boxes), things(new, new_boxes)
    names = renames(before, after)
    before = renamed(before, names)
    found = [_renamed(space, was, now, after) for (space, was), now in names.items()]
    for key in dict.fromkeys([*after, *before]):
        one, two = before.get(key), after.get(key)
        thing = two or one
        assert thing is not None
        if one is None or two is None:
            verb = ADDED if one is None else REMOVED
            found.append(Difference(verb, key.kind, str(key), _fields({}, thing.said) if verb == ADDED
                                    else _fields(thing.said, {}), "", thing.ours))  # fmt: skip
        elif one.said != two.said:
            found.append(Difference(CHANGED, key.kind, str(key), _fields(one.said, two.said), "", two.ours))
    found = _followed(found, before, after)
    parted, joined = nets(old, new, names)
    return Comparison(tuple(sorted(found, key=lambda d: not d.ours)), names, parted, joined)


def _renamed(space: str, was: str, now: str, after: Mapping[Key, Thing]) -> Difference:
    kinds = [kind for kind, own in SPACES.items() if own == space]
    key = next(k for kind in kinds if (k := Key(kind, (Named(space, now),))) in after)
    return Difference(RENAMED, key.kind, now, (), was, after[key].ours)


def _fields(before: Mapping[str, Any], after: Mapping[str, Any]) -> tuple[Field, ...]:
    return tuple(
        Field(name, _text(name, before.get(name)), _text(name, after.get(name)))
        for name in sorted({*after, *before}, key=lambda name: (name not in _FIRST, name))
        if before.get(name) != after.get(name)
    )


def _text(name: str, value: Any) -> str:
    if value is None or value == "":
        return UNSAID
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        if name in _METRES:
            return f"{value:.6g} m" if value >= 1 else f"{value * 1000:.6g} mm"
        return f"{value:.6g} {_UNITS.get(name, '')}".rstrip()
    if isinstance(value, tuple):
        return ", ".join(_text(name, one) for one in value)
    if isinstance(value, Mapping):
        return ", ".join(f"{key} {_text(name, one)}" for key, one in value.items())
    low, high = getattr(value, "low", None), getattr(value, "high", None)
    return f"{_text(name, low)} to {_text(name, high)}" if low is not None and high is not None else str(value)


def words(name: str) -> str:
    """A field in trade words."""
    return _WORDS.get(name, name.replace("_", " "))


# -- what comes of what --------------------------------------------------------------------------------------------


def _followed(found: list[Difference], before: Mapping[Key, Thing], after: Mapping[Key, Thing]) -> list[Difference]:
    """Each difference with the one that it comes of. Nothing is left out: it stands under its cause."""
    by_label = {d.label: d for d in found if d.verb != RENAMED}
    seats = _seats(found)
    shop = next((d.label for d in found if d.what == "shop's part"), "")
    result = []
    for one in found:
        cause = "" if one.verb == RENAMED else _cause(one, by_label, seats, before, after)
        changed = {field.name for field in one.fields}
        read_off = one.what in ("connector", "wire", "cavity") and one.verb == CHANGED and changed <= _READ_OFF
        cause = cause or (shop if read_off and "part" not in changed and "type" not in changed else "")
        result.append(replace(one, follows=cause if cause != one.label else ""))
    return _contacts(result)


def _seats(found: Iterable[Difference]) -> dict[str, str]:
    """Cavities into which a wire has come or from which one has gone, each with the wire."""
    seats: dict[str, str] = {}
    for one in found:
        if one.what == "wire" and one.verb != RENAMED:
            for field in one.fields:
                if field.name in ("a", "b"):
                    seats |= dict.fromkeys((field.before, field.after), one.label)
    return seats


def _cause(one: Difference, by_label: Mapping[str, Difference], seats: Mapping[str, str],
           before: Mapping[Key, Thing], after: Mapping[Key, Thing]) -> str:  # fmt: skip
    changed = {field.name for field in one.fields}
    ref = one.name.partition("-")[0]
    whole = by_label.get(f"connector {ref}")
    if one.what in ("cavity", "pin", "tap") and whole is not None and whole.verb == one.verb and one.verb != CHANGED:
        return whole.label
    if one.what == "cavity" and whole is not None and one.verb != CHANGED and {f.name for f in whole.fields} & _LAYOUT:
        return whole.label
    if one.what == "cavity" and changed <= _SEAT:
        pin = by_label.get(f"pin {one.name}")
        return seats.get(one.name, "") or (pin.label if pin is not None else "")
    if one.what == "mate":
        ends = [by_label.get(f"connector {end}") for end in one.name.split("/")]
        return next((end.label for end in ends if end is not None and end.verb == one.verb), "")
    if one.what == "wire" and one.verb == CHANGED and changed <= _CORE:
        key = Key("wire", (Named("wire", one.name),))
        cables = [table[key].said.get("cable") for table in (before, after)]
        cable = by_label.get(f"cable {cables[1]}")
        if cables[0] == cables[1] and cable is not None and cable.verb == CHANGED:
            return cable.label
    return ""


def _contacts(found: list[Difference]) -> list[Difference]:
    """One line for a connector whose contacts or sealing plugs are all another part now, its cavities under it."""
    result = list(found)
    for field in ("contact", "plug"):
        groups: dict[str, list[int]] = {}
        for number, one in enumerate(result):
            own = [f for f in one.fields if f.name == field]
            if (one.what, one.verb, len(one.fields)) == ("cavity", CHANGED, 1) and own and not one.follows:
                groups.setdefault(one.name.partition("-")[0], []).append(number)
        for ref, members in groups.items():
            pairs = {result[n].fields[0] for n in members}
            if len(members) < 2 or len(pairs) != 1:
                continue
            line = Difference(CHANGED, "connector", ref, (replace(next(iter(pairs)), name=f"{field}s"),), "",
                              result[members[0]].ours)  # fmt: skip
            for n in members:
                result[n] = replace(result[n], follows=line.label)
            at = next((n for n, d in enumerate(result) if d.label == line.label and d.verb == CHANGED), None)
            if at is None:
                result.insert(members[0], line)
            else:
                result[at] = replace(result[at], fields=(*result[at].fields, *line.fields))
    return result


# -- circuits ------------------------------------------------------------------------------------------------------

_Parts = tuple[tuple[str, ...], ...]


def nets(old: Harness, new: Harness, names: Names) -> tuple[tuple[_Parts, ...], tuple[_Parts, ...]]:
    """Nets that are parted and nets that are joined, over the points of things that are in both.

    A point that nothing leads to on one side is a net of its own there.
    """
    now = {point: net for point, net in zip(new.points, new.nets.label, strict=True) if point.ref}
    was = {_moved(p, names): net for p, net in zip(old.points, old.nets.label, strict=True) if p.ref}
    refs = {p.ref for p in now} & {p.ref for p in was}
    points = [p for p in dict.fromkeys([*now, *was]) if p.ref in refs]
    one: dict[Point, object] = {p: was.get(p, p) for p in points}
    two: dict[Point, object] = {p: now.get(p, p) for p in points}
    return _split(points, one, two), _split(points, two, one)


def _moved(point: Point, names: Names) -> Point:
    return Point(names.get((REF, point.ref), point.ref), point.cavity)


def _split(points: Sequence[Point], whole: Mapping[Point, object], parts: Mapping[Point, object]) -> tuple[_Parts, ...]:
    """Nets of ``whole`` whose points lie in several nets of ``parts``."""
    groups: dict[object, dict[object, list[str]]] = {}
    for point in points:
        groups.setdefault(whole[point], {}).setdefault(parts[point], []).append(str(point))
    found = (tuple(sorted(tuple(sorted(part)) for part in own.values())) for own in groups.values() if len(own) > 1)
    return tuple(sorted(found))


def sentences(one: Difference) -> Iterator[str]:
    """A difference in trade words, a line for each field."""
    if one.verb == RENAMED:
        yield f"{one.what} {one.was} is called {one.name} now, the same in all else"
    elif one.verb == ADDED:
        yield f"{one.label} added{_brief(one, 'after')}"
    elif one.verb == REMOVED:
        yield f"{one.label} removed{_brief(one, 'before')}"
    else:
        for field in one.fields:
            what = f"{words(field.name)} ".lstrip()
            if field.name == "use":
                yield f"{one.label}: {'no longer ' + field.before if field.after == UNSAID else 'now ' + field.after}"
            elif field.before == UNSAID:
                yield f"{one.label}: {what}now {field.after}, was {UNSAID}"
            elif field.after == UNSAID:
                yield f"{one.label}: {what}no longer stated, was {field.before}"
            else:
                moved = one.what == "wire" and field.name in ("a", "b")
                yield f"{one.label}: {what}{'moved' if moved else 'changed'} from {field.before} to {field.after}"


def _brief(one: Difference, side: str) -> str:
    said = {field.name: getattr(field, side) for field in one.fields}
    if one.what == "wire":
        more = [said[name] for name in ("type", "gauge", "colour", "cable", "core", "length") if name in said]
        return f": {said.get('a', '?')} to {said.get('b', '?')}" + (f", {', '.join(more)}" if more else "")
    shown = [f"{words(name)} {value}".strip() for name, value in list(said.items())[:4] if name != "origin"]
    return f": {', '.join(shown)}" if shown else ""
