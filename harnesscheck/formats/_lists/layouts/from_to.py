"""A from-to list: one row is one wire, with both ends, in four columns or in two (``K5:3``)."""

from __future__ import annotations

import re

from harnesscheck.formats._lists import account, spellings, values
from harnesscheck.formats._lists.cells import Cell, Row
from harnesscheck.formats._lists.draft import Draft
from harnesscheck.formats._lists.headers import FROM, TO
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import Table

TITLE = "from-to list: one row is one wire"
ORDER = 30


def _column(table: Table, side: str) -> int | None:
    found = table.find("end", side)
    return found if found is not None else table.find("ref", side)


def fits(table: Table, draft: Draft) -> bool:
    """Both ends have a column."""
    sided = [_column(table, side) is not None or table.find("pin", side) is not None for side in (FROM, TO)]
    return all(sided)


def ends_of(table: Table, row: Row, draft: Draft) -> list[tuple[str, str, Cell]]:
    """Both ends of a row as ``(reference, cavity, cell)``, an empty text for what is not given."""
    found = []
    for side in (FROM, TO):
        ref_at, pin_at = _column(table, side), table.find("pin", side)
        ref = row.at(ref_at) if ref_at is not None else Cell("", row.number, 1)
        if pin_at is None:
            read = spellings.end(ref.text, draft.known, draft.mapping.dash) if ref else spellings.End("")
            found.append((read.ref, read.cavity, ref))
            continue
        pin = row.at(pin_at)
        if not ref and ref_at is not None and pin and ref_at in table.carried:
            ref = table.carried[ref_at]
            draft.remark(f"a blank {table.title(ref_at)!r} beside a cavity means the one above it")
        elif ref and ref_at is not None:
            table.carried[ref_at] = ref
        said = "" if re.fullmatch(r"\W*|N/?A", pin.text) and not spellings.is_cavity(pin.text) else pin.text
        if re.fullmatch(r"-+|N/A", pin.text):
            said = ""
        names = spellings.cavities(said) if said else [""]
        if len(names) > 1:
            raise NotPlainError(f"{pin.text!r} names several cavities", "write one row for each wire")
        typed = ref.text
        if not said and typed and ref_at is not None:
            read = spellings.end(typed, draft.known, draft.mapping.dash)
            typed, names = read.ref, [read.cavity]
        elif said and typed not in draft.known and ":" in typed:
            raise NotPlainError(f"{typed!r} holds a cavity, and {pin.text!r} stands beside it", "keep one of them")
        found.append((typed, names[0], pin if pin else ref))
    return found


def take(table: Table, row: Row, draft: Draft) -> str:
    """One row: a wire, or a cavity whose far end nobody has given."""
    one, two = ends_of(table, row, draft)
    id_at = table.find("id")
    name = row.at(id_at) if id_at is not None and row.at(id_at) else None
    signal_at = table.find("signal")
    said = row.at(signal_at) if signal_at is not None else None
    for near, far in ((one, two), (two, one)):
        nothing = not far[0] and not far[1]
        if near[0] and near[1] and (nothing or (said and spellings.SPARE.fullmatch(far[0]) and not far[1])):
            taken, spare = values.for_pin(draft, table, row, said)
            draft.pin(table, row, near[0], near[1], near[2], taken)
            return account.SPARE if spare else account.PIN
    circuit = values.signal(draft, table, row)
    if said and said.text and spellings.SPARE.fullmatch(said.text):
        circuit = None
    taken = values.of_row(draft, table, row)
    draft.wire(table, row, (one, two), taken, name, circuit)
    return account.WIRE
