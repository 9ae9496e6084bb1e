"""A from-to list: one row is one wire, with both ends, in four columns or in two (``K5:3``)."""

from __future__ import annotations

import re

from harnesscheck.formats._lists import account, spellings, values
from harnesscheck.formats._lists.cells import Cell, Row
from harnesscheck.formats._lists.draft import Draft
from harnesscheck.formats._lists.headers import FROM, TO, Head
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import Table

TITLE = "from-to list: one row is one wire"
ORDER = 30


def _columns(table: Table, side: str) -> list[int]:
    """The columns that together name the part at one end: ``From Device`` and ``From Connector``."""
    return sorted((*table.all("end", side), *table.all("ref", side)))


def fits(table: Table, draft: Draft) -> bool:
    """Both ends have a column."""
    return all(_columns(table, side) or table.find("pin", side) is not None for side in (FROM, TO))


def prepare(table: Table, draft: Draft) -> None:
    """Beside ends that hold their cavities, a terminal is what is crimped on: ``P1:4`` and a part number."""
    for side in (FROM, TO):
        pin_at, refs = table.find("pin", side), _columns(table, side)
        if pin_at is None or len(refs) != 1 or not table.title(pin_at).casefold().startswith("term"):
            continue
        texts = table.texts(refs[0])
        if texts and all(re.fullmatch(r"[^:]+:\s*\S+", text) for text in texts):
            table.heads[pin_at] = Head("contact", side)
    for index in table.all("block"):
        if re.match(r"(?i)rev|issue|change|ecn", table.title(index)) and len(set(table.texts(index))) > 1 and table.top:
            reason = "rows of several revisions stand in this list, and all of them are taken"
            draft.not_taken(table.sheet, table.top.at(index), "column", reason, "keep the rows that hold")


def _another(table: Table, row: Row) -> tuple[int, Cell] | None:
    """A point that an unknown column names: a wire by way of a splice or a bulkhead is two wires."""
    for index, head in enumerate(table.heads):
        cell = row.at(index)
        if (
            head is None
            and cell
            and not cell.hidden
            and (_POINT.fullmatch(cell.text) or spellings.SPLICE.fullmatch(cell.text))
        ):
            return index, cell
    return None


_POINT = re.compile(r"(?:[A-Za-z]{1,6}\d{1,4}[A-Za-z]?[-:.](?:\d{1,3}|[A-Za-z]|[A-Za-z]\d{1,3})(?:\s*[/,;>]\s*|$))+")


def ends_of(table: Table, row: Row, draft: Draft) -> list[tuple[str, str, Cell]]:
    """Both ends of a row as ``(reference, cavity, cell)``, an empty text for what is not given."""
    return [_end_of(table, row, draft, _columns(table, side), table.find("pin", side)) for side in (FROM, TO)]


def _end_of(table: Table, row: Row, draft: Draft, refs: list[int], pin_at: int | None) -> tuple[str, str, Cell]:
    ref = named(table, row, refs, draft, pin_at is not None and bool(row.at(pin_at)))
    one = sum(bool(row.at(index)) for index in refs) < 2  # a name put together from two cells holds no cavity
    if pin_at is None:
        read = spellings.end(ref.text, draft.known, draft.mapping.dash) if ref and one else spellings.End(ref.text)
        return read.ref, read.cavity, ref
    pin = row.at(pin_at)
    said = "" if re.fullmatch(r"-+|N/A", pin.text) and not _polar(table, refs, pin_at, ref.text) else pin.text
    names = spellings.cavities(said) if said else [""]
    if len(names) > 1:
        raise NotPlainError(f"{pin.text!r} names several cavities", "write one row for each wire")
    typed = ref.text
    if not said and typed and one:
        read = spellings.end(typed, draft.known, draft.mapping.dash)
        typed, names = read.ref, [read.cavity]
    elif said and typed not in draft.known and ":" in typed:
        raise NotPlainError(f"{typed!r} holds a cavity, and {pin.text!r} stands beside it", "keep one of them")
    return typed, names[0], pin if pin else ref


def named(table: Table, row: Row, refs: list[int], draft: Draft, carry: bool) -> Cell:
    """The part that the cells of a row name; beside a cavity a blank means what stands above it."""
    cells: list[Cell] = []
    for number, index in enumerate(refs):
        cell = row.at(index)
        if cell:
            table.carried[index] = cell
            for later in refs[number + 1 :]:
                table.carried.pop(later, None)  # another device: its connector is another one too
        elif carry and index in table.carried:
            cell = table.carried[index]
            draft.remark(f"a blank {table.title(index)!r} beside a cavity means the one above it")
        if cell:
            cells.append(cell)
    if len(cells) < 2:
        return cells[0] if cells else Cell("", row.number, 1)
    titles = " and ".join(repr(table.title(index)) for index in refs)
    draft.remark(f"{titles} name one connector together")
    return Cell(" ".join(cell.text for cell in cells), row.number, cells[-1].column)


def _polar(table: Table, refs: list[int], pin_at: int, ref: str) -> bool:
    """True for a part that has a cavity + too: there a minus is a name, and not a blank."""
    if table.polar is None:
        found = (
            " ".join(row.at(i).text for i in refs if row.at(i)) for row in table.rows if row.at(pin_at).text == "+"
        )
        table.polar = set(found)
    return ref in table.polar


def take(table: Table, row: Row, draft: Draft) -> str:
    """One row: a wire, or a cavity whose far end nobody has given."""
    more = next(
        (row.at(i) for i in table.all("more") if row.at(i) and not spellings.SPARE.fullmatch(row.at(i).text)), None
    )
    if more is not None:
        reason = f"{more.text!r} is a third end, and nothing says between which of them wires run"
        raise NotPlainError(reason, "write one row for each wire, with a splice SP1")
    other = _another(table, row)
    if other is not None:
        reason = (
            f"{other[1].text!r} under {table.title(other[0])!r} is another point, and nothing says what is wired to it"
        )
        raise NotPlainError(reason, "write one row for each wire: to that point, and from it")
    for index in table.all("quantity"):
        if re.fullmatch(r"[2-9]|\d{2,4}", row.at(index).text) and re.match(r"(?i)q(?:ty|uantity)", table.title(index)):
            reason = "more than one wire in this row, and one is taken"
            draft.not_taken(table.sheet, row.at(index), table.title(index), reason, "write one row for each wire")
    one, two = ends_of(table, row, draft)
    id_at = table.find("id")
    name = row.at(id_at) if id_at is not None and row.at(id_at) else None
    signal_at = table.find("signal")
    said = row.at(signal_at) if signal_at is not None else None
    for near, far in ((one, two), (two, one)):
        nothing = not far[0] and not far[1]
        open_end = bool(far[0]) and not far[1] and spellings.SPARE.fullmatch(far[0]) is not None
        if near[0] and near[1] and (nothing or open_end):
            taken, spare = values.for_pin(draft, table, row, said if said or nothing else far[2])
            draft.pin(table, row, near[0], near[1], near[2], taken)
            return account.SPARE if spare else account.PIN
    circuit = values.signal(draft, table, row)
    if said and said.text and spellings.SPARE.fullmatch(said.text):
        circuit = None
    taken = values.of_row(draft, table, row)
    draft.wire(table, row, (one, two), taken, name, circuit)
    return account.WIRE
