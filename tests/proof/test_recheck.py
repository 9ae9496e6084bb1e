"""The independent re-checker: what it imports, that it runs alone, and that no changed evidence gets past it."""

from __future__ import annotations

import ast
import hashlib
import json
import shutil
import subprocess
import sys
from functools import cache
from pathlib import Path
from typing import Any

import networkx as nx
import pytest

import harnesscheck as hc
from harnesscheck import cli, recheck
from harnesscheck.proof.evidence import as_json, evidence
from harnesscheck.proof.statement import statement
from tests.proof import run, small, tampering

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "harnesscheck" / "recheck.py"
DEMO = ROOT / "harnesses" / "ice-probe"


@cache
def sound() -> dict[str, Any]:
    """Evidence of the small job, as read from its text."""
    with run.folder(small.TEXTS) as file:
        found: dict[str, Any] = json.loads(as_json(evidence(statement(hc.load(file)))))
    return found


# -- independent -----------------------------------------------------------------------------------------------------


def test_it_is_short_and_imports_the_standard_library_only() -> None:
    text = SOURCE.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 400
    for node in ast.walk(ast.parse(text)):
        names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        if isinstance(node, ast.ImportFrom):
            assert node.level == 0
            names = [node.module or ""]
        for name in names:
            assert name.partition(".")[0] in sys.stdlib_module_names, name
        if isinstance(node, ast.Name):
            assert node.id not in ("__import__", "eval", "exec"), node.lineno
    assert "importlib" not in text


def test_it_runs_as_one_file_without_the_program(tmp_path: Path) -> None:
    """Copied away and started without site packages: nothing of the program can be found."""
    shutil.copy(SOURCE, tmp_path / "recheck.py")
    (tmp_path / "evidence.json").write_text(json.dumps(sound()))
    command = [sys.executable, "-I", "-S", "recheck.py", "evidence.json"]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines()[-1].startswith("CONFIRMED: ")
    assert "not known: the capacitance of the branch and of the unit" in done.stdout


# -- as a person uses it -----------------------------------------------------------------------------------------------


