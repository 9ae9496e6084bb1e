"""A wire or a pin map names a cavity that the connector does not have.

What
    The insert arrangement of the connector is known, and a wire end or a line of the pin map names a cavity that is
    not one of its cavities. Capital and small letters are different cavities.

Why it matters
    The wire has nowhere to go. At the bench somebody will pick the nearest cavity that makes sense to them, which may
    be the one next to a supply.

Source
    The insert arrangement in the parts drawer, with the source that the drawer gives for it.

What to do
    Read the cavity off the drawing again. If the connector has another insert, correct its part number.
"""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches

from harnesscheck.checks._words import several
from harnesscheck.connector import Connector
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Place
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("insert arrangement of the connector", Status.COMMON)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every cavity that a wire or a pin map names."""
    good = 0
    for connector in harness.connectors.values():
        if connector.names is None and connector.cavities:
            yield NotChecked(
                place=connector.place,
                missing="the insert arrangement is not known, so any cavity name is taken as it is",
                remedy="give part: or insert: for the connector",
            )
    named: dict[str, dict[str, list[Place]]] = {}
    for connector, cavity in harness.cavities():
        if connector.names is not None and cavity.place.line and cavity.place.label:
            named.setdefault(connector.ref, {}).setdefault(cavity.point.cavity, [])
    for wire in harness.wires.values():
        for point in (wire.a, wire.b):
            if point.cavity and point.ref in harness.connectors:
                named.setdefault(point.ref, {}).setdefault(point.cavity, []).append(wire.place)
    for ref, cavities in named.items():
        connector = harness.connectors[ref]
        if connector.names is None:
            continue
        known = set(connector.names)
        for name, wires in cavities.items():
            if name in known:
                good += 1
            else:
                yield _unknown(connector, name, wires)
    yield Passed(good, "named cavities")


def _unknown(connector: Connector, name: str, wires: list[Place]) -> Finding:
    names = connector.names or ()
    label = f"{connector.ref}-{name}"
    mentioned = connector.cavities.get(name)
    near = wires[0] if wires else (mentioned.place if mentioned else connector.place)
    insert = connector.fact("insert")
    what = f"{len(names)} cavities, {names[0]} to {names[-1]}"
    folded = [n for n in names if n.casefold() == name.casefold()]
    close = folded or get_close_matches(name, names, 1)
    hint = f"{connector.ref}-{close[0]} exists" if close else f"its cavities are {several(names, 20)}"
    return Finding(
        headline=f"{connector.ref} has no cavity {name}",
        place=Place(label, near.document, near.line, near.column),
        others=tuple(wires),
        value=f"cavity {name}",
        limit=what + (f" ({insert.value})" if insert else ""),
        remedy=f"correct the cavity ({hint}), or the part number of {connector.ref}",
    )
