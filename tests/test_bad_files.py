"""Bad lists, maps, readings, parts, as-found files, fleets: place, remedy, exit 2, the output folder unchanged."""

from __future__ import annotations

import shutil
from collections import Counter
from pathlib import Path

import bad_input_files
import pytest
import test_bad_input
from bad_input_lists import HEAD, ROW, Bad
from test_bad_input import DEMO, answers_well, faults_of, listing, unmarked

from harnesscheck.cli import main


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the demo with a list that is whole, and what earlier runs wrote: none of it may change."""
    folder = tmp_path / "job"
    shutil.copytree(DEMO, folder)
    (folder / "list.csv").write_text(HEAD + ROW)
    for name in ("out.yaml", "out-map.yaml", "out.csv", "out.svg"):
        (folder / name).write_text("written by an earlier run\n")
    (folder / "sub").mkdir()
    monkeypatch.chdir(folder)
    return folder


def laid(row: Bad, folder: Path) -> str:
    """Write the file of a row. Returns the place where its fault is expected, as the message begins."""
    path, places = folder / row.file, [row.at]
    if isinstance(row.content, str):
        text, marked = unmarked(row.content)
        places = [f":{place}" for place in marked] or places
        if not row.file.startswith("none"):
            path.write_bytes(text.encode("utf-8"))
    elif isinstance(row.content, bytes):
        path.write_bytes(row.content)
    else:
        row.content(path)
    assert len(places) == 1, "one mark a row"
    return "" if places[0] == "*" else f"{row.file}{places[0]}"


@pytest.mark.parametrize("row", bad_input_files.ROWS, ids=str)
def test_bad_file(row: Bad, job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    place = laid(row, job)
    before = listing(job.parent)
    for command in row.commands:
        status = main(command.format(row.file).split(" "))
        out, err = capsys.readouterr()
        assert status == 2, (command, out, err)
        assert not out or out.startswith("Understood:"), (command, out)  # the account of a list, row by row
        if "recheck" not in command:  # which runs without the rest of the program, and speaks for itself
            answers_well(err)
        first = err if "recheck" in command else next((f for f in faults_of(err) if f.startswith(place)), "")
        assert first.startswith(place), f"{command}: expected {place}\n{err}"
        assert row.says in first and row.do in first.partition("do: ")[2], f"{command}\n{err}"
        assert listing(job.parent) == before, command


def test_the_tables_are_long_enough_and_cover_every_kind() -> None:
    rows = bad_input_files.ROWS
    assert len({row.name for row in rows}) == len(rows)
    assert len(rows) >= 90
    assert len(rows) + len(test_bad_input.ROWS) + len(test_bad_input.USAGE) >= 250
    kinds = Counter(Path(row.file).suffix for row in rows)
    assert all(kinds[suffix] >= 2 for suffix in (".csv", ".xlsx", ".ods", ".md", ".yaml", ".json")), kinds


def test_the_output_that_is_compared_is_written_by_the_same_commands(job: Path) -> None:
    """The commands of the rows write when nothing is wrong: an unchanged folder says something."""
    before = listing(job.parent)
    assert main(["import", "list.csv", "-o", "out.yaml", "--write-map", "out-map.yaml"]) in (0, 1)
    assert main(["sheet", "cut-list", "jumper.yaml", "-o", "out.csv"]) == 0
    assert main(["draw", "airframe.yaml", "-o", "out.svg"]) == 0
    changed = {name for name, data in listing(job.parent).items() if before.get(name) != data}
    assert changed == {"job/out.yaml", "job/out-map.yaml", "job/out.csv", "job/out.svg"}


def test_a_limit_that_cannot_be_read_is_a_fault_of_the_file(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Once a finding that the check broke down: the message sent people to us instead of to their file."""
    path = job / "jumper.yaml"
    path.write_text(path.read_text().replace("value: 40 mm", "value: 1e9 mm", 1))
    line = path.read_text()[: path.read_text().index("  splice-near-connector:")].count("\n") + 1
    assert main(["check", "jumper.yaml"]) == 2
    err = capsys.readouterr().err
    assert err.startswith(f"jumper.yaml:{line}:3: limit '1e9 mm' of splice-near-connector"), err
    answers_well(err)
