"""The measures that take minutes by hand, in a form of seconds: they run, and what they print is there.

None judges a time: ``python -m tests.bench.scale`` does, run by hand. All mutants on the path from a finding to the
exit status are tried in ``tests/mutation/test_mutation.py``.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
RATIOS = (
    "read / events", "nets / components by scipy", "whole check / read", "solve / factorisation by scipy",
    "cut list / read",
)  # fmt: skip


def run(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-m", *words], cwd=ROOT, capture_output=True, text=True, timeout=900)


def test_the_scale_benchmark_prints_ratios_growth_and_memory() -> None:
    done = run("tests.bench.scale", "100", "300")
    assert done.returncode == 0, done.stdout + done.stderr
    lines = done.stdout.splitlines()
    for name in RATIOS:
        (line,) = (one for one in lines if one.startswith(name))
        numbers = [float(word) for word in re.findall(r"-?\d+\.\d+", line.removeprefix(name))]
        assert len(numbers) == 4 and all(number > 0 for number in numbers[:2]), line  # two ratios, growth, the floor's
    (line,) = (one for one in lines if one.startswith("peak memory, MB"))
    assert all(20 < float(word) < 1500 for word in line.split()[-2:])


@pytest.mark.skipif(not hasattr(os, "fork"), reason="mutants are tried in forked processes")
def test_a_few_mutants_of_the_formulas() -> None:
    done = run("tests.mutation", "formulas", "--sample", "40", "--seconds", "2")
    assert done.returncode == 0, done.stdout + done.stderr
    assert "formulas: a sample of 40" in done.stdout


def test_every_branch_of_the_checks_is_taken() -> None:
    """The readers take minutes: ``python -m tests.branches readers``."""
    done = run("tests.branches", "checks")
    assert done.returncode == 0, done.stdout[-3000:] + done.stderr[-1000:]


def test_branches_of_a_part_are_counted(tmp_path: Path) -> None:
    """The tool sees a branch that is not taken, and says so by its status."""
    (tmp_path / "half.py").write_text("def half(n):\n    if n:\n        return 1\n    return 2\n")
    (tmp_path / "test_half.py").write_text("import half\n\n\ndef test_half():\n    assert half.half(1) == 1\n")
    said = (
        "import sys; from pathlib import Path; from tests import branches; "
        f"branches.ROOT = Path({str(tmp_path)!r}); sys.exit(not branches.measured('half.py', ('../test_half.py',)))"
    )
    done = subprocess.run(
        [sys.executable, "-c", said], cwd=ROOT, capture_output=True, text=True, timeout=300, env={**os.environ}
    )
    assert done.returncode == 1 and re.search(r"half\.py .* 4\b", done.stdout), done.stdout + done.stderr
