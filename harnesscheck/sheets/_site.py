"""What is done in the aircraft, as steps: the way the kit takes, contacts inserted on site, halves mated."""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.connector import NONE, Connector, Mate, Origin
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.sheets._counts import plugged_of, seats, seats_of, splices
from harnesscheck.sheets._say import UNKNOWN, UNSAID, colour_words, mm, part_fact, rule
from harnesscheck.sheets._steps import WITNESS, Step

LIMITS = {"most": "at most", "least": "at least"}
LOOK = "no bent or pushed-back contact, no dirt, seal whole"


def named(connector: Connector | None, ref: str) -> str:
    """``P14 (wing-root disconnect, wing half; marked WR1 WING)``."""
    if connector is None:
        return ref
    words = [connector.name] if connector.name else []
    if connector.marking == NONE:
        words.append("no marking")
    elif connector.marking:
        words.append(f"marked {connector.marking}")
    return f"{ref} ({'; '.join(words)})" if words else ref


def find_pair(harness: Harness) -> Iterator[Step]:
    """The right pair, and nothing else, is found and opened (ASRS 468392: both halves carried one marking)."""
    if not harness.opened:
        return
    for ref in harness.opened:
        half = harness.connectors[ref]
        gender = half.gender or f"pins or sockets {UNKNOWN}"
        yield Step(
            f"Find {named(half, ref)}: read part number and marking off the half itself", f"{half.part}; {gender}"
        )
    yield Step("Photograph the pair and its clamps as found")
    yield Step(f"Part {' from '.join(harness.opened)}; cap what stays open")
    for ref in harness.opened:
        yield Step(f"Look into {ref}", LOOK)


def routed(harness: Harness) -> Iterator[Step]:
    """Routes, passages, bends and supports."""
    routes = dict.fromkeys(
        thing.route
        for table in (harness.connectors, harness.wires, harness.cables)
        for thing in table.values()
        if thing.origin is Origin.JUMPER and thing.route
    )
    for name in routes:
        route = harness.routes.get(name)
        if route is None:
            continue
        length = f"{mm(route.length)} mm" if route.length else f"length {UNSAID}"
        for ref in (c.ref for c in harness.connectors.values() if c.route == name):
            half = harness.connectors[ref]
            loose = "its wires, contacts capped" if half.fitted == "aircraft" else "with its shell"
            yield Step(f"Lead the end for {ref} along {name}, {loose}", length)
        for passage, hole in route.passages.items():
            yield Step(f"{passage}: grommet whole, wires through without force", f"clear hole {mm(hole)} mm")
        bend = f"radius {mm(route.bend)} mm at least" if route.bend else f"radius {UNSAID}"
        yield Step(f"Bends along {name}", bend)
    if not routes:
        yield Step(f"Lead the kit to its place; route {UNSAID}")
    for text, name in (
        ("Clamp; primary supports", "support-interval"),
        ("Ties between clamps", "tie-interval"),
        ("Slack between supports, pressed by hand", "slack-deflection"),
        ("Clear of structure, or a grommet", "grommet-clearance"),
        ("Clear of fuel and oxygen lines", "fuel-separation"),
    ):
        said, source = rule(harness, name)
        record = harness.drawer.get("rule", name)
        values = (record.table("values") if record else None) or {}
        limit = ", ".join(f"{LIMITS.get(key, key)} {value}" for key, value in values.items()) or said
        yield Step(text, f"{limit}; {source.document} {source.paragraph}" if source else limit)
    yield Step("No wire carries another, no tie on a splice, drip loop below each connector in a wet zone")


def inserted(harness: Harness, connector: Connector) -> Iterator[Step]:
    """One step for each wire whose contact goes into a half in the aircraft."""
    own = [seat for seat in seats_of(harness, connector) if seat.on_site]
    for seat in own:
        tool = part_fact(harness, "contact", seat.part, "insertion tool")
        for wire in seat.wires:
            words = f"{wire.id} ({colour_words(harness, wire)}): insert into {seat.point} from the wire side, tug"
            yield Step(words, f"{seat.part or f'contact {UNSAID}'}; tool {tool}", wire=wire.id)
        if not seat.wires:
            yield Step(f"Insert unwired contact {seat.part} into {seat.point}", f"tool {tool}")
    for plug in plugged_of(harness, connector):
        if plug.part != NONE:
            yield Step(f"Sealing plug {plug.part or UNSAID} into {plug.cavity.point}", "head outward, seated")
    if own:
        yield Step(f"Read every cavity of {connector.ref} against the pin map and the face view", "wire side")
        yield Step(
            f"ring out {connector.ref}, every cavity and its neighbours", "ring-out sheet, all rows signed", hold=True
        )


def site_halves(harness: Harness) -> list[Connector]:
    """The halves that get contacts in the aircraft."""
    return list({seat.connector.ref: seat.connector for seat in seats(harness) if seat.on_site}.values())


def site_splices(harness: Harness) -> Iterator[Step]:
    """One step for each wire end that is spliced in the aircraft."""
    for splice, wires in splices(harness):
        if splice.fitted != "aircraft":
            continue
        for wire in wires:
            end = "A" if wire.a == Point(splice.ref) else "B"
            words = f"{wire.id} end {end}: strip, lay into {splice.ref} ({splice.part or UNSAID})"
            yield Step(words, f"strip {part_fact(harness, 'splice', splice.part, 'strip')}", wire=wire.id)
        yield Step(f"{splice.ref} crimped, tugged; look before it is covered", f"{len(wires)} wires", hold=True)
        yield Step(f"Shrink the sleeve of {splice.ref}")


def ended(harness: Harness) -> Iterator[Step]:
    """Ends of new wires on studs, breakers and buses: one step each."""
    for wire in harness.wires.values():
        if wire.origin is not Origin.JUMPER:
            continue
        for end, point in (("A", wire.a), ("B", wire.b)):
            if point.ref and point.ref not in harness.connectors and point.ref not in harness.splices:
                yield Step(f"{wire.id} end {end}: terminate on {point}", f"terminal and torque {UNSAID}", wire=wire.id)


def new_mates(harness: Harness) -> list[Mate]:
    """The mated pairs that the kit makes."""
    made = []
    for mate in harness.mates:
        halves = [harness.connectors.get(ref) for ref in (mate.a, mate.b)]
        if any(half is not None and half.origin is not Origin.AIRFRAME for half in halves):
            made.append(mate)
    return made


def mated(harness: Harness, mates: list[Mate]) -> Iterator[Step]:
    """One step for each pair, and its sign-off."""
    for mate in mates:
        a, b = (harness.connectors.get(ref) for ref in (mate.a, mate.b))
        key = (a.says("key") if a else None) or (b.says("key") if b else None)
        yield Step(
            f"Mate {named(a, mate.a)} with {named(b, mate.b)}", f"{LOOK}; {f'key {key}' if key else 'keys line up'}"
        )
        yield Step(f"{mate.a}/{mate.b}", WITNESS, hold=True)
