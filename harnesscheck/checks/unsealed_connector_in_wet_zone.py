"""A connector without wire seals sits where water reaches it.

What
    Every connector of the kit that sits in a zone with wet: yes must be a sealed one. A half whose zone is not stated
    sits where its mate sits.

Why it matters
    Water stands between the contacts of an open connector. A data line drifts first, then pins turn green, and on a
    power pin the water itself carries current until the insert tracks and burns.

Source
    Common practice: sealed connectors wherever water, fuel or de-icing fluid may reach. The zone and its wetness are
    what the airframe file says; sealed or not is what the part number or the job file says.

What to do
    Take a sealed connector, or move the joint into a dry zone. Where the half in the aircraft forces an open one,
    decide in writing how the joint is kept dry: a sealed boot, a drip loop, a mounting with the wires from below.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._seals import unsure
from harnesscheck.checks._words import Tally, cure, several, weakest, why_unknown
from harnesscheck.connector import Connector, Origin
from harnesscheck.finding import Answer, Finding, NotChecked, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status
from harnesscheck.zone import Zone

SEVERITY = Severity.STOP
SOURCE = Source("sealed connectors where water reaches", Status.COMMON)
FOLLOWS = ("wrong-mate",)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every connector of the kit."""
    good = Tally("connectors of the kit")
    wrong: dict[tuple[str, bool], list[Connector]] = {}
    for connector in harness.connectors.values():
        if connector.origin is not Origin.JUMPER:
            continue
        if connector.says("sealed") == "yes":
            good.add(1, weakest(unsure(connector)))
            continue
        zones, missing = _zones(harness, connector)
        wet = next((zone for zone in zones if zone.wet), None)
        if wet is not None and connector.says("sealed") == "no":
            wrong.setdefault((wet.name, _forced(harness, connector) is not None), []).append(connector)
        elif wet is not None:
            yield NotChecked(
                place=connector.place,
                missing=f"zone {wet.name} is wet, and {why_unknown(harness, connector, 'whether it is sealed')}",
                remedy=cure(harness, connector, "sealed:"),
            )
        elif missing:
            yield NotChecked(place=connector.place, missing=missing, remedy="give zone: here and wet: in the zone")
        else:
            good.add(1, None)
    for (name, forced), halves in wrong.items():
        yield _finding(harness, harness.zones[name], halves, forced)
    yield from good.passed()


def _zones(harness: Harness, connector: Connector) -> tuple[list[Zone], str]:
    """The zones of a half and of its mate, and what is missing to know that they are dry."""
    halves = [connector, harness.connectors.get(harness.mate_of(connector.ref) or "")]
    named = list(dict.fromkeys(half.zone for half in halves if half is not None and half.zone))
    zones = [harness.zones[name] for name in named if name in harness.zones]
    if not named:
        return zones, "the zone of the connector is not stated"
    unsaid = [name for name in named if name not in harness.zones or harness.zones[name].wet is None]
    return zones, f"whether zone {unsaid[0]} is wet is not stated" if unsaid else ""


def _forced(harness: Harness, connector: Connector) -> Connector | None:
    """The unsealed half of aircraft or equipment that leaves the kit no choice."""
    mate = harness.connectors.get(harness.mate_of(connector.ref) or "")
    return mate if mate is not None and mate.origin is not Origin.JUMPER and mate.says("sealed") == "no" else None


def _finding(harness: Harness, zone: Zone, halves: list[Connector], forced: bool) -> Finding:
    refs = several(half.ref for half in halves)
    mates = [mate for half in halves if (mate := _forced(harness, half)) is not None]
    names = several(mate.ref for mate in mates)
    return Finding(
        headline=f"{refs} {'are' if len(halves) > 1 else 'is'} not sealed, but zone {zone.name} is wet",
        place=halves[0].place,
        others=(zone.place, *(half.place for half in (*halves[1:], *mates))),
        severity=Severity.CAUTION if forced else None,
        value=f"not sealed, and neither {'are' if len(mates) > 1 else 'is'} {names}" if forced else "not sealed",
        limit="a sealed connector in a wet zone",
        source=weakest(*(half.fact("sealed") for half in halves)),
        remedy=f"{names} {'force' if len(mates) > 1 else 'forces'} an open connector here: decide in writing how the "
        "joint is kept dry (boot, drip loop, wires from below), or move the joint"
        if forced
        else f"take a sealed connector for {refs}, or move the joint into a dry zone",
    )
