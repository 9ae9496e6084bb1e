"""Small changes to the jobs of the pages in ``tests/checks/``: the rarer answers of each check, counted by hand.

A case is a page, the number of its job (0: the base job; others as on the page), what is exchanged in which file, the
counts a fabricator would expect, and words of the answer.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pages
from ruamel.yaml import YAML

import harnesscheck as hc
from harnesscheck.finding import Report

FOLDER = Path(__file__).parent / "checks"
AIR, BOX, KIT, PARTS = "airframe.yaml", "box.yaml", "jumper.yaml", "parts.yaml"
Swap = tuple[str, str, str]
"""File, text that stands in it, text instead."""


@dataclass(frozen=True)
class Case:
    """One changed job and its answer."""

    page: str
    swaps: tuple[Swap, ...]
    counts: str
    words: str = ""
    job: int = 0

    @property
    def name(self) -> str:
        """For the list of tests."""
        return f"{self.page}: {self.words or self.counts}"[:70]


def files(case: Case) -> dict[str, str]:
    """The files of a case. Raises ``ValueError`` when a text to exchange is not there."""
    found = dict(pages.answers(FOLDER / f"{case.page}.md")[case.job].files)
    for file, old, new in case.swaps:
        found.setdefault(file, "")
        if old not in found[file]:
            raise ValueError(f"{case.page} {file}: no {old!r}")
        found[file] = found[file].replace(old, new) if old else found[file] + new
    return found


def listed() -> list[Case]:
    """The cases of ``check_cases_*.yaml``."""
    found = []
    for file in sorted(Path(__file__).parent.glob("check_cases_*.yaml")):
        for row in YAML(typ="safe").load(file.read_text(encoding="utf-8")):
            swaps = tuple((str(name), str(old), str(new)) for name, old, new in row.pop("swaps"))
            found.append(Case(**row, swaps=swaps))
    return found


def answered(case: Case) -> Report:
    """Write the files of a case into the working directory, and run its check."""
    found = files(case)
    for name, text in found.items():
        Path(name).write_text(text, encoding="utf-8")
    main = next(name for name in (KIT, AIR, BOX) if name in found)
    return hc.check(hc.load(main), only=[case.page])


def said(report: Report) -> str:
    """All words of the answers, one line each."""
    lines = [f"{f.headline} | {f.value} | {f.limit} | {f.remedy}" for f in report.findings]
    lines += [f"{n.place.label}: {n.missing} | {n.remedy}" for n in report.not_checked]
    return "\n".join(lines)
