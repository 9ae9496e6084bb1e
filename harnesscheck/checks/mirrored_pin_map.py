"""The pin map is a mirror image: a wire side was read as a mating face.

What
    The cavities that the jumper joins are compared with the mirror image of the insert: each row of a D-sub read from
    the other end, or the face of a circular connector with left and right of the key exchanged. The same is done for
    the plug of the equipment, with the circuits declared under taps:. At least four moved cavities must fit and at
    least two thirds of all that moved: one or two exchanges also happen without a mirror.

Why it matters
    It is the commonest slip in connector work: the drawing shows the mating face, the wirer looks at the rear. Nearly
    every cavity is wrong, power stands on signals, and only the middle ones are right, so a quick look at one of
    them proves nothing. Reported pin by pin it looks like a dozen faults; it is one.

Source
    The jumper's own wires. Rows and face views come from the parts drawer, with the status given there; they only
    name the pattern, so a value that is not confirmed does not lower the severity.

What to do
    Find out which half was wired from the wrong view, take its contacts out, and insert them again from a view that
    says WIRE SIDE. Do not exchange cavities one by one.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks import _pinmap
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, NotChecked, Passed, Severity
from harnesscheck.harness import Harness

SEVERITY = Severity.STOP
SOURCE = _pinmap.SOURCE


def check(harness: Harness) -> Iterator[Answer]:
    """Look at the map through the jumper and at the map of each equipment connector."""
    good = 0
    for pins in _pinmap.maps(harness):
        if len(pins.moved) < _pinmap.LEAST_MOVED:
            good += 1
            continue
        layout = _pinmap.mirrored(harness, pins)
        if layout is None:
            yield NotChecked(
                place=pins.connector.place,
                missing=f"{len(pins.moved)} cavities are not led to the same name, but neither rows nor face view of "
                "the insert are known, so a mirror image cannot be told",
                remedy="give part: or insert:, or look at both faces yourself",
            )
            continue
        twins, seen = layout
        fit = _pinmap.fitting(pins, twins)
        if fit is None:
            good += 1
            continue
        halves = several(pins.plugs) or pins.start
        remedy = (
            f"a wire side was read as a mating face: compare {halves} with the wire side view, rewire the wrong one"
        )
        yield _pinmap.pattern(pins, fit, "mirrored", f"a mirror image ({seen})", remedy)
    yield Passed(good, "pin maps")
