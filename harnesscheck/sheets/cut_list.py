"""Cut list: every new wire with its cut length, both ends, and what is done at the bench or on site.

Cables are cut as one piece; their cores are listed below them. Cut length = laid length + what each end takes, rounded
up; each piece is printed, so that a fabricator can see why a wire is as long as it is. A length that is not stated is
shown as such, never as zero.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from harnesscheck.connector import NONE, Origin
from harnesscheck.formulas.cut_length import DEFAULTS, Cut, cut_length
from harnesscheck.harness import Harness, new_wires
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Cell, Column, Content, Facts, Heading, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.place import Point
from harnesscheck.sheets import Wish
from harnesscheck.sheets._say import UNSAID, colour, mm, part_fact, point_link, serials, wire_link, wire_row
from harnesscheck.source import Source
from harnesscheck.wire import Wire

PART, ORDER = 5, 10
COLUMNS = (
    Column("no", right=True),
    Column("id"),
    Column("kind"),
    Column("of cable"),
    Column("type"),
    Column("gauge"),
    Column("colour digits"),
    Column("colour"),
    Column("core"),
    Column("laid mm", right=True),
    Column("end A mm", right=True),
    Column("end B mm", right=True),
    Column("rounding mm", right=True),
    Column("cut mm", right=True),
    Column("pieces", right=True),
    Column("done", blank=True),
    Column("note"),
)
ENDS = (Column("id"), Column("end"), Column("at"), Column("fitting"), Column("strip"), Column("work"))


@dataclass(frozen=True, slots=True)
class End:
    """One end of a wire as the bench sees it."""

    point: str
    fitting: str
    strip: str
    work: str


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the list: a wire, a cable, or a core of the cable above it."""

    number: str
    id: str
    kind: str
    cable: str
    type: str
    gauge: str
    digits: str
    colour: str
    core: str
    cut: Cut | None
    a: End
    b: End
    note: str
    points: tuple[Point, ...] = ()
    """End A and end B; empty for a cable."""


def content(job: Job, wish: Wish) -> Content:
    """The cut list of a job, for as many kits as are wished."""
    harness = job.subject
    found = rows(harness)
    blocks: list[Block] = []
    if not found:
        blocks.append(Words("No new wires: this is not a jumper, or its file lists none."))
    if wish.kits > 1:
        blocks.append(Words(f"For {wish.kits} kits, {serials(wish.kits)}: cut every piece {wish.kits} times."))
    blocks += [_pieces(found, wish.kits), Heading("Ends"), _ends(found), Heading("Allowances"), _allowances(harness)]
    return Content("cut-list", "Cut list", tuple(blocks), True, tuple(decisions(harness)))


def rows(harness: Harness) -> list[Row]:
    """Every new wire and cable, in file order; the cores of a cable stand below it."""
    result: list[Row] = []
    cabled: dict[str, list[Wire]] = {}
    wires = list(new_wires(harness))
    for wire in wires:
        if wire.cable is not None:
            cabled.setdefault(wire.cable, []).append(wire)
    number = 0
    for wire in wires:
        if wire.cable is None:
            number += 1
            result.append(_wire_row(harness, wire, str(number)))
        elif wire is cabled[wire.cable][0]:
            number += 1
            cores = cabled[wire.cable]
            result.append(_cable_row(harness, cores, str(number)))
            result.extend(_wire_row(harness, core, "") for core in cores)
    return result


def _wire_row(harness: Harness, wire: Wire, number: str) -> Row:
    digits, word = colour(harness, wire)
    return Row(
        number,
        wire.id,
        "wire" if wire.cable is None else "core",
        wire.cable or "",
        wire.type or ("" if wire.cable else UNSAID),
        str(wire.gauge) if wire.gauge else UNSAID,
        digits,
        word,
        wire.core or "",
        _cut(harness, wire.length, [wire.a], [wire.b]),
        _end(harness, wire.a),
        _end(harness, wire.b),
        wire.note,
        (wire.a, wire.b),
    )


def _cable_row(harness: Harness, cores: list[Wire], number: str) -> Row:
    name = cores[0].cable or ""
    cable = harness.cables[name]
    record = harness.part("cable", cable.type)
    gauge = record.text("gauge") if record else None
    a, b = [w.a for w in cores], [w.b for w in cores]
    return Row(
        number, name, "cable", "", cable.type or UNSAID, gauge or UNSAID, "", "", "",
        _cut(harness, cable.length, a, b), End(_listed(a), "", "", ""), End(_listed(b), "", "", ""), cable.note,
    )  # fmt: skip


def _listed(points: list[Point]) -> str:
    return ", ".join(dict.fromkeys(str(p) for p in points))


