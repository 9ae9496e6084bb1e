"""The schema for editors: what the reader accepts it accepts, and it marks the slips an editor can see.

The validator is jsonschema, the YAML reader of these tests ruamel's, YAML 1.2: what an editor's own reader is.
"""

from __future__ import annotations

import json
from datetime import date
from io import StringIO
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from ruamel.yaml import YAML

from harnesscheck.cli import main
from harnesscheck.formats import editor_schema

ROOT = Path(__file__).parent.parent
VALIDATOR = jsonschema.Draft202012Validator(editor_schema())
FILES = sorted(p for p in (ROOT / "harnesses").rglob("*.yaml") if "faulty" not in p.parts)
FAULTY = sorted((ROOT / "harnesses" / "faulty").rglob("*.yaml"))


def parsed(text: str) -> Any:
    return YAML(typ="safe", pure=True).load(StringIO(text))


def text_keys(value: Any) -> Any:
    """JSON has text as keys: an editor compares ``1:`` as ``"1"``. It knows no dates either (YAML 1.2 core schema)."""
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, dict):
        return {str(key): text_keys(each) for key, each in value.items()}
    return [text_keys(each) for each in value] if isinstance(value, list) else value


def faults(text: str) -> list[str]:
    return [error.message for error in VALIDATOR.iter_errors(text_keys(parsed(text)))]


def test_it_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(editor_schema())


@pytest.mark.parametrize("path", [*FILES, *FAULTY[::9]], ids=lambda p: "/".join(p.parts[-2:]))
def test_every_job_of_ours_is_accepted(path: Path) -> None:
    assert faults(path.read_text("utf-8")) == []


JUMPER = (ROOT / "harnesses" / "ice-probe" / "jumper.yaml").read_text("utf-8")
AIRFRAME = (ROOT / "harnesses" / "ice-probe" / "airframe.yaml").read_text("utf-8")
PROBE = (ROOT / "harnesses" / "ice-probe" / "ice-probe.yaml").read_text("utf-8")


@pytest.mark.parametrize(
    ("text", "right", "wrong"),
    [
        (JUMPER, "kind: jumper", "kind: jumpr"),
        (JUMPER, "kind: jumper\n", ""),
        (JUMPER, "opens: P14/J14\n", ""),
        (JUMPER, "opens: P14/J14", "open: P14/J14"),
        (JUMPER, "opens: P14/J14", "opens: [P14, J14]"),
        (JUMPER, "fitted: aircraft", "fitted: aircaft"),
        (JUMPER, "contacts: M39029/63-368", "contact: M39029/63-368"),
        (JUMPER, "from: J114-1", "form: J114-1"),
        (JUMPER, "length: 60 mm", "lenght: 60 mm"),
        (JUMPER, "site tools: [M81969/14-01]", "site tools: M81969/14-01"),
        (JUMPER, "equipment:\n", "equpment:\n"),
        (AIRFRAME, "wet: yes", "wet: maybe"),
        (AIRFRAME, "signal: discrete", "signal: discreet"),
        (AIRFRAME, "4: {circuit: CAN L, terminated: yes}", "4: {circuit: CAN L, terminated: perhaps}"),
        (AIRFRAME, "4: {circuit: CAN L, terminated: yes}", "4: [CAN L]"),
        (AIRFRAME, "kind: alternator", "kind: dynamo"),
        (AIRFRAME, "phases: [takeoff, landing]", "phases: [take-off, landing]"),
        (PROBE, "direction: in", "direction: inward"),
        (PROBE, "terminator state: off", "terminator state: removed"),
        (PROBE, "connect: no", "conect: no"),
    ],
)
def test_slips_are_marked(text: str, right: str, wrong: str) -> None:
    assert right in text
    assert faults(text.replace(right, wrong, 1))


def test_every_key_has_hover_text() -> None:
    def keys(schema: Any) -> Any:
        if isinstance(schema, dict):
            yield from schema.get("properties", {}).items()
            for each in schema.values():
                yield from keys(each)
        elif isinstance(schema, list):
            for each in schema:
                yield from keys(each)

    found = [pair for definition in editor_schema()["$defs"].values() for pair in keys(definition)]  # type: ignore[attr-defined]
    assert len(found) > 100
    assert [name for name, schema in found if not schema.get("description")] == []
    assert "null" not in json.dumps(editor_schema())


def test_the_command_writes_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema", "-o", str(tmp_path / "job.schema.json")]) == 0
    assert json.loads((tmp_path / "job.schema.json").read_text("utf-8")) == editor_schema()
    capsys.readouterr()
    assert main(["schema"]) == 0
    assert json.loads(capsys.readouterr().out) == editor_schema()
