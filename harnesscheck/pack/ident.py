"""The pack id: a short name for exactly these inputs, read by exactly this program, with exactly these options.

It is made of what the pack is made from, not of the documents, so that each document can carry it.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from harnesscheck.finding import Finding, Report
from harnesscheck.job import Job
from harnesscheck.sheets import Wish
from harnesscheck.version import __version__

LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Base 32 without I, L, O and U, which are misheard or misread (common practice)."""
GROUPS, LONG = 3, 4
"""Three groups of four: 60 bits, short enough for the telephone."""
PATTERN = re.compile(rf"[{LETTERS}]{{{LONG}}}(?:-[{LETTERS}]{{{LONG}}}){{{GROUPS - 1}}}")
_PROGRAM = (".py", ".yaml", ".ttf")


def basis(job: Job, wish: Wish, report: Report) -> dict[str, Any]:
    """What the pack id stands for: the inputs, the program, the options, what was decided, found and not checked."""
    harness = job.subject
    return {
        "inputs": [{"name": file.name, "sha256": file.sha256} for file in job.files],
        "previous inputs": [
            {"name": file.name, "sha256": file.sha256} for file in (wish.previous.files if wish.previous else ())
        ],
        "program": {"name": "harnesscheck", "version": __version__, "sha256": program()},
        "options": {"file": job.path.name, "kits": wish.kits, "previous": wish.previous is not None},
        "overrides": [str(said) for said in harness.overrides.values()],
        "waivers": [str(said) for said in harness.waivers],
        "findings": [_finding(finding) for finding in report.findings],
        "not checked": [f"{n.check}: {n.place.label or n.place.file}: {n.missing}" for n in report.not_checked],
        "checks with nothing to look at": sorted(name for name, passed in report.passed.items() if not passed),
    }


def _finding(finding: Finding) -> str:
    word = finding.severity.word.lower() if finding.severity is not None else "note"
    tail = f" (waived: {finding.waived})" if finding.waived else ""
    return f"{word} {finding.check}: {finding.headline}{tail}"


def pack_id(said: Mapping[str, Any]) -> str:
    """The id of a basis, like ``7K2M-9QXD-44TB``."""
    text = json.dumps(said, sort_keys=True, ensure_ascii=True, separators=(",", ":"))
    number = int.from_bytes(hashlib.sha256(text.encode("ascii")).digest(), "big")
    letters = []
    for _ in range(GROUPS * LONG):
        number, place = divmod(number, len(LETTERS))
        letters.append(LETTERS[place])
    return "-".join("".join(letters[at : at + LONG]) for at in range(0, len(letters), LONG))


@cache
def program() -> str:
    """SHA-256 over the files of this program, its parts data and its font: a version alone does not tell two apart."""
    root = Path(__file__).resolve().parent.parent
    total = hashlib.sha256()
    for path in sorted(root.rglob("*"), key=lambda path: path.relative_to(root).as_posix()):
        # The demo's files are inputs, not a part of the program.
        if path.suffix in _PROGRAM and "demo" not in path.relative_to(root).parts[:-1]:
            name = path.relative_to(root).as_posix()
            total.update(f"{name}\0{hashlib.sha256(path.read_bytes()).hexdigest()}\n".encode())
    return total.hexdigest()
