"""Small jobs as text, for oracles: an airframe that says little and a kit of wires."""

from __future__ import annotations

import tempfile
from collections.abc import Iterable
from pathlib import Path

import harnesscheck as hc
from harnesscheck.job import Job


def kit(wires: Iterable[tuple[str, str, str]], splices: Iterable[str] = (), insert: str = "", more: str = "") -> Job:
    """A kit that opens P1/J1 with J3 and P3, a plug P4 and these wires: id, end A, end B."""
    lines = ["kind: jumper", "title: oracle", "airframe: airframe.yaml", "opens: P1/J1", "connectors:"]
    tail = f", insert: {insert}" if insert else ""
    lines += [f"  J3: {{family: D-sub, mates: P1{tail}}}", f"  P3: {{family: D-sub, mates: J1{tail}}}"]
    lines += ["  P4: {family: D-sub}"]
    named = list(splices)
    if named:
        lines += ["splices:", *(f"  {name}: {{}}" for name in named)]
    lines += ["wires:", *(f"  {name}: {{from: {a}, to: {b}{more}}}" for name, a, b in wires)]
    airframe = ["kind: airframe", "title: oracle", "connectors:"]
    airframe += ["  P1: {family: D-sub, mates: J1}", "  J1: {family: D-sub}"]
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "airframe.yaml").write_text("\n".join(airframe) + "\n", encoding="utf-8")
        (Path(folder) / "jumper.yaml").write_text("\n".join(lines) + "\n", encoding="utf-8")
        return hc.load(Path(folder) / "jumper.yaml")


def straight(count: int) -> list[tuple[str, str, str]]:
    """Wires led straight through."""
    return [(f"W{n}", f"J3-{n}", f"P3-{n}") for n in range(1, count + 1)]
