"""A report in several forms, one per file: the same findings in the same order in each.

A form is a plain module with ``write(results, rules, colour) -> str``.
"""

from __future__ import annotations

import pkgutil
from importlib import import_module

from harnesscheck.finding import Report
from harnesscheck.report._words import CAUTIONS, Results, Rule, Rules, verdict

__all__ = ["CAUTIONS", "Rule", "as_data", "as_text", "forms", "verdict", "write"]

_PREFIX = "to_"


def forms() -> tuple[str, ...]:
    """All forms, text first, from the folder listing."""
    found = [m.name.removeprefix(_PREFIX) for m in pkgutil.iter_modules(__path__) if m.name.startswith(_PREFIX)]
    return tuple(sorted(found, key=lambda name: (name != "text", name)))


def write(form: str, results: Results, rules: Rules, colour: bool = False) -> str:
    """Reports in one form. Raises ``KeyError`` for a form that does not exist."""
    if form not in forms():
        raise KeyError(form)
    text: str = import_module(f"{__name__}.{_PREFIX}{form}").write(results, rules, colour)
    return text


def as_text(report: Report, colour: bool = False) -> str:
    """One report as a person reads it."""
    from harnesscheck.report.to_text import one

    return one(report, colour)


def as_data(report: Report, file: str) -> dict[str, object]:
    """One report as plain data: what the form ``json`` holds."""
    from harnesscheck.report.to_json import as_data as data

    return data(report, file)
