"""A pin contact in a socket connector, or the other way round.

What
    The contact stated for a cavity is a pin while the connector half takes sockets, or a socket where it takes pins.

Why it matters
    The contact may lock in the cavity, so nothing is noticed until mating: two pins meet end to end and are bent, or
    two sockets never touch.

Source
    Contact gender from the parts drawer; gender of the half from its part number or from the job file.

What to do
    Take the contact of the other gender from the same family and size, or correct the part number of the half.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._words import Tally, cavities, cure, weakest, why_unknown
from harnesscheck.connector import NONE, Cavity
from harnesscheck.finding import Answer, Finding, NotChecked, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("parts drawer", Status.COMMON)
FOLLOWS = ("wrong-mate", "wrong-contact-family")


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every cavity whose contact is stated, one finding per connector and contact."""
    fitted: dict[tuple[str, str], list[Cavity]] = {}
    for connector, cavity in harness.cavities():
        if cavity.contact not in (None, NONE):
            fitted.setdefault((connector.ref, str(cavity.contact)), []).append(cavity)
        elif cavity.contact is None and harness.wires_at(cavity.point):
            yield NotChecked(place=cavity.place, missing="the contact is not stated", remedy="give contacts:")
    good = Tally("contacts")
    for (ref, number), listed in fitted.items():
        connector = harness.connectors[ref]
        record = harness.part("contact", number)
        contact, half = record.fact("gender") if record else None, connector.fact("gender")
        if contact is None or half is None:
            if half is None:
                missing = why_unknown(harness, connector, f"whether {ref} takes pins or sockets")
                remedy = cure(harness, connector, "gender:")
            else:
                missing = f"whether contact {number} is a pin or a socket is not known"
                remedy = "add it to the shop's parts file"
            yield from (NotChecked(place=cavity.place, missing=missing, remedy=remedy) for cavity in listed)
        elif contact.value == half.value:
            good.add(len(listed), weakest(contact, half))
        else:
            yield Finding(
                headline=f"{cavities(c.point for c in listed)}: contact {number} is a {contact.value}, "
                f"{ref} takes {half.value}s",
                place=listed[0].place,
                others=(connector.place, *(c.place for c in listed[1:])),
                value=f"{contact.value} contact",
                limit=f"{half.value} contact",
                source=weakest(contact, half),
                remedy=f"take a {half.value} contact of the same family and size, or correct the part number of {ref}",
            )
    yield from good.passed()
