"""Branch coverage: ``python -m tests.branches [checks] [readers]`` prints what no test reaches, and ends with 1 then.

A branch that nothing can reach is to be removed; one kept for safety carries ``# pragma: no cover`` and why.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[1]
READING = (
    "formats", "test_plain_lines.py", "test_typed_values.py",
    "test_refusals.py", "test_bad_input.py", "importing", "exchange", "properties", "fleet/test_as_found.py",
    "fleet/test_several_kits.py", "test_job_files.py", "test_typos.py", "test_decisions.py",
    "test_stowed.py", "test_signal_keys.py", "test_paper_keys.py", "test_editor_schema.py", "test_shop_parts.py",
    "trouble/test_readings_file.py", "trouble/test_readings_rows.py", "test_check_pages.py", "test_check_cases.py",
)  # fmt: skip
WHAT = {
    "checks": (
        "harnesscheck/checks/*",
        ("test_check_*.py", "test_harnesses.py", "mutation/test_exit_*.py"),
    ),
    "readers": ("harnesscheck/formats/*,harnesscheck/document.py,harnesscheck/trouble/readings.py", READING),
}  # fmt: skip


def measured(files: str, tests: tuple[str, ...]) -> bool:
    """Run the tests and print the report. Returns whether every branch was taken."""
    with tempfile.TemporaryDirectory() as folder:
        environment = {**os.environ, "COVERAGE_FILE": str(Path(folder) / "coverage")}
        paths = [str(path) for test in tests for path in sorted((ROOT / "tests").glob(test))]
        run = ["run", "--branch", f"--include={files}", "-m", "pytest", "-q", "-p", "no:cacheprovider", *paths]
        passed = subprocess.run([sys.executable, "-m", "coverage", *run], cwd=ROOT, env=environment)
        report = ["report", "--show-missing", "--skip-covered", "--fail-under=100"]
        whole = subprocess.run([sys.executable, "-m", "coverage", *report], cwd=ROOT, env=environment)
    return passed.returncode == 0 and whole.returncode == 0


if __name__ == "__main__":
    done = {name: measured(*WHAT[name]) for name in sys.argv[1:] or WHAT}
    sys.exit(0 if all(done.values()) else 1)
