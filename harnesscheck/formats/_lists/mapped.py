"""Tables as a map states them: which rows and columns, one table after another."""

from __future__ import annotations

from harnesscheck.formats._lists.cells import Row, Sheet, refused
from harnesscheck.formats._lists.draft import Draft
from harnesscheck.formats._lists.headers import Head, head
from harnesscheck.formats._lists.mapping import FIELDS, Mapping, Part
from harnesscheck.formats._lists.source import letters
from harnesscheck.formats._lists.tables import Table

Found = list[tuple[Table | None, list[Row]]]


def sheets_of(sheets: list[Sheet], mapping: Mapping, name: str) -> list[Sheet]:
    """The sheets that the map names, or all. Raises ``InputError`` when one is not there."""
    wanted = [mapping.sheet] if mapping.sheet else [part.sheet for part in mapping.tables]
    if not all(wanted) or not wanted:
        return sheets
    for one in wanted:
        if one not in [sheet.name for sheet in sheets]:
            there = ", ".join(sheet.name for sheet in sheets)
            raise refused(name, f"there is no sheet {one!r}", f"correct 'sheet:' in the map; there are: {there}")
    return [sheet for sheet in sheets if sheet.name in wanted]


def tables_of(sheet: Sheet, mapping: Mapping, draft: Draft, used: set[tuple[str, str]]) -> Found:
    """The tables of a sheet that the map states. Rows before, between and behind them are notes, and that is said."""
    parts = [part for part in mapping.parts if part.sheet in ("", sheet.name)]
    parts.sort(key=lambda part: part.header_row)
    found: Found = []
    done = 0
    for number, part in enumerate(parts):
        following = parts[number + 1].header_row - 1 if number + 1 < len(parts) else sheet.rows[-1].number
        last = min(part.last_row or following, following)
        before = [r for r in sheet.rows if r and done < r.number < part.header_row]
        found.append((_table(sheet, part, last, used), before))
        done = max(last, part.header_row)
        if number and before:
            _say(draft, sheet, before)
    behind = [r for r in sheet.rows if r and r.number > done]
    if behind:
        found.append((None, behind))
        _say(draft, sheet, behind)
    return found


def _say(draft: Draft, sheet: Sheet, rows: list[Row]) -> None:
    where = draft.document.where(*draft.mark(sheet, rows[0].filled[0]))
    draft.remark(f"{len(rows)} rows from {where} stand in no table of the map, and nothing is taken from them")


def _table(sheet: Sheet, part: Part, last: int, used: set[tuple[str, str]]) -> Table | None:
    top = next((r for r in sheet.rows if r.number == max(part.header_row, 1)), None)
    if top is None:
        return None
    rows = [r for r in sheet.rows if r and part.header_row < r.number <= last]
    width = max(len(r.cells) for r in [top, *rows])
    headed = bool(part.header_row)
    heads: list[Head | None] = [head(top.at(i).text) if headed and top.at(i) else None for i in range(width)]
    for index in range(width):
        for key in (letters(index + 1), top.at(index).text):
            if key in part.columns:
                heads[index] = FIELDS[part.columns[key]]
                used.add((part.name, key))
                break
    table = Table(sheet, top if headed else None, heads, rows)
    table.connector, table.gauge_unit, table.length_unit = part.connector, part.gauge_unit, part.length_unit
    return table


def all_used(mapping: Mapping, used: set[tuple[str, str]], name: str) -> None:
    """Raises ``InputError`` for a column that the map names and no table has: its values would be lost."""
    for part in mapping.parts:
        for key in part.columns:
            if (part.name, key) not in used:
                where = f" of table {part.name!r}" if part.name else ""
                raise refused(name, f"the map names a column {key!r}{where} that is not there", "correct 'columns:'")
