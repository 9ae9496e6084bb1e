"""Two wires cannot be told apart: the same colour, and no mark that differs.

What
    Two cores of one cable with the same colour. And two wires of one bundle with the same colour of which neither
    carries a mark; new wires for which no bundle is stated count as one bundle, the jumper. Colour digits and colour
    words are compared as one (9 is white). Only what the jumper brings is looked at, alone or against existing wires
    of the same bundle.

Why it matters
    At the open end of a bundle two white wires without a mark are one chance in two. Cores of a cable are never marked
    along their length; there the colour is all there is.

Source
    Colour digits: parts drawer, with the source given there. That wires are told apart by mark or colour: AC 43.13-1B
    Chg 1, par. 11-208, and common practice.

What to do
    Mark both wires at both ends, or take another colour. Correct the core that was typed twice.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._marks import UNKNOWN, colour, printed
from harnesscheck.checks._words import several
from harnesscheck.connector import Origin
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status
from harnesscheck.wire import Wire

SEVERITY = Severity.CAUTION
SOURCE = Source("wires are told apart by mark or colour", Status.COMMON)
FOLLOWS = ("missing-wire-mark", "duplicate-wire-mark")


def check(harness: Harness) -> Iterator[Answer]:
    """Look at the cores of each new cable, and at the unmarked wires of each bundle."""
    cables: dict[str, list[Wire]] = {}
    bundles: dict[str | None, list[Wire]] = {}
    for wire in harness.wires.values():
        if wire.is_shield:
            continue
        if wire.cable is not None:
            cables.setdefault(wire.cable, []).append(wire)
        elif wire.bundle is not None or wire.origin is Origin.JUMPER:
            bundles.setdefault(wire.bundle, []).append(wire)
    good = 0
    for name, cores in cables.items():
        answers = list(_compare(harness, cores, f"in cable {name}", "core"))
        yield from answers
        good += _new(cores) and not answers
    for bundle, wires in bundles.items():
        bare = [wire for wire in wires if printed(wire) in (None, UNKNOWN)]
        where = f"in bundle {bundle}" if bundle is not None else "in the jumper"
        answers = list(_compare(harness, bare, where, "unmarked wire"))
        yield from answers
        good += _new(wires) and not answers
    yield Passed(good, "cables and bundles")


def _new(wires: list[Wire]) -> bool:
    return any(wire.origin is Origin.JUMPER for wire in wires)


def _compare(harness: Harness, wires: list[Wire], where: str, what: str) -> Iterator[Answer]:
    """Wires of the same colour, and new ones whose colour is not stated although there is another to confuse with."""
    if len(wires) < 2 or not _new(wires):
        return
    by_colour: dict[str, list[Wire]] = {}
    existing = 0  # existing wiring without a colour is said once
    for wire in wires:
        said = colour(harness, wire)
        if said is not None:
            by_colour.setdefault(said, []).append(wire)
        elif wire.origin is Origin.JUMPER or not existing:
            existing += wire.origin is not Origin.JUMPER
            yield NotChecked(
                place=wire.place,
                missing=f"the colour of this {what} {where} is not stated"
                + (", nor perhaps of others there" if existing and wire.origin is not Origin.JUMPER else ""),
                remedy="give core:" if what == "core" else "give colour:, or mark it",
            )
    for said, same in by_colour.items():
        unread = [wire for wire in same if what != "core" and printed(wire) == UNKNOWN]
        if len(same) > 1 and _new(same) and len(same) - len(unread) < 2:
            for wire in unread:
                yield NotChecked(
                    place=wire.place,
                    missing=f"it is {said} like others {where}, and what is printed on it is not known",
                    remedy="read it off the wire, and give mark:",
                )
        elif len(same) > 1 and _new(same):
            new = [wire for wire in same if wire.origin is Origin.JUMPER]
            both = "both" if len(same) == 2 else "all"
            yield Finding(
                headline=f"{several((w.id for w in same), 6)} {where} are {both} {said}, and nothing tells them apart",
                place=new[-1].place,
                others=tuple(wire.place for wire in same if wire is not new[-1]),
                value=f"{len(same)} {what}s in {said}",
                limit="one colour once in a cable" if what == "core" else "a mark that differs, or another colour",
                remedy="correct the core that was typed twice, or take a cable with different colours"
                if what == "core"
                else "mark them at both ends, or take another colour",
            )
