"""Files that cannot be read or written, closed and full outputs, terminals: what the world around may do."""

from __future__ import annotations

import errno
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from harnesscheck import output
from harnesscheck.cli import main

DEMO = Path(__file__).parent / "jobs" / "plain"
J = "jumper.yaml"


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the demo as the current folder."""
    folder = tmp_path / "job"
    shutil.copytree(DEMO, folder)
    monkeypatch.chdir(folder)
    return folder


def listing(folder: Path) -> dict[str, bytes]:
    """Every file below ``folder`` with its bytes."""
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def test_unreadable_file(job: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    if os.geteuid() == 0:  # root reads everything: let the system call say no

        def refuse(self: Path) -> bytes:
            raise PermissionError(errno.EACCES, "Permission denied", str(self))

        monkeypatch.setattr(Path, "read_bytes", refuse)
    else:
        (job / J).chmod(0)
    assert main(["check", J]) == 2
    err = capsys.readouterr().err
    assert err.startswith(f"{J}:1:1: this file may not be read by this user")


CALLS = {
    "make the temporary file": ("os.open", errno.EACCES, "where you may write"),
    "flush to the disk": ("os.fsync", errno.ENOSPC, "make room"),
    "rename": ("os.replace", errno.EROFS, "choose another place"),
}


@pytest.mark.parametrize("name", CALLS)
def test_output_that_cannot_be_written_leaves_the_old_one(
    name: str, job: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    call, number, do = CALLS[name]
    (job / "cut.csv").write_text("old\n")
    before = listing(job)

    def fail(*_: object, **__: object) -> None:
        raise OSError(number, os.strerror(number), "/somewhere/else")

    module, _, function = call.partition(".")
    monkeypatch.setattr(getattr(output, module), function, fail)
    assert main(["sheet", "cut-list", J, "-o", "cut.csv"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert f"cannot write cut.csv: {os.strerror(number)}" in err and do in err
    assert listing(job) == before


def test_a_fault_of_our_own_is_never_a_clean_answer(
    job: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fail(*_: object) -> None:
        raise ZeroDivisionError("\x1b[2J")

    monkeypatch.setattr("harnesscheck.formats.load", fail)
    assert main(["check", J]) == 2
    err = capsys.readouterr().err
    assert "harnesscheck itself broke down: ZeroDivisionError in test_surroundings.py line" in err
    assert "make no use of this run" in err and "\x1b" not in err and "Traceback" not in err


def run(job: Path, *arguments: str, **environment: str) -> subprocess.CompletedProcess[bytes]:
    """The command in a process of its own."""
    environ = {**os.environ, **environment}
    return subprocess.run([sys.executable, "-m", "harnesscheck", *arguments], cwd=job, env=environ, capture_output=True)


def test_in_a_process_of_its_own(job: Path) -> None:
    (job / J).write_bytes(b"kind: jumper\ntitle: \xe9\n")
    done = run(job, "check", J)
    assert done.returncode == 2 and done.stdout == b""
    assert done.stderr.startswith(b"jumper.yaml:2:8: byte 0xe9 is not UTF-8 text\n")


def test_reader_of_the_output_goes_away(job: Path) -> None:
    # The report is small, so the pipe is closed before the program starts to write: the write itself then fails.
    command = f"{sys.executable} -m harnesscheck check {J}; echo status $? >&2"
    done = subprocess.run(["bash", "-c", f"( {command} ) | true"], cwd=job, capture_output=True)
    assert b"Traceback" not in done.stderr and b"Exception" not in done.stderr
    assert done.stderr.strip() in (b"status 0", b"status 2")


def test_output_closed_or_full(job: Path) -> None:
    closed = subprocess.run(["bash", "-c", f"{sys.executable} -m harnesscheck list >&-"], cwd=job, capture_output=True)
    assert (closed.returncode, closed.stderr) == (0, b"")
    full = subprocess.run(
        ["bash", "-c", f"{sys.executable} -m harnesscheck check {J} >/dev/full"], cwd=job, capture_output=True
    )
    assert full.returncode == 2
    assert full.stderr.startswith(b"harnesscheck: cannot write the output: No space left") and b"Exc" not in full.stderr


def test_ascii_terminal(job: Path) -> None:
    text = (job / J).read_text().replace("Ice probe jumper", "Eissonde \u00e4\u03a9", 1)
    (job / J).write_text(text, encoding="utf-8")
    done = run(job, "check", J, PYTHONIOENCODING="ascii", PYTHONUTF8="0")
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith(rb"Eissonde \xe4\u03a9")


FAULTY = ("from: J114-6, to: P114-6", "from: J114-6, to: P114-7")


@pytest.mark.parametrize(
    ("environment", "coloured"), [({"TERM": "xterm"}, True), ({"NO_COLOR": "1"}, False), ({"TERM": "dumb"}, False)]
)
def test_colour_only_on_a_terminal_that_wants_it(environment: dict[str, str], coloured: bool, job: Path) -> None:
    (job / J).write_text((job / J).read_text().replace(*FAULTY))
    assert b"\x1b" not in run(job, "check", J, **environment).stdout
    keep = {key: value for key, value in os.environ.items() if key not in ("NO_COLOR", "TERM")}
    leader, follower = os.openpty()
    done = subprocess.Popen(
        [sys.executable, "-m", "harnesscheck", "check", J], cwd=job, env={**keep, **environment}, stdout=follower
    )
    os.close(follower)
    shown = b""
    try:
        while chunk := os.read(leader, 65536):
            shown += chunk
    except OSError:  # the terminal is gone: the program has ended
        pass
    os.close(leader)
    assert done.wait() == 1
    assert b"STOP" in shown
    assert (b"\x1b" in shown) is coloured
