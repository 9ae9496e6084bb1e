"""Readings as somebody took them: a CSV, JSON or YAML file with a head and one row a reading."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from harnesscheck import characters
from harnesscheck.document import Block, Document, Items, file_kind, parse, read
from harnesscheck.fault import Fault, InputError, nearest, short

TWICE = "leave one of them"
HEAD = {
    "kind": "readings",
    "who": "who took them",
    "meter": "make and model of the meter",
    "meter id": "its number, for the calibration record",
    "date": "the day, as written by hand",
    "article": "bench, installed or aircraft",
    "mode": "first article, field or quick: which list of readings the ids belong to",
    "groups": "single (one probe on one cavity) or tied (shorting plugs)",
    "other units": "plugged in or unplugged: the other units, sensors and switches on these circuits",
    "pack id": "of the papers the list was printed from",
    "file hash": "SHA-256 of the job file the list was made from, or its first digits",
    "files": "every file of the job, each with its SHA-256 or its first digits, with '; ' between",
    "note": "anything",
    "title": "title of the job",
}
"""Keys of the head, all of them optional."""
ROW = ("reading", "value", "unit", "verdict", "note")
"""Keys of a row; only ``reading`` and one of ``value`` and ``verdict`` are needed."""
PLUGGED, UNPLUGGED = "plugged in", "unplugged"
VERDICTS = {"good": True, "ok": True, "pass": True, "wrong": False, "bad": False, "fail": False}
UNITS = {
    "ohm": ("ohm", 1.0), "ohms": ("ohm", 1.0), "Ω": ("ohm", 1.0), "mohm": ("ohm", 1e-3), "kohm": ("ohm", 1e3),
    "k": ("ohm", 1e3), "kΩ": ("ohm", 1e3), "K": ("ohm", 1e3), "Mohm": ("ohm", 1e6), "M": ("ohm", 1e6),
    "MΩ": ("ohm", 1e6), "Gohm": ("ohm", 1e9), "V": ("V", 1.0), "volt": ("V", 1.0), "mV": ("V", 1e-3),
}  # fmt: skip
OPEN_WORDS = ("ol", "o.l", "o.l.", "0l", "open", "inf", "infinite", "overload", "over", "1.", "---", ">")
_NUMBER = re.compile(r"([<>]?)\s*([+-]?(?:[0-9]{1,12}(?:\.[0-9]{0,9})?|\.[0-9]{1,9}))\s*((?![0-9.])\S*)")
MOST = 20_000
"""Rows in one file. Common practice: far above any real harness."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row as typed. ``value`` is ohms or volts by ``unit``; infinite: open; None: not typed."""

    id: str
    value: float | None
    unit: str
    """``ohm`` or ``V``; empty when neither the row nor its value names one."""
    typed: str
    verdict: bool | None
    note: str = ""
    line: int = 0
    column: int = 0
    beyond: str = ""
    """``>`` or ``<`` when the value is only a bound."""


@dataclass(slots=True)
class ReadingsFile:
    """Head and rows of a readings file."""

    document: Document
    head: dict[str, str] = field(default_factory=dict)
    rows: list[Row] = field(default_factory=list)
    places: dict[str, tuple[int, int]] = field(default_factory=dict)
    """Line and column of what the head says."""

    @property
    def tied(self) -> bool:
        """True when isolation was read between groups tied by shorting plugs."""
        return self.head.get("groups") == "tied"

    @property
    def staying(self) -> bool:
        """True unless the other units of the aircraft were unplugged as well."""
        return self.head.get("other units") != UNPLUGGED


def value_of(text: str, unit: str = "") -> tuple[float, str, str] | str:
    """(value, unit, bound) of what a meter showed; or a sentence that says what is wrong with it.

    >>> value_of("0.3"), value_of("1.2 kohm"), value_of("OL"), value_of(">20M")
    ((0.3, '', ''), (1200.0, 'ohm', ''), (inf, 'ohm', ''), (20000000.0, 'ohm', '>'))
    """
    typed = text.strip()
    if typed.lower() in OPEN_WORDS:
        return math.inf, "ohm", ""
    if re.fullmatch(r"[<>]?\s*[+-]?[0-9]+,[0-9]+.*", typed):
        return "a decimal comma is not read: write a point"
    found = _NUMBER.fullmatch(typed)
    if found is None:
        return "this is neither a number nor OL"
    own = found[3] or unit
    if own and own not in UNITS:
        return f"unit {short(own)} is not one of ohm, kohm, Mohm, mohm, V, mV"
    kind, factor = UNITS[own] if own else ("", 1.0)
    value = float(found[2]) * factor
    if kind == "ohm" and value < -0.5:
        return "a resistance is not below zero: null the leads, or the line is live"
    return value, kind, found[1]


