"""A job for tests: the two demo kits in one invented aircraft, which has both disconnects."""

from __future__ import annotations

import re
from pathlib import Path

HARNESSES = Path(__file__).parents[1] / "harnesses"
ONE, TWO = "probe-kit.yaml", "logger-kit.yaml"


def lay_out(folder: Path, spoilt: Path | None = None) -> Path:
    """Write the job: one airframe file with the wiring of both demo aircraft, two jumper files that name it.

    ``spoilt`` is a faulty copy of one of the two demo jobs, taken in its place.
    """
    probe, logger = HARNESSES / "ice-probe", HARNESSES / "signal-logger"
    if spoilt is not None and (spoilt / "logger.yaml").exists():
        logger = spoilt
    elif spoilt is not None:
        probe = spoilt
    (folder / "airframe.yaml").write_text(
        _both(_text(probe / "airframe.yaml"), _text(logger / "airframe.yaml"))
        if logger != spoilt
        else _both(_text(logger / "airframe.yaml"), _text(probe / "airframe.yaml"))
    )
    (folder / "ice-probe.yaml").write_text(_text(probe / "ice-probe.yaml"))
    (folder / "logger.yaml").write_text(_text(logger / "logger.yaml"))
    (folder / "shop-parts.yaml").write_text(_text(probe / "shop-parts.yaml"))
    (folder / "logger-parts.yaml").write_text(_text(logger / "shop-parts.yaml"))
    (folder / ONE).write_text(_text(probe / "jumper.yaml"))
    kit = _text(logger / "jumper.yaml").replace("shop-parts.yaml", "logger-parts.yaml")
    (folder / TWO).write_text(re.sub(r"\bSP(\d+)", r"SP2\1", kit))
    return folder


def change(folder: Path, file: str, *pairs: tuple[str, str]) -> None:
    """Replace text in one file of the job; each text must be there."""
    text = (folder / file).read_text()
    for old, new in pairs:
        assert old in text, old
        text = text.replace(old, new, 1)
    (folder / file).write_text(text)


def _text(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def _both(one: str, two: str) -> str:
    """The sections of one airframe file with the entries of another that it has not."""
    sections, more = _sections(one), _sections(two)
    for name, entries in more.items():
        if name in ("kind", "title", "revision", "note", "parts"):
            continue
        mine = sections.setdefault(name, {"": f"{name}:\n"})
        for entry, text in entries.items():
            mine.setdefault(entry, text)
    return "".join("".join(entries.values()) for entries in sections.values())


def _sections(text: str) -> dict[str, dict[str, str]]:
    """Section name to its entries, each with its text; the line of the section itself is the entry ''."""
    found: dict[str, dict[str, str]] = {}
    entry: dict[str, str] = {}
    key = ""
    for line in text.splitlines(keepends=True):
        if line.startswith("#") or not line.strip():
            continue
        if not line.startswith(" "):
            entry = found[line.partition(":")[0]] = {}
            key = ""
        elif line.startswith("  ") and line[2] not in " #":
            key = line.split(": ")[0].strip().rstrip(":")
        entry[key] = entry.get(key, "") + line
    return found
