"""The tool that inserts or removes a contact in the aircraft is not in the kit.

What
    For every contact that is inserted in the aircraft (connectors with fitted: aircraft), a tool that inserts it and
    one that removes it must be listed under kit: site tools. Any tool that the drawer names for the contact will do.

Why it matters
    A contact that is pushed in by the wire or with a tool that nearly fits does not lock, and backs out when the
    connector is mated. Without the removal tool one wrong cavity means a new connector, or a pick that cuts the
    grommet.

Source
    Insertion and removal tools of each contact as the parts drawer gives them, each with its source. Where sources
    disagree and none is firm, a tool that any of them names is taken.

What to do
    Put the tool into the kit, or state it under site tools: when whoever works on site has it. Confirm the tool number
    in the shop's parts file.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._site import site_contacts, unstated
from harnesscheck.checks._words import Tally, several
from harnesscheck.connector import Cavity, Connector
from harnesscheck.finding import Answer, Finding, NotChecked, Severity
from harnesscheck.harness import Harness
from harnesscheck.parts import Part
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
PER_KIT = True
SOURCE = Source("parts drawer", Status.COMMON)
FOLLOWS = (
    "wrong-contact-family",
    "wrong-contact-gender",
)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at the insertion and the removal tool of every contact part, one finding per contact part."""
    used, loose = site_contacts(harness)
    yield from unstated(used)
    if used and not harness.site_tools:
        for connector in loose:
            yield NotChecked(
                place=connector.place,
                missing="contacts are inserted in the aircraft, but the tools for it are not listed",
                remedy="list them under kit: site tools:",
            )
        return
    good = Tally("tools for contacts inserted in the aircraft")
    for number, cavities in used.items():
        record = harness.part("contact", number)
        lacking: dict[str, tuple[tuple[str, ...], Source]] = {}
        for work in ("insertion", "removal"):
            tools = _tools(record, work)
            if tools is None:
                yield NotChecked(
                    place=cavities[0].place,
                    missing=f"the {work} tool of contact {number} is not known",
                    remedy="give it with its document in the shop's parts file",
                )
            elif set(tools[0]) & set(harness.site_tools):
                good.add(1, tools[1])
            else:
                lacking[work] = tools
        if lacking:
            yield _finding(number, cavities, loose, lacking, harness.site_tools)
    yield from good.passed()


def _tools(record: Part | None, work: str) -> tuple[tuple[str, ...], Source] | None:
    """The tools that do it, and the source: the firm statement alone, else everything that anybody names."""
    facts = record.all(f"{work} tool") if record else ()
    if not facts:
        return None
    counting = facts[:1] if facts[0].firm else facts
    named = dict.fromkeys(tool for fact in counting if isinstance(fact.value, tuple) for tool in fact.value)
    return tuple(named), facts[0].source


def _finding(
    number: str,
    cavities: list[Cavity],
    loose: list[Connector],
    lacking: dict[str, tuple[tuple[str, ...], Source]],
    packed: tuple[str, ...],
) -> Finding:
    refs = list(dict.fromkeys(cavity.point.ref for cavity in cavities))
    owners = [connector for connector in loose if connector.ref in refs]
    first = next(iter(lacking.values()))
    wanted = {work: " or ".join(tools) for work, (tools, _) in lacking.items()}
    if len(set(wanted.values())) == 1:
        wanted = {" and ".join(wanted): next(iter(wanted.values()))}
    words = "; ".join(f"{tools} for {work}" for work, tools in wanted.items())
    are = "are" if len(lacking) > 1 else "is"
    return Finding(
        headline=f"the {' and the '.join(f'{work} tool' for work in lacking)} for contact {number} {are} not in the "
        f"kit; {several(refs)} is finished in the aircraft",
        place=owners[0].place,
        others=tuple(connector.place for connector in owners[1:]),
        severity=None if "insertion" in lacking else Severity.CAUTION,
        value=f"site tools: {several(packed)}",
        limit=words,
        source=first[1],
        remedy=f"pack {words}, and list what is packed under kit: site tools:",
    )
