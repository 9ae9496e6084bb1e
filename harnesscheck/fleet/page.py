"""The verdicts on paper: a text for the desk, CSV for the planner's sheet, JSON for a program."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from harnesscheck.fault import quoted
from harnesscheck.fleet.verdicts import Row, Verdict
from harnesscheck.fleet.working import Fleet
from harnesscheck.paper.rows import columns, csv_bytes
from harnesscheck.report import CAUTIONS

HEADER = (
    "file", "aircraft", "found", "verdict", "what to change", "why not", "not known",
    "differences that matter", "differences that do not matter",
)  # fmt: skip
_SHOWN = 6
"""Reasons printed for one aircraft in the text; the files hold all."""


def as_text(fleet: Fleet) -> str:
    """A line for each aircraft, and below it what to change, why not, what is missing and what differs."""
    return "\n".join(quoted(line) for line in _lines(fleet)) + "\n"


def _lines(fleet: Fleet) -> Iterator[str]:
    yield f"FLEET   {fleet.title}"
    yield f"On its own airframe file ({fleet.own.file}): {fleet.own.verdict}."
    yield from _why(fleet.own)
    yield ""
    table = [("aircraft", "verdict", "differences that matter", "found", "file")]
    for row in fleet.rows:
        count = (
            str(len(row.matter)) if row.verdict is not Verdict.UNKNOWN or row.matter or row.aircraft else "not known"
        )
        table.append((row.aircraft or "?", str(row.verdict), count, row.found or "", row.file))
    yield from columns(table)
    for row in fleet.rows:
        if row.verdict is Verdict.FITS and not row.matter:
            continue
        yield ""
        yield f"{row.aircraft or row.file}: {row.verdict}"
        yield from _why(row)
    yield ""
    for name in fleet.twice:
        yield f"Look at this: more than one file speaks of {name}."
    yield "What matters: a difference that changes an answer of the checks, the copper or the parts at the kit."
    yield from CAUTIONS
    yield ""
    totals = ", ".join(f"{fleet.count(v)} {_WORDS[v]}" for v in Verdict)
    yield f"{len(fleet.rows)} aircraft: {totals}."


_WORDS = {
    Verdict.FITS: "fit as they are",
    Verdict.CHANGE: "fit with change",
    Verdict.NOT: "must not get it",
    Verdict.UNKNOWN: "not known",
}


def _why(row: Row) -> Iterator[str]:
    for word, said in (
        ("why not", row.reasons),
        ("not known", row.missing),
        ("change", row.changes),
        ("matters", row.matter),
    ):
        for text in said[:_SHOWN]:
            yield f"  {word:<11}{text}"
        if len(said) > _SHOWN:
            yield f"  {'':<11}and {len(said) - _SHOWN} more: write them out with -o"
    if row.no_matter:
        count = len(row.no_matter)
        yield f"  {'no matter':<11}{count} other {'difference' if count == 1 else 'differences'}: write out with -o"


def as_csv(fleet: Fleet) -> bytes:
    """One row an aircraft; several reasons in one cell stand on lines of their own."""
    return csv_bytes(HEADER, [[_cell(value) for value in _values(row)] for row in fleet.rows])


def _cell(value: Any) -> str:
    return "\n".join(value) if isinstance(value, tuple) else str(value)


def _values(row: Row) -> tuple[Any, ...]:
    return (
        row.file, row.aircraft, row.found, row.verdict, row.changes, row.reasons, row.missing,
        row.matter, row.no_matter,
    )  # fmt: skip


def as_json(fleet: Fleet) -> bytes:
    """The same with lists, the kit and the totals, and the usual cautions."""
    data = {
        "kit": fleet.kit,
        "title": fleet.title,
        "own airframe": _data(fleet.own),
        "totals": {str(verdict): fleet.count(verdict) for verdict in Verdict},
        "aircraft in more than one file": list(fleet.twice),
        "aircraft": [_data(row) for row in fleet.rows],
        "cautions": list(CAUTIONS),
    }
    return (json.dumps(data, indent=2, ensure_ascii=True) + "\n").encode()


def _data(row: Row) -> dict[str, Any]:
    values = (list(value) if isinstance(value, tuple) else str(value) for value in _values(row))
    return dict(zip(HEADER, values, strict=True))
