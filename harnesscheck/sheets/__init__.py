"""The sheets, one output per file; the folder listing is the list.

A sheet is a plain module: a docstring whose first line is its title, ``FORMS`` (what it can be written as, the first
is what a terminal shows or the default file), and ``render(job, form) -> bytes``. A sheet never checks; where it shows
findings they are given to it.
"""

from __future__ import annotations

import pkgutil
from importlib import import_module
from inspect import cleandoc
from types import ModuleType

from harnesscheck.job import Job


def names() -> list[str]:
    """All sheet names, from the folder listing."""
    return sorted(m.name.replace("_", "-") for m in pkgutil.iter_modules(__path__) if not m.name.startswith("_"))


def module(name: str) -> ModuleType:
    """The module of one sheet. Raises ``KeyError`` when there is no such sheet."""
    if name not in names():
        raise KeyError(name)
    return import_module(f"{__name__}.{name.replace('-', '_')}")


def title(name: str) -> str:
    """The first line of a sheet's docstring."""
    return cleandoc(module(name).__doc__ or "").partition("\n")[0]


def forms(name: str) -> tuple[str, ...]:
    """What a sheet can be written as; the first is the default."""
    return tuple(module(name).FORMS)


def render(name: str, job: Job, form: str) -> bytes:
    """One sheet as bytes. Raises ``KeyError`` for an unknown sheet or a form it does not have."""
    found = module(name)
    if form not in found.FORMS:
        raise KeyError(form)
    result: bytes = found.render(job, form)
    return result
