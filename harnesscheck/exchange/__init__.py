"""What other programs are given of a job, one form per file; the folder listing is the list.

A form is a plain module with ``SUFFIX``, ``ABOUT`` (one line for the help) and ``write(job) -> bytes``. Tables are made
of the one file that was named; everything else of the harness it leads to, with the jumper in.
"""

from __future__ import annotations

import pkgutil
from importlib import import_module
from types import ModuleType

from harnesscheck.document import Block
from harnesscheck.fault import Fault, InputError, short
from harnesscheck.job import Job


def names() -> list[str]:
    """All forms, from the folder listing."""
    return sorted(m.name for m in pkgutil.iter_modules(__path__) if not m.name.startswith("_"))


def modules() -> dict[str, ModuleType]:
    """Suffix to form."""
    found = [import_module(f"{__name__}.{name}") for name in names()]
    return {str(module.SUFFIX): module for module in found}


def root_of(job: Job) -> Block:
    """The file that was named, as composed: its own values as text."""
    document = (job.jumper or job.subject).place.document
    assert document is not None  # every harness that is read has its file
    return document.root


def named_files(job: Job) -> list[str]:
    """The other files that the file itself names, as typed."""
    root = root_of(job)
    units = root.get("equipment")
    listed = [root.get("airframe"), *(units.values() if isinstance(units, Block) else ()), root.get("parts")]
    return list(dict.fromkeys(name for name in listed if isinstance(name, str) and name))


def write(job: Job, out: str) -> bytes:
    """A job in the form that the suffix of ``out`` says. Raises ``InputError`` for a suffix without a form."""
    suffix = "." + out.rpartition(".")[2].lower() if "." in out else ""
    known = modules()
    if suffix not in known:
        said = f"a job is not exported as {short(suffix)}" if suffix else "the name has no suffix"
        raise InputError([Fault(out, 1, 1, said, "", f"end the name in {', '.join(sorted(known))}")])
    data: bytes = known[suffix].write(job)
    return data
