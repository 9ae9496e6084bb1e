"""The notes of a wiring diagram: those that every sheet has, and those that one sheet needs."""

from __future__ import annotations

from harnesscheck.connector import Origin
from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.paper.cautions import decisions
from harnesscheck.sheets._compose import Sheet
from harnesscheck.sheets._touched import left_out


def common_notes(job: Job) -> list[str]:
    """What every sheet says."""
    harness = job.subject
    notes: list[str] = []
    if job.airframe is not None and job.airframe is not harness:
        revision = f"revision {job.airframe.revision}" if job.airframe.revision else "revision not stated"
        notes.append(f"Existing wiring after the airframe file: {job.airframe.title}, {revision}.")
    notes.append(
        "Wire text: identification, gauge, colour digits (as in use with MIL-STD-681) and word. "
        "'?' or 'not stated': nobody has said."
    )
    notes.append("Not to scale. Rows stand in the order of the drawing, not of the insert.")
    ends = {point.ref for wire in harness.wires.values() for point in (wire.a, wire.b)}
    ends.update(breaker.bus for breaker in harness.breakers.values() if breaker.bus and breaker.ref in ends)
    unused = [ref for ref in (*harness.splices, *harness.grounds, *harness.breakers, *harness.buses) if ref not in ends]
    if unused:
        notes.append(f"Not drawn, no wire stated: {', '.join(unused)}.")
    away = left_out(harness)
    if away:
        notes.append(f"Not drawn, existing wiring that the jumper does not touch: {', '.join(away)}.")
    if harness.note:
        notes.append(f"{harness.note[:1].upper()}{harness.note[1:]}.")
    notes += [f"Decided in writing: {said}." for said in decisions(harness)]
    return notes


def sheet_notes(harness: Harness, sheet: Sheet) -> list[str]:
    """What only this sheet says."""
    notes = list(_splice_notes(harness, sheet))
    for ref in dict.fromkeys(sheet.page.halves):
        half = harness.connectors[ref]
        if half.fitted == "aircraft":
            why = f": {half.note}" if half.note else ""
            notes.append(f"{ref}: shell shipped loose, contacts inserted on site{why}.")
    strands = list(sheet.page.strands)
    for one in sheet.page.joints:
        strands.extend(one.beyond.strands if one.beyond is not None else ())
    halved = {leg.wire.id: leg.wire for strand in strands for leg in strand.legs if leg.key != leg.wire.id}
    for wire in halved.values():
        notes.append(f"{wire.id} closes a loop from {wire.a} to {wire.b}: drawn in two parts, one at each end.")
    return notes


def _splice_notes(harness: Harness, sheet: Sheet) -> list[str]:
    """Part number and place of the splices on this sheet, one note for each part number."""
    by_part: dict[str, list[str]] = {}
    for node in (node for strand in sheet.page.strands for node in strand.layer):
        splice = harness.splices[node.ref]
        place = f"{node.ref} place not stated"
        if splice.at is not None:
            place = f"{node.ref} {splice.at * 1000:.4g} mm from {splice.at_ref or '?'}"
        if splice.fitted == "aircraft":
            place += " (made on site)"
        if splice.origin is Origin.JUMPER:
            by_part.setdefault(splice.part or "part number not stated", []).append(place)
    return [f"Splices {part}: {', '.join(places)}." for part, places in by_part.items()]
