"""The order in which a file lists its connectors, wires and circuits is no matter: every page's job, turned round.

Expected: the counts that the author of the page typed. What comes first in a file comes last here, so an answer that
rests on what was looked at before it shows.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pages
import pytest

from harnesscheck import checks

FOLDER = Path(__file__).parent / "checks"


def turned(text: str) -> Iterator[str]:
    """A file with the entries of each top-level block in the opposite order; what is written on one line stays."""
    entries: list[list[str]] = []
    for line in [*text.splitlines(keepends=True), "end\n"]:
        indent = len(line) - len(line.lstrip())
        if indent == 2 and not line.lstrip().startswith("- "):
            entries.append([line])
        elif indent and entries:
            entries[-1].append(line)
        else:
            yield from (part for entry in reversed(entries) for part in entry)
            entries.clear()
            yield from [line] if line != "end\n" else []


def test_turned() -> None:
    text = "a: 1\nb:\n  c: 1\n  d:\n    e: 2\n  f: {}\ng:\n  h: 1\n"
    assert "".join(turned(text)) == "a: 1\nb:\n  f: {}\n  d:\n    e: 2\n  c: 1\ng:\n  h: 1\n"


@pytest.mark.parametrize("name", checks.names())
def test_the_order_in_a_file_is_no_matter(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    for answer in pages.answers(FOLDER / f"{name}.md"):
        for old in tmp_path.iterdir():
            old.unlink()
        answer.files = {file: "".join(turned(text)) for file, text in answer.files.items()}
        assert pages.counted(pages.run(answer, name, tmp_path)) == answer.counts, answer.heading
