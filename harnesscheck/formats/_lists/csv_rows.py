"""CSV and TSV into rows. A quote that swallows the rows below it is refused, and so is what a lenient reader drops.

RFC 4180 says what a quote may do; what goes beyond it has no plain meaning, and a row that vanishes into a cell of the
row before is a wire that nobody checks.
"""

from __future__ import annotations

import csv
import io
import re
from collections import Counter

from harnesscheck.fault import Fault, InputError
from harnesscheck.formats._lists import cells
from harnesscheck.formats._lists.cells import Row, cell

_CLOSE = "close the quote; a quote inside a cell in quotes is written twice"


def csv_rows(text: str, delimiter: str, name: str) -> list[Row]:
    """The rows of a file. ``delimiter`` is empty where it is to be found out. Raises ``InputError`` with its place."""
    csv.field_size_limit(
        cells.MAX_TEXT
    )  # of the whole process: first of all, since a line is split to find the separator
    first, _, rest = text.partition("\n")
    skipped = 0
    told = re.fullmatch(r"sep=(.)", first.strip("\ufeff "))  # a line by which some spreadsheets state the separator
    if told:
        text, delimiter, skipped = rest, told[1], 1
    delimiter = delimiter or _separator(text)
    lines = text.split("\n")
    usual = Counter(line.count(delimiter) for line in lines if line.strip()).most_common(1)
    rows: list[Row] = []
    reader = csv.reader(io.StringIO(text), delimiter=delimiter, skipinitialspace=False, strict=True)
    number, before = skipped, 0
    while True:
        try:
            values = next(reader, None)
        except csv.Error as error:
            raise _refused(name, lines, before, skipped, delimiter, str(error)) from None
        if values is None:
            return rows
        number += 1
        if reader.line_num > before + 1 and usual and _swallowed(values, delimiter, usual[0][0]):
            raise _refused(name, lines, before, skipped, delimiter, "rows inside")
        before = reader.line_num
        rows.append(Row(number, [cell(value, number, column) for column, value in enumerate(values, 1)]))


def _swallowed(values: list[str], delimiter: str, usual: int) -> bool:
    """True when a line inside a cell looks like a row of the table."""
    return usual >= 2 and any(line.count(delimiter) >= usual for value in values for line in value.split("\n")[1:])


def _refused(name: str, lines: list[str], before: int, skipped: int, delimiter: str, said: str) -> InputError:
    """The fault of the row that starts behind line ``before``, at its first quote that is not closed properly."""
    line = lines[before] if before < len(lines) else ""
    column = 1
    if "end of data" in said or said == "rows inside":
        column = _open_quote(line, delimiter)
        message, remedy = "the quote opened here is not closed, so that rows below would be read as one cell", _CLOSE
    else:
        found = re.search(rf'"(?:[^"]|"")*"(?=[^"{re.escape(delimiter)}\n])', line)
        column = found.end() + 1 if found else 1
        message, remedy = "text stands behind the closing quote of a cell", f"{_CLOSE}, or leave the quotes out"
    return InputError([Fault(name, before + 1 + skipped, column, message, line[:400], remedy)])


def _open_quote(line: str, delimiter: str) -> int:
    """The column (from 1) of the first quote of a line that opens a cell and is not closed on it; 1 when none is."""
    at = 0
    while at < len(line):
        if line[at] != '"':
            end = line.find(delimiter, at)
            at = len(line) if end < 0 else end + 1
            continue
        end = at + 1
        while end < len(line) and (line[end] != '"' or line[end : end + 2] == '""'):
            end += 2 if line[end] == '"' else 1
        if end >= len(line):
            return at + 1
        at = end + 2
    return 1


def _separator(text: str) -> str:
    """The sign that splits most lines into the same number of fields; the comma when none does."""
    best, chosen = 0.0, ","
    lines = [line for line in text.split("\n")[:200] if line.strip()]
    for sign in ",;\t|":
        counts = [len(next(csv.reader([line], delimiter=sign), [])) for line in lines]
        split = [count for count in counts if count > 1]
        if not split:
            continue
        usual = max(set(split), key=split.count)
        score = split.count(usual) / len(lines) + 0.001 * usual
        if score > best + 1e-9:
            best, chosen = score, sign
    return chosen
