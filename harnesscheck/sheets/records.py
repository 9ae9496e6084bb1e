"""Records: text for the log, references and blanks for names, certificate numbers and signatures.

Nothing on it is filled in that a person must decide or sign.
"""

from __future__ import annotations

from harnesscheck.harness import Kind
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Column, Content, Facts, Heading, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.sheets import Wish, not_needed
from harnesscheck.sheets._say import UNSAID
from harnesscheck.sheets._steps import aircraft_facts

PART = 13
NONE = "an airframe or equipment file alone leaves nothing to be recorded"
SIGNED = ("work done by", "inspected by", "ring-out by", "power-up by", "functional test by", "released by")
COLUMNS = (
    Column("who"),
    Column("name", blank=True, least=40),
    Column("licence or certificate no.", blank=True, least=34),
    Column("date", blank=True, least=22),
    Column("signature", blank=True, least=34),
)
INSTRUMENTS = ("meter", "insulation tester", "crimp frames", "scales", "other")
SETS = (
    Column("instrument"),
    Column("serial no.", blank=True, least=40),
    Column("calibrated until", blank=True, least=30),
)
BLANK = "______________________________"


def not_applicable(job: Job, wish: Wish) -> str:
    """Why the job has no such sheet; empty when it has one."""
    return "" if job.subject.kind is Kind.INSTALLED else NONE


def content(job: Job, wish: Wish) -> Content:
    """The records page of one installation."""
    harness = job.subject
    why = not_applicable(job, wish)
    if why:
        return not_needed("records", "Records", why)
    opened = "/".join(harness.opened) or UNSAID
    units = ", ".join(f"{d.ref} {d.name}".rstrip() for d in harness.devices.values()) or "none"
    entry = (
        f"Fitted {harness.title}, revision {harness.revision or UNSAID}, kit serial K____, between {opened}; "
        f"equipment: {units}. Work and tests as on the sheets of pack ______________. Mass and moment, electrical load "
        "and equipment list brought up to date."
    )
    blocks: list[Block] = [
        aircraft_facts(harness),
        Facts(
            (
                ("hours and landings", BLANK),
                ("work order", BLANK),
                ("pack id", f"{BLANK}  (as at the foot of every sheet)"),
                ("data the work rests on", BLANK),
                ("reference of who accepts it", BLANK),
                ("forms sent, to whom, when", BLANK),
            )
        ),
        Heading("Text for the log, to be read and put right before it is signed"),
        Words(entry),
        Heading("Names"),
        Table("names", COLUMNS, tuple((who, "", "", "", "") for who in SIGNED)),
        Heading("Instruments"),
        Table("instruments", SETS, tuple((what, "", "") for what in INSTRUMENTS)),
        Words("Local rules say which form is used, who signs, and what is kept for how long."),
    ]
    return Content("records", "Records", tuple(blocks), False, tuple(decisions(harness)))
