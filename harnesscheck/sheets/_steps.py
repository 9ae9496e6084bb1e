"""Numbered operations with boxes to sign: travellers, installation and removal sheets are made of them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from harnesscheck.circuit import SIGNALS
from harnesscheck.connector import Origin, Use
from harnesscheck.harness import Harness, Kind
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Cell, Column, Facts, Table
from harnesscheck.paper.svg import identifier
from harnesscheck.sheets._say import UNSAID, signal

COLUMNS = (
    Column("step", right=True),
    Column("what to do", least=60),
    Column("value or limit", least=30),
    Column("done by", blank=True, least=16),
    Column("inspected by", blank=True, least=16),
)
NO_BOX = "-"
SITE_LEADS = (
    "test leads",
    "test jumpers and breakouts",
    "hand tools",
    "caps and covers",
    "contacts and plugs left over",
)
WITNESS = "locked, witness mark across the joint, tug"
"""Sign-off of every mated connector (NTSB report 105519: a circular connector that was not locked)."""


@dataclass(frozen=True, slots=True)
class Step:
    """One operation. A hold point waits for an inspector, who is another person than the one who did the work."""

    text: str
    limit: str = ""
    hold: bool = False
    wire: str = ""
    """The wire it is about, for a link to its row."""


class Numbered:
    """Numbers steps through a whole sheet, in tens so that a step can be put between."""

    def __init__(self) -> None:
        self.last = 0

    def table(self, name: str, title: str, steps: Iterable[Step]) -> Table:
        """Steps as a table; a hold point has a box for the inspector."""
        rows: list[tuple[str | Cell, ...]] = []
        for step in steps:
            self.last += 10
            words: str | Cell = step.text
            if step.hold:
                words = Cell(f"HOLD: {step.text}", strong=True)
            elif step.wire:
                words = Cell(step.text, link=identifier("wire", step.wire))
            rows.append((str(self.last), words, step.limit, "", "" if step.hold else NO_BOX))
        return Table(name, COLUMNS, tuple(rows), title)


def not_installed(job: Job) -> str:
    """Why a job has no work at the aircraft; empty when it has."""
    return "" if job.subject.kind is Kind.INSTALLED else "an airframe or equipment file alone installs nothing"


def disturbed(harness: Harness) -> list[str]:
    """The existing halves that the kit parts or plugs into, opened ones first, then those it mates with."""
    opened = dict.fromkeys(harness.opened)
    for mate in harness.mates:
        halves = [harness.connectors[ref] for ref in (mate.a, mate.b) if ref in harness.connectors]
        if any(half.origin is Origin.JUMPER for half in halves):
            opened.update(dict.fromkeys(half.ref for half in halves if half.origin is not Origin.JUMPER))
    return list(opened)


def functions(harness: Harness, name: str, only_existing: bool = False) -> Table:
    """One line for every circuit that runs through a disturbed connector: it is tried in use (ASRS 945142)."""
    columns = (
        Column("circuit"),
        Column("through"),
        Column("what it is"),
        Column("tried how", blank=True, least=40),
        Column("works", blank=True, least=14),
        Column("by", blank=True, least=14),
    )
    through: dict[str, tuple[list[str], str]] = {}
    for ref in disturbed(harness):
        connector = harness.connectors[ref]
        if only_existing and connector.origin is not Origin.AIRFRAME:
            continue
        unsaid, seen = 0, False
        for cavity in connector.cavities.values():
            circuit, kind = signal(harness, cavity)
            if circuit:
                seen = True
                refs, _ = through.setdefault(circuit, ([], kind))
                if ref not in refs:
                    refs.append(ref)
            elif cavity.use is Use.UNKNOWN:
                unsaid += 1
        if unsaid or not seen:
            said = f"{unsaid} cavities of unknown use" if unsaid else f"circuits {UNSAID}"
            through[f"{ref}: {said}"] = ([ref], UNSAID)
    rows: list[tuple[str | Cell, ...]] = [
        (circuit, ", ".join(refs), SIGNALS.get(kind, kind), "", "", "") for circuit, (refs, kind) in through.items()
    ]
    return Table(
        name, columns, tuple(rows), "Every circuit of every disturbed connector is tried, not only the new ones"
    )


def counted(name: str) -> Table:
    """Count in, count out: a test jumper left in the aircraft is a fault of its own (ASRS 467542)."""
    columns = (
        Column("what"),
        Column("counted in", blank=True, least=24),
        Column("counted out", blank=True, least=24),
        Column("by", blank=True, least=20),
    )
    return Table(name, columns, tuple((what, "", "", "") for what in SITE_LEADS), "Count in and count out")


def aircraft_facts(harness: Harness) -> Facts:
    """Which aircraft the work is on: what the files say, and blanks for what was found."""
    craft = harness.aircraft
    return Facts(
        (
            ("holds for", harness.effectivity or UNSAID),
            ("aircraft type", (craft.type if craft else "") or UNSAID),
            ("serial numbers", (craft.serials if craft else "") or UNSAID),
            ("this aircraft", "type ______________  serial no. ____________  registration ____________"),
            ("kit serial no.", "K____   revision on the kit's label ______"),
        )
    )