def test_prove_then_recheck(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copytree(DEMO, tmp_path / "job")
    monkeypatch.chdir(tmp_path / "job")
    assert cli.main(["prove", "jumper.yaml", "-o", "evidence.json"]) == 0
    first = Path("evidence.json").read_bytes()
    assert cli.main(["prove", "jumper.yaml", "-o", "evidence.json"]) == 0
    assert Path("evidence.json").read_bytes() == first
    assert cli.main(["recheck", "evidence.json", "--folder", "."]) == 0
    assert "CONFIRMED" in capsys.readouterr().out
    with Path("airframe.yaml").open("a") as file:
        file.write("\n")
    assert cli.main(["recheck", "evidence.json"]) == 0
    assert cli.main(["recheck", "evidence.json", "--folder", "."]) == 1
    assert "REFUSED: airframe.yaml is not the file" in capsys.readouterr().out


def test_harm_is_confirmed_as_harm(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = ROOT / "harnesses" / "faulty" / "pin-collision"
    out = tmp_path / "evidence.json"
    assert cli.main(["prove", str(folder / "jumper.yaml"), "-o", str(out)]) == 1
    assert "NO PROOF" in capsys.readouterr().out
    assert cli.main(["recheck", str(out)]) == 1
    assert "claim nets DOES NOT HOLD" in capsys.readouterr().out


def test_a_stop_of_the_checks_is_no_clean_exit(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The copper is whole, and a check stops all the same."""
    out = tmp_path / "evidence.json"
    assert cli.main(["prove", str(ROOT / "harnesses" / "faulty" / "two-drivers" / "jumper.yaml"), "-o", str(out)]) == 1
    data = json.loads(out.read_text())
    assert data["holds"]
    assert data["checks"][0]["stop"] == 1
    assert cli.main(["recheck", str(out)]) == 1


@pytest.mark.parametrize("text", ["", "[]", "{", "null", '{"layout": 1}', "[" * 100000])
def test_what_is_no_evidence(text: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "evidence.json"
    path.write_text(text)
    assert recheck.main([str(path)]) in (1, 2)
    assert "Traceback" not in capsys.readouterr().err
    assert recheck.main([str(tmp_path / "none.json")]) == 2


# -- nothing gets past it ----------------------------------------------------------------------------------------------

IRRELEVANT = {
    "a title or a source, which no number hangs on": ("title", "revision", "pieces source", "splice source"),
    "a name that nothing else refers to": (
        "files name", "points name", "edges id", "ways loads name", "breakers breaker", "breakers loads name",
    ),
    "it says less, and claims no more": ("files", "points"),
    "more that is not known": ("ways not known", "breakers not known", "stubs not known"),
    "a point off every way": ("points kind", "points of"),
    "wire or contact, off every way: copper all the same": ("edges kind",),
    "another point of the same piece of copper": ("edges from", "edges to", "circuits at", "circuits"),
    "what a signal line carries, when it is no supply, return or shield": ("circuits signal",),
    "a cavity that is led through, whatever is known of it": ("ways use",),
}  # fmt: skip
"""Columns in which a change may pass when the evidence is sealed again, and why it changes no claim and no number."""


def test_every_change_is_refused_or_changes_nothing() -> None:
    """Each leaf altered, nulled or swapped; each row out or doubled; each key out: sealed again by somebody."""
    allowed = {column for columns in IRRELEVANT.values() for column in columns}
    data, count = sound(), 0
    assert not tampering.refused(data)
    passed: set[str] = set()
    for path, done, changed in tampering.changes(data):
        count += 1
        if path[0] == "seal" or tampering.refused(tampering.sealed(changed)):
            continue
        column = tampering.column(path)
        assert column in allowed, (path, done, tampering.at(data, path))
        assert not isinstance(tampering.at(data, path), (int, float)), (path, done)
        assert still_true(changed), (path, done)
        passed.add(column)
    assert count > 2500
    assert passed <= allowed
    assert len(allowed - passed) <= 3, "a column that nothing passes needs no excuse"


def still_true(data: dict[str, Any]) -> bool:
    """What is claimed of the nets, by networkx from the points and edges of the evidence."""
    before, after = nx.Graph(), nx.Graph()
    own = [point["name"] for point in data["points"] if point["of"] == "airframe"]
    before.add_nodes_from(own)
    after.add_nodes_from(point["name"] for point in data["points"])
    for edge in data["edges"]:
        for graph, state in ((before, "before"), (after, "after")):
            if edge[state]:
                graph.add_edge(edge["from"], edge["to"])
    old = {frozenset(piece) for piece in nx.connected_components(before)}
    new = {frozenset(piece & set(own)) for piece in nx.connected_components(after)} - {frozenset()}
    return (old == new) == data["claims"]["nets"]


def test_without_a_new_seal_every_change_is_refused() -> None:
    """One change in every column, for the seal covers all of them alike."""
    data, seen = sound(), set()
    for path, _, changed in tampering.changes(data):
        column = tampering.column(path)
        if column not in seen:
            seen.add(column)
            assert tampering.refused(changed), path
    assert len(seen) > 80


def test_a_harness_that_was_rewired_is_refused() -> None:
    """What somebody would do who wants the proof: the wires of a faulty kit under the claims of a sound one."""
    faulty = small.changed("jumper.yaml", ("from: J3-3, to: SP3", "from: J3-3, to: SP2"))
    with run.folder(faulty) as file:
        data = json.loads(as_json(evidence(statement(hc.load(file)))))
    assert not data["holds"]
    assert not tampering.refused(data)
    good = sound()
    for keys in (("claims", "holds"), ("claims", "holds", "joined", "parted"), ("claims", "holds", "points")):
        forged = {**data, **{key: good[key] for key in keys}}
        assert tampering.refused(tampering.sealed(forged)), keys


def test_hashes_are_those_of_the_files() -> None:
    """Independent route: hashed here."""
    wanted = {name: hashlib.sha256(text.encode()).hexdigest() for name, text in small.TEXTS.items()}
    assert {file["name"]: file["sha256"] for file in sound()["files"]} == wanted
