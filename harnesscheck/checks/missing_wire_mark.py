"""A new wire carries no mark.

What
    Every new wire whose mark is stated as none, and which is longer than the limit. Wires without mark: in the job file
    carry their own id. Shields and drains are left out: there is nothing to print on.

Why it matters
    The next person who has to follow this wire, in a wing, with a torch, cannot. A wire that cannot be told from its
    neighbour gets connected in its place.

Source
    AC 43.13-1B Chg 1, par. 11-208: wires of less than 3 in need no mark, from 3 in to 7 in one mark near the centre,
    longer ones at each end and at intervals of 15 in at the most. MIL-W-5088L par. 3.9 lets wires under 6 in go.

What to do
    Print the wire id on the wire or on a sleeve that cannot come off, and remove mark: none.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck import units
from harnesscheck.checks._limits import Limit, limit
from harnesscheck.checks._marks import UNKNOWN, printed
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness, new_wires
from harnesscheck.source import Source, Status
from harnesscheck.wire import Wire

SEVERITY = Severity.CAUTION
SOURCE = Source("AC 43.13-1B", Status.CONFIRMED, "Chg 1", "par. 11-208")
LIMIT = Limit(3 * 0.0254, "3 in", SOURCE, units.length)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every new wire; all wires without a mark are one finding."""
    short = limit(harness, "missing-wire-mark", LIMIT)
    good = 0
    bare: list[Wire] = []
    for wire in new_wires(harness):
        if wire.is_shield:
            continue
        if printed(wire) == UNKNOWN:
            yield NotChecked(
                place=wire.place, missing="what is printed on it is not known", remedy="read it off the wire"
            )
        elif printed(wire) is not None or (wire.length is not None and wire.length < short.value):
            good += 1
        elif wire.length is None:
            yield NotChecked(
                place=wire.place,
                missing="it carries no mark, and its length is not stated",
                remedy="mark it, or give length:",
            )
        else:
            bare.append(wire)
    if bare:
        longest = max(bare, key=lambda wire: wire.length or 0.0)
        verb = "carries" if len(bare) == 1 else "carry"
        yield Finding(
            headline=f"{several((w.id for w in bare), 6)} {verb} no mark",
            place=bare[0].place,
            others=tuple(wire.place for wire in bare[1:]),
            value=f"no mark on {(longest.length or 0.0) * 1000:g} mm"
            + (f" ({longest.id}, the longest of {len(bare)})" if bare[1:] else ""),
            limit=f"a mark on every wire of {short.text} and more",
            source=short.source,
            remedy="print the wire id on the wire or on a sleeve, and remove mark: none",
        )
    yield Passed(good, "new wires")
