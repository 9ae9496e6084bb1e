"""Files typed in a test. A ``§`` stands before what a fault is about: its place is counted in the text."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import harnesscheck as hc
from harnesscheck.document import parse
from harnesscheck.formats.harness_yaml import airframe_of
from harnesscheck.harness import Harness

MARK = "§"
Said = tuple[str, str]
"""Message and remedy."""
HEAD = "kind: airframe\ntitle: t\n"
"""Two lines that every airframe file needs."""


def places(text: str) -> tuple[str, list[tuple[int, int]]]:
    """The text without its marks, and the line and column (from 1) of what stands behind each of them."""
    found = []
    for number, line in enumerate(text.split("\n"), 1):
        parts = line.split(MARK)
        found += [(number, len("".join(parts[:count])) + 1) for count in range(1, len(parts))]
    return text.replace(MARK, ""), found


def refused(read: Callable[[], Any]) -> list[tuple[str, int, int, str, str]]:
    """The faults that reading ends with: file, line, column, message, remedy."""
    try:
        read()
    except hc.InputError as error:
        return [(f.file, f.line, f.column, f.message, f.remedy) for f in error.faults]
    return []


def expected(files: Mapping[str, str], *said: Said) -> list[tuple[str, int, int, str, str]]:
    """Each mark of the files (by name, then by place) with what is to be said there."""
    marks = [(name, *mark) for name in sorted(files) for mark in places(files[name])[1]]
    assert len(marks) == len(said), "as many marks as faults"
    return [(*mark, *words) for mark, words in zip(marks, said, strict=True)]


def same(found: object, wanted: object) -> None:
    """Both are equal, or both are shown."""
    assert found == wanted, f"found\n{found}\nwanted\n{wanted}"


def airframe(text: str) -> Harness:
    """An airframe typed without its head, and without a file."""
    return airframe_of(parse(HEAD + places(text)[0], "a.yaml"), Path())


def check_airframe(text: str, *said: Said) -> None:
    """The airframe is refused with these words at the marks, and with nothing else."""
    same(refused(lambda: airframe(text)), expected({"a.yaml": HEAD + text}, *said))


def written(folder: Path, files: Mapping[str, str]) -> None:
    """Write the files without their marks."""
    for name, text in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(places(text)[0], encoding="utf-8")


def check_job(folder: Path, files: Mapping[str, str], *said: Said, main: str = "jumper.yaml") -> None:
    """The job is refused with these words at the marks of its files; ``folder`` is the working directory."""
    written(folder, files)
    same(refused(lambda: hc.load(main)), expected(files, *said))
