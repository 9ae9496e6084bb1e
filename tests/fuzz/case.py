"""One input to the program: the files of a folder, a command line, and what must hold whatever comes of it."""

from __future__ import annotations

import base64
import contextlib
import hashlib
import io
import json
import os
import re
import shutil
import signal
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).parents[2]
CORPUS = Path(__file__).with_name("corpus")
SECONDS = 10.0
"""CPU seconds that any of these small inputs may take, common practice; most take some hundredths."""


@dataclass(frozen=True)
class Case:
    """Files laid over a folder of the repository (``base``; empty: none), and a command line to run among them."""

    reader: str
    base: str
    argv: tuple[str, ...]
    files: dict[str, bytes] = field(default_factory=dict)

    def as_json(self) -> str:
        """The case as it is kept."""
        files: dict[str, object] = {}
        for name, data in sorted(self.files.items()):
            try:
                files[name] = data.decode("utf-8").split("\n")
            except UnicodeDecodeError:
                files[name] = base64.b64encode(data).decode("ascii")
        said = {"reader": self.reader, "base": self.base, "argv": list(self.argv), "files": files}
        return json.dumps(said, indent=1, ensure_ascii=True) + "\n"

    @property
    def name(self) -> str:
        """A short name for the same content."""
        return hashlib.sha256(self.as_json().encode()).hexdigest()[:12]


def kept(path: Path) -> Case:
    """A case as kept on the disk: a file is a list of its lines, or base64 where it is no text."""
    said = json.loads(path.read_text("utf-8"))
    files = {
        name: "\n".join(data).encode() if isinstance(data, list) else base64.b64decode(data)
        for name, data in said["files"].items()
    }
    return Case(said["reader"], said["base"], tuple(said["argv"]), files)


class TooSlowError(BaseException):
    """Raised into a run that takes too long; no ``except Exception`` holds it up."""


@dataclass(frozen=True)
class Answer:
    """What a run gave, and what is wrong with it (empty: nothing)."""

    status: int
    out: str
    err: str
    wrong: str = ""

    @property
    def shapes(self) -> frozenset[str]:
        """Its messages without what differs from input to input: what is new is worth going on from."""
        lines = [*self.err.split("\n"), *re.findall(r"\[[a-z-]+\]$", self.out, re.MULTILINE)]
        bare = (re.sub(r"'[^']*'|\"[^\"]*\"|\S*\d\S*|\s+", " ", line)[:90] for line in lines if "do: " not in line)
        return frozenset(bare)


def run(case: Case, folder: Path, twice: bool = False) -> Answer:
    """Run a case in ``folder``, which is emptied first."""
    _lay(case, folder)
    before = listing(folder)
    answer = _called(case, folder)
    wrong = answer.wrong or _wrong(case, answer, before, folder)
    if not wrong and twice:
        _lay(case, folder)
        again = _called(case, folder)
        if (again.status, again.out, again.err) != (answer.status, answer.out, answer.err):
            wrong = "differs: the second run says something else than the first"
    if not wrong and case.reader == "format" and answer.status == 0:
        wrong = _findings_kept(case, folder)
    return Answer(answer.status, answer.out, answer.err, wrong)


def listing(folder: Path) -> dict[str, bytes]:
    """Every file below a folder with its bytes."""
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def _lay(case: Case, folder: Path) -> None:
    shutil.rmtree(folder, ignore_errors=True)
    if case.base:
        names = shutil.ignore_patterns("expected.txt", "*.md", "*.svg")
        shutil.copytree(ROOT / case.base, folder, ignore=names)
    folder.mkdir(parents=True, exist_ok=True)
    for name, data in case.files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(data)


@contextlib.contextmanager
def _limited() -> Iterator[None]:
    def stop(*_: object) -> None:
        raise TooSlowError

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, SECONDS)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def _called(case: Case, folder: Path) -> Answer:
    """In this process, as if from the command line."""
    from harnesscheck.cli import main

    out, err, here = io.StringIO(), io.StringIO(), Path.cwd()
    os.chdir(folder)
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err), _limited():
            status = _drawer(case.argv[1]) if case.argv[:1] == ("(drawer)",) else main(list(case.argv))
    except TooSlowError:
        return Answer(-1, "", "", f"slow: more than {SECONDS:g} s")
    except BaseException as error:
        if isinstance(error, KeyboardInterrupt):
            raise
        return Answer(-1, "", "", f"raised: {type(error).__name__}: {error}"[:300])
    finally:
        os.chdir(here)
    return Answer(status, out.getvalue(), err.getvalue())


def _drawer(name: str) -> int:
    """A data file of the parts drawer, by its reader alone."""
    import sys

    from harnesscheck.document import read
    from harnesscheck.fault import InputError
    from harnesscheck.parts.reading import read_records

    try:
        read_records(read(Path(name), name))
    except InputError as error:
        print(f"{error}\nharnesscheck: faults in the input; nothing was written", file=sys.stderr)
        return 2
    return 0


def _wrong(case: Case, answer: Answer, before: dict[str, bytes], folder: Path) -> str:
    out, err = answer.out, answer.err
    if "broke down" in err or "Traceback" in err:
        return f"broke down: {err.split(chr(10))[0]}"
    if "broke down and did not finish" in out:
        return f"check broke down: {out[out.index('broke down') :].split(chr(10))[0]}"
    if answer.status not in (0, 1, 2):
        return f"status {answer.status}"
    if any(not char.isprintable() and char not in "\n\t" for char in out + err):
        return "unprintable: a control character reaches the terminal"
    if answer.status == 2:
        after = listing(folder)
        if after != before:
            return f"wrote: {sorted(set(after) ^ set(before))} at exit 2"
        return _badly_refused(err)
    return ""


def _badly_refused(err: str) -> str:
    """Every fault: a place and what is wrong on one line, what to do on a line below."""
    if not err.strip():
        return "silent: exit 2 without a word"
    lines = err.rstrip("\n").split("\n")
    heads = [n for n, line in enumerate(lines) if not line.startswith(" ")]
    for number, following in zip(heads, [*heads[1:], len(lines)], strict=True):
        head, rest = lines[number], lines[number + 1 : following]
        if head.startswith(("usage:", "...")) or re.fullmatch(r"harnesscheck: .*nothing was written", head):
            continue
        if head.startswith(("left out:", "not understood:")):  # remarks of diagnose, no faults
            continue
        if not any(line.startswith("  do: ") for line in rest):
            return f"no remedy: {head[:120]}"
        if not re.match(r".+: .+", head):
            return f"no place: {head[:120]}"
    return ""


def _findings_kept(case: Case, folder: Path) -> str:
    """What ``format`` has written is checked as what was there before."""
    check = Case("job", case.base, ("check", "--format", "json", "jumper.yaml"), case.files)
    after = _called(check, folder)
    _lay(case, folder)
    before = _called(check, folder)
    if before.status != after.status or _said(before) != _said(after):
        return "format: a file says something else when it is laid out"
    return ""


def _said(answer: Answer) -> list[str]:
    if answer.status == 2:
        return sorted(re.findall(r"(?m)^[^ ]\S*: (.*)$", re.sub(r":\d+:\d+", "", answer.err)))
    data = json.loads(answer.out)
    rows = data.get("findings", []) if isinstance(data, dict) else data
    return sorted(re.sub(r":\d+(?::\d+)?", "", f"{row.get('check')} {row.get('headline')}") for row in rows)
