"""The kit has too few spare contacts for a connector that is finished in the aircraft.

What
    For every contact that is inserted in the aircraft (connectors with fitted: aircraft), the kit must hold loose
    spares of the same part number: 2 for up to 25 contacts, 4 for 26 to 100, 6 above.

Why it matters
    Contacts are lost, bent or crimped wrong where the light is bad. Without a spare the wing stays open for a week, or
    somebody takes a contact that looks the same from another tray.

Source
    The numbers are those that AC 43.13-1B Chg 1, par. 11-234 gives for spare contacts in a connector; that as many are
    packed loose is common practice. A job may set another number under limits:.

What to do
    Put the spares into the kit and list them: kit: spare contacts:, part number and number.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._limits import Limit, limit, whole_number
from harnesscheck.checks._site import site_contacts, unstated
from harnesscheck.checks._words import many, several
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status

SEVERITY = Severity.CAUTION
PER_KIT = True
SOURCE = Source("AC 43.13-1B", Status.COMMON, "Chg 1", "par. 11-234, applied to loose spares")
FOLLOWS = (
    "wrong-contact-family",
    "wrong-contact-gender",
)
LIMIT = Limit(2, "2", SOURCE, whole_number)
STEPS = ((25, 2), (100, 4))
"""Up to so many contacts, so many spares: AC 43.13-1B Chg 1, par. 11-234 (confirmed)."""
MOST = 6
"""Spares above the last step, same paragraph."""


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every contact part that is inserted in the aircraft."""
    said = limit(harness, "missing-spare-contacts", LIMIT)
    used, loose = site_contacts(harness)
    yield from unstated(used)
    if used and not harness.spare_contacts:
        for connector in loose:
            yield NotChecked(
                place=connector.place,
                missing="contacts are inserted in the aircraft, but the spare contacts of the kit are not listed",
                remedy="list them under kit: spare contacts:",
            )
        return
    good = 0
    for number, cavities in used.items():
        count = len(cavities)
        need = int(said.value) if said is not LIMIT else next((n for most, n in STEPS if count <= most), MOST)
        packed = harness.spare_contacts.get(number, 0)
        if packed >= need:
            good += 1
            continue
        refs = list(dict.fromkeys(cavity.point.ref for cavity in cavities))
        owners = [connector for connector in loose if connector.ref in refs]
        yield Finding(
            headline=f"the kit has {many(packed, 'spare') if packed else 'no spare'} of contact {number}, {need} are "
            f"wanted: {several(refs)} takes {count} of them in the aircraft",
            place=owners[0].place,
            others=tuple(connector.place for connector in owners[1:]),
            value=many(packed, "spare"),
            limit=f"{need} for {count} contacts",
            source=said.source,
            remedy=f"pack {need - packed} more of {number} and list them under kit: spare contacts:",
        )
    yield Passed(good, "contact parts with spares")
