"""A pin table with source and destination: one row is a cavity of a bulkhead connector and what is wired to it."""

from __future__ import annotations

from harnesscheck.formats._lists import account, spellings, values
from harnesscheck.formats._lists.cells import Row
from harnesscheck.formats._lists.draft import Draft
from harnesscheck.formats._lists.headers import FROM, TO
from harnesscheck.formats._lists.layouts import from_to, pin_table
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import Table

TITLE = "pin table with source and destination: one row is one cavity and what is wired to it"
ORDER = 20


def fits(table: Table, draft: Draft) -> bool:
    """One column of cavities of its own, and a column for each side, or for one side only (a half table)."""
    sides = {h.side for h in table.heads if h and h.field in ("end", "ref") and h.side}
    beside = [table.all("pin", side) for side in (FROM, TO)]
    told = all(len(found) <= 1 and (not found or side in sides) for side, found in zip((FROM, TO), beside, strict=True))
    return bool(sides) and len(table.all("pin", "")) == 1 and told


def take(table: Table, row: Row, draft: Draft) -> str:
    """The cavity with its circuit; a side that names one cavity elsewhere is a wire, other words are a note."""
    index = table.all("pin", "")[0]
    own_head = table.heads[index]
    cell = row.at(index)
    ref_at = table.find("ref", "")
    ref = row.at(ref_at).text if ref_at is not None and row.at(ref_at) else ""
    ref = ref or (own_head.named if own_head and table.all("pin") != [index] else "") or table.connector
    if not cell:
        raise NotPlainError("no cavity is given", "write the cavity")
    signal_at = table.find("signal")
    said = row.at(signal_at) if signal_at is not None else None
    nothing = bool(said and (spellings.SPARE.fullmatch(said.text) or spellings.RESERVED.fullmatch(said.text)))
    names = pin_table.names_of(table, row, index, nothing)
    wires, words = [], []
    for side in (FROM, TO):
        at = next((i for f in ("end", "ref") for i in table.all(f, side)), None)
        pin_at = table.find("pin", side)
        if at is not None and pin_at is not None and row.at(pin_at):
            far_ref, far_cavity, far_cell = from_to.ends_of(table, row, draft)[side == TO]
            wires.append((side, spellings.End(far_ref, far_cavity), far_cell))
            continue
        if at is None or not row.at(at):
            continue
        try:
            read = spellings.end(row.at(at).text, draft.known, draft.mapping.dash)
        except NotPlainError:
            read = spellings.End(row.at(at).text)
        if read.cavity or draft.point_kind(read.ref, ""):
            wires.append((side, read, row.at(at)))
        elif not spellings.SPARE.fullmatch(row.at(at).text):
            words.append((f"{table.title(at)}: {row.at(at).text}", row.at(at)))
            reason = "no cavity is named: what is wired to this one is kept as a note"
            draft.not_taken(table.sheet, row.at(at), table.title(at), reason, "write it like J2-1")
    if len(names) > 1 and wires:
        raise NotPlainError(f"{cell.text!r} names several cavities", "write one row for each wire")
    taken, spare = values.for_pin(draft, table, row, said)
    if words:
        was = taken.get("note")
        text = "; ".join([*([was[0]] if was else []), *(word for word, _ in words)])
        taken["note"] = (text[:390], draft.mark(table.sheet, words[0][1]))
    if not wires:
        for name in names:
            draft.pin(table, row, ref, name, cell, taken)
        return account.SPARE if spare else account.PIN
    circuit = values.signal(draft, table, row) if not spare else None
    own = values.of_row(draft, table, row, words)
    id_at = table.find("id")
    id_cell = row.at(id_at) if id_at is not None and row.at(id_at) and len(wires) == 1 else None
    if len(wires) == 2:
        halves = (f"{ref}_{FROM}", f"{ref}_{TO}")
        draft.remark(f"{ref} is read as two mated halves: {halves[0]} on the source side, {halves[1]} on the other")
        draft.mated[halves[0]] = halves[1]
    for side, read, at_cell in wires:
        half = f"{ref}_{side}" if len(wires) == 2 or f"{ref}_{side}" in draft.connectors else ref
        far, near = (read.ref, read.cavity, at_cell), (half, names[0], cell)
        draft.wire(
            table, row, (far, near) if side == FROM else (near, far), dict(own), id_cell, circuit, int(side == FROM)
        )
    return account.WIRE
