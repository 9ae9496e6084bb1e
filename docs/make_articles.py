"""The articles of the self-test, made of ``harnesses/faulty/`` and of the pages in ``tests/checks/``.

``make_pages.py`` writes them to ``harnesscheck/selftest/articles.json``.
"""

from __future__ import annotations

import difflib
import json
import re
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from harnesscheck import checks
from harnesscheck.selftest.articles import DEMOS

ROOT = Path(__file__).resolve().parents[1]
FAULTY = ROOT / "harnesses" / "faulty"
SEVERITY = re.compile(r"^1\. (STOP|CAUTION|NOTE): .*\[([a-z-]+)\]$", re.MULTILINE)
sys.path.insert(0, str(ROOT / "tests"))

import pages  # noqa: E402  (the reader of the pages lies with the tests)


def articles() -> str:
    """The text of ``articles.json``."""
    faults = [_fault(name) for name in checks.names()]
    missing = [found for name in checks.names() if (found := _missing(name))]
    data = {"faults": faults, "missing": missing}
    return json.dumps(data, indent=1, ensure_ascii=False) + "\n"


def _fault(name: str) -> dict[str, Any]:
    folder = FAULTY / name
    texts = {file.name: file.read_text(encoding="utf-8") for file in sorted(folder.glob("*.yaml"))}
    demo = next(d for d in DEMOS if {f.name for f in (ROOT / "harnesses" / d).glob("*.yaml")} == set(texts))
    said = SEVERITY.search((folder / "expected.txt").read_text(encoding="utf-8"))
    if said is None or said[2] != name:
        raise ValueError(f"harnesses/faulty/{name}/expected.txt does not begin with a finding of {name}")
    edits = [edit for file, text in texts.items() for edit in _edits(demo, file, text)]
    return {"check": name, "severity": said[1].lower(), "demo": demo, "edits": edits}


def _edits(demo: str, file: str, text: str) -> Iterator[dict[str, Any]]:
    old, new = (ROOT / "harnesses" / demo / file).read_text(encoding="utf-8").split("\n"), text.split("\n")
    for kind, a, b, c, d in difflib.SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        if kind != "equal" and not all(line.startswith("#") for line in (*old[a:b], *new[c:d])):
            yield {"file": file, "line": a + 1, "old": old[a:b], "new": new[c:d]}


def _missing(name: str) -> dict[str, Any] | None:
    """The first answer of a page that holds nothing but things not checked, else the first that holds some."""
    answers = [a for a in pages.answers(ROOT / "tests" / "checks" / f"{name}.md") if "not checked" in a.counts]
    answers.sort(key=lambda a: bool(re.search("stop|caution|note", a.counts)))
    if not answers:
        return None
    chosen = answers[0]
    files = {file: text.rstrip("\n").split("\n") for file, text in chosen.files.items()}
    return {"check": name, "counts": chosen.counts, "main": pages.main_file(chosen), "files": files}
