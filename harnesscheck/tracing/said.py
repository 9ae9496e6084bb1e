"""A trace in short lines, in order along the wire; and the same as plain data."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from harnesscheck.connector import Origin
from harnesscheck.electrics.copper import Reading
from harnesscheck.electrics.elements import Gap
from harnesscheck.fault import Fault, InputError, foreign, nearest, quoted, short
from harnesscheck.harness import Harness
from harnesscheck.place import Point, split_point
from harnesscheck.tracing.along import INSIDE, Leg, Neighbour, legs, neighbours, splice_source, unlisted
from harnesscheck.tracing.others import Other, others

CELSIUS = 20.0
"""Temperature of the copper for which ohms are given: that of AC 43.13-1B Table 11-9."""
STATE = "power off, every unit unplugged, breakers pulled, terminators out"
BOTH = {"breaker": "breakers in", "terminator": "terminators fitted"}


@dataclass(frozen=True)
class Trace:
    """Everything joined to one point."""

    harness: Harness
    start: Point

    @cached_property
    def legs(self) -> tuple[Leg, ...]:
        """The pieces in order."""
        return tuple(legs(self.harness, self.start))

    @cached_property
    def points(self) -> tuple[Point, ...]:
        """Every point of the copper, the start first."""
        return tuple(dict.fromkeys((self.start, *(leg.end for leg in self.legs))))

    @cached_property
    def neighbours(self) -> tuple[tuple[Neighbour, ...], bool]:
        """What is read to the cavities beside it, and whether it is known which those are."""
        found, known = neighbours(self.harness, self.start)
        return tuple(found), known

    @cached_property
    def others(self) -> tuple[Other, ...]:
        """Who else is on it."""
        return tuple(others(self.harness, list(self.points)))

    @cached_property
    def circuits(self) -> tuple[str, ...]:
        """The circuits that the pin map names on it."""
        return tuple(self.harness.circuits_at(self.points))

    @cached_property
    def unlisted(self) -> tuple[Point, ...]:
        """Cavities behind which the wiring of the aircraft is not listed."""
        return tuple(unlisted(self.harness, self.start))

    # -- as lines ----------------------------------------------------------------------------------------------

    def as_text(self) -> str:
        """Short lines; the user's own names shown safely."""
        return "\n".join(quoted(line) for line in self._lines()) + "\n"

    def _lines(self) -> Iterator[str]:
        yield f"{self.start}{_said(self.harness, self.start)}"
        yield f"circuit: {', '.join(self.circuits) or 'none is named'}"
        yield ""
        yield "Along the copper"
        yield from self._way()
        if self.legs:
            yield ""
            yield f"  Ohms at {CELSIUS:g} C: wire at its greatest, meter leads not counted."
            yield from (f"  {line}" for line in self._sources())
        found, known = self.neighbours
        if found:
            yield ""
            yield f"What {self.start} reads"
            yield f"  {STATE}"
            if not known:
                yield "  which cavities lie beside it is not known: all of this connector"
            yield from (f"  to {one.point}: {_neighbour(one, not self.unlisted)}" for one in found)
        if self.unlisted:
            yield from _folded(f"wiring behind {_listed(self.unlisted)} is not listed: more may read than is said here")
        if self.others:
            yield ""
            yield "Who else is on it"
            for one in self.others:
                yield from _folded(f"{one.kind} {one.name}: {one.words}")
        cavities = [p for p in self.points[1:] if p.ref in self.harness.connectors]
        if cavities:
            yield from _folded(f"other cavities: {_listed(cavities)}")

    def _way(self) -> Iterator[str]:
        if not self.legs:
            yield "  leads nowhere: no wire and no mated cavity is known here"
        here = self.start
        for leg in self.legs:
            if leg.closes:
                yield f"  besides, from {leg.start}:"
            elif leg.start != here:
                yield f"  back at {leg.start}:"
            here = leg.end
            number, end = f"{leg.number}.", f"{leg.end}{_said(self.harness, leg.end)}"
            if leg.wire is None:
                way = "joined inside the unit to" if leg.through == INSIDE else "plugged into"
                yield f"  {number:<3} {way} {end}"
            else:
                yield f"  {number:<3} {_wire(self.harness, leg)} to {end}"
            yield f"      {_ohms(leg)}"

    def _sources(self) -> Iterator[str]:
        """Where the numbers come from, a line each."""
        seen: dict[str, None] = {}
        for leg in self.legs:
            if not isinstance(leg.ohms, Gap):
                what = "contact" if leg.wire is None else "wire"
                seen[f"{what}: {leg.ohms.source}"] = None
            if leg.splices:
                seen[f"splice: {splice_source()}"] = None
        yield from seen

    # -- as data -----------------------------------------------------------------------------------------------

    def as_data(self) -> dict[str, Any]:
        """The same as plain data; lengths in metres, resistances in ohms."""
        found, known = self.neighbours
        return {
            "start": str(self.start),
            "circuits": list(self.circuits),
            "celsius": CELSIUS,
            "state": STATE,
            "steps": [_leg(leg) for leg in self.legs],
            "neighbours": {
                "known": known,
                "certain": not self.unlisted,
                "readings": [
                    {
                        "to": str(one.point),
                        **_reading(one.pulled),
                        "connected": _reading(one.connected),
                        "differs by": list(one.kinds),
                    }
                    for one in found
                ],
            },
            "not listed behind": [str(point) for point in self.unlisted],
            "others": [{"kind": one.kind, "name": one.name, "words": one.words} for one in self.others],
            "cavities": [str(p) for p in self.points[1:] if p.ref in self.harness.connectors],
        }


