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
    by area, so 0.5 mm2 counts as a little thinner than 20 AWG.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._words import at, several
from harnesscheck.connector import NONE
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.formulas.gauge import compare
from harnesscheck.harness import Harness
from harnesscheck.parts import Part
from harnesscheck.place import Point
from harnesscheck.source import Source, Status
from harnesscheck.units import gauge_range
from harnesscheck.wire import Wire

SEVERITY = Severity.STOP
SOURCE = Source("parts drawer", Status.COMMON)
FOLLOWS = ("wrong-contact-family", "unknown-cavity")


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every wire end in a contact, one finding per wire and contact part."""
    good = 0
    wrong: dict[tuple[str, str], list[Point]] = {}
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
            elif record is not None and _fits(wire, record):
                good += 1
            else:
                wrong.setdefault((wire.id, str(number)), []).append(point)
    for (name, number), points in wrong.items():
        record = harness.part("contact", number)
        if record is not None:
            yield _finding(harness.wires[name], number, record, points)
    yield Passed(good, "wire ends")


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


def _fits(wire: Wire, record: Part) -> bool:
    fact = record.fact("gauge")
    assert fact is not None and wire.gauge is not None
    thin, thick = gauge_range(str(fact.value))
    return compare(wire.gauge, thin) >= 0 and compare(wire.gauge, thick) <= 0


def _finding(wire: Wire, number: str, record: Part, points: list[Point]) -> Finding:
    fact = record.fact("gauge")
    assert fact is not None and wire.gauge is not None
    thin, _ = gauge_range(str(fact.value))
    too = "thin" if compare(wire.gauge, thin) < 0 else "thick"
    where = several(str(p) for p in points)
    return Finding(
        headline=f"wire {wire.id} ({wire.gauge}) is too {too} for the crimp barrel at {where} ({fact.value})",
        place=wire.place,
        others=tuple(at(p, wire.place) for p in points),
        value=str(wire.gauge),
        limit=f"{fact.value} (contact {number})",
        source=fact.source,
        remedy=f"take a wire or a contact that fits{', or splice to a thinner end' * (too == 'thick')}; "
        "never cut strands away to make a wire fit",
    )
