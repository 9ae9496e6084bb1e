"""What one process writes of the demos: name to SHA-256, as JSON on standard output.

Arguments: ``few`` (reports, and sheets as text, CSV and SVG), ``most`` (every form but pictures, and the pack without
its pictures) or ``all``.
"""

from __future__ import annotations

import hashlib
import json
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from harnesscheck import api, checks, pack, report, sheets
from harnesscheck.pack import documents
from harnesscheck.sheets import Wish

HARNESSES = Path(__file__).resolve().parents[2] / "harnesses"
JOBS = ("ice-probe", "signal-logger", "faulty/pin-collision", "faulty/source-overloaded")
FEW = ("text", "csv", "svg")
DOT = (
    b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00\x00\x01\x00\x00\x00\x01\x08\x00\x00\x00\x00:~\x9bU"
    b"\x00\x00\x00\nIDATx\x9cc\xf8\x0f\x00\x01\x01\x01\x00\x1b\xb6\xeeV\x00\x00\x00\x00IEND\xaeB`\x82"
)


def written(how: str) -> Iterator[tuple[str, bytes]]:
    """Everything, with its name."""
    yield "explain", "\n".join(checks.explain(name) for name in checks.names()).encode()
    for name in JOBS:
        job = api.load(HARNESSES / name / "jumper.yaml")
        result = api.check(job)
        yield f"{name}: report as text", report.as_text(result).encode()
        yield f"{name}: report as JSON", report.write("json", [(name, result)], checks.rule).encode()
        if name == JOBS[0] or how == "all":
            yield from _sheets(name, job, how)
    if how != "few":
        yield from _pack(how)


def _sheets(job_name: str, job: api.Job, how: str) -> Iterator[tuple[str, bytes]]:
    for sheet in sheets.names():
        for form in sheets.forms(sheet):
            if how == "all" or form in FEW or (how == "most" and form != "png"):
                yield f"{job_name}: {sheet} as {form}", sheets.render(sheet, job, form)


def _pack(how: str) -> Iterator[tuple[str, bytes]]:
    if how != "all":
        documents.as_pdf.pictures = lambda leaves, dpi: [DOT for _ in leaves]
    job = api.load(HARNESSES / JOBS[0] / "jumper.yaml")
    with tempfile.TemporaryDirectory() as room:
        place = Path(room) / "kit"
        pack.write(job, api.check(job), place, Wish(3))
        for path in sorted(place.rglob("*")):
            if path.is_file():
                yield f"pack: {path.relative_to(place).as_posix()}", path.read_bytes()


if __name__ == "__main__":
    print(json.dumps({name: hashlib.sha256(data).hexdigest() for name, data in written(sys.argv[1])}))
