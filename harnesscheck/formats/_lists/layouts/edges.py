"""Lines without a head that name both ends: ``ECU:3<red>PDM:5``, ``J1:3 -> J2:5``, ``ECU:+14V,PDM:ADIO1``."""

from __future__ import annotations

import re
from itertools import pairwise

from harnesscheck.formats._lists import account, colours, spellings
from harnesscheck.formats._lists.cells import Row
from harnesscheck.formats._lists.draft import Draft
from harnesscheck.formats._lists.layouts._text import said
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import Table
from harnesscheck.formats._lists.together import gauge_and_colour

TITLE = "lines that name both ends of a wire"
ORDER = 90
_EDGE = re.compile(r"(?P<a>[^<>]+?)\s*<(?P<c>[^<>]*)>\s*(?P<b>[^<>]+)")
_ARROW = re.compile(r"\s*(?:<->|<-+>|-+>|=+>)\s*")


def fits(table: Table, draft: Draft) -> bool:
    """Most lines hold a colour in angle brackets, an arrow, or two ends with cavities."""
    if any(table.heads):
        return False
    found = sum(_split(row) is not None for row in table.rows)
    return found * 2 >= len(table.rows) and found > 0


def _split(row: Row) -> tuple[list[str], str] | None:
    text = said(row)
    edge = _EDGE.fullmatch(text)
    if edge:
        return [edge["a"], edge["b"]], edge["c"]
    parts = _ARROW.split(text)
    if len(parts) > 1:
        return parts, ""
    if len(row.filled) == 2 and all(":" in c.text for c in row.filled):
        return [c.text for c in row.filled], ""
    return None


def take(table: Table, row: Row, draft: Draft) -> str:
    """The wire, or the wires, of one line."""
    found = _split(row)
    if found is None:
        raise NotPlainError("no two ends of a wire", "write it as J1:3 -> J2:5")
    texts, colour = found
    cell = row.filled[0]
    circuit = None
    named = re.fullmatch(r"(.+?):\s+(.+)", texts[0])
    ends = [spellings.end(text, draft.known, draft.mapping.dash) for text in texts]
    if named and colours.colour(named[2]).value:
        raise NotPlainError("colours along one circuit, and no ends", "write one row for each wire, with both ends")
    for text, one in zip(texts, ends, strict=True):
        if colours.colour(text.strip()).value:
            raise NotPlainError("colours along one circuit, and no ends", "write one row for each wire, with both ends")
        if not one.cavity and not draft.point_kind(one.ref, ""):
            raise NotPlainError(f"no cavity is given at {one.ref!r}", "write each end as J1:3")
    mark = draft.mark(table.sheet, cell)
    read = colours.colour(colour)
    values = {"colour": (read.value, mark)} if read.value else {}
    if colour and read.refused:
        sized = gauge_and_colour(colour, "")
        if sized:
            values = {"gauge": (sized[0].value, mark), "colour": (sized[1].value, mark)}
        else:
            draft.not_taken(table.sheet, cell, f"colour {colour!r} of", read.refused, "write a word like white/blue")
            values = {"note": (colour, mark)}
    for one, two in pairwise(ends):
        both = ((one.ref, one.cavity, cell), (two.ref, two.cavity, cell))
        draft.wire(table, row, both, dict(values), None, circuit)
    return account.WIRE
