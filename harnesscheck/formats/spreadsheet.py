"""From-to lists and pin tables as people keep them (CSV, XLSX, ODS, Markdown, text) to a ``Job``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from harnesscheck.fault import Fault, InputError
from harnesscheck.job import Job

if TYPE_CHECKING:
    from harnesscheck.formats._lists.mapping import Mapping
    from harnesscheck.formats._lists.reader import Imported

SUFFIXES = (".csv", ".tsv", ".xlsx", ".ods", ".md", ".txt")


def reads(path: Path) -> bool:
    """True when this format is the one for ``path``."""
    return path.suffix.lower() in SUFFIXES


def load(path: Path, name: str, on: tuple[Path, str] | None = None) -> Job:
    """Read a list as an airframe, as far as it tells one. Raises ``InputError`` when there is nothing to read."""
    if on is not None:
        raise InputError(
            [Fault(name, 1, 1, "this is a list: only a kit is put on an aircraft", "", "name the jumper file")]
        )
    return job_of(understood(path, name), path, name)


def understood(path: Path, name: str, mapping: Mapping | None = None) -> Imported:
    """The list with the account of its rows. Raises ``InputError``."""
    from harnesscheck.formats._lists.cells import refused
    from harnesscheck.formats._lists.reader import read_list

    if not reads(path):
        remedy = "give a file whose name ends in .csv, .tsv, .xlsx, .ods, .md or .txt"
        raise refused(name, f"no reader of lists for a file called {path.name!r}", remedy)
    return read_list(path, name, mapping)


def job_of(imported: Imported, path: Path, name: str) -> Job:
    """The list as a job of kind airframe, with what was left out of it. Raises ``InputError``."""
    from harnesscheck.formats.harness_yaml import airframe_of

    document, account = imported.document, imported.account
    if not imported.draft.connectors and not imported.draft.wires:
        first = next(iter(account.left), None)
        at = (first.line, first.column) if first else (1, 1)
        said = (
            f"no wire and no cavity was understood in this list ({first.reason})"
            if first
            else "no list is in this file"
        )
        remedy = "see what was read: harnesscheck import, and state the layout with --map"
        raise InputError([document.fault(*at, said, remedy)])
    harness = airframe_of(document, path.resolve().parent)
    return Job(path, name, harness, airframe=harness, rows=account.line())
