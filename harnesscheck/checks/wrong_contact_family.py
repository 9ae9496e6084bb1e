"""A contact does not belong into this connector: other family or other size.

What
    The contact stated for a cavity is made for another connector family, or its mating size is not the size of the
    cavity.

Why it matters
    Contacts of different families look alike in the tray. A wrong one goes in, does not lock, and backs out when the
    connector is mated; or it locks and its mating end is too short to touch. The crimp positioner differs as well.

Source
    Contact and connector families and sizes as the parts drawer gives them, each with its source.

What to do
    Take the contact that the connector's own specification lists for the cavity size. Do not share one tray between
    connectors of different families.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._words import cavities, several
from harnesscheck.connector import NONE, Cavity, Connector
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.parts import Fact
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("parts drawer", Status.COMMON)
FOLLOWS = ("wrong-mate",)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every cavity in use whose contact is stated, one finding per connector and contact."""
    fitted: dict[tuple[str, str], list[Cavity]] = {}
    unstated: dict[str, list[Cavity]] = {}
    for connector, cavity in harness.cavities():
        if cavity.contact not in (None, NONE):
            fitted.setdefault((connector.ref, str(cavity.contact)), []).append(cavity)
        elif cavity.contact is None and harness.wires_at(cavity.point):
            unstated.setdefault(connector.ref, []).append(cavity)
    for listed in unstated.values():
        yield from (
            NotChecked(place=c.place, missing="the contact is not stated", remedy="give contacts:") for c in listed
        )
    good = 0
    for (ref, number), listed in fitted.items():
        answer = _misfit(harness, harness.connectors[ref], number, listed)
        if answer is None:
            good += len(listed)
        else:
            yield answer
    yield Passed(good, "contacts")


def _misfit(harness: Harness, connector: Connector, number: str, listed: list[Cavity]) -> Answer | None:
    record = harness.part("contact", number)
    family = connector.fact("family")
    suits = record.fact("family") if record else None
    if record is None or family is None or suits is None:
        missing = (
            f"contact {number} is not in the parts drawer"
            if record is None
            else f"the family of {connector.ref} or {number}"
        )
        return NotChecked(place=listed[0].place, missing=missing, remedy="add it to the shop's parts file")
    families = suits.value if isinstance(suits.value, tuple) else (str(suits.value),)
    if family.value not in families:
        also = record.items("also in") or ()
        if family.value in also:
            missing = f"only recalled that contact {number} fits {family.value} as well"
            return NotChecked(place=listed[0].place, missing=missing, remedy="confirm it in the shop's parts file")
        return _finding(connector, number, listed, str(family.value), several(families), "family", (family, suits))
    insert = harness.part("insert", connector.says("insert"))
    cavity_size = insert.fact("cavity size") if insert else None
    size = record.fact("size")
    if cavity_size is None or size is None:
        return NotChecked(place=listed[0].place, missing=f"the cavity size of {connector.ref} or the size of {number}")
    if cavity_size.value != size.value:
        return _finding(connector, number, listed, str(cavity_size.value), str(size.value), "size", (cavity_size, size))
    return None


def _finding(
    connector: Connector, number: str, listed: list[Cavity], want: str, have: str, what: str, facts: tuple[Fact, Fact]
) -> Finding:
    where = cavities(c.point for c in listed)
    return Finding(
        headline=f"contact {number} does not belong into {where}: made for {what} {have}, the connector is {want}",
        place=listed[0].place,
        others=(connector.place, *(c.place for c in listed[1:])),
        value=f"contact {what} {have}",
        limit=f"{what} {want}",
        source=next((f.source for f in facts if not f.source.firm), facts[1].source),
        remedy=f"take the {connector.gender or ''} contact of {what} {want} for {connector.ref}".replace("  ", " "),
    )
