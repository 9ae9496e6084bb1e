"""Words that several sheets share: a value with its status, a colour, the end of a wire, cells that link."""

from __future__ import annotations

from harnesscheck.connector import NONE, Cavity
from harnesscheck.harness import Harness
from harnesscheck.paper.blocks import Cell
from harnesscheck.paper.svg import identifier
from harnesscheck.parts import Fact
from harnesscheck.place import Point
from harnesscheck.source import Source, Status
from harnesscheck.wire import Wire

UNSAID = "not stated"
UNKNOWN = "not known"


def plain_fact(found: Fact) -> str:
    """A value in words."""
    value = found.value
    if isinstance(value, str):
        return value
    return ", ".join(value) if isinstance(value, tuple) else ", ".join(f"{k}: {v}" for k, v in value.items())


def fact(found: Fact | None) -> str:
    """A value, with its status unless it is confirmed; ``not known`` when there is none."""
    if found is None:
        return UNKNOWN
    mark = "" if found.source.status is Status.CONFIRMED else f" ({found.source.status})"
    return f"{plain_fact(found)}{mark}"


def part_fact(harness: Harness, kind: str, number: str | None, name: str) -> str:
    """A field of a part in words, with its status."""
    record = harness.part(kind, number)
    return fact(record.fact(name) if record else None)


def rule(harness: Harness, name: str) -> tuple[str, Source | None]:
    """What a rule of the trade says, and its source; ``not known`` when the drawer does not hold it."""
    record = harness.drawer.get("rule", name)
    found = record.fact("text") if record else None
    return (plain_fact(found), found.source) if found else (UNKNOWN, None)


def colour(harness: Harness, wire: Wire) -> tuple[str, str]:
    """Colour digits (MIL-STD-681) and words; a core carries a word already, a bare shield none."""
    typed = wire.colour or ""
    if not typed.isdigit():
        # The shield or drain of a cable has no insulation, so no colour is missing there.
        return "", typed or ("" if wire.is_shield else UNSAID)
    records = [harness.part("colour", digit) for digit in typed]
    words = [(record.text("word") if record else None) or "?" for record in records]
    return typed, "/".join(words)


def colour_words(harness: Harness, wire: Wire) -> str:
    """``9 white``; ``drain`` for a shield or drain."""
    return " ".join(w for w in colour(harness, wire) if w) or (wire.core or "")


def kind_words(wire: Wire) -> str:
    """What the wire is made of: its type, or the core of its cable."""
    if wire.cable is not None:
        return f"{wire.core or 'core'} of {wire.cable}"
    return wire.type or UNSAID


def gauge(wire: Wire) -> str:
    """``22 AWG`` or ``not stated``."""
    return str(wire.gauge) if wire.gauge else UNSAID


def mm(metres: float) -> str:
    """Millimetres to a tenth, without needless zeros."""
    return f"{round(metres * 1000, 1):g}"


def part_words(number: str | None, what: str) -> str:
    """A part number; ``no contact`` where nothing is fitted, ``contact not stated`` where nobody has said."""
    if number is None:
        return f"{what} {UNSAID}"
    return f"no {what}" if number == NONE else number


def signal(harness: Harness, cavity: Cavity) -> tuple[str, str]:
    """Circuit and signal class at a cavity, found along the copper; empty where nothing is known."""
    name = cavity.circuit
    if name is None:
        points = [step.end for step in harness.trace(cavity.point)]
        name = next(iter(harness.circuits_at(points)), None)
    circuit = harness.circuits.get(name) if name else None
    return name or "", (circuit.signal or UNSAID) if circuit else ""


def wire_link(wire: str, text: str = "") -> Cell:
    """A cell that leads to the row of a wire."""
    return Cell(text or wire, link=identifier("wire", wire))


def wire_row(wire: str, text: str = "") -> Cell:
    """The cell that the rows of other sheets lead to."""
    return Cell(text or wire, anchor=identifier("wire", wire), strong=True)


def point_link(point: Point) -> Cell:
    """A cell that leads to the row of a cavity or splice."""
    if point.cavity and point.ref:
        return Cell(str(point), link=identifier("cavity", str(point)))
    return Cell(str(point), link=identifier("splice", str(point))) if point.ref else Cell(str(point))


def serials(kits: int) -> str:
    """``K1 to K10``, or ``K1``: the serial numbers of kits built at once."""
    return "K1" if kits == 1 else f"K1 to K{kits}"
