"""A wire is too thick or too thin for the wire seal of the connector.

What
    In a connector with a wire sealing grommet, the diameter over the insulation of each wire must lie in the range
    that the grommet takes for that contact size. The gauge does not tell: 22 AWG is sold with insulation of very
    different thickness, and the cores of a cable are often thinner than hook-up wire of the same gauge.

Why it matters
    A thin wire lets water creep along its insulation to the contacts. A thick wire tears the grommet when the contact
    is pushed through, and its neighbours leak too. Both pass every test on a dry bench.

Source
    Insulation diameter against the seal, never the gauge alone: application specification of a weather-sealed
    connector family, p. 3. Ranges of contacts and diameters of wires: the parts drawer, each with its source. A
    diameter that is only recalled is taken as true within 5 percent, which is how the drawer gives it.

What to do
    Take a wire whose insulation fits, or a contact and connector whose seal fits. A wire that is too thin may be built
    up with shrink sleeving through the grommet where the connector's maker allows it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from harnesscheck.checks._seals import unsure
from harnesscheck.checks._words import Tally, at, cavities, cure, several, weakest, why_unknown
from harnesscheck.connector import NONE, Connector, Origin
from harnesscheck.finding import Answer, Finding, NotChecked, Severity
from harnesscheck.harness import Harness
from harnesscheck.parts import Fact
from harnesscheck.place import Point
from harnesscheck.source import Source, Status
from harnesscheck.units import Range
from harnesscheck.wire import Wire

SEVERITY = Severity.STOP
SOURCE = Source("application specification of a weather-sealed family", Status.CONFIRMED, "rev C", "p. 3")
FOLLOWS = ("wrong-mate", "wrong-contact-family", "unknown-cavity", "pin-collision", "wire-outside-crimp-barrel")
RECALLED = 0.05
"""How far a wire diameter that is not confirmed may be out; stated with the table of recalled diameters."""


@dataclass(frozen=True, slots=True)
class _Size:
    """Diameter over the insulation, metres, and the facts it rests on."""

    od: Range
    facts: tuple[Fact, ...]
    wire: str


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every wire end in a sealed connector, one answer per connector, kind of wire and contact."""
    ends: dict[tuple[str, str, str], list[tuple[Wire, Point]]] = {}
    for wire in harness.wires.values():
        for point in (wire.a, wire.b):
            connector = harness.connectors.get(point.ref)
            if connector is None or connector.says("sealed") == "no" or not _ours(harness, wire, connector, point):
                continue
            cavity = harness.cavity(point)
            contact = (cavity.contact if cavity else None) or ""
            ends.setdefault((point.ref, _kind(harness, wire), contact), []).append((wire, point))
    good = Tally("wire ends in a sealed connector")
    unsaid: set[str] = set()
    for (ref, _, contact), group in ends.items():
        connector = harness.connectors[ref]
        if connector.fact("sealed") is None:
            if ref not in unsaid:
                unsaid.add(ref)
                missing = why_unknown(harness, connector, "whether the connector is sealed")
                yield NotChecked(place=connector.place, missing=missing, remedy=cure(harness, connector, "sealed:"))
            continue
        answer = _verdict(harness, connector, contact, group)
        if isinstance(answer, Source):
            good.add(len(group), answer)
        elif isinstance(answer, Finding):
            yield answer
        else:
            for wire, point in group:
                yield NotChecked(place=at(point, wire.place), missing=answer[0], remedy=answer[1])
    yield from good.passed()


def _ours(harness: Harness, wire: Wire, connector: Connector, point: Point) -> bool:
    """New wires and new connectors are looked at always, existing ones where wire and contact are stated."""
    cavity = harness.cavity(point)
    stated = wire.type is not None and cavity is not None and cavity.contact is not None
    known = connector.fact("sealed") is not None and stated
    return Origin.JUMPER in (wire.origin, connector.origin) or known


def _kind(harness: Harness, wire: Wire) -> str:
    cable = harness.cables.get(wire.cable or "")
    if wire.type or cable is None:
        return wire.type or f"{wire.gauge}"
    return f"{'shield' if wire.is_shield else 'core'} of {cable.type or cable.id} {wire.gauge}"


