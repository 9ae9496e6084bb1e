"""The families of layouts, one per file; the folder listing is the list.

A layout is a plain module with ``TITLE`` (what the person reads), ``ORDER`` (who is asked first),
``fits(table, draft)``, and ``take(table, row, draft)``, which enters one row and returns what it became, or raises
``NotPlainError``. One that has ``prepare(table, draft)`` looks at the whole table first.
"""

from __future__ import annotations

import pkgutil
from functools import cache
from importlib import import_module
from types import ModuleType


@cache
def every() -> tuple[ModuleType, ...]:
    """All layouts, in the order in which they are asked."""
    found = [import_module(f"{__name__}.{m.name}") for m in pkgutil.iter_modules(__path__) if m.name[0] != "_"]
    return tuple(sorted(found, key=lambda module: (module.ORDER, module.__name__)))
