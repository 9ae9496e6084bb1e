"""Every command as each of three people would use it: the fabricator, the installer, support on the telephone."""

from __future__ import annotations

import ast
import json
import os
import shutil
import struct
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest

import harnesscheck
from harnesscheck import checks, demo, report, sheets
from harnesscheck.cli import main

ROOT = Path(__file__).parent.parent
DEMO = ROOT / "harnesses" / "ice-probe"
J, A, E = "jumper.yaml", "airframe.yaml", "ice-probe.yaml"
CROSSED = [
    ("from: J114-6, to: P114-6", "from: J114-6, to: P114-7"),
    ("from: J114-7, to: P114-7", "from: J114-7, to: P114-6"),
]
"""Two pass-through wires exchanged at one end."""


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the demo as the current folder."""
    folder = tmp_path / "job"
    shutil.copytree(DEMO, folder)
    monkeypatch.chdir(folder)
    return folder


def spoil(folder: Path, *changes: tuple[str, str]) -> None:
    """Change the jumper of a job."""
    text = (folder / J).read_text()
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    (folder / J).write_text(text)


def child(*arguments: str, folder: Path | None = None, **environment: str) -> subprocess.CompletedProcess[bytes]:
    """``python -m harnesscheck`` in a process of its own."""
    command = [sys.executable, "-m", "harnesscheck", *arguments]
    return subprocess.run(command, cwd=folder, env={**os.environ, **environment}, capture_output=True)


# -- the fabricator: check, draw, cut list ---------------------------------------------------------------------------


def test_check_of_the_demo_is_clear(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", J]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    assert out.startswith("Ice probe jumper, left wing root\n")
    assert out.splitlines()[-1].startswith("Nothing to stop for: 0 to stop for")
    for line in report.CAUTIONS:
        assert line in out


@pytest.mark.parametrize("file", [A, E])
def test_airframe_or_equipment_alone_says_what_was_out_of_reach(
    file: str, job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", file]) in (0, 1)
    assert "alone: its " in capsys.readouterr().out.splitlines()[1]


def test_check_of_a_fault_stops(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spoil(job, *CROSSED)
    assert main(["check", J]) == 1
    out = capsys.readouterr().out
    assert "1. STOP: " in out
    assert "AOA TX" in out and "AOA SIG GND" in out
    assert "[broken-through-circuit]" in out
    assert out.splitlines()[-1].startswith("STOP, do not build or apply power: 1 to stop for")


def test_text_and_json_hold_the_same_findings_in_the_same_order(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spoil(
        job, *CROSSED, ("    plugs: MS27488-22-2\n", ""), ("from: SP1, to: P115-1,", "from: SP1, to: P115-2,"),
        ("{from: J114-8, to: P114-8, ", "{from: J114-8, to: P114-88, "),
    )  # fmt: skip
    assert main(["check", J]) == 1
    text = capsys.readouterr().out
    assert main(["check", "--format", "json", J]) == 1
    data = json.loads(capsys.readouterr().out)
    headlines = [finding["headline"] for finding in data["findings"]]
    assert len(headlines) >= 3
    positions = [text.index(f"{headline} [") for headline in headlines]
    assert positions == sorted(positions)
    numbered = [line for line in text.splitlines() if line[:1].isdigit() and ". " in line]
    assert len(numbered) == sum(1 for finding in data["findings"] if not finding["follows"])
    totals = data["totals"]
    assert data["verdict"] == text.splitlines()[-1]
    assert sum(totals[word] for word in ("stop", "caution", "note")) == len(numbered)
    assert totals["not_checked"] == len(data["not_checked"])
    for finding in data["findings"]:
        assert finding["headline"] and finding["remedy"] and finding["source"] and finding["severity"] in totals
        place = finding["place"]
        assert (job / place["file"]).read_text().splitlines()[place["line"] - 1] == place["text"]
    assert data["clear"] is False and data["cautions"] == list(report.CAUTIONS)


def test_only_runs_what_is_named_and_each_once(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spoil(job, *CROSSED)
    assert main(["check", J, "--only", "pin-collision"]) == 0
    out = capsys.readouterr().out
    assert "pin-collision" in out and "broken-through-circuit" not in out
    only = ["--only", "broken-through-circuit", "--only", "pin-collision", "--only", "broken-through-circuit"]
    assert main(["check", J, "--format", "json", *only]) == 1
    data = json.loads(capsys.readouterr().out)
    assert [finding["check"] for finding in data["findings"]] == ["broken-through-circuit"]
    assert list(data["passed"]) == ["broken-through-circuit", "pin-collision"]


def test_strict_counts_what_was_not_checked(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--strict", J]) == 0
    # Without a declared tap the intent for this pin cannot be compared: not checked, never passed.
    spoil(job, ("  A12J1-1: WING EQPT PWR\n", ""))
    assert main(["check", J]) == 0
    assert main(["check", "--strict", J]) == 1
    out = capsys.readouterr().out
    assert "Not checked:" in out and "1 thing not checked" in out


def test_several_files(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spoil(job, CROSSED[0])
    assert main(["check", "airframe.yaml", J]) == 1
    out = capsys.readouterr().out
    assert out.index("Glider tug") < out.index("Ice probe jumper")
    assert main(["check", "--format", "json", "airframe.yaml", J]) == 1
    data = json.loads(capsys.readouterr().out)
    assert [one["clear"] for one in data] == [True, False]


def test_expected_sheets_are_there() -> None:
    assert {"wiring-diagram", "cut-list"} <= set(sheets.names())
    assert {"svg", "png"} <= set(sheets.forms("wiring-diagram"))
    assert {"text", "csv"} <= set(sheets.forms("cut-list"))


def test_draw_svg(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["draw", J, "-o", "d.svg"]) == 0
    assert capsys.readouterr().out == "wrote d.svg\n"
    root = ElementTree.fromstring((job / "d.svg").read_bytes())
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    drawn = " ".join("".join(element.itertext()) for element in root.iter() if element.tag.endswith("text"))
    for word in ("P501A20", "SP1", "J114", "P114", "P115"):
        assert word in drawn
    for element in root.iter():
        assert not element.tag.endswith("script")
        assert not any(name.lower().startswith("on") or "javascript:" in value for name, value in element.items())


def test_draw_png(job: Path) -> None:
    assert main(["draw", J, "-o", "d.PNG"]) == 0
    data = (job / "d.PNG").read_bytes()
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    width, height = struct.unpack(">II", data[16:24])
    assert width > 500 and height > 300


def test_cut_list(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheet", "cut-list", J]) == 0
    shown = capsys.readouterr().out
    wires = [line.split(":")[0].strip() for line in (job / J).read_text().splitlines() if "{from:" in line]
    assert len(wires) >= 20
    for wire in wires:
        assert wire in shown
    assert main(["sheet", "cut-list", J, "-o", "cut.txt"]) == 0
    assert (job / "cut.txt").read_text("utf-8") == shown
    capsys.readouterr()
    assert main(["sheet", "cut-list", J, "-o", "cut.csv"]) == 0
    assert capsys.readouterr().out == "wrote cut.csv\n"
    written = (job / "cut.csv").read_text("utf-8")
    for wire in wires:
        assert wire in written


def test_a_picture_sheet_asks_for_a_file(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheet", "wiring-diagram", J]) == 2
    assert "-o wiring-diagram.svg" in capsys.readouterr().err


# -- the installer: what is this cavity? -----------------------------------------------------------------------------

# What the demo's files say when they are read by eye: P14-3 carries CAN H and is plugged into J114-3; from there wire
# D503A22 leads to SP3, where D503B22 goes on to P114-3 and J14-3, and D503C22 to P115-3 and the probe.
REACHED = {"J114-3", "SP3", "P114-3", "J14-3", "P115-3", "A12J1-3"}


@pytest.mark.parametrize("start", ["P14-3", "SP3", "A12J1-3"])
def test_trace(start: str, job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["trace", J, start]) == 0
    text = capsys.readouterr().out
    assert text.startswith(start)
    assert text.endswith("circuit: CAN H\n")
    assert main(["trace", J, start, "--format", "json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["start"] == start and data["circuits"] == ["CAN H"]
    reached = [step["to"] for step in data["steps"]]
    assert len(reached) == len(set(reached))
    assert {start, *reached} == {"P14-3", *REACHED}
    assert {step["through"] for step in data["steps"]} == {"mate", "D503A22", "D503B22", "D503C22"}
    for step in data["steps"]:
        assert step["to"] in text


def test_trace_of_a_cavity_that_leads_nowhere(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["trace", J, "CB7-line"]) == 0
    assert "leads nowhere" in capsys.readouterr().out


# -- support: explain, list, help ------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", checks.names())
def test_explain(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", name]) == 0
    out = capsys.readouterr().out
    assert out.startswith(f"{name}\n\n")
    for heading in ("What", "Why it matters", "Source", "What to do"):
        assert f"\n{heading}\n" in out


def test_list(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["list"]) == 0
    text = capsys.readouterr().out
    assert main(["list", "--format", "json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert list(data["checks"]) == checks.names() and list(data["sheets"]) == sheets.names()
    for group in data.values():
        for name, title in group.items():
            assert name in text and title in text and title


@pytest.mark.parametrize("command", ["check", "draw", "sheet", "trace", "explain", "list", "demo"])
def test_help_of_every_command_has_two_examples(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([command, "--help"]) == 0
    out = capsys.readouterr().out
    examples = [line.split() for line in out.partition("examples:\n")[2].splitlines() if line.strip()]
    assert len(examples) >= 2
    assert all(words[:2] == ["harnesscheck", command] for words in examples)


def test_the_examples_in_the_help_run(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lines = set()
    for command in ("", "check", "draw", "sheet", "trace", "explain", "list", "demo"):
        assert main([*command.split(), "--help"]) == 0
        text = capsys.readouterr().out.partition("examples:\n")[2]
        lines |= {line.strip().partition("  ")[0] for line in text.splitlines() if line.strip()}
    assert len(lines) >= 14
    for line in sorted(lines):
        program, *arguments = line.split()
        assert program == "harnesscheck"
        assert main(arguments) == 0, line


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--version"]) == 0
    assert capsys.readouterr().out == f"harnesscheck {harnesscheck.__version__}\n"


# -- the demo --------------------------------------------------------------------------------------------------------


def test_demo_twice_into_one_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "new" / "demo"
    assert main(["demo", "-o", str(out)]) == 0
    shown = capsys.readouterr().out
    files = {path.name: path.read_bytes() for path in out.iterdir()}
    for name in (J, A, E, "shop-parts.yaml"):
        assert files[name] == (DEMO / name).read_bytes()
    named = [line.split()[0] for line in shown.partition("Open these:\n")[2].splitlines() if line.startswith("  ")]
    assert {"findings.txt", "wiring-diagram.svg", "wiring-diagram.png", "cut-list.csv"} <= {Path(n).name for n in named}
    assert all(Path(name).stat().st_size > 0 for name in named)
    assert main(["demo", "-o", str(out)]) == 0
    assert capsys.readouterr().out == shown
    assert {path.name: path.read_bytes() for path in out.iterdir()} == files


def test_demo_leaves_an_edited_file_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["demo", "-o", str(tmp_path)]) == 0
    capsys.readouterr()
    (tmp_path / A).write_text("kind: airframe\n")
    (tmp_path / "findings.txt").write_text("old\n")
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    assert main(["demo", "-o", str(tmp_path)]) == 2
    assert f"{tmp_path / A}:1:1: this file differs from the demo's" in capsys.readouterr().err
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before


def test_demo_folder_is_the_one_in_the_checkout() -> None:
    assert demo.folder() == DEMO


# -- the program as a whole ------------------------------------------------------------------------------------------


def test_python_dash_m(job: Path) -> None:
    done = child("check", J, folder=job)
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout.startswith(b"Ice probe jumper")


def test_hash_seed_changes_no_byte(job: Path) -> None:
    spoil(job, *CROSSED, ("from: SP1, to: P115-1,", "from: SP1, to: P115-2,"), ("J114-8, to", "J114-9, to"))
    outputs = []
    for seed in ("1", "20261125"):
        texts = []
        for arguments in (["check", J], ["check", "--format", "json", J], ["trace", J, "P14-1"], ["list"]):
            done = child(*arguments, folder=job, PYTHONHASHSEED=seed)
            assert done.stderr == b""
            texts.append(done.stdout)
        for arguments, name in ((["draw"], "d.svg"), (["draw"], "d.png"), (["sheet", "cut-list"], "c.csv")):
            assert child(*arguments, J, "-o", name, folder=job, PYTHONHASHSEED=seed).returncode == 0
            texts.append((job / name).read_bytes())
        outputs.append(texts)
    assert all(outputs[0])
    assert outputs[0] == outputs[1]


def test_the_command_line_starts_without_the_heavy_libraries() -> None:
    heavy = ["pydantic", "pydantic_core", "networkx", "scipy", "numpy", "ruamel", "resvg_py"]
    script = (
        "import sys, harnesscheck.cli; harnesscheck.cli.build_parser().format_help();"
        f"print([m for m in {heavy} if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True)
    assert (done.stdout, done.stderr) == ("[]\n", "")


def test_check_needs_no_graph_library_and_no_picture_library(job: Path) -> None:
    script = (
        "import sys; from harnesscheck.cli import main; status = main(['check', 'jumper.yaml']);"
        "print(status, [m for m in ('networkx', 'scipy', 'numpy', 'resvg_py') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, cwd=job)
    assert done.stdout.splitlines()[-1] == "0 []"


FORBIDDEN = {
    "pickle",
    "marshal",
    "shelve",
    "subprocess",
    "socket",
    "ssl",
    "urllib",
    "http",
    "ftplib",
    "ctypes",
    "requests",
}
CALLS = {"eval", "exec", "compile", "__import__", "system", "popen", "spawnl", "spawnv", "execv"}


def uses(tree: ast.AST) -> set[str]:
    """Forbidden modules that a source imports, and forbidden functions that it calls."""
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {alias.name.partition(".")[0] for alias in node.names} & FORBIDDEN
        elif isinstance(node, ast.ImportFrom):
            found |= {(node.module or "").partition(".")[0]} & FORBIDDEN
        elif isinstance(node, ast.Call):
            if isinstance(node.func, ast.Name):
                found |= {node.func.id} & CALLS
            elif isinstance(node.func, ast.Attribute) and not (
                isinstance(node.func.value, ast.Name) and node.func.value.id == "re"  # re.compile is another matter
            ):
                found |= {node.func.attr} & CALLS
    return found


def test_the_scan_sees_what_it_looks_for() -> None:
    for source in ("eval('1')", "import pickle", "from urllib.request import urlopen", "import os\nos.system('x')"):
        assert uses(ast.parse(source))
    assert not uses(ast.parse("import re\nre.compile('x')"))


def test_no_evaluation_no_network_no_shell() -> None:
    sources = sorted((ROOT / "harnesscheck").rglob("*.py"))
    assert len(sources) > 40
    for source in sources:
        assert not uses(ast.parse(source.read_text("utf-8"))), source