def trace(harness: Harness, typed: str) -> Trace:
    """Follow the copper from the point a person typed. Raises ``InputError`` with the nearest name if there is none."""
    point = split_point(typed)
    if point is None or point not in harness.nets:
        names = [str(p) for p in harness.points]
        own = [name for name in names if name.startswith(f"{typed}-")]
        hint = f"add what comes after the dash: {', '.join(own[:12])}" if own else foreign(typed)
        hint = hint or nearest(typed, names) or "write a cavity like P14-3, or SP1, GS3, CB7-load"
        said = f"{short(typed)} has more than one point" if own else f"there is no point {short(typed)} in this harness"
        raise InputError([Fault("command line", 1, 1, said, "", hint)])
    return Trace(harness, point)


def number(ohms: float) -> str:
    """Ohms to a thousandth, or three digits.

    >>> number(0.0479), number(60.04), number(12345.0)
    ('0.048', '60.0', '12300')
    """
    return f"{ohms:.3f}" if ohms < 10 else f"{ohms:.1f}" if ohms < 100 else f"{float(f'{ohms:.3g}'):.0f}"


def reading(found: Reading) -> str:
    """A reading in words."""
    if found.open:
        return "open"
    if found.ohms is not None:
        return f"{number(found.ohms)} ohm"
    least = f"at least {number(found.least or 0.0)} ohm" if found.least else "joined"
    most = f", at most {number(found.most)} ohm" if found.most is not None else ""
    return f"{least}{most}, not known: {'; '.join(found.missing)}"


def _reading(found: Reading) -> dict[str, Any]:
    return {
        "reads": "open" if found.open else "ohms" if found.ohms is not None else "unknown",
        "ohms": found.ohms,
        "least": found.least,
        "most": found.most,
        "missing": list(found.missing),
    }


def _neighbour(one: Neighbour, certain: bool) -> str:
    """A reading in words; open is only as sure as the list of wires is whole."""
    pulled = reading(one.pulled) + ("" if certain or not one.pulled.open else " in what is listed")
    if not one.kinds:
        return pulled
    return f"{pulled}; {reading(one.connected)} with {' and '.join(BOTH[kind] for kind in one.kinds)}"


