"""A wire or contact carries more current than it may, in its bundle, at its altitude, in its heat.

What
    The current of every wire, from the DC solve with every load on, is compared with what its size may carry: free-air
    curve for rating less hottest ambient, times the bundle curve for the wires of its bundle and the share of their
    capacity in use, times the altitude factor. What is not stated counts both ways: too much
    even alone, or with the wires that are known to be tied to it, is a fault; what passes only if the wires of unknown
    bundle lie elsewhere is not checked. New contacts are compared with their rating.
    The wires of one feed, there and back, are one finding.

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

from collections.abc import Iterator, Mapping

from harnesscheck.checks._ampacity import Carries, carries
from harnesscheck.checks._power import CAUSES, amps, live, named, unknown
from harnesscheck.checks._words import several
from harnesscheck.circuit import label_components
from harnesscheck.connector import Origin
from harnesscheck.electrics.consumers import Consumer
from harnesscheck.electrics.doubt import unsure as unsure_wires
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
_Hot = tuple[float, Wire, Carries]
"""Amperes, the wire, and what it may carry."""
LEAST = 0.001
"""Amperes below which a wire is not worth a line."""


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every new wire and contact that carries supply current, and at existing wires where it is known."""
    net = live(harness)
    if net is None:
        return
    gaps = [gap for consumer in net.consumers if consumer.new for gap in net.gaps(consumer)]
    yield from unknown(gaps, "current in the new wires")
    loads, unsure = net.amps("on"), unsure_wires(net, "on")
    yield from _collapsed(harness, unsure)
    doubtful = frozenset(unsure)
    good = 0
    missing: dict[Gap, None] = {}
    wrong: list[_Hot] = []
    for wire in harness.wires.values():
        current = loads.get(wire.id, 0.0)
        if current < LEAST or wire.is_shield:
            continue
        new = wire.origin is Origin.JUMPER
        found = carries(harness, wire, loads, doubtful)
        if isinstance(found, Gap):
            if new:
                missing[found] = None
        elif current > found.best:
            wrong.append((current, wire, found))
        elif current <= found.worst:
            good += new or wire.bundle is not None
        elif new:
            yield NotChecked(
                place=wire.place,
                missing=f"{found.missing} {wire.id} may carry {amps(found.worst)}, and it carries {amps(current)}",
                remedy="give bundle: for the wires that are tied together",
            )
    yield from unknown(missing, "ampacity")
    for group in _together(net, wrong):
        yield _finding(group)
    overloaded, contacts = _contacts(net)
    yield from overloaded
    yield Passed(good, "wires that carry supply current")
    yield Passed(contacts, "new contacts that carry supply current")


def _collapsed(harness: Harness, unsure: Mapping[str, Consumer]) -> Iterator[NotChecked]:
    """The feeds whose supply collapses: excess-voltage-drop says why, and here nobody knows the current."""
    by: dict[str, tuple[Consumer, list[str]]] = {}
    for name, load in unsure.items():
        wire = harness.wires[name]
        if wire.origin is Origin.JUMPER and not wire.is_shield:
            by.setdefault(load.name, (load, []))[1].append(name)
    for load, names in by.values():
        yield NotChecked(
            place=load.place,
            missing=f"the supply of {named(load)} collapses, so the current of its feed ({several(names)}) is unknown",
            remedy="mend the supply first: see excess-voltage-drop",
        )


def _together(net: Wiring, wrong: list[_Hot]) -> list[list[_Hot]]:
    """One group for each feed: wires of one piece of copper, of a load's way there and back, and of one bundle."""
    keys: dict[tuple[str, object], int] = {}
    starts, ends = [], []
    for number, (_, wire, _) in enumerate(wrong):
        for key in (("part", net.part_of(wire.a) or net.part_of(wire.b)), ("bundle", wire.bundle)):
            if key[1] is not None:
                starts.append(number)
                ends.append(keys.setdefault(key, len(wrong) + len(keys)))
    for consumer in net.consumers:
        ways = [("part", part) for point in (consumer.at, consumer.back) if (part := net.part_of(point)) is not None]
        if consumer.on >= LEAST and len(ways) == 2 and all(way in keys for way in ways):
            starts.append(keys[ways[0]])
            ends.append(keys[ways[1]])
    groups: dict[int, list[_Hot]] = {}
    for hot, label in zip(wrong, label_components(len(wrong) + len(keys), starts, ends), strict=False):
        groups.setdefault(label, []).append(hot)
    return list(groups.values())


def _finding(group: list[_Hot]) -> Finding:
    """The wires of one feed that carry too much, the worst first."""
    ordered = sorted(group, key=lambda each: (-round(each[0] / each[2].best, 6), each[1].id))
    current, wire, found = ordered[0]
    also = "".join(f"; {w.id} {amps(c)}" for c, w, _ in ordered[1:])
    return Finding(
        headline=f"wire {wire.id} ({wire.gauge}) carries {amps(current)}, and may carry {amps(found.best)} there",
        place=wire.place,
        others=tuple(w.place for _, w, _ in ordered[1:]),
        value=f"{amps(current)} with every load on{also}",
        limit=f"{amps(found.best)}: {found.words}",
        source=found.source,
        remedy="take a thicker wire or one with a higher rating, or lead it outside the bundle",
    )


def _contacts(net: Wiring) -> tuple[list[Finding], int]:
    """Mated contacts one half of which is new, against the lower rating of the two; and how many are in order."""
    harness, flow, good = net.harness, net.flow("on"), 0
    wrong: dict[frozenset[str], list[tuple[float, float, Source, Point]]] = {}
    for element, signed in zip(net.elements, flow.amps, strict=False):
        current = abs(signed)
        if element.kind != "contact" or element.ends is None or current < LEAST:
            continue
        if not any(harness.connectors[p.ref].origin is Origin.JUMPER for p in element.ends) or net.lame(element, flow):
            continue
        known = [(*found, p) for p in element.ends if (found := contact_rating(harness, p)) is not None]
        if not known:
            continue  # a contact of unknown kind: wrong-contact-family and its kin ask for it
        rated, source, point = min(known, key=lambda each: each[0])
        if current <= rated:
            good += 1
        else:
            wrong.setdefault(frozenset(p.ref for p in element.ends), []).append((current, rated, source, point))
    return [_overloaded(harness, group) for group in wrong.values()], good


def _overloaded(harness: Harness, group: list[tuple[float, float, Source, Point]]) -> Finding:
    """The contacts of one mated pair that carry too much."""
    current, rated, source, point = max(group, key=lambda each: each[0] / each[1])
    words = "the contact" if len(group) == 1 else "each of the contacts"
    where = several(str(p) for *_, p in group)
    return Finding(
        headline=f"{words} at {where} carries up to {amps(current)}, and is rated {rated:g} A",
        place=_place(harness, point),
        others=tuple(_place(harness, p) for *_, p in group if p != point),
        value="; ".join(f"{p} {amps(c)}" for c, _, _, p in group) + ", with every load on",
        limit=f"{rated:g} A or less",
        source=source,
        severity=Severity.STOP,
        remedy="lead the current through two contacts with a wire each, or through a larger contact",
    )


def _place(harness: Harness, point: Point) -> Place:
    cavity = harness.cavity(point)
    near = cavity.place if cavity is not None else harness.connectors[point.ref].place
    return Place(str(point), near.document, near.line, near.column)
