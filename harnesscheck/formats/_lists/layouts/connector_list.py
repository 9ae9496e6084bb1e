"""A list of connectors: one row is one connector, with its part number."""

from __future__ import annotations

import re

from harnesscheck.formats._lists import account
from harnesscheck.formats._lists.cells import Row
from harnesscheck.formats._lists.draft import Draft
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import Table

TITLE = "list of connectors: one row is one connector"
ORDER = 15


def fits(table: Table, draft: Draft) -> bool:
    """A reference with a part number, a gender or a count, and neither cavities nor ends."""
    tells = any(table.find(name) is not None for name in ("part", "gender", "count", "mates"))
    return len(table.all("ref", "")) == 1 and tells and not table.all("pin") and not table.all("end")


def take(table: Table, row: Row, draft: Draft) -> str:
    """One connector."""
    cell = row.at(table.all("ref", "")[0])
    if not cell:
        raise NotPlainError("no reference is given", "write the reference, like J14")
    mark = draft.mark(table.sheet, cell)
    ref = draft.ref(cell.text, mark)
    entry = draft.connectors.setdefault(ref, {})
    if "listed" in entry:
        raise NotPlainError(f"{cell.text} is listed at {draft.document.where(*entry['listed'][1])} already", "keep one")
    entry["listed"] = ("", mark)
    notes = []
    for name in ("part", "gender", "note", "count", "signal", "quantity"):
        for index in table.all(name):
            said = row.at(index)
            if not said:
                continue
            at = draft.mark(table.sheet, said)
            low = said.text.casefold()
            genders = {
                "pin": "pin",
                "pins": "pin",
                "male": "pin",
                "socket": "socket",
                "sockets": "socket",
                "female": "socket",
            }
            if name == "part" and "part" not in entry and re.fullmatch(r"[!-~](?:[ -~]{0,58}[!-~])?", said.text):
                entry["part"] = (said.text, at)
            elif name == "gender" and low in genders:
                entry["gender"] = (genders[low], at)
            else:
                notes.append(said.text if name == "note" else f"{table.title(index)}: {said.text}")
    if notes:
        entry["note"] = ("; ".join(notes).replace("\n", " ")[:390], mark)
    return account.NOTE
