"""The articles: jobs with what must come out of them.

Faults are kept as small edits of the two demo jobs, things not checked as small jobs of their own; both are in
``articles.json``, which ``docs/make_pages.py`` makes of ``harnesses/faulty/`` and ``tests/checks/``. What must come out
is the name of the check a faulty job is filed under, and the counts that the author of a page typed by hand: it is
never what the program said.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from harnesscheck import demo

FILE = Path(__file__).parent / "articles.json"
DEMOS = ("ice-probe", "signal-logger")
JUMPER = "jumper.yaml"


@dataclass(frozen=True)
class Edit:
    """Lines of a file taken out and others put in."""

    file: str
    line: int
    """Where, from 1."""
    old: tuple[str, ...]
    new: tuple[str, ...]


@dataclass(frozen=True)
class Fault:
    """A demo with one mistake."""

    check: str
    """The check that must find it, first and alone."""
    severity: str
    demo: str
    edits: tuple[Edit, ...]

    def files(self) -> dict[str, str]:
        """File name to text. Raises ``ValueError`` when the demo is not the one that the edits were made for."""
        return edited(self.demo, self.edits)


@dataclass(frozen=True)
class Missing:
    """A job in which one check cannot look at everything."""

    check: str
    counts: str
    """What the check must answer: ``1 not checked, 2 passed``."""
    main: str
    texts: dict[str, str]


@dataclass(frozen=True)
class Unreadable:
    """A demo with a slip that makes it unreadable: exit status 2, and the place is named."""

    name: str
    edit: Edit
    line: int
    column: int


UNREADABLE = (
    ("a key that there is not", "revision: ", "revison: ", 1),
    ("a key said twice", "opens: ", "kind: jumper\nopens: ", 1),
    ("a size without its unit", "length: 60 mm", "length: 60", None),
    ("an alias", "title: ", "title: *", 8),
)
"""What is wrong, the text of the demo's jumper file, what is typed instead, and in which column that is (``None``:
where the value stands). The line is counted here, not by the reader."""


@cache
def _data() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(FILE.read_text(encoding="utf-8"))
    return found


def digest() -> str:
    """SHA-256 over the articles and the demos they are edits of."""
    total = hashlib.sha256(FILE.read_bytes())
    for name in DEMOS:
        for file in sorted(demo.folder(name).glob("*.yaml")):
            total.update(hashlib.sha256(file.read_bytes()).digest())
    return total.hexdigest()


def clean(name: str) -> dict[str, str]:
    """The files of a demo."""
    return {file.name: file.read_text(encoding="utf-8") for file in sorted(demo.folder(name).glob("*.yaml"))}


def edited(name: str, edits: tuple[Edit, ...]) -> dict[str, str]:
    """The files of a demo with edits. Raises ``ValueError`` when one does not fit."""
    files = {file: text.split("\n") for file, text in clean(name).items()}
    for edit in sorted(edits, key=lambda edit: (edit.file, -edit.line)):
        lines = files[edit.file]
        start, end = edit.line - 1, edit.line - 1 + len(edit.old)
        if tuple(lines[start:end]) != edit.old:
            raise ValueError(f"{name}/{edit.file}:{edit.line} is not the line that this article changes")
        lines[start:end] = edit.new
    return {file: "\n".join(lines) for file, lines in files.items()}


def faults() -> list[Fault]:
    """A faulty job for every check."""
    return [
        Fault(
            said["check"],
            said["severity"],
            said["demo"],
            tuple(Edit(e["file"], e["line"], tuple(e["old"]), tuple(e["new"])) for e in said["edits"]),
        )
        for said in _data()["faults"]
    ]


def missing() -> list[Missing]:
    """A job for every check in which it must say that it could not look."""
    return [
        Missing(
            said["check"],
            said["counts"],
            said["main"],
            {name: "".join(f"{line}\n" for line in lines) for name, lines in said["files"].items()},
        )
        for said in _data()["missing"]
    ]


def unreadable() -> list[Unreadable]:
    """Jobs that must be refused, with the place to be named. Raises ``ValueError`` when the demo does not suit."""
    lines = clean(DEMOS[0])[JUMPER].split("\n")
    found = []
    for name, old, new, column in UNREADABLE:
        number = next((n for n, line in enumerate(lines, 1) if old in line and not line.startswith("#")), 0)
        if not number:
            raise ValueError(f"no line of the demo holds {old!r}")
        line = lines[number - 1]
        typed = tuple(line.replace(old, new).split("\n"))
        at = column if column is not None else line.index(old) + 1 + len("length: ")
        found.append(Unreadable(name, Edit(JUMPER, number, (line,), typed), number, at))
    return found
