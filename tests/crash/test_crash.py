"""The short form of ``python -m tests.crash --whole``, and that it would see a writer that tears."""

from __future__ import annotations

import fcntl
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from harnesscheck import output, pack
from harnesscheck.fault import InputError
from harnesscheck.pack import folder as writing
from tests.crash import failures, kills
from tests.crash.__main__ import bad, small

ROOT = Path(__file__).parents[2]


def test_killed_failed_and_at_once() -> None:
    """In a process of its own: it forks, and that must not meet the threads of other tests."""
    done = subprocess.run([sys.executable, "-m", "tests.crash"], cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    lines = [line for line in done.stdout.splitlines() if line.startswith("good ")]
    assert len(lines) == 13 and "BAD" not in done.stdout
    assert any("killed before every step: steps 4" in line for line in lines)


def test_a_writer_that_tears_would_be_seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def plain(path: Path, data: bytes) -> None:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        try:
            os.write(handle, data)
        except OSError as error:
            raise OSError(error.errno, error.strerror, str(path)) from None
        finally:
            os.close(handle)

    monkeypatch.setattr(output, "write_whole", plain)
    seen = failures.file_steps(tmp_path, forever=False)
    assert seen["torn"] >= 1 and bad(seen)


def test_every_mixture_of_two_packs_is_detected(tmp_path: Path) -> None:
    """One file of the one pack among the files of the other, each file in turn, the manifest too."""
    one, two = small(0), small(1)
    assert set(one) == set(two) and all(one[name] != two[name] for name in one)
    for name in one:
        place = tmp_path / "kit"
        shutil.rmtree(place, ignore_errors=True)
        writing.put(place, one)
        assert pack.verify(place).faults == ()
        (place / name).write_bytes(two[name])
        assert pack.verify(place).faults, name


def test_what_killed_runs_left_is_cleared_away_and_nothing_else(tmp_path: Path) -> None:
    target = tmp_path / "cut.csv"
    stale = output.beside(target, ".tmp")
    stale.write_bytes(b"half")
    others = [".cut.csv.abc.tmp", output.beside(tmp_path / "other.csv", ".tmp").name, f"{stale.name}x", "notes.tmp"]
    for name in others:
        (tmp_path / name).write_bytes(b"keep")
    output.write_whole(target, b"new")
    assert sorted(p.name for p in tmp_path.iterdir()) == sorted([*others, "cut.csv"])


def test_a_file_that_another_run_is_writing_is_not_cleared_away(tmp_path: Path) -> None:
    target = tmp_path / "cut.csv"
    live = output.beside(target, ".tmp")
    live.write_bytes(b"half")
    handle = os.open(tmp_path, os.O_RDONLY)
    fcntl.flock(handle, fcntl.LOCK_SH)
    output.write_whole(target, b"new")
    assert target.read_bytes() == b"new" and live.exists()
    os.close(handle)
    output.write_whole(target, b"newer")
    assert not live.exists()


def test_a_folder_that_another_run_keeps_is_said_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(output, "PATIENCE", 0.1)
    with output.locked(tmp_path) as alone:
        assert alone
        with pytest.raises(OSError, match="another run of harnesscheck is writing in this folder"):
            writing.put(tmp_path / "kit", small(0))
    assert list(tmp_path.iterdir()) == []


def test_without_locks_files_are_whole_and_nothing_is_cleared_away(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(output, "fcntl", None)
    stale = output.beside(tmp_path / "cut.csv", ".tmp")
    stale.write_bytes(b"perhaps in use")
    output.write_whole(tmp_path / "cut.csv", b"new")
    writing.put(tmp_path / "kit", small(0))
    writing.put(tmp_path / "kit", small(1))
    assert kills.content(tmp_path / "kit") == small(1)
    assert sorted(p.name for p in tmp_path.iterdir()) == sorted([stale.name, "cut.csv", "kit"])


def test_a_long_name_is_written(tmp_path: Path) -> None:
    """A file system takes 255 bytes; the temporary name is not longer than that of the target."""
    target = tmp_path / ("ü" * 125 + ".csv")
    output.write_whole(target, b"new")
    assert target.read_bytes() == b"new"


def test_an_altered_pack_is_not_replaced_even_when_it_was_altered_meanwhile(tmp_path: Path) -> None:
    place = tmp_path / "kit"
    writing.put(place, small(0))
    (place / "b.svg").write_text("a person's own figures")
    with pytest.raises(InputError, match="not as it was written"):
        writing.put(place, small(1))
    assert (place / "b.svg").read_text() == "a person's own figures"
    assert not kills.hidden(tmp_path)
