"""The cutting allowance leaves no slack to make an end again.

What
    The allowance that is added at an end in a connector, or on a stud, must be long enough to cut the end off and
    crimp it again at least once; for twice, as the source asks, there is a note. A wire without a length is cut by
    guess, so it is not checked.

Why it matters
    A contact gets damaged or is crimped wrong, and there is no wire left. On the bench it costs a new wire. In the
    aircraft somebody pulls the bundle tight to reach, and the strain sits on the contact from then on.

Source
    AC 43.13-1B Chg 1, par. 11-118 asks for slack for two re-terminations at lugs and connectors and names no length;
    20 mm for one is common practice. A job may set another length under limits:.

What to do
    Raise connector: or stud: under allowances:, 40 mm or more. Where there is no room for slack, set the limit in
    writing.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck import units
from harnesscheck.checks._limits import Limit, limit
from harnesscheck.checks._words import many, several
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.formulas.cut_length import DEFAULTS
from harnesscheck.harness import Harness, new_wires
from harnesscheck.source import Source, Status

SEVERITY = Severity.CAUTION
PER_KIT = True
SOURCE = Source("AC 43.13-1B", Status.CONFIRMED, "Chg 1", "par. 11-118")
LIMIT = Limit(
    0.020,
    "20 mm",
    Source("length of wire that one re-termination takes; AC 43.13-1B par. 11-118 names none", Status.COMMON),
    units.length,
)
TERMINATIONS = 2
"""AC 43.13-1B Chg 1, par. 11-118: slack for two re-terminations (confirmed)."""


def check(harness: Harness) -> Iterator[Answer]:
    """Look at the allowances that new wires use, one answer for connectors and one for studs."""
    once = limit(harness, "missing-slack", LIMIT)
    ends: dict[str, list[str]] = {}
    for wire in new_wires(harness):
        if wire.length is None:
            yield NotChecked(
                place=wire.place,
                missing="the length is not stated, so nobody knows what is left for the ends when it is cut",
                remedy="give length:",
            )
            continue
        for point in (wire.a, wire.b):
            if point.ref in harness.connectors:
                ends.setdefault("connector", []).append(wire.id)
            elif point.ref not in harness.splices:
                ends.setdefault("stud", []).append(wire.id)
    good = 0
    for kind, wires in ends.items():
        given = harness.allowances.get(kind, DEFAULTS[kind][0])
        if given >= TERMINATIONS * once.value - 1e-9:
            good += len(wires)
            continue
        short = given < once.value - 1e-9
        which = many(len(dict.fromkeys(wires)), "wire") + f": {several(wires)}"
        stated = "stated" if kind in harness.allowances else "not stated, so the common one is used"
        yield Finding(
            headline=f"{given * 1000:g} mm of slack at each {kind} end is "
            + (
                f"too little to make the end again even once ({once.text})"
                if short
                else f"enough to make the end again once, not twice ({TERMINATIONS * once.value * 1000:g} mm)"
            ),
            place=harness.place,
            others=tuple(harness.wires[name].place for name in dict.fromkeys(wires)),
            severity=None if short else Severity.NOTE,
            value=f"allowance for a {kind} end {given * 1000:g} mm ({stated}), {which}",
            limit=f"{once.value * 1000:g} mm for one re-termination, {TERMINATIONS * once.value * 1000:g} mm for two",
            source=once.source if short else SOURCE,
            remedy=f"raise {kind}: under allowances: to {TERMINATIONS * once.value * 1000:g} mm",
        )
    yield Passed(good, "wire ends with slack")
