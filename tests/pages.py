"""Literate pages: prose with small YAML files, changes to them, and the exact printed answers of one check.

A page is ordinary Markdown. Four kinds of fenced block mean something, by the words after the fence:

* ``yaml NAME``   a whole file of the job; those above the first answer are the page's base job,
* ``diff NAME``   changes to a file of the base job, for one scenario: lines starting with a blank stay, ``-`` go, ``+``
  come; blank lines part the changes, and the lines that stay or go must stand in the file exactly once,
* ``text COUNTS`` the answer: what the check prints. COUNTS is what the author of the page expects, typed by hand and
  never rewritten: ``1 stop, 2 not checked, 3 passed``,
* anything else is left alone.

Every scenario starts again from the base job. The printed answers are own output (regression): they were read by a
person when they were made, and ``pytest --rewrite`` makes them again. The counts are not own output.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import harnesscheck as hc
from harnesscheck import report
from harnesscheck.finding import Report

FENCE = re.compile(r"^```(\w*) ?(.*)$")


@dataclass
class Answer:
    """One expected answer of a page and the job that leads to it."""

    line: int
    """Line of the fence, from 1."""
    end: int
    """Line of the closing fence."""
    counts: str
    printed: str
    files: dict[str, str] = field(default_factory=dict)
    heading: str = ""


def answers(page: Path) -> list[Answer]:
    """Every answer of a page. Raises ``ValueError`` with file and line when the page cannot be followed."""
    found: list[Answer] = []
    base: dict[str, str] = {}
    files: dict[str, str] = {}
    heading = ""
    lines = page.read_text(encoding="utf-8").splitlines()
    number = 0
    while number < len(lines):
        number += 1
        line = lines[number - 1]
        heading = line.lstrip("# ") if line.startswith("#") else heading
        fence = FENCE.match(line)
        if not fence:
            continue
        start = number
        body: list[str] = []
        while number < len(lines) and lines[number] != "```":
            body.append(lines[number])
            number += 1
        number += 1
        kind, words = fence.groups()
        text = "".join(f"{each}\n" for each in body)
        if kind == "yaml":
            files[words] = text
        elif kind == "diff":
            if words not in files:
                raise ValueError(f"{page.name}:{start}: no file {words!r} above")
            files[words] = changed(files[words], body, f"{page.name}:{start}")
        elif kind == "text":
            if not found:
                base = dict(files)
            found.append(Answer(start, number, words, text, dict(files), heading))
            files = dict(base)
    if not found:
        raise ValueError(f"{page.name}: no answer on this page")
    return found


def changed(text: str, block: list[str], where: str) -> str:
    """A file with the changes of one ``diff`` block."""
    for change in "\n".join(block).split("\n\n"):
        lines = change.split("\n")
        odd = [line for line in lines if line[:1] not in (" ", "-", "+")]
        if odd:
            raise ValueError(f"{where}: a change is neither kept, - nor +: {odd[0]!r}")
        old = "".join(f"{line[1:]}\n" for line in lines if line[0] in " -")
        new = "".join(f"{line[1:]}\n" for line in lines if line[0] in " +")
        count = f"\n{text}".count(f"\n{old}") if old else 0
        if count != 1:
            raise ValueError(f"{where}: these lines stand in the file {count} times, not once:\n{old}")
        text = f"\n{text}".replace(f"\n{old}", f"\n{new}")[1:]
    return text


def main_file(answer: Answer) -> str:
    """The file of a job that leads to the others."""
    return next(name for name in ("jumper.yaml", "airframe.yaml", "equipment.yaml") if name in answer.files)


def write(answer: Answer, folder: Path) -> None:
    """Write the job of an answer into a folder."""
    for name, text in answer.files.items():
        (folder / name).write_text(text, encoding="utf-8")


def run(answer: Answer, check: str, folder: Path) -> Report:
    """Write the job into ``folder``, which is the working directory, and run one check on it."""
    write(answer, folder)
    return hc.check(hc.load(main_file(answer)), only=[check])


def printed(result: Report) -> str:
    """The part of the printed report that answers: without title, cautions and verdict."""
    text = report.as_text(result)
    return text[text.index("\n\n") + 2 : text.index(report.CAUTIONS[0])].rstrip("\n") + "\n"


def counted(result: Report) -> str:
    """``1 stop, 2 not checked, 3 passed``; what there is none of is left out."""
    severities = Counter((f.severity.word if f.severity else "").lower() for f in result.findings)
    counts = [f"{severities[word]} {word}" for word in ("stop", "caution", "note") if severities[word]]
    counts += [f"{len(result.not_checked)} not checked"] if result.not_checked else []
    counts += [f"{result.items_passed} passed"] if result.items_passed else []
    return ", ".join(counts) or "nothing to look at"


def rewritten(page: Path, new: dict[int, str]) -> Iterator[str]:
    """The lines of a page with the answers replaced; ``new`` is by line of the fence."""
    lines = page.read_text(encoding="utf-8").splitlines()
    ends = {answer.line: answer.end for answer in answers(page)}
    number = 0
    while number < len(lines):
        yield lines[number]
        number += 1
        if number in new:
            yield from new[number].splitlines()
            number = ends[number] - 1
