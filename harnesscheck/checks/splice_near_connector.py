"""A splice sits close behind a connector.

What
    For each splice of the kit, and each connector that one of its wires leads to straight or that its place is stated
    from: the distance from the rear face of the connector, as stated (``at:``), as the length of the wire gives it,
    or as the rest of a known run between two connectors.

Why it matters
    The stiff sleeve leaves no free wire behind the connector: the wire bends at the contact each time the connector
    is mated, the grommet is pulled to one side, and there is no length left to re-terminate a contact. Inside a
    backshell a splice is crushed.

Source
    No splice within 12 in of a termination, with the exceptions of AC 43.13-1B par. 11-167: from memory. A short jumper
    cannot keep it; then the job states its own limit with the reason.

What to do
    Move the splice away from the connector, or state a limit with the reason and tie the bundle down on both sides
    of the splice.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._along import STATED, Along, Station, millimetres, reached
from harnesscheck.checks._limits import Limit, limit
from harnesscheck.checks._ours import our_splices, ours
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status
from harnesscheck.splice import Splice
from harnesscheck.units import length

SEVERITY = Severity.CAUTION
SOURCE = Source("", Status.MEMORY, paragraph="no splice within 12 in of a termination, recalled as AC 43.13-1B 11-167")
LIMIT = Limit(0.3048, "12 in", SOURCE, length)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every splice of the kit from every connector it is wired to, one finding per connector."""
    least = limit(harness, "splice-near-connector", LIMIT)
    along = Along(harness)
    near: dict[str, list[tuple[float, Splice, Station]]] = {}
    good = 0
    for splice in our_splices(harness):
        known = along.stations(splice)
        unknown = []
        wired = reached(harness, splice)
        if not wired and ours(harness, splice):
            missing = "how far the splice is from the next connector is not stated"
            yield NotChecked(place=splice.place, missing=missing, remedy="give at:")
        for ref in wired:
            if not (ours(harness, splice) or ours(harness, harness.connectors[ref])):
                continue
            if ref not in known:
                unknown.append(ref)
            elif known[ref].distance < least.value - 1e-9:
                near.setdefault(ref, []).append((known[ref].distance, splice, known[ref]))
            else:
                good += 1
        if unknown:
            missing = f"how far the splice is from {several(unknown)} is not stated"
            yield NotChecked(place=splice.place, missing=missing, remedy="give at:, or the length of each wire")
    for ref, found in near.items():
        yield _finding(harness, ref, sorted(found, key=lambda one: one[0]), least)
    yield Passed(good, "distances from a splice to a connector")


def _finding(harness: Harness, ref: str, found: list[tuple[float, Splice, Station]], least: Limit) -> Finding:
    nearest, splice, _ = found[0]
    count = len(found)
    headline = (
        f"splice {splice.ref} sits {millimetres(nearest)} behind {ref}, nearer than {least.text}"
        if count == 1
        else f"{count} splices sit nearer to {ref} than {least.text}: {splice.ref} at {millimetres(nearest)} and others"
    )
    return Finding(
        headline=headline,
        place=splice.place,
        others=(harness.connectors[ref].place, *(other.place for _, other, _ in found[1:])),
        value=", ".join(f"{s.ref} {millimetres(d)} ({_how(at)})" for d, s, at in found),
        limit=f"at least {least.text} from the rear face of {ref}",
        source=least.source,
        remedy="move the splice away from the connector, or state a limit for this job with the reason",
    )


def _how(station: Station) -> str:
    return "stated" if station.grade == STATED else f"by the length of {station.how}"
