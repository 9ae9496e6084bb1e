"""Two mated contacts have finishes that do not belong together, such as gold against tin.

What
    In each mated pair with a half that the kit brings, the two contacts of a cavity must have the same kind of finish:
    noble (gold, palladium), silver, tin or nickel. Where no contact is stated for a cavity in use, the contact of the
    other cavities of that half is taken, when they all have one.

Why it matters
    Tin rubs off on gold, and under vibration the small movement of the contacts wears through to copper and piles up
    oxide. The joint measures well when new. After a season the line is noisy, first on low-level signals, and every
    wiggle of the plug cures it for a week.

Source
    Common practice: contact finishes are not mixed in one mated pair. Finishes: the parts drawer, each with its source.

What to do
    Take contacts with the same finish as those in the mating half. Contacts in the aircraft are looked at, not guessed:
    gold is yellow, tin and nickel are white.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from harnesscheck.checks._words import Tally, cavities, weakest
from harnesscheck.connector import NONE, Connector, Mate, Origin, Use
from harnesscheck.finding import Answer, Finding, NotChecked, Severity
from harnesscheck.harness import Harness
from harnesscheck.parts import Fact
from harnesscheck.place import Point
from harnesscheck.source import Source, Status

SEVERITY = Severity.CAUTION
SOURCE = Source("contact finishes are not mixed in a mated pair", Status.COMMON)
FOLLOWS = ("wrong-mate", "wrong-contact-family")

KINDS = {"gold": "noble", "palladium": "noble", "silver": "silver", "tin": "tin", "solder": "tin", "nickel": "nickel"}
"""The outermost metal, which a finish names first, and the kind it belongs to."""


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every pair of mated contacts, one answer per mated pair and pair of contact parts."""
    good = Tally("pairs of mated contacts")
    by_refs = {(mate.a, mate.b): mate for mate in harness.mates}
    groups: dict[tuple[str, str, str, str], list[tuple[Point, Point]]] = {}
    for one, two in harness.mated_points:
        halves = harness.connectors[one.ref], harness.connectors[two.ref]
        if all(half.origin is not Origin.JUMPER for half in halves) or not _used(harness, one, two):
            continue
        key = (one.ref, two.ref, _contact(halves[0], one), _contact(halves[1], two))
        groups.setdefault(key, []).append((one, two))
    for (a, b, first, second), pairs in groups.items():
        answer = _verdict(harness, by_refs[a, b], (first, second), pairs)
        if isinstance(answer, Source):
            good.add(len(pairs), answer)
        else:
            yield answer
    yield from good.passed()


def _used(harness: Harness, one: Point, two: Point) -> bool:
    """A wire or a circuit on one side: an empty pair of cavities has no contacts to compare."""
    listed = (harness.cavity(one), harness.cavity(two))
    return any(cavity is not None and cavity.use is Use.LIVE for cavity in listed)


def _contact(half: Connector, point: Point) -> str:
    """The contact stated for a cavity, else the one that all other cavities of the half have, else nothing."""
    cavity = half.cavities.get(point.cavity)
    if cavity is not None and cavity.contact is not None:
        return cavity.contact
    stated = {c.contact for c in half.cavities.values() if c.contact not in (None, NONE)}
    return str(next(iter(stated))) if len(stated) == 1 else ""


def _verdict(
    harness: Harness, mate: Mate, contacts: tuple[str, str], pairs: list[tuple[Point, Point]]
) -> Answer | Source:
    refs = (mate.a, mate.b)
    facts: list[Fact] = []
    for number, points in zip(contacts, zip(*pairs, strict=True), strict=True):
        record = harness.part("contact", number or None)
        fact = record.fact("finish") if record else None
        if fact is None or _kind(fact) is None:
            what = (
                f"{cavities(points)}: the contacts are not stated"
                if not number
                else f"the finish of contact {number} ({points[0].ref}) is not known"
            )
            remedy = "give contacts:, or finish: with its document in the shop's parts file"
            return NotChecked(place=mate.place, missing=what, remedy=remedy)
        facts.append(fact)
    source = weakest(*facts)
    assert source is not None
    if _kind(facts[0]) == _kind(facts[1]):
        return source
    numbers = [f"{number} in {ref}" for number, ref in zip(contacts, refs, strict=True)]
    words = [_metal(fact) for fact in facts]
    where = cavities(next(p for p in pair if p.ref == refs[0]) for pair in pairs)
    return Finding(
        headline=f"{words[0]} contacts in {refs[0]} mate with {words[1]} contacts in {refs[1]}",
        place=mate.place,
        others=tuple(harness.connectors[ref].place for ref in refs),
        value=f"{numbers[0]}: {facts[0].value}; {numbers[1]}: {facts[1].value}; {where}",
        limit="the same finish on both contacts",
        source=source,
        remedy=f"take contacts with the finish of the mating half for {_newer(harness, refs)}",
    )


def _metal(fact: Fact) -> str | None:
    found = re.search(rf"\b({'|'.join(KINDS)})", str(fact.value).casefold())
    return found[1] if found else None


def _kind(fact: Fact) -> str | None:
    metal = _metal(fact)
    return KINDS[metal] if metal else None


def _newer(harness: Harness, refs: tuple[str, str]) -> str:
    return next(ref for ref in refs if harness.connectors[ref].origin is Origin.JUMPER)
