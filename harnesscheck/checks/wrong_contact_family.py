"""A contact does not belong in this connector: it is of another family or size.

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

from harnesscheck.checks._words import Tally, cavities, cure, same, several, weakest, why_unknown
from harnesscheck.connector import NONE, Cavity, Connector
from harnesscheck.finding import Answer, Finding, NotChecked, Severity
from harnesscheck.harness import Harness
from harnesscheck.parts import Fact
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("parts drawer", Status.COMMON)
FOLLOWS = ("wrong-mate",)

DRAWER = "add it to the shop's parts file"


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every cavity in use whose contact is stated, one finding per connector and contact."""
    fitted: dict[tuple[str, str], list[Cavity]] = {}
    for connector, cavity in harness.cavities():
        if cavity.contact not in (None, NONE):
            fitted.setdefault((connector.ref, str(cavity.contact)), []).append(cavity)
        elif cavity.contact is None and harness.wires_at(cavity.point):
            yield NotChecked(place=cavity.place, missing="the contact is not stated", remedy="give contacts:")
    good = Tally("contacts")
    for (ref, number), listed in fitted.items():
        answer = _misfit(harness, harness.connectors[ref], number, listed)
        if isinstance(answer, Source):
            good.add(len(listed), answer)
        elif isinstance(answer, Finding):
            yield answer
        else:
            missing, remedy = answer
            yield from (NotChecked(place=cavity.place, missing=missing, remedy=remedy) for cavity in listed)
    yield from good.passed()


def _misfit(
    harness: Harness, connector: Connector, number: str, listed: list[Cavity]
) -> Finding | tuple[str, str] | Source:
    """A finding, or what is missing and what to do about it, or the source when the contact suits."""
    record = harness.part("contact", number)
    if record is None:
        return f"contact {number} is not in the parts drawer", DRAWER
    suits, family = record.fact("family"), connector.fact("family")
    if family is None:
        return why_unknown(harness, connector, f"the family of {connector.ref}"), cure(harness, connector, "family:")
    if suits is None:
        return f"the connector families that contact {number} is made for are not known", DRAWER
    families = suits.value if isinstance(suits.value, tuple) else (str(suits.value),)
    if not any(same(family.value, one) for one in families):
        if family.value in (record.items("also in") or ()):
            return (
                f"only recalled that contact {number} fits {family.value} as well",
                "confirm it in the shop's parts file",
            )
        return _finding(
            harness, connector, number, listed, str(family.value), several(families), "family", (family, suits)
        )
    insert = harness.part("insert", connector.says("insert"))
    cavity_size = insert.fact("cavity size") if insert else None
    size = record.fact("size")
    if cavity_size is None:
        return f"the cavity size of {connector.ref} is not known, or not the same for all its cavities", DRAWER
    if size is None:
        return f"the size of contact {number} is not known", DRAWER
    if cavity_size.value != size.value:
        want, have = str(cavity_size.value), str(size.value)
        return _finding(harness, connector, number, listed, want, have, "size", (cavity_size, size))
    source = weakest(family, suits, cavity_size, size)
    assert source is not None
    return source


def _finding(
    harness: Harness,
    connector: Connector,
    number: str,
    listed: list[Cavity],
    want: str,
    have: str,
    what: str,
    facts: tuple[Fact, Fact],
) -> Finding:
    where = cavities(c.point for c in listed)
    half = f"{connector.ref} is {want}" if what == "family" else f"the cavities of {connector.ref} are size {want}"
    wires = tuple(wire.place for c in listed for wire in harness.wires_at(c.point))
    return Finding(
        headline=f"contact {number} does not belong in {where}: it is made for {what} {have}, {half}",
        place=listed[0].place,
        others=(connector.place, *(c.place for c in listed[1:]), *wires),
        value=f"contact of {what} {have}",
        limit=f"contact of {what} {want}",
        source=weakest(*facts),
        remedy=f"take the {connector.gender or ''} contact of {what} {want} for {connector.ref}".replace("  ", " "),
    )
