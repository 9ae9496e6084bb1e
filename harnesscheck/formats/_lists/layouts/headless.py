"""A list without heads whose every row has two full ends (``J1-1``): what else stands in a column says what it is."""

from __future__ import annotations

import re

from harnesscheck.formats._lists import colours, spellings
from harnesscheck.formats._lists.cells import Row
from harnesscheck.formats._lists.draft import Draft
from harnesscheck.formats._lists.headers import FROM, TO, Head
from harnesscheck.formats._lists.layouts import from_to
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import Table

TITLE = "from-to list without heads: the two columns of ends are read as from and to"
ORDER = 97
_END = re.compile(r"[A-Za-z]{1,6}\d{1,4}[A-Za-z]?")


def is_end(text: str) -> bool:
    """True for a designator with its cavity: ``J1-3``."""
    try:
        read = spellings.end(text)
    except NotPlainError:
        return False
    return bool(read.cavity) and not read.note and _END.fullmatch(read.ref) is not None


def _ends(table: Table) -> list[int]:
    """The columns with a full end in every row."""
    rows = [row for row in table.rows if row]
    width = max((len(row.cells) for row in rows), default=0)
    return [i for i in range(width) if all(row.at(i) and is_end(row.at(i).text) for row in rows)]


def fits(table: Table, draft: Draft) -> bool:
    """Two and more rows of a sheet, and exactly two columns of full ends."""
    rows = [row for row in table.rows if row]
    if table.top or any(table.heads) or table.sheet.lines or len(rows) < 2:
        return False
    return len(_ends(table)) == 2


def prepare(table: Table, draft: Draft) -> None:
    """What each column holds. A bare number has no unit: it is listed as a size or a length, and not taken."""
    one, two = _ends(table)
    width = max(len(row.cells) for row in table.rows)
    table.heads = [_by_values(table.texts(i)) for i in range(width)]
    table.heads[one], table.heads[two] = Head("end", FROM), Head("end", TO)


def _by_values(texts: list[str]) -> Head | None:
    if not texts:
        return None
    if all(spellings.gauge(t).value for t in texts):
        return Head("gauge")
    if all(colours.colour(t).value and not t.isdigit() for t in texts):
        return Head("colour")
    if all(re.fullmatch(r"\d{1,2}", t) and int(t) % 2 == 0 for t in texts):
        return Head("gauge")
    return Head("length" if all(re.match(r"[\d.,]+", t) for t in texts) else "note")


def take(table: Table, row: Row, draft: Draft) -> str:
    """One wire."""
    return from_to.take(table, row, draft)
