"""The packaged demo: the whole job on an invented aircraft and sensor."""

from __future__ import annotations

from pathlib import Path

from harnesscheck import api, report
from harnesscheck.fault import Fault, InputError
from harnesscheck.output import write_whole

NAME = "ice-probe"
_HERE = Path(__file__).resolve().parent


def folder(name: str = NAME) -> Path:
    """Where the files of a demo lie: inside an installed package, else in the checkout."""
    packaged = _HERE / "demo" / name
    return packaged if packaged.is_dir() else _HERE.parent / "harnesses" / name


def run(out: Path, colour: bool) -> bool:
    """Copy the demo's files to ``out``, check, draw, list, and print what to open. True when nothing is to stop for.

    Raises ``InputError`` when ``out`` holds files that a person has changed, ``OSError`` when it cannot be written.
    """
    inputs = sorted([*folder().glob("*.yaml"), *folder().glob("*.csv")])
    for source in inputs:
        target = out / source.name
        if target.exists() and target.read_bytes() != source.read_bytes():
            remedy = "choose another folder with -o; your file is left as it is"
            raise InputError([Fault(str(target), 1, 1, "this file differs from the demo's", "", remedy)])
    out.mkdir(parents=True, exist_ok=True)
    for source in inputs:
        write_whole(out / source.name, source.read_bytes())
    job = api.load(out / "jumper.yaml")
    result = api.check(job)
    write_whole(out / "findings.txt", report.as_text(result).encode())
    print(report.as_text(result, colour))
    written = [
        out / "findings.txt",
        api.draw(job, out / "wiring-diagram.svg"),
        api.draw(job, out / "wiring-diagram.png"),
    ]
    written += [api.sheet(job, "cut-list", out / "cut-list.csv"), api.sheet(job, "cut-list", out / "cut-list.txt")]
    print("Open these:")
    for path, words in zip(
        written,
        ("the findings", "the wiring diagram", "the same as a picture", "the cut list", "the cut list to print"),
        strict=True,
    ):
        print(f"  {path!s:<43} {words}")
    print(f"Then change {out / 'jumper.yaml'} and run: harnesscheck check {out / 'jumper.yaml'}")
    return result.clear