def load(path: Path, name: str) -> ReadingsFile:
    """Read a readings file. Raises ``InputError`` with every fault found, each with line and column."""
    if path.suffix.lower() == ".csv":
        return _csv(path, name)
    document = read(path, name)
    found = ReadingsFile(document)
    faults: list[Fault] = []
    root = document.root
    for key, said in root.items():
        line, column, value_line, value_column = root.marks[key]
        if key == "readings":
            faults += _listed(found, said, value_line, value_column)
        elif key not in HEAD:
            remedy = nearest(key, [*HEAD, "readings"]) or f"the keys are: {', '.join([*HEAD, 'readings'])}"
            faults.append(document.fault(line, column, f"unknown key {short(key)}", remedy))
        elif isinstance(said, str):
            found.head[key], found.places[key] = said.strip(), (value_line, value_column)
        else:
            faults.append(document.fault(value_line, value_column, f"{key} is plain text", "write it on one line"))
    if "readings" not in root:
        faults.append(document.fault(1, 1, "this file holds no readings", "add 'readings:' with a list of rows"))
    return _checked(found, faults)


def _listed(found: ReadingsFile, rows: object, line: int, column: int) -> Iterator[Fault]:
    document = found.document
    if not isinstance(rows, Items):
        yield document.fault(line, column, "readings is a list", "write '- {reading: BC1, value: 0.2}' a row")
        return
    for row, (row_line, row_column) in zip(rows, rows.marks, strict=True):
        if not isinstance(row, Block):
            yield document.fault(row_line, row_column, "a row is a mapping", "write {reading: BC1, value: 0.2}")
            continue
        cells: dict[str, tuple[str, int, int]] = {}
        for key, said in row.items():
            key_line, key_column, value_line, value_column = row.marks[key]
            if key not in ROW:
                remedy = nearest(key, ROW) or f"the keys of a row are: {', '.join(ROW)}"
                yield document.fault(key_line, key_column, f"unknown key {short(key)}", remedy)
            elif not isinstance(said, str):
                yield document.fault(value_line, value_column, f"{key} is plain text", "write one value")
            else:
                cells[key] = (said.strip(), value_line, value_column)
        yield from _row(found, cells, row_line, row_column)


def _csv(path: Path, name: str) -> ReadingsFile:
    """Head rows ``key,value``, then a row of column names that starts with ``reading``, then one row a reading."""
    document = _text(path, name)
    found = ReadingsFile(document)
    faults: list[Fault] = []
    columns: list[str] = []
    for number, line in enumerate(document.lines, 1):
        cells = _cells(line.rstrip("\r"))
        if isinstance(cells, int):
            faults.append(document.fault(number, cells, "the quote opened here is not closed", "close it on this line"))
            continue
        words = [text.strip() for text, _ in cells]
        if not any(words):
            continue
        if not columns and words[0].lower() in ("reading", "id"):
            columns = ["reading", *(w.lower() for w in words[1:])]
            for word, (_, column) in zip(columns, cells, strict=True):
                if word and word not in ROW:
                    remedy = nearest(word, ROW) or f"the columns are: {', '.join(ROW)}"
                    faults.append(document.fault(number, column, f"unknown column {short(word)}", remedy))
            for place, (word, (_, column)) in enumerate(zip(columns, cells, strict=True)):
                if word and word in columns[:place]:
                    faults.append(document.fault(number, column, f"column {short(word)} stands here twice", TWICE))
        elif not columns:
            key = words[0].lower().rstrip(":")
            if key in found.head:
                faults.append(document.fault(number, cells[0][1], f"{short(words[0])} is said twice", TWICE))
            elif key in HEAD:
                found.head[key] = ""
                if len(words) > 1:
                    found.head[key], found.places[key] = words[1], (number, cells[1][1])
            else:
                remedy = nearest(key, HEAD) or f"start the rows with a line '{','.join(ROW)}'"
                faults.append(document.fault(number, cells[0][1], f"unknown key {short(words[0])}", remedy))
        elif any(words[len(columns) :]):
            column = cells[len(columns)][1]
            remedy = "put a text that holds a comma in quotes; write decimals with a point"
            faults.append(document.fault(number, column, "more cells than columns", remedy))
        else:
            row = {c: (w, number, at) for c, w, (_, at) in zip(columns, words, cells, strict=False) if c}
            faults += _row(found, row, number, 1)
    if not columns:
        faults.append(document.fault(1, 1, "this file holds no readings", f"start the rows with '{','.join(ROW)}'"))
    return _checked(found, faults)


