"""The record of a self-test, for the file of the job: what was tested, on what, what came out."""

from __future__ import annotations

import platform
import re
from collections.abc import Iterator, Sequence
from importlib import metadata

from harnesscheck.fault import quoted
from harnesscheck.pack import ident
from harnesscheck.report import CAUTIONS
from harnesscheck.selftest import articles
from harnesscheck.selftest.bench import Line
from harnesscheck.version import __version__

KINDS = {
    "good": "Known good: nothing may be found",
    "bad": "Known bad: the check must find it, first and alone",
    "unknown": "Data missing: the check must say that it could not look",
    "refused": "Unreadable: refused, with the place",
    "program": "The whole program: the exit status that the system gets",
    "kept": "What was there stays, or is replaced whole",
    "sheet": "Every sheet, in every form, the bundled font in each PDF; pictures of two",
    "broken": "Parts of the self-test that broke down",
}
LIBRARIES = (
    "ruamel.yaml", "ruamel.yaml.clib", "pydantic", "pydantic-core", "networkx", "scipy", "numpy",
    "typst", "resvg-py", "xlsxwriter", "segno",
)  # fmt: skip


def passed(lines: Sequence[Line]) -> bool:
    """Whether everything came out as expected, and something was tested at all."""
    return (
        bool(lines) and all(line.good for line in lines) and {line.kind for line in lines} >= KINDS.keys() - {"broken"}
    )


def as_text(lines: Sequence[Line]) -> str:
    """The record. It says no time and no place: the person who keeps it writes the date."""
    return "\n".join(_text(lines)) + "\n"


def verdict(lines: Sequence[Line]) -> str:
    """The last line of the record."""
    good = sum(line.good for line in lines)
    if passed(lines):
        return f"PASSED: {good} of {len(lines)} articles came out as expected."
    return (
        f"FAILED: {len(lines) - good} of {len(lines)} articles did not come out as expected. "
        "Make no use of this installation: install it again, and report this record when it fails again."
    )


def _text(lines: Sequence[Line]) -> Iterator[str]:
    yield "Self-test of harnesscheck"
    yield ""
    for name, said in _about():
        yield f"{name:<12}{said}"
    for kind, title in KINDS.items():
        mine = [line for line in lines if line.kind == kind]
        if mine:
            yield from ("", f"{title} ({sum(line.good for line in mine)} of {len(mine)})")
        for number, line in enumerate(mine, 1):
            if line.good:
                yield f"  {number:>3}  good   {quoted(line.what)}: expected and got {quoted(line.got)}"
            else:
                yield f"  {number:>3}  WRONG  {quoted(line.what)}: expected {quoted(line.expected)}"
                yield f"              got {quoted(line.got)}"
    yield ""
    yield "What this shows: this installation finds these faults, on this machine. What it cannot show: that a check"
    yield "finds every fault of its kind; see the known problems in the documentation, and look yourself."
    yield ""
    yield from CAUTIONS
    yield ""
    yield verdict(lines)
    yield ""
    yield "Date ____________________   Name ____________________   Signature ____________________"


def _about() -> Iterator[tuple[str, str]]:
    yield "Program", f"harnesscheck {__version__}"
    yield "", f"SHA-256 of its files {ident.program()}"
    yield "Articles", f"SHA-256 {articles.digest()}"
    machine = platform.uname()
    yield "Machine", f"{machine.system} {machine.release} {machine.machine}"
    yield "Python", f"{platform.python_implementation()} {platform.python_version()}"
    for number, name in enumerate(LIBRARIES):
        yield "" if number else "Libraries", f"{name} {_version(name)}"


def _version(name: str) -> str:
    try:
        return re.sub(r"[^0-9A-Za-z.+!-]", "", metadata.version(name))
    except metadata.PackageNotFoundError:
        return "not installed"
