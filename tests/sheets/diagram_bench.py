"""Jobs for the tests of the wiring diagram, and reading a drawing back from its SVG."""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree as ET

from harnesscheck.formats.harness_yaml import load
from harnesscheck.job import Job
from harnesscheck.paper import metrics

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "harnesses" / "ice-probe" / "jumper.yaml"
SVG = "{http://www.w3.org/2000/svg}"
MM = 10.0
"""Drawing units per millimetre."""
TOUCH = 0.05
"""Boxes may share an edge; what overlaps by less is rounding, mm."""

Box = tuple[float, float, float, float]


# -- jobs ------------------------------------------------------------------------------------------------------------


def airframe(circuits: int, extra: str = "", gender: str = "pin", title: str = "Airframe") -> str:
    other = "socket" if gender == "pin" else "pin"
    lines = [f"kind: airframe\ntitle: {title}\nrevision: B", extra, "connectors:"]
    lines += [f"  P14:\n    name: disconnect\n    gender: {gender}\n    mates: J14\n    cavities:"]
    lines += [f"      {n}: CIRCUIT {n}" for n in range(1, circuits + 1)]
    lines += [f"  J14:\n    gender: {other}\n    cavities:"]
    lines += [f"      {n}: CIRCUIT {n}" for n in range(1, circuits + 1)]
    return "\n".join(lines) + "\n"


EQUIPMENT = """\
kind: equipment
title: Sensor
connectors:
  J1:
    name: receptacle
    gender: pin
    pins:
      A: {function: POWER, signal: power, direction: in, supply: 10 V to 32 V, current: 0.5 A}
      B: {function: RETURN, signal: ground}
"""


def jumper(circuits: int, taps: int, units: int = 1, wires: str = "", splices: str = "", title: str = "Jumper") -> str:
    """Leads ``circuits`` through, the last ``taps`` of them with a splice to every unit."""
    made = [f"kind: jumper\ntitle: {title}\nrevision: A\nairframe: airframe.yaml\nopens: P14/J14"]
    if units:
        made.append("equipment:")
        made += [f"  A{20 + unit}: equipment.yaml" for unit in range(units)]
    made.append("connectors:")
    made.append("  J114: {name: to the wing half, gender: socket, mates: P14}")
    made.append("  P114: {name: to the fuselage half, gender: pin, mates: J14}")
    for unit in range(units):
        made.append(f"  P{120 + unit}: {{name: sensor plug {unit + 1}, gender: socket, mates: A{20 + unit}J1}}")
    first = circuits - taps + 1
    if taps or splices:
        made.append("splices:")
        made += [f"  SP{n}: {{part: M81824/1-1}}" for n in range(first, circuits + 1)]
        made.append(splices)
    made.append("wires:")
    for n in range(1, circuits + 1):
        kind = "type: M22759/16-22-9, length: 300 mm"
        if n < first:
            made.append(f"  W{100 + n}A22: {{from: J114-{n}, to: P114-{n}, {kind}}}")
            continue
        made.append(f"  P{100 + n}A22: {{from: J114-{n}, to: SP{n}, {kind}}}")
        made.append(f"  P{100 + n}B22: {{from: SP{n}, to: P114-{n}, {kind}}}")
        for unit in range(units):
            cavity = chr(ord("A") + (n - first) % 2)
            made.append(f"  P{100 + n}{chr(ord('C') + unit)}22: {{from: SP{n}, to: P{120 + unit}-{cavity}, {kind}}}")
    made.append(wires)
    return "\n".join(line for line in made if line) + "\n"


def job_of(folder: Path, jumper_text: str, airframe_text: str, equipment_text: str = EQUIPMENT) -> Job:
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "jumper.yaml").write_text(jumper_text, encoding="utf-8")
    (folder / "airframe.yaml").write_text(airframe_text, encoding="utf-8")
    (folder / "equipment.yaml").write_text(equipment_text, encoding="utf-8")
    return load(folder / "jumper.yaml", "jumper.yaml")


def _written(folder: Path, text: str) -> Path:
    path = folder / "loose.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def demo() -> Job:
    return load(DEMO, "harnesses/ice-probe/jumper.yaml")


