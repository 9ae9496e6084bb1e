"""ngspice as an independent oracle: a network written as a netlist, and the volts that ngspice prints for it."""

from __future__ import annotations

import random
import re
import shutil
import subprocess
from collections.abc import Mapping, Sequence
from pathlib import Path

from harnesscheck.electrics.network import Branch, Load

NGSPICE = shutil.which("ngspice")
WHY_NOT = "ngspice is not installed (Debian package ngspice): the DC solve is not compared with it here"
_LINE = re.compile(r"^(n\d+) = ([-+0-9.e]+)$")


def netlist(branches: Sequence[Branch], loads: Sequence[Load], fixed: Mapping[int, float]) -> str:
    # Below 0.6 of the supply a load of constant power keeps its current: Newton steps of ngspice pass through there.
    floor = 0.6 * max(fixed.values())
    lines = ["random harness", ".options reltol=1e-10 abstol=1e-13 vntol=1e-11 itl1=500"]
    lines += [f"V{i} n{node} 0 DC {volts!r}" for i, (node, volts) in enumerate(fixed.items())]
    for i, b in enumerate(branches):
        lines.append(f"R{i} n{b.a} n{b.b} {b.ohms!r}" if b.ohms else f"VJ{i} n{b.a} n{b.b} DC 0")
    for i, load in enumerate(loads):
        a, b = f"n{load.a}", f"n{load.b}"
        if load.kind == "current":
            lines.append(f"I{i} {a} {b} DC {load.value!r}")
        elif load.kind == "resistance":
            lines.append(f"RL{i} {a} {b} {load.value!r}")
        else:
            lines.append(f"B{i} {a} {b} I={load.value!r}/max(v({a})-v({b}),{floor!r})")
    return "\n".join([*lines, ".control", "set numdgt=15", "op", "print all", "quit", ".endc", ".end", ""])


def volts(text: str, folder: Path) -> dict[int, float]:
    """Node volts as ngspice prints them."""
    assert NGSPICE
    file = folder / "net.cir"
    file.write_text(text)
    done = subprocess.run([NGSPICE, "-b", str(file)], capture_output=True, text=True, timeout=120, check=False)
    found = {int(m[1][1:]): float(m[2]) for line in done.stdout.splitlines() if (m := _LINE.match(line.strip()))}
    assert found, done.stdout[-2000:] + done.stderr[-2000:]
    return found


def harness_like(seed: int, wires: int) -> tuple[int, list[Branch], list[Load], dict[int, float]]:
    """Buses, breakers, feeders, contacts, splices, a few rings, returns to studs, three kinds of load.

    Resistances are those of 0.05 m to 6 m of 24 to 8 AWG wire, contacts 1 to 15 mohm, bonds below 2.5 mohm.
    """
    draw = random.Random(seed)
    count = 0

    def node() -> int:
        nonlocal count
        count += 1
        return count - 1

    reference = node()
    fixed = {reference: 0.0}
    buses = [node() for _ in range(draw.randint(1, 3))]
    system = draw.choice((14.0, 28.0))
    fixed.update({bus: system + draw.uniform(-0.3, 0.6) for bus in buses})
    branches: list[Branch] = []
    loads: list[Load] = []

    def wire() -> float:
        return draw.choice((0.09318, 0.05315, 0.03241, 0.02044, 0.01578, 0.01004, 0.0023)) * draw.uniform(0.05, 6.0)

    studs = [node() for _ in range(max(1, wires // 40))]
    branches += [Branch(stud, reference, draw.choice((0.0, draw.uniform(1e-4, 2.5e-3)))) for stud in studs]
    made = 0
    while made < wires:
        bus, line = draw.choice(buses), node()
        branches.append(Branch(bus, line, draw.choice((0.0, draw.uniform(0.005, 0.06)))))
        points = [line]
        for _ in range(min(wires - made, draw.randint(3, 30))):
            start, end = draw.choice(points[-4:]), node()
            branches.append(Branch(start, end, wire()))
            made += 1
            if draw.random() < 0.4:
                mate = node()
                branches.append(Branch(end, mate, draw.uniform(0.001, 0.015)))
                end = mate
            points.append(end)
        if draw.random() < 0.25 and len(points) > 3:
            branches.append(Branch(*draw.sample(points, 2), wire()))
        budget = 1.2 / sum(b.ohms for b in branches[-60:])
        for point in draw.sample(points[1:], draw.randint(1, min(4, len(points) - 1))):
            back = draw.choice((reference, draw.choice(studs)))
            if draw.random() < 0.6:
                other = node()
                branches.append(Branch(other, back, wire()))
                made += 1
                back = other
            amps = draw.uniform(0.05, max(0.06, min(4.0, budget)))
            kind = draw.choice(("current", "resistance", "power"))
            value = {"current": amps, "resistance": system / amps, "power": amps * system}[kind]
            loads.append(Load(point, back, kind, value))
    return count, branches, loads, fixed
