"""Limits of checks, and the other limit that a person may set for a job in writing.

A check that has a limit says ``LIMIT = Limit(...)``; in the job file ``limits: {<check>: {value:, reason:, by:}}`` sets
another. Whatever is set is printed in every report and on every sheet.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from harnesscheck import units
from harnesscheck.fault import Fault, InputError
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status


def whole_number(text: str) -> float:
    """A count typed as a limit. Raises ``UnitError``."""
    if not (text.isascii() and text.isdecimal()):
        raise units.UnitError("write a whole number")
    return float(text)


def times(text: str) -> float:
    """A ratio typed as a limit, like ``10 x``. Raises ``UnitError``."""
    number, mark, rest = text.partition(" x")
    if not mark or rest or not number.isascii() or not number.replace(".", "", 1).isdecimal():
        raise units.UnitError("write a ratio, like 10 x")
    return float(number)


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit in SI, as it is printed, its source, and how a person's own value is read."""

    value: float
    text: str
    source: Source
    read: Callable[[str], float]


def limit(harness: Harness, check: str, default: Limit) -> Limit:
    """The limit of a check in this job: the person's own, with the written reason as its source, or the default.

    Raises ``InputError`` when the person's value cannot be read.
    """
    said = harness.overrides.get(check)
    if said is None:
        return default
    try:
        value = default.read(said.value)
    except ValueError as error:
        place = said.place
        fault = Fault(
            place.file, place.line, place.column, f"limit {said.value!r} of {check}: {error}", place.text,
            f"write it like {default.text}",
        )  # fmt: skip
        raise InputError([fault]) from None
    source = Source(said.place.file, Status.STATED, paragraph=f"limit set by {said.by}: {said.reason}")
    return Limit(value, said.value, source, default.read)
