"""A new wire is led through a zone that is as hot as its rating, or hotter.

What
    The temperature rating of every new wire and cable core is compared with the highest ambient temperature of the
    zones it touches: those of its ends, and the one its route runs through. The rating covers ambient and the heat of
    the wire's own current together, so a wire in a zone exactly as hot as its rating has nothing left to carry current.

Why it matters
    The insulation softens, flows away under ties and clamps, and the bare conductor meets its neighbour.

Source
    The rating of the wire specification from the parts drawer, with the source given there, against the zones of the
    airframe file.

What to do
    Take a wire of a higher temperature rating, or lead it another way.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._supply import Rated, Unrated, lowest, rating
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness, new_wires
from harnesscheck.place import Place
from harnesscheck.source import Source, Status
from harnesscheck.wire import Wire
from harnesscheck.zone import Zone

SEVERITY = Severity.STOP
SOURCE = Source("temperature rating of the wire, against the ambient stated for the zone", Status.STATED)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every new wire; one finding for each zone. What is not stated is said once."""
    good = soft = 0
    low: dict[str, list[tuple[Rated, Wire]]] = {}
    unsaid: dict[str, NotChecked] = {}
    for wire in new_wires(harness):
        if wire.is_shield:
            continue  # bare, or inside the jacket of the cores
        zones, missing = _zones(harness, wire)
        unsaid |= missing
        if not zones:
            continue
        found = rating(harness, wire, "temperature", "temperature rating")
        if isinstance(found, Unrated):
            yield NotChecked(place=wire.place, missing=found.missing, remedy=found.remedy)
            continue
        hottest = max(zones, key=_high)
        if _high(hottest) >= found.value:
            low.setdefault(hottest.name, []).append((found, wire))
        elif not missing:
            good += found.source.firm
            soft += not found.source.firm
    yield from unsaid.values()
    for name, wrong in low.items():
        zone = harness.zones[name]
        words, value, source = lowest((found for found, _ in wrong), "C")
        yield Finding(
            headline=f"{several((w.id for _, w in wrong), 4)}: {words}, but zone {name} reaches {_high(zone):g} C",
            place=wrong[0][1].place,
            others=(*(w.place for _, w in wrong[1:]), zone.place),
            value=f"rated {value:g} C",
            limit=f"above {_high(zone):g} C, with room for the heat of the current",
            source=source,
            remedy="take a wire with a higher temperature rating, or lead it another way",
        )
    yield Passed(good, "new wires")
    yield Passed(soft, "new wires, by values that nobody has confirmed")


def _high(zone: Zone) -> float:
    return zone.ambient.high if zone.ambient else float("-inf")


def _zones(harness: Harness, wire: Wire) -> tuple[list[Zone], dict[str, NotChecked]]:
    """The zones with a known ambient that a wire touches, and what is missing, by what it is missing for."""
    asked: list[tuple[str, str | None, Place]] = []
    for point in (wire.a, wire.b):
        thing = harness.connectors.get(point.ref) or harness.splices.get(point.ref)
        if thing is not None:  # studs, buses and breakers have no zone in the file format
            asked.append((thing.ref, thing.zone, thing.place))
    route = harness.routes.get(wire.route or "")
    if route is not None:
        asked.append((route.name, route.zone, route.place))
    zones: list[Zone] = []
    missing: dict[str, NotChecked] = {}
    for ref, name, place in asked:
        zone = harness.zones.get(name or "")
        if zone is not None and zone.ambient is not None:
            zones.append(zone)
        elif zone is not None:
            missing[f"zone {zone.name}"] = NotChecked(
                place=zone.place, missing="the ambient temperature of this zone is not stated", remedy="give ambient:"
            )
        else:
            said = "its zone is not stated" if name is None else f"its zone {name} is not described"
            missing[ref] = NotChecked(place=place, missing=said, remedy="give zone:, and zones: in the airframe file")
    return zones, missing
