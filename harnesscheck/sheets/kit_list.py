"""Kit list: what is packed, counted part by part, and the tools: which go to the aircraft, which stay in the shop."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from harnesscheck.connector import Origin
from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Cell, Column, Content, Heading, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.parts import Part
from harnesscheck.sheets import Wish
from harnesscheck.sheets._counts import kit, marks, plugged, seats, splices, terminals
from harnesscheck.sheets._joints import joints
from harnesscheck.sheets._say import UNKNOWN, UNSAID, serials
from harnesscheck.sheets.cut_list import rows, totals
from harnesscheck.sheets.wire_labels import band_texts, sleeve

PART, ORDER = 5, 30
COLUMNS = (
    Column("what"),
    Column("part"),
    Column("one kit", right=True),
    Column("all kits", right=True),
    Column("unit"),
    Column("used at"),
    Column("packed", blank=True),
)
TOOLS = (Column("tool"), Column("for"), Column("where"), Column("status"), Column("packed", blank=True))
SITE, SHOP = "on site", "stays in the shop"
ALWAYS = (
    ("meter with leads, within calibration", "ring-out and power-up sheets"),
    ("breakout or test contacts of the right size", "probing without spreading a contact"),
    ("lacing cord or ties, witness lacquer", "routing, locking marks"),
)
ALWAYS_STATUS = "common practice"

_Row = tuple[str | Cell, ...]


def content(job: Job, wish: Wish) -> Content:
    """The kit list of a job, for as many kits as are wished."""
    harness = job.subject
    listed = list(_listed(harness, wish.kits))
    blocks: list[Block] = []
    if wish.kits > 1:
        blocks.append(Words(f"For {wish.kits} kits, {serials(wish.kits)}."))
    if listed:
        blocks += [Table("kit", COLUMNS, tuple(listed)), Words(count_words(harness, wish.kits), strong=True)]
        blocks += [Words(text) for text in _open(harness)]
        blocks += [Heading("Tools"), Table("tools", TOOLS, tuple(_tools(harness)))]
    else:
        blocks.append(Words("Nothing is packed: this is not a jumper, or its file lists nothing."))
    return Content("kit-list", "Kit list", tuple(blocks), False, tuple(decisions(harness)))


def count_words(harness: Harness, kits: int) -> str:
    """The sum that the count at packing must give."""
    one = kit(harness)
    parts = [sum(table.values()) for table in (one.contacts, one.spares, one.plugs, one.splices)]
    words = "contacts {} + spare contacts {} + sealing plugs {} + splices {}".format(*parts)
    more = f"; {one.pieces * kits} in {kits} kits" if kits > 1 else ""
    return f"Count: {words} = {one.pieces} pieces in a kit{more}."


def _listed(harness: Harness, kits: int) -> Iterator[_Row]:
    one = kit(harness)

    def row(what: str, part: str | None, count: int, used: str, unit: str = "pieces") -> _Row:
        return what, part or f"part {UNSAID}", str(count), str(count * kits), unit, used, ""

    halves: dict[str | None, list[str]] = {}
    for connector in harness.connectors.values():
        if connector.origin is Origin.JUMPER:
            halves.setdefault(connector.part, []).append(connector.ref)
    for number, refs in halves.items():
        yield row("connector", number, len(refs), ", ".join(refs))
    for number, count in one.contacts.items():
        yield row("contact", number, count, _by_ref([s.point.ref for s in seats(harness) if s.part == number]))
    for number, count in one.spares.items():
        yield row("spare contact", number, count, "packed loose")
    for number, count in one.plugs.items():
        yield row(
            "sealing plug", number, count, _by_ref([p.cavity.point.ref for p in plugged(harness) if p.part == number])
        )
    for number, count in one.splices.items():
        yield row("splice", number, count, ", ".join(s.ref for s, _ in splices(harness) if s.part == number))
    ends = Counter(point.ref for point, _ in terminals(harness))
    for ref, count in ends.items():
        yield row("terminal", None, count, ref)
    for kind, (_, metres, missing) in totals(rows(harness), 1).items():
        note = f"; {missing} without a length" if missing else ""
        what = "cable" if any(r.type == kind and r.kind == "cable" for r in rows(harness)) else "wire"
        yield what, kind, f"{metres:.3f}", f"{metres * kits:.3f}", "m", f"cut list{note}", ""
    named = [(mark, sleeve(harness, mark.wire)) for mark in marks(harness)]
    fitting = Counter(None if name.startswith(UNKNOWN) else name for _, name in named)
    for part, count in fitting.items():
        wires = dict.fromkeys(mark.wire for mark, name in named if part is None and name.startswith(UNKNOWN))
        yield row("marking sleeve", part, count, ", ".join(wires) or "marks on wires; wire labels")
    bands = sum(1 for _ in band_texts(harness))
    if bands:
        yield row("band", None, bands, "connectors and kit; wire labels")


def _by_ref(refs: list[str]) -> str:
    return ", ".join(f"{ref} {count}" for ref, count in Counter(refs).items())


def _open(harness: Harness) -> Iterator[str]:
    """What a person must still choose: never left out in silence."""
    refs = [c.ref for c in harness.connectors.values() if c.origin is Origin.JUMPER]
    if refs:
        named = ", ".join(refs)
        yield f"Backshells, strain reliefs, jackscrews and caps of {named}: {UNSAID}; choose them and add them."
    unsure = [p.cavity.point for p in plugged(harness) if p.part is None]
    if unsure:
        yield f"Sealing plugs {UNSAID} for {', '.join(str(p) for p in unsure)}."
    shields = {w.cable for w in harness.wires.values() if w.origin is Origin.JUMPER and w.is_shield and w.cable}
    if shields:
        yield f"Sleeves that end the shields of {', '.join(sorted(shields))}: {UNSAID}; choose them by shield diameter."
    if harness.mass is None and refs:
        yield "Weigh the finished kit: its mass is not stated."


def _tools(harness: Harness) -> Iterator[_Row]:
    on_site = {seat.part for seat in seats(harness) if seat.on_site}
    splices_on_site = {s.part for s, _ in splices(harness) if s.fitted == "aircraft"}
    listed: dict[tuple[str, str], tuple[dict[str, list[str]], str]] = {}

    def add(tool: str, where: str, role: str, part: str, status: str) -> None:
        roles, _ = listed.setdefault((where, tool), ({}, status))
        parts = roles.setdefault(role, [])
        if part not in parts:
            parts.append(part)

    for tool in harness.site_tools:
        add(tool, SITE, "named by the job", "", "stated in the job file")
    for joint in joints(harness):
        record = harness.part(joint.kind, joint.part)
        part = joint.part or f"{joint.kind} {UNSAID}"
        site = joint.part in (on_site if joint.kind == "contact" else splices_on_site)
        crimped = SITE if joint.kind == "splice" and site else SHOP
        for role in ("crimp frame", "positioner") if joint.kind == "contact" else ("crimp frame",):
            for tool, status in _named(record, role):
                add(tool, crimped, f"{role} for", part, status)
        if joint.kind == "contact":
            for role in ("insertion tool", "removal tool"):
                for tool, status in _named(record, role):
                    add(tool, SITE if site else SHOP, f"{role} for", part, status)
    for tool, use in ALWAYS:
        add(tool, SITE, use, "", ALWAYS_STATUS)
    for (where, tool), (roles, status) in sorted(listed.items(), key=lambda item: item[0][0] != SITE):
        yield tool, "; ".join(f"{role} {', '.join(parts)}".rstrip() for role, parts in roles.items()), where, status, ""


def _named(record: Part | None, name: str) -> Iterator[tuple[str, str]]:
    """Tool numbers of one field and their status; one line that says so where the drawer has none."""
    found = record.fact(name) if record else None
    if found is None:
        yield UNKNOWN, UNKNOWN
        return
    for tool in found.value if isinstance(found.value, tuple) else (str(found.value),):
        yield tool, str(found.source.status)