def _wire(harness: Harness, leg: Leg) -> str:
    wire = leg.wire
    assert wire is not None
    words = [
        str(wire.gauge) if wire.gauge else "gauge not stated",
        _colour(harness, wire.colour or ""),
        wire.core if wire.core and wire.core != wire.colour else "",
        "new" if wire.origin is Origin.JUMPER else "existing",
    ]
    return f"wire {wire.id} ({', '.join(w for w in words if w)})"


def _colour(harness: Harness, typed: str) -> str:
    """Colour digits as words, for nobody reads digits out; a word as typed."""
    records = [harness.part("colour", digit) for digit in typed] if typed.isdigit() else []
    spoken = [record.text("word") or "?" if record is not None else "?" for record in records]
    return f"{typed} {'/'.join(spoken)}".strip() if spoken else typed


def _ohms(leg: Leg) -> str:
    words = []
    if leg.wire is not None:
        words.append(f"{leg.wire.length:.3f} m" if leg.wire.length is not None else "length not stated")
    if isinstance(leg.ohms, Gap):
        words.append(f"ohms unknown ({leg.ohms.missing})")
    else:
        words.append(f"{number(leg.ohms.value)} ohm")
    known = leg.total.ohms
    if not leg.closes:
        sure = (
            f"sum {number(known)}" if known is not None else f"sum unknown, at least {number(leg.total.least or 0.0)}"
        )
        words.append(sure)
    if leg.reads is None:
        words.append("several ways, so a meter reads less")
    elif not leg.closes and _differ(leg.reads, leg.total):
        words.append(f"all ways together {reading(leg.reads)}")
    return ", ".join(words)


def _differ(one: Reading, two: Reading) -> bool:
    if one.ohms is None or two.ohms is None:
        return (one.ohms is None) != (two.ohms is None)
    return abs(one.ohms - two.ohms) > 1e-9


def _leg(leg: Leg) -> dict[str, Any]:
    wire = leg.wire
    return {
        "kind": "contact" if wire is None else "wire",
        "from": str(leg.start),
        "through": leg.through,
        "to": str(leg.end),
        "depth": leg.depth,
        "closes a ring": leg.closes,
        "new": None if wire is None else wire.origin is Origin.JUMPER,
        "gauge": str(wire.gauge) if wire is not None and wire.gauge else None,
        "colour": wire.colour if wire is not None else None,
        "length": wire.length if wire is not None else None,
        "ohms": None if isinstance(leg.ohms, Gap) else leg.ohms.value,
        "source": None if isinstance(leg.ohms, Gap) else str(leg.ohms.source),
        "missing": leg.ohms.missing if isinstance(leg.ohms, Gap) else None,
        "splice ohms": leg.splices,
        "sum": _reading(leg.total),
        "reads": None if leg.reads is None else _reading(leg.reads),
    }


def _folded(text: str) -> list[str]:
    """Lines short enough to be read out, with an indent."""
    from textwrap import wrap

    return wrap(text, 76, initial_indent="  ", subsequent_indent="    ", break_long_words=False, break_on_hyphens=False)


def _listed(points: tuple[Point, ...] | list[Point]) -> str:
    return ", ".join(str(point) for point in points)


def _said(harness: Harness, point: Point) -> str:
    """What is known of a point, in brackets."""
    pin = next((p for p in harness.pins() if p.point == point), None)
    cavity = harness.cavity(point)
    connector = harness.connectors.get(point.ref)
    words = []
    if pin is not None:
        words.append(pin.function)
    if cavity is not None and cavity.circuit:
        words.append(cavity.circuit)
    for table in (harness.grounds, harness.breakers, harness.buses):
        thing = table.get(point.ref)
        if thing is not None and thing.name:
            words.append(thing.name)
    if connector is not None and connector.name:
        words.append(connector.name)
    if point.ref in harness.splices:
        words.append("splice")
    return f"  ({'; '.join(words)})" if words else ""
