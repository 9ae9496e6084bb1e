"""A wire or a pin map names a cavity that the connector does not have.

What
    The insert arrangement of the connector is known, and a wire end or a line of the pin map names a cavity that is
    not one of its cavities. Capital and small letters are different cavities.

Why it matters
    The wire has nowhere to go. At the bench somebody picks the cavity that looks right to them, and that may be the
    one next to a supply.

Source
    The insert arrangement in the parts drawer, with the source that the drawer gives for it.

What to do
    Read the cavity off the drawing again. If the connector has another insert, correct its part number.
"""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches

from harnesscheck.checks._words import Tally, at, cavities, cure, no_names, several, weakest
from harnesscheck.connector import Connector
from harnesscheck.finding import Answer, Finding, NotChecked, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("insert arrangement of the connector", Status.COMMON)
FOLLOWS = ("wrong-mate",)

MANY = 3
"""So many unknown cavities in one connector are one finding: its part number is wrong, not the wires."""


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every cavity that a wire or a line of a pin map names."""
    named: dict[str, dict[str, list[Place]]] = {}
    for wire in harness.wires.values():
        for point in (wire.a, wire.b):
            if point.ref in harness.connectors:
                named.setdefault(point.ref, {}).setdefault(point.cavity, []).append(wire.place)
    good = Tally("named cavities")
    for ref, connector in harness.connectors.items():
        mentioned = named.get(ref, {})
        for name, cavity in connector.cavities.items():
            if (cavity.place.line, cavity.place.column) != (connector.place.line, connector.place.column):
                mentioned.setdefault(name, []).append(cavity.place)
        if connector.names is None and mentioned:
            yield NotChecked(
                place=connector.place,
                missing=f"{no_names(harness, connector)}; its cavity names are taken as typed",
                remedy=cure(harness, connector, "insert:"),
            )
            continue
        known = set(connector.names or ())
        unknown = {name: places for name, places in mentioned.items() if name not in known}
        good.add(len(mentioned) - len(unknown), _source(harness, connector))
        if len(unknown) >= MANY:
            yield _unknown(harness, connector, unknown)
        else:
            yield from (_unknown(harness, connector, {name: places}) for name, places in unknown.items())
    yield from good.passed()


def _source(harness: Harness, connector: Connector) -> Source | None:
    """Where the cavity names come from: the insert of the connector, and the names of the insert."""
    record = harness.part("insert", connector.says("insert"))
    return weakest(connector.fact("insert"), record.fact("cavities") if record else None)


def _unknown(harness: Harness, connector: Connector, unknown: dict[str, list[Place]]) -> Finding:
    names = connector.names or ()
    points = [Point(connector.ref, name) for name in unknown]
    places = [place for listed in unknown.values() for place in listed]
    insert = connector.fact("insert")
    if len(points) > 1:
        headline = f"{connector.ref} has no {cavities(points).partition(' ')[2]}"
        remedy = f"correct the part number or the insert of {connector.ref}, or each of these cavities"
    else:
        name = points[0].cavity
        close = [n for n in names if n.casefold() == name.casefold()] or get_close_matches(name, names, 1)
        hint = f"{connector.ref}-{close[0]} exists" if close else f"its cavities are {several(names, 20)}"
        headline = f"{connector.ref} has no cavity {name}"
        remedy = f"correct the cavity ({hint}), or the part number of {connector.ref}"
    return Finding(
        headline=headline,
        place=at(points[0], places[0]),
        others=(*places, *(at(point, places[0]) for point in points[1:]), connector.place),
        value=f"{'cavity' if len(points) == 1 else 'cavities'} {several(p.cavity for p in points)}",
        limit=f"{len(names)} cavities, {names[0]} to {names[-1]}" + (f" (insert {insert.value})" if insert else ""),
        source=_source(harness, connector),
        remedy=remedy,
    )
