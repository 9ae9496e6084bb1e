"""Commissioning: what the maker of the equipment wants set when it is put into use, and what was found and left.

The values stand under ``commissioning:`` in the equipment file.
"""

from __future__ import annotations

from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Column, Content, Heading, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.sheets import Wish
from harnesscheck.sheets._say import UNSAID
from harnesscheck.sheets._steps import aircraft_facts

PART, ORDER = 10, 20
COLUMNS = (
    Column("setting"),
    Column("set to"),
    Column("how"),
    Column("found at", blank=True, least=24),
    Column("left at", blank=True, least=24),
    Column("by", blank=True, least=16),
)
NONE = "no equipment file lists commissioning values"


def not_applicable(job: Job, wish: Wish) -> str:
    """Why the job has no such sheet; empty when it has one."""
    return "" if any(device.settings for device in job.subject.devices.values()) else NONE


def content(job: Job, wish: Wish) -> Content:
    """The settings of every equipment unit, with blanks for what was found and left."""
    harness = job.subject
    blocks: list[Block] = []
    why = not_applicable(job, wish)
    if why:
        blocks.append(Words(f"Not applicable: {why}."))
    else:
        blocks += [aircraft_facts(harness), Words("Begun after the power-up sheet is signed.")]
    for device in harness.devices.values():
        rows = tuple((s.name, s.value, s.how or f"how: {UNSAID}", "", "", "") for s in device.settings)
        if rows:
            blocks += [Heading(f"{device.ref}  {device.name}".rstrip()), Table(f"settings-{device.ref}", COLUMNS, rows)]
        elif not why:
            blocks.append(Words(f"{device.ref}: no commissioning value is stated; read its maker's manual."))
    return Content("commissioning", "Commissioning", tuple(blocks), False, tuple(decisions(harness)))
