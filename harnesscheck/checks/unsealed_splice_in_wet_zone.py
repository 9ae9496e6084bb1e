"""A splice sits where water gets and is not of the sealed kind.

What
    For each splice of the kit: its zone is stated to be wet, and the parts drawer says that the splice is not sealed.
    A sealed splice counts as sealed with its own sleeve shrunk on, not as a bare barrel.

Why it matters
    Water creeps under a plain insulated barrel, stays there, and the joint corrodes from inside: resistance grows over
    months, long after every test on the bench, and capillarity draws the water on along the strands.

Source
    AC 21-99 section 2 chapter 6: environmentally sealed splices to MIL-S-81824 are the only permanent splices
    recommended.

What to do
    Take a sealed splice, or move the joint into a dry zone. Tape or plain sleeving over a splice does not seal it.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._ours import our_splices
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status
from harnesscheck.splice import Splice

SEVERITY = Severity.CAUTION
SOURCE = Source("AC 21-99 Aircraft Wiring and Bonding", Status.CONFIRMED, "section 2 chapter 6")
TRUSTED = (Status.CONFIRMED, Status.SHOP, Status.STATED, Status.DERIVED)
"""Whose word that a splice is sealed is taken; a recalled or second-hand one would be a pass on hearsay."""

LOOK_UP = "look it up and confirm it in the shop's parts file"


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every splice that the kit brings or leads a wire into; one in a dry zone is right whatever its kind."""
    good = 0
    for splice in our_splices(harness):
        answer = _judged(harness, splice)
        good += answer is None
        if answer is not None:
            yield answer
    yield Passed(good, "splices")


def _judged(harness: Harness, splice: Splice) -> Answer | None:
    zone = harness.zone_of(splice)
    if zone is not None and zone.wet is False:
        return None
    record = harness.part("splice", splice.part)
    fact = record.fact("sealed") if record else None
    if fact is not None and fact.value == "yes" and fact.source.status in TRUSTED:
        return None
    if zone is None or zone.wet is None:
        missing = f"whether zone {zone.name} is wet is not stated" if zone else "the zone of the splice is not stated"
        return NotChecked(place=splice.place, missing=missing, remedy="give zone:, and wet: of the zone")
    if fact is None:
        said = f"splice {splice.part}" if splice.part else "the splice"
        missing = f"whether {said} is sealed is not known, and zone {zone.name} is wet"
        return NotChecked(place=splice.place, missing=missing, remedy=LOOK_UP)
    if fact.value == "yes":
        missing = f"splice {splice.part} is sealed only by a value {fact.source.status}, and zone {zone.name} is wet"
        return NotChecked(place=splice.place, missing=missing, remedy=LOOK_UP)
    return Finding(
        headline=f"splice {splice.ref} ({splice.part}) is not sealed and sits in zone {zone.name}, which is wet",
        place=splice.place,
        others=(zone.place,),
        value=f"{splice.part}: not sealed",
        limit="a sealed splice, with its own sleeve, in a wet zone",
        source=fact.source,
        remedy="take a sealed splice, or move the joint to a dry zone",
    )
