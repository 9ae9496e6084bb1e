"""Surroundings to write the same things in, and the comparison."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LOCALES = ("C", "C.UTF-8", "de_DE.UTF-8", "tr_TR.UTF-8")
"""With a decimal comma, and with a dotless i; those that are not installed are named as not tried."""
ZONES = ("UTC", "Asia/Tokyo", "America/St_Johns", "Pacific/Kiritimati")
PYTHONS = tuple(f"python3.{minor}" for minor in range(11, 16))


@dataclass(frozen=True)
class Surroundings:
    """Where one process runs."""

    seed: str = "0"
    locale: str = "C.UTF-8"
    zone: str = "UTC"
    python: str = sys.executable

    def __str__(self) -> str:
        return f"hash seed {self.seed}, locale {self.locale}, time zone {self.zone}, {Path(self.python).name}"


def render(where: Surroundings, how: str) -> dict[str, str]:
    """Name to SHA-256 of everything that a process writes there. Raises ``RuntimeError`` with what it said."""
    keep = {key: value for key, value in os.environ.items() if not key.startswith(("LC_", "LANG", "PYTHON"))}
    environment = {
        **keep,
        "PYTHONPATH": str(ROOT),
        "PYTHONHASHSEED": where.seed,
        "LC_ALL": where.locale,
        "LANG": where.locale,
        "TZ": where.zone,
        # Python itself would turn C into C.UTF-8; a program may be started where it cannot.
        **({"PYTHONCOERCECLOCALE": "0", "PYTHONUTF8": "0"} if where.locale == "C" else {}),
    }
    command = [where.python, "-m", "tests.determinism.render", how]
    done = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, encoding="utf-8")
    if done.returncode:
        raise RuntimeError(f"{where}: {done.stderr[-2000:]}")
    found: dict[str, str] = json.loads(done.stdout)
    return found


def differences(one: dict[str, str], two: dict[str, str]) -> list[str]:
    """Names of what differs, or is missing on one side."""
    return sorted(name for name in one.keys() | two.keys() if one.get(name) != two.get(name))


def installed_locales() -> set[str]:
    """As the system lists them, in one spelling."""
    tool = shutil.which("locale")
    said = subprocess.run([tool, "-a"], capture_output=True, text=True).stdout if tool else ""
    return {plain(name) for name in (*said.split(), "C")}


def plain(name: str) -> str:
    """``de_DE.utf8`` and ``de_DE.UTF-8`` are one locale."""
    return name.lower().replace("-", "")


def other_pythons() -> tuple[list[str], list[str]]:
    """Interpreters of another version that can run the program, and why others cannot."""
    usable, not_tried = [], []
    mine = f"python3.{sys.version_info.minor}"
    for name in PYTHONS:
        path = os.environ.get(f"OTHER_{name.upper().replace('.', '_')}") or shutil.which(name)
        if name == mine:
            continue
        if not path:
            not_tried.append(f"{name}: not installed")
            continue
        code = "import harnesscheck.api, typst, xlsxwriter, scipy, resvg_py, segno"
        done = subprocess.run([path, "-c", code], cwd=ROOT, capture_output=True, text=True)
        if done.returncode:
            not_tried.append(f"{name}: {(done.stderr.strip().splitlines() or ['it does not start'])[-1]}")
        else:
            usable.append(path)
    return usable, not_tried
