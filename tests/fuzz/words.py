"""What the mutations put in: hostile texts, edge values, and words taken from the invented jobs themselves."""

from __future__ import annotations

import random
import re
from functools import cache
from pathlib import Path

HARNESSES = Path(__file__).parents[2] / "harnesses"
HOSTILE = (
    "", " ", "~", "null", "NO", "07", "1:2", "1_0", "1E5", "0x1A", "3.10", "-", "--", "-1", "P14", "P14-", "-3",
    "P14-3-3", "P14/J14/P14", "/", "a/b", "=1+1", "+28V", "@x", "\u00b5", "\u202ex", "\u200b", "\x1b[31m", "\x07",
    "\0", "\ud7ff", "\u0410", "\u65e5\u672c", "e\u0301", "\U0001f600", "x" * 70, "x" * 401, "x" * 4001, "9" * 30,
    "1e400", "nan", "inf", "-inf", ".", "..", "../x", "/etc/passwd", "con", "<b>&", "'", '"', "%s", "{}", "{0}",
    "\\", "#", "x #2", "a: b", "[", "]", "{", "}", ",", ";", "|", "*a", "&a", "!a", "<<", "? x", "- x",
    "---", "...", "\t", "\u00a0", "\u2028",
    "\x85", "spare", "shield", "drain", "none", "open", "OL", ">20M", "good", "wrong",
)  # fmt: skip
"""Texts that have broken some reader somewhere."""
NUMBERS = (
    "0", "1", "-1", "0.0", "1e-9", "1e9", "999999999", "0.000001", "-0", "3", "100000", "0.5", "12", "2.5", "28",
    "1e308", "123456789012", "00", "0.1", "4", "7.5", "14", "1000",
)  # fmt: skip
UNITS = (
    "", "mm", "cm", "m", "in", "ft", "AWG", "mm2", "A", "mA", "V", "mV", "ohm", "mohm", "kohm", "Mohm", "W", "C", "F",
    "kg", "g", "s", "ns", "us", "ms", "h", "min", "kbit/s", "Mbit/s", "pF", "nF", "%", "Ah", "bit/s", "Hz", "ft3",
)  # fmt: skip


def hostile(rng: random.Random) -> str:
    """A text, a number with some unit, or a word of some job."""
    pick = rng.random()
    if pick < 0.35:
        return rng.choice(HOSTILE)
    if pick < 0.65:
        return f"{rng.choice(NUMBERS)} {rng.choice(UNITS)}".strip()
    return rng.choice(vocabulary())


@cache
def jobs() -> tuple[Path, ...]:
    """Folders of jobs: those that are clean, and one with each fault."""
    return tuple(sorted({path.parent for path in HARNESSES.rglob("jumper.yaml")}))


@cache
def vocabulary() -> tuple[str, ...]:
    """Words and phrases of all files of all jobs: keys, references, values."""
    found: set[str] = set()
    for folder in jobs():
        for path in sorted(folder.glob("*.yaml")):
            text = re.sub(r"(?m)#.*$", "", path.read_text("utf-8"))
            found.update(word.strip() for word in re.split(r"[{}\[\],:\n]", text) if 0 < len(word.strip()) < 60)
    return tuple(sorted(found))