def _text(path: Path, name: str) -> Document:
    """A CSV file as a document: size, encoding and hidden characters are looked at as in every other file."""
    from harnesscheck.document import MAX_BYTES

    if file_kind(path) != "file" or path.stat().st_size > MAX_BYTES:
        read(path, name)  # says what is wrong with it
    data = path.read_bytes()
    if not data.strip():
        parse(b"", name, path)  # and so does this
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line, column = characters.place_of(data, error.start, "utf-8-sig")
        message = f"byte 0x{data[error.start]:02x} is not UTF-8 text"
        raise InputError([Fault(name, line, column, message, "", "save the file as UTF-8")]) from None
    document = Document(name, text, path)
    if odd := [document.fault(*said) for said in characters.bad(document.lines, text)]:
        raise InputError(odd)
    return document


def _cells(line: str) -> list[tuple[str, int]] | int:
    """Cells of a line with their columns (from 1); the column of a quote that is not closed.

    >>> _cells('BC1,0.2,"ohm, nulled"')
    [('BC1', 1), ('0.2', 5), ('ohm, nulled', 9)]
    """
    found, at, text = [], 0, line
    separator = ";" if ";" in line and "," not in line else ","
    while True:
        start = at
        if text[at : at + 1] == '"':
            end = at + 1
            while True:
                end = text.find('"', end)
                if end == -1:
                    return start + 1
                if text[end : end + 2] != '""':
                    break
                end += 2
            cell = text[at + 1 : end].replace('""', '"')
            at = text.find(separator, end)
        else:
            at = text.find(separator, start)
            cell = text[start : at if at >= 0 else len(text)]
        found.append((cell, start + 1))
        if at < 0:
            return found
        at += 1


def _row(found: ReadingsFile, cells: dict[str, tuple[str, int, int]], line: int, column: int) -> Iterator[Fault]:
    document, words = found.document, {key: text for key, (text, _, _) in cells.items()}
    name, at_line, at_column = cells.get("reading", ("", line, column))
    if not name:
        yield document.fault(at_line, at_column, "this row names no reading", "write the id of the list, like BC1")
        return
    value: float | None = None
    unit = bound = ""
    typed, value_line, value_column = cells.get("value", ("", line, column))
    if typed:
        said = value_of(typed, words.get("unit", ""))
        if isinstance(said, str):
            yield document.fault(
                value_line, value_column, f"{short(typed)}: {said}", "write it like 0.3, 1.2 kohm or OL"
            )
            return
        value, unit, bound = said
    word, word_line, word_column = cells.get("verdict", ("", line, column))
    if word and word.lower() not in VERDICTS:
        remedy = nearest(word.lower(), VERDICTS) or "write good or wrong, or leave it out"
        yield document.fault(word_line, word_column, f"unknown verdict {short(word)}", remedy)
        return
    if len(found.rows) >= MOST:
        yield document.fault(line, column, f"more than {MOST} rows", "split the file by article")
        return
    verdict = VERDICTS[word.lower()] if word else None
    found.rows.append(Row(name, value, unit, typed, verdict, words.get("note", ""), at_line, at_column, bound))


def _checked(found: ReadingsFile, faults: list[Fault]) -> ReadingsFile:
    document = found.document
    kind = found.head.get("kind", "readings")
    if kind != "readings":
        faults.append(document.fault(1, 1, f"this is a file of kind {short(kind)}", "name a readings file here"))
    for key, allowed in (("article", ("bench", "installed", "aircraft")), ("groups", ("single", "tied")),
                         ("mode", ("first article", "field", "quick")),
                         ("other units", (PLUGGED, UNPLUGGED))):  # fmt: skip
        said = found.head.get(key)
        if said and said not in allowed:
            remedy = nearest(said, allowed) or f"write {', '.join(allowed[:-1])} or {allowed[-1]}"
            faults.append(document.fault(*found.places[key], f"{key} cannot be {short(said)}", remedy))
    if faults:
        raise InputError(faults)
    return found
