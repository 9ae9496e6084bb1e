"""The mutation testing itself, and its short form: every mutant on the way from a finding to the exit status."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest
from scipy.stats import binomtest

from tests.mutation import packages, survivors
from tests.mutation.__main__ import every, wilson
from tests.mutation.mutants import changed, mutants
from tests.mutation.packages import ROOT
from tests.mutation.running import Reach

TEXT = '''\
"""A docstring is left alone: 1 < 2."""

LIMIT: float = 0.5


def judge(volts: float, most: float = 3) -> str | None:
    """So is this one."""
    if volts < most and not volts == 1:
        raise ValueError(f"{volts} is odd")
    loose = volts > most * (1 + 1e-9) or volts <= most - 1e-9
    return {"low": "text", "high": "other"}["low"]
'''
WANTED = [
    "0.5 becomes 0.55", "3 becomes 4", "And becomes Or", "Lt becomes LtE", "Lt becomes GtE", "Not dropped",
    "Eq becomes NotEq", "1 becomes 2", "left out",
    "Or becomes And", "Gt becomes LtE", "1 becomes 2", "LtE becomes Gt", "returns None", "'low' becomes another text",
    "'high' becomes another text", "'low' becomes another text",
]  # fmt: skip
"""Read off the text above, line by line."""


def test_what_is_changed_and_what_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "judge.py").write_text(TEXT)
    found = mutants(tmp_path, "judge.py")
    assert [m.change for m in found] == WANTED
    whole = ast.unparse(ast.parse(TEXT))
    texts = [ast.unparse(changed(tmp_path, m)) for m in found]
    assert len(set(texts)) == len(WANTED)
    assert whole not in texts
    assert [m.warm for m in found] == [False] * 2 + [True] * (len(WANTED) - 2)
    assert len({m.key for m in found}) == len(WANTED)


INSIDE = """\
def outer(x):
    def inner(y):
        return y + 1
    class Kept:
        size = 2
    return inner(x) * Kept.size


class Thing:
    def method(self):
        def inner():
            return 3
        return inner()
"""


def test_what_stands_in_a_function_inside_a_function_belongs_to_the_outer_one(tmp_path: Path) -> None:
    """That is the one whose code is exchanged: the inner one does not exist before the outer one runs."""
    (tmp_path / "inside.py").write_text(INSIDE)
    found = mutants(tmp_path, "inside.py")
    assert {m.within for m in found if m.line < 8} == {"outer"}
    assert {m.within for m in found if m.line > 8} == {"Thing.method"}
    assert len(found) == 3 + 1 + 2 + 3 and all(m.warm and not m.anew for m in found)


@pytest.mark.parametrize(("good", "of"), [(4, 20), (0, 10), (10, 10), (285, 300)])
def test_the_lower_bound_is_that_of_wilson(good: int, of: int) -> None:
    """Against scipy; 4 of 20 is the worked case of many texts: 0.081."""
    assert wilson(good, of) == pytest.approx(binomtest(good, of).proportion_ci(method="wilson").low, abs=1e-6)


def test_every_listed_survivor_names_code_that_is_there() -> None:
    there = [mutant for name in packages.PACKAGES for mutant in every(name)]
    assert len(there) > 15_000
    gone = [one for one in survivors.listed() if not any(one.fits(mutant) for mutant in there)]
    assert not gone, "these lines have changed: look at the reason again"


def test_what_several_processes_recorded_is_put_together() -> None:
    """A line keeps the tests of every part; a folder of tests is dealt out file by file."""
    whole = Reach()
    whole.add(Reach({"a": 1.0}, {"f.py": {1: ["a"], 2: ["a"]}}, ["m"]))
    whole.add(Reach({"b": 2.0}, {"f.py": {2: ["b"]}, "g.py": {7: ["b"]}}, ["l", "m"]))
    assert whole == Reach({"a": 1.0, "b": 2.0}, {"f.py": {1: ["a"], 2: ["a", "b"]}, "g.py": {7: ["b"]}}, ["l", "m"])
    both = Reach({"a.py::x": 1.0, "b/c.py::y": 2.0}, {"f.py": {1: ["a.py::x"], 2: ["a.py::x", "b/c.py::y"]}}, ["m"])
    assert both.only("a.py") == Reach({"a.py::x": 1.0}, {"f.py": {1: ["a.py::x"], 2: ["a.py::x"]}}, ["m"])
    assert both.only("b") == Reach({"b/c.py::y": 2.0}, {"f.py": {2: ["b/c.py::y"]}}, ["m"])
    for name in packages.PACKAGES:
        files = packages.test_files(name)
        assert len(set(files)) == len(files) >= len([test for test in packages.tests(name) if "*" not in test])
        assert all((ROOT / file).exists() for file in files)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="mutants are tried in forked processes")
def test_no_mutant_survives_from_a_finding_to_the_exit_status() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "tests.mutation", "path"], cwd=ROOT, capture_output=True, text=True, timeout=900
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert "0 survive" in done.stdout


def test_what_runs_at_import_is_changed_also_where_docstrings_are_asked() -> None:
    """pytest imports a module with docstrings by its own importer; the change has to be in it all the same."""
    file, test = "harnesscheck/jumper/kit.py", "tests/jumper/test_hand_kit_reasons_interface.py"
    said = (
        "import sys; from tests.mutation import running; from tests.mutation.mutants import mutants;"
        f"m = next(m for m in mutants(running.Path('.'), {file!r}) if m.anew and m.change == 'False becomes True');"
        f"print(running.cold(running.Path('.').resolve(), m, ['{test}::test_leads_come_in_file_order',"
        f"'{file}::harnesscheck.jumper.kit.up'], 2, 2.0).killed)"
    )
    done = subprocess.run([sys.executable, "-c", said], cwd=ROOT, capture_output=True, text=True, timeout=300)
    assert done.stdout.strip() == "True", done.stdout + done.stderr
