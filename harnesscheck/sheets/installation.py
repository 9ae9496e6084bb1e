"""Installation: numbered steps for the aircraft, one for each wire, with hold points and a line for every circuit.

What is parted is tried again in use, every circuit of it; test leads are counted in and out.
"""

from __future__ import annotations

from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Content, Heading, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.sheets import Wish, not_needed
from harnesscheck.sheets._site import (
    ended,
    find_pair,
    inserted,
    mated,
    new_mates,
    routed,
    site_halves,
    site_splices,
)
from harnesscheck.sheets._steps import Numbered, Step, aircraft_facts, counted, functions, not_installed

PART = 6


def not_applicable(job: Job, wish: Wish) -> str:
    """Why the job has no such sheet; empty when it has one."""
    return not_installed(job)


def content(job: Job, wish: Wish) -> Content:
    """The steps of fitting the kit to one aircraft."""
    harness = job.subject
    why = not_applicable(job, wish)
    if why:
        return not_needed("installation", "Installation", why)
    number = Numbered()
    blocks: list[Block] = [
        aircraft_facts(harness),
        Words("Bench work is finished and released before this sheet is begun. A hold point waits for an inspector."),
        counted("count"),
    ]
    groups: list[tuple[str, str, list[Step]]] = [
        (
            "before",
            "Before",
            [
                Step("Aircraft, kit and papers belong together: type, serial number, revision, pack id", "see above"),
                Step("Power off, battery disconnected, external power off, tagged"),
                Step("aircraft made safe", "tag in place", hold=True),
            ],
        ),
        ("pair", "Open the pair", list(find_pair(harness))),
        ("route", "Route and clamp", list(routed(harness))),
    ]
    for connector in site_halves(harness):
        title = f"{connector.ref}: insert contacts, one step for each wire"
        groups.append((f"insert-{connector.ref}", title, list(inserted(harness, connector))))
    groups.append(("site-splices", "Splices made in the aircraft", list(site_splices(harness))))
    groups.append(("studs", "Studs, breakers and buses, one step for each wire", list(ended(harness))))
    groups.append(
        (
            "ring-out",
            "Before anything is mated",
            [
                Step("Ring out the kit end to end, and for shorts, with no equipment connected", "ring-out sheet"),
                Step("ring-out accepted", "all rows signed", hold=True),
            ],
        )
    )
    groups.append(("mate", "Mate, one step for each pair", list(mated(harness, new_mates(harness)))))
    groups.append(
        (
            "after",
            "After",
            [
                Step("Test leads, jumpers and tools counted out; caps off", "count above", hold=True),
                Step("Battery connected, power applied by the power-up sheet", "power-up sheet"),
                Step("Settings of the equipment", "commissioning sheet"),
                Step("Every circuit of every disturbed connector tried", "table below", hold=True),
                Step("Functional test", "functional test sheet"),
                Step("Mass and moment, load sheet and records filled in", "their sheets"),
                Step("Panels closed, after a last look along the route", "", hold=True),
            ],
        )
    )
    for name, title, steps in groups:
        if steps:
            blocks += [Heading(title), number.table(name, "", steps)]
    blocks += [Heading("Function lines"), functions(harness, "functions")]
    return Content("installation", "Installation", tuple(blocks), False, tuple(decisions(harness)))
