"""Crimp joints of a kit, one for each contact or splice part and wire size, and the least pull-off force of each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from harnesscheck.harness import Harness
from harnesscheck.parts import Fact
from harnesscheck.sheets._counts import seats, splices
from harnesscheck.sheets._say import UNSAID, gauge, plain_fact
from harnesscheck.wire import Wire

LBF = 4.4482216152605
"""Newton: 0.45359237 kg x 9.80665 m/s2 exactly."""
SAMPLES = 3
SAMPLES_SOURCE = "common practice: before the batch, and again after any change of tool, setting, wire or contact lot"


@dataclass(frozen=True, slots=True)
class Joint:
    """One kind of crimp: a part and the wires crimped into one of its barrels."""

    kind: str
    """``contact`` or ``splice``."""
    part: str | None
    sizes: tuple[str, ...]
    """Gauges in the barrel, as said."""
    wires: tuple[Wire, ...]
    """All wires crimped this way."""
    crimps: int
    """In one kit: barrels of contacts, or wire ends in splices."""

    @property
    def name(self) -> str:
        """``M39029/63-368, 20 AWG``."""
        return f"{self.part or f'{self.kind} {UNSAID}'}, {' + '.join(self.sizes)}"


def joints(harness: Harness) -> list[Joint]:
    """Every kind of joint in the kit, contacts first, in the order of the file."""
    found: dict[tuple[str, str | None, tuple[str, ...]], tuple[list[Wire], int]] = {}
    for seat in seats(harness):
        if seat.wires:
            sizes = tuple(gauge(wire) for wire in seat.wires)
            wires, count = found.get(("contact", seat.part, sizes), ([], 0))
            found["contact", seat.part, sizes] = ([*wires, *seat.wires], count + 1)
    for splice, inside in splices(harness):
        for wire in inside:
            sizes = (gauge(wire),)
            wires, count = found.get(("splice", splice.part, sizes), ([], 0))
            found["splice", splice.part, sizes] = ([*wires, wire], count + 1)
    return [Joint(kind, part, sizes, tuple(w), n) for (kind, part, sizes), (w, n) in found.items()]


def conductor(harness: Harness, wire: Wire) -> str | None:
    """What the conductor is made of, ``tin-coated copper``; None when the drawer does not know the wire."""
    number = wire.type
    if number is None and wire.cable is not None:
        record = harness.part("cable", harness.cables[wire.cable].type)
        number = record.text("spec") if record else None
    found = harness.part("wire", number)
    return found.text("conductor") if found else None


def pull(harness: Harness, joint: Joint) -> Iterator[tuple[str, Fact]]:
    """What the least pull-off force holds for, and the force; nothing where no table has the size."""
    if len(joint.sizes) > 1:
        return
    record = harness.drawer.get("pull test", joint.sizes[0])
    if record is None:
        return
    if joint.kind == "splice":
        fact = record.fact("splice")
        if fact is not None:
            yield "splice", fact
        return
    made = {conductor(harness, wire) for wire in joint.wires}
    nickel = [text is not None and "nickel" in text for text in made]
    fields = []
    if not all(nickel):
        fields.append(("silver or tin plated wire", "machined contact"))
    if any(nickel) or None in made:
        fields.append(("nickel plated wire", "machined contact nickel wire"))
    for words, name in fields:
        fact = record.fact(name)
        if fact is not None:
            yield (f"{words}; plating of the wire not known" if None in made else words), fact


def force(fact: Fact) -> str:
    """``12 lbf (53 N)``."""
    text = plain_fact(fact)
    number = float(text.split()[0])
    return f"{text} ({number * LBF:.0f} N)" if text.endswith("lbf") else text
