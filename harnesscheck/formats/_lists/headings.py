"""What stands over a table, or in the notes of its sheet: the connector, a gauge of all wires, the unit of lengths."""

from __future__ import annotations

import re
from collections.abc import Iterable

from harnesscheck.formats._lists import spellings
from harnesscheck.formats._lists.cells import Row
from harnesscheck.formats._lists.tables import Table

_SKIP = (
    r"(?i)^(?:connector|plug|header|harness|cable|section|table|pinout|pin ?map|pin ?table|pins?|"
    r"stecker(?:belegung)?|pinbelegung|belegung)\b[\s:#-]*"
)
_DESIGNATOR = re.compile(
    r"(?:.*?\b(?:connector|plug|header|socket|receptacle|stecker\w*|pinbelegung)[\s:#]+)?\b([A-Za-z]{1,4}\d{1,4}[A-Za-z]?)\b",
    re.I,
)
_WITHIN = re.compile(r"\b(?:J|P|X|CN|TB|JP|PL|SK)\d{1,3}\b")
_ALL = re.compile(r"(?i)\b(?:all|every|each|unless|except|otherwise)\b")
_OF_CONTACTS = re.compile(r"(?i)\b(?:contacts?|crimp\w*|terminals?|accepts?|range|max\w*|min\w*|up to|or)\b")
_SIZES = re.compile(
    r"(?i)(?:\bAWG\s*#?|#)\s*(\d{1,2}|[1-4]/0)\b|\b(\d{1,2}|[1-4]/0)\s*-?\s*(?:AWG|ga|gauge)\b|\b(\d+(?:[.,]\d+)?)\s*mm[2²]"
)
_LENGTHS = re.compile(
    r"(?i)\b(?:lengths?|dimensions?|measurements?|längen?|maße)\b[^.;]*?\bin\s+(mm|cm|m|in|ft|inch(?:es)?|feet|"
    r"millimet(?:er|re)s?|centimet(?:er|re)s?|met(?:er|re)s?)\b"
)
_UNITS = {"inch": "in", "feet": "ft", "mill": "mm", "cent": "cm", "mete": "m", "metr": "m"}


def designators(text: str) -> set[str]:
    """What looks like the reference of a connector in a heading: ``J7`` in ``Left wing J7``."""
    return set(_WITHIN.findall(text))


def connector_of(table: Table, stem: str) -> tuple[str, str]:
    """What a table without a connector column is about: the heading above it, its sheet, or the file."""
    leveled = any(row.level for row in table.above)
    for row in reversed(table.above):
        said = re.sub(r"\([^()]*\)", "", row.filled[0].text).strip(" :#*") if row.filled else ""
        if not said or len(said) > 80:
            continue
        designator = _DESIGNATOR.match(said)
        if designator:
            return designator[1], f"the heading {row.filled[0].text!r}"
        within = designators(said) or designators(row.filled[0].text)
        if len(within) == 1:
            return within.pop(), f"the heading {row.filled[0].text!r}"
        if leveled and not row.level and (":" in said or len(said.split()) > 3):
            continue  # a sentence between the heading and the table
        first, *behind = re.split(r"\s[-:,]\s?|:|,", said)
        bare = re.sub(_SKIP, "", first).strip()
        if not bare and behind and re.fullmatch(r"(?i)connector|plug|stecker", first):  # Connector: fuel pump
            bare = behind[0].strip()
        bare = re.sub(r"(?i)\s+(?:connector|plug|pinout|pin ?map|pins|pin table|header)$", "", bare).strip()
        if bare and len(bare) <= 31:
            return bare, f"the heading {row.filled[0].text!r}"
    if table.sheet.name and not re.fullmatch(r"(?i)(?:sheet|table|tabelle|feuil|list)\s*\d*", table.sheet.name):
        return table.sheet.name, f"the sheet {table.sheet.name!r}"
    return stem, "the name of the file"


def stated(table: Table, notes: Iterable[Row]) -> list[str]:
    """Enter the gauge and the unit of lengths that headings and notes state for a whole table; what was done, in words.

    A note counts when it speaks of all wires; a heading right over the table when it names one size and no contact.
    Two that disagree state nothing, and that is said.
    """
    said: list[str] = []
    sizes: dict[str, str] = {}
    units: dict[str, str] = {}
    near = table.above[-1:]
    for row in (*near, *notes):
        for cell in row.filled:
            text = cell.text
            found = _LENGTHS.search(text)
            if found:
                low = found[1].casefold()
                units.setdefault(_UNITS.get(low[:4], low), text)
            if (row in near or _ALL.search(text)) and not _OF_CONTACTS.search(re.sub(r"(?i)otherwise", "", text)):
                one = {_size(m) for m in _SIZES.finditer(text)}
                if len(one) == 1:
                    sizes.setdefault(one.pop(), text)
        if row in near and sizes:  # the heading of this very table goes before what is said of all
            break
    if len(sizes) == 1:
        table.gauge, text = next(iter(sizes.items()))
        said.append(f"wires without a gauge of their own are {table.gauge}: {text!r}")
    elif sizes:
        said.append(
            f"notes state several gauges for all wires, and none was taken: {', '.join(map(repr, sizes.values()))}"
        )
    if len(units) == 1 and not table.length_unit:
        table.length_unit, text = next(iter(units.items()))
        said.append(f"lengths without a unit are in {table.length_unit}: {text!r}")
    return said


def _size(found: re.Match[str]) -> str:
    text = f"{found[3].replace(',', '.')} mm2" if found[3] else f"{found[1] or found[2]} AWG"
    return spellings.gauge(text).value
