"""The commands, one per file; the folder listing is the list.

A command is a plain module: a docstring whose first line is its help, ``EXAMPLES`` (each one is run by the tests),
``options(parser)`` and ``run(arguments) -> int``. What costs time to import is imported inside ``run``.
"""

from __future__ import annotations

import pkgutil
from importlib import import_module
from types import ModuleType


def names() -> list[str]:
    """All command names, from the folder listing."""
    return sorted(m.name for m in pkgutil.iter_modules(__path__) if not m.name.startswith("_"))


def module(name: str) -> ModuleType:
    """The module of one command."""
    return import_module(f"{__name__}.{name}")
