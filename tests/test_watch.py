"""Watching a job: what is said, when, and how it stops."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from harnesscheck.cli import main

ROOT = Path(__file__).parent.parent
DEMO = ROOT / "harnesses" / "ice-probe"
J = "jumper.yaml"
CROSSED = ("from: SP1, to: P115-1,", "from: SP1, to: P115-3,")


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    shutil.copytree(DEMO, tmp_path / "job")
    monkeypatch.chdir(tmp_path / "job")
    return tmp_path / "job"


def change(file: Path, old: str, new: str) -> None:
    text = file.read_text()
    assert text.count(old) == 1
    file.write_text(text.replace(old, new))


def test_once_has_the_status_and_the_last_line_of_check(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for spoil in (None, CROSSED):
        if spoil:
            change(job / J, *spoil)
        status = main(["check", J])
        last = capsys.readouterr().out.splitlines()[-1]
        assert main(["watch", "--once", "--draw", "out.svg", J]) == status
        lines = capsys.readouterr().out.splitlines()
        assert lines[-1] == f"{J}: {last}"
        assert len(lines) > 1 if spoil else len(lines) == 1
        assert (job / "out.svg").read_bytes().startswith(b"<")
    (job / J).write_text("kind: 'jumper\n")
    assert main(["watch", "--once", J]) == 2
    assert "no longer counts" in capsys.readouterr().out
    assert main(["watch", "--once", "none.yaml"]) == 2
    assert "does not exist" in capsys.readouterr().out


@pytest.mark.parametrize("every", ["0", "-1", "nan", "1e9"])
def test_bad_interval(every: str, job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["watch", "--once", "--every", every, J]) == 2
    assert "do: say a number of seconds" in capsys.readouterr().err


class Watch:
    """The command in a process of its own; its output in a file."""

    def __init__(self, folder: Path) -> None:
        self.out = folder.parent / "out.txt"
        with self.out.open("wb") as out:
            self.child = subprocess.Popen(
                [sys.executable, "-m", "harnesscheck", "watch", "--every", "0.05", "--draw", "d.svg", J],
                cwd=folder,
                stdout=out,
                stderr=subprocess.STDOUT,
                # A shell's job in the background hands down that the interrupt is ignored.
                preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),  # noqa: PLW1509 - no threads here
            )

    def until(self, words: str, count: int = 1) -> str:
        """What was said, as soon as ``words`` stand in it that often."""
        end = time.monotonic() + 120
        while time.monotonic() < end and self.child.poll() is None:
            text = self.out.read_text()
            if text.count(words) >= count:
                return text
            time.sleep(0.02)
        raise AssertionError(f"{words!r} was not said: {self.out.read_text()}")


@pytest.fixture
def watch(job: Path) -> Iterator[Watch]:
    found = Watch(job)
    yield found
    found.child.kill()
    found.child.wait()


@pytest.mark.skipif(os.name != "posix", reason="sends an interrupt as POSIX has it")
def test_it_says_what_changed_and_stops_on_interrupt(job: Path, watch: Watch) -> None:
    watch.until("Nothing to stop for")
    first = (job / "d.svg").read_bytes()
    change(job / J, *CROSSED)
    said = watch.until("STOP, do not build")
    assert "\nSTOP: " in said
    assert (job / "d.svg").read_bytes() != first
    (job / "airframe.yaml").write_text((job / "airframe.yaml").read_text() + "# a word\n")  # another file, same verdict
    time.sleep(0.5)
    assert watch.out.read_text() == said
    good = (job / J).read_text()
    (job / J).write_text("kind: 'jumper\n")
    watch.until("no longer counts")
    (job / J).write_text(good.replace(CROSSED[1], CROSSED[0]))
    said = watch.until("Nothing to stop for", 2)
    assert "gone: STOP: " in said
    assert watch.child.poll() is None
    watch.child.send_signal(signal.SIGINT)
    assert watch.child.wait(120) == 130
    assert "Traceback" not in watch.out.read_text()
