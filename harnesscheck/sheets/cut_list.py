"""Cut list: every new wire with its cut length, both ends, and what is done at the bench or on site.

Cables are cut as one piece; their cores are listed below them. Cut length = laid length + what each end takes, rounded
up; each piece is printed, so that a fabricator can see why a wire is as long as it is. A length that is not stated is
shown as such, never as zero.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from harnesscheck.connector import NONE, Origin
from harnesscheck.fault import quoted
from harnesscheck.formulas.cut_length import DEFAULTS, Cut, cut_length
from harnesscheck.harness import Harness, new_wires
from harnesscheck.job import Job
from harnesscheck.paper.cautions import CAUTIONS, decisions
from harnesscheck.paper.rows import columns, csv_bytes
from harnesscheck.place import Point
from harnesscheck.source import Source
from harnesscheck.wire import Wire

FORMS = ("text", "csv")

UNSAID = "not stated"
HEADER = (
    "no", "id", "kind", "of cable", "type", "gauge", "colour digits", "colour", "core",
    "laid mm", "end A mm", "end B mm", "rounding mm", "cut mm",
    "A", "A fitting", "A strip", "A work", "B", "B fitting", "B strip", "B work", "note",
)  # fmt: skip


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

    def cells(self) -> list[str]:
        """The row as text cells, in the order of ``HEADER``."""
        pieces = _pieces(self.cut) if self.kind != "core" else [""] * 5
        head = [self.number, self.id, self.kind, self.cable, self.type, self.gauge, self.digits, self.colour, self.core]
        ends = [cell for e in (self.a, self.b) for cell in (e.point, e.fitting, e.strip, e.work)]
        return [*head, *pieces, *ends, self.note]


def render(job: Job, form: str) -> bytes:
    """The cut list of a job as ``text`` or ``csv``."""
    harness = job.subject
    listed = rows(harness)
    if form == "csv":
        return csv_bytes(HEADER, [row.cells() for row in listed])
    return "\n".join(_text(harness, listed)).encode("utf-8") + b"\n"


def rows(harness: Harness) -> list[Row]:
    """Every new wire and cable, in file order; the cores of a cable stand below it."""
    result: list[Row] = []
    done: set[str] = set()
    wires = list(new_wires(harness))
    for wire in wires:
        if wire.cable is None:
            result.append(_wire_row(harness, wire, str(_count(result) + 1)))
        elif wire.cable not in done:
            done.add(wire.cable)
            cores = [w for w in wires if w.cable == wire.cable]
            result.append(_cable_row(harness, cores, str(_count(result) + 1)))
            result.extend(_wire_row(harness, core, "") for core in cores)
    return result


def _count(listed: list[Row]) -> int:
    return sum(1 for row in listed if row.number)


def _wire_row(harness: Harness, wire: Wire, number: str) -> Row:
    digits, colour = _colour(harness, wire)
    return Row(
        number,
        wire.id,
        "wire" if wire.cable is None else "core",
        wire.cable or "",
        wire.type or ("" if wire.cable else UNSAID),
        str(wire.gauge) if wire.gauge else UNSAID,
        digits,
        colour,
        wire.core or "",
        _cut(harness, wire.length, [wire.a], [wire.b]),
        _end(harness, wire.a),
        _end(harness, wire.b),
        wire.note,
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
    record = harness.part(kind, number)
    fact = record.fact("strip") if record else None
    if fact is None:
        return "not known"
    mark = "" if fact.source.status == "confirmed" else f" ({fact.source.status})"
    return f"{fact.value}{mark}"


def _colour(harness: Harness, wire: Wire) -> tuple[str, str]:
    """Colour digits and words; a core carries a word already."""
    said = wire.colour or ""
    if not said.isdigit():
        # The shield or drain of a cable has no insulation, so no colour is missing there.
        return "", said or ("" if wire.is_shield else UNSAID)
    records = [harness.part("colour", digit) for digit in said]
    words = [(record.text("word") if record else None) or "?" for record in records]
    return said, "/".join(words)


def _pieces(cut: Cut | None) -> list[str]:
    if cut is None:
        return ["", "", "", "", UNSAID]
    return [_mm(v) for v in (cut.laid, cut.end_a, cut.end_b, cut.rounding, cut.total)]


def _mm(metres: float) -> str:
    return f"{round(metres * 1000, 1):g}"


def _text(harness: Harness, listed: list[Row]) -> Iterator[str]:
    yield quoted(f"CUT LIST   {harness.title}   revision {harness.revision or UNSAID}")
    if harness.note:
        yield quoted(harness.note)
    yield ""
    if not listed:
        yield "No new wires: this is not a jumper, or its file lists none."
    for row in listed:
        yield from (quoted(line) for line in _row_text(row))
    yield from _totals(listed)
    yield from _footer(harness)


def _row_text(row: Row) -> Iterator[str]:
    colour = " ".join(w for w in (row.digits, row.colour) if w)
    if row.kind == "core":
        yield f"      {row.id}: {row.core} core" + (f", {row.gauge}" if row.core in ("shield", "drain") else "")
    else:
        pieces = _pieces(row.cut)
        made = f"= {pieces[0]} laid + {pieces[1]} A + {pieces[2]} B + {pieces[3]} rounding" if row.cut else ""
        words = "  ".join(w for w in (row.type, row.gauge, colour) if w)
        yield f"{row.number:>3}  {row.id:<12} {words:<38} cut {pieces[4]:>5} mm  {made}".rstrip()
    if row.kind != "cable":
        for name, end in (("A", row.a), ("B", row.b)):
            yield f"        {name}  {end.point:<9} {end.fitting:<24} strip {end.strip:<24} {end.work}".rstrip()
    if row.note:
        yield f"        note: {row.note}"


def _totals(listed: list[Row]) -> Iterator[str]:
    totals: dict[str, tuple[int, float, int]] = {}
    for row in listed:
        if row.number:
            count, length, missing = totals.get(row.type, (0, 0.0, 0))
            totals[row.type] = (count + 1, length + (row.cut.total if row.cut else 0.0), missing + (row.cut is None))
    if totals:
        yield ""
        table = [["type", "pieces", "total m", ""]]
        for name, (count, length, missing) in totals.items():
            table.append([name, str(count), f"{length:.3f}", f"{missing} without a length" if missing else ""])
        yield from (quoted(line) for line in columns(table, frozenset({1, 2})))


def _footer(harness: Harness) -> Iterator[str]:
    yield ""
    yield "Allowances:"
    for kind in DEFAULTS:
        metres, source = allowance(harness, kind)
        yield f"  {kind:<12}{_mm(metres):>5} mm  {source or 'stated in the job'}"
    decided = decisions(harness)
    if decided:
        yield "Decided in writing for this job:"
        yield from (quoted(f"  {line}") for line in decided)
    yield "Laid length runs between the rear faces of the ends. Strip lengths show their status unless confirmed."
    yield ""
    yield from CAUTIONS
