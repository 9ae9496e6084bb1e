"""What a sheet is made of, and the forms it can be written in: one form per file.

A sheet says what stands on it as ``blocks.Content``; ``write`` makes any form of that: text for a terminal, CSV and
XLSX for a machine, pages as SVG, PNG and PDF, a part of an HTML page. A form is a plain module with ``SUFFIX`` and
``write(content, stamp) -> bytes``; one that is made of pages has ``drawn(pages, title, stamp) -> bytes`` as well, for
drawings that bring their own.
"""

from __future__ import annotations

import pkgutil
from collections.abc import Sequence
from importlib import import_module

from harnesscheck.paper.blocks import Content, Stamp
from harnesscheck.paper.svg import Canvas

_PREFIX = "as_"


def forms() -> tuple[str, ...]:
    """All forms, text first, from the folder listing."""
    found = [m.name.removeprefix(_PREFIX) for m in pkgutil.iter_modules(__path__) if m.name.startswith(_PREFIX)]
    return tuple(sorted(found, key=lambda name: (name != "text", name)))


def write(content: Content, form: str, stamp: Stamp) -> bytes:
    """A sheet in one form. Raises ``KeyError`` for a form that does not exist."""
    if form not in forms():
        raise KeyError(form)
    result: bytes = import_module(f"{__name__}.{_PREFIX}{form}").write(content, stamp)
    return result


def page_forms() -> tuple[str, ...]:
    """The forms that are made of pages, SVG first: a drawing is written as SVG unless somebody asks for more."""
    names = [name for name in forms() if hasattr(import_module(f"{__name__}.{_PREFIX}{name}"), "drawn")]
    return tuple(sorted(names, key=lambda name: (name != "svg", name)))


def write_pages(pages: Sequence[Canvas], form: str, title: str, stamp: Stamp) -> bytes:
    """Finished pages in one form. Raises ``KeyError`` for a form that is not made of pages."""
    if form not in page_forms():
        raise KeyError(form)
    result: bytes = import_module(f"{__name__}.{_PREFIX}{form}").drawn(pages, title, stamp)
    return result
