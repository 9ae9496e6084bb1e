"""Removal: numbered steps that bring the aircraft back to the original, a line for every circuit parted."""

from __future__ import annotations

from harnesscheck.connector import Origin
from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Content, Heading
from harnesscheck.paper.cautions import decisions
from harnesscheck.place import Point
from harnesscheck.sheets import Wish, not_needed
from harnesscheck.sheets._say import UNSAID, part_fact
from harnesscheck.sheets._site import LOOK, named, new_mates
from harnesscheck.sheets._steps import WITNESS, Numbered, Step, aircraft_facts, counted, functions, not_installed

PART = 14


def not_applicable(job: Job, wish: Wish) -> str:
    """Why the job has no such sheet; empty when it has one."""
    return not_installed(job)


def content(job: Job, wish: Wish) -> Content:
    """The steps of taking the kit out of one aircraft."""
    harness = job.subject
    why = not_applicable(job, wish)
    if why:
        return not_needed("removal", "Removal", why)
    number = Numbered()
    blocks: list[Block] = [aircraft_facts(harness), counted("count")]
    groups = (
        ("before", "Before", _before()),
        ("unplug", "Part, one step for each pair", _parted(harness)),
        ("wires", "Take out, one step for each wire on an existing half, stud or breaker", _freed(harness)),
        ("out", "Take out the kit", _out(harness)),
        ("restore", "Restore the pair", _restored(harness)),
        ("after", "After", _after(harness)),
    )
    for name, title, steps in groups:
        if steps:
            blocks += [Heading(title), number.table(name, "", steps)]
    blocks += [Heading("Function lines"), functions(harness, "functions", only_existing=True)]
    return Content("removal", "Removal, back to the original", tuple(blocks), False, tuple(decisions(harness)))


def _before() -> list[Step]:
    return [
        Step("Power off, battery disconnected, external power off, tagged"),
        Step("aircraft made safe", "tag in place", hold=True),
    ]


def _parted(harness: Harness) -> list[Step]:
    return [Step(f"Part {mate.a} from {mate.b}; cap both halves") for mate in reversed(new_mates(harness))]


def _freed(harness: Harness) -> list[Step]:
    """Ends of new wires on what stays in the aircraft."""
    steps = []
    for wire in harness.wires.values():
        for end, point in (("A", wire.a), ("B", wire.b)):
            half = harness.connectors.get(point.ref)
            existing = half.origin is Origin.AIRFRAME if half else _stays(harness, point)
            if wire.origin is Origin.JUMPER and existing:
                was = harness.before.cavity(point) if harness.before else None
                plug = f"put back {was.plug}" if was and was.plug not in (None, "none") else "as found before"
                steps.append(Step(f"{wire.id} end {end}: take out of {point}", plug, wire=wire.id))
    return steps


def _stays(harness: Harness, point: Point) -> bool:
    splice = harness.splices.get(point.ref)
    if splice is not None:
        return splice.origin is Origin.AIRFRAME
    return bool(point.ref) and point.ref not in harness.connectors


def _out(harness: Harness) -> list[Step]:
    loose = [c.ref for c in harness.connectors.values() if c.origin is Origin.JUMPER and c.fitted == "aircraft"]
    steps = [Step("Open clamps and ties of the kit only; the rest of the bundle stays tied")]
    for ref in loose:
        for cavity in harness.connectors[ref].cavities.values():
            for wire in harness.wires_at(cavity.point):
                tool = f"tool {part_fact(harness, 'contact', cavity.contact, 'removal tool')}"
                steps.append(Step(f"{wire.id}: take its contact out of {cavity.point}, cap it", tool, wire=wire.id))
    steps += [Step("Draw the kit out; no wire of the aircraft moves with it")]
    for device in harness.devices.values():
        steps.append(Step(f"{device.ref} ({device.name or UNSAID}): take out, or cap its receptacle and tag it"))
    steps.append(Step("Close holes, grommets and clamps as they were; replace ties"))
    return steps


def _restored(harness: Harness) -> list[Step]:
    if not harness.opened:
        return []
    a, b = (harness.connectors.get(ref) for ref in harness.opened)
    one, other = harness.opened[:2]
    steps = [Step(f"Look into {ref}", LOOK) for ref in harness.opens]
    steps.append(Step(f"Mate {named(a, one)} with {named(b, other)}", "as in the airframe file, keys line up"))
    steps.append(Step(f"{one}/{other}", WITNESS, hold=True))
    return steps


def _after(harness: Harness) -> list[Step]:
    return [
        Step("Test leads, jumpers and tools counted out", "count above", hold=True),
        Step("No part of the kit is left in the aircraft", "kit list"),
        Step("Battery connected; volts at the existing loads as before", "volts sheet, column before"),
        Step("Every circuit of the pair tried in use", "table below", hold=True),
        Step("Mass, moment and load entries taken back", "mass and moment sheet; load sheet"),
        Step("Log entry; placard and supplement taken out", "records"),
    ]
