"""A sealing plug does not suit the cavity it is listed for.

What
    The sealing plug stated for a cavity is made for another cavity size or another connector family, or it is stated
    for a cavity in which a wire ends, or for a connector that has no grommet.

Why it matters
    A plug that is too thin lies loose in the grommet and lets water in; one that is too thick tears the web between
    two holes, and then the neighbour leaks as well. Both look plugged.

Source
    Sizes and families of the plugs as the parts drawer gives them (38999 series catalogue p. 18 and 19).

What to do
    Take the plug for the cavity size of the insert, from the list of the connector's own family.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._words import Tally, cavities, several, weakest
from harnesscheck.connector import NONE, Cavity, Connector
from harnesscheck.finding import Answer, Finding, NotChecked, Severity
from harnesscheck.harness import Harness
from harnesscheck.parts import Fact
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("parts drawer", Status.COMMON)
FOLLOWS = ("wrong-mate",)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every cavity whose sealing plug is stated, one finding per connector and plug."""
    fitted: dict[tuple[str, str], list[Cavity]] = {}
    for connector, cavity in harness.cavities():
        if cavity.plug in (None, NONE):
            continue
        wires = harness.wires_at(cavity.point)
        if wires:
            yield Finding(
                headline=f"{cavity.point} is listed with sealing plug {cavity.plug}, but wire {wires[0].id} ends there",
                place=cavity.place,
                others=tuple(wire.place for wire in wires),
                value="a plug and a wire in one hole",
                limit="a plug only where no wire ends",
                source=Source("", Status.STATED),
                remedy="remove plug: from the cavity, or correct the end of the wire",
            )
        else:
            fitted.setdefault((connector.ref, str(cavity.plug)), []).append(cavity)
    good = Tally("sealing plugs")
    for (ref, number), listed in fitted.items():
        answer = _misfit(harness, harness.connectors[ref], number, listed)
        if isinstance(answer, Source):
            good.add(len(listed), answer)
        else:
            yield answer
    yield from good.passed()


def _misfit(harness: Harness, connector: Connector, number: str, listed: list[Cavity]) -> Answer | Source:
    """What is wrong with a stated plug; the source when it suits the cavity."""
    record = harness.part("sealing plug", number)
    sealed = connector.fact("sealed")
    if sealed is not None and sealed.value == "no":
        where = cavities(c.point for c in listed)
        return Finding(
            headline=f"sealing plug {number} is listed for {where}, but {connector.ref} has no grommet to hold it",
            place=listed[0].place,
            others=(*(c.place for c in listed[1:]), connector.place),
            severity=Severity.CAUTION,
            value="connector not sealed",
            limit="plugs only in a connector with a wire sealing grommet",
            source=sealed.source,
            remedy=f"remove the plugs of {connector.ref}, or correct its part number or sealed:",
        )
    if record is None:
        remedy = "correct the number, or add the plug to the shop's parts file with its size and family"
        missing = f"sealing plug {number} is not in the parts drawer"
        return NotChecked(place=listed[0].place, missing=missing, remedy=remedy)
    family, suits = connector.fact("family"), record.fact("family")
    if family is not None and suits is not None and family.value not in suits.value:
        have, want = several(record.items("family") or ()), str(family.value)
        return _finding(connector, number, listed, "family", have, want, (family, suits))
    insert = harness.part("insert", connector.says("insert"))
    cavity_size, size = insert.fact("cavity size") if insert else None, record.fact("size")
    if cavity_size is not None and size is not None and cavity_size.value not in size.value:
        have, want = several(record.items("size") or ()), str(cavity_size.value)
        return _finding(connector, number, listed, "cavity size", have, want, (cavity_size, size))
    unknown = [
        what
        for what, fact in (
            (f"the family of {connector.ref}", family),
            (f"the families that plug {number} suits", suits),
            (f"the cavity size of {connector.ref}", cavity_size),
            (f"the size of plug {number}", size),
        )
        if fact is None
    ]
    if unknown:
        return NotChecked(
            place=listed[0].place,
            missing=f"not known: {several(unknown)}",
            remedy="give part:, or family: and insert:, or add it to the shop's parts file",
        )
    source = weakest(cavity_size, size, family, suits)
    assert source is not None
    return source


def _finding(
    connector: Connector, number: str, listed: list[Cavity], what: str, have: str, want: str, facts: tuple[Fact, Fact]
) -> Finding:
    where = cavities(c.point for c in listed)
    return Finding(
        headline=f"sealing plug {number} does not suit {where}: it is for {what} {have}, {connector.ref} has {want}",
        place=listed[0].place,
        others=(*(c.place for c in listed[1:]), connector.place),
        value=f"plug for {what} {have}",
        limit=f"{what} {want}",
        source=weakest(*facts),
        remedy=f"take the sealing plug for {what} {want}",
    )
