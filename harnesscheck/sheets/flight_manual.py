"""Flight manual supplement and placards: blanks for the text, or the reason why there is none.

The tool cannot know what a crew must be told. It lists what changed for the crew, as far as the files say it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from harnesscheck.harness import Harness, Kind
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Column, Content, Facts, Heading, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.sheets import Wish, not_needed
from harnesscheck.sheets._say import UNSAID
from harnesscheck.sheets._steps import aircraft_facts

PART = 12
NONE = "an airframe or equipment file alone changes nothing for the crew"
TEXTS = ("limitations", "emergency procedures", "normal procedures", "performance", "system description")
BLANK = "______________________________________________"


def not_applicable(job: Job, wish: Wish) -> str:
    """Why the job has no such sheet; empty when it has one."""
    return "" if job.subject.kind is Kind.INSTALLED else NONE


def content(job: Job, wish: Wish) -> Content:
    """Blanks for the supplement, and what the files say that a crew may need to know."""
    harness = job.subject
    title = "Flight manual supplement and placards"
    why = not_applicable(job, wish)
    if why:
        return not_needed("flight-manual", title, why)
    rows = tuple((text, "", "") for text in TEXTS)
    columns = (Column("section"), Column("text, or none", blank=True, least=100), Column("by", blank=True, least=20))
    blocks: list[Block] = [
        aircraft_facts(harness),
        Facts(
            (
                ("supplement needed", "yes / no, because " + BLANK),
                ("supplement number", "____________   date ____________   revision ______"),
                ("placard needed", "yes / no, because " + BLANK),
                ("placard text and place", BLANK),
            )
        ),
        Heading("What the files say that a crew may need to know"),
        *(Words(text) for text in _told(harness)),
        Heading("Text"),
        Table("supplement", columns, rows),
        Words("Whoever is responsible for the flight manual decides and signs; an empty line is not a no."),
    ]
    return Content("flight-manual", title, tuple(blocks), False, tuple(decisions(harness)))


def _told(harness: Harness) -> Iterator[str]:
    for device in harness.devices.values():
        feeds = dict.fromkeys(
            circuit
            for pin in device.pins
            if pin.signal == "power"
            for circuit in [tap.circuit for point, tap in harness.taps.items() if point == pin.point]
        )
        amps = [pin.current for pin in device.pins if pin.current is not None]
        load = f"{math.fsum(amps):g} A" if amps else f"current {UNSAID}"
        named = f"{device.ref} ({device.name or UNSAID})"
        if not feeds:
            yield f"{named}: its supply is not stated."
        for circuit in feeds:
            ref = harness.circuits[circuit].breaker if circuit in harness.circuits else None
            breaker = harness.breakers.get(ref or "")
            words = f"breaker {ref} {breaker.name}".rstrip() if breaker and ref else f"breaker {UNSAID}"
            yield f"{named} runs on {circuit} ({load}): pulling {words} stops it and everything else on that circuit."
    batteries = [s.ref for s in harness.sources.values() if s.kind == "battery"]
    if batteries:
        yield f"Time on {', '.join(batteries)} after loss of charging becomes shorter: see the load sheet."
