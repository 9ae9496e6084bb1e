"""Pin maps: every cavity of the opened pair, of the new halves and of the equipment plug, with what the kit changes.

An unused cavity stands in its row like any other. Where nobody has said what a cavity holds, the row says so.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.connector import NONE, Cavity, Connector, Origin, Use
from harnesscheck.harness import Harness, Kind
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Cell, Column, Content, Heading, NewPage, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.paper.svg import identifier
from harnesscheck.place import Point
from harnesscheck.sheets import Wish
from harnesscheck.sheets._say import UNSAID, colour_words, gauge, mm, part_words, point_link, signal, wire_link

PART, ORDER = 4, 10
PAGE_ROWS, HEAD_ROWS = 29, 5
"""Rows of a page turned sideways, and what a heading takes of them: a short pin map is not parted."""
COLUMNS = (
    Column("cavity"),
    Column("circuit"),
    Column("signal"),
    Column("wire"),
    Column("size"),
    Column("colour"),
    Column("to"),
    Column("contact"),
    Column("plug"),
    Column("what the kit does"),
)

SPLICES = (Column("splice"), Column("part"), Column("where"), Column("made"), Column("circuit"), Column("wires"))


def content(job: Job, wish: Wish) -> Content:
    """The pin maps of a job; for an airframe or equipment file alone those of all its connectors."""
    harness = job.subject
    blocks: list[Block] = []
    filled = 0
    for connector in listed(harness):
        table = _table(harness, connector)
        high = HEAD_ROWS + len(table.rows)
        if filled and filled + high > PAGE_ROWS:
            blocks.append(NewPage())
            filled = 0
        filled += high
        blocks += [*_head(harness, connector), table]
    if not blocks:
        blocks.append(Words("No connector is listed."))
    joined = tuple(_spliced(harness))
    if joined:
        blocks += [Heading("Splices"), Table("splices", SPLICES, joined)]
    return Content("pin-map", "Pin maps", tuple(blocks), True, tuple(decisions(harness)))


def listed(harness: Harness) -> list[Connector]:
    """The halves the sheet shows: each existing half followed by the new half it is mated with."""
    if harness.kind is not Kind.INSTALLED:
        return list(harness.connectors.values())
    order: dict[str, None] = {}
    for ref in harness.opened:
        order[ref] = None
        mate = harness.mate_of(ref)
        if mate is not None:
            order[mate] = None
    for connector in harness.connectors.values():
        if connector.origin is Origin.JUMPER:
            order[connector.ref] = None
            mate = harness.mate_of(connector.ref)
            if mate is not None:
                order[mate] = None
    for connector in harness.connectors.values():
        if any(w.origin is Origin.JUMPER for c in connector.cavities.values() for w in harness.wires_at(c.point)):
            order[connector.ref] = None
    return [harness.connectors[ref] for ref in order]


def _spliced(harness: Harness) -> Iterator[tuple[str | Cell, ...]]:
    for splice in harness.splices.values():
        at = f"{mm(splice.at)} mm from {splice.at_ref}" if splice.at is not None else UNSAID
        wires = ", ".join(wire.id for wire in harness.wires_at(Point(splice.ref)))
        circuit = next(iter(harness.circuits_at(s.end for s in harness.trace(Point(splice.ref)))), "")
        made = "in the aircraft" if splice.fitted == "aircraft" else "at the bench"
        name = Cell(splice.ref, anchor=identifier("splice", splice.ref), strong=True)
        yield name, splice.part or UNSAID, at, made, circuit, wires


def _head(harness: Harness, connector: Connector) -> Iterator[Block]:
    yield Heading(
        f"{connector.ref}  {connector.name}".rstrip() + f"  ({connector.part or f'part {UNSAID}'})",
        anchor=identifier("connector", connector.ref),
    )
    words = [
        {Origin.JUMPER: "new half", Origin.AIRFRAME: "existing half", Origin.EQUIPMENT: "half on the equipment"}[
            connector.origin
        ],
        f"contacts: {connector.gender or 'pin or socket not known'}",
    ]
    mate = harness.mate_of(connector.ref)
    words.append(f"mated with {mate}" if mate else "mated with nothing that the files list")
    if connector.says("key"):
        words.append(f"key {connector.says('key')}")
    if connector.marking is not None:
        words.append(f"marked {connector.marking}")
    if connector.fitted == "aircraft":
        words.append("shipped loose, contacts are inserted in the aircraft")
    if connector.names is None:
        words.append("ARRANGEMENT NOT KNOWN: only the cavities that the files mention are listed")
    yield Words("; ".join(words) + ".")


def _table(harness: Harness, connector: Connector) -> Table:
    rows = [row for cavity in connector.cavities.values() for row in _rows(harness, connector, cavity)]
    return Table(f"pin-map-{connector.ref}", COLUMNS, tuple(rows))


def _rows(harness: Harness, connector: Connector, cavity: Cavity) -> Iterator[tuple[str | Cell, ...]]:
    """One row a wire; a cavity without a wire has one row."""
    name = cavity.point.cavity
    first = Cell(name, anchor=identifier("cavity", str(cavity.point)), strong=True)
    circuit, kind = signal(harness, cavity)
    pin = next((p for p in harness.pins() if p.point == cavity.point), None)
    if pin is not None:
        circuit = f"{pin.function}; {circuit}" if circuit and circuit != pin.function else pin.function
        kind = pin.signal
    wires = harness.wires_at(cavity.point)
    done = "do not connect" if pin is not None and not pin.connect else change(harness, connector, cavity)
    contact, plug = part_words(cavity.contact, "contact"), plug_words(connector, cavity)
    if not wires:
        size = str(cavity.gauge) if cavity.gauge else ""
        what, wire = _unwired(connector, cavity, circuit, pin is not None)
        yield (first, what, kind, wire, size, "", "", _contact(connector, cavity), plug, done)
    for number, lead in enumerate(wires):
        yield (
            first if number == 0 else Cell(name),
            circuit or _unnamed(harness, cavity), kind, wire_link(lead.id), gauge(lead), colour_words(harness, lead),
            point_link(lead.other(cavity.point)), contact, "", done,
        )  # fmt: skip


def _unwired(connector: Connector, cavity: Cavity, circuit: str, pin: bool) -> tuple[str, str]:
    """What a cavity without a listed wire is for, and what is said of its wire."""
    if connector.origin is Origin.EQUIPMENT and pin:
        return circuit, ""
    if cavity.use is Use.SPARE:
        return ("spare, sealing plug" if cavity.plug not in (None, NONE) else "spare"), ""
    if cavity.use is Use.UNKNOWN and not circuit:
        return f"{UNSAID}: treat as live", "not listed"
    return circuit or f"live; circuit {UNSAID}", "not listed"


def _unnamed(harness: Harness, cavity: Cavity) -> str:
    """The circuit of a wired cavity that no pin map names: a spare led through, or nobody has said."""
    ends = [harness.cavity(step.end) for step in harness.trace(cavity.point)]
    return "spare" if any(end is not None and end.use is Use.SPARE for end in ends) else UNSAID


def _contact(connector: Connector, cavity: Cavity) -> str:
    return "" if cavity.use is Use.SPARE and cavity.contact is None else part_words(cavity.contact, "contact")


def plug_words(connector: Connector, cavity: Cavity) -> str:
    """The sealing plug of an unused cavity; empty for one in use."""
    if cavity.plug is not None:
        return "none" if cavity.plug == NONE else cavity.plug
    if cavity.use is not Use.SPARE or connector.origin is Origin.EQUIPMENT:
        return ""
    sealed = connector.says("sealed")
    return "none: not sealed" if sealed == "no" else f"sealing plug {UNSAID}"


def change(harness: Harness, connector: Connector, cavity: Cavity) -> str:
    """What the kit does at a cavity: led through, tapped, or not led through."""
    if harness.kind is not Kind.INSTALLED or not harness.opened:
        return ""
    if connector.origin is Origin.EQUIPMENT or connector.ref not in _through(harness):
        return "new" if connector.origin is Origin.JUMPER else ""
    nets = harness.nets
    here = nets.of(cavity.point)
    one, two = (Point(ref, cavity.point.cavity) for ref in harness.opened)
    through = here is not None and nets.of(one) == here == nets.of(two)
    taps = sorted(str(pin.point) for pin in harness.pins() if here is not None and nets.of(pin.point) == here)
    words = "led through" if through else "NOT led through"
    return f"{words}; tapped to {', '.join(taps)}" if taps else words


def _through(harness: Harness) -> set[str]:
    """The opened halves and the new halves mated with them."""
    opened = harness.opened
    return {*opened, *(mate for ref in opened if (mate := harness.mate_of(ref)) is not None)}
