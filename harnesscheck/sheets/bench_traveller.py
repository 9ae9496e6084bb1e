"""Bench traveller: numbered operations for building one kit, one step for each wire end, with hold points.

Work in the aircraft is not on it: that stands on the installation sheet.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from harnesscheck.connector import Connector, Origin
from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Content, Facts, Heading, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.place import Point
from harnesscheck.sheets import Wish
from harnesscheck.sheets._counts import Seat, marks, plugged_of, seats_of, splices
from harnesscheck.sheets._joints import joints
from harnesscheck.sheets._say import UNSAID, colour_words, mm, part_fact
from harnesscheck.sheets._steps import Numbered, Step
from harnesscheck.sheets.cut_list import rows
from harnesscheck.sheets.kit_list import count_words
from harnesscheck.wire import Wire

PART, ORDER = 5, 60


def content(job: Job, wish: Wish) -> Content:
    """The traveller of one kit; each kit of a batch has its own copy."""
    harness = job.subject
    blocks: list[Block] = []
    if not rows(harness):
        blocks.append(Words("No new wires: there is nothing to build."))
        return Content("bench-traveller", "Bench traveller", tuple(blocks), False, tuple(decisions(harness)))
    serial = "K1" if wish.kits == 1 else f"K____ of K1 to K{wish.kits}: one copy of this sheet for each kit"
    blocks.append(
        Facts(
            (
                ("kit serial no.", serial),
                ("wire lots", "________________________________"),
                ("contact and splice lots", "________________________________"),
                ("started", "__________   finished __________"),
            )
        )
    )
    blocks.append(Words("A hold point waits for an inspector who did not do the work."))
    number = Numbered()
    for name, title, steps in _groups(harness):
        blocks += [Heading(title), number.table(name, "", steps)]
    blocks.append(Words("Work in the aircraft: see the installation sheet."))
    return Content("bench-traveller", "Bench traveller", tuple(blocks), False, tuple(decisions(harness)))


def _groups(harness: Harness) -> Iterator[tuple[str, str, list[Step]]]:
    yield "set-up", "Set up", list(_set_up(harness))
    yield "cutting", "Cut and mark, one step for each wire or cable", list(_cutting(harness))
    yield "splicing", "Splices, one step for each wire end", list(_splicing(harness))
    for connector in harness.connectors.values():
        own = list(seats_of(harness, connector))
        if own and connector.origin is Origin.JUMPER and connector.fitted != "aircraft":
            yield (
                f"build-{connector.ref}",
                f"{connector.ref}, one step for each wire",
                list(_built(harness, connector, own)),
            )
        elif own:
            yield (
                f"build-{connector.ref}",
                f"{connector.ref}, crimped here and inserted in the aircraft",
                list(_loose(harness, connector, own)),
            )
    yield "final", "Finish", list(_final(harness))


def _set_up(harness: Harness) -> Iterator[Step]:
    yield Step("Papers on the bench are of one pack and one revision", f"revision {harness.revision or UNSAID}")
    yield Step("Count parts against the kit list", count_words(harness, 1))
    yield Step("Wire and contact types, lots and dates read off the reel and bag, and written above")
    yield Step("Crimp frames, positioners and gauges within calibration; go and no-go gauge tried")
    for number, joint in enumerate(joints(harness), 1):
        yield Step(f"Pull test of the first pieces, {joint.name}", f"crimp card {number}")
    yield Step("crimp set-up and pull tests accepted", "all crimp cards filled in", hold=True)


def _put(count: int) -> str:
    return f"{count} marks" if count > 1 else "1 mark" if count else "no mark"


def _cutting(harness: Harness) -> Iterator[Step]:
    marked = Counter(mark.wire for mark in marks(harness))
    for row in rows(harness):
        if not row.number:
            continue
        put = _put(marked[row.id])
        length = f"{mm(row.cut.total)} mm" if row.cut else f"length {UNSAID}"
        what = " ".join(w for w in (row.type, row.digits, row.colour) if w)
        yield Step(f"Cut and mark {row.id} ({what})", f"{length}; {put}", wire=row.id)
        cores = [w for w in harness.wires.values() if w.cable == row.id and w.origin is Origin.JUMPER]
        for core in cores:
            put = _put(marked[core.id])
            least = f"untwisted {mm(core.untwisted)} mm at most; " if core.untwisted else ""
            yield Step(f"Free and mark {core.id} ({core.core} of {row.id}), both ends", least + put, wire=core.id)
    for wire in harness.wires.values():
        if wire.origin is Origin.JUMPER:
            for end, point in (("A", wire.a), ("B", wire.b)):
                if not point.ref:
                    yield Step(
                        f"{wire.id} end {end}: cut back, cap and tie down (stowed)", "no strand bare", wire=wire.id
                    )


def _splicing(harness: Harness) -> Iterator[Step]:
    done: list[str] = []
    for splice, wires in splices(harness):
        if splice.fitted == "aircraft":
            continue
        strip = part_fact(harness, "splice", splice.part, "strip")
        at = f"{mm(splice.at)} mm from {splice.at_ref}" if splice.at is not None else f"place {UNSAID}"
        for wire in wires:
            end = "A" if wire.a == Point(splice.ref) else "B"
            words = f"{wire.id} end {end}: strip, lay into {splice.ref} ({splice.part or f'part {UNSAID}'})"
            yield Step(words, f"strip {strip}", wire=wire.id)
        yield Step(f"Crimp {splice.ref}, look, tug every wire", f"{len(wires)} wires; {at}")
        done.append(splice.ref)
    if done:
        yield Step("splices looked at before they are covered", ", ".join(done), hold=True)
        for ref in done:
            yield Step(f"Shrink the sleeve of {ref}", "sealed at both ends, no char, no strand to be seen")
        yield Step("Ring out what is spliced", "rows of the ring-out sheet between these ends")


def _crimp(harness: Harness, seat: Seat, wire: Wire) -> str:
    colour = colour_words(harness, wire)
    part = seat.part or f"contact {UNSAID}"
    end = "A" if wire.a == seat.point else "B"
    return f"{wire.id} end {end} ({colour}): strip, crimp {part}"


def _built(harness: Harness, connector: Connector, own: list[Seat]) -> Iterator[Step]:
    for seat in own:
        strip = part_fact(harness, "contact", seat.part, "strip")
        for wire in seat.wires:
            yield Step(_crimp(harness, seat, wire), f"strip {strip}", wire=wire.id)
    yield Step(f"crimps for {connector.ref} looked at before insertion", "crimp cards", hold=True)
    for seat in own:
        for wire in seat.wires:
            words = f"{wire.id} ({colour_words(harness, wire)}): insert into {seat.point} from the wire side, tug"
            yield Step(words, "seated and locked", wire=wire.id)
        if not seat.wires:
            yield Step(f"Insert unwired contact {seat.part} into {seat.point}", "seated and locked")
    yield from _plugs(harness, connector)
    yield Step(f"Read every cavity of {connector.ref} against the pin map and the face view, both sides")
    yield Step(f"Ring out {connector.ref}: every cavity, and its neighbours for shorts", "ring-out sheet")
    yield Step(f"{connector.ref} rung out", "all rows signed", hold=True)


def _loose(harness: Harness, connector: Connector, own: list[Seat]) -> Iterator[Step]:
    for seat in own:
        strip = part_fact(harness, "contact", seat.part, "strip")
        for wire in seat.wires:
            words = f"{_crimp(harness, seat, wire)}, tag it {seat.point}, cap the contact; do not insert"
            yield Step(words, f"strip {strip}", wire=wire.id)
    yield Step(f"Ring out the loose contacts of {connector.ref} by their tags", "ring-out sheet")
    yield Step(f"Bag {connector.ref} with its plugs, spare contacts and tools", "kit list", hold=True)


def _plugs(harness: Harness, connector: Connector) -> Iterator[Step]:
    for plug in plugged_of(harness, connector):
        if plug.part != "none":
            yield Step(f"Sealing plug {plug.part or UNSAID} into {plug.cavity.point}", "seated")


def _final(harness: Harness) -> Iterator[Step]:
    yield Step("Tie and sleeve the bundle; splices staggered; no tie on a splice", "wiring diagram, notes")
    yield Step("Bands on every connector and on the kit", "wire labels")
    yield Step("Complete ring-out and insulation, before any equipment is connected", "ring-out sheet")
    yield Step("complete ring-out accepted", "all rows signed", hold=True)
    yield Step("Count what is left over; nothing is missing, nothing is too many", count_words(harness, 1))
    yield Step("Weigh the finished kit without equipment", "______ g; write it on the mass and moment sheet")
    yield Step("Caps on, packed with its papers; the pack id on every sheet is the same", "harnesscheck verify")
    yield Step("released to the customer", "name, stamp, date: ______________________", hold=True)
