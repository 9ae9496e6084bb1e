"""The forms of a report: the same findings in the same order in each, and SARIF as its standard has it.

``sarif-2.1.0.schema.json`` is the schema published with the OASIS standard SARIF 2.1.0, unchanged but for white space.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import jsonschema
import pytest

import harnesscheck as hc
from harnesscheck import checks, report
from harnesscheck.commands import check as command
from harnesscheck.finding import Report

ROOT = Path(__file__).parent.parent.parent
SCHEMA = json.loads((Path(__file__).parent / "sarif-2.1.0.schema.json").read_text())
VALIDATOR = jsonschema.Draft7Validator(SCHEMA)
JOBS = sorted((ROOT / "harnesses" / "faulty").glob("*/jumper.yaml"))
AIRFRAME = ROOT / "harnesses" / "ice-probe" / "airframe.yaml"
WAIVED = """
waivers:
  - {check: missing-slack, at: P501A20, reason: "50 % is,\n  enough: yes", by: demo fabricator, date: 2026-11-25}
"""


def answers(path: Path, name: str = "") -> tuple[str, Report]:
    """A file with its report, named relative to the folder, as a person types it."""
    return name or path.relative_to(ROOT).as_posix(), hc.check(hc.load(path))


def test_the_command_offers_every_form() -> None:
    assert set(command.FORMS) == set(report.forms()) and command.FORMS[0] == report.forms()[0] == "text"


def test_the_schema_is_that_of_the_standard() -> None:
    jsonschema.Draft7Validator.check_schema(SCHEMA)
    assert SCHEMA["properties"]["version"]["enum"] == ["2.1.0"]
    assert list(VALIDATOR.iter_errors({"version": "2.1.0"}))  # and it refuses what is not SARIF


@pytest.mark.parametrize("path", JOBS[::6], ids=lambda p: p.parent.name)
def test_sarif_is_valid(path: Path) -> None:
    said = json.loads(report.write("sarif", [answers(path)], checks.rule))
    assert [error.message for error in VALIDATOR.iter_errors(said)] == []


def sarif(run: dict[str, Any]) -> tuple[list[tuple[Any, ...]], list[tuple[Any, ...]]]:
    found, open_ = [], []
    for result in run["results"]:
        assert run["tool"]["driver"]["rules"][result["ruleIndex"]]["id"] == result["ruleId"]
        place = result["locations"][0].get("physicalLocation")
        line = place["region"]["startLine"] if place and "region" in place else 0
        if result["kind"] == "open":
            open_.append((result["ruleId"], line, result["properties"]["missing"]))
        else:
            found.append((result["ruleId"], line, result["properties"]["headline"]))
    return found, open_


@pytest.mark.parametrize(
    "path", [*JOBS, ROOT / "harnesses" / "ice-probe" / "airframe.yaml"], ids=lambda p: p.parent.name
)
def test_the_forms_agree(path: Path) -> None:
    file, result = answers(path)
    data = json.loads(report.write("json", [(file, result)], checks.rule))
    found = [(f["check"], f["place"]["line"], f["headline"]) for f in data["findings"]]
    open_ = [(n["check"], n["place"]["line"], n["missing"]) for n in data["not_checked"]]
    assert found or open_ or path.parent.name == "ice-probe"
    (run,) = json.loads(report.write("sarif", [(file, result)], checks.rule))["runs"]
    assert sarif(run) == (found, open_)
    lines = report.write("annotations", [(file, result)], checks.rule).splitlines()
    assert lines[-1].endswith(data["verdict"].replace("%", "%25")) and len(lines) == len(found) + len(open_) + 1
    for (check, line, said), printed in zip([*found, *open_], lines, strict=False):
        assert f"title={check}::" in printed and said.replace("%", "%25") in printed
        assert not line or f"line={line}," in printed
    text = report.write("text", [(file, result)], checks.rule)
    shown = re.findall(r"^(?:\d+\. [A-Z]+:|  ) ?(.*) \[([a-z-]+)(?:, follows from [a-z-]+)?\]$", text, re.MULTILINE)
    assert [(check, said.strip()) for said, check in shown] == [(check, said) for check, _, said in found]
    assert data["verdict"] in text


def test_a_waived_finding_is_a_suppression(tmp_path: Path) -> None:
    folder = tmp_path / "a folder"
    folder.mkdir()
    for path in (ROOT / "harnesses" / "faulty" / "missing-slack").glob("*.yaml"):
        (folder / path.name).write_bytes(path.read_bytes())
    jumper = folder / "jumper.yaml"
    before = hc.check(hc.load(jumper))
    about = next(f for f in before.findings if f.check == "missing-slack").place.label
    jumper.write_text(jumper.read_text() + WAIVED.replace("P501A20", about))
    file, result = answers(jumper, "a folder/jumper.yaml")
    said = json.loads(report.write("sarif", [(file, result)], checks.rule))
    assert not list(VALIDATOR.iter_errors(said))
    (one,) = [r for r in said["runs"][0]["results"] if r["ruleId"] == "missing-slack"]
    assert one["suppressions"][0]["status"] == "accepted" and "50 % is" in one["suppressions"][0]["justification"]
    assert "50 %25 is" in report.write("annotations", [(file, result)], checks.rule)
    uri = one["locations"][0]["physicalLocation"]["artifactLocation"]["uri"]
    assert " " not in uri and unquote(uri).endswith("a folder/jumper.yaml")


def test_a_fingerprint_outlives_a_new_first_line(tmp_path: Path) -> None:
    def prints(text: str) -> list[str]:
        for path in JOBS[0].parent.glob("*.yaml"):
            (tmp_path / path.name).write_bytes(path.read_bytes())
        jumper = tmp_path / "jumper.yaml"
        jumper.write_text(text + jumper.read_text())
        run = json.loads(report.write("sarif", [answers(jumper, "jumper.yaml")], checks.rule))["runs"][0]
        return [result["partialFingerprints"]["about/v1"] for result in run["results"]]

    assert prints("") == prints("# a remark\n") and len(set(prints(""))) == len(prints(""))
