"""Two wires carry the same mark.

What
    The marks of all wires of the aircraft with the jumper fitted are compared: what mark: says, else the wire id.
    Of an existing wire with mark: unknown it is said that it could not be compared.
    Capital and small letters and blanks make no difference on a wire. Marks shared by existing wires only are
    the airframe's own and are left alone. Two wires of one circuit are a note: that is how some shops number; wires of
    different circuits are a caution.

Why it matters
    Whoever follows the drawing finds two wires with the right number and connects the first one. A mark that is not
    unique is worse than none, because it is believed.

Source
    AC 43.13-1B Chg 1, par. 11-208: wires are marked so that they can be told apart; one number for one wire is common
    practice.

What to do
    Give the new wire a number, or a segment letter, that is not used in the aircraft.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._marks import UNKNOWN, printed
from harnesscheck.checks._words import several
from harnesscheck.connector import Origin
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status
from harnesscheck.wire import Wire

SEVERITY = Severity.CAUTION
SOURCE = Source("one number for one wire", Status.COMMON)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every mark; one finding for each that stands on two wires or more."""
    marked: dict[str, list[Wire]] = {}
    for wire in harness.wires.values():
        mark = printed(wire)
        if mark == UNKNOWN:
            yield NotChecked(
                place=wire.place,
                missing="what is printed on it is not known, so no new mark can be compared with it",
                remedy="read it off the wire, and give mark:",
            )
        elif mark is not None and not (wire.is_shield and wire.mark is None):
            marked.setdefault(mark, []).append(wire)
    good = 0
    for mark, wires in marked.items():
        new = [wire for wire in wires if wire.origin is Origin.JUMPER]
        if len(wires) == 1 or not new:
            good += len(new)
            continue
        wrong = next((wire for wire in new if wire.id.upper() != mark), new[-1])  # not the one that has its own id
        one_circuit = len({harness.nets.of(wire.a) for wire in wires}) == 1
        yield Finding(
            headline=f"{several((w.id for w in wires), 6)} carry the same mark {mark}"
            + (", all in one circuit" if one_circuit else ""),
            place=wrong.place,
            others=tuple(wire.place for wire in wires if wire is not wrong),
            value=f"{len(wires)} wires marked {mark}",
            limit="one mark for one wire",
            severity=Severity.NOTE if one_circuit else None,
            remedy=f"give {wrong.id} a mark that no other wire has",
        )
    yield Passed(good, "marks of new wires")