GROUNDS = (
    "grounds:\n  GS5: {name: stud at the rib}\nbuses:\n  BUS2: {name: avionics bus, supply: 28 V}\n"
    "breakers:\n  CB3: {name: PROBE, rating: 5 A, bus: BUS2}\n"
)
LOOSE = (
    "kind: airframe\ntitle: Loose\n"
    + GROUNDS
    + "wires:\n  P1A20: {from: CB3-line, to: BUS2}\n  P2A20N: {from: GS5, to: BUS2}\n"
)
BEYOND = (
    GROUNDS
    + "splices:\n  SP90: {part: M81824/1-1}\n"
    + "wires:\n  P200A20: {from: J14-1, to: SP90, gauge: 20 AWG}\n  P200B20: {from: SP90, to: CB3-load}\n"
    + "  P200C20: {from: SP90, to: J14-3}\n  P201A20N: {from: J14-2, to: GS5, colour: '0'}\n"
    + "  P202A20: {from: P14-4, to: GS5, colour: '96', gauge: 22 AWG}\n  P203A20: {from: J14-4, to: BUS2}\n"
)

SEVERAL = (
    "kind: airframe\ntitle: Several pairs\n"
    + GROUNDS
    + "connectors:\n"
    + "  P1: {gender: pin, mates: J1}\n  J1: {gender: socket}\n  P2: {gender: pin, mates: J2}\n  J2: {gender: socket}\n"
    + "  P3: {gender: socket}\nsplices:\n  SP7: {}\ncables:\n  C1: {}\nwires:\n"
    + "".join(f"  W{n}A22: {{from: J1-{n}, to: P2-{9 - n}, cable: C1, core: blue}}\n" for n in range(1, 4))
    + "  W4A22: {from: J1-4, to: SP7}\n  W5A22: {from: SP7, to: P2-2}\n  W6A22: {from: SP7, to: J1-5}\n"
    + "  W7A22: {from: J2-1, to: P3-A}\n  W8A22: {from: J2-2, to: GS5}\n  W9A22: {from: P1-1, to: CB3-load}\n"
)


def tangled(seed: int) -> str:
    """An airframe wired at random, the same for the same seed: odder than any real one."""
    pick = random.Random(seed)
    lines = [f"kind: airframe\ntitle: Tangle {seed}", GROUNDS + "connectors:"]
    ends: list[str] = []
    for number in range(1, pick.randint(1, 5) + 1):
        mated, cavities = pick.random() < 0.7, pick.randint(1, 9)
        lines.append(f"  P{number}:\n    gender: {pick.choice(['pin', 'socket'])}")
        lines += [f"    mates: J{number}"] if mated else []
        lines.append("    cavities:")
        for cavity in range(1, cavities + 1):
            lines.append(
                f"      {cavity}: {pick.choice(['unknown', f'SIG {cavity}', f'A LONGISH CIRCUIT NAME {cavity}'])}"
            )
        ends += [f"P{number}-{cavity}" for cavity in range(1, cavities + 1)]
        if mated:
            lines.append(f"  J{number}: {{}}")
            ends += [f"J{number}-{cavity}" for cavity in range(1, cavities + 1)]
    splices = [f"SP{number}" for number in range(1, pick.randint(0, 5) + 1)]
    if splices:
        lines += ["splices:", *(f"  {ref}: {{}}" for ref in splices)]
    ends += [*splices * 3, "GS5", "BUS2", "CB3-load", "CB3-line"]
    lines.append("cables:\n  C1: {type: M27500-22TG2T14}\n  C2: {}\nwires:")
    extras = (
        "",
        "",
        ", cable: C1, core: white",
        ", cable: C1, core: drain",
        ", cable: C2, core: blue",
        ", colour: '96'",
    )
    for number in range(pick.randint(2, 22)):
        start, finish = pick.sample(ends, 2)
        if start != finish:
            lines.append(f"  W{number}A22: {{from: {start}, to: {finish}{pick.choice(extras)}}}")
    return "\n".join(lines) + "\n"


