"""Continued airworthiness: what is inspected and when, where to look for a fault, what may be replaced by what.

Intervals are common practice and stand back behind the maintenance programme of the aircraft.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.connector import Origin
from harnesscheck.harness import Harness, Kind
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Cell, Column, Content, Heading, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.place import Point
from harnesscheck.sheets import Wish, not_needed
from harnesscheck.sheets._counts import kit
from harnesscheck.sheets._coverage import Line, lines
from harnesscheck.sheets._say import UNSAID, mm, wire_link
from harnesscheck.sheets._site import new_mates
from harnesscheck.sheets.cut_list import rows, totals

PART = 11
NONE = "an airframe or equipment file alone adds nothing to be looked after"
EVERY = "100 h or annual"
WET = "50 h"
INSPECTIONS = (Column("what"), Column("look for"), Column("interval"), Column("interval from"))
TREE = (Column("sign"), Column("look first at"), Column("then"), Column("wires"))
REPLACE = (Column("part"), Column("what"), Column("where"), Column("after replacing it"))
COMMON = "common practice"
AFTER = "ring out its wires; function lines of its circuits"


def not_applicable(job: Job, wish: Wish) -> str:
    """Why the job has no such sheet; empty when it has one."""
    return "" if job.subject.kind is Kind.INSTALLED else NONE


def content(job: Job, wish: Wish) -> Content:
    """Inspection, fault tree and replacement of the installed kit."""
    harness = job.subject
    title = "Instructions for continued airworthiness"
    why = not_applicable(job, wish)
    if why:
        return not_needed("airworthiness", title, why)
    blocks: list[Block] = [
        Words("A draft for whoever is responsible: the maintenance programme of the aircraft comes first."),
        Heading("Inspection"),
        Table("inspection", INSPECTIONS, tuple(_inspections(harness))),
        Heading("Where to look for a fault"),
        Words("Power off and connectors parted before any resistance is measured."),
        Table("faults", TREE, tuple(_tree(harness))),
        Heading("Replacement"),
        Table("replacement", REPLACE, tuple(_parts(harness))),
        Words("A part is replaced by the same part number, or the change is planned and checked anew."),
        Words("To leave the kit out: removal sheet."),
    ]
    return Content("airworthiness", title, tuple(blocks), False, tuple(decisions(harness)))


def _inspections(harness: Harness) -> Iterator[tuple[str | Cell, ...]]:
    for mate in new_mates(harness):
        halves = [harness.connectors[ref] for ref in (mate.a, mate.b) if ref in harness.connectors]
        wet = any((zone := harness.zone_of(half)) is not None and zone.wet for half in halves)
        look = "locked, witness mark unbroken, no chafing, backshell tight" + ("; no water, no green" if wet else "")
        yield f"{mate.a}/{mate.b}", look, WET if wet else EVERY, COMMON
    for splice in harness.splices.values():
        if splice.origin is Origin.JUMPER:
            at = f"{mm(splice.at)} mm from {splice.at_ref}" if splice.at is not None else f"place {UNSAID}"
            yield f"{splice.ref} ({at})", "sleeve whole, tied on both sides, no heat", EVERY, COMMON
    routes = dict.fromkeys(
        t.route
        for table in (harness.connectors, harness.wires, harness.cables)
        for t in table.values()
        if t.origin is Origin.JUMPER and t.route
    )
    for name in routes:
        route = harness.routes.get(name)
        yield name, "clamps tight, no chafing, slack as fitted", EVERY, COMMON
        for passage in route.passages if route else ():
            yield f"{name}, {passage}", "grommet whole", EVERY, COMMON
    for device in harness.devices.values():
        yield (
            f"{device.ref} {device.name}".rstrip(),
            "fixed, bonded, as its maker says",
            f"by its maker; {EVERY}",
            COMMON,
        )
    yield "marks and bands of the kit", "can be read", EVERY, COMMON


def _tree(harness: Harness) -> Iterator[tuple[str | Cell, ...]]:
    for line in lines(harness):
        if not line.carries or not line.wires:
            continue
        first, then = _suspects(harness, line)
        sign = f"{line.name} dead or wrong"
        if line.pins:
            sign += f" (or {', '.join(line.pins)})"
        yield sign, first, then, wire_link(line.wires[0], ", ".join(line.wires))


def _suspects(harness: Harness, line: Line) -> tuple[str, str]:
    """Contacts that were moved come first, then splices, then the wire: more faults sit at ends than between."""
    wires = [harness.wires[name] for name in line.wires]
    points = list(dict.fromkeys(p for w in wires for p in (w.a, w.b) if p.ref))
    cavities = [str(p) for p in points if p.ref in harness.connectors]
    joints = [str(p) for p in points if p.ref in harness.splices]
    circuit = harness.circuits.get(line.name)
    breaker = [f"breaker {circuit.breaker}"] if circuit and circuit.breaker and line.signal == "power" else []
    first = ", ".join([*breaker, *(f"contact {name} seated" for name in cavities)]) or UNSAID
    return first, ", ".join([*(f"splice {name}" for name in joints), "the wires for chafing"])


def _parts(harness: Harness) -> Iterator[tuple[str | Cell, ...]]:
    for connector in harness.connectors.values():
        if connector.origin is Origin.JUMPER:
            yield connector.part or UNSAID, "connector", connector.ref, AFTER
    one = kit(harness)
    for number, count in one.contacts.items():
        yield number or UNSAID, "contact", f"{count} in the kit", "tug; " + AFTER
    for number, count in one.plugs.items():
        yield number or UNSAID, "sealing plug", f"{count} in the kit", "seated"
    for splice in harness.splices.values():
        if splice.origin is Origin.JUMPER:
            wires = ", ".join(w.id for w in harness.wires_at(Point(splice.ref)))
            yield splice.part or UNSAID, "splice", f"{splice.ref}: {wires}", "not reused; " + AFTER
    for kind in totals(rows(harness), 1):
        yield kind, "wire or cable", "cut list", "whole length, no splice more; " + AFTER
    for device in harness.devices.values():
        yield device.name or UNSAID, "equipment", device.ref, "power-up, commissioning and functional test sheets"
