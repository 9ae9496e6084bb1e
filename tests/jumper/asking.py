"""Short files for one question to the planner: circuits and pins as text, through the real reader. All invented."""

from __future__ import annotations

import tempfile
from pathlib import Path

import harnesscheck as hc
from harnesscheck.jumper.choice import Chosen, Refusal, Tapped, choose
from harnesscheck.place import split_point

_AIRFRAME = """kind: airframe
title: invented for a test
buses: {{BUS1: {{supply: 14 V}}}}
sources: {{ALT1: {{kind: alternator, bus: BUS1, supply: 14.2 V, low: 13.5 V, high: 14.6 V, rating: 60 A}}}}
breakers:
  CB1: {{rating: 5 A, bus: BUS1, resistance: 20 mohm}}
  CB2: {{rating: 3 A, bus: BUS1, resistance: 20 mohm}}
grounds: {{GS1: {{returns: dc, bond: 1 mohm}}}}
circuits:
{circuits}
connectors:
  P14:
    mates: J14
    cavities:
{cavities}
  J14: {{name: other half}}
wires:
{wires}
"""


class Answer:
    """What the planner says."""

    def __init__(self, chosen: Chosen) -> None:
        self.chosen = chosen
        self.taps = {str(tap.pin): tap.circuit for tap in chosen.taps}
        self.left = {str(pin): why for pin, why in chosen.left}

    def tap(self, pin: str) -> Tapped:
        """The tap of a pin."""
        return next(tap for tap in self.chosen.taps if str(tap.pin) == pin)

    def refused(self, pin: str) -> Refusal:
        """The refusal of a pin."""
        return next(refusal for refusal in self.chosen.refusals if str(refusal.pin) == pin)


def ask(circuits: str, pins: str | list[str], use: dict[str, str] | None = None, more: str = "") -> Answer:
    """Ask for the pins of one unit A1, or of several A1, A2 ...

    A line of ``circuits`` is ``NAME: {...}``; each gets the next cavity, and supply circuits a wire from their breaker
    or to GS1. ``more`` are further cavities.
    """
    lines = [line.strip() for line in circuits.strip().splitlines()]
    names = [line.partition(":")[0] for line in lines]
    wires = []
    for number, line in enumerate(lines, start=1):
        breaker = line.partition("breaker: ")[2][:3]
        start = f"{breaker}-load" if breaker else "GS1" if "signal: ground" in line else ""
        if start:
            wires.append(f"  W{number}: {{from: {start}, to: J14-{number}, gauge: 20 AWG, length: 0.3 m}}")
    said = [f"      {number}: {name}" for number, name in enumerate(names, start=1)] + [f"      {more}" if more else ""]
    text = _AIRFRAME.format(
        circuits="\n".join(f"  {line}" for line in lines), cavities="\n".join(said), wires="\n".join(wires) or "  {}"
    )
    units = [pins] if isinstance(pins, str) else pins
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        (root / "airframe.yaml").write_text(text.replace("wires:\n  {}", ""), encoding="utf-8")
        head = "kind: jumper\ntitle: none yet\nairframe: airframe.yaml\nopens: P14/J14\nequipment:\n"
        for number, each in enumerate(units, start=1):
            listed = [f"      {n}: {line.strip()}" for n, line in enumerate(each.strip().splitlines(), start=1)]
            box = "kind: equipment\ntitle: box\nconnectors:\n  J1:\n    pins:\n" + "\n".join(listed) + "\n"
            (root / f"box{number}.yaml").write_text(box, encoding="utf-8")
            head += f"  A{number}: box{number}.yaml\n"
        (root / "kit.yaml").write_text(head, encoding="utf-8")
        job = hc.load(root / "kit.yaml")
    assert job.airframe is not None
    asked = {point: said for pin, said in (use or {}).items() if (point := split_point(pin)) is not None}
    return Answer(choose(job.airframe, job.equipment, ("P14", "J14"), asked))
