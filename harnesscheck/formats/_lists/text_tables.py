"""Markdown and plain text into rows: pipe tables, columns that blanks or tabs line up, headings, list items."""

from __future__ import annotations

import re

from harnesscheck.formats._lists.cells import Row, cell

_HEADING = re.compile(r"(#{1,6})\s+(.*)")
_RULE = re.compile(r"[\s|:=+\-_*]+")
_SPANS = re.compile(r"[=\-]{2,}")
_LINK = re.compile(r"!?\[([^\]]*)\]\([^)]*\)")
_DRESS = re.compile(r"\*\*\*?|(?<![\w*])\*(?=\S)|(?<=\S)\*(?![\w*])|`|</?(?:b|i|u|em|strong|sub|sup|code|span)\b[^>]*>")
_BREAK = re.compile(r"<br\s*/?>", re.IGNORECASE)
_WITHIN = re.compile(r"\S\S")
"""Both sides of a cut inside a word."""
_ESCAPED = re.compile(r"\\([\\`*_{}\[\]()#+\-.!|<>~])")


def undressed(text: str) -> tuple[str, bool]:
    r"""Text without bold, code, links and the like, and whether it was struck through.

    >>> undressed("**P1** `+28V`"), undressed("~~W7~~"), undressed(r"\[Available\]")
    (('P1 +28V', False), ('W7', True), ('[Available]', False))
    """
    struck = bool(re.search(r"~~.+~~|<(?:s|del|strike)>", text))
    text = re.sub(r"~~|</?(?:s|del|strike)>", "", text)
    text = _DRESS.sub("", _LINK.sub(r"\1", _BREAK.sub("\n", text)))
    return _ESCAPED.sub(r"\1", text).strip(), struck


def text_rows(text: str) -> list[Row]:
    """The rows of a Markdown or text file; one row for each line that is not blank or a mere rule."""
    rows: list[Row] = []
    lines = text.split("\n")
    spans: list[tuple[int, int]] = []
    fenced = False
    for number, line in enumerate(lines, 1):
        stripped = line.strip()
        if stripped.startswith(("```", "~~~")):
            fenced, spans = not fenced, []
            rows.append(Row(number, []))
            continue
        if not stripped:
            rows.append(Row(number, []))
            spans = []
            continue
        if _RULE.fullmatch(stripped) and (len(stripped) > 2 or "|" in stripped):
            # A rule under a header of lined-up columns says where the columns are.
            spans = [m.span() for m in _SPANS.finditer(line.expandtabs(8))] if "|" not in line else []
            rows.append(Row(number, [cell("", number, 1)]))
            if len(spans) > 1 and len(rows) > 1 and rows[-2]:
                rows[-2] = _cut(lines[number - 2], number - 1, spans)
            continue
        heading = _HEADING.fullmatch(stripped)
        if heading and not fenced:
            said, struck = undressed(heading[2].rstrip().rstrip("#"))
            rows.append(Row(number, [cell(said, number, line.index("#") + 1, struck=struck)], True, len(heading[1])))
        elif "|" in stripped and (stripped.startswith("|") or stripped.count("|") >= 2 or _in_table(lines, number)):
            rows.append(_piped(line, number))
        elif len(spans) > 1:
            rows.append(_cut(line, number, spans))
        else:
            rows.append(_columns(line, number))
    return rows


def _in_table(lines: list[str], number: int) -> bool:
    near = lines[max(0, number - 3) : number - 1] + lines[number : number + 2]
    return any("|" in line and re.search(r"-{2,}", line) for line in near)


def _piped(line: str, number: int) -> Row:
    """One line of a pipe table; a bar behind a backslash belongs to the text."""
    parts, start = [], 0
    for found in re.finditer(r"(?<!\\)\|", line):
        parts.append((start, line[start : found.start()]))
        start = found.end()
    parts.append((start, line[start:]))
    if not parts[0][1].strip():
        parts = parts[1:]
    while parts and not parts[-1][1].strip() and line.rstrip().endswith("|"):
        parts = parts[:-1]
        if not line.rstrip().endswith("||"):
            break
    cells = []
    for at, part in parts:
        said, struck = undressed(part)
        cells.append(cell(said, number, at + len(part) - len(part.lstrip()) + 1, struck=struck))
    return Row(number, cells)


def _cut(line: str, number: int, spans: list[tuple[int, int]]) -> Row:
    """A line of lined-up columns: cut where the columns of the rule begin, never inside a word."""
    long = line.expandtabs(8)
    starts = [start for start, _ in spans]
    cells = []
    edges = [0]
    for start in starts[1:]:
        edge = start
        while edge > edges[-1] and long[edge - 1 : edge].strip():
            edge -= 1
        if edge <= edges[-1]:  # the word begins where the column before does, and belongs to it
            edge = max(start, edges[-1])
            while _WITHIN.fullmatch(long, edge - 1, edge + 1):
                edge += 1
        edges.append(edge)
    for index, start in enumerate(edges):
        end = edges[index + 1] if index + 1 < len(edges) else len(long)
        part = long[start:end]
        said, struck = undressed(part)
        cells.append(cell(said, number, start + 1 + len(part) - len(part.lstrip()), struck=struck))
    return Row(number, cells)


def _columns(line: str, number: int) -> Row:
    """A line without bars or a rule above it: tabs, or two and more blanks, part the columns."""
    indent = len(line) - len(line.lstrip())
    parts = [(m.start(), m[0]) for m in re.finditer(r"(?:[^\s]|[ ](?![ \t]))+", line[indent:])]
    cells = []
    for at, part in parts:
        said, struck = undressed(part)
        cells.append(cell(said, number, indent + at + len(part) - len(part.lstrip()) + 1, struck=struck))
    return Row(number, cells, bare=len(cells) == 1)
