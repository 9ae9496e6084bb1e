"""Pin tables side by side: pin, signal, pin, signal in one row, for one long connector or for several."""

from __future__ import annotations

from harnesscheck.formats._lists import account, spellings, values
from harnesscheck.formats._lists.cells import Row
from harnesscheck.formats._lists.draft import Draft
from harnesscheck.formats._lists.headers import Head
from harnesscheck.formats._lists.headings import designators
from harnesscheck.formats._lists.layouts import pin_table
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import Table

TITLE = "pin tables side by side: one row is a cavity of each"
ORDER = 40
_ELSEWHERE = Head("quantity")


def fits(table: Table, draft: Draft) -> bool:
    """Two and more columns of cavities, with a signal for each."""
    if len(table.all("pin", "")) < 2 or len(table.all("signal")) < len(table.all("pin")) or table.all("end"):
        return False
    fields = [[h.field for h in table.heads[start:end] if h] for start, end in _groups(table)]
    return all(group.count("pin") == 1 and "signal" in group for group in fields)


def _groups(table: Table) -> list[tuple[int, int]]:
    """First and last column of each group: it begins with its cavity, or with its signal."""
    starts = table.all("pin")
    if table.all("signal")[0] < starts[0]:
        starts = table.all("signal")
    return list(zip(starts, [*starts[1:], len(table.heads)], strict=True))


def parts(table: Table) -> list[Table]:
    """One table for each group of columns."""
    made = []
    groups = _groups(table)
    for start, end in groups:
        # What stands in the other groups is no note of this one.
        heads = [
            h if start <= i < end else _ELSEWHERE if i >= groups[0][0] else None for i, h in enumerate(table.heads)
        ]
        rows = [Row(r.number, list(r.cells)) for r in table.rows]
        part = Table(table.sheet, table.top, heads, rows, table.above, table.connector)
        pin = part.all("pin")[0]
        named = table.heads[pin]
        over = table.above[-1] if table.above else None
        titles = list(filter(None, over.cells[start:end])) if over else []
        if over is not None and len(over.filled) == len(groups) and len(titles) == 1:
            inside = designators(titles[0].text)
            part.connector = inside.pop() if len(inside) == 1 else titles[0].text
        elif named and named.named:
            part.connector = named.named
        made.append(part)
    return made


def prepare(table: Table, draft: Draft) -> None:
    """Cavities of the same name under one connector name cannot belong to one connector."""
    seen: dict[tuple[str, str], int] = {}
    table.clash = ""
    for part in parts(table):
        for text in part.texts(part.all("pin")[0]):
            if (part.connector, text) in seen:
                table.clash = text
            seen[part.connector, text] = 1


def take(table: Table, row: Row, draft: Draft) -> str:
    """The cavities of one row; blank groups are passed over."""
    if table.clash:
        reason = f"cavity {table.clash!r} stands in two groups of columns, and nothing says which connector each is"
        raise NotPlainError(reason, "write the connector over each group")
    verdicts = []
    for part in parts(table):
        index = part.all("pin")[0]
        cell = row.at(index)
        own = [row.at(i) for i, h in enumerate(part.heads) if h and h is not _ELSEWHERE]
        if not any(own):
            continue
        if not cell:
            raise NotPlainError("no cavity is given beside a signal", "write the cavity")
        signal_at = part.find("signal")
        said = row.at(signal_at) if signal_at is not None else None
        nothing = bool(said and (spellings.SPARE.fullmatch(said.text) or spellings.RESERVED.fullmatch(said.text)))
        taken, spare = values.for_pin(draft, part, row, said)
        for name in pin_table.names_of(part, row, index, nothing):
            draft.pin(part, row, part.connector, name, cell, taken)
        verdicts.append(account.SPARE if spare else account.PIN)
    return account.PIN if account.PIN in verdicts or not verdicts else account.SPARE
