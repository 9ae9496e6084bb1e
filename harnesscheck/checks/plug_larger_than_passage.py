"""A connector does not go through a hole on its way.

What
    Each connector of the kit that states a route and is fitted at the bench, bare and without a backshell, against
    the clear hole of every passage of that route. A plug needs its greatest diameter; a receptacle its flange or jam
    nut; a D-sub goes through flat or, at the very least, endwise. A connector that is shipped loose (``fitted:
    aircraft``) is left to bundle-tight-in-passage.

Why it matters
    The kit is finished, tested and delivered, and in the wing it turns out that the shell does not pass the rib. Then
    contacts are pulled on site, with what tools there are, or the wires are cut.

Source
    Shell and flange dimensions as the parts drawer gives them, each with its source. The holes are what the airframe
    file states.

What to do
    Ship the shell loose and insert the contacts on site: write fitted: aircraft, and pack the tools. Or lead the kit
    through from the other end.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from harnesscheck.checks._along import millimetres
from harnesscheck.checks._areas import weakest
from harnesscheck.checks._ours import ours
from harnesscheck.checks._words import several
from harnesscheck.connector import Connector
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status
from harnesscheck.zone import Route

SEVERITY = Severity.STOP
SOURCE = Source("parts drawer", Status.COMMON)
TAKE_LOOSE = (
    "write fitted: aircraft, ship the shell loose and insert its contacts on site; or lead the other end through"
)


@dataclass(frozen=True, slots=True)
class _Girth:
    """A hole narrower than ``least`` does not let the connector through, one of ``enough`` does; metres."""

    least: float
    enough: float
    words: str
    source: Source | None


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every connector of the kit with a route, one finding per connector."""
    good = loose = 0
    claimed: set[str] = set()
    for connector in harness.connectors.values():
        if not ours(harness, connector) or connector.route is None:
            continue
        claimed.add(connector.route)
        route = harness.routes[connector.route]
        if connector.fitted == "aircraft":
            loose += 1
            continue
        if not route.passages:
            missing = f"the holes on route {route.name} are not stated"
            yield NotChecked(place=connector.place, missing=missing, remedy="give passages:, or leave the route out")
            continue
        answers = list(_judged(harness, connector, route))
        yield from answers
        good += 0 if answers else len(route.passages)
    yield from _unclaimed(harness, claimed)
    yield Passed(good, "holes for a bare connector")
    yield Passed(loose, "shells shipped loose")


def _unclaimed(harness: Harness, claimed: set[str]) -> Iterator[NotChecked]:
    """Routes with holes that wires of the kit take, while no connector is said to go that way."""
    for wire in harness.wires.values():
        route = harness.routes.get(wire.route or "")
        if route is not None and route.passages and route.name not in claimed and ours(harness, wire):
            claimed.add(route.name)
            missing = f"which connector goes through the holes of route {route.name} with wire {wire.id} is not stated"
            yield NotChecked(place=wire.place, missing=missing, remedy="give route: at that connector")


def _judged(harness: Harness, connector: Connector, route: Route) -> Iterator[Answer]:
    girth = _girth(harness, connector)
    if isinstance(girth, str):
        yield NotChecked(place=connector.place, missing=girth, remedy="measure it against the hole on the bench")
        return
    blocked = {name: hole for name, hole in route.passages.items() if hole < girth.least - 1e-9}
    doubtful = [name for name, hole in route.passages.items() if name not in blocked and hole < girth.enough - 1e-9]
    if blocked:
        name = min(blocked, key=lambda one: (blocked[one], one))
        yield Finding(
            headline=f"{connector.ref} does not go through {name}: {girth.words}, "
            f"the hole {millimetres(blocked[name])}",
            place=connector.place,
            others=(route.place,),
            value=f"{girth.words}, bare",
            limit=", ".join(f"{name} {millimetres(hole)}" for name, hole in blocked.items()),
            source=girth.source,
            remedy=TAKE_LOOSE,
        )
    if doubtful:
        missing = f"whether {connector.ref} goes through {several(doubtful)} is not sure ({girth.words}, to be tilted)"
        yield NotChecked(place=connector.place, missing=missing, remedy="try it with a sheet of the hole's size")


def _girth(harness: Harness, connector: Connector) -> _Girth | str:
    """What a connector needs to pass, or what is missing to know it."""
    insert = harness.part("insert", connector.says("insert"))
    broad, high = (insert.quantity("flange length"), insert.quantity("flange width")) if insert else (None, None)
    if insert is not None and broad is not None and high is not None:
        source = weakest((insert.source("flange width"), _told(connector, "insert")))
        words = f"its flange is {millimetres(broad, 2)} by {millimetres(high, 2)}"
        return _Girth(high, math.hypot(broad, high), words, source)
    family, shell = connector.says("family"), connector.says("shell")
    record = harness.part("shell", f"{family}-{shell}") if family and shell else None
    if record is None:
        return f"the size of {connector.ref} ({connector.part or 'part not stated'}) is not in the parts drawer"
    told = (_told(connector, "family"), _told(connector, "shell"), _told(connector, "style"))
    plug = record.quantity("plug diameter")
    if connector.says("style") == "plug" and plug is not None:
        source = weakest((record.source("plug diameter"), *told))
        return _Girth(plug, plug, f"the plug is {millimetres(plug, 2)} across", source)
    part = harness.part("connector", connector.part)
    mount = (part.text("mount") if part else None) or ""
    nut, side, across = (record.quantity(name) for name in ("jam nut diameter", "flange square", "flange diagonal"))
    if connector.says("style") != "receptacle" or nut is None or side is None or across is None:
        return f"whether {connector.ref} is a plug or a receptacle is not known"
    if mount.startswith("jam nut"):
        source = weakest((record.source("jam nut diameter"), *told))
        return _Girth(nut, nut, f"its jam nut flange is {millimetres(nut, 2)} across", source)
    words = f"its flange is {millimetres(side, 2)} square"
    enough = across if mount else max(across, nut)
    return _Girth(
        min(side, nut) if not mount else side, enough, words, weakest((record.source("flange square"), *told))
    )


def _told(connector: Connector, name: str) -> Source | None:
    fact = connector.fact(name)
    return fact.source if fact else None
