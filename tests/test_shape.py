"""The shape that every check has, and rules that hold for the whole program."""

from __future__ import annotations

import ast
import itertools
import re
import subprocess
import sys
from dataclasses import fields
from pathlib import Path

import pages
import pytest

from harnesscheck import api, checks
from harnesscheck.finding import Finding, Severity, explained
from harnesscheck.place import Place
from harnesscheck.source import Source, Status

TESTS = Path(__file__).parent
ROOT = TESTS.parent
PACKAGE = ROOT / "harnesscheck"
NAMES = checks.names()
HARNESSES = ROOT / "harnesses"
MAX_LINES = 420  # "about 400"
"""Own rule of this project: a file that one person can read in one sitting."""


@pytest.mark.parametrize("name", NAMES)
def test_a_check_has_its_page_docstring_constants_and_example(name: str) -> None:
    module = checks.module(name)
    text = checks.explain(name)
    found = [line for line in text.splitlines() if line and not line.startswith(" ")][1:]
    assert tuple(found) == checks.HEADINGS
    parts = re.split(rf"^(?:{'|'.join(checks.HEADINGS)})$", text, flags=re.MULTILINE)
    assert len(parts) == 5
    assert all(len(part.split()) >= 5 for part in parts), f"an empty heading in {name}"
    assert checks.title(name).endswith(".")
    assert isinstance(module.SEVERITY, Severity)
    assert isinstance(module.SOURCE, Source)
    assert module.SOURCE.may_stop or module.SEVERITY is not Severity.STOP
    assert (TESTS / "checks" / f"{name}.md").is_file()
    assert (HARNESSES / "faulty" / name / "expected.txt").is_file()


@pytest.mark.parametrize("name", NAMES)
def test_a_check_is_named_after_the_fault(name: str) -> None:
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", name)
    assert not name.startswith(("use-", "avoid-", "do-not-", "prefer-"))
    assert (PACKAGE / "checks" / f"{name.replace('-', '_')}.py").is_file()


def test_what_explains_what_is_a_check() -> None:
    for name in NAMES:
        assert set(getattr(checks.module(name), "FOLLOWS", ())) <= set(NAMES) - {name}


@pytest.mark.parametrize("order", list(itertools.permutations("abc")))
def test_findings_never_explain_each_other_in_a_ring(order: tuple[str, ...]) -> None:
    """A ring would leave no primary finding: silence. Whatever the order, one of the three stays primary."""
    ring = {"a": ("b",), "b": ("c",), "c": ("a",)}
    findings = [Finding(headline=n, place=Place("P1-1"), severity=Severity.STOP, check=n) for n in order]
    result = explained(findings, ring)
    assert sum(not f.follows for f in result) == 1


def jobs(tmp_path: Path) -> list[tuple[str, api.Job]]:
    """Every job of harnesses/ and of the pages."""
    found = [
        (str(file.relative_to(ROOT)), api.load(file))
        for file in sorted(HARNESSES.rglob("*.yaml"))
        if "kind: parts" not in file.read_text(encoding="utf-8")
    ]
    for page in sorted((TESTS / "checks").glob("*.md")):
        for answer in pages.answers(page):
            folder = tmp_path / f"{page.stem}-{answer.line}"
            folder.mkdir()
            pages.write(answer, folder)
            found.append((f"{page.name}:{answer.line}", api.load(folder / pages.main_file(answer))))
    return found


def test_all_checks_on_all_jobs(tmp_path: Path) -> None:
    """No check changes the harness, breaks down, or stops a job on a value that nobody has confirmed."""
    every = jobs(tmp_path)
    assert len(every) > 100
    stops = 0
    for where, job in every:
        before = records(job)
        report = api.check(job)
        assert records(job) == before, where
        for finding in report.findings:
            assert "broke down" not in finding.headline, f"{where}: {finding.headline}"
            assert finding.source is not None
            if finding.severity is Severity.STOP:
                stops += 1
                assert finding.source.status not in (
                    Status.MEMORY,
                    Status.SECOND_HAND,
                    Status.DERIVED,
                    Status.DEMO,
                ), f"{where}: {finding.headline}"
            if finding.follows:
                causes = [f for f in report.findings if f.check == finding.follows and f.labels & finding.labels]
                assert any((f.severity or 0) >= (finding.severity or 0) for f in causes), where
        if report.findings:
            assert report.primary, f"{where}: findings, but no primary one"
    assert stops > 50


def records(job: api.Job) -> str:
    """The records of a harness as text; the views that are computed on demand are left out."""
    kept = [field.name for field in fields(job.subject) if field.name not in ("drawer", "before", "place")]
    return repr([(name, getattr(job.subject, name)) for name in kept])


def test_files_are_short() -> None:
    long = {
        str(path.relative_to(ROOT)): count
        for folder in (PACKAGE, TESTS, ROOT / "docs")
        for path in folder.rglob("*.py")
        if (count := len(path.read_text(encoding="utf-8").splitlines())) > MAX_LINES
    }
    assert not long


def test_explain_and_the_generated_pages_are_complete() -> None:
    page = (ROOT / "docs" / "checks.md").read_text(encoding="utf-8")
    for name in NAMES:
        assert name in page
        assert checks.title(name) in page
    done = subprocess.run(
        [sys.executable, "docs/make_pages.py", "--check"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr


def test_the_program_stands_alone() -> None:
    """Nothing in the package reads what lies beside the checkout."""
    for path in PACKAGE.rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        assert "/shared" not in text, path
        assert "/work/" not in text, path
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, ast.ImportFrom | ast.Import):
                names = (
                    [node.module or ""] if isinstance(node, ast.ImportFrom) else [alias.name for alias in node.names]
                )
                assert not any(name.split(".")[0] in ("shared", "tests") for name in names), path


@pytest.mark.parametrize("command", [["check"], ["trace"], ["explain"], ["list"]])
def test_no_colour_codes_in_piped_output(command: list[str]) -> None:
    job = HARNESSES / "faulty" / "pin-collision" / "jumper.yaml"
    rest = {"check": [str(job)], "trace": [str(job), "P14-1"], "explain": ["pin-collision"], "list": []}[command[0]]
    done = subprocess.run(
        [sys.executable, "-m", "harnesscheck", *command, *rest],
        capture_output=True,
        env={"PATH": "/usr/bin", "TERM": "xterm-256color", "FORCE_COLOR": "1"},
        check=False,
    )
    assert done.stdout
    assert b"\x1b" not in done.stdout + done.stderr