JOBS: dict[str, Callable[[Path], Job]] = {
    "demo": lambda folder: demo(),
    "airframe alone": lambda folder: load(DEMO.with_name("airframe.yaml"), "airframe.yaml"),
    "equipment alone": lambda folder: load(DEMO.with_name("ice-probe.yaml"), "ice-probe.yaml"),
    "5 wires": lambda folder: job_of(folder, jumper(4, 1, 0, "  W150A22: {from: SP4, to: GS5}"), airframe(4, GROUNDS)),
    "12 wires, 2 units": lambda folder: job_of(folder, jumper(6, 2, 2), airframe(6)),
    "wires between studs only": lambda folder: load(_written(folder, LOOSE), "loose.yaml"),
    "airframe with several pairs": lambda folder: load(_written(folder, SEVERAL), "loose.yaml"),
    "50 wires": lambda folder: job_of(folder, jumper(46, 2), airframe(46)),
    "120 wires, 12 taps": lambda folder: job_of(folder, jumper(96, 12), airframe(96)),
    "existing wiring on both sides": lambda folder: job_of(folder, jumper(6, 2), airframe(6, BEYOND)),
    "straight to studs": lambda folder: job_of(
        folder,
        jumper(
            3,
            0,
            1,
            "  W150A22N: {from: P120-B, to: GS5}\n  W151A22: {from: P120-A, to: CB3-load}\n"
            "  W152A22: {from: J114-4, to: BUS2}\n  W153A22: {from: J114-5, to: J114-6}\n"
            "  W154A22: {from: P114-4, to: GS5}\n  W155A22: {from: J114-1, to: P120-A}\n",
        ),
        airframe(6, GROUNDS),
    ),
    "splice behind splice": lambda folder: job_of(
        folder,
        jumper(
            3,
            1,
            2,
            "  W150A22: {from: SP3, to: SP50}\n  W151A22: {from: SP50, to: P120-B}\n"
            "  W152A22: {from: SP50, to: P121-B}\n  W153A22: {from: SP50, to: SP51}\n"
            "  W154A22: {from: SP51, to: GS5}\n  W155A22: {from: SP51, to: SP50}\n",
            "  SP50: {part: M81824/1-1}\n  SP51: {}\n",
        ),
        airframe(3, GROUNDS),
    ),
}
for _seed in (16, 53, 63, 72, 81, 153, 259, 301, 302, 303):
    JOBS[f"tangle {_seed}"] = lambda folder, seed=_seed: load(  # type: ignore[misc]
        _written(folder, tangled(seed)), "loose.yaml"
    )


# -- reading the drawing back ----------------------------------------------------------------------------------------


def sheets_of(root: ET.Element) -> list[ET.Element]:
    return [group for group in root.findall(f"{SVG}g") if group.get("id", "").startswith("sheet-")]


def texts(root: ET.Element) -> list[str]:
    return [element.text or "" for element in root.iter(f"{SVG}text")]


def box(element: ET.Element) -> Box:
    """Left, top, right, bottom of one text, mm, from the metrics of the font."""
    x, y = float(element.get("x", "")) / MM, float(element.get("y", "")) / MM
    size = float(element.get("font-size", "")) / MM
    wide = metrics.width(element.text or "", size * metrics.CAP)
    left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[element.get("text-anchor", "start")]
    below = metrics.DESCENT if set(element.text or "") & set("gjpqy,;()[]{}|/@Q_$&") else 0.02
    return left, y - size * metrics.ASCENT, left + wide, y + size * below


def overlaps(one: Box, two: Box) -> bool:
    return min(one[2], two[2]) - max(one[0], two[0]) > TOUCH and min(one[3], two[3]) - max(one[1], two[1]) > TOUCH


def strokes(sheet: ET.Element) -> Iterator[Box]:
    """Every straight stroke with its thickness, and the box round every circle and arc, mm."""
    for element in sheet.iter():
        half = float(element.get("stroke-width", "0")) / MM / 2
        points: list[tuple[float, float]] = []
        if element.tag in (f"{SVG}polyline", f"{SVG}polygon"):
            points = [(float(x), float(y)) for x, y in (pair.split(",") for pair in element.get("points", "").split())]
            if element.tag == f"{SVG}polygon":
                points.append(points[0])
        elif element.tag == f"{SVG}rect":
            x, y, wide, high = (float(element.attrib[name]) for name in ("x", "y", "width", "height"))
            points = [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high), (x, y)]
        elif element.tag == f"{SVG}circle":
            x, y, r = (float(element.attrib[name]) for name in ("cx", "cy", "r"))
            points = [(x - r, y - r), (x + r, y + r)]
        elif element.tag == f"{SVG}path":
            found = re.fullmatch(r"M(\S+) (\S+)A\S+ \S+ 0 0 [01] (\S+) (\S+)", element.attrib["d"])
            assert found
            xa, ya, xb, yb = (float(value) for value in found.groups())
            points = [(xa, ya), (xb, yb)]
        for (xa, ya), (xb, yb) in pairwise((x / MM, y / MM) for x, y in points):
            # A slanted stroke is followed in short pieces: the box round the whole of it is mostly empty.
            pieces = 1 if xa == xb or ya == yb else 12
            for n in range(pieces):
                x1, x2 = (xa + (xb - xa) * k / pieces for k in (n, n + 1))
                y1, y2 = (ya + (yb - ya) * k / pieces for k in (n, n + 1))
                across, down = (half if ya != yb else 0.0), (half if xa != xb else 0.0)
                yield min(x1, x2) - across, min(y1, y2) - down, max(x1, x2) + across, max(y1, y2) + down


def wire_groups(root: ET.Element) -> dict[str, list[ET.Element]]:
    groups: dict[str, list[ET.Element]] = {}
    for group in root.iter(f"{SVG}g"):
        if "data-wire" in group.attrib:
            groups.setdefault(group.attrib["data-wire"], []).append(group)
    return groups
