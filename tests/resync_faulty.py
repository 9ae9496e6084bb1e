"""Bring the faulty jobs up to the demo as it is now: ``python tests/resync_faulty.py [NAME ...]``.

Each folder of ``harnesses/faulty/`` is a copy of one of the two demos with one mistake. For each of its files the
commit of the demo it was made from is taken to be the one it differs least from; a three-way merge then carries the
demo's later changes into the copy. Conflicts are printed and left unwritten. Afterwards run
``pytest --rewrite tests/test_harnesses.py``.
"""

from __future__ import annotations

import difflib
import subprocess
import sys
import tempfile
from pathlib import Path

HARNESSES = Path(__file__).resolve().parents[1] / "harnesses"


def git(*words: str) -> str:
    """What git prints; empty when it fails."""
    return subprocess.run(["git", "-C", str(HARNESSES), *words], capture_output=True, text=True, check=False).stdout


def distance(one: str, two: str) -> int:
    """Lines that differ."""
    return sum(line[:2] in ("- ", "+ ") for line in difflib.ndiff(one.splitlines(), two.splitlines()))


def resync(file: Path) -> str:
    """Carry the demo's changes into one file of a copy. Returns what was done, in a word or two."""
    origin = "signal-logger" if (file.parent / "logger.yaml").exists() else "ice-probe"
    demo, mine = (HARNESSES / origin / file.name).read_text(encoding="utf-8"), file.read_text(encoding="utf-8")
    commits = git("log", "--all", "--format=%H", "--", f"{origin}/{file.name}").split()
    olds = [demo, *(text for commit in commits if (text := git("show", f"{commit}:./{origin}/{file.name}")))]
    base = min(olds, key=lambda text: distance(text, mine))
    if base == demo:
        return ""
    with tempfile.TemporaryDirectory() as folder:
        paths = []
        for name, text in (("mine", mine), ("base", base), ("demo", demo)):
            path = Path(folder, name)
            path.write_text(text, encoding="utf-8")
            paths.append(str(path))
        merged = subprocess.run(["git", "merge-file", "-p", *paths], capture_output=True, text=True, check=False)
    if merged.returncode:
        return "CONFLICT"
    file.write_text(merged.stdout, encoding="utf-8")
    return "brought up"


if __name__ == "__main__":
    for folder in sorted((HARNESSES / "faulty").iterdir()):
        if not sys.argv[1:] or folder.name in sys.argv[1:]:
            for file in sorted(folder.glob("*.yaml")):
                done = resync(file)
                if done:
                    print(done, file.relative_to(HARNESSES))
