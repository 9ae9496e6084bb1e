"""A wire or contact carries more current than it may, in its bundle, at its altitude, in its heat.

What
    The current of every wire, from the DC solve with every load on, is compared with what its size may carry: free-air
    curve for rating less hottest ambient, times the bundle curve for the wires of its bundle and the share of their
    capacity in use, times the altitude factor. Without a stated bundle all wires of the kit are taken as one: what
    passes so, passes; what would pass only in a thinner bundle is not checked. New contacts are compared with their
    rating.

Why it matters
    The wire in the middle of the bundle softens its insulation and that of its neighbours. Nothing opens: the breaker
    sees a current that is in order.

Source
    AC 43.13-1B Chg 1, par. 11-66 to 11-69 and Table 11-9; the curves as a closed form fitted to the table (own fit,
    within 6 %), bundle curves of MIL-W-5088L (third-party reading). Contacts: par. 11-67 and the drawer.

What to do
    Take a thicker wire or one with a higher rating, or lead it outside the bundle.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._ampacity import Carries, carries
from harnesscheck.checks._power import CAUSES, amps, live, unknown
from harnesscheck.connector import Origin
from harnesscheck.electrics.elements import Gap, contact_rating
from harnesscheck.electrics.wiring import Wiring
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.formulas.ampacity import FREE_AIR_SOURCE
from harnesscheck.harness import Harness
from harnesscheck.place import Place, Point
from harnesscheck.source import Source
from harnesscheck.wire import Wire

SEVERITY = Severity.CAUTION
SOURCE: Source = FREE_AIR_SOURCE
FOLLOWS = (*CAUSES, "wire-below-zone-temperature", "breaker-overloaded", "double-feed")
LEAST = 0.001
"""Amperes below which a wire is not worth a line."""


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every new wire and contact that carries supply current, and at existing wires where it is known."""
    net = live(harness)
    if net is None:
        return
    gaps = [gap for consumer in net.consumers if consumer.new for gap in net.gaps(consumer)]
    yield from unknown(gaps, "current in the new wires")
    if net.flow("on").failed:
        return  # the supply collapses: excess-voltage-drop says so
    loads = net.amps("on")
    good = 0
    missing: dict[Gap, None] = {}
    for wire in harness.wires.values():
        current = loads.get(wire.id, 0.0)
        if current < LEAST or wire.is_shield:
            continue
        new = wire.origin is Origin.JUMPER
        found = carries(harness, wire, loads)
        if isinstance(found, Gap):
            if new:
                missing[found] = None
        elif current > found.alone or (found.stated and current > found.bundled):
            yield _finding(wire, current, found)
        elif current <= found.bundled and (new or found.stated):
            good += 1
        elif new:
            yield NotChecked(
                place=wire.place,
                missing=f"the bundle {wire.id} lies in is not stated: its {amps(current)} are more than "
                f"{amps(found.bundled)}, which it may carry among all {found.wires} wires of the kit",
                remedy="give bundle: for the wires that are tied together",
            )
    yield from unknown(missing, "ampacity")
    wrong, contacts = _contacts(net)
    yield from wrong
    yield Passed(good, "wires that carry supply current")
    yield Passed(contacts, "new contacts that carry supply current")


def _finding(wire: Wire, current: float, found: Carries) -> Finding:
    most = found.bundled if found.stated else found.alone
    return Finding(
        headline=f"wire {wire.id} ({wire.gauge}) carries {amps(current)}, and {amps(most)} is all it may carry there",
        place=wire.place,
        value=f"{amps(current)} with every load on",
        limit=f"{amps(most)}: {found.words}" if found.stated else f"{amps(most)} even alone: {found.words}",
        source=found.source,
        remedy="take a thicker wire or one with a higher rating, or lead it outside the bundle",
    )


def _contacts(net: Wiring) -> tuple[list[Finding], int]:
    """Mated contacts one half of which is new, against the lower rating of the two; and how many are in order."""
    harness, good = net.harness, 0
    wrong: list[Finding] = []
    for element, current in zip(net.elements, net.flow("on").amps, strict=True):
        if element.kind != "contact" or element.ends is None or abs(current) < LEAST:
            continue
        if not any(harness.connectors[p.ref].origin is Origin.JUMPER for p in element.ends):
            continue
        known = [(*found, p) for p in element.ends if (found := contact_rating(harness, p)) is not None]
        if not known:
            continue  # a contact of unknown kind: wrong-contact-family and its kin ask for it
        rated, source, point = min(known, key=lambda each: each[0])
        if abs(current) <= rated:
            good += 1
            continue
        wrong.append(
            Finding(
                headline=f"the contact at {point} carries {amps(abs(current))}, and is rated {rated:g} A",
                place=_place(harness, point),
                others=tuple(_place(harness, p) for p in element.ends if p != point),
                value=f"{amps(abs(current))} with every load on",
                limit=f"{rated:g} A or less",
                source=source,
                severity=Severity.STOP,
                remedy="lead the current through two contacts with a wire each, or through a larger contact",
            )
        )
    return wrong, good


def _place(harness: Harness, point: Point) -> Place:
    cavity = harness.cavity(point)
    near = cavity.place if cavity is not None else harness.connectors[point.ref].place
    return Place(str(point), near.document, near.line, near.column)