def _cut(harness: Harness, laid: float | None, a: list[Point], b: list[Point]) -> Cut | None:
    if laid is None:
        return None
    end_a, end_b = (max(allowance(harness, _what(harness, p))[0] for p in side) for side in (a, b))
    return cut_length(laid, end_a, end_b, allowance(harness, "round up to")[0])


def allowance(harness: Harness, kind: str) -> tuple[float, Source | None]:
    """Metres added for one kind of end; the source is None when the job states its own."""
    if kind == "stowed":
        return 0.0, None
    if kind in harness.allowances:
        return harness.allowances[kind], None
    return DEFAULTS[kind]


def _what(harness: Harness, point: Point) -> str:
    if not point.ref:
        return "stowed"
    if point.ref in harness.connectors:
        return "connector"
    return "splice" if point.ref in harness.splices else "stud"


def _end(harness: Harness, point: Point) -> End:
    if not point.ref:
        return End("stowed", "no contact", "", "cut back, cap and tie down at the bench")
    connector, splice = harness.connectors.get(point.ref), harness.splices.get(point.ref)
    if connector is not None:
        cavity = connector.cavities.get(point.cavity)
        number = cavity.contact if cavity else None
        if number in (None, NONE):
            return End(str(point), f"contact {UNSAID}" if number is None else "no contact", UNSAID, "")
        if connector.origin is not Origin.JUMPER:
            work = "crimp at the bench, insert on site"
        elif connector.fitted == "aircraft":
            work = "crimp at the bench, ship loose, insert on site"
        else:
            work = "crimp and insert at the bench"
        return End(str(point), f"contact {number}", _strip(harness, "contact", number), work)
    if splice is not None:
        part = splice.part
        work = "splice at the bench" if splice.fitted == "bench" else "splice on site"
        return End(str(point), f"splice {part or UNSAID}", _strip(harness, "splice", part), work)
    return End(str(point), f"terminal {UNSAID}", UNSAID, "terminate on site")


def _strip(harness: Harness, kind: str, number: str | None) -> str:
    """Strip length with its status when it is not confirmed; ``not known`` when the drawer has none."""
    return part_fact(harness, kind, number, "strip")


def _pieces(found: list[Row], kits: int) -> Table:
    body: list[tuple[str | Cell, ...]] = []
    for row in found:
        cut = row.cut if row.kind != "core" else None
        made = [mm(v) for v in (cut.laid, cut.end_a, cut.end_b, cut.rounding, cut.total)] if cut else [""] * 5
        if row.kind != "core" and row.cut is None:
            made[-1] = UNSAID
        name = wire_row(row.id)
        head = (row.number, name, row.kind, row.cable, row.type, row.gauge, row.digits, row.colour, row.core)
        body.append((*head, *made, str(kits) if row.number else "", "", row.note))
    sums = list(_subtotals(found, kits))
    return Table("cut", COLUMNS, (*body, *sums), totals=len(sums))


def totals(found: list[Row], kits: int) -> dict[str, tuple[int, float, int]]:
    """Type of wire or cable to pieces, metres, and pieces whose length nobody has stated."""
    sums: dict[str, tuple[int, float, int]] = {}
    for row in found:
        if row.number:
            count, length, missing = sums.get(row.type, (0, 0.0, 0))
            metres = row.cut.total if row.cut else 0.0
            sums[row.type] = (count + kits, length + kits * metres, missing + (kits if row.cut is None else 0))
    return sums


def _subtotals(found: list[Row], kits: int) -> Iterator[tuple[str | Cell, ...]]:
    for name, (count, length, missing) in totals(found, kits).items():
        note = f"{missing} without a length, not in the sum" if missing else ""
        cut = Cell(f"{length:.3f} m", strong=True)
        yield ("", "subtotal", "", "", Cell(name, strong=True), *[""] * 8, cut, str(count), "", note)


def _ends(found: list[Row]) -> Table:
    """One row for each end of a wire; a cable has none of its own."""
    body: list[tuple[str | Cell, ...]] = []
    for row in found:
        if row.kind != "cable":
            for name, end, point in (("A", row.a, row.points[0]), ("B", row.b, row.points[1])):
                at = point_link(point) if point.ref else end.point
                body.append((wire_link(row.id), name, at, end.fitting, end.strip, end.work))
    return Table("ends", ENDS, tuple(body))


def _allowances(harness: Harness) -> Facts:
    pairs = []
    for kind in DEFAULTS:
        metres, source = allowance(harness, kind)
        pairs.append((kind, f"{mm(metres)} mm  {source or 'stated in the job'}"))
    pairs.append(("laid length", "runs between the rear faces of the ends"))
    pairs.append(("strip lengths", "show their status unless confirmed"))
    return Facts(tuple(pairs))
