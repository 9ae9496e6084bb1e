"""The sheets, one output per file; the folder listing is the list.

A sheet is a plain module: a docstring whose first line is its title, ``FORMS`` (what it can be written as, the first
is what a terminal shows or the default file), and ``render(job, form) -> bytes``. A sheet never checks; where it shows
findings they are given to it.

Most sheets only say what stands on them: ``content(job, wish) -> Content`` instead of ``FORMS`` and ``render``; every
form in ``paper/`` can then be made of them.

A drawing on paper of its own has ``pages(job, wish, stamp)``: finished pages, frame and title block
included. It can be written in the forms of ``paper/`` that are pages.
"""

from __future__ import annotations

import pkgutil
from collections.abc import Collection
from dataclasses import dataclass
from importlib import import_module
from inspect import cleandoc
from types import ModuleType

from harnesscheck import paper
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Content, Stamp, Words
from harnesscheck.paper.svg import Canvas
from harnesscheck.unread import warning


@dataclass(frozen=True, slots=True)
class Wish:
    """What a person may choose about a sheet; each sheet takes what it knows and leaves the rest."""

    kits: int = 1
    """How many kits are built at once."""
    mode: str = ""
    """Which of the sheet's own variants; empty: its usual one."""
    previous: Job | None = None
    """The revision before this one, for a sheet that says what has changed."""


_USUAL = Wish()


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
    found = module(name)
    if hasattr(found, "content"):
        return paper.forms()
    return paper.page_forms() if hasattr(found, "pages") else tuple(found.FORMS)


def content(name: str, job: Job, wish: Wish = _USUAL) -> Content:
    """What stands on a sheet. Raises ``KeyError`` for a sheet that is not made of blocks."""
    found = module(name)
    if not hasattr(found, "content"):
        raise KeyError(name)
    result: Content = found.content(job, wish)
    return result


def not_needed(name: str, heading: str, why: str, landscape: bool = False) -> Content:
    """What stands on a sheet that a job has no use for: its title, and why."""
    return Content(name, heading, (Words(f"Not applicable: {why}."),), landscape)


def pages(name: str, job: Job, wish: Wish = _USUAL, stamped: Stamp | None = None) -> Collection[Canvas]:
    """The pages of a sheet on paper, to be gone through once. Raises ``KeyError`` for a sheet that has none."""
    from harnesscheck.paper.pages import Laid

    found = module(name)
    if hasattr(found, "content"):
        return Laid(found.content(job, wish), stamped or stamp(job))
    if not hasattr(found, "pages"):
        raise KeyError(name)
    result: Collection[Canvas] = found.pages(job, wish, stamped or stamp(job))
    return result


def stamp(job: Job) -> Stamp:
    """The title block of a sheet that belongs to no pack."""
    from harnesscheck.version import __version__

    harness = job.subject
    made_with, said = f"harnesscheck {__version__}", warning(job.unread)
    return Stamp(harness.title, harness.revision, job.path.name, harness.note, "", made_with, warning=said)


def render(name: str, job: Job, form: str, wish: Wish = _USUAL, stamped: Stamp | None = None) -> bytes:
    """One sheet as bytes. Raises ``KeyError`` for an unknown sheet or a form it does not have."""
    found = module(name)
    if form not in forms(name):
        raise KeyError(form)
    if hasattr(found, "content"):
        return paper.write(found.content(job, wish), form, stamped or stamp(job))
    if hasattr(found, "pages"):
        return paper.write_pages(list(pages(name, job, wish, stamped)), form, title(name), stamped or stamp(job))
    result: bytes = found.render(job, form)
    return result
