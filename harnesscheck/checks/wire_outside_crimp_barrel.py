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
    Take another wire gauge, another contact, or a splice to a gauge that fits the barrel.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._words import several
from harnesscheck.connector import NONE
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.formulas.gauge import compare
from harnesscheck.harness import Harness
from harnesscheck.parts import Part
from harnesscheck.place import Place, Point
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
            missing = _missing(wire, number, record)
            if missing:
                yield NotChecked(place=Place(str(point), wire.document, wire.line, wire.column), missing=missing)
            elif record is not None and _fits(wire, record):
                good += 1
            else:
                wrong.setdefault((wire.id, str(number)), []).append(point)
    for (name, number), points in wrong.items():
        record = harness.part("contact", number)
        if record is not None:
            yield _finding(harness.wires[name], number, record, points)
    yield Passed(good, "wire ends")


def _missing(wire: Wire, number: str | None, record: Part | None) -> str:
    if wire.gauge is None:
        return (
            f"the shield or drain of cable {wire.cable} has no gauge"
            if wire.is_shield
            else "the gauge of the wire is not stated"
        )
    if number is None:
        return "the contact is not stated"
    if number == NONE:
        return "the cavity is stated to have no contact"
    if record is None:
        return f"contact {number} is not in the parts drawer"
    return "" if record.fact("gauge") else f"the gauge range of contact {number} is not known"


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
        others=tuple(Place(str(p), wire.document, wire.line, wire.column) for p in points),
        value=str(wire.gauge),
        limit=f"{fact.value} (contact {number})",
        source=fact.source,
        remedy="take a wire gauge or a contact that fits; never cut strands away to make a wire fit",
    )
