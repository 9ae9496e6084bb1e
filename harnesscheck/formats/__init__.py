"""The input formats, one per file; the folder listing is the list.

A format is a plain module with ``reads(path) -> bool`` and ``load(path, name, on) -> Job``; modules that start with an
underscore are helpers.
"""

from __future__ import annotations

import pkgutil
from importlib import import_module
from pathlib import Path

from harnesscheck.document import file_kind, no_collection
from harnesscheck.fault import Fault, InputError
from harnesscheck.job import Job


def names() -> list[str]:
    """All format names, from the folder listing."""
    return sorted(m.name for m in pkgutil.iter_modules(__path__) if not m.name.startswith("_"))


def load(path: Path, name: str, on: tuple[Path, str] | None = None) -> Job:
    """Read a file with the format that knows it; ``on`` puts a kit on that aircraft. Raises ``InputError``."""
    if file_kind(path) == "folder":
        raise InputError([Fault(name, 1, 1, "this is a folder, not a file", "", "name the jumper file in it")])
    for format_name in names():
        found = import_module(f"{__name__}.{format_name}")
        if found.reads(path):
            with no_collection():
                job: Job = found.load(path, name, on)
            return job
    remedy = "give a file whose name ends in .yaml, or a list: .csv, .tsv, .xlsx, .ods, .md or .txt"
    raise InputError([Fault(name, 1, 1, f"no reader for a file called {path.name!r}", "", remedy)])


def editor_schema() -> dict[str, object]:
    """The YAML files as JSON Schema (draft 2020-12)."""
    from harnesscheck.formats._editor import editor_schema as made

    return made()
