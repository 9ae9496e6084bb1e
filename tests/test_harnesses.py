"""Every job in harnesses/: the clean ones are clean, each faulty copy is found out by the check it is named after.

``expected.txt`` is the printed report down to what was found right (those counts change with every new check): own
output (regression), read by a person; ``--rewrite`` makes it again.
That the first finding is of the check in the folder's name, that it is the only primary one, and the exit status are
not own output.
"""

from __future__ import annotations

import difflib
import re
from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck import checks, cli, report
from harnesscheck.finding import Severity

HARNESSES = Path(__file__).parents[1] / "harnesses"
FAULTY = HARNESSES / "faulty"
CLEAN = sorted(path.parent.name for path in HARNESSES.glob("*/jumper.yaml"))
MOST_CHANGED = 6
"""Lines of the demo that a faulty copy changes or adds at most, its story apart: one mistake each."""
WHOLE_MAPS = {"mirrored-pin-map": 30, "shifted-pin-map": 30, "ribbon-order-pin-map": 30}
"""One mistake in reading a connector moves every wire of it: a line out and a line in for each."""


@pytest.mark.parametrize("name", CLEAN)
def test_a_clean_job_is_clean(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(HARNESSES / name)
    result = hc.check(hc.load("jumper.yaml"))
    assert not result.findings, report.as_text(result)
    assert not result.not_checked, report.as_text(result)
    assert set(result.passed) == set(checks.names())
    assert cli.main(["check", "--strict", "jumper.yaml"]) == 0


def test_every_check_looks_at_something_in_a_clean_job(monkeypatch: pytest.MonkeyPatch) -> None:
    looked = set()
    for name in CLEAN:
        monkeypatch.chdir(HARNESSES / name)
        looked |= {check for check, good in hc.check(hc.load("jumper.yaml")).passed.items() if good}
    assert looked == set(checks.names()), "a check had nothing to look at in any clean job"


def origin(folder: Path) -> Path:
    """The clean job that a faulty one is a copy of: the one with files of the same names."""
    files = {file.name for file in folder.glob("*.yaml")}
    return next(HARNESSES / name for name in CLEAN if {f.name for f in (HARNESSES / name).glob("*.yaml")} == files)


def test_every_check_has_its_faulty_job() -> None:
    assert sorted(path.name for path in FAULTY.iterdir()) == checks.names()


@pytest.mark.parametrize("name", checks.names())
def test_a_faulty_job_is_found_out(
    name: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], rewrite: bool
) -> None:
    monkeypatch.chdir(FAULTY / name)
    result = hc.check(hc.load("jumper.yaml"))
    assert result.findings, "silent about a fault"
    assert result.findings[0].check == name
    assert len(result.primary) == 1, [f.headline for f in result.primary]
    assert not result.findings[0].follows
    only_notes = all(f.severity is Severity.NOTE for f in result.findings)
    assert cli.main(["check", "jumper.yaml"]) == (0 if only_notes else 1)
    printed = capsys.readouterr().out.partition("Looked at and found right:")[0].rstrip("\n") + "\n"
    expected = Path("expected.txt")
    if rewrite:
        expected.write_text(printed, encoding="utf-8")
    assert printed == expected.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", checks.names())
def test_a_faulty_job_is_the_demo_with_one_mistake(name: str) -> None:
    story = (FAULTY / name / "jumper.yaml").read_text(encoding="utf-8").splitlines()
    assert story[0].startswith("# What happened in the shop (invented for the demo): ")
    changed = []
    for file in sorted((FAULTY / name).glob("*.yaml")):
        demo = (origin(FAULTY / name) / file.name).read_text(encoding="utf-8").splitlines()
        copy = file.read_text(encoding="utf-8").splitlines()
        lines = [line for line in difflib.ndiff(demo, copy) if line[:2] in ("- ", "+ ")]
        changed += [line for line in lines if not line[2:].startswith("#")]
    assert 0 < len(changed) <= WHOLE_MAPS.get(name, MOST_CHANGED), changed


def wire_lines() -> list[tuple[int, str]]:
    """The lines of the demo's jumper file that are wires, with their numbers from 0."""
    lines = (HARNESSES / "ice-probe" / "jumper.yaml").read_text(encoding="utf-8").splitlines()
    return [(number, line) for number, line in enumerate(lines) if "{from: " in line]


def with_line(number: int, line: str | None, folder: Path) -> hc.Report:
    """The report on the demo with one line of its jumper file changed or left out."""
    for file in (HARNESSES / "ice-probe").glob("*.yaml"):
        lines = file.read_text(encoding="utf-8").splitlines()
        if file.name == "jumper.yaml":
            lines[number : number + 1] = [] if line is None else [line]
        (folder / file.name).write_text("\n".join(lines) + "\n", encoding="utf-8")
    return hc.check(hc.load(folder / "jumper.yaml"))


@pytest.mark.parametrize(("number", "line"), wire_lines(), ids=lambda value: str(value).split(":")[0].strip())
def test_no_wire_of_the_demo_can_be_forgotten_or_mistyped(number: int, line: str, tmp_path: Path) -> None:
    """A wire left out, or an end typed one cavity further, joins or parts copper, or leaves a spare behind."""
    left_out = with_line(number, None, tmp_path)
    assert left_out.findings, f"silent about a missing wire: {line}"
    spare = line.strip().startswith("S")
    assert spare or not left_out.clear, line
    ends = re.findall(r"(J114|P114|P115)-(\d+)", line)
    assert ends
    for ref, cavity in ends:
        further = int(cavity) % (6 if ref == "P115" else 15) + 1
        moved = with_line(number, line.replace(f"{ref}-{cavity},", f"{ref}-{further},"), tmp_path)
        assert not moved.clear, f"silent about {ref}-{cavity} typed as {further}: {line}"
        assert moved.primary


@pytest.mark.parametrize("kind", ["airframe", "equipment"])
@pytest.mark.parametrize("folder", [*CLEAN, *(f"faulty/{name}" for name in checks.names())])
def test_each_file_alone(folder: str, kind: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The airframe and the equipment can be checked before there is a kit; what cannot be looked at is said."""
    monkeypatch.chdir(HARNESSES / folder)
    file = next(f.name for f in sorted(Path().glob("*.yaml")) if f"\nkind: {kind}\n" in f.read_text(encoding="utf-8"))
    result = hc.check(hc.load(file))
    assert result.reach
    assert not any("broke down" in finding.headline for finding in result.findings)
    assert result.items_passed > 0
    assert result.clear, report.as_text(result)
    assert cli.main(["check", file]) == 0