def _size(harness: Harness, wire: Wire) -> _Size | str:
    """Diameter of what enters the grommet, or what is missing to know it."""
    cable = harness.cables.get(wire.cable or "")
    if wire.type is None and wire.is_shield:
        return "the wire that leads the shield or drain into the contact is not stated"
    if wire.type is None and (cable is None or cable.type is None):
        return "the type of the wire is not stated" if cable is None else f"the type of cable {cable.id} is not stated"
    number = wire.type or ""
    facts: tuple[Fact, ...] = ()
    if not number:
        assert cable is not None
        record = harness.part("cable", cable.type)
        spec = record.fact("spec") if record else None
        if spec is None or wire.gauge is None or wire.gauge.awg is None:
            return f"which wire the cores of {cable.type} are made of is not known"
        number, facts = f"{spec.value}-{wire.gauge.awg}", (spec,)
    wire_part = harness.part("wire", number)
    od = wire_part.lengths("od") if wire_part else None
    fact = wire_part.fact("od") if wire_part else None
    if od is None or fact is None:
        return f"the diameter over the insulation of {number} is not known"
    return _Size(od, (fact, *facts), number)


def _seal(harness: Harness, connector: Connector, contact: str) -> tuple[Range, Fact] | None:
    """The range the grommet takes: of the contact, else of the contact size, which the drawer gives for 38999."""
    insert = harness.part("insert", connector.says("insert"))
    size = insert.text("cavity size") if insert else None
    in_series = (connector.says("family") or "").startswith("38999")
    for record in (harness.part("contact", contact), harness.part("contact size", size if in_series else None)):
        span = record.lengths("insulation") if record else None
        fact = record.fact("insulation") if record else None
        if span is not None and fact is not None:
            return span, fact
    return None


def _verdict(
    harness: Harness, connector: Connector, contact: str, group: list[tuple[Wire, Point]]
) -> Finding | tuple[str, str] | Source:
    """A finding, or what is missing and what to do, or the source when it fits."""
    wire = group[0][0]
    points = [point for _, point in group]
    size, seal = _size(harness, wire), _seal(harness, connector, contact)
    if isinstance(size, str) or seal is None:
        what = f"contact {contact}" if contact not in ("", NONE) else f"the contacts of {connector.ref}"
        missing = size if isinstance(size, str) else f"the insulation that the seal for {what} takes is not known"
        remedy = "give type:, or the value with its document in the shop's parts file"
        return missing, remedy
    span, fact = seal
    od = size.od
    source = weakest(fact, *size.facts, unsure(connector))
    assert source is not None
    if span.low <= od.low and od.high <= span.high:
        loose = RECALLED if not size.facts[0].firm else 0.0
        if span.low <= od.low * (1 - loose) and od.high * (1 + loose) <= span.high:
            return source
        missing = (
            f"{size.wire} is {millimetres(od)} over the insulation by an unconfirmed value, "
            f"too near to the seal range {millimetres(span)} to tell"
        )
        remedy = "measure the wire or look its sheet up, and write it into the shop's parts file"
        return missing, remedy
    too = "thick" if od.high > span.high else "thin"
    names = several(w.id for w, _ in group)
    return Finding(
        headline=f"{cavities(points)}: wire {size.wire} ({millimetres(od)} over the insulation) is too {too} for the "
        f"wire seal ({millimetres(span)})",
        place=at(points[0], wire.place),
        others=(*(w.place for w, _ in group), *(at(p, w.place) for w, p in group)),
        value=f"{millimetres(od)}, wires {names}" if len(group) > 1 else f"{millimetres(od)}, wire {names}",
        limit=millimetres(span) + (f" (contact {contact})" if contact else f" ({connector.ref})"),
        source=source,
        remedy="take a wire with thinner insulation, or a contact and connector whose seal takes this one"
        if too == "thick"
        else "take a wire with thicker insulation, or build it up with shrink sleeving where the maker allows it",
    )


def millimetres(span: Range) -> str:
    """``1.27 mm to 1.37 mm``, or ``1.32 mm`` when both ends are the same."""
    low, high = f"{span.low * 1000:.2f} mm", f"{span.high * 1000:.2f} mm"
    return low if low == high else f"{low} to {high}"
