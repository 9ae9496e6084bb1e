"""Pin tables that name the wire of each cavity: an id that stands at exactly two points of the list is a wire."""

from __future__ import annotations

import re
from dataclasses import dataclass

from harnesscheck.formats._lists import spellings, values
from harnesscheck.formats._lists.account import PIN, UNREAD, WIRE, Left
from harnesscheck.formats._lists.cells import Cell, Row
from harnesscheck.formats._lists.draft import Draft, DraftWire
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import Table

_OF_WIRES = re.compile(r"(?i)\b(?:wire|conductor|lead|draht|ader|leitung)")


@dataclass(frozen=True, slots=True)
class Lead:
    """One end of a wire: the row of a pin table that names it."""

    table: Table
    row: Row
    ref: str
    cavity: str
    cell: Cell
    id_cell: Cell
    taken: values.Values


def leads_of(table: Table, row: Row, ref: str, cavity: str, cell: Cell, draft: Draft) -> list[Lead]:
    """The ends of wires that a row of a pin table tells."""
    found = [i for i in (*table.all("id")[:1], *table.all("lead")) if _OF_WIRES.search(table.title(i))]
    found = [i for i in found if re.search(r"[^\W_]", row.at(i).text) and not spellings.SPARE.fullmatch(row.at(i).text)]
    before = len(draft.account.values)
    taken = values.of_row(draft, table, row)
    del draft.account.values[before:]  # the row of the cavity lists them
    if len(found) > 1:
        taken = {}  # nothing says of which wire they speak; the note of the cavity keeps them
    return [Lead(table, row, ref, cavity, cell, row.at(index), taken) for index in found]


def join(draft: Draft) -> None:
    """Make wires of the ends that the tables named."""
    told: dict[str, list[Lead]] = {}
    for lead in draft.leads:
        told.setdefault(lead.id_cell.text, []).append(lead)
    there: dict[str, list[DraftWire]] = {}
    for wire in draft.wires:
        there.setdefault(wire.values.get("mark", (wire.id,))[0], []).append(wire)
    single = []
    for name, leads in told.items():
        if name in there:
            for lead in leads:
                _told_elsewhere(draft, lead, there[name])
            continue
        if len(leads) == 2 and leads[0].row is not leads[1].row:
            _wire(draft, leads[0], leads[1])
        elif len(leads) == 1:
            single.append(name)
            _alone(draft, leads[0], f"wire {name!r} has no other end in this list")
        else:
            for lead in leads:
                reason = f"{name!r} stands at {len(leads)} points, and nothing says between which of them wires run"
                draft.not_taken(lead.table.sheet, lead.id_cell, "wire", reason, "give each wire an id of its own")
                _alone(draft, lead, reason)
    if single:
        some = ", ".join(single[:5]) + (", ..." if len(single) > 5 else "")
        draft.remark(f"{len(single)} wires have one end in this list, and only its cavity is taken: {some}")


def _told_elsewhere(draft: Draft, lead: Lead, wires: list[DraftWire]) -> None:
    """A wire that a from-to list tells too: it must end here as well."""
    point = spellings.reference(draft.mapping.names.get(lead.ref, lead.ref)), lead.cavity
    if any(point in (wire.a, wire.b) for wire in wires):
        return
    first = wires[0]
    reason = f"wire {lead.id_cell.text!r} stands at {draft.document.where(*first.mark)}, and does not end here"
    if lead.cavity:
        draft.not_taken(lead.table.sheet, lead.id_cell, "wire", reason, "correct one of the two rows")
    else:
        _alone(draft, lead, reason)


def _alone(draft: Draft, lead: Lead, reason: str) -> None:
    if not lead.cavity:  # a stud or a splice holds nothing by itself
        draft.unread(lead.table.sheet, lead.row, reason, "write a row for the other end")


def _wire(draft: Draft, one: Lead, two: Lead) -> None:
    merged = dict(one.taken)
    for key, (text, mark) in two.taken.items():
        was = merged.get(key)
        if was is None:
            merged[key] = (text, mark)
        elif was[0].casefold() == text.casefold():
            continue
        elif key == "note":
            merged[key] = (f"{was[0]}; {text}"[:390], was[1])
        else:
            reason = f"wire {one.id_cell.text!r} has {key} {was[0]} at {draft.document.where(*was[1])}, and {text} here"
            _listed(draft, two, reason)
            _alone(draft, one, reason)
            return
    before = draft.state()
    try:
        ends = ((one.ref, one.cavity, one.cell), (two.ref, two.cavity, two.cell))
        draft.wire(one.table, one.row, ends, merged, one.id_cell)
    except NotPlainError as error:
        draft.back_to(before)
        _listed(draft, two, error.reason)
        _alone(draft, one, error.reason)
        return
    draft.wires[-1].also = draft.document.number(two.table.sheet, two.row.number)
    names = []
    for lead, end in zip((one, two), (draft.wires[-1].a, draft.wires[-1].b), strict=True):
        pin = draft.pins.get(end)
        if pin is not None and lead.taken:  # what the row says of its wire stands with the wire
            pin.values = {key: said for key, said in pin.values.items() if key in ("circuit", "contact")}
        names.append(pin.values.get("circuit", ("",))[0] if pin is not None else "")
        draft.settle(lead.table.sheet, lead.row, WIRE)
    if len(set(names)) == 1:
        draft.wires[-1].circuit = names[0]
    draft.remark("a wire id that stands at two points of the pin tables is one wire between them")


def _listed(draft: Draft, lead: Lead, reason: str) -> None:
    mark = draft.mark(lead.table.sheet, lead.id_cell)
    remedy = "correct one of the two rows"
    if lead.cavity:
        draft.account.values.append(Left(*mark, f"wire {lead.id_cell.text!r}", reason, remedy))
        draft.settle(lead.table.sheet, lead.row, PIN)
    else:
        draft.settle(lead.table.sheet, lead.row, UNREAD)
        draft.account.left.append(Left(*mark, lead.row.text, reason, remedy))
