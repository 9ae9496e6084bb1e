"""The readings of one article in one mode, in the order in which they are taken."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from harnesscheck.place import Point
from harnesscheck.ringout import continuity, isolation, tour
from harnesscheck.ringout.article import TITLES, Article
from harnesscheck.ringout.link import STRUCTURE
from harnesscheck.ringout.ohms import UNKNOWN_LIMIT, resistance
from harnesscheck.ringout.reading import Reading, limit
from harnesscheck.source import Source, Status

MODES = ("first article", "field", "quick")
NULLED = 0.1
"""Ohms that nulled leads and the last digit of a hand-held meter may leave."""
NULLED_SOURCE = Source("", Status.COMMON, paragraph="one step of a meter that shows tenths of an ohm, leads nulled")
OPEN_LINE = {"bench": 10e6, "installed": 1e6, "aircraft": 1e6}
"""Ohms above which two nets count as apart on an ohmmeter, by article."""
OPEN_LINE_SOURCE = Source("", Status.MEMORY, paragraph="10 Mohm for bare wiring, 1 Mohm in the aircraft, all units off")
PREFIX = {"bench": "B", "installed": "I", "aircraft": "A"}


@dataclass(frozen=True)
class Plan:
    """All readings of an article."""

    article: Article
    mode: str
    tied: bool
    """True: isolation by bussed groups and shorting plugs."""
    readings: tuple[Reading, ...]
    notes: tuple[str, ...] = ()
    travel: tuple[float, float] | None = None
    """Probe travel of the continuity readings in pitches: in this order, and in the order of the insert."""

    @property
    def title(self) -> str:
        """What is under test, in words."""
        return TITLES[self.article.name]

    def of_kind(self, kind: str) -> list[Reading]:
        """The readings of one kind."""
        return [reading for reading in self.readings if reading.kind == kind]


def plan(article: Article, mode: str = "first article", tied: bool = False) -> Plan:
    """The readings of an article. Raises ``ValueError`` for an unknown mode."""
    if mode not in MODES:
        raise ValueError(f"unknown mode {mode!r}")
    raw = continuity.spanning(article) if mode == "first article" else continuity.structural(article)
    pairs = tour.ordered(article, raw)
    before, after = tour.travel(article, raw), tour.travel(article, pairs)
    found = [_through(article, a, b, number) for number, (a, b) in enumerate(pairs, 1)]
    rows, notes = _apart(article, pairs, mode, tied)
    found += [_isolated(article, a, b, number, why) for number, (a, b, why) in enumerate(rows, 1)]
    found += _kept(article, len(rows))
    moved = (after, before) if before is not None and after is not None else None
    return Plan(article, mode, tied, tuple(found), tuple(notes), moved)


def _through(article: Article, a: Point, b: Point, number: int) -> Reading:
    inside = article.inside(article.net_of[a])
    expected, high = resistance(inside, [a], [b]), resistance(inside, [a], [b], "high")
    way = continuity.way(inside, a, b)
    missing = "; ".join(dict.fromkeys(link.missing for link in inside if link.missing and link in way))
    if expected is None and not missing:
        missing = next((link.missing for link in inside if link.missing), "")
    passed = [p for link in way for p in (link.a, link.b)]
    circuit = ", ".join(dict.fromkeys(article.named[p] for p in (a, *passed, b) if p in article.named))
    words = ", ".join(link.name for link in way if link.kind in ("wire", "bond", "ground lead"))
    return Reading(
        id=f"{PREFIX[article.name]}C{number}", article=article.name, kind="continuity", a=(a,), b=(b,),
        expected=expected, low=None, high=UNKNOWN_LIMIT if high is None else limit(high + NULLED, "ohm", True),
        unit="ohm", why=f"{circuit}: {words}" if circuit else words, unknown=missing if expected is None else "",
    )  # fmt: skip


Rows = list[tuple[tuple[Point, ...], Sequence[Point], str]]


def _apart(article: Article, pairs: Sequence[tuple[Point, Point]], mode: str, tied: bool) -> tuple[Rows, list[str]]:
    """Isolation rows of the nets that are wholly known, and notes."""
    closed = [n for n in range(len(article.nets)) if n not in article.open_nets]
    within: dict[int, list[tuple[Point, Point]]] = {}
    for pair in pairs:
        within.setdefault(article.net_of[pair[0]], []).append(pair)
    ends = {n: tuple(part[0] for part in continuity.components(article.nets[n], within.get(n, ()))) for n in closed}

    def row(groups: isolation.Groups, why: str) -> tuple[tuple[Point, ...], tuple[Point, ...], str]:
        a, b = (tuple(p for n in side for p in ends[n]) for side in groups)
        return a, b, why

    notes: list[str] = []
    if mode == "quick" and not tied:
        near, blind = isolation.adjacent(article, closed)
        found: Rows = [((a,), (b,), f"neighbours on {a.ref}") for a, b in near]
        if blind:
            notes.append(f"Neighbours are not known on {', '.join(blind)}: its face is not in the drawer.")
        return found, notes
    if tied:
        bits = isolation.bussed(closed)
        return [
            row(groups, f"group {n}: nets with bit {n} against those without") for n, groups in enumerate(bits, 1)
        ], notes
    walk = zip(closed, isolation.walking(ends.values()), strict=False)
    return [(a, b, article.circuit(n)) for n, (a, b) in walk], notes


def _isolated(article: Article, a: tuple[Point, ...], b: Sequence[Point], number: int, why: str) -> Reading:
    expected = resistance(article.links, a, b, near=article.near)
    low = OPEN_LINE[article.name] if expected is not None and math.isinf(expected) else None
    if low is None:
        low = limit(resistance(article.links, a, b, "low", article.near), "ohm", False)
    return Reading(
        id=f"{PREFIX[article.name]}S{number}", article=article.name, kind="isolation", a=a, b=b,
        expected=expected, low=low, high=None, unit="ohm", why=why,
    )  # fmt: skip


def _kept(article: Article, used: int) -> list[Reading]:
    """Readings through what stays connected: terminated pairs, and nets that lead to what no file lists."""
    found: list[Reading] = []
    seen: set[tuple[int, int]] = set()
    net_at = {article.labels[net[0]]: number for number, net in enumerate(article.nets)}
    for link in article.links:
        if link.copper or link.a not in article.labels or link.b not in article.labels:
            continue  # copper is in its net; behind a cavity that no copper reaches, no probe does either
        ends = [net_at.get(article.labels[p]) for p in (link.a, link.b)]
        if None in ends or ends[0] == ends[1]:
            continue
        one, two = sorted(n for n in ends if n is not None)
        if (one, two) in seen:
            continue
        seen.add((one, two))
        a, b = _beside(article, one, two)
        low, high = (resistance(article.links, [a], [b], end, article.near) for end in ("low", "high"))
        found.append(Reading(
            id=f"{PREFIX[article.name]}R{len(found) + 1}", article=article.name, kind="ohms", a=(a,), b=(b,),
            expected=resistance(article.links, [a], [b], near=article.near), low=limit(low, "ohm", False),
            high=None if high is None else limit(high + NULLED, "ohm", True), unit="ohm",
            why=f"{article.circuit(one)} to {article.circuit(two)}: terminators, other units plugged in",
        ))  # fmt: skip
    ground = article.net_of.get(STRUCTURE)
    for net in sorted(article.open_nets - {ground}):
        used += 1
        circuit = article.circuit(net)
        found.append(Reading(
            id=f"{PREFIX[article.name]}S{used}", article=article.name, kind="isolation",
            a=(article.nets[net][0],), b=(STRUCTURE,), expected=None, low=None, high=None, unit="ohm",
            why=circuit, unknown=f"what hangs on {circuit or 'it'} in the aircraft is not listed: write the value down",
        ))  # fmt: skip
    return found


def _beside(article: Article, one: int, two: int) -> tuple[Point, Point]:
    """A terminal of each net, on the same connector where they have one in common."""
    for a in article.nets[one]:
        for b in article.nets[two]:
            if a.ref == b.ref:
                return a, b
    return article.nets[one][0], article.nets[two][0]
