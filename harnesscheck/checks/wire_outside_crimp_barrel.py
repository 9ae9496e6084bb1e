"""A wire is too thin or too thick for the crimp barrel of its contact.

What
    The gauge of each wire that ends in a contact is compared with the gauge range of the contact's crimp barrel.

Why it matters
    A wire that is too thin is held by a few strands and pulls out; one that is too thick does not go in, and the
    temptation is to cut strands away. Both pass a continuity test.

Source
    The gauge range of the contact in the parts drawer, with its status. A range from memory gives a caution; a shop
    that has looked it up confirms it in its own parts file.

What to do
    Take another wire gauge, another contact, or a splice to a gauge that fits the barrel. Metric sizes are compared
    with the copper of stranded aircraft wire (AC 43.13-1B Table 11-9): 0.5 mm2 counts as thinner than 20 AWG.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._words import Tally, at, several
from harnesscheck.connector import NONE
from harnesscheck.finding import Answer, Finding, NotChecked, Severity
from harnesscheck.formulas.gauge import compare
from harnesscheck.harness import Harness
from harnesscheck.parts import Fact, Part
from harnesscheck.place import Point
from harnesscheck.source import Source, Status
from harnesscheck.units import gauge_range
from harnesscheck.wire import Wire

SEVERITY = Severity.STOP
SOURCE = Source("parts drawer", Status.COMMON)
FOLLOWS = ("wrong-contact-family", "unknown-cavity", "pin-collision")


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every wire end in a contact, one finding per wire."""
    good = Tally("wire ends")
    wrong: dict[tuple[str, bool], list[tuple[Point, str, Fact]]] = {}
    for wire in harness.wires.values():
        for point in (wire.a, wire.b):
            if point.ref not in harness.connectors:
                continue
            cavity = harness.cavity(point)
            number = cavity.contact if cavity else None
            record = harness.part("contact", number)
            missing, remedy = _missing(wire, number, record)
            if missing:
                yield NotChecked(place=at(point, wire.place), missing=missing, remedy=remedy)
                continue
            fact = record.fact("gauge") if record else None
            assert fact is not None
            if _too(wire, fact):
                wrong.setdefault((wire.id, fact.firm), []).append((point, str(number), fact))
            else:
                good.add(1, fact.source)
    yield from (_finding(harness.wires[name], ends) for (name, _), ends in wrong.items())
    yield from good.passed()


def _missing(wire: Wire, number: str | None, record: Part | None) -> tuple[str, str]:
    """What is missing and what to do about it; two empty texts when nothing is."""
    if wire.gauge is None:
        what = "shield or drain" if wire.is_shield else "wire"
        return f"the gauge of the {what} {wire.id} is not known", "give gauge:, or a type: that says it"
    if number is None:
        return "the contact is not stated", "give contacts:"
    if number == NONE:
        return "the cavity is stated to have no contact", "name the contact, or end the wire elsewhere"
    if record is None:
        return f"contact {number} is not in the parts drawer", "add it to the shop's parts file"
    if record.fact("gauge") is None:
        return f"the gauge range of contact {number} is not known", "confirm it in the shop's parts file"
    return "", ""


def _too(wire: Wire, fact: Fact) -> str:
    """``thin``, ``thick``, or nothing when the wire fits."""
    assert wire.gauge is not None
    thin, thick = gauge_range(str(fact.value))
    if compare(wire.gauge, thin) < 0:
        return "thin"
    return "thick" if compare(wire.gauge, thick) > 0 else ""


def _finding(wire: Wire, ends: list[tuple[Point, str, Fact]]) -> Finding:
    _, _, fact = ends[0]
    too = _too(wire, fact)
    where = several(str(point) for point, _, _ in ends)
    ranges = several(str(f.value) for _, _, f in ends)
    return Finding(
        headline=f"wire {wire.id} ({wire.gauge}) is too {too} for the crimp barrel at {where} ({ranges})",
        place=wire.place,
        others=tuple(at(point, wire.place) for point, _, _ in ends),
        value=str(wire.gauge),
        limit=several(f"{f.value} (contact {number})" for _, number, f in ends),
        source=fact.source,
        remedy=f"take a wire or a contact that fits{', or splice to a thinner end' * (too == 'thick')}; "
        "never cut strands away to make a wire fit",
    )
